"""The page of surcharge clauses: their words, their index, what a price becomes, a calculator."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from babel.numbers import get_currency_precision

from quoter.catalogue.factory import Surcharge
from quoter.catalogue.indices import index_series
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.tables import IndexRow
from quoter.figures import Figure, constant, money_in, plain_number
from quoter.pages.environment import asset, office_locale, page_environment, render
from quoter.pages.script import HELPERS, script_function
from quoter.pages.steps import Frame, Steps, Track, steps
from quoter.pricing.clauses import DRAFT, clause_text, steps_of
from quoter.pricing.price import Pricing

ASSETS = {
    "assets/history.css": "internal/history.css",
    "assets/surcharge.css": "internal/surcharge.css",
}
CHART = Frame(460, 200, 58, 452, 24, 174, 4)
EXAMPLE = 1000.0  # in home currency: what the tables start from
MOST_VALUES = 12  # the newest of a series, in tables that a screen can hold


@dataclass(frozen=True, slots=True)
class IndexValue:
    """A value of an index, since when it holds, where it stands, and by how much it moved."""

    day: date
    value: Decimal
    change: Decimal | None
    place: str
    note: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a price becomes at a later value; `leave` where the customer may leave."""

    adjusted: Decimal
    moved: bool
    leave: bool


@dataclass(frozen=True, slots=True)
class Base:
    """A value that a quote may start from, and the outcome at each value shown, None before it."""

    day: date
    value: Decimal
    outcomes: tuple[Outcome | None, ...]


@dataclass(frozen=True, slots=True)
class ClauseView:
    """A clause: its public words, the yard's note, its index and what a price would be."""

    id: str
    name: str
    text: tuple[str, ...]
    note: str
    index: str
    open_for: int
    values: tuple[IndexValue, ...]
    chart: Steps | None
    shown: tuple[date, ...]
    bases: tuple[Base, ...]


def surcharge_pages(pricing: Pricing) -> dict[str, bytes]:
    """Path below internal/review/ -> content; nothing where the catalogue has no surcharges.

    The review's own pages bring the rest of what these need.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = pricing.catalogue
    clauses = catalogue.yard.surcharges
    if not clauses:
        return {}
    page = render(
        page_environment(office_locale(catalogue.yard.markets[0]), catalogue.currency),
        "internal/surcharge.html",
        root="",
        catalogue=catalogue,
        clauses=[_view(catalogue, clause) for clause in clauses],
        example=Decimal(repr(EXAMPLE)),
        digits=get_currency_precision(catalogue.currency),
    )
    pages = {"surcharge.html": page, "assets/surcharge.js": _script(catalogue).encode("utf-8")}
    return pages | {path: asset(source) for path, source in ASSETS.items()}


def _view(catalogue: Catalogue, clause: Surcharge) -> ClauseView:
    rows = [r for r in index_series(catalogue.records, clause.index) if r.date <= catalogue.as_of]
    shown = rows[-MOST_VALUES:]
    values = [plain_number(row.value) for row in rows]
    track = Track([row.date for row in rows], values, catalogue.as_of)
    return ClauseView(
        str(clause.id),
        str(clause.name),
        (*clause_text(clause), DRAFT),
        str(clause.note or ""),
        str(clause.index),
        int(clause.open_for.value),
        tuple(
            IndexValue(row.date, value, last and value / last - 1, row.place.clickable, row.note)
            for row, value, last in zip(rows, values, [None, *values[:-1]], strict=True)
        ),
        steps(track, CHART),
        tuple(row.date for row in shown),
        tuple(_base(clause, row, shown, catalogue.currency) for row in shown),
    )


def _base(clause: Surcharge, base: IndexRow, shown: Sequence[IndexRow], currency: str) -> Base:
    outcomes = (
        _outcome(clause, base, row, currency) if row.date >= base.date else None for row in shown
    )
    return Base(base.date, plain_number(base.value), tuple(outcomes))


def _outcome(clause: Surcharge, base: IndexRow, now: IndexRow, currency: str) -> Outcome:
    found = steps_of(clause, constant(EXAMPLE, currency), base.value, now.value, currency)
    moved = bool(found.surcharge.value)
    return Outcome(money_in(found.adjusted, currency), moved, bool(found.leave.value))


def _script(catalogue: Catalogue) -> str:
    """The calculator: each clause's own steps as a function, then what reads and writes fields."""
    functions, names = [], []
    for clause in catalogue.yard.surcharges:
        name = f"clause_{clause.id}"
        functions.append(clause_function(clause, name, catalogue.currency))
        names.append(f'  "{clause.id}": {name}')
    table = "window.quoterClauses = {\n" + ",\n".join(names) + "\n};"
    fields = asset("internal/surcharge.js").decode("utf-8")
    parts = ["(function () {", '"use strict";', HELPERS, *functions, table, "}());", fields]
    return "\n".join(parts)


def clause_function(clause: Surcharge, name: str, currency: str) -> str:
    """The clause's steps as JavaScript, of a price and two values of its index."""
    given = constant(EXAMPLE, currency), constant(100.0), constant(100.0)
    price, base, now = (Figure(one.value, one.unit, "input") for one in given)
    found = steps_of(clause, price, base, now, currency)
    outputs = {
        "counted": found.counted,
        "fraction": found.fraction,
        "surcharge": found.surcharge,
        "adjusted": found.adjusted,
        "leave": found.leave,
    }
    return script_function(name, {"price": price, "base": base, "now": now}, outputs)
