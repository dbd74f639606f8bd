"""What it really took, for programs: a month, a job or an operation as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from quoter.actuals.after import AfterCalculation
from quoter.actuals.estimates import Interval
from quoter.figures import Figure, money_in
from quoter.formats import ACTUALS
from quoter.pages.actuals.doubts import Missing
from quoter.pages.actuals.groups import Cause, Group, Table, Told
from quoter.pages.actuals.jobs import JobView
from quoter.pages.actuals.months import Month
from quoter.pages.actuals.operations import OperationView
from quoter.pricing.price import Pricing
from quoter.problems import Place


class Data:
    """What is asked of an account as JSON; money in home currency, amounts with every digit."""

    def __init__(self, pricing: Pricing, months: Iterable[str]) -> None:
        """The head that each answer has."""
        self._home = pricing.catalogue.currency
        self._head = {
            "format": ACTUALS.newest,
            "currency": self._home,
            "as_of": str(pricing.catalogue.as_of),
            "months": list(months),
        }

    def month(self, month: Month) -> dict[str, Any]:
        """A month: its variances every way, what is open and what is not booked."""
        doubts = month.doubts
        told = {
            "month": month.id,
            **self._compared(month.told),
            "by": {table.id: self._table(table) for table in month.told.tables()},
            "open": [number for number, _ in doubts.open],
            "unbooked": [self._missing(one) for one in doubts.missing],
            "notes": [str(note) for note in doubts.notes],
        }
        return self._head | {"month": told}

    def job(self, view: JobView) -> dict[str, Any]:
        """A job: its after-calculation, and what made the difference."""
        row, after = view.job.row, view.after
        told = {
            "job": view.job.number,
            "model": view.job.model,
            "boats": view.job.boats,
            "started": str(row.started),
            **({"finished": str(row.finished)} if row.finished else {}),
            **self._compared(view.told),
            **({} if after is None else {"account": self._account(after)}),
            "unbooked": [self._missing(one) for one in view.doubts.missing],
            "notes": [str(note) for note in view.notes],
        }
        return self._head | {"job": told}

    def operation(self, view: OperationView) -> dict[str, Any]:
        """An operation: its samples, and what they say."""
        one = view.estimate
        told = {
            "key": one.key,
            "name": str(view.name),
            "station": one.station,
            "samples": [
                {
                    "job": sample.job,
                    "day": str(sample.day),
                    "pieces": sample.pieces,
                    "actual": sample.actual,
                    "standard": sample.standard,
                    "rows": _rows(sample.rows),
                    **({"outlier": str(sample.outlier)} if sample.outlier else {}),
                }
                for sample in one.samples
            ],
            **_known(
                ratio=_interval(one.ratio),
                spread=one.spread,
                trend=_interval(one.trend),
                learning=_interval(one.learning),
                held=None if one.held is None else list(one.held),
                doubt=str(one.doubt) or None,
            ),
            "proposed": [
                {"key": each.key, "was": each.was, "text": each.text, "reason": str(each.reason)}
                for each in view.proposals
            ],
        }
        return self._head | {"operation": told}

    def _compared(self, told: Told) -> dict[str, Any]:
        return {
            "standard": self._money(told.standard),
            "actual": self._money(told.actual),
            "variance": self._money(told.variance),
            "kinds": {kind: self._money(amount) for kind, amount in told.kinds().items()},
            "causes": [self._cause(cause) for cause in told.causes()],
        }

    def _table(self, table: Table) -> list[dict[str, Any]]:
        return [self._group(group) for group in table.groups]

    def _group(self, group: Group) -> dict[str, Any]:
        sides = {"standard": group.standard, "actual": group.actual}
        return {
            "id": group.id,
            "name": str(group.name),
            "variance": self._money(group.amount),
            **{name: self._money(side) for name, side in sides.items() if side is not None},
            "kinds": {kind: self._money(amount) for kind, amount in group.kinds.items()},
        }

    def _cause(self, cause: Cause) -> dict[str, Any]:
        return {
            "kind": cause.kind,
            "name": str(cause.name),
            "jobs": list(cause.jobs),
            "amount": self._money(cause.amount),
            **_known(actual=_quantity(cause.actual), standard=_quantity(cause.standard)),
            "rows": _rows(cause.rows),
        }

    def _missing(self, one: Missing) -> dict[str, Any]:
        return {
            "name": str(one.name),
            "jobs": [number for number, _ in one.jobs],
            **_known(quantity=_quantity(one.quantity)),
            "standard": self._money(one.standard),
        }

    def _account(self, after: AfterCalculation) -> dict[str, Any]:
        return {
            **_known(quote=None if after.quoted is None else after.quoted.name),
            "price": self._money(after.price),
            "planned": self._money(after.planned),
            "left": self._money(after.left),
            "planned_fraction": after.planned_fraction.value,
            "left_fraction": after.left_fraction.value,
            "standard": self._money(after.standard),
            "actual": self._money(after.cost),
            "elements": [
                {
                    "element": row.element,
                    "name": str(row.name),
                    **_known(quoted=None if row.quoted is None else self._money(row.quoted)),
                    "standard": self._money(row.standard),
                    "actual": self._money(row.actual),
                    "at_standard": row.at_standard,
                }
                for row in after.rows
            ],
            "doubts": [str(doubt) for doubt in after.doubts],
        }

    def _money(self, amount: Figure) -> float:
        return float(money_in(amount, self._home))


def _quantity(figure: Figure | None) -> dict[str, Any] | None:
    return None if figure is None else {"number": figure.value, "unit": str(figure.unit)}


def _rows(rows: Iterable[Place]) -> list[str]:
    return [f"{row.file}:{row.line}" for row in rows]


def _interval(one: Interval | None) -> Mapping[str, float] | None:
    if one is None:
        return None
    return {"likely": one.likely, "low": one.low, "high": one.high, "level": one.level}


def _known(**keys: Any) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value is not None}
