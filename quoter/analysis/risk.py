"""How sure a result is, when inputs may be lower or higher than written.

What an input may be is a distribution. A result is simulated from stratified samples of them; and,
as figures that a workbook keeps alive, worked out to first order: each input has a mean and a
standard deviation by its low, likely and high value, and the slopes are numbers of the finished
costing. Inputs vary independently, so the variances they cause add up.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from quoter.analysis.sensitivity import Slopes, slope_of
from quoter.figures import Figure, N, dot, stated
from quoter.figures.graph import evaluate, gradient, inputs_of
from quoter.figures.ops import absolute

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Shape = Literal["three-point", "triangular"]
SAMPLES = 2000
DIGITS = 9  # of a simulated number; far more than samples can tell
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


@dataclass(frozen=True, slots=True)
class Share:
    """An uncertain input, a result's slope by it, and its share of the variance, to first order."""

    figure: Figure
    spread: Spread
    slope: float
    share: float


@dataclass(frozen=True, slots=True)
class Risk:
    """A result's distribution: mean, standard deviation, percentiles, and what causes it."""

    mean: float
    deviation: float
    p10: float
    p50: float
    p90: float
    shares: tuple[Share, ...]


def spreads_of(outputs: Sequence[Figure]) -> dict[Figure, Spread]:
    """The uncertain inputs the outputs depend on, as written in the catalogue."""
    found = {}
    for figure in inputs_of(outputs):
        origin = figure.origin
        if origin is not None and origin.low is not None and origin.high is not None:
            found[figure] = Spread(origin.low, figure.value, origin.high, origin.spread)
    return found


def risks_of(
    outputs: Sequence[Figure], size: int = SAMPLES, slopes_of: Slopes = gradient
) -> list[Risk]:
    """The distribution of each output, all from one set of stratified samples.

    Inputs vary independently.

    Args:
        outputs: the figures asked about
        size: the number of samples
        slopes_of: the slopes of an output by its inputs, where they are already known
    """
    import numpy as np

    spreads = spreads_of(outputs)
    samples = {figure: sample(spread, size, figure.key) for figure, spread in spreads.items()}
    risks = []
    for output, values in zip(outputs, evaluate(outputs, samples, free=True), strict=True):
        every = np.broadcast_to(np.asarray(values, dtype=float), (size,))
        # Hazen: the k-th of n stratified samples stands at the chance of (k - 1/2) / n.
        p10, p50, p90 = (float(p) for p in np.quantile(every, [0.1, 0.5, 0.9], method="hazen"))
        shares = _shares(slopes_of(output), spreads)
        risks.append(Risk(float(every.mean()), float(every.std()), p10, p50, p90, shares))
    return risks


def _shares(slopes: Mapping[Figure, float], spreads: Mapping[Figure, Spread]) -> tuple[Share, ...]:
    variances = {
        figure: slopes.get(figure, 0.0) ** 2 * mean_and_variance(spread)[1]
        for figure, spread in spreads.items()
    }
    whole = sum(variances.values())
    shares = [
        Share(figure, spreads[figure], slopes[figure], variance / whole)
        for figure, variance in variances.items()
        if variance
    ]
    return tuple(sorted(shares, key=lambda share: (-share.share, share.figure.key)))


@dataclass(frozen=True, slots=True)
class LiveSpread:
    """An uncertain input: its mean, how far that is from the likely value, and its deviation."""

    figure: Figure
    low: Figure
    high: Figure
    shape: str
    mean: Figure
    shift: Figure
    deviation: Figure


@dataclass(frozen=True, slots=True)
class LiveShare:
    """What an uncertain input does to a result: slope, deviation caused, share of the variance."""

    spread: LiveSpread
    slope: Figure
    deviation: Figure
    share: Figure


