"""Overhead of each station and month against standard: spending, efficiency, budget and volume.

Budgets have no days: a month's is a twelfth of the year's. What was not booked as spent is not
known: then only the efficiency of variable overhead is, and nothing is said of fixed overhead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from quoter.actuals.compared import KINDS, Compared, Kind, Line, Scope
from quoter.actuals.hours import Load
from quoter.actuals.matched import grouped, mixed
from quoter.actuals.pieces import Ground
from quoter.catalogue.booked import SpentRow
from quoter.catalogue.factory import Station
from quoter.engineering.overhead import overhead_cost
from quoter.engineering.variances import (
    absorption_variance,
    budget_variance,
    quantity_variance,
)
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.problems import Place

Which = Literal["variable", "fixed"]
MONTHS = 12.0  # of a budget's year
BASES = {"labour hours": "h", "machine hours": "h"}


@dataclass(frozen=True, slots=True)
class _StationMonth:
    """What a station absorbs overhead on in a month, and what was booked as spent there."""

    station: Station
    month: str
    which: Which
    loads: Sequence[Load]
    spent_rows: Sequence[SpentRow]
    rate: Figure
    currency: str

    @property
    def scope(self) -> Scope:
        """Of what it is."""
        id = str(self.station.id)
        return Scope(f"{self.which}.{id}", "station", self.month, station=id)

    @property
    def rows(self) -> tuple[Place, ...]:
        """Where spending was booked, then the hours."""
        spent = [row.place for row in self.spent_rows]
        return tuple(dict.fromkeys([*spent, *(row for load in self.loads for row in load.rows)]))

    def keyed(self, figure: Figure, what: str, words: str) -> Figure:
        """A figure under a name of the scope."""
        label = phrase(
            "{station}, {month}: {words}", station=self.station.name, month=self.month, words=words
        )
        return figure.named(f"{self.scope.key}.{what.replace(' ', '_')}", label)

    def base(self, what: Literal["actual", "standard", "flexed"]) -> Figure:
        """The month's base: as worked, as it should have been, or of all pieces that were begun."""
        words = {
            "actual": phrase("base as worked"),
            "standard": phrase("base by standard"),
            "flexed": phrase("base by standard of pieces begun"),
        }
        unit = BASES.get(str(self.station.overhead.base), self.currency)
        amounts = [getattr(load, what) for load in self.loads]
        return self.keyed(total(amounts, constant(0.0, unit)), f"{what}_base", words[what])

    @property
    def spent(self) -> Figure | None:
        """What was booked as spent, None where nothing was."""
        amounts = [row.spent for row in self.spent_rows]
        if not amounts:
            return None
        return self.keyed(total(amounts, amounts[0]), "spent", phrase("spent"))

    def line(self, kind: Kind, amount: Figure) -> Line:
        """A variance of the month; it is shared as the standard base is."""
        owners = mixed([(load.owners, load.standard.value) for load in self.loads])
        return Line(kind, self.scope, self.keyed(amount, kind, KINDS[kind]), self.rows, owners)


def compare_overhead(ground: Ground, loads: Sequence[Load]) -> list[Compared]:
    """Variable overhead, then fixed, of every station and month that has hours or spending."""
    by_month = grouped(loads, lambda load: (load.station, load.month))
    rates = ground.pricing.costing.rates.stations
    compared: list[Compared] = []
    kinds: tuple[Which, ...] = ("variable", "fixed")
    for which in kinds:
        rows = [row for row in ground.booked.overhead if row.kind == which]
        spent = grouped(
            sorted(rows, key=lambda row: str(row.reference)),
            lambda row: (str(row.station), str(row.month)),
        )
        unknown: dict[tuple[str, ...], list[str]] = {}
        for id, station in rates.items():
            lacking = []
            for month in sorted({m for s, m in [*by_month, *spent] if s == id}):
                one = _StationMonth(
                    station.station,
                    month,
                    which,
                    by_month.get((id, month), []),
                    spent.get((id, month), []),
                    station.variable if which == "variable" else station.fixed,
                    ground.pricing.catalogue.currency,
                )
                if not one.spent_rows:
                    lacking.append(month)
                compared += _variable(one) if which == "variable" else _fixed(one)
            if lacking:
                unknown.setdefault(tuple(lacking), []).append(str(station.station.name))
        ground.notes.extend(_told(which, unknown))
    return compared


def _variable(one: _StationMonth) -> Iterator[Compared]:
    """Spent against what the hours worked absorb; those against what they should have been."""
    actual, standard, flexed = one.base("actual"), one.base("standard"), one.base("flexed")
    spent, lines = one.spent, []
    absorbed = overhead_cost(one.rate, actual)
    if spent is not None:
        lines.append(one.line("spending", absorption_variance(spent, one.rate, actual)))
        absorbed = spent
    if one.loads:
        amount = quantity_variance(actual, flexed, one.rate)
        lines.append(one.line("variable efficiency", amount))
    if any(load.flexed is not load.standard for load in one.loads):
        lines.append(one.line("scrap", quantity_variance(flexed, standard, one.rate)))
    yield _finished(one, absorbed, overhead_cost(one.rate, standard), lines, actual, standard)


def _fixed(one: _StationMonth) -> Iterator[Compared]:
    """Spent against the month's budget; that against what good pieces should have absorbed."""
    spent = one.spent
    if spent is None:
        return
    standard = one.base("standard")
    budget = one.keyed(one.station.overhead.fixed / MONTHS, "budget_amount", phrase("budget"))
    lines = [
        one.line("budget", budget_variance(spent, budget)),
        one.line("volume", absorption_variance(budget, one.rate, standard)),
    ]
    yield _finished(
        one, spent, overhead_cost(one.rate, standard), lines, one.base("actual"), standard
    )


def _finished(
    one: _StationMonth,
    actual: Figure,
    standard: Figure,
    lines: Sequence[Line],
    actual_base: Figure,
    standard_base: Figure,
) -> Compared:
    return Compared(
        scope=one.scope,
        actual=one.keyed(actual, "actual", phrase("overhead")),
        standard=one.keyed(standard, "standard", phrase("standard overhead")),
        lines=tuple(lines),
        actual_quantity=actual_base,
        standard_quantity=standard_base,
        rows=one.rows,
    )


def _told(which: Which, unknown: dict[tuple[str, ...], list[str]]) -> Iterator[str]:
    """Of which stations and months nothing is known to be spent."""
    for months, names in unknown.items():
        told = {
            "variable": phrase(
                "{stations}: no variable overhead is booked as spent in {months}; it is taken at"
                " its rate, so that only its efficiency shows",
                stations=", ".join(names),
                months=", ".join(months),
            ),
            "fixed": phrase(
                "{stations}: no fixed overhead is booked as spent in {months}; it is left out",
                stations=", ".join(names),
                months=", ".join(months),
            ),
        }
        yield told[which]
