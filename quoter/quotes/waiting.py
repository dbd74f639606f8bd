"""`quoter waiting`: what open quotes wait for, what lost the others, and what to remember.

The chance of an open quote is what somebody stated last; else the yard's own of quotes of the same
boat in the same market: orders among those decided, by the rule of succession
(`pricing.chance.chance_of_order`), with the count it rests on. Where fewer than five were decided
it is said that they are too few, and nothing is expected of the quote; neither is of one that has
run out. Values are without tax in home currency; a change order's is what it adds to the order.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

from quoter.catalogue.markets import Surcharge
from quoter.catalogue.records import Records
from quoter.catalogue.translations import worded
from quoter.columns import columns
from quoter.figures import constant, money_in
from quoter.pages import money
from quoter.phrases import Phrase, phrase
from quoter.pricing.chance import FEWEST, chance_of_order, expected_amount
from quoter.pricing.clauses import Applied, applied_data, apply_clause, clause_text
from quoter.problems import CatalogueError
from quoter.quotes.kept.outcomes import per_cent
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import OPEN, Kept, Listing, counted, counts
from quoter.quotes.listing import counted_words
from quoter.wording import wording

DAYS = 7  # unless given: how long a draft may lie, and how soon an end is near
HEADS = ("quote", "customer", "boat", "state", "until", "days", "value", "chance", "expected")
RIGHT = {5, 6, 7, 8}
LOST_HEADS = ("lost by", "quotes", "value", "reasons")
DUE_HEADS = ("quote", "state", "price", "due", "to be paid", "told")
NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True)
class Waits:
    """A quote that waits for the customer: `days` to its end, fewer than none where that is past.

    `basis` says what its chance rests on. `value` and what is `expected` are in home currency.
    """

    kept: Kept
    days: int
    value: Decimal
    chance: Decimal | None
    basis: Phrase
    expected: Decimal | None


@dataclass(frozen=True, slots=True)
class LostBy:
    """Quotes that an option or package lost, by its id; no id where nobody named one."""

    option: str
    name: str
    quotes: int
    value: Mapping[str, Decimal]  # by home currency
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reminder:
    """A quote that somebody should look at, and why."""

    kept: Kept
    why: Phrase


@dataclass(frozen=True, slots=True)
class Due:
    """A quote's surcharge clause on the day asked about; not applied where a value is missing.

    `told` is what somebody should know before it is charged.
    """

    kept: Kept
    applied: Applied | None
    told: Phrase | str

    @property
    def due(self) -> Decimal:
        """What it adds to the price, in the quote's currency."""
        return (
            NOTHING
            if self.applied is None
            else money_in(self.applied.due, self.kept.record.currency)
        )

    @property
    def adjusted(self) -> Decimal:
        """The price with it."""
        record, applied = self.kept.record, self.applied
        return record.net if applied is None else money_in(applied.adjusted, record.currency)


@dataclass(frozen=True, slots=True)
class Waiting:
    """What waits on a day, the most urgent first; `due` only where a catalogue was given."""

    listing: Listing
    days: int
    quotes: tuple[Waits, ...]
    lost: tuple[LostBy, ...]
    reminders: tuple[Reminder, ...]
    due: tuple[Due, ...] | None

    @property
    def expected(self) -> Mapping[str, Decimal]:
        """What may be expected of all that have a chance, by home currency."""
        return _by_currency(
            (each.kept.record.inside.home, each.expected or NOTHING) for each in self.quotes
        )


def waiting_of(listing: Listing, records: Records | None, days: int = DAYS) -> Waiting:
    """What waits in a list of quotes.

    Args:
        listing: as of the day asked about
        records: of the catalogue whose clauses and indices count; None for no surcharges
        days: how long a draft may lie unsent, and how soon an end is near
    """
    every = [kept for _, kept in counted(listing)]
    named = {each.record.name: each.record for each in listing.quotes}
    waiting = [each for each in every if each.state in (*OPEN, "expired")]
    quotes = [_waits(each, every, named, listing.on) for each in waiting]
    ordered = [each for each in every if each.state in (*OPEN, "won")]
    return Waiting(
        listing,
        days,
        tuple(sorted(quotes, key=lambda each: each.days)),
        tuple(_lost(every, named, records)),
        tuple(_reminders(waiting, listing.on, days)),
        None if records is None else tuple(_due(ordered, records, listing.on)),
    )


