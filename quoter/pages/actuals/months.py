"""The page of a month, and what the first page tells of months: their table and the trend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoter.actuals.account import Account
from quoter.actuals.compared import Job, Kind
from quoter.pages.actuals.doubts import Doubts, doubts_of
from quoter.pages.actuals.groups import Told
from quoter.pages.actuals.names import Names
from quoter.pages.variance_charts import Columns, columns, waterfall
from quoter.phrases import phrase

LARGEST = 12
OF: Sequence[tuple[str, Sequence[Kind]]] = (
    (phrase("Material"), ("price", "exchange", "usage", "mix", "yield", "scrap")),
    (phrase("Labour"), ("rate", "efficiency", "rework")),
    (phrase("Overhead"), ("spending", "variable efficiency", "budget", "volume")),
)


@dataclass(frozen=True, slots=True)
class Month:
    """A month: what was compared in it, its jobs, and what to know before."""

    id: str
    name: str
    told: Told
    jobs: Sequence[Job]
    doubts: Doubts

    @property
    def fraction(self) -> float | None:
        """By what fraction of standard it was over."""
        standard = self.told.standard.value
        return self.told.variance.value / standard if standard else None


@dataclass(frozen=True, slots=True)
class Trend:
    """Variance by month as a fraction of all standard, of one sort of cost."""

    name: str
    chart: Columns
    values: Sequence[float | None]


def months_of(account: Account, names: Names) -> list[Month]:
    """Every month with rows, the newest first."""
    return [month_of(account, names, id) for id in reversed(account.actuals.months)]


def month_of(account: Account, names: Names, id: str) -> Month:
    """One month."""
    actuals = account.actuals
    compared = [one for one in actuals.compared if one.scope.month == id]
    booked = {one.scope.job for one in compared if one.scope.job}
    jobs = [job for job in actuals.jobs.values() if job.number in booked or finished_in(job, id)]
    missing = [
        one
        for one in actuals.unbooked
        if one.scope.month == id
        or (
            not one.scope.month
            and one.scope.job in actuals.jobs
            and finished_in(actuals.jobs[one.scope.job], id)
        )
    ]
    doubts = doubts_of(account, names, jobs, missing, id)
    return Month(id, names.month(id), Told(account, names, compared), jobs, doubts)


def finished_in(job: Job, month: str) -> bool:
    """Whether a job was finished in a month."""
    return job.row.finished is not None and f"{job.row.finished:%Y-%m}" == month


def month_context(month: Month) -> dict[str, Any]:
    """What the page of a month shows."""
    kinds = month.told.kinds()
    return {
        "month": month,
        "kinds": kinds,
        "fall": waterfall(month.told.standard, list(kinds.values())),
        "causes": month.told.causes(),
        "largest": LARGEST,
        "tables": month.told.tables(),
    }


def trends_of(months: Sequence[Month]) -> list[Trend]:
    """All of it, then material, labour and overhead by month, the oldest first, on one scale."""
    oldest = list(reversed(months))
    by_name: dict[str, list[float | None]] = {phrase("Together"): [m.fraction for m in oldest]}
    for name, kinds in OF:
        by_name[name] = [_of_standard(m, kinds) for m in oldest]
    among = [one for values in by_name.values() for one in values if one is not None]
    return [Trend(name, columns(values, among), values) for name, values in by_name.items()]


def _of_standard(month: Month, kinds: Sequence[Kind]) -> float | None:
    """Some kinds as a fraction of standard; not known where nothing of theirs was compared."""
    standard = month.told.standard.value
    if not standard or not any(line.kind in kinds for line in month.told.lines):
        return None
    return month.told.of_kinds(kinds).value / standard
