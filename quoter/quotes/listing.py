"""The quotes of a folder: how each stands and what it leaves today, and what they led to.

A quote counts once, however often it was revised: as what was ordered of it, else as its newest
revision. It counts in the month in which it was first issued.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby
from pathlib import Path
from typing import Any

from babel import Locale

from quoter.catalogue.day import day_words
from quoter.catalogue.languages import SOURCE, locale_named
from quoter.catalogue.records import Records
from quoter.columns import columns
from quoter.figures import constant, money_in
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.pairs import as_coloured
from quoter.pricing.price import PAIRED, Pricing
from quoter.pricing.priced import price_catalogue
from quoter.quotes.approval import limit_said, passed_said
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import OPEN, Kept, Listing, State, counted, counts

HEADS = (
    "quote",
    "issued",
    "until",
    "customer",
    "model",
    "state",
    "to pay",
    "margin",
    "today",
    "at risk",
)
RIGHT = {6, 7, 8, 9}
NOTHING = Decimal(0)
ENGLISH = Locale(SOURCE)
Amounts = Mapping[str, Decimal]  # by currency


@dataclass(frozen=True, slots=True)
class Today:
    """What a quote would leave at today's costs, in home currency; `lost` of its margin then."""

    margin: Decimal
    fraction: Decimal
    lost: Decimal


def today_of(record: Record, pricing: Pricing) -> Today | None:
    """A quote at today's costs; None where something on it is not made any more.

    Args:
        record: the quote
        pricing: the catalogue as of today
    """
    model = pricing.models.get(record.model)
    if model is None or record.inside.home != pricing.catalogue.currency:
        return None
    home = record.inside.home
    # What the catalogue does not know costs what it did.
    cost = float(
        sum((line.cost * line.quantity for line in record.inside.lines if line.own), NOTHING)
    )
    # A surcharge, which is of a pair, has no cost of its own.
    lines = [line for line in record.inside.lines if PAIRED not in line.id and not line.own]
    if any(line.id and line.id not in model.extras for line in lines):
        return None
    chosen = {line.id: constant(float(line.quantity)) for line in lines if line.id}
    for line in lines:
        one = as_coloured(model, chosen, line.id, lambda assembly: assembly.cost)
        cost += float(money_in(one, home)) * float(line.quantity)
    net = float(record.inside.net)
    margin = left_after(net, pricing.terms.provisions.value, cost)
    lost = float(record.inside.margin) - margin
    found = (margin, fraction_of_price(margin, net), lost)
    return Today(*(Decimal(repr(value)) for value in found))


@dataclass(frozen=True, slots=True)
class Overview:
    """All quotes of a folder as of a day, and those that are open at today's costs, by name.

    `locale` is that of the yard's own pages, English where no catalogue says which; `records` are
    the catalogue's, if there is one, and `day` tells of the day of these costs.
    """

    listing: Listing
    today: dict[str, Today]
    locale: Locale = ENGLISH
    records: Records | None = None
    day: str = ""

    @property
    def at_risk(self) -> Decimal:
        """How much margin the open quotes have lost since they were issued, in home currency."""
        return sum((today.lost for today in self.today.values()), NOTHING)


def overview_of(listing: Listing, catalogue: Path | None) -> Overview:
    """The quotes, and the open ones at the costs of the listing's day if a catalogue is given.

    Raises:
        CatalogueError: the catalogue has problems.
    """
    if catalogue is None:
        return Overview(listing, {})
    pricing, _ = price_catalogue(catalogue, listing.on)
    found = {
        kept.record.name: today_of(kept.record, pricing)
        for kept in listing.quotes
        if kept.state in OPEN
    }
    return Overview(
        listing,
        {name: today for name, today in found.items() if today is not None},
        locale_named(pricing.catalogue.yard.markets[0].language),
        pricing.catalogue.records,
        day_words(pricing.catalogue.records, pricing.catalogue.as_of),
    )


