"""How sure a result is, when the inputs behind it may be lower or higher than written.

All inputs that vary are drawn together, those of a group so that they move together, and each
result is worked out anew. Shares of the variance are first of all those of straight lines through
the result by its slopes. Where these lines do not tell the drawn results well enough, the shares
of groups are Shapley's, and within a group those of the lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from quoter.analysis.kinds import KIND_WORDS
from quoter.analysis.ranges import SOURCES, Varying, as_written
from quoter.analysis.sensitivity import Slopes
from quoter.analysis.shares import group_effects, shapley_shares
from quoter.analysis.spreads import Asked, Draws, Group, Spread, mean_and_variance, percentiles
from quoter.engineering.uncertainty import contingency, share_together, variance_together
from quoter.figures import Figure
from quoter.figures.graph import evaluate, gradient
from quoter.phrases import phrase

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

SAMPLES = 2000
# Of the variance that straight lines must tell, for their shares to be the ones that are shown.
EXPLAINED = 0.95
SMALL = 0.01  # a group with less of the variance goes with the others when shares are Shapley's
OTHERS, APART = phrase("all others"), phrase("others, each by itself")


@dataclass(frozen=True, slots=True)
class Share:
    """A varying input, a result's slope by it, and its share of the result's variance.

    The share is negative where the input makes up for others of its group.
    """

    varying: Varying
    slope: float
    share: float

    @property
    def figure(self) -> Figure:
        """The input."""
        return self.varying.figure

    @property
    def spread(self) -> Spread:
        """What it may be."""
        return self.varying.spread


@dataclass(frozen=True, slots=True)
class Source:
    """How many of the varying inputs have their range from one source, and their share."""

    name: str
    inputs: int
    share: float


@dataclass(frozen=True, slots=True)
class Risk:
    """A result's distribution, and what causes it.

    `groups` are the shares of what moves together or is of one kind, the largest first.
    `explained` is the part of the variance that straight lines tell; `bent` says that it is too
    little for their shares. `beyond` is the chance of more than the limit that was asked about.
    """

    mean: float
    deviation: float
    p10: float
    p50: float
    p80: float
    p90: float
    contingency: float
    shares: tuple[Share, ...]
    groups: tuple[tuple[str, float], ...]
    explained: float
    beyond: float | None

    @property
    def bent(self) -> bool:
        """Whether the shares are Shapley's, since straight lines tell too little."""
        return self.explained < EXPLAINED

    @property
    def sources(self) -> list[Source]:
        """By where ranges are from: inputs and their share of the variance."""
        found = []
        for name in SOURCES:
            own = [share.share for share in self.shares if share.varying.source == name]
            found.append(Source(name, len(own), sum(own)))
        return found


def risks_of(
    outputs: Sequence[Figure],
    size: int = SAMPLES,
    slopes_of: Slopes = gradient,
    varying: Mapping[Figure, Varying] | None = None,
    draws: Draws | None = None,
    limits: Mapping[Figure, float] | None = None,
) -> list[Risk]:
    """The distribution of each output, all from one set of stratified samples.

    Args:
        outputs: the figures asked about
        size: the number of samples
        slopes_of: the slopes of an output by its inputs, where they are already known
        varying: the inputs that vary, with what each may be; those with a range written beside
            them, each by itself, unless given
        draws: values drawn for other outputs, to be drawn on
        limits: of outputs, the chance of more than which is asked for
    """
    slopes = [slopes_of(output) for output in outputs]
    if varying is None:
        varying = as_written(dict.fromkeys(figure for each in slopes for figure in each))
    draws = draws or Draws(size)
    drawn = _drawn(draws, varying)
    values = _results(outputs, drawn, draws.size)
    lines = [_lines(each, varying) for each in slopes]
    told = _explained(values, slopes, drawn)
    bent = [n for n, part in enumerate(told) if part < EXPLAINED]
    anew = _shapley([outputs[n] for n in bent], [lines[n] for n in bent], drawn, draws.size)
    for n, groups in zip(bent, anew, strict=True):
        lines[n] = _scaled(lines[n], groups)
    return [
        _risk(output, every, shares, part, (limits or {}).get(output))
        for output, every, shares, part in zip(outputs, values, lines, told, strict=True)
    ]


def _risk(
    output: Figure, values: FloatArray, shares: list[Share], told: float, limit: float | None
) -> Risk:
    p10, p50, p80, p90 = percentiles(values, [0.1, 0.5, 0.8, 0.9])
    ordered = sorted(shares, key=lambda share: (-abs(share.share), share.figure.key))
    groups: dict[str, float] = {}
    for share in shares:
        label = label_of(share.varying)
        groups[label] = groups.get(label, 0.0) + share.share
    return Risk(
        mean=float(values.mean()),
        deviation=float(values.std()),
        p10=p10,
        p50=p50,
        p80=p80,
        p90=p90,
        contingency=contingency(p80, output.value),
        shares=tuple(ordered),
        groups=tuple(sorted(groups.items(), key=lambda each: (-each[1], each[0]))),
        explained=told,
        beyond=None if limit is None else float((values > limit).mean()),
    )


