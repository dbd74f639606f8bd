"""How sure a result is, when inputs may be lower or higher than written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from quoter.analysis.distributions import Spread, mean_and_variance, sample
from quoter.figures import Figure
from quoter.figures.graph import evaluate, gradient, inputs_of

SAMPLES = 2000


@dataclass(frozen=True, slots=True)
class Share:
    """An uncertain input and its share of a result's variance, to first order."""

    figure: Figure
    spread: Spread
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


def risks_of(outputs: Sequence[Figure], size: int = SAMPLES) -> list[Risk]:
    """The distribution of each output, all from one set of stratified samples.

    Inputs vary independently. Args: outputs, and the number of samples.
    """
    import numpy as np

    spreads = spreads_of(outputs)
    samples = {figure: sample(spread, size, figure.key) for figure, spread in spreads.items()}
    risks = []
    for output, values in zip(outputs, evaluate(outputs, samples), strict=True):
        every = np.broadcast_to(np.asarray(values, dtype=float), (size,))
        # Hazen: the k-th of n stratified samples stands at the chance of (k - 1/2) / n.
        p10, p50, p90 = (float(p) for p in np.quantile(every, [0.1, 0.5, 0.9], method="hazen"))
        risks.append(
            Risk(float(every.mean()), float(every.std()), p10, p50, p90, _shares(output, spreads))
        )
    return risks


def _shares(output: Figure, spreads: dict[Figure, Spread]) -> tuple[Share, ...]:
    slopes = gradient(output)
    variances = {
        figure: slopes.get(figure, 0.0) ** 2 * mean_and_variance(spread)[1]
        for figure, spread in spreads.items()
    }
    whole = sum(variances.values())
    shares = [
        Share(figure, spreads[figure], variance / whole)
        for figure, variance in variances.items()
        if variance
    ]
    return tuple(sorted(shares, key=lambda share: (-share.share, share.figure.key)))
