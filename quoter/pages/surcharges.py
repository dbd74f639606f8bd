"""The page of surcharge clauses: their words, their index, what a price becomes, a calculator."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from babel.numbers import get_currency_precision

from quoter.catalogue.indices import index_series
from quoter.catalogue.markets import Surcharge
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.tables import IndexRow
from quoter.figures import Figure, constant
from quoter.pages.charts import Frame, StepLine, Track, steps
from quoter.pages.environment import asset, assets, office_environment, render
from quoter.pages.figured import decimal
from quoter.pages.script import HELPERS, script_function
from quoter.pricing.clauses import DRAFT, ClauseSteps, clause_text, steps_of
from quoter.pricing.price import Pricing

ASSETS = {
    "assets/history.css": "internal/history.css",
    "assets/surcharge.css": "internal/surcharge.css",
}
CHART = Frame(width=460, height=200, left=58, right=452, top=24, bottom=174, most_ticks=4)
EXAMPLE = 1000.0  # in home currency: what the tables start from
MOST_VALUES = 12  # the newest of a series, in tables that a screen can hold


@dataclass(frozen=True, slots=True)
class Base:
    """A value that a quote may start from, and the steps at each value shown, None before it."""

    row: IndexRow
    outcomes: tuple[ClauseSteps | None, ...]


@dataclass(frozen=True, slots=True)
class ClauseView:
    """A clause: its public words, its index, each value with its change, and what prices become.

    `bases` are the newest values.
    """

    clause: Surcharge
    text: tuple[str, ...]
    rows: tuple[tuple[IndexRow, Decimal | None], ...]
    chart: StepLine | None
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
        office_environment(catalogue),
        "internal/surcharge.html",
        root="",
        catalogue=catalogue,
        clauses=[_view(catalogue, clause) for clause in clauses],
        example=EXAMPLE,
        digits=get_currency_precision(catalogue.currency),
    )
    pages = {"surcharge.html": page, "assets/surcharge.js": _script(catalogue).encode("utf-8")}
    return pages | assets(ASSETS, catalogue.paper)


def _view(catalogue: Catalogue, clause: Surcharge) -> ClauseView:
    rows = [r for r in index_series(catalogue.records, clause.index) if r.date <= catalogue.as_of]
    shown = rows[-MOST_VALUES:]
    values = [decimal(row.value) for row in rows]
    track = Track([row.date for row in rows], values, catalogue.as_of)
    return ClauseView(
        clause,
        (*clause_text(clause), DRAFT),
        tuple(
            (row, last and value / last - 1)
            for row, value, last in zip(rows, values, [None, *values[:-1]], strict=True)
        ),
        steps(track, CHART),
        tuple(_base(clause, row, shown, catalogue.currency) for row in shown),
    )


def _base(clause: Surcharge, base: IndexRow, shown: Sequence[IndexRow], currency: str) -> Base:
    price = constant(EXAMPLE, currency)
    outcomes = (
        steps_of(clause, price, base.value, row.value, currency) if row.date >= base.date else None
        for row in shown
    )
    return Base(base, tuple(outcomes))


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
