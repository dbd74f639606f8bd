"""Where the marks of a chart stand: numbers become places in a drawing, which templates draw."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.pages.figured import Number, decimal
from quoter.pages.money import half_up

BAR_WIDTH = Decimal(100)
STEPS = (Decimal(1), Decimal(2), Decimal("2.5"), Decimal(5), Decimal(10))


@dataclass(frozen=True, slots=True)
class Span:
    """A bar in hundredths of the whole width: where it starts, how wide it is, and its colour."""

    start: Decimal
    width: Decimal
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Bars:
    """A bar for each value from one shared zero; `zero` and `mark` are places on the same scale."""

    spans: tuple[Span, ...]
    zero: Decimal
    mark: Decimal | None


@dataclass(frozen=True, slots=True)
class Tick:
    """A value on an axis and its place."""

    value: Decimal
    at: Decimal


@dataclass(frozen=True, slots=True)
class Point:
    """A value of the line: its place, and how many mould sets it takes where that changes."""

    x: Decimal
    y: Decimal
    sets: int | None


@dataclass(frozen=True, slots=True)
class Lines:
    """A line chart: a frame in drawing units, ticks, the path through its points, and a mark."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    path: str
    points: tuple[Point, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    mark: Tick | None


def bars(numbers: Sequence[Number], limit: Number | None = None) -> Bars:
    """Bars on one scale that holds every value, zero and, if given, a mark such as a limit."""
    values = [decimal(number) for number in numbers]
    mark = None if limit is None else decimal(limit)
    everything = [*values, Decimal(0), *([] if mark is None else [mark])]
    low, high = min(everything), max(everything)
    width = high - low if high > low else Decimal(1)

    def place(value: Decimal) -> Decimal:
        return (value - low) / width * BAR_WIDTH

    spans = []
    for value in values:
        start, end = sorted((place(value), place(Decimal(0))))
        spans.append(Span(half_up(start, 2), half_up(end - start, 2)))
    marked = None if mark is None else half_up(place(mark), 2)
    return Bars(tuple(spans), half_up(place(Decimal(0)), 2), marked)


def lines(
    across: Sequence[int],
    values: Sequence[float],
    sets: Sequence[int],
    limit: Number | None = None,
    shown: Sequence[int] = (10, 30, 100, 300, 600),
) -> Lines:
    """A line over a logarithmic axis of volumes, with a linear axis up from zero.

    Args:
        across: volumes, rising, each above 0
        values: what each costs
        sets: mould sets at each volume
        limit: a volume to mark, such as the planned one; left out beyond the axis
        shown: which volumes get a number on the axis
    """
    width, height, left, right, top, bottom = 360, 210, 52, 348, 16, 172
    mark = None if limit is None else decimal(limit)
    low, high = math.log(across[0]), math.log(across[-1])
    up = ticks(max(values))

    def x(volume: float) -> Decimal:
        share = (math.log(volume) - low) / (high - low)
        return half_up(Decimal(repr(left + share * (right - left))), 1)

    def y(value: Decimal) -> Decimal:
        return half_up(bottom - value / up[-1] * (bottom - top), 1)

    points = []
    before = 1
    for volume, value, count in zip(across, values, sets, strict=True):
        points.append(Point(x(volume), y(Decimal(repr(value))), count if count != before else None))
        before = count
    path = "M" + "L".join(f"{point.x} {point.y}" for point in points)
    marked = mark is not None and across[0] <= mark <= across[-1]
    return Lines(
        width,
        height,
        left,
        right,
        top,
        bottom,
        path,
        tuple(points),
        tuple(Tick(Decimal(v), x(v)) for v in shown if across[0] <= v <= across[-1]),
        tuple(Tick(value, y(value)) for value in up),
        Tick(mark, x(float(mark))) if mark is not None and marked else None,
    )


def ticks(highest: float, most: int = 5) -> tuple[Decimal, ...]:
    """Round numbers from zero to the first that is not below `highest`, at most `most` steps.

    >>> [str(tick) for tick in ticks(830.0)]
    ['0', '200', '400', '600', '800', '1000']
    """
    if highest <= 0:
        return (Decimal(0), Decimal(1))
    least = Decimal(repr(highest)) / most
    power = Decimal(1).scaleb(least.adjusted())
    step = next(size * power for size in STEPS if size * power >= least)
    count = int((Decimal(repr(highest)) / step).to_integral_value("ROUND_CEILING"))
    return tuple(Decimal(format(step * number, "f")) for number in range(count + 1))