def _drawn(draws: Draws, varying: Mapping[Figure, Varying]) -> dict[Figure, FloatArray]:
    every = [Asked(figure.key, v.spread, v.group, v.sign) for figure, v in varying.items()]
    return dict(zip(varying, draws.of(every), strict=True))


def label_of(varying: Varying) -> str:
    """What an input's share is told with: its group, else its kind."""
    if varying.group is not None:
        return varying.group.words
    return KIND_WORDS.get(varying.kind, APART)


def _results(
    outputs: Sequence[Figure], drawn: Mapping[Figure, FloatArray], size: int
) -> list[FloatArray]:
    import numpy as np

    found = evaluate(outputs, drawn, free=True)
    return [np.broadcast_to(np.asarray(one, dtype=float), (size,)) for one in found]


def caused_by(slope: float, varying: Varying) -> float:
    """The deviation that an input causes, with its sign within its group."""
    deviation: float = mean_and_variance(varying.spread)[1] ** 0.5
    return slope * varying.sign * deviation


def _lines(slopes: Mapping[Figure, float], varying: Mapping[Figure, Varying]) -> list[Share]:
    """Shares by straight lines: each input's covariance with the result, over the variance."""
    caused = {
        figure: caused_by(slope, varying[figure])
        for figure, slope in slopes.items()
        if figure in varying and slope
    }
    groups: dict[Group | None, list[float]] = {}
    for figure, one in caused.items():
        groups.setdefault(varying[figure].group, []).append(one)
    sums = {group: sum(ones) for group, ones in groups.items()}
    variance = sum(
        variance_together(sums[group], sum(one**2 for one in ones), correlation_in(group))
        for group, ones in groups.items()
    )
    if not variance:
        return []
    shares = []
    for figure, one in caused.items():
        group = varying[figure].group
        share = share_together(one, sums[group], correlation_in(group), variance)
        if one:
            shares.append(Share(varying[figure], slopes[figure], share))
    return shares


def correlation_in(group: Group | None) -> float:
    """How strongly inputs of a group move together; those of none don't."""
    return 0.0 if group is None else group.correlation


def _explained(
    values: Sequence[FloatArray],
    slopes: Sequence[Mapping[Figure, float]],
    drawn: Mapping[Figure, FloatArray],
) -> list[float]:
    """The part of each result's variance that straight lines by its slopes tell."""
    import numpy as np

    told = []
    for every, by_input in zip(values, slopes, strict=True):
        off, variance = every.copy(), float(every.var())
        for figure, slope in by_input.items():
            if slope and figure in drawn:
                off -= slope * drawn[figure]
        told.append(1 - float(np.var(off)) / variance if variance > NOISE * every[0] ** 2 else 1.0)
    return told


NOISE = 1e-24  # of a result's square; what floating numbers make of no variance at all


def _shapley(
    outputs: Sequence[Figure],
    lines: Sequence[Sequence[Share]],
    drawn: Mapping[Figure, FloatArray],
    size: int,
) -> list[dict[str, float]]:
    """Shares of groups of each output, by label, from draws and draws anew."""
    if not outputs:
        return []
    labels = _labels(lines)
    every = {share.figure: share.varying for shares in lines for share in shares}
    again = _drawn(Draws(size, "anew "), every)
    names = list(dict.fromkeys(labels.values()))
    one: list[dict[Figure, FloatArray]] = [{} for _ in names]
    other: list[dict[Figure, FloatArray]] = [{} for _ in names]
    for figure, v in every.items():
        place = names.index(labels[label_of(v)])
        one[place][figure], other[place][figure] = drawn[figure], again[figure]

    def run(parts: Sequence[Mapping[Figure, FloatArray]]) -> list[FloatArray]:
        return _results(outputs, {f: x for part in parts for f, x in part.items()}, size)

    return [
        dict(zip(names, shapley_shares(effects), strict=True))
        for effects in group_effects(run, one, other)
    ]


def _labels(lines: Iterable[Sequence[Share]]) -> dict[str, str]:
    """Label of an input -> the group it is told in: small ones go together."""
    largest: dict[str, float] = {}
    for shares in lines:
        own: dict[str, float] = {}
        for share in shares:
            label = label_of(share.varying)
            own[label] = own.get(label, 0.0) + share.share
        for label, part in own.items():
            largest[label] = max(largest.get(label, 0.0), part)
    return {label: label if part >= SMALL else OTHERS for label, part in largest.items()}


def _scaled(lines: Sequence[Share], groups: Mapping[str, float]) -> list[Share]:
    """Shares of inputs that add up to those of their groups."""
    own: dict[str, float] = {}
    for share in lines:
        label = label_of(share.varying)
        label = label if label in groups else OTHERS
        own[label] = own.get(label, 0.0) + share.share
    found = []
    for share in lines:
        label = label_of(share.varying)
        label = label if label in groups else OTHERS
        part = share.share / own[label] * groups[label] if own[label] else 0.0
        found.append(Share(share.varying, share.slope, part))
    return found