@dataclass(frozen=True, slots=True)
class LiveRisk:
    """A result's mean and deviation to first order, their causes, and the simulated numbers.

    `simulated` holds mean, standard deviation and the tenth, fiftieth and ninetieth percentile.
    """

    result: Figure
    mean: Figure
    deviation: Figure
    shares: tuple[LiveShare, ...]
    simulated: Mapping[str, Figure]


def live_spreads(results: Sequence[Figure]) -> dict[Figure, LiveSpread]:
    """The uncertain inputs that any of the results depends on."""
    return {figure: _spread(figure, spread) for figure, spread in spreads_of(results).items()}


def _spread(figure: Figure, spread: Spread) -> LiveSpread:
    def edge(value: float, which: str) -> Figure:
        number = Figure(value, figure.unit, form=figure.form)
        place = figure.origin.place if figure.origin else None
        return stated(number, f"risk.{figure.key}.{which}", f"{figure.label}: {which}", place)

    low, high = edge(spread.low, "low"), edge(spread.high, "high")
    if spread.shape == "triangular":
        mean = triangular_mean(low, figure, high)
        deviation: Figure = triangular_variance(low, figure, high) ** 0.5
    else:
        mean = three_point_mean(low, figure, high)
        deviation = three_point_deviation(low, high)
    mean = mean.named(f"risk.{figure.key}.mean", f"{figure.label}: mean", figure.form)
    shift = (mean - figure).named(
        f"risk.{figure.key}.shift", f"{figure.label}: mean less likely", figure.form
    )
    deviation = deviation.named(
        f"risk.{figure.key}.deviation", f"{figure.label}: standard deviation", figure.form
    )
    return LiveSpread(
        figure=figure,
        low=low,
        high=high,
        shape=spread.shape,
        mean=mean,
        shift=shift,
        deviation=deviation,
    )


def live_risk(
    result: Figure, simulated: Risk, spreads: Mapping[Figure, LiveSpread], key: str, name: str
) -> LiveRisk | None:
    """A result's risk as figures that stay live; None where it rests on no uncertain input.

    Args:
        result: the figure asked about
        simulated: its risk
        spreads: as `live_spreads` gives them for this result and maybe others
        key: begins the figures' keys
        name: begins their labels
    """
    if not simulated.shares:
        return None
    parts = []
    for share in simulated.shares:
        spread, figure = spreads[share.figure], share.figure
        slope = slope_of(result, figure, share.slope, f"{key}.risk", name)
        caused = absolute(slope * spread.deviation).named(
            f"{key}.risk.deviation.{figure.key}", f"{name}: deviation by {figure.label}"
        )
        parts.append((spread, slope, caused))
    caused_all = [caused for _, _, caused in parts]
    deviation = (dot(caused_all, caused_all) ** 0.5).named(
        f"{key}.risk.deviation", f"{name}: standard deviation"
    )
    shifts = dot([slope for _, slope, _ in parts], [spread.shift for spread, _, _ in parts])
    mean = (result + shifts).named(f"{key}.risk.mean", f"{name}: mean")
    shares = tuple(
        LiveShare(
            spread,
            slope,
            caused,
            ((caused / deviation) ** 2).named(
                f"{key}.risk.share.{spread.figure.key}",
                f"{name}: share of variance of {spread.figure.label}",
                "percent",
            ),
        )
        for spread, slope, caused in parts
    )
    return LiveRisk(result, mean, deviation, shares, _simulated(key, name, result, simulated))


def _simulated(key: str, name: str, result: Figure, risk: Risk) -> dict[str, Figure]:
    numbers = {
        "mean": risk.mean,
        "standard deviation": risk.deviation,
        "P10": risk.p10,
        "P50": risk.p50,
        "P90": risk.p90,
    }
    return {
        what: stated(
            Figure(float(f"{value:.{DIGITS}g}"), result.unit),
            f"{key}.risk.simulated.{what.replace(' ', '_')}",
            f"{name}: {what}, simulated",
        )
        for what, value in numbers.items()
    }
