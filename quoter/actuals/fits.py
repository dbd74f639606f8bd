"""Lines through samples with stray ones among them: over time, over drivers, and as pieces grow.

Functions of samples take sequences of numbers; numpy is imported where it is used.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from quoter.actuals.samples import (
    LEVEL,
    MEAN_TO_NORMAL,
    STEPS,
    STRAY,
    TO_NORMAL,
    Interval,
    normal_quantile,
    t_quantile,
)
from quoter.engineering.learning import (
    cumulative_lot_average,
    first_unit_time,
    unit_lot_average,
)

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

TUNING = 1.345  # of Huber's weights: 95 % as efficient as least squares where nothing strays
CLOSE = 1e-12  # the change, as a part, at which an iteration ends
STEEPEST, RISING = -0.999, 1.0  # exponents of a curve that are tried
SMALL, SETTLED = 1e-6, 1e-9  # a step of one, and the change at which it is found
# The lot averages of each learning model, by its name in the catalogue.
LOTS: dict[str, Callable[[float, float, float, float], float]] = {
    "unit": unit_lot_average,
    "cumulative average": cumulative_lot_average,
}


@dataclass(frozen=True, slots=True)
class Fit:
    """Coefficients of a robust regression with their standard errors, in the order of the columns.

    `scale` is the robust deviation of what is left; `weights` say how much each row counted, 1 at
    the most; `freedom` are the rows less the coefficients.
    """

    values: tuple[float, ...]
    errors: tuple[float, ...]
    scale: float
    weights: tuple[float, ...]
    freedom: int

    def interval(self, number: int, level: float = LEVEL) -> Interval:
        """A coefficient with its t interval."""
        reach = t_quantile((1 + level) / 2, self.freedom) * self.errors[number]
        value = self.values[number]
        return Interval(value, value - reach, value + reach, level)


@dataclass(frozen=True, slots=True)
class Learned:
    """A learning curve fitted to lots: its slope, and what it reaches at a unit, with intervals.

    `reached` is the time of that unit by the unit model, or the cumulative average up to it; `fit`
    says how much each lot counted.
    """

    model: str
    slope: Interval
    reached: Interval
    fit: Fit


def trend(times: Sequence[float], values: Sequence[float], level: float = LEVEL) -> Interval | None:
    """The slope of values over time: the median of the slopes of all pairs, with Sen's interval.

        variance of Kendall's S = (n (n-1) (2n+5) - sum t (t-1) (2t+5)) / 18, t of each tie
        low, high = the slopes at the places (N -+ z * deviation) / 2 of all N, in order

    Args:
        times: one for each value, ties allowed
        values: as many
        level: of the interval [1]
    Returns:
        slope in the values' unit over that of the times; None where all times are the same
    Limits: at least three times apart
    Source: Sen, Estimates of the regression coefficient based on Kendall's tau, Journal of the
        American Statistical Association 63 (1968), 1379-1389.

    >>> trend([1.0, 2.0, 3.0, 4.0, 5.0], [1.0, 2.1, 2.9, 4.2, 30.0]).likely
    1.1
    """
    import numpy as np

    n, x, y = len(times), np.asarray(times, dtype=float), np.asarray(values, dtype=float)
    runs = [x[i + 1 :] - x[i] for i in range(n)]
    rises = [(y[i + 1 :] - y[i])[run != 0] / run[run != 0] for i, run in enumerate(runs)]
    slopes = np.sort(np.concatenate([*rises, np.empty(0)]))
    if not len(slopes):
        return None
    told = round(float(np.median(slopes)), 15)
    spread = n * (n - 1) * (2 * n + 5) - _tied(times) - _tied(values)
    reach = normal_quantile((1 + level) / 2) * math.sqrt(max(spread, 0) / 18)
    low = max(round((len(slopes) - reach) / 2) - 1, 0)
    high = min(round((len(slopes) + reach) / 2), len(slopes) - 1)
    return Interval(told, min(float(slopes[low]), told), max(float(slopes[high]), told), level)


def _tied(values: Sequence[float]) -> float:
    """What ties take from the variance of Kendall's S, times 18."""
    return sum(t * (t - 1) * (2 * t + 5) for t in Counter(values).values())


