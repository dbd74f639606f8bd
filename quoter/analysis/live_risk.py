"""How sure a result is, as figures that a workbook keeps alive, to first order.

Each input has a mean and a standard deviation by its low, likely and high value; groups of inputs
that move together have a correlation; the slopes are numbers of the finished costing. What the
largest causes bring is live; what all others bring is a number of the build, one for each group.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from quoter.analysis.ranges import WRITTEN, Varying, lower_limit, upper_limit
from quoter.analysis.risk import Risk, Share, caused_by, correlation_in
from quoter.analysis.sensitivity import slope_of
from quoter.analysis.spreads import Group, mean_and_variance
from quoter.engineering.uncertainty import (
    contingency,
    range_end,
    share_together,
    three_point_deviation,
    three_point_mean,
    triangular_mean,
    triangular_variance,
    variance_together,
)
from quoter.figures import Figure, at_least, at_most, dot, stated, total
from quoter.figures.ops import absolute
from quoter.phrases import phrase, together

DIGITS = 9  # of a simulated number; far more than samples can tell
MOST_CAUSES = 8  # inputs that stay live, by result
MOST_GROUPS = 5  # that are told by name, by result
ITSELF, REST = phrase("each by itself"), phrase("all other groups")


@dataclass(frozen=True, slots=True)
class LiveSpread:
    """A varying input: its mean, how far that is from the likely value, and its deviation."""

    varying: Varying
    low: Figure
    high: Figure
    mean: Figure
    shift: Figure
    deviation: Figure

    @property
    def figure(self) -> Figure:
        """The input."""
        return self.varying.figure


@dataclass(frozen=True, slots=True)
class LiveShare:
    """What a varying input does to a result: slope, deviation caused, share of the variance.

    The deviation has the sign that it has within its group.
    """

    spread: LiveSpread
    slope: Figure
    deviation: Figure
    share: Figure


@dataclass(frozen=True, slots=True)
class LiveGroup:
    """What moves together: its correlation, the sum of the deviations caused and of their squares,
    the variance that it brings and its share. Of all other groups only the variance is known."""

    words: str
    correlation: Figure | None
    whole: Figure | None
    squares: Figure | None
    variance: Figure
    share: Figure


@dataclass(frozen=True, slots=True)
class LiveRisk:
    """A result's mean and deviation to first order, their causes, and the simulated numbers.

    `simulated` holds mean, standard deviation and percentiles, by what they are called.
    """

    result: Figure
    mean: Figure
    deviation: Figure
    shares: tuple[LiveShare, ...]
    groups: tuple[LiveGroup, ...]
    simulated: Mapping[str, Figure]
    contingency: Figure


def causes_of(risk: Risk) -> list[Share]:
    """The inputs whose part of a result's variance stays live: the largest of the named groups."""
    named = _named(risk)
    found = [share for share in risk.shares if share.varying.group in named]
    return found[:MOST_CAUSES]


def _named(risk: Risk) -> list[Group | None]:
    """The groups that are told by name, the one with most of the variance first."""
    parts: dict[Group | None, float] = {}
    for share in risk.shares:
        group = share.varying.group
        parts[group] = parts.get(group, 0.0) + share.share
    return sorted(parts, key=lambda group: (-parts[group], group.name if group else ""))[
        :MOST_GROUPS
    ]


def live_spreads(risks: Iterable[Risk]) -> dict[Figure, LiveSpread]:
    """The inputs that are live in any of the risks."""
    found: dict[Figure, LiveSpread] = {}
    for risk in risks:
        for share in causes_of(risk):
            if share.figure not in found:
                found[share.figure] = _spread(share.varying)
    return found


def _spread(varying: Varying) -> LiveSpread:
    figure, key = varying.figure, f"risk.{varying.figure.key}"
    low, high = _end(varying, "low"), _end(varying, "high")
    if varying.spread.shape == "triangular":
        mean = triangular_mean(low, figure, high)
        deviation: Figure = triangular_variance(low, figure, high) ** 0.5
    else:
        mean = three_point_mean(low, figure, high)
        deviation = three_point_deviation(low, high)
    mean = mean.named(f"{key}.mean", phrase("{label}: mean", label=figure.label), figure.form)
    shift = (mean - figure).named(
        f"{key}.shift", phrase("{label}: mean less likely", label=figure.label), figure.form
    )
    deviation = deviation.named(
        f"{key}.deviation", phrase("{label}: standard deviation", label=figure.label), figure.form
    )
    return LiveSpread(varying, low, high, mean, shift, deviation)


