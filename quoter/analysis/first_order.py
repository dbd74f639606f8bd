"""Risk to first order, as figures that a workbook keeps alive, beside the simulated one.

Each input has a mean and a standard deviation by its low, likely and high value; the slopes are
numbers of the finished costing. Inputs vary independently, so the variances they cause add up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from quoter.analysis import distributions
from quoter.analysis.distributions import Spread
from quoter.analysis.effects import slope_of
from quoter.analysis.risk import Risk, risks_of, spreads_of
from quoter.figures import Figure, dot, stated
from quoter.figures.graph import gradient
from quoter.figures.ops import absolute

DIGITS = 9  # of a simulated number; far more than samples can tell


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
        mean = distributions.triangular_mean(low, figure, high)
        deviation: Figure = distributions.triangular_variance(low, figure, high) ** 0.5
    else:
        mean = distributions.three_point_mean(low, figure, high)
        deviation = distributions.three_point_deviation(low, high)
    mean = mean.named(f"risk.{figure.key}.mean", f"{figure.label}: mean", figure.form)
    shift = (mean - figure).named(
        f"risk.{figure.key}.shift", f"{figure.label}: mean less likely", figure.form
    )
    deviation = deviation.named(
        f"risk.{figure.key}.deviation", f"{figure.label}: standard deviation", figure.form
    )
    return LiveSpread(figure, low, high, spread.shape, mean, shift, deviation)


def live_risks(
    results: Sequence[tuple[str, str, Figure]], spreads: Mapping[Figure, LiveSpread]
) -> list[LiveRisk | None]:
    """The risk of each result; None for one that rests on no uncertain input.

    Args:
        results: key, name and figure of each
        spreads: as `live_spreads` gives them for these results
    """
    simulated = risks_of([result for _, _, result in results])
    return [
        _risk(key, name, result, spreads, risk)
        for (key, name, result), risk in zip(results, simulated, strict=True)
    ]


def _risk(
    key: str, name: str, result: Figure, spreads: Mapping[Figure, LiveSpread], simulated: Risk
) -> LiveRisk | None:
    if not simulated.shares:
        return None
    slopes = gradient(result)
    parts = []
    for share in simulated.shares:
        spread, figure = spreads[share.figure], share.figure
        slope = slope_of(result, figure, slopes[figure], f"{key}.risk", name)
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