def _waits(kept: Kept, every: Sequence[Kept], named: Mapping[str, Record], on: date) -> Waits:
    record = kept.record
    value = _value(record, named)
    chance, basis = _chance(kept, every)
    expected = None
    if chance is not None:
        expected = Decimal(repr(expected_amount(float(chance), float(value))))
    return Waits(kept, (record.valid_until - on).days, value, chance, basis, expected)


def _value(record: Record, named: Mapping[str, Record]) -> Decimal:
    """What a quote brings: all of it, or of a change order what it adds."""
    changed = named.get(record.changes_order)
    return record.inside.net - (changed.inside.net if changed is not None else NOTHING)


def _chance(kept: Kept, every: Sequence[Kept]) -> tuple[Decimal | None, Phrase]:
    """The chance of a quote, and what it rests on."""
    if kept.state not in OPEN:
        return None, phrase("run out")
    if kept.chance is not None:
        return kept.chance.chance, phrase("stated on {day}", day=kept.chance.date)
    like = [each.state for each in every if _alike(each.record, kept.record)]
    won, decided = like.count("won"), like.count("won") + like.count("lost")
    if decided < FEWEST:
        return None, phrase("too few decided: {count}", count=decided)
    share = chance_of_order(float(won), float(decided))
    words = phrase("{won} of {decided} won: this boat, this market", won=won, decided=decided)
    return Decimal(repr(share)), words


def _alike(one: Record, other: Record) -> bool:
    return (one.model, one.market) == (other.model, other.market)


def _lost(
    every: Sequence[Kept], named: Mapping[str, Record], records: Records | None
) -> Iterator[LostBy]:
    """Lost quotes by the option that lost them, those of most first."""
    names: dict[str, str] = {}
    if records is not None:
        names = {id: str(each.name) for id, each in records.options.items()}
        names |= {id: str(each.name) for id, each in records.packages.items()}
    names |= {line.id: line.name for each in every for line in each.record.inside.lines if line.id}
    lost = [
        (each.outcome.option, each.outcome.reason, each.record)
        for each in every
        if each.state == "lost" and each.outcome is not None
    ]
    found = []
    for option, of_option in groupby(sorted(lost, key=lambda row: row[0]), lambda row: row[0]):
        rows = list(of_option)
        value = _by_currency((record.inside.home, _value(record, named)) for *_, record in rows)
        reasons = tuple(dict.fromkeys(reason for _, reason, _ in rows if reason))
        found.append(LostBy(option, names.get(option, option), len(rows), value, reasons))
    yield from sorted(found, key=lambda each: (-each.quotes, each.option))


def _by_currency(amounts: Iterable[tuple[str, Decimal]]) -> dict[str, Decimal]:
    added: dict[str, Decimal] = {}
    for currency, amount in amounts:
        added[currency] = added.get(currency, NOTHING) + amount
    return dict(sorted(added.items()))


def _reminders(waiting: Sequence[Kept], on: date, days: int) -> Iterator[Reminder]:
    """Drafts that lie, sent quotes that end soon, and those that ended with nothing written."""
    for kept in waiting:
        end = kept.record.valid_until
        lying, left = (on - kept.record.issued).days, (end - on).days
        if kept.state == "expired":
            yield Reminder(kept, phrase("ended on {day}, and no outcome is written", day=end))
        elif kept.state == "draft" and lying >= days:
            yield Reminder(kept, phrase("never sent in {days} days", days=lying))
        elif kept.state == "sent" and left <= days:
            yield Reminder(kept, phrase("sent, and ends on {day}", day=end))


def _due(quotes: Sequence[Kept], records: Records, on: date) -> Iterator[Due]:
    """The clause of each open or won quote that has one, applied to its price."""
    for kept in quotes:
        record = kept.record
        if not record.surcharge:
            continue
        clause, told = _clause(record, records)
        if clause is None:
            yield Due(kept, None, told)
            continue
        price = constant(float(record.net), record.currency, "price of the quote")
        try:
            yield Due(kept, apply_clause(records, clause, price, record.issued, on), told)
        except CatalogueError as fault:
            yield Due(kept, None, fault.problems[0].what)


def _clause(record: Record, records: Records) -> tuple[Surcharge | None, Phrase | str]:
    """The clause that a quote carries: the one of its very words, else the policy's of today."""
    yard = records.yard
    clauses = yard.surcharges if yard is not None else ()
    for clause in clauses:
        if _words_of(clause, records, record) == record.surcharge:
            return clause, ""
    policy = yard.quotes.surcharge if yard is not None and yard.quotes is not None else None
    found = next((each for each in clauses if each.id == policy), None)
    if found is None:
        return None, phrase("the catalogue has no clause for quotes any more")
    return found, phrase("the clause on the quote has other words than today's: read it first")