def huber(rows: Sequence[Sequence[float]], values: Sequence[float], tuning: float = TUNING) -> Fit:
    """A regression in which what is far off counts less: Huber's M-estimate, by repeated weighing.

        weight = min(1, tuning * scale / |residual|), scale = 1.4826 * median(|residual|)
        covariance = k^2 * (sum(psi^2) scale^2 / (n - p)) / mean(psi')^2 * (X' X)^-1
        k = 1 + p / n * var(psi') / mean(psi')^2

    Args:
        rows: one for each value, with a number for each coefficient
        values: what is to be told
        tuning: scales from which on a residual counts less; least squares where it is huge
    Returns:
        coefficients, standard errors and weights
    Raises:
        ValueError: no more rows than coefficients, or columns that rest on each other
    Limits: rows are not far off each by itself in what they are told by
    Source: Huber, Robust Statistics, Wiley 1981, 7.6 (covariance, first form), 7.8 (algorithm).

    >>> [round(b, 3) for b in huber([[1.0, x] for x in range(6)], [1, 3, 5, 7, 9, 99.0]).values]
    [1.0, 2.0]
    """
    import numpy as np

    x, y = np.asarray(rows, dtype=float), np.asarray(values, dtype=float)
    n, p = x.shape
    if n <= p or np.linalg.matrix_rank(x) < p:
        raise ValueError(f"{n} rows can't tell {p} coefficients apart")
    weights, found = np.ones(n), np.zeros(p)
    for _ in range(STEPS):
        root = np.sqrt(weights)
        before, found = found, np.linalg.lstsq(x * root[:, None], y * root, rcond=None)[0]
        left = y - x @ found
        scale = _scale_of(left)
        if scale <= CLOSE * float(np.max(np.abs(y))):
            return Fit(tuple(map(float, found)), (0.0,) * p, 0.0, tuple(map(float, weights)), n - p)
        sizes = np.abs(left) / scale
        weights = np.minimum(1.0, tuning / np.maximum(sizes, 1e-300))
        if np.max(np.abs(found - before)) <= CLOSE * np.max(np.abs(found)):
            break
    within = (sizes <= tuning).astype(float)
    share, psi = float(within.mean()), np.clip(left / scale, -tuning, tuning)
    if not share:
        raise ValueError("no row is near what the others tell")
    k = 1 + p / n * float(within.var()) / share**2
    spread = k**2 * float(psi @ psi) * scale**2 / (n - p) / share**2
    errors = np.sqrt(spread * np.diag(np.linalg.inv(x.T @ x)))
    told, sure = tuple(map(float, found)), tuple(map(float, errors))
    return Fit(told, sure, scale, tuple(map(float, weights)), n - p)


def _scale_of(left: FloatArray) -> float:
    """The robust deviation of residuals about 0; of the middling ones where most are none."""
    import numpy as np

    apart = np.abs(left)
    return float(TO_NORMAL * np.median(apart) or MEAN_TO_NORMAL * apart.mean())


def learned(
    times: Sequence[float],
    lots: Sequence[tuple[float, float]],
    model: str = "unit",
    at: float = 1.0,
    level: float = LEVEL,
) -> Learned:
    """The learning slope of times that fall with the number of pieces made, robustly.

        ln(time) = ln(reached) + ln(lot average of a curve that is 1 at the unit asked about)
        slope = 2^b; the interval of b is that of t with n - 2 degrees of freedom

    For single units of the unit model this is the straight line of the log of unit time on the log
    of unit number; else it is made straight at b again and again (Gauss and Newton).

    Args:
        times: average time of a piece of each lot, more than 0
        lots: the numbers of the first and the last piece of each, counted from 1
        model: `unit` or `cumulative average`, as the catalogue names them [1]
        at: the unit whose time is told [1]
        level: of the intervals [1]
    Returns:
        the curve
    Raises:
        ValueError: fewer than three lots, or all of the same pieces
    Limits: a slope between 0.5 and 2; the noise is in proportion to the time
    Source: the models of `quoter.engineering.learning`; log-linear fit as in Teplitz, The Learning
        Curve Deskbook, Quorum 1991 (from memory); `huber`, by which a lot counts less only beyond
        3.5 deviations, so that the t interval is that of least squares where nothing strays.

    >>> found = learned([100.0, 80.0, 64.0, 51.2], [(1, 1), (2, 2), (4, 4), (8, 8)])
    >>> round(found.slope.likely, 6), round(found.reached.likely, 6)
    (0.8, 100.0)
    """
    average, logs = LOTS[model], [math.log(time) for time in times]

    def told(b: float) -> list[float]:
        first = first_unit_time(1.0, at, b)
        return [math.log(average(first, float(start), float(end), b)) for start, end in lots]

    b = -0.2
    for _ in range(STEPS):
        here, beside = told(b), told(b + SMALL)
        steep = [(more - less) / SMALL for less, more in zip(here, beside, strict=True)]
        left = [y - f + b * d for y, f, d in zip(logs, here, steep, strict=True)]
        fit = huber([(1.0, each) for each in steep], left, STRAY)
        before, b = b, min(max(fit.values[1], STEEPEST), RISING)
        if abs(b - before) < SETTLED:
            break
    reached, along = fit.interval(0, level), fit.interval(1, level)
    return Learned(model, along.mapped(lambda b: 2.0**b), reached.mapped(math.exp), fit)
