"""What to know before the numbers: what is open, what was not booked, how it was compared."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from quoter.actuals.account import Account
from quoter.actuals.compared import Actuals, Job, Unbooked
from quoter.figures import Figure, constant, total
from quoter.pages.actuals.names import Names
from quoter.phrases import Phrase, phrase
from quoter.problems import Place

SHOWN = 6  # stations without hours that are told before the numbers; all are at the end


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that should have been booked: what, of which jobs, how much, and its cost.

    `work` where it is hours of a station; `quantity` is None where it is stated in money.
    """

    name: str
    jobs: Sequence[tuple[str, str]]
    quantity: Figure | None
    standard: Figure
    work: bool


@dataclass(frozen=True, slots=True)
class Doubts:
    """Jobs that are at work still, what was not booked, the largest first, and the notes."""

    open: Sequence[tuple[str, str]]
    missing: Sequence[Missing]
    left_out: Figure
    notes: Sequence[str]

    @property
    def work(self) -> Sequence[Missing]:
        """Stations that a job needs and has no hours of, the largest."""
        return [one for one in self.missing if one.work][:SHOWN]

    @property
    def material(self) -> Sequence[Missing]:
        """Material of which nothing was booked."""
        return [one for one in self.missing if not one.work]


def doubts_of(
    account: Account, names: Names, jobs: Sequence[Job], missing: Iterable[Unbooked], month: str
) -> Doubts:
    """Of some jobs, and of a month or "" for all.

    Args:
        account: all of it
        names: of what it tells of
        jobs: those asked about
        missing: what of theirs was not booked
        month: which notes may tell of, as 2026-08
    """
    actuals = account.actuals
    zero = constant(0.0, actuals.pricing.catalogue.currency)
    together: dict[tuple[str, str], list[Unbooked]] = {}
    for one in missing:
        # A station is told job by job: whether hours were forgotten is a matter of each.
        job = one.scope.job if _is_work(one) else ""
        together.setdefault((names.of(one.scope), job), []).append(one)
    found = [_missing(name, ones, names) for (name, _), ones in together.items()]
    found.sort(key=lambda one: (-abs(one.standard.value), one.name))
    return Doubts(
        [(job.number, names.job_page(job.number)) for job in jobs if job.open],
        found,
        total([one.standard for one in found], zero),
        notes_about(actuals, [job.number for job in jobs], month),
    )


def _missing(name: str, ones: Sequence[Unbooked], names: Names) -> Missing:
    numbers = dict.fromkeys(one.scope.job for one in ones if one.scope.job)
    first = ones[0].quantity
    counted = not first.unit.currencies and len({one.quantity.unit for one in ones}) == 1
    return Missing(
        name,
        [(number, names.job_page(number)) for number in numbers],
        total([one.quantity for one in ones], first) if counted else None,
        total([one.standard for one in ones], ones[0].standard),
        _is_work(ones[0]),
    )


def _is_work(one: Unbooked) -> bool:
    return one.scope.resource.startswith("labour.")


def notes_about(actuals: Actuals, jobs: Sequence[str], month: str) -> list[str]:
    """The notes about some jobs and a month (any month where none is named), each without what it
    tells of others."""
    found = []
    for note in actuals.notes:
        values = dict(note.values) if isinstance(note, Phrase) else {}
        for name, wanted in (("jobs", {*jobs}), ("months", {month} - {""})):
            told = str(values.get(name, "")).split(", ")
            if name in values and wanted:
                values[name] = ", ".join(each for each in told if each in wanted)
        if all(values.get(name, "some") for name in ("jobs", "months")):
            found.append(phrase(note.message, **values) if isinstance(note, Phrase) else note)
    return found


def rows_words(rows: Iterable[Place]) -> str:
    """Lines of tables, those that follow each other as one.

    >>> rows_words([Place("actuals/hours.csv", n) for n in (4, 5, 6, 9)])
    'actuals/hours.csv:4–6, 9'
    """
    told = []
    by_file = groupby(sorted(rows, key=lambda row: (row.file, row.line)), lambda row: row.file)
    for file, places in by_file:
        lines = sorted({place.line for place in places})
        spans: list[list[int]] = []
        for line in lines:
            if spans and line == spans[-1][-1] + 1:
                spans[-1].append(line)
            else:
                spans.append([line])
        words = [f"{s[0]}–{s[-1]}" if len(s) > 1 else f"{s[0]}" for s in spans]
        told.append(f"{file}:{', '.join(words)}")
    return "; ".join(told)
