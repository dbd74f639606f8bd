"""How each quote stands on a day: open, expired, superseded, won or lost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from itertools import groupby
from pathlib import Path
from typing import Literal

from quoter.quotes.fault import QuoteError
from quoter.quotes.outcomes import Outcome, last_of
from quoter.quotes.reading import read_archive
from quoter.quotes.record import Record

State = Literal["open", "expired", "superseded", "won", "lost"]
STATES: tuple[State, ...] = ("open", "expired", "superseded", "won", "lost")


@dataclass(frozen=True, slots=True)
class Kept:
    """A quote or revision, how it stands, and its own outcome if it has one."""

    record: Record
    state: State
    outcome: Outcome | None


@dataclass(frozen=True, slots=True)
class Listing:
    """The quotes of a folder as of a day, by number and revision.

    `notes` tell in sentences what else is in the folder, or is missing.
    """

    on: date
    quotes: tuple[Kept, ...]
    notes: tuple[str, ...]


def list_quotes(folder: Path, on: date | None = None) -> Listing:
    """Every quote issued until a day, with its state on that day.

    Args:
        folder: of quotes
        on: the day; the newest day of issue if not given
    Raises:
        QuoteError: something in it can't be read, or there is no quote and no day.
    """
    archive = read_archive(folder)
    if on is None and not archive.records:
        raise QuoteError(f"there is no quote in {folder} yet")
    day = on or max(record.issued for record in archive.records)
    outcomes = last_of(archive.outcomes, day)
    issued = (record for record in archive.records if record.issued <= day)
    quotes = [
        each
        for _, revisions in groupby(issued, key=lambda record: record.number)
        for each in _standing(list(revisions), outcomes, day)
    ]
    return Listing(day, tuple(quotes), archive.notes)


def _standing(revisions: list[Record], outcomes: dict[str, Outcome], on: date) -> list[Kept]:
    """A quote's revisions with their states.

    What was won stays won, also when a later revision is offered, until that one is won in its
    place. A revision of a lost quote is open again.
    """
    won = [n for n, each in enumerate(revisions) if _result(each, outcomes) == "won"]
    kept = []
    for place, record in enumerate(revisions):
        state: State
        if won and place == won[-1]:
            state = "won"
        elif place < len(revisions) - 1:
            state = "superseded"
        elif _result(record, outcomes) == "lost":
            state = "lost"
        else:
            state = "expired" if record.valid_until < on else "open"
        kept.append(Kept(record, state, outcomes.get(record.name)))
    return kept


def _result(record: Record, outcomes: dict[str, Outcome]) -> str:
    found = outcomes.get(record.name)
    return found.result if found else ""
