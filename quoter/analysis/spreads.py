"""What an input may be, as a distribution between a low and a high value, and values drawn from it.

Draws are stratified: one value from each of the equally likely slices. In which order they come
depends on the input's name alone, so that the same inputs give the same bytes anywhere; inputs of
a group come in orders that agree as strongly as they move together.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from quoter.engineering.uncertainty import (
    three_point_deviation,
    three_point_mean,
    triangular_mean,
    triangular_variance,
)
from quoter.figures import Figure

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from quoter.figures.figure import FloatArray

    Bits = npt.NDArray[np.uint64]

Shape = Literal["three-point", "triangular"]
GRID = 4001  # points of the cumulative curve of a beta distribution
AT_ONCE = 128  # inputs drawn in one piece; more would take much room at a time
PLACES = 9  # to which the place of a likely value between its ends is told apart


@dataclass(frozen=True, slots=True)
class Spread:
    """What an input may be: between `low` and `high`, most likely `likely`."""

    low: float
    likely: float
    high: float
    shape: Shape = "three-point"


@dataclass(frozen=True, slots=True)
class Group:
    """Inputs that move together: by name, in words, how strongly each two do, and as what kind."""

    name: str
    words: str
    correlation: float
    of: str = ""


def mean_and_variance(spread: Spread) -> tuple[float, float]:
    """Mean and variance of a spread in its own shape."""
    a, m, b = spread.low, spread.likely, spread.high
    if spread.shape == "triangular":
        return triangular_mean(a, m, b), triangular_variance(a, m, b)
    return three_point_mean(a, m, b), three_point_deviation(a, b) ** 2


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


@dataclass(frozen=True, slots=True)
class Asked:
    """An input to be drawn: its name, what it may be, and with what it moves.

    With `sign` -1 it falls where the others of its group rise.
    """

    name: str
    spread: Spread
    group: Group | None = None
    sign: int = 1


class Draws:
    """Values of inputs, drawn when they are first asked for; the same ones every time.

    Within a group each input follows one normal deviate they have in common and one of its own,
    z = root(r) z(group) + root(1 - r) z(own); the rank of z says which slice is drawn (a Gaussian
    copula of one factor). `name` sets one run apart from another.
    """

    def __init__(self, size: int, name: str = "") -> None:
        """Nothing is drawn yet."""
        self.size, self._name = size, name
        self._found: dict[str, FloatArray] = {}

    def of(self, every: Sequence[Asked]) -> list[FloatArray]:
        """The values of each input."""
        asked = {one.name: one for one in every if one.name not in self._found}
        alone, groups = [], dict[Group, list[Asked]]()
        for one in asked.values():
            if one.group is None or one.group.correlation == 0:
                alone.append(one)
            else:
                groups.setdefault(one.group, []).append(one)
        for start in range(0, len(alone), AT_ONCE):
            self._draw_alone(alone[start : start + AT_ONCE])
        for group, members in groups.items():
            self._draw_together(group, members)
        return [self._found[one.name] for one in every]

    def _draw_alone(self, every: Sequence[Asked]) -> None:
        import numpy as np

        orders = np.argsort(_bits([self._name + one.name for one in every], self.size), axis=1)
        for one, ranks in zip(every, orders, strict=True):
            self._found[one.name] = _slices_of(one.spread, self.size)[ranks]

    def _draw_together(self, group: Group, every: Sequence[Asked]) -> None:
        import numpy as np

        r, names = group.correlation, [self._name + one.name for one in every]
        common = _normals([f"{self._name}group {group.name}"], self.size)
        signs = np.array([[float(one.sign)] for one in every])
        z = signs * r**0.5 * common + (1 - r) ** 0.5 * _normals(names, self.size)
        for one, order in zip(every, np.argsort(z, axis=1), strict=True):
            self._found[one.name] = np.empty(self.size)
            self._found[one.name][order] = _slices_of(one.spread, self.size)


def _bits(names: Sequence[str], size: int) -> Bits:
    """64 random bits, `size` times for each name, the same on any machine (SplitMix64).

    Source: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014 (from
    memory).
    """
    import numpy as np

    seeds = [hashlib.sha256(name.encode()).digest()[:8] for name in names]
    start = np.array([[int.from_bytes(seed, "little")] for seed in seeds], dtype=np.uint64)
    steps = np.arange(1, size + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
    found = start + steps
    for shift, factor in ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB)):
        found ^= found >> np.uint64(shift)
        found *= np.uint64(factor)
    found ^= found >> np.uint64(31)
    return found


def _normals(names: Sequence[str], size: int) -> FloatArray:
    """Normal deviates, `size` for each name (Box and Muller)."""
    import numpy as np

    half = (size + 1) // 2
    even = ((_bits(names, 2 * half) >> np.uint64(11)).astype(float) + 0.5) * 2.0**-53
    radius, angle = np.sqrt(-2 * np.log(even[:, :half])), 2 * np.pi * even[:, half:]
    return np.concatenate([radius * np.cos(angle), radius * np.sin(angle)], axis=1)[:, :size]


def _slices_of(spread: Spread, size: int) -> FloatArray:
    """The middle of each equally likely slice of a spread, rising."""
    width = spread.high - spread.low
    place = round((spread.likely - spread.low) / width, PLACES) if width > 0 else 0.0
    found: FloatArray = spread.low + width * _slices(place, spread.shape, size)
    return found


@lru_cache(maxsize=64)
def _slices(place: float, shape: Shape, size: int) -> FloatArray:
    """The middles of equally likely slices between 0 and 1, for a likely value there."""
    import numpy as np

    return quantile(Spread(0.0, place, 1.0, shape), (np.arange(size, dtype=float) + 0.5) / size)


def percentiles(values: FloatArray, chances: Iterable[float]) -> list[float]:
    """Percentiles of stratified values: the k-th of n stands at the chance (k - 1/2) / n (Hazen).

    >>> percentiles([1.0, 2.0, 3.0, 4.0], [0.125, 0.5])
    [1.0, 2.5]
    """
    import numpy as np

    return [float(p) for p in np.quantile(values, [*chances], method="hazen")]


def spread_of(figure: Figure) -> Spread | None:
    """The range that is written beside an input, if one is."""
    origin = figure.origin
    if origin is None or origin.low is None or origin.high is None:
        return None
    return Spread(origin.low, figure.value, origin.high, origin.spread)
