"""Statistics of small samples with stray values among them: where they lie, and how surely.

Nothing is drawn at random, so that the same samples give the same numbers. Quantiles come from
`statistics.NormalDist` and, for Student's t, from its closed form for whole degrees of freedom.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from statistics import NormalDist, median

LEVEL = 0.95
FEWEST = 5  # samples; of fewer nothing is said: their whole range holds the median 7 times of 8
STRAY = 3.5  # modified z score beyond which a value is an outlier
TO_NORMAL = 1.482602218505602  # a normal deviation over the median absolute one, 1 / 0.67449
MEAN_TO_NORMAL = math.sqrt(math.pi / 2)  # ... and over the mean absolute one
# What the median absolute deviation of n normal values is multiplied by, lest it be too small.
SMALL = {2: 1.196, 3: 1.495, 4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}
STEPS = 200  # of an iteration, at the most


@dataclass(frozen=True, slots=True)
class Interval:
    """An estimate with a confidence interval: low <= likely <= high, at `level` such as 0.9."""

    likely: float
    low: float
    high: float
    level: float

    def mapped(self, told: Callable[[float], float]) -> Interval:
        """The interval of what rises with this, such as its logarithm."""
        return Interval(told(self.likely), told(self.low), told(self.high), self.level)

    def holds(self, value: float) -> bool:
        """Whether a value lies within."""
        return self.low <= value <= self.high


def normal_quantile(chance: float) -> float:
    """The value that a standard normal deviate stays under with a given chance.

    >>> round(normal_quantile(0.975), 6)
    1.959964
    """
    return NormalDist().inv_cdf(chance)


def t_chance(t: float, freedom: int) -> float:
    """The chance that Student's t with whole degrees of freedom stays under a value.

        within = 2 / pi * (angle + sin * (cos + 2/3 cos^3 + 2*4/(3*5) cos^5 + ...))   freedom odd
        within = sin * (1 + 1/2 cos^2 + 1*3/(2*4) cos^4 + ...)                        freedom even
        chance = (1 + within) / 2, angle = atan(t / sqrt(freedom)), powers of cos up to freedom - 2

    Args:
        t: the value [1]
        freedom: degrees of freedom, whole [1]
    Returns:
        chance, 0 to 1 [1]
    Limits: freedom >= 1
    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4.

    >>> round(t_chance(2.570582, 5), 6)
    0.975
    """
    angle = math.atan(t / math.sqrt(freedom))
    cosine, odd = math.cos(angle), freedom % 2
    term, inner = cosine if odd else 1.0, 0.0
    for power in range(odd, freedom - 1, 2):
        inner += term
        term *= cosine**2 * (power + 1) / (power + 2)
    within = math.sin(angle) * inner
    if odd:
        within = 2 / math.pi * (angle + within)
    return (1 + within) / 2


def t_quantile(chance: float, freedom: int) -> float:
    """The value that Student's t stays under with a given chance: found by halving.

    Args:
        chance: 0 to 1, neither of them [1]
        freedom: degrees of freedom, whole [1]
    Returns:
        the value [1]
    Limits: freedom >= 1
    Source: the inverse of `t_chance`, by bisection.

    >>> round(t_quantile(0.975, 5), 6), round(t_quantile(0.95, 30), 6)
    (2.570582, 1.697261)
    """
    if chance < 0.5:
        return -t_quantile(1 - chance, freedom)
    high = 1.0
    while t_chance(high, freedom) < chance:
        high *= 2
    low = 0.0
    for _ in range(STEPS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if t_chance(middle, freedom) < chance else (low, middle)
    return high


def sign_level(number: int, k: int) -> float:
    """How surely the k-th least and the k-th greatest of a number of values hold the median.

        level = 1 - 2 * sum(C(n, i) for i = 0 .. k - 1) / 2^n

    Args:
        number: how many values n there are [1]
        k: the place from either end, from 1 [1]
    Returns:
        level, whatever the distribution [1]
    Limits: 1 <= k <= n / 2
    Source: the sign test turned round: Hollander, Wolfe, Nonparametric Statistical Methods, 3.6.

    >>> sign_level(5, 1)
    0.9375
    """
    return next(islice(sign_levels(number), k - 1, None))


def sign_levels(number: int) -> Iterator[float]:
    """The levels of `sign_level` for k = 1, 2, ... to half the number, each from the one before.

        C(n, i + 1) = C(n, i) * (n - i) / (i + 1), exact in whole numbers

    >>> list(sign_levels(4))
    [0.875, 0.375]
    """
    every, ways, tail = 2**number, 1, 0
    for i in range(number // 2):
        tail += ways
        yield 1 - 2 * (tail / every)
        ways = ways * (number - i) // (i + 1)


def median_interval(values: Sequence[float], level: float = LEVEL) -> Interval:
    """The median with an interval that hardly depends on how the values are distributed.

    Between two pairs of order statistics, one too wide and one too narrow, it is interpolated:

        share = (level_k - level) / (level_k - level_k+1)
        step = (n - k) * share / (k + (n - 2 k) * share)
        low = (1 - step) * x_k + step * x_k+1, and from the other end alike

    Args:
        values: at least two; their order doesn't matter
        level: how surely it is to hold the median [1]
    Returns:
        the interval; that of all values, with the level that this has, where they are too few
    Limits: the values are of the same kind and none of them rests on another
    Source: Hettmansperger, Sheather, Confidence intervals based on interpolated order statistics,
        Statistics and Probability Letters 4 (1986), 75-79.

    >>> median_interval([1.0, 2.0, 3.0, 4.0, 5.0])
    Interval(likely=3.0, low=1.0, high=5.0, level=0.9375)
    """
    x, n = sorted(values), len(values)
    middle, k = float(median(x)), 1
    if sign_level(n, 1) <= level:
        return Interval(middle, x[0], x[-1], sign_level(n, 1))
    levels = sign_levels(n)
    wide, narrow = next(levels), next(levels, 0.0)
    while narrow >= level:
        k, wide, narrow = k + 1, narrow, next(levels, 0.0)
    share = (wide - level) / (wide - narrow)
    step = (n - k) * share / (k + (n - 2 * k) * share)
    low = (1 - step) * x[k - 1] + step * x[k]
    high = (1 - step) * x[n - k] + step * x[n - k - 1]
    return Interval(middle, min(low, middle), max(high, middle), level)


def deviation(values: Sequence[float], least: float = 0.0) -> float:
    """A standard deviation that a few stray values don't move: by the median absolute one.

        deviation = b_n * 1.4826 * median(|x - median(x)|),  b_n = n / (n - 0.8) for n > 9

    Where more than half of the values are the same, 1.2533 times their mean absolute deviation
    takes its place, so that it is 0 only where all are the same.

    Args:
        values: at least two
        least: what rounding alone gives, than which nothing is told closer
    Returns:
        the deviation, in the unit of the values
    Limits: the factors are of normal values
    Source: Croux, Rousseeuw, Time-efficient algorithms for two highly robust estimators of scale,
        Computational Statistics 1 (1992), for b_n; Iglewicz, Hoaglin 1993 for the second.

    >>> round(deviation([9.0, 10.0, 11.0, 12.0, 90.0]), 4)
    1.788
    """
    n, middle = len(values), median(values)
    apart = [abs(value - middle) for value in values]
    typical = TO_NORMAL * median(apart) * SMALL.get(n, n / (n - 0.8))
    return max(typical or MEAN_TO_NORMAL * sum(apart) / n, least)


def modified_scores(values: Sequence[float], least: float = 0.0) -> list[float]:
    """How far each value is from the median, in robust deviations.

        score = 0.6745 * (x - median(x)) / median(|x - median(x)|)

    Args:
        values: any number
        least: the deviation that rounding alone gives, than which none is taken for smaller
    Returns:
        a score for each; beyond 3.5 it is an outlier
    Limits: where more than half are the same, over 1.2533 times the mean absolute deviation
    Source: Iglewicz, Hoaglin, How to Detect and Handle Outliers, ASQC 1993, 3.3.

    >>> [round(score, 2) for score in modified_scores([9.0, 10.0, 11.0, 12.0, 90.0])]
    [-1.35, -0.67, 0.0, 0.67, 53.29]
    """
    middle = median(values)
    apart = [abs(value - middle) for value in values]
    typical = TO_NORMAL * median(apart) or MEAN_TO_NORMAL * sum(apart) / len(apart)
    typical = max(typical, least)
    return [(value - middle) / typical if typical else 0.0 for value in values]


def rounding_deviation(step: float, number: int) -> float:
    """Standard deviation that rounding gives to a sum of amounts, each booked to a step.

        deviation = step * sqrt(n / 12)

    Args:
        step: of which every amount is a multiple [h]
        number: how many amounts n there are [1]
    Returns:
        deviation [h]
    Limits: the amounts are several steps long
    Source: a rectangular distribution over the step (JCGM 100:2008, 4.3.7).

    >>> round(rounding_deviation(0.25, 3), 4)
    0.125
    """
    return step * math.sqrt(number / 12)


def widened(told: Interval, error: float) -> Interval:
    """An interval with one more error, of nothing that it knows of.

        reach = sqrt(reach^2 + (z * error)^2), at either end

    Args:
        told: the interval
        error: standard error [1]
    Returns:
        the wider interval, at the same level
    Limits: both errors are about normal
    Source: errors that don't rest on each other add up as squares (JCGM 100:2008, 5.1.2).

    >>> round(widened(Interval(1.0, 0.7, 1.3, 0.95), 0.4 / 1.959964).high, 6)
    1.5
    """
    more = normal_quantile((1 + told.level) / 2) * error
    below, above = (math.hypot(end - told.likely, more) for end in (told.low, told.high))
    return Interval(told.likely, told.likely - below, told.likely + above, told.level)


def step_of(amounts: Sequence[float]) -> float:
    """The largest of the usual steps in hours of which all amounts are multiples; else none.

    >>> step_of([1.5, 0.75, 3.0]), step_of([1.0, 0.13])
    (0.25, 0.0)
    """
    for step in (1.0, 1 / 2, 1 / 4, 1 / 5, 1 / 6, 1 / 10, 1 / 12, 1 / 20):
        if all(abs(amount / step - round(amount / step)) < 1e-9 for amount in amounts):
            return step
    return 0.0


def ratio_of_totals(
    actual: Sequence[float], standard: Sequence[float], level: float = LEVEL
) -> Interval:
    """What is spent altogether over what should have been, where most samples may be nothing.

        ratio = sum(actual) / sum(standard)
        error^2 = n / (n - 1) * sum((actual - ratio * standard)^2) / sum(standard)^2

    Args:
        actual: of each sample
        standard: as many, of the same unit
        level: of the t interval [1]
    Returns:
        the ratio; its interval ends at nothing
    Limits: at least two samples, of which none rests on another
    Source: Cochran, Sampling Techniques, 3rd edition, Wiley 1977, 2.11 and 6.3.

    >>> told = ratio_of_totals([0.0, 3.0, 0.0, 1.0], [1.0, 1.0, 1.0, 1.0])
    >>> told.likely, told.low, round(told.high, 4)
    (1.0, 0.0, 3.2503)
    """
    n, base = len(actual), sum(standard)
    told = sum(actual) / base
    squares = sum((a - told * s) ** 2 for a, s in zip(actual, standard, strict=True))
    error = math.sqrt(n / (n - 1) * squares) / base
    reach = t_quantile((1 + level) / 2, n - 1) * error
    return Interval(told, max(told - reach, 0.0), told + reach, level)


def share_interval(good: float, number: float, level: float = LEVEL) -> Interval:
    """The share of pieces that were good, with Wilson's interval.

        ends = (p + z^2 / 2n -+ z * sqrt(p (1 - p) / n + z^2 / 4n^2)) / (1 + z^2 / n)

    Args:
        good: pieces that were good [1]
        number: pieces in all [1]
        level: of the interval [1]
    Returns:
        the share [1]
    Limits: number > 0; pieces are good or not each by itself
    Source: Wilson 1927; NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1.

    >>> told = share_interval(16.0, 20.0, 0.9)
    >>> told.likely, round(told.low, 4), round(told.high, 4)
    (0.8, 0.6217, 0.9069)
    """
    z, p = normal_quantile((1 + level) / 2), good / number
    middle = p + z**2 / (2 * number)
    reach = z * math.sqrt(p * (1 - p) / number + z**2 / (4 * number**2))
    below, above = ((middle + way) / (1 + z**2 / number) for way in (-reach, reach))
    return Interval(p, min(below, p), max(above, p), level)


def error_of(told: Interval) -> float:
    """The standard error that an interval stands for, as if it were of a normal deviate."""
    return (told.high - told.low) / (2 * normal_quantile((1 + told.level) / 2))


def median_error(spread: float, number: int) -> float:
    """Standard error of the median of normal values.

        error = sqrt(pi / 2) * deviation / sqrt(n)

    Args:
        spread: standard deviation of one value
        number: how many values n there are [1]
    Returns:
        standard error, in the values' unit
    Limits: to first order of 1 / n
    Source: large-sample variance of a median, pi / 2 of the mean's (Stuart, Ord, Kendall's
        Advanced Theory of Statistics, 10.9).

    >>> round(median_error(2.0, 16), 4)
    0.6267
    """
    return math.sqrt(math.pi / 2) * spread / math.sqrt(number)


def data_weight(prior: float, error: float, apart: float = 0.0) -> float:
    """How much data count beside what was believed before them.

        weight = prior^2 / (prior^2 + error^2), error^2 = deviation^2 / n for a mean of n
        weight >= 1 - error^2 / apart^2
        told = weight * data + (1 - weight) * before

    Data further off than the prior and their own error explain say that the prior was too narrow:
    then what they show of it, apart^2 - error^2, takes its place, which is the second line.

    Args:
        prior: standard deviation of what was believed
        error: standard error of what the data say, in the same unit
        apart: how far the data are from what was believed
    Returns:
        weight, 0 to 1 [1]
    Limits: none negative; 1 where prior and error are 0, since then nothing is in doubt of the data
    Source: mean of the normal posterior with a normal prior and known variance (Gelman et al.,
        Bayesian Data Analysis, 3rd edition 2013, 2.5); credibility n / (n + k) of Buehlmann 1967;
        the positive part of Stein's rule for the second (Efron, Morris, Journal of the American
        Statistical Association 70 (1975), 311-319).

    >>> data_weight(3.0, 4.0), data_weight(3.0, 4.0, apart=8.0)
    (0.36, 0.75)
    """
    weight = prior**2 / (prior**2 + error**2) if prior or error else 1.0
    return max(weight, 1 - (error / apart) ** 2) if apart else weight
