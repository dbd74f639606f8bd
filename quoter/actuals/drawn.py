"""A better value as the data have it, and drawn toward the present one where they are few."""

from __future__ import annotations

import math
from dataclasses import dataclass

from quoter.actuals.samples import Interval, data_weight, error_of
from quoter.analysis.ranges import Ranges, bounds_of, lower_limit, upper_limit
from quoter.analysis.spreads import mean_and_variance
from quoter.figures import Figure

REACH = 2.5  # robust deviations to either end of a range: its P80 is then about that of the jobs
# What is held within these parts of nothing can't be told apart from it, as a logarithm can't be.
LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Better:
    """A value of the catalogue that data contradict: what they say, as the figure has it.

    `spread` is the robust deviation from job to job. Where `relative`, errors and spread are parts
    of the value, so that logarithms are compared; else amounts. `settled` is the value drawn toward
    the present one with the weight of the data, where it was fitted together with others.
    """

    figure: Figure
    told: Interval
    samples: int
    spread: float
    reason: str
    relative: bool = True
    settled: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is proposed of a better value, with its range, as the figure has it.

    `reach` is half the width of the interval that is left of it, which says how many digits matter.
    """

    better: Better
    likely: float
    low: float
    high: float
    weight: float
    reach: float


def relative_prior(figure: Figure, ranges: Ranges) -> float:
    """The deviation of an input's own range as a part of it; next to nothing of what can't vary."""
    known = ranges.varying([figure]).get(figure)
    if known is None or not figure.value:
        return LEAST
    return math.sqrt(mean_and_variance(known.spread)[1]) / figure.value or LEAST


def drawn(better: Better, ranges: Ranges) -> Drawn | None:
    """A value between the present one and the data's; None of one that can't vary.

        weight = prior^2 / (prior^2 + error^2), at least 1 - error^2 / apart^2
        likely = weight * data + (1 - weight) * present        of logarithms where relative
        range = likely -+ 2.5 * sqrt(spread^2 + weight * error^2)

    The prior is the deviation of the present value's own range: as written beside it, by its kind
    in the policy, or by the house; where the data lie further off than it and their error explain,
    it was too narrow (see `data_weight`). What is left in doubt of the value, weight * error^2,
    adds to what jobs differ by.
    """
    figure, told = better.figure, better.told
    known = ranges.varying([figure]).get(figure)
    if known is None:
        return None
    if better.settled is not None:
        likely, weight = better.settled
        reach = math.exp(REACH * better.spread)
        return _within(better, likely, likely / reach, likely * reach, weight)
    prior = math.sqrt(mean_and_variance(known.spread)[1])
    if not better.relative:
        error = error_of(told)
        weight = data_weight(prior, error, abs(told.likely - figure.value))
        likely = weight * told.likely + (1 - weight) * figure.value
        reach = REACH * math.hypot(better.spread, math.sqrt(weight) * error)
        return _within(better, likely, likely - reach, likely + reach, weight)
    logs = told.mapped(lambda end: math.log(max(end, LEAST)))
    error = error_of(logs)
    weight = data_weight(prior / figure.value, error, abs(logs.likely - math.log(figure.value)))
    likely = math.exp(weight * logs.likely + (1 - weight) * math.log(figure.value))
    reach = math.exp(REACH * math.hypot(better.spread, math.sqrt(weight) * error))
    return _within(better, likely, likely / reach, likely * reach, weight)


def _within(better: Better, likely: float, low: float, high: float, weight: float) -> Drawn:
    """What is proposed, within the limits of what may be written."""
    least, most = lower_limit(better.figure), upper_limit(better.figure)
    least = bounds_of(better.figure).least if least is None else least

    def kept(value: float) -> float:
        value = value if least is None else max(value, least)
        return value if most is None else min(value, most)

    half = math.sqrt(max(weight, 0.0)) * (better.told.high - better.told.low) / 2
    return Drawn(better, kept(likely), kept(low), kept(high), weight, half)
