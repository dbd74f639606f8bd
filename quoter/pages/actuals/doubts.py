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

OF = ("resource", "station", "what")  # what a note is of, by the name of its value
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
    tells of others; what differs in nothing but what it is of is one."""
    found: dict[tuple[object, ...], list[str]] = {}
    for note in actuals.notes:
        if not isinstance(note, Phrase):
            found.setdefault((note,), []).append("")
            continue
        values = dict(note.values)
        for name, wanted in (("jobs", {*jobs}), ("months", {month} - {""})):
            told = str(values.get(name, "")).split(", ")
            if name in values and wanted:
                values[name] = ", ".join(each for each in told if each in wanted)
        if not all(values.get(name, "some") for name in ("jobs", "months")):
            continue
        of = next((name for name in OF if name in values), "")
        alike = (note.message, of, tuple((k, v) for k, v in values.items() if k != of))
        found.setdefault(alike, []).append(str(values.get(of, "")))
    return [_together(of, alike) for alike, of in found.items()]


def _together(of: Sequence[str], alike: tuple[object, ...]) -> str:
    """A note of several things at once."""
    if len(alike) == 1:
        return str(alike[0])
    message, name, values = alike
    told: dict[str, object] = dict(values)  # type: ignore[call-overload]
    if name:
        told[str(name)] = ", ".join(dict.fromkeys(of))
    return phrase(str(message), **told)


def rows_words(rows: Iterable[Place], most: int = 0) -> str:
    """Lines of tables, those that follow each other as one.

    Args:
        rows: their places
        most: how many spans of lines are told, all unless given

    >>> rows_words([Place("actuals/hours.csv", n) for n in (4, 5, 6, 9)])
    'actuals/hours.csv:4–6, 9'
    >>> rows_words([Place("actuals/hours.csv", n) for n in (4, 6, 8, 9)], 1)
    'actuals/hours.csv:4 and 3 more'
    """
    places = sorted({(row.file, row.line) for row in rows})
    spans: list[list[tuple[str, int]]] = []
    for file, line in places:
        if spans and (file, line - 1) == spans[-1][-1]:
            spans[-1].append((file, line))
        else:
            spans.append([(file, line)])
    shown = spans[:most] if most else spans
    told = [
        f"{file}:{', '.join(map(_span, each))}" for file, each in groupby(shown, lambda s: s[0][0])
    ]
    left = len(places) - sum(map(len, shown))
    words = "; ".join(told)
    return phrase("{rows} and {count} more", rows=words, count=left) if left else words


def _span(rows: Sequence[tuple[str, int]]) -> str:
    first, last = rows[0][1], rows[-1][1]
    return f"{first}–{last}" if last > first else f"{first}"
