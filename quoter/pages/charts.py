"""Where the marks of a chart stand: numbers become places in a drawing, which templates draw."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from quoter.figures.exact import half_up
from quoter.pages.figured import Number, decimal

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
class Frame:
    """A chart's size and the inner edges of its frame, in drawing units, and its steps up."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    most_ticks: int


CARD = Frame(width=340, height=156, left=58, right=332, top=24, bottom=130, most_ticks=4)
INLINE = Frame(width=220, height=108, left=54, right=212, top=22, bottom=84, most_ticks=3)
CURVE = Frame(width=360, height=210, left=52, right=348, top=16, bottom=172, most_ticks=5)


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
    """A line chart: its frame, the path through its points, ticks, and a mark."""

    frame: Frame
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
    frame = CURVE
    mark = None if limit is None else decimal(limit)
    low, high = math.log(across[0]), math.log(across[-1])
    up = ticks(max(values), frame.most_ticks)

    def x(volume: float) -> Decimal:
        share = (math.log(volume) - low) / (high - low)
        return half_up(Decimal(repr(frame.left + share * (frame.right - frame.left))), 1)

    def y(value: Decimal) -> Decimal:
        return half_up(frame.bottom - value / up[-1] * (frame.bottom - frame.top), 1)

    points = []
    before = 1
    for volume, value, count in zip(across, values, sets, strict=True):
        points.append(Point(x(volume), y(Decimal(repr(value))), count if count != before else None))
        before = count
    path = "M" + "L".join(f"{point.x} {point.y}" for point in points)
    marked = mark is not None and across[0] <= mark <= across[-1]
    return Lines(
        frame=frame,
        path=path,
        points=tuple(points),
        across=tuple(Tick(Decimal(v), x(v)) for v in shown if across[0] <= v <= across[-1]),
        up=tuple(Tick(value, y(value)) for value in up),
        mark=Tick(mark, x(float(mark))) if mark is not None and marked else None,
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


# An axis spans at least this much of the values' size, so that a small move looks small.
LEAST_SPAN = Decimal("0.1")
TAIL = 8  # the last value's step is at least the whole span through this
LONE = 30  # days an axis spans that has but one


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a value begins to hold; `low` where it is below the limit."""

    x: Decimal
    y: Decimal
    low: bool


@dataclass(frozen=True, slots=True)
class DayTick:
    """A day on the axis and its place."""

    day: date
    at: Decimal


@dataclass(frozen=True, slots=True)
class StepLine:
    """A step line: its frame, path, marks, ticks up with `digits` decimals, days, and a limit."""

    frame: Frame
    path: str
    marks: tuple[Mark, ...]
    up: tuple[Tick, ...]
    digits: int
    across: tuple[DayTick, ...]
    limit: Tick | None


@dataclass(frozen=True, slots=True)
class Track:
    """What a step line shows: values by day, None where not known, until the day it ends at.

    `below` says by day whether the value is below the limit; `least_span` is in the values' unit.
    """

    days: Sequence[date]
    values: Sequence[Decimal | None]
    until: date
    limit: Decimal | None = None
    below: Sequence[bool | None] = ()
    least_span: Decimal | None = None

    @property
    def known(self) -> list[Decimal]:
        """The values there are."""
        return [value for value in self.values if value is not None]


def steps(track: Track, frame: Frame) -> StepLine | None:
    """The step line of a track; None where it has no value at all."""
    if not track.known:
        return None
    up = _axis(track, frame.most_ticks)
    low, high = up[0], up[-1]
    begin = track.days[0]
    span = max((end_of(track) - begin).days, 1)

    def x(day: date) -> Decimal:
        share = Decimal((day - begin).days) / span
        return half_up(frame.left + share * (frame.right - frame.left), 1)

    def y(value: Decimal) -> Decimal:
        return half_up(frame.bottom - (value - low) / (high - low) * (frame.bottom - frame.top), 1)

    ends = [*(x(day) for day in track.days[1:]), Decimal(frame.right)]
    heights = [None if value is None else y(value) for value in track.values]
    below = track.below or [None] * len(ends)
    before = [None, *heights[:-1]]
    marks = [
        Mark(x(day), height, bool(low))
        for day, height, last, low in zip(track.days, heights, before, below, strict=True)
        if height is not None and height != last
    ]
    return StepLine(
        frame=frame,
        path="".join(_path([x(day) for day in track.days], ends, heights)),
        marks=tuple(marks),
        up=tuple(Tick(value, y(value)) for value in up),
        digits=decimals_of(up[1] - up[0]),
        across=tuple(DayTick(day, x(day)) for day in track.days),
        limit=None if track.limit is None else Tick(track.limit, y(track.limit)),
    )


def end_of(track: Track) -> date:
    """Where the axis ends: late enough to see the last value hold."""
    first, last = track.days[0], track.days[-1]
    tail = -(-(last - first).days // TAIL) or LONE
    return max(track.until, last + timedelta(days=tail))


def _path(
    begins: Sequence[Decimal], ends: Sequence[Decimal], heights: Sequence[Decimal | None]
) -> Iterator[str]:
    """Across while a value holds, straight up or down where the next begins; gaps stay open."""
    drawing = False
    for begin, end, height in zip(begins, ends, heights, strict=True):
        if height is not None:
            yield f"V{height}H{end}" if drawing else f"M{begin} {height}H{end}"
        drawing = height is not None


def _axis(track: Track, most: int) -> tuple[Decimal, ...]:
    """Round numbers around the values and the limit: not from zero, but over no tiny span."""
    shown = [*track.known, *([] if track.limit is None else [track.limit])]
    low, high = min(shown), max(shown)
    size = max(abs(low), abs(high))
    least = size * LEAST_SPAN if track.least_span is None else track.least_span
    short = (least or Decimal(1)) - (high - low)
    if short > 0:
        low, high = low - short / 2, high + short / 2
    return round_ticks(low, high, most)


def round_ticks(low: Decimal, high: Decimal, most: int = 4) -> tuple[Decimal, ...]:
    """Round numbers at even steps that enclose two values, at most `most` steps.

    >>> [str(tick) for tick in round_ticks(Decimal("3.05"), Decimal("3.48"))]
    ['3.0', '3.2', '3.4', '3.6']
    """
    power = Decimal(1).scaleb(((high - low) / most).adjusted())
    for size in (*STEPS, *(step * 10 for step in STEPS)):
        step = size * power
        first = (low / step).to_integral_value("ROUND_FLOOR")
        last = (high / step).to_integral_value("ROUND_CEILING")
        if last - first <= most:
            break
    return tuple(Decimal(format(step * n, "f")) for n in range(int(first), int(last) + 1))


def decimals_of(step: Decimal) -> int:
    """How many decimals tell numbers apart that are a step away from each other.

    >>> decimals_of(Decimal("0.25")), decimals_of(Decimal("20.0"))
    (2, 0)
    """
    return max(0, -int(step.normalize().as_tuple().exponent))