def _end(varying: Varying, which: str) -> Figure:
    """An end of a range: as written, or by the part of the likely value that its kind states."""
    figure = varying.figure
    key, below = f"risk.{figure.key}.{which}", which == "low"
    label = phrase("{label}: low" if below else "{label}: high", label=figure.label)
    part = varying.below if below else varying.above
    if varying.source == WRITTEN or part is None:
        value = varying.spread.low if below else varying.spread.high
        place = figure.origin.place if figure.origin else None
        return stated(Figure(value, figure.unit, form=figure.form), key, label, place)
    end = range_end(figure, -part if below else part)
    limit = lower_limit(figure) if below else upper_limit(figure)
    if limit is not None:
        bound = Figure(limit, figure.unit)
        end = at_least(end, bound) if below else at_most(end, bound)
    return end.named(key, label, figure.form)


def live_risk(
    result: Figure,
    simulated: Risk,
    spreads: Mapping[Figure, LiveSpread],
    key: str,
    name: str,
    correlations: Mapping[str, Figure] | None = None,
) -> LiveRisk | None:
    """A result's risk as figures that stay live; None where it rests on no varying input.

    Args:
        result: the figure asked about
        simulated: its risk
        spreads: as `live_spreads` gives them for this result and maybe others
        key: begins the figures' keys
        name: begins their labels
        correlations: of each kind of group, as a figure
    """
    if not simulated.shares:
        return None
    live = _Live(result, f"{key}.risk", name, correlations or {})
    for share in causes_of(simulated):
        live.cause(share, spreads[share.figure])
    own = {share.figure for share in live.causes}
    rest = [share for share in simulated.shares if share.figure not in own]
    named = _named(simulated)
    groups = [live.group(group, rest) for group in named]
    others = [share for share in rest if share.varying.group not in named]
    return live.finished(groups, others, rest, simulated)


@dataclass(frozen=True, slots=True)
class _Group:
    """A group as it is summed up, before the whole variance is known."""

    group: Group | None
    correlation: Figure
    whole: Figure
    squares: Figure
    variance: Figure


