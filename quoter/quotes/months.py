"""What quotes led to: how many were won of those decided, and what they brought.

A quote counts once, however often it was revised: as the revision that was won, else as its newest.
It counts in the month in which it was first issued.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from quoter.pricing.margin import fraction_of_price, left_after
from quoter.quotes.record import Record
from quoter.quotes.states import Kept, Listing, State

NOTHING = Decimal(0)
Amounts = Mapping[str, Decimal]  # by currency


@dataclass(frozen=True, slots=True)
class Tally:
    """Some quotes added up: how many, and what they come to without tax, by currency.

    `quoted` is in the currencies that customers were quoted, and only of whole quotes; `net` (after
    discounts) and `margin` (after provisions) are in home currency.
    """

    quotes: int
    quoted: Amounts
    net: Amounts
    margin: Amounts

    def margin_fraction(self, home: str) -> Decimal | None:
        """Margin of net in a home currency; None where nothing was sold in it."""
        if not self.net.get(home):
            return None
        share = fraction_of_price(float(self.margin[home]), float(self.net[home]))
        return Decimal(repr(share))


@dataclass(frozen=True, slots=True)
class Group:
    """The quotes of a month (``2026-11``) or with an option (its id), added up by their state."""

    key: str
    name: str
    by_state: Mapping[State, Tally]

    @property
    def every(self) -> Tally:
        """All of them, decided or not."""
        return _added(self.by_state.values())

    @property
    def decided(self) -> int:
        """How many are won or lost."""
        return self._count("won") + self._count("lost")

    @property
    def conversion(self) -> Decimal | None:
        """Those won as a fraction of those decided; None as long as none is."""
        return Decimal(self._count("won")) / self.decided if self.decided else None

    def _count(self, state: State) -> int:
        found = self.by_state.get(state)
        return found.quotes if found else 0


@dataclass(frozen=True, slots=True)
class MonthTable:
    """Quotes by month of issue, by option on them, and all together."""

    months: tuple[Group, ...]
    options: tuple[Group, ...]
    every: Group


def month_table(listing: Listing) -> MonthTable:
    """What the quotes of a list led to.

    Months are in order; options by their ids, named as on the newest quote that has them.
    """
    months: list[tuple[str, str, State, Tally]] = []
    options: list[tuple[str, str, State, Tally]] = []
    for first, counted in _counted(listing):
        month = f"{first.issued:%Y-%m}"
        months.append((month, month, counted.state, _whole(counted.record)))
        options += [
            (id, name, counted.state, tally) for id, name, tally in _options(counted.record)
        ]
    every = [("", "", state, tally) for _, _, state, tally in months]
    return MonthTable(_groups(months), _groups(options), _group("", every))


def _counted(listing: Listing) -> Iterator[tuple[Record, Kept]]:
    """Each quote's first record, and the revision that it counts as."""
    for _, found in groupby(listing.quotes, key=lambda each: each.record.number):
        revisions = list(found)
        won = [each for each in revisions if each.state == "won"]
        yield revisions[0].record, (won or revisions)[-1]


def _whole(record: Record) -> Tally:
    inside = record.inside
    return Tally(
        1,
        {record.currency: record.net},
        {inside.home: inside.net},
        {inside.home: inside.margin},
    )


def _options(record: Record) -> Iterator[tuple[str, str, Tally]]:
    """Each option and package of a quote, with its id, its name and what it brings.

    Provisions are the same part of every line, so that lines add up to the quote.
    """
    inside = record.inside
    kept = (inside.margin + inside.cost) / inside.net if inside.net else Decimal(1)
    for line in inside.lines:
        if line.id:
            net, cost = line.net * line.quantity, line.cost * line.quantity
            left = left_after(float(net), float(1 - kept), float(cost))
            home = inside.home
            yield line.id, line.name, Tally(1, {}, {home: net}, {home: Decimal(repr(left))})


def _groups(rows: list[tuple[str, str, State, Tally]]) -> tuple[Group, ...]:
    by_key = sorted(rows, key=lambda row: row[0])
    return tuple(_group(key, list(of_key)) for key, of_key in groupby(by_key, key=lambda r: r[0]))


def _group(key: str, rows: list[tuple[str, str, State, Tally]]) -> Group:
    states: dict[State, list[Tally]] = {}
    for _, _, state, tally in rows:
        states.setdefault(state, []).append(tally)
    name = rows[-1][1] if rows else ""
    return Group(key, name, {state: _added(found) for state, found in sorted(states.items())})


def _added(tallies: Iterable[Tally]) -> Tally:
    found = list(tallies)
    return Tally(
        sum(tally.quotes for tally in found),
        _sums(found, lambda tally: tally.quoted),
        _sums(found, lambda tally: tally.net),
        _sums(found, lambda tally: tally.margin),
    )


def _sums(tallies: Iterable[Tally], amounts: Callable[[Tally], Amounts]) -> Amounts:
    added: dict[str, Decimal] = {}
    for tally in tallies:
        for currency, amount in amounts(tally).items():
            added[currency] = added.get(currency, NOTHING) + amount
    return dict(sorted(added.items()))
