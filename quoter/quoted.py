"""`quoter quotes`: every quote with its state, value and margin, and what is at risk today."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from quoter.build import price_catalogue
from quoter.columns import columns
from quoter.figures import money_in
from quoter.pages.quotes import QuoteRow, quotes_page
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.price import Pricing
from quoter.quotes.months import month_table
from quoter.quotes.record import Record
from quoter.quotes.states import Kept, Listing

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


@dataclass(frozen=True, slots=True)
class Today:
    """What a quote would leave at today's costs, in home currency; `lost` of its margin then."""

    margin: float
    fraction: float
    lost: float


def today_of(record: Record, pricing: Pricing) -> Today | None:
    """A quote at today's costs; None where something on it is not made any more.

    Args:
        record: the quote
        pricing: the catalogue as of today
    """
    model = pricing.models.get(record.model)
    if model is None or record.inside.home != pricing.catalogue.currency:
        return None
    cost, home = 0.0, record.inside.home
    for line in record.inside.lines:
        item = model.extras.get(line.id) if line.id else model.boat
        if item is None:
            return None
        cost += float(money_in(item.assembly.cost, home)) * line.quantity
    net = float(record.inside.net)
    margin = left_after(net, pricing.terms.provisions.value, cost)
    return Today(margin, fraction_of_price(margin, net), float(record.inside.margin) - margin)


@dataclass(frozen=True, slots=True)
class Overview:
    """All quotes of a folder as of a day, and those that are open at today's costs, by name."""

    listing: Listing
    today: dict[str, Today]

    @property
    def at_risk(self) -> float:
        """How much margin the open quotes have lost since they were issued, in home currency."""
        return sum(today.lost for today in self.today.values())


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
        if kept.state == "open"
    }
    return Overview(listing, {name: today for name, today in found.items() if today is not None})


def report_lines(overview: Overview) -> Iterator[str]:
    """The list for a terminal."""
    listing = overview.listing
    states = [kept.state for kept in listing.quotes]
    told = ", ".join(f"{states.count(state)} {state}" for state in dict.fromkeys(states))
    yield f"{len(states)} quotes on {listing.on}{f': {told}' if told else ''}."
    if overview.today:
        home = listing.quotes[0].record.inside.home
        yield (
            f"At today's costs the open ones leave {-overview.at_risk:+,.2f} {home} against what "
            "they left when issued."
        )
    if states:
        yield ""
        yield from columns([HEADS, *(_row(kept, overview.today) for kept in listing.quotes)], RIGHT)
    yield from listing.notes


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
    """The list as JSON; amounts that a customer sees as texts, the yard's as numbers."""
    rows = [_data(kept, overview.today) for kept in overview.listing.quotes]
    return json.dumps(rows, indent=1, ensure_ascii=False)


def _data(kept: Kept, today: dict[str, Today]) -> dict[str, Any]:
    record, now = kept.record, today.get(kept.record.name)
    return {
        "quote": record.name,
        "issued": str(record.issued),
        "valid_until": str(record.valid_until),
        "customer": record.customer.name,
        "model": record.model,
        "state": kept.state,
        "total": str(record.total),
        "currency": record.currency,
        "margin": float(record.inside.margin),
        "margin_fraction": float(record.inside.margin_fraction),
        "below_floor": record.inside.below_floor,
        "today": None if now is None else {"margin": now.margin, "fraction": now.fraction},
    }


def page_of(overview: Overview) -> bytes:
    """The internal page: conversion and margin by month and option, and every quote."""
    rows = [_page_row(kept, overview.today) for kept in overview.listing.quotes]
    return quotes_page(overview.listing.on, rows, month_table(overview.listing))


def _page_row(kept: Kept, today: dict[str, Today]) -> QuoteRow:
    record, now = kept.record, today.get(kept.record.name)
    return QuoteRow(
        name=record.name,
        issued=record.issued,
        valid_until=record.valid_until,
        customer=", ".join(w for w in (record.customer.name, record.customer.company) if w),
        title=record.title,
        state=kept.state,
        total=record.total,
        currency=record.currency,
        home=record.inside.home,
        margin=record.inside.margin,
        margin_fraction=record.inside.margin_fraction,
        below_floor=record.inside.below_floor,
        today=None if now is None else Decimal(repr(now.fraction)),
        lost=None if now is None else Decimal(repr(now.lost)),
    )
