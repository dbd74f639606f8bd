"""Better times of operations: set-up, fixed time and rates by driver, and the learning slope.

What a job should have taken is linear in the times of its operation: the slopes of its graph, which
know of pieces, batches, crew, allowance, learning, efficiency and yields, are what time is
regressed on. Everything is told in parts of the present standard, whose errors are alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from quoter.actuals.drawn import Better
from quoter.actuals.estimates import DOUBLING, ENOUGH_LOTS, times_of
from quoter.actuals.evidence import Sample, Work, rounding_error
from quoter.actuals.fits import Fit, huber, learned
from quoter.actuals.samples import (
    FEWEST,
    STRAY,
    Interval,
    deviation,
    median_interval,
    modified_scores,
    widened,
)
from quoter.catalogue.operations import Learning
from quoter.engineering.learning import (
    cumulative_lot_average,
    first_unit_time,
    learning_exponent,
    unit_lot_average,
)
from quoter.figures import Figure
from quoter.figures.graph import gradient, input_behind
from quoter.phrases import phrase, together

FITTED, EACH = 10, 4  # samples that a regression takes, at least, and for each of its times
APART = 30.0  # the condition number of drivers that no longer vary apart from each other


@dataclass(frozen=True, slots=True)
class Row:
    """A sample in parts of its present standard: what it took, and what each time is of that."""

    sample: Sample
    ratio: float
    shares: dict[str, float]


@dataclass(frozen=True, slots=True)
class Shared:
    """Operations that have times in common, with those by key and all their samples."""

    works: tuple[Work, ...]
    times: dict[str, Figure]

    @property
    def learning(self) -> Learning | None:
        """The learning curve, of an operation that shares its times with no other."""
        return self.works[0].operation.learning if len(self.works) == 1 else None


def better_times(works: Iterable[Work]) -> Iterator[Better]:
    """Times that the samples contradict, of operations with samples enough."""
    for shared in _sharing(works):
        rows = [*_rows(shared)]
        if len(rows) < FEWEST:
            continue
        found = [*_learning(shared, rows)] if shared.learning is not None else []
        yield from found or _fitted(shared, rows) or _scaled(shared, rows)


def _sharing(works: Iterable[Work]) -> list[Shared]:
    """Operations put together that have a time in common."""
    groups: list[Shared] = []
    for work in works:
        inputs = [input_behind(figure) for figure in times_of(work.operation).values()]
        mine = Shared((work,), {figure.key: figure for figure in inputs})
        apart = []
        for other in groups:
            if mine.times.keys() & other.times.keys():
                mine = Shared((*other.works, *mine.works), {**other.times, **mine.times})
            else:
                apart.append(other)
        groups = [*apart, mine]
    return groups


def _rows(shared: Shared) -> Iterator[Row]:
    """Each sample by what its standard rests on; what no time moves is taken off either side."""
    for work in shared.works:
        for sample in work.samples:
            shares, then = dict.fromkeys(shared.times, 0.0), 0.0
            for figure, factor in sample.terms:
                for found, slope in gradient(figure).items():
                    if found.key in shared.times:
                        shares[found.key] += factor * slope * shared.times[found.key].value
                        then += factor * slope * found.value
            whole = sum(shares.values())
            rest = sample.standard * sample.pieces - then
            took = sample.actual * sample.pieces - rest
            if whole > 0 and took > 0:
                parts = {key: part / whole for key, part in shares.items()}
                yield Row(sample, took / whole, parts)


def _scaled(shared: Shared, rows: Sequence[Row]) -> list[Better]:
    """All times by one factor: the median, where the samples contradict the standard."""
    samples, ratios = [row.sample for row in rows], [row.ratio for row in rows]
    told = widened(median_interval(ratios), rounding_error(samples))
    if told.holds(1.0):
        return []
    reason = _over_words(told, len(rows))
    if len(shared.times) > 1:
        alike = phrase("its times don't vary apart from each other, so all are moved alike")
        reason = together("; ", [reason, alike])
    spread = _spread(ratios, samples)
    return [
        Better(
            figure=figure,
            told=times(told, figure.value),
            samples=len(rows),
            spread=spread,
            reason=together("; ", [reason, *_stray_words(rows)]),
        )
        for figure in shared.times.values()
    ]


def _fitted(shared: Shared, rows: Sequence[Row]) -> list[Better]:
    """Times regressed on what they apply to, where that varies; what data don't contradict stays."""
    moving = [key for key in shared.times if any(row.shares[key] for row in rows)]
    if len(moving) < 2 or len(rows) < max(FITTED, EACH * len(moving)):
        return []
    if not _vary_apart(rows, moving):
        return []
    rounding = rounding_error([row.sample for row in rows])
    fit: Fit | None = None
    while moving:
        stays = [key for key in shared.times if key not in moving]
        left = [row.ratio - sum(row.shares[key] for key in stays) for row in rows]
        fit = huber([[row.shares[key] for key in moving] for row in rows], left)
        held = {
            key: abs(fit.values[n] - 1) / (fit.errors[n] or math.inf)
            for n, key in enumerate(moving)
            if widened(fit.interval(n), rounding).holds(1.0) or fit.values[n] <= 0
        }
        if not held:
            break
        moving.remove(min(held, key=lambda key: held[key]))
    if fit is None or not moving:
        return []
    told = {key: widened(fit.interval(n), rounding) for n, key in enumerate(moving)}
    if any(interval.low <= 0 for interval in told.values()):
        return []
    names = ", ".join(shared.times[key].label for key in moving)
    reason = phrase(
        "fitted over {count} jobs in which what the times apply to varies; what strays counts less,"
        " and what the jobs don't contradict stays: moved are {names}",
        count=len(rows),
        names=names,
    )
    return [
        Better(
            figure=shared.times[key],
            told=times(interval, shared.times[key].value),
            samples=len(rows),
            spread=fit.scale,
            reason=together("; ", [reason, *_stray_words(rows)]),
        )
        for key, interval in told.items()
    ]