def _words_of(clause: Surcharge, records: Records, record: Record) -> tuple[str, ...]:
    """A clause as it would stand on a quote today; nothing where it has no translation."""
    locale = record.locale
    try:
        index = (
            "" if clause.index_name is None else worded(records, clause.index_name, locale.language)
        )
    except CatalogueError:
        return ()
    return clause_text(
        clause, wording(locale), lambda fraction: money.rate(fraction, locale), index
    )


def report_lines(waiting: Waiting) -> Iterator[str]:
    """What waits, for a terminal."""
    listing, quotes = waiting.listing, waiting.quotes
    yield counted_words(listing)
    if quotes:
        known = sum(each.chance is not None for each in quotes)
        yield f"Expected of {known} with a chance: {_amounts(waiting.expected)}."
        yield ""
        yield from columns([HEADS, *map(_row, quotes)], RIGHT)
        yield ""
        yield from (f"{each.kept.record.name}: {each.basis}" for each in quotes)
    if waiting.lost:
        yield ""
        yield from columns([LOST_HEADS, *map(_lost_row, waiting.lost)], {1, 2})
    if waiting.reminders:
        yield ""
        yield "To remember:"
        yield from (f"  {each.kept.record.name}: {each.why}" for each in waiting.reminders)
    if waiting.due:
        yield ""
        yield "Surcharges by the clauses of quotes, without tax:"
        yield from columns([DUE_HEADS, *map(_due_row, waiting.due)], {2, 3, 4})
    yield from listing.notes


def _row(waits: Waits) -> tuple[str, ...]:
    record, home = waits.kept.record, waits.kept.record.inside.home
    return (
        record.name,
        record.customer.company or record.customer.name,
        record.title,
        waits.kept.state,
        str(record.valid_until),
        str(waits.days),
        f"{waits.value:,.2f} {home}",
        "" if waits.chance is None else per_cent(round(waits.chance, 3)),
        "" if waits.expected is None else f"{waits.expected:,.2f} {home}",
    )


def _lost_row(lost: LostBy) -> tuple[str, ...]:
    named = lost.name or "no option named"
    return named, str(lost.quotes), _amounts(lost.value), "; ".join(lost.reasons)


def _due_row(due: Due) -> tuple[str, ...]:
    record, amounts = due.kept.record, ("", "")
    if due.applied is not None:
        amounts = (f"{due.due:,.2f} {record.currency}", f"{due.adjusted:,.2f} {record.currency}")
    leave = due.applied is not None and due.applied.may_leave
    told = "; ".join(word for word in ("the customer may leave" * leave, str(due.told)) if word)
    return record.name, due.kept.state, f"{record.net:,} {record.currency}", *amounts, told


def _amounts(amounts: Mapping[str, Decimal]) -> str:
    return ", ".join(f"{amount:,.2f} {code}" for code, amount in amounts.items()) or "nothing"


def as_json(waiting: Waiting) -> str:
    """What waits as JSON, all amounts as numbers; a surcharge as `quoter surcharge` writes it."""
    listing = waiting.listing
    data = {
        "on": str(listing.on),
        "counts": counts(listing),
        "expected": {code: float(amount) for code, amount in waiting.expected.items()},
        "waiting": [_data(each) for each in waiting.quotes],
        "lost": [
            {
                "option": each.option or None,
                "quotes": each.quotes,
                "value": {code: float(amount) for code, amount in each.value.items()},
                "reasons": each.reasons,
            }
            for each in waiting.lost
        ],
        "reminders": [
            {"quote": each.kept.record.name, "state": each.kept.state, "why": each.why}
            for each in waiting.reminders
        ],
        "surcharges": None if waiting.due is None else [_due_data(each) for each in waiting.due],
    }
    return json.dumps(data, indent=1, ensure_ascii=False)


def _data(waits: Waits) -> dict[str, Any]:
    record = waits.kept.record
    return {
        "quote": record.name,
        "customer": record.customer.name,
        "model": record.model,
        "market": record.market,
        "state": waits.kept.state,
        "valid_until": str(record.valid_until),
        "days": waits.days,
        "value": float(waits.value),
        "currency": record.inside.home,
        "chance": None if waits.chance is None else float(waits.chance),
        "basis": waits.basis,
        "expected": None if waits.expected is None else float(waits.expected),
    }


def _due_data(due: Due) -> dict[str, Any]:
    applied = None if due.applied is None else applied_data(due.applied)
    return {
        "quote": due.kept.record.name,
        "state": due.kept.state,
        "told": due.told or None,
        "applied": applied,
    }
