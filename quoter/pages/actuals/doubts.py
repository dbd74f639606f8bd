"""What to know before the numbers: what is open, what was not booked, how it was compared."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from quoter.actuals.account import Account
from quoter.actuals.compared import Actuals, Job, Unbooked
from quoter.figures import Figure, constant, total
from quoter.pages.actuals.names import Names
from quoter.phrases import phrase
from quoter.problems import Place


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that should have been booked: what, of which job, how much, and its cost."""

    name: str
    job: str
    href: str
    quantity: Figure
    standard: Figure


@dataclass(frozen=True, slots=True)
class Doubts:
    """Jobs that are at work still, what was not booked and what that comes to, and the notes."""

    open: Sequence[tuple[str, str]]
    missing: Sequence[Missing]
    left_out: Figure
    notes: Sequence[str]


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
    found = [
        Missing(
            names.of(one.scope),
            one.scope.job or phrase("of no one job"),
            names.job_page(one.scope.job),
            one.quantity,
            one.standard,
        )
        for one in missing
    ]
    found.sort(key=lambda one: -abs(one.standard.value))
    return Doubts(
        [(job.number, names.job_page(job.number)) for job in jobs if job.open],
        found,
        total([one.standard for one in found], zero),
        notes_about(actuals, [job.number for job in jobs], month),
    )


def notes_about(actuals: Actuals, jobs: Sequence[str], month: str) -> list[str]:
    """The notes that tell of one of the jobs, and those that tell of none and of no other month."""
    months = [one for one in actuals.months if month and one != month]
    found = []
    for note in actuals.notes:
        told = {number for number in actuals.jobs if _names(note, number)}
        if told & {*jobs} or (not told and not _any(note, months)):
            found.append(note)
    return found


def _names(note: str, word: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", note) is not None


def _any(note: str, words: Iterable[str]) -> bool:
    return any(_names(note, word) for word in words)


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
