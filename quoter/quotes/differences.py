"""What differs between two quotes line by line: in words for the customer, in money for the yard.

Lines are matched by what they are of, so that a line is the same one at another price, in another
number, at another rate of tax or delivered to another place; what only the request has, by its
name. A boat of another model is another line: the one is gone and the other is new.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from quoter.pages import money
from quoter.quotes.kept.record import OWN_KINDS, Difference, QuoteLine, Record
from quoter.quotes.language import Language
from quoter.quotes.printed.shown import ready_words

How = Literal["", "added", "gone", "quantity", "price", "quantity, price"]
NOTHING = Decimal(0)
Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Moved:
    """A line of two quotes, of which one may be missing: it was added, or it is gone."""

    before: QuoteLine | None
    after: QuoteLine | None

    @property
    def line(self) -> QuoteLine:
        """The line as it is, or as it was."""
        found = self.after or self.before
        if found is None:
            raise ValueError("a line of neither quote")
        return found

    @property
    def how(self) -> How:
        """What is another: nothing where the customer sees no difference."""
        was, now = self.before, self.after
        if was is None:
            return "added"
        if now is None:
            return "gone"
        if was.quantity != now.quantity:
            return "quantity" if was.price == now.price else "quantity, price"
        return "" if was.amount == now.amount else "price"

    @property
    def change(self) -> Decimal:
        """What the line adds to the sum of all; of two quotes in one currency."""
        was, now = (line.amount if line else None for line in (self.before, self.after))
        return (now or NOTHING) - (was or NOTHING)


def moved_lines(old: Record, new: Record) -> list[Moved]:
    """The lines of two quotes, each beside what it is in the other, in the order of the old one."""
    before, after = _by_key(old), _by_key(new)
    found: list[Moved] = []
    for key in dict.fromkeys([*before, *after]):
        found += _paired(before.get(key, []), after.get(key, []))
    return found


def _by_key(record: Record) -> dict[Key, list[QuoteLine]]:
    found: dict[Key, list[QuoteLine]] = {}
    for line in record.lines:
        kind = "option" if line.kind == "credit" else line.kind
        id = line.name if kind in OWN_KINDS else record.model if kind == "boat" else line.id
        found.setdefault((kind, id), []).append(line)
    return found


def _paired(was: Sequence[QuoteLine], now: Sequence[QuoteLine]) -> Iterator[Moved]:
    """Lines of one key: usually one on each side, else those of one name or else of one tax."""
    if len(was) <= 1 and len(now) <= 1:
        yield Moved(next(iter(was), None), next(iter(now), None))
        return
    left = list(now)
    for line in was:
        same = next((each for each in left if each.name == line.name), None)
        if same is None and line.kind == "discount":
            same = next((each for each in left if each.rate == line.rate), None)
        if same is not None:
            left.remove(same)
        yield Moved(line, same)
    yield from (Moved(None, line) for line in left)


def changes(
    old: Record, new: Record, language: Language, *, dates: bool = True
) -> Iterator[Difference]:
    """What a customer sees to have changed, in the quote's language; with `dates` also until when
    it is valid, which is nothing to an order.
    """
    say = language.say
    for moved in moved_lines(old, new):
        yield from _of_line(moved, old.currency, new.currency, language)
    told = [
        (say("Delivery"), _delivered(old, language), _delivered(new, language)),
        (say("Delivery time"), ready_words(old), ready_words(new)),
        (say("Tax"), _taxed(old, language), _taxed(new, language)),
        (say("Total to pay"), _paid(old.total, old, language), _paid(new.total, new, language)),
    ]
    if dates:
        days = (language.day(old.valid_until), language.day(new.valid_until))
        told.append((say("Valid until"), *days))
    for what, then, later in told:
        if then != later:
            yield Difference(what=what, before=then, after=later)


def _of_line(moved: Moved, then: str, later: str, language: Language) -> Iterator[Difference]:
    """What is another on a line, whose amounts are in the currencies of then and later."""
    say, line, how = language.say, moved.line, moved.how

    def amount(of: QuoteLine, currency: str) -> str:
        if of.amount is None:
            return say("included")
        return money.true_minus(money.money(of.amount, currency, language.locale))

    was, now = moved.before, moved.after
    name = line.name if line.quantity == 1 else f"{language.count(line.quantity)} × {line.name}"
    if was is None or now is None:
        told = (
            say("Added: {item}", item=name) if was is None else say("Left out: {item}", item=name)
        )
        yield Difference(
            what=told,
            before=amount(was, then) if was else "",
            after=amount(now, later) if now else "",
        )
        return
    if "quantity" in how:
        what = say("{item}: quantity", item=line.name)
        yield Difference(
            what=what, before=language.count(was.quantity), after=language.count(now.quantity)
        )
    if amount(was, then) != amount(now, later):
        name = line.name if was.name == now.name else f"{was.name} → {now.name}"
        yield Difference(what=name, before=amount(was, then), after=amount(now, later))


def _paid(amount: Decimal, record: Record, language: Language) -> str:
    return money.true_minus(money.money(amount, record.currency, language.locale))


def _delivered(record: Record, language: Language) -> str:
    term = record.delivery
    words = language.say("%(term)s %(place)s, %(edition)s")
    return words % {"term": term.term, "place": term.place, "edition": term.edition}


def _taxed(record: Record, language: Language) -> str:
    """Each tax with its rate; nothing for a quote without any."""
    return ", ".join(f"{language.percent(tax.rate)} {tax.name}" for tax in record.taxes)
