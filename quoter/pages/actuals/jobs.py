"""The page of a job: its after-calculation, and what made the difference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoter.actuals.account import Account
from quoter.actuals.after import AfterCalculation, ElementRow
from quoter.actuals.compared import Job
from quoter.figures import Figure, constant
from quoter.pages.actuals.doubts import Doubts, doubts_of
from quoter.pages.actuals.groups import Told
from quoter.pages.actuals.names import Names
from quoter.pages.variance_charts import waterfall
from quoter.phrases import Phrase, phrase


@dataclass(frozen=True, slots=True)
class JobView:
    """A job: what was compared of it, its account if it has one, and what to know before."""

    job: Job
    after: AfterCalculation | None
    told: Told
    doubts: Doubts
    href: str

    @property
    def notes(self) -> Sequence[str]:
        """Notes that name the job."""
        named = (note for note in self.doubts.notes if isinstance(note, Phrase))
        return [note for note in named if self.job.number in str(note.values.get("jobs", ""))]

    @property
    def elements(self) -> Sequence[tuple[str, Sequence[ElementRow]]]:
        """The cost elements of which something is booked, then those taken at standard."""
        rows = () if self.after is None else self.after.rows
        both = (
            (phrase("Booked"), [row for row in rows if not row.at_standard]),
            (phrase("None booked, at standard"), [row for row in rows if row.at_standard]),
        )
        return [(words, told) for words, told in both if told]


def jobs_of(account: Account, names: Names) -> list[JobView]:
    """Every job, the newest first: those at work, then as they were finished."""
    found = [job_of(account, names, number) for number in account.actuals.jobs]

    def when(view: JobView) -> tuple[str, str, str]:
        row = view.job.row
        return (str(row.finished or "9999"), str(row.started), view.job.number)

    return sorted(found, key=when, reverse=True)


def job_of(account: Account, names: Names, number: str) -> JobView:
    """One job."""
    actuals = account.actuals
    job, after = actuals.jobs[number], account.after.get(number)
    compared = actuals.compared_of_jobs.get(number, [])
    missing = actuals.unbooked_of_jobs.get(number, [])
    doubts = doubts_of(account, names, [job], missing, "")
    told = Told(account, names, compared)
    return JobView(job, after, told, doubts, names.job_page(number))


def job_context(view: JobView) -> dict[str, Any]:
    """What the page of a job shows."""
    kinds = view.told.kinds()
    return {
        "view": view,
        "job": view.job,
        "after": view.after,
        "built_with": _built_with(view.job),
        "quoted_cost": _quoted_cost(view),
        "kinds": kinds,
        "fall": waterfall(view.told.standard, list(kinds.values())) if kinds else None,
        "causes": view.told.causes(),
    }


def _built_with(job: Job) -> list[str]:
    """What was chosen for the boat, in words; its standard equipment is not told."""
    chosen = [(each, each.count.value) for each in job.built.aboard if not each.standard]
    return [f"{each.option.name}{f' × {n:g}' if n != 1 else ''}" for each, n in chosen]


def _quoted_cost(view: JobView) -> Figure | None:
    """What all its boats were to cost when they were quoted."""
    after = view.after
    if after is None or after.quoted is None:
        return None
    return after.quoted.cost * constant(view.job.boats)
