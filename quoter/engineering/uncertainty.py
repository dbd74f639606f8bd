"""Uncertainty: what an input may be, what moves together, and how sure a result is. To first order.

An input lies between a low and a high value around its likely one. The formulas hold in any unit;
where they name money, minutes or kilograms do as well.
"""

from __future__ import annotations

from quoter.figures import N


def three_point_mean(low: N, likely: N, high: N) -> N:
    """Mean of a three-point estimate.

        mean = (low + 4 * likely + high) / 6

    Args:
        low: low value [money]
        likely: most likely value [money]
        high: high value [money]
    Returns:
        mean [money]
    Limits: low <= likely <= high
    Source: the three-point (beta) estimate as in project scheduling handbooks.

    >>> round(three_point_mean(4.0, 8.0, 13.0), 2)
    8.17
    """
    return (low + 4 * likely + high) / 6


def three_point_deviation(low: N, high: N) -> N:
    """Standard deviation of a three-point estimate.

        deviation = (high - low) / 6

    Args:
        low: low value [money]
        high: high value [money]
    Returns:
        standard deviation [money]
    Limits: low <= high
    Source: the three-point (beta) estimate as in project scheduling handbooks.

    >>> three_point_deviation(4.0, 13.0)
    1.5
    """
    return (high - low) / 6


def triangular_mean(low: N, likely: N, high: N) -> N:
    """Mean of a triangular distribution.

        mean = (low + likely + high) / 3

    Args:
        low: low value [money]
        likely: most likely value [money]
        high: high value [money]
    Returns:
        mean [money]
    Limits: low <= likely <= high
    Source: moments of the triangular distribution (from memory).

    >>> triangular_mean(3.0, 6.0, 9.0)
    6.0
    """
    return (low + likely + high) / 3


def triangular_variance(low: N, likely: N, high: N) -> N:
    """Variance of a triangular distribution.

        variance = (low^2 + likely^2 + high^2 - low * likely - low * high - likely * high) / 18

    Args:
        low: low value [money]
        likely: most likely value [money]
        high: high value [money]
    Returns:
        variance [money2]
    Limits: low <= likely <= high
    Source: moments of the triangular distribution (from memory).

    >>> triangular_variance(0.0, 0.0, 6.0)
    2.0
    """
    squares = low**2 + likely**2 + high**2
    return (squares - low * likely - low * high - likely * high) / 18


def range_end(likely: N, part: N) -> N:
    """An end of a range that goes by the kind of an input or by its history.

        end = likely * (1 + part)

    Args:
        likely: the value as written [money]
        part: how far the end lies above it, negative below, as a fraction of it [1]
    Returns:
        low or high value [money]
    Limits: part > -1; where the input itself has limits, such as the 100 % of a yield, the range
        ends there
    Source: common practice, no source

    >>> range_end(20.0, -0.15), range_end(20.0, 0.3)
    (17.0, 26.0)
    """
    return likely * (1 + part)


def variance_together(whole: N, squares: N, correlation: N) -> N:
    """Variance that inputs cause which move together, each pair with one correlation.

        variance = correlation * (sum of s)^2 + (1 - correlation) * sum of s^2

    Args:
        whole: sum of the deviations s that the inputs cause, each with its sign [money]
        squares: sum of the squares of these [money2]
        correlation: correlation of each pair [1]
    Returns:
        variance of what they cause together [money2]
    Limits: 0 <= correlation <= 1; groups are independent of each other, so that theirs add up
    Source: variance of a sum of equally correlated terms (definition)

    >>> variance_together(7.0, 25.0, 0.0), variance_together(7.0, 25.0, 1.0)
    (25.0, 49.0)
    """
    return correlation * whole**2 + (1 - correlation) * squares


def share_together(caused: N, whole: N, correlation: N, variance: N) -> N:
    """An input's share of a result's variance: its covariance with the result, over the whole.

        share = s * ((1 - correlation) * s + correlation * sum of s) / variance

    Args:
        caused: deviation s that the input causes, with its sign [money]
        whole: sum of those of its group [money]
        correlation: correlation of each pair of the group [1]
        variance: variance of the result, of all groups [money2]
    Returns:
        share of the variance, negative where the input makes up for others [1]
    Limits: variance > 0; the shares of all inputs add up to 1
    Source: covariance decomposition of a variance (definition)

    >>> share_together(3.0, 7.0, 1.0, 49.0) + share_together(4.0, 7.0, 1.0, 49.0)
    1.0
    """
    return caused * ((1 - correlation) * caused + correlation * whole) / variance


def contingency(covering: N, cost: N) -> N:
    """What must be put beside a cost so that it covers the cases that a percentile counts.

        contingency = percentile - cost

    Args:
        covering: percentile of the cost, such as P80 [money]
        cost: cost as written [money]
    Returns:
        contingency, negative where the cost as written covers more [money]
    Limits: none
    Source: definition

    >>> contingency(112.0, 100.0)
    12.0
    """
    return covering - cost
