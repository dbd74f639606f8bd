"""What the papers for a boat on the floor show beside shop papers: nothing of money here either."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quoter.pages.booking import Code
from quoter.pages.paper_views import Paper
from quoter.pages.picture_views import Amount


@dataclass(frozen=True, slots=True)
class Day:
    """A working day of the job, and its date where the job's start is known."""

    number: int
    date: date | None


@dataclass(frozen=True, slots=True)
class OptionRow:
    """An option of the boat, and how many of it; whether every boat of the model has it."""

    name: str
    count: Decimal
    standard: bool


@dataclass(frozen=True, slots=True)
class StoreRow:
    """What to fetch of a material on a day, and what for; no day for what is stated as a whole."""

    day: Day | None
    material: str
    amount: Amount
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Store:
    """All that is fetched from one store, by day; without a name for what has no store."""

    name: str
    rows: tuple[StoreRow, ...]


@dataclass(frozen=True, slots=True)
class Passing:
    """A part at a station: how many for the job, the batch it is usually made in, and when."""

    part: str
    pieces: Decimal
    batch: Decimal
    begins: Day | None
    ends: Day | None


@dataclass(frozen=True, slots=True)
class StationSheet:
    """All work of the job at one station; `paper` holds its parts with their steps there alone.

    The first of `codes` is that of all of it, for who books no finer; then one for each step.
    """

    id: str
    name: str
    passing: tuple[Passing, ...]
    paper: Paper
    codes: tuple[Code, ...]


@dataclass(frozen=True, slots=True)
class PositionRow:
    """Where an option sits; an opening that was not measured on the model has no distance."""

    option: str
    opening: bool
    side: str = ""
    end: str = ""
    distance: Amount | None = None
    level: str = ""
    height: Amount | None = None


@dataclass(frozen=True, slots=True)
class MassRow:
    """What an option adds to one boat, by where it weighs."""

    option: str
    port: Amount
    centre: Amount
    starboard: Amount
    all: Amount


@dataclass(frozen=True, slots=True)
class NotMadeRow:
    """What is left out, and the option that takes its place."""

    name: str
    count: Decimal
    instead: str


@dataclass(frozen=True, slots=True)
class Job:
    """What is asked for: `number` names it, `numbered` says after what, `release` who answers.

    `quote` is the quote it is of, `start` its first day; both may be missing.
    """

    number: str
    numbered: str
    boats: int
    quote: str = ""
    release: str = ""
    start: date | None = None


@dataclass(frozen=True, slots=True)
class JobPaper:
    """The whole pack of one job; `heavier` is the side that has more, and `difference` by how much.

    `days` is the last working day, None where the yard has said no shift calendar. `further` are
    codes of stations without a sheet, of which the boat states hours.
    """

    job: Job
    paper: Paper
    options: tuple[OptionRow, ...]
    not_made: tuple[NotMadeRow, ...]
    stores: tuple[Store, ...]
    stations: tuple[StationSheet, ...]
    positions: tuple[PositionRow, ...]
    masses: tuple[MassRow, ...]
    heavier: str
    difference: Amount
    handover: tuple[str, ...]
    code: Code
    further: tuple[Code, ...]
    days: Day | None
