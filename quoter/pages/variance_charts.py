"""Where the marks stand of charts about actual and standard: a waterfall, columns, and dots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from quoter.figures.exact import half_up
from quoter.pages.charts import Frame, Tick, decimals_of, round_ticks
from quoter.pages.figured import Number, decimal

ROW = 26  # of a waterfall, in drawing units
FALL = Frame(width=700, height=0, left=215, right=570, top=30, bottom=0, most_ticks=4)
TREND = Frame(width=340, height=170, left=54, right=332, top=26, bottom=136, most_ticks=4)
DOTS = Frame(width=640, height=260, left=60, right=600, top=28, bottom=216, most_ticks=5)
LEAST_SPAN = Decimal("0.04")  # of the larger total, so that a small move looks small
WIDEST = Decimal(44)  # a column


@dataclass(frozen=True, slots=True)
class Bar:
    """A step of a waterfall: its row's place, where it starts, how wide it is, where it ends."""

    y: int
    start: Decimal
    width: Decimal
    end: Decimal
    over: bool


@dataclass(frozen=True, slots=True)
class Waterfall:
    """From one total to another: places of both, a bar for each step, and the axis below.

    The axis need not begin at zero, so totals are lines across and no bars.
    """

    frame: Frame
    begin: Decimal
    end: Decimal
    bars: tuple[Bar, ...]
    across: tuple[Tick, ...]
    last: int


def waterfall(begin: Number, steps: Sequence[Number]) -> Waterfall:
    """A waterfall from a total over steps to where they lead, one row each.

    Args:
        begin: the total at first
        steps: what each adds
    """
    reached = [decimal(begin)]
    for step in steps:
        reached.append(reached[-1] + decimal(step))
    low, high = min(reached), max(reached)
    least = max(abs(low), abs(high)) * LEAST_SPAN or Decimal(1)
    if high - low < least:
        low, high = low - (least - (high - low)) / 2, high + (least - (high - low)) / 2
    across = round_ticks(low, high, FALL.most_ticks)
    low, high = across[0], across[-1]
    bottom = FALL.top + ROW * (len(steps) + 2)
    frame = Frame(FALL.width, bottom + 30, FALL.left, FALL.right, FALL.top, bottom, FALL.most_ticks)

    def x(value: Decimal) -> Decimal:
        return half_up(frame.left + (value - low) / (high - low) * (frame.right - frame.left), 1)

    bars = []
    for number, (old, new) in enumerate(pairwise(reached), 1):
        left, right = sorted((x(old), x(new)))
        bars.append(Bar(frame.top + ROW * number, left, right - left, x(new), new > old))
    return Waterfall(
        frame=frame,
        begin=x(reached[0]),
        end=x(reached[-1]),
        bars=tuple(bars),
        across=tuple(Tick(value, x(value)) for value in across),
        last=frame.top + ROW * (len(steps) + 1),
    )


@dataclass(frozen=True, slots=True)
class Column:
    """A column from zero: its middle, left edge and width, top and height; None if not known."""

    middle: Decimal
    x: Decimal
    width: Decimal
    y: Decimal
    height: Decimal
    value: Decimal | None


@dataclass(frozen=True, slots=True)
class Columns:
    """Columns on one axis that holds zero; `digits` are those of the ticks."""

    frame: Frame
    columns: tuple[Column, ...]
    zero: Decimal
    up: tuple[Tick, ...]
    digits: int


def columns(
    values: Sequence[Number | None], among: Sequence[Number], frame: Frame = TREND
) -> Columns:
    """A column for each value, on an axis that holds zero and all of `among`, so that several
    charts can be compared."""
    known = [decimal(value) for value in among]
    low, high = min([*known, Decimal(0)]), max([*known, Decimal(0)])
    if high == low:
        high = Decimal("0.01")
    up = round_ticks(low, high, frame.most_ticks)
    low, high = up[0], up[-1]

    def y(value: Decimal) -> Decimal:
        return half_up(frame.bottom - (value - low) / (high - low) * (frame.bottom - frame.top), 1)

    each = Decimal(frame.right - frame.left) / max(len(values), 1)
    width = half_up(min(each * Decimal("0.6"), WIDEST), 1)
    found = []
    for number, value in enumerate(values):
        middle = half_up(frame.left + each * number + each / 2, 1)
        number_of = None if value is None else decimal(value)
        top, foot = sorted((y(number_of or Decimal(0)), y(Decimal(0))))
        found.append(Column(middle, middle - width / 2, width, top, foot - top, number_of))
    return Columns(
        frame,
        tuple(found),
        y(Decimal(0)),
        tuple(Tick(value, y(value)) for value in up),
        decimals_of(up[1] - up[0]),
    )


@dataclass(frozen=True, slots=True)
class Dot:
    """An actual and the standard it is held against: places, and whether it is far from others."""

    x: Decimal
    y: Decimal
    left: Decimal
    right: Decimal
    standard: Decimal
    outlier: bool
    name: str


@dataclass(frozen=True, slots=True)
class Dots:
    """Actual by job as dots, standard as a line, and a band around it as places from top to
    bottom; `digits` are those of the ticks."""

    frame: Frame
    dots: tuple[Dot, ...]
    band: tuple[tuple[Decimal, Decimal], ...]
    up: tuple[Tick, ...]
    digits: int


def dots(
    names: Sequence[str],
    actual: Sequence[Number],
    standard: Sequence[Number],
    band: Sequence[tuple[Number, Number]] = (),
    outliers: Sequence[bool] = (),
    least: float = 0.0,
) -> Dots:
    """Dots in the order given, each over the standard of its own.

    Args:
        names: of the jobs
        actual: what each took
        standard: what each should have taken
        band: between which values each was to lie, if that is known
        outliers: which are far from the others
        least: where the axis begins at the latest
    """
    frame = DOTS
    found, held = [decimal(one) for one in actual], [decimal(one) for one in standard]
    ends = [(decimal(low), decimal(high)) for low, high in band]
    up = round_ticks(
        decimal(least),
        max([*found, *held, *(high for _, high in ends)]) or Decimal(1),
        frame.most_ticks,
    )

    def y(value: Decimal) -> Decimal:
        share = (value - up[0]) / (up[-1] - up[0])
        return half_up(frame.bottom - share * (frame.bottom - frame.top), 1)

    each = Decimal(frame.right - frame.left) / len(found)
    far = outliers or [False] * len(found)
    marks = []
    for number, (name, one, other, out) in enumerate(zip(names, found, held, far, strict=True)):
        left = half_up(frame.left + each * number, 1)
        right = half_up(frame.left + each * (number + 1), 1)
        middle = half_up((left + right) / 2, 1)
        marks.append(Dot(middle, y(one), left, right, y(other), out, name))
    return Dots(
        frame,
        tuple(marks),
        tuple((y(high), y(low)) for low, high in ends),
        tuple(Tick(value, y(value)) for value in up),
        decimals_of(up[1] - up[0]),
    )
