"""How good our estimates are: actual against standard by operation, with what can be said of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from quoter.actuals.samples import Interval
from quoter.figures import Figure
from quoter.problems import Place

__all__ = ["Bias", "Estimate", "Estimates", "Interval", "Sample"]


@dataclass(frozen=True, slots=True)
class Sample:
    """One job's hours at one operation or station: actual beside standard, in hours a piece.

    `unit` is the running number of the pieces, for learning; `drivers` what the operation's rates
    apply to. `outlier` says why it is far from the others, "" where it isn't; it is shown, and
    weighs less.
    """

    job: str
    day: date
    actual: float
    standard: float
    pieces: float
    unit: float
    drivers: dict[str, float]
    rows: tuple[Place, ...]
    outlier: str = ""


@dataclass(frozen=True, slots=True)
class Estimate:
    """What samples of an operation (or of a station, where operations are not booked) say.

    `ratio` of actual to standard; `spread` its robust standard deviation; `trend` of the ratio a
    year; `learning` the fitted slope, as the fraction at each doubling; `held` how often the P80 of
    the catalogue's range held. None where data are too few to say, which `doubt` says in words.
    """

    key: str
    part: str
    operation: int
    station: str
    name: str
    samples: tuple[Sample, ...]
    standard: Figure | None
    ratio: Interval | None
    spread: float | None
    trend: Interval | None
    learning: Interval | None
    held: tuple[int, int] | None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Bias:
    """Ratio of actual to standard over all operations of a group: a station, a kind of driver, a
    basis of the time (timed, similar, drawing), or who prepared the quote."""

    of: str
    id: str
    name: str
    samples: int
    ratio: Interval | None


@dataclass(frozen=True, slots=True)
class Estimates:
    """All of it, operations in the order of the catalogue."""

    operations: tuple[Estimate, ...]
    stations: tuple[Estimate, ...]
    biases: tuple[Bias, ...]
