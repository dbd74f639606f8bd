"""Pieces that were pulled: how many entered, how many should have, and what more of them takes.

Where pulls of a part are booked, its standard is flexed to the pieces that entered, so that what
scrapped ones took is told as scrap and not as usage or as slow work. Everybody who compares flexes
here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from quoter.catalogue.booked import PullRow
from quoter.catalogue.booked_words import month_of
from quoter.engineering.yields import flexed_quantity, per_good_unit, per_unit_entered
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.problems import Place

ALL = constant(1.0)  # what passes where nothing is scrapped by the standard
NONE = constant(0.0)


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pieces of a part, for a job or of a month.

    `good` is what the standard is of: what the job takes, or of a month the good ones pulled.
    `planned` should have entered for them, `entered` did; `passed` is what the standard lets
    through of 1. `rows` are the lines of pulls.csv.
    """

    part: str
    good: Figure
    scrapped: Figure
    passed: Figure
    planned: Figure
    entered: Figure
    rows: tuple[Place, ...]


def by_scope(
    rows: Iterable[PullRow], part_of: Callable[[PullRow], str]
) -> dict[tuple[str, str], list[PullRow]]:
    """The lines of pulls by what they are of: (job, part), or (month, part) where no job is named.

    Args:
        rows: lines of pulls.csv, none of them after the day that is asked about
        part_of: the key of the assembly that a line names
    """
    found: dict[tuple[str, str], list[PullRow]] = {}
    for row in rows:
        found.setdefault((str(row.job or month_of(row.date)), part_of(row)), []).append(row)
    return found


def pieces_of(
    rows: Sequence[PullRow],
    part: str,
    name: str,
    passed: Figure | None,
    needed: Figure | None = None,
    within: str = "",
) -> Pieces:
    """What some lines of pulls say of one part.

    A job's standard is of the pieces that it takes, whatever good ones were pulled for it: one more
    or less went to stock or came from there, and is no scrap.

    Args:
        rows: of one part, for one job or in one month; one at least
        part: its key
        name: what people call it
        passed: what comes through of 1 by the standard, None for all
        needed: good pieces that the job takes, None for those of a month
        within: the job or the month, for figures' keys
    """
    key = f"actual.pulls.{within}.{part}"

    def called(number: Figure, what: str, words: str) -> Figure:
        return number.named(f"{key}.{what}", phrase("{name}: {what}", name=name, what=words))

    good = needed
    if good is None:
        good = called(total([row.good for row in rows], NONE), "good", phrase("good pieces pulled"))
    scrapped = total([row.scrapped for row in rows], NONE)
    scrapped = called(scrapped, "scrapped", phrase("pieces scrapped"))
    through = ALL if passed is None else passed
    planned = good if passed is None else per_good_unit(good, passed)
    return Pieces(
        part=part,
        good=good,
        scrapped=scrapped,
        passed=through,
        planned=called(planned, "planned", phrase("pieces planned to enter")),
        entered=called(good + scrapped, "entered", phrase("pieces that entered")),
        rows=tuple(row.place for row in rows),
    )


def stock_moves(pieces: Pieces, rows: Sequence[PullRow]) -> float:
    """How many more good pieces were pulled for a job than it takes; fewer are below 0."""
    return sum(row.good.value for row in rows) - pieces.good.value


def flexed(standard: Figure, per_good: Mapping[str, Figure], pulled: Iterable[Pieces]) -> Figure:
    """A standard quantity, of one part or of a whole job, flexed to the pieces that entered.

    Args:
        standard: what the good pieces should take, with what is planned to be scrapped
        per_good: what one good piece of a part takes of it, by the part's key; a part that takes
            none may be missing
        pulled: the pieces of each part that pulls are known of
    """
    for pieces in pulled:
        if pieces.part in per_good:
            each = per_unit_entered(per_good[pieces.part], pieces.passed)
            standard = flexed_quantity(standard, pieces.entered, pieces.planned, each)
    return standard