class _Live:
    """Figures of one result as they come about."""

    def __init__(
        self, result: Figure, key: str, name: str, correlations: Mapping[str, Figure]
    ) -> None:
        """Nothing is there yet."""
        self.result, self._key, self._name = result, key, name
        self._correlations = correlations
        self.causes: dict[Share, tuple[LiveSpread, Figure, Figure]] = {}

    def cause(self, share: Share, spread: LiveSpread) -> None:
        """An input that stays live: its slope and the deviation that it causes."""
        figure, group = share.figure, share.varying.group
        slope = slope_of(self.result, figure, share.slope, self._key, self._name)
        caused = slope * spread.deviation
        if group is None:
            caused = absolute(caused)
        elif share.varying.sign < 0:
            caused = -caused
        caused = self._named(
            caused, f"deviation.{figure.key}", phrase("deviation by {label}", label=figure.label)
        )
        self.causes[share] = (spread, slope, caused)

    def group(self, group: Group | None, rest: Sequence[Share]) -> _Group:
        """What a group's live inputs and the rest of it bring together."""
        own = [c for share, (_, _, c) in self.causes.items() if share.varying.group == group]
        others = [_caused(share) for share in rest if share.varying.group == group]
        words = group.words if group else ITSELF
        key = f"group.{(group.name if group else 'alone').replace(' ', '_')}"
        wholes, squares = list(own), [dot(own, own)] if own else []
        if others:
            many = phrase("{words}: {others} other inputs", words=words, others=len(others))
            wholes.append(self._given(sum(others), f"{key}.others", many))
            power = sum(one**2 for one in others)
            squares.append(
                self._given(power, f"{key}.other_squares", phrase("{many}, squares", many=many), 2)
            )
        whole = self._named(
            total(wholes, self.result), f"{key}.sum", phrase("{words}: sum", words=words)
        )
        square = self._named(
            total(squares, self.result), f"{key}.squares", phrase("{words}: squares", words=words)
        )
        correlation = self._correlation(group)
        variance = variance_together(whole, square, correlation)
        variance = self._named(
            variance, f"{key}.variance", phrase("{words}: variance", words=words)
        )
        return _Group(group, correlation, whole, square, variance)

    def finished(
        self,
        groups: Sequence[_Group],
        others: Sequence[Share],
        rest: Sequence[Share],
        simulated: Risk,
    ) -> LiveRisk:
        """The result's risk; `others` are of no group that is told, `rest` are not live."""
        variances = [each.variance for each in groups]
        if others:
            variances.append(
                self._given(
                    _variance(others), "group.rest", phrase("{rest}: variance", rest=REST), 2
                )
            )
        variance = self._named(total(variances, self.result), "variance", phrase("variance"))
        deviation = self._named(variance**0.5, "deviation", phrase("standard deviation"))
        live = [
            LiveGroup(
                each.group.words if each.group else ITSELF,
                each.correlation,
                each.whole,
                each.squares,
                each.variance,
                self._part(each.variance / variance, f"{each.variance.key}.share"),
            )
            for each in groups
        ]
        if others:
            share = self._part(variances[-1] / variance, f"{variances[-1].key}.share")
            live.append(LiveGroup(REST, None, None, None, variances[-1], share))
        told = self._simulated(simulated)
        covering = contingency(told["P80"], self.result)
        return LiveRisk(
            result=self.result,
            mean=self._mean(rest),
            deviation=deviation,
            shares=tuple(self._shares(groups, variance)),
            groups=tuple(live),
            simulated=told,
            contingency=self._named(covering, "contingency", phrase("contingency to P80")),
        )

    def _shares(self, groups: Sequence[_Group], variance: Figure) -> Iterable[LiveShare]:
        by_group = {each.group: each for each in groups}
        for share, (spread, slope, caused) in self.causes.items():
            own = by_group[share.varying.group]
            part = share_together(caused, own.whole, own.correlation, variance)
            label = phrase("share of variance of {label}", label=share.figure.label)
            part = self._named(part, f"share.{share.figure.key}", label, "percent")
            yield LiveShare(spread, slope, caused, part)

    def _mean(self, rest: Sequence[Share]) -> Figure:
        causes = self.causes.values()
        slopes, shifts = [s for _, s, _ in causes], [spread.shift for spread, _, _ in causes]
        mean = self.result + dot(slopes, shifts)
        if rest:
            spreads = [(s.slope, mean_and_variance(s.spread)[0] - s.spread.likely) for s in rest]
            shift = sum(slope * moved for slope, moved in spreads)
            label = phrase("mean less likely, {rest} other inputs", rest=len(rest))
            mean = mean + self._given(shift, "others.shift", label)
        return self._named(mean, "mean", phrase("mean"))

    def _correlation(self, group: Group | None) -> Figure:
        if group is not None and group.of in self._correlations:
            return self._correlations[group.of]
        words = group.words if group else ITSELF
        number = Figure(correlation_in(group), form="percent")
        return stated(number, f"{self._key}.correlation.{words.replace(' ', '_')}", words)

    def _simulated(self, risk: Risk) -> dict[str, Figure]:
        numbers = {
            phrase("mean"): risk.mean,
            phrase("standard deviation"): risk.deviation,
            "P10": risk.p10,
            "P50": risk.p50,
            "P80": risk.p80,
            "P90": risk.p90,
        }
        return {
            what: self._given(
                value, f"simulated.{what.replace(' ', '_')}", phrase("{what}, simulated", what=what)
            )
            for what, value in numbers.items()
        }

    def _named(self, figure: Figure, key: str, label: str, form: str = "") -> Figure:
        return figure.named(f"{self._key}.{key}", together(": ", (self._name, label)), form)

    def _part(self, figure: Figure, key: str) -> Figure:
        return figure.named(key, phrase("{name}: share of variance", name=self._name), "percent")

    def _given(self, value: float, key: str, label: str, power: int = 1) -> Figure:
        number = Figure(float(f"{value:.{DIGITS}g}"), self.result.unit**power)
        return stated(number, f"{self._key}.{key}", together(": ", (self._name, label)))


def _caused(share: Share) -> float:
    one = caused_by(share.slope, share.varying)
    return abs(one) if share.varying.group is None else one


def _variance(shares: Sequence[Share]) -> float:
    """The variance that inputs of several groups bring, each group by itself."""
    groups: dict[Group | None, list[float]] = {}
    for share in shares:
        groups.setdefault(share.varying.group, []).append(_caused(share))
    return sum(
        variance_together(sum(ones), sum(one**2 for one in ones), correlation_in(group))
        for group, ones in groups.items()
    )
