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

from quoter.actuals.drawn import LEAST, Better, relative_prior
from quoter.actuals.estimates import DOUBLING, ENOUGH_LOTS, times_of
from quoter.actuals.evidence import Sample, Work, rounding_error
from quoter.actuals.fits import Fit, huber, learned
from quoter.actuals.samples import (
    FEWEST,
    LEVEL,
    STRAY,
    Interval,
    deviation,
    median_interval,
    modified_scores,
    widened,
)
from quoter.analysis.ranges import Ranges
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


def better_times(works: Iterable[Work], ranges: Ranges) -> Iterator[Better]:
    """Times that the samples contradict, of operations with samples enough."""
    for shared in _sharing(works):
        rows = [*_rows(shared)]
        if len(rows) < FEWEST:
            continue
        found = [*_learning(shared, rows)] if shared.learning is not None else []
        yield from found or _fitted(shared, rows, ranges) or _scaled(shared, rows)


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
        alike = phrase("these don't tell its times apart, so all are moved alike")
        reason = together("; ", [reason, alike])
    spread = _spread(ratios, samples)
    return [
        Better(
            figure=figure,
            told=scaled(told, figure),
            samples=len(rows),
            spread=spread,
            reason=together("; ", [reason, *_stray_words(rows)]),
        )
        for figure in shared.times.values()
    ]


def _fitted(shared: Shared, rows: Sequence[Row], ranges: Ranges) -> list[Better]:
    """Times regressed on what they apply to, where they are seen to be off by different parts.

    What the jobs don't contradict stays as it is, and the others are fitted again without it.
    """
    moving = [key for key in shared.times if any(row.shares[key] for row in rows)]
    if not _differ(rows, moving):
        return []
    while True:
        stays = [key for key in shared.times if key not in moving]
        left = [row.ratio - sum(row.shares[key] for key in stays) for row in rows]
        table = [[row.shares[key] for key in moving] for row in rows]
        fit = huber(table, left)
        told = [fit.interval(n) for n in range(len(moving))]
        if any(each.low <= 0 for each in told):
            return []
        held = [n for n, each in enumerate(told) if each.holds(1.0)]
        if not held:
            break
        del moving[min(held, key=lambda n: abs(fit.values[n] - 1) / (fit.errors[n] or LEAST))]
        if not moving:
            return []
    figures = [shared.times[key] for key in moving]
    settled = _settled(table, left, fit, [relative_prior(figure, ranges) for figure in figures])
    reason = phrase(
        "fitted over {count} samples in which what the times apply to varies; what strays counts"
        " less, and what they don't contradict stays; moved: {names}",
        count=len(rows),
        names=", ".join(figure.label for figure in figures),
    )
    return [
        Better(
            figure=figure,
            told=scaled(each, figure),
            samples=len(rows),
            spread=fit.scale,
            reason=together("; ", [reason, *_stray_words(rows)]),
            settled=(part * figure.value, weight),
        )
        for figure, each, (part, weight) in zip(figures, told, settled, strict=True)
    ]


def _differ(rows: Sequence[Row], keys: Sequence[str]) -> bool:
    """Whether times are seen to be off by different parts: enough jobs, what the times apply to
    varies apart, hours are booked finely enough, and one time is off by another part than the rest.

    The shares of a job add up to 1, so that a common part is the first column, and the others say
    how far each time is from that of the first; each at a level that allows for looking at several.
    """
    if len(keys) < 2 or len(rows) < max(FITTED, EACH * len(keys)) or not _vary_apart(rows, keys):
        return False
    ratios = [row.ratio for row in rows]
    if median(row.sample.rounding for row in rows) > deviation(ratios) / 2:
        return False
    fit = huber([[1.0, *(row.shares[key] for key in keys[1:])] for row in rows], ratios)
    level = 1 - (1 - LEVEL) / (len(keys) - 1)
    return not all(fit.interval(n, level).holds(0.0) for n in range(1, len(keys)))


def _settled(
    table: Sequence[Sequence[float]], told: Sequence[float], fit: Fit, priors: Sequence[float]
) -> list[tuple[float, float]]:
    """Each part drawn toward 1 by its prior, all at once, and how much data counted for it.

    The prior of each is one more row, as certain as it is: its part is 1.

    One that is further off than its prior and its error explain has as wide a prior as it shows.

    Source: `data_weight`; a normal prior as data, Gelman et al., Bayesian Data Analysis, 3rd
        edition 2013, 14.8.
    """
    import numpy as np

    x, y, weights = np.array(table), np.array(told), np.array(fit.weights)
    noise = max(fit.scale, LEAST) ** 2
    seen = (np.array(fit.values) - 1) ** 2 - np.array(fit.errors) ** 2
    prior = np.maximum(np.array(priors) ** 2, seen)
    sure = np.diag(1 / prior)
    inverse = np.linalg.inv(x.T @ (x * weights[:, None]) / noise + sure)
    parts = inverse @ (x.T @ (weights * y) / noise + sure @ np.ones(len(priors)))
    counted = 1 - np.diag(inverse) / prior
    return [(float(part), float(much)) for part, much in zip(parts, counted, strict=True)]


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
        "the slope of {count} samples, fitted to the learning model of the catalogue ({model})",
        count=len(rows),
        model=curve.model,
    )
    yield Better(slope, found.slope, len(rows), 0.0, reason)
    planned = _planned(curve)
    told = widened(
        found.reached.mapped(lambda part: part * planned),
        rounding_error([row.sample for row in rows]),
    )
    if told.holds(1.0):
        return
    for figure in shared.times.values():
        words = phrase(
            "at unit {unit}, by the slope that is fitted with it to {count} samples",
            unit=f"{reference:g}",
            count=len(rows),
        )
        yield Better(figure, scaled(told, figure), len(rows), found.fit.scale, words)


def _planned(curve: Learning) -> float:
    """The average over the planned units, by the time at the reference unit, as it is planned."""
    exponent = learning_exponent(curve.slope.value)
    first = first_unit_time(1.0, curve.reference.value, exponent)
    average = unit_lot_average if curve.model == "unit" else cumulative_lot_average
    return average(first, curve.first.value, curve.last.value, exponent)


def scaled(told: Interval, figure: Figure) -> Interval:
    """An interval of parts of a value as one of amounts."""
    return told.mapped(lambda part: part * figure.value)


def _spread(ratios: Sequence[float], samples: Sequence[Sample]) -> float:
    """What jobs differ by, as a part."""
    return deviation([math.log(r) for r in ratios], median(s.rounding for s in samples))


def _over_words(told: Interval, count: int) -> str:
    low, high = f"{told.low:.2f}", f"{told.high:.2f}"
    return phrase(
        "{count} samples: {ratio} times the standard, {level} sure of {low} to {high}",
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
