"""Distributions over a low, a likely and a high value, and even samples of them."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from quoter.figures import N

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Shape = Literal["three-point", "triangular"]
GRID = 4001  # points of the cumulative curve of a beta distribution


@dataclass(frozen=True, slots=True)
class Spread:
    """What an input may be: between `low` and `high`, most likely `likely`."""

    low: float
    likely: float
    high: float
    shape: Shape = "three-point"


def three_point_mean(low: N, likely: N, high: N) -> N:
    """Mean of a three-point estimate, (a + 4 m + b) / 6.

    Source: the three-point (beta) estimate as in project scheduling handbooks.

    >>> round(three_point_mean(4, 8, 13), 2)
    8.17
    """
    return (low + 4 * likely + high) / 6


def three_point_deviation(low: N, high: N) -> N:
    """Standard deviation of a three-point estimate, (b - a) / 6.

    >>> three_point_deviation(4, 13)
    1.5
    """
    return (high - low) / 6


def triangular_mean(low: N, likely: N, high: N) -> N:
    """Mean of a triangular distribution, (a + m + b) / 3.

    >>> triangular_mean(3, 6, 9)
    6.0
    """
    return (low + likely + high) / 3


def triangular_variance(low: N, likely: N, high: N) -> N:
    """Variance of a triangular distribution, (a2 + m2 + b2 - am - ab - mb) / 18.

    >>> triangular_variance(0, 0, 6)
    2.0
    """
    squares = low**2 + likely**2 + high**2
    return (squares - low * likely - low * high - likely * high) / 18


def mean_and_variance(spread: Spread) -> tuple[float, float]:
    """Mean and variance of a spread in its own shape."""
    a, m, b = spread.low, spread.likely, spread.high
    if spread.shape == "triangular":
        return triangular_mean(a, m, b), triangular_variance(a, m, b)
    return three_point_mean(a, m, b), three_point_deviation(a, b) ** 2


def sample(spread: Spread, size: int, name: str) -> FloatArray:
    """Stratified values of a spread: one from each of `size` equally likely slices, shuffled.

    The order depends on the name alone, so that the same inputs give the same bytes anywhere.
    """
    import numpy as np

    order = list(range(size))
    random.Random(name).shuffle(order)  # a fixed shuffle, not a secret
    chances = (np.array(order, dtype=float) + 0.5) / size
    return quantile(spread, chances)


def quantile(spread: Spread, chances: FloatArray) -> FloatArray:
    """The values below which a spread falls with the given chances."""
    import numpy as np

    a, m, b = spread.low, spread.likely, spread.high
    if b <= a:
        return np.full_like(chances, a)
    if spread.shape == "triangular":
        peak = (m - a) / (b - a)
        rising = a + np.sqrt(chances * (b - a) * (m - a))
        falling = b - np.sqrt((1 - chances) * (b - a) * (b - m))
        return np.where(chances < peak, rising, falling)
    return a + (b - a) * _beta_quantile(spread, chances)


def _beta_quantile(spread: Spread, chances: FloatArray) -> FloatArray:
    """Quantiles of the beta distribution on 0..1 with the three-point mean and deviation."""
    import numpy as np

    alpha, beta = beta_shape(spread)
    # Evenly spaced in angle: dense at both ends, where the density is steep.
    angle = np.linspace(0.0, np.pi / 2, GRID)
    x = np.sin(angle) ** 2
    # dx = 2 sin cos d(angle), so the density times dx is sin^(2a-1) cos^(2b-1), free of poles.
    density = np.sin(angle) ** (2 * alpha - 1) * np.cos(angle) ** (2 * beta - 1)
    area = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2)])
    found: FloatArray = np.interp(chances, area / area[-1], x)
    return found


def beta_shape(spread: Spread) -> tuple[float, float]:
    """The two shape numbers of the beta distribution with the three-point mean and deviation."""
    mean, variance = mean_and_variance(spread)
    width = spread.high - spread.low
    mu, v = (mean - spread.low) / width, variance / width**2
    both = mu * (1 - mu) / v - 1
    return mu * both, (1 - mu) * both