def report_lines(overview: Overview) -> Iterator[str]:
    """The list for a terminal."""
    listing = overview.listing
    yield counted_words(listing)
    if overview.today:
        home = listing.quotes[0].record.inside.home
        yield (
            f"At today's costs the open ones leave {-overview.at_risk:+,.2f} {home} against what "
            "they left when issued."
        )
    if listing.quotes:
        yield ""
        yield from columns([HEADS, *(_row(kept, overview.today) for kept in listing.quotes)], RIGHT)
    yield from (line for kept in listing.quotes for line in _approved(kept.record))
    yield from listing.notes


def _approved(record: Record) -> Iterator[str]:
    """Who let a quote pass, what for and why, if anybody had to."""
    approval = record.inside.approval
    if approval is not None:
        told = f"{record.name} was approved by {approval.name} ({approval.reason})"
        limit = limit_said(approval, record.inside.home)
        yield f"{told}: {passed_said(approval)}{f'; limit: {limit}' if limit else ''}"


def counted_words(listing: Listing) -> str:
    """How many quotes there are, and how they stand, in a sentence."""
    found = counts(listing)
    told = ", ".join(f"{count} {state}" for state, count in found.items() if count)
    return f"{sum(found.values())} quotes on {listing.on}{f': {told}' if told else ''}."


def _row(kept: Kept, today: dict[str, Today]) -> tuple[str, ...]:
    record, now = kept.record, today.get(kept.record.name)
    return (
        record.name,
        str(record.issued),
        str(record.valid_until),
        record.customer.company or record.customer.name,
        record.title,
        kept.state,
        f"{record.total:,} {record.currency}",
        f"{record.inside.margin_fraction * 100:.1f} %",
        "" if now is None else f"{now.fraction * 100:.1f} %",
        "" if now is None else f"{now.lost:,.2f} {record.inside.home}",
    )


def as_json(overview: Overview) -> str:
    """The list as JSON; amounts that a customer sees as texts, the yard's as numbers.

    `counts` are of numbers, each once, and `quotes` every revision.
    """
    listing = overview.listing
    data = {
        "on": str(listing.on),
        "counts": counts(listing),
        "quotes": [_data(kept, overview.today) for kept in listing.quotes],
    }
    return json.dumps(data, indent=1, ensure_ascii=False)


def _data(kept: Kept, today: dict[str, Today]) -> dict[str, Any]:
    record, now = kept.record, today.get(kept.record.name)
    return {
        "quote": record.name,
        "issued": str(record.issued),
        "valid_until": str(record.valid_until),
        "customer": record.customer.name,
        "model": record.model,
        "state": kept.state,
        "since": str(kept.outcome.date) if kept.outcome else None,
        "replaced_by": kept.replaced_by or None,
        "chance": None if kept.chance is None else float(kept.chance.chance or 0),
        "total": str(record.total),
        "currency": record.currency,
        "margin": float(record.inside.margin),
        "margin_fraction": float(record.inside.margin_fraction),
        "below_floor": record.inside.below_floor,
        "approval": None
        if record.inside.approval is None
        else record.inside.approval.model_dump(mode="json"),
        "today": None
        if now is None
        else {"margin": float(now.margin), "fraction": float(now.fraction)},
    }


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

    def count(self, state: State) -> int:
        """How many stand so."""
        return self.of(state).quotes

    def of(self, state: State) -> Tally:
        """Those that stand so, added up."""
        return self.by_state.get(state, _added([]))

    @property
    def decided(self) -> int:
        """How many are won or lost."""
        return self.count("won") + self.count("lost")

    @property
    def conversion(self) -> Decimal | None:
        """Those won as a fraction of those decided; None as long as none is."""
        return Decimal(self.count("won")) / self.decided if self.decided else None


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
    for first, kept in counted(listing):
        month = f"{first.issued:%Y-%m}"
        months.append((month, month, kept.state, _whole(kept.record)))
        options += [(id, name, kept.state, tally) for id, name, tally in _options(kept.record)]
    every = [("", "", state, tally) for _, _, state, tally in months]
    return MonthTable(_groups(months), _groups(options), _group("", every))


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
        if line.id and not line.own:
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