def _vary_apart(rows: Sequence[Row], keys: Sequence[str]) -> bool:
    """Whether the shares of times vary so that each can be told.

    Source: condition number of columns scaled to one length, above which a regression tells
    little: Belsley, Kuh, Welsch, Regression Diagnostics, Wiley 1980, 3.2.
    """
    import numpy as np

    table = np.array([[row.shares[key] for key in keys] for row in rows])
    lengths = np.linalg.norm(table, axis=0)
    return bool(lengths.all() and np.linalg.cond(table / lengths) <= APART)


def _learning(shared: Shared, rows: Sequence[Row]) -> Iterator[Better]:
    """The slope of an operation that learns, and its times at the reference unit with it."""
    curve, lots = shared.learning, [row.sample.lot for row in rows]
    if curve is None or len(rows) < ENOUGH_LOTS or lots[-1][1] < DOUBLING * lots[0][1]:
        return
    reference, ratios = curve.reference.value, [row.ratio for row in rows]
    found = learned(ratios, lots, curve.model, reference)
    slope = input_behind(curve.slope)
    if found.slope.holds(slope.value):
        return
    reason = phrase(
        "the slope of {count} jobs, fitted to the learning model of the catalogue ({model})",
        count=len(rows),
        model=curve.model,
    )
    yield Better(slope, found.slope, len(rows), 0.0, reason)
    planned = _planned(curve)
    told = widened(times(found.reached, planned), rounding_error([row.sample for row in rows]))
    if told.holds(1.0):
        return
    for figure in shared.times.values():
        words = phrase(
            "at unit {unit}, by the slope that is fitted with it to {count} jobs",
            unit=f"{reference:g}",
            count=len(rows),
        )
        yield Better(figure, times(told, figure.value), len(rows), found.fit.scale, words)


def _planned(curve: Learning) -> float:
    """The average over the planned units, by the time at the reference unit, as it is planned."""
    exponent = learning_exponent(curve.slope.value)
    first = first_unit_time(1.0, curve.reference.value, exponent)
    average = unit_lot_average if curve.model == "unit" else cumulative_lot_average
    return average(first, curve.first.value, curve.last.value, exponent)


def times(told: Interval, factor: float) -> Interval:
    """An interval of parts as one of amounts."""
    return Interval(told.likely * factor, told.low * factor, told.high * factor, told.level)


def _spread(ratios: Sequence[float], samples: Sequence[Sample]) -> float:
    """What jobs differ by, as a part."""
    return deviation([math.log(r) for r in ratios], median(s.rounding for s in samples))


def _over_words(told: Interval, count: int) -> str:
    low, high = f"{told.low:.2f}", f"{told.high:.2f}"
    return phrase(
        "{count} jobs took {ratio} times the standard, {level} sure of {low} to {high}",
        count=count,
        ratio=f"{told.likely:.2f}",
        level=f"{told.level * 100:.3g} %",
        low=low,
        high=high,
    )


def _stray_words(rows: Sequence[Row]) -> list[str]:
    """Which jobs are far from the others."""
    logs = [math.log(row.ratio) for row in rows]
    scores = modified_scores(logs, median(row.sample.rounding for row in rows))
    jobs = [row.sample.job for row, far in zip(rows, scores, strict=True) if abs(far) > STRAY]
    if not jobs:
        return []
    return [phrase("far from the others: {jobs}", jobs=", ".join(dict.fromkeys(jobs)))]
