"""Better efficiencies of stations, losses of materials, yields, and shares of rework.

Each sample says which value its own actual would have followed from, all else by standard; the
slope of the standard's graph gives it. Where most samples are nothing, as of rework and scrap, the
totals count and not the median.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from quoter.actuals.compared import Actuals, Compared
from quoter.actuals.drawn import Better
from quoter.actuals.evidence import Evidence, Sample, rounding_error, variance_of
from quoter.actuals.samples import (
    FEWEST,
    Interval,
    deviation,
    median_interval,
    ratio_of_totals,
    share_interval,
    widened,
)
from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.figures.graph import gradient, input_behind
from quoter.phrases import phrase

ALL = 1.0  # the most that a share can be
MOSTLY = 0.5  # of a station's hours, that its efficiency must divide to be told by them


def better_shares(actuals: Actuals, evidence: Evidence) -> Iterator[Better]:
    """All of them that data contradict."""
    yield from _efficiencies(actuals, evidence)
    yield from _losses(actuals)
    yield from _yields(actuals)
    yield from _rework(actuals, evidence)


def _efficiencies(actuals: Actuals, evidence: Evidence) -> Iterator[Better]:
    """Of stations whose hours are not booked by operation; else their times are told themselves."""
    told_apart = {
        str(work.operation.station)
        for work in evidence.works.values()
        if len(work.samples) >= FEWEST
    }
    for id, at in evidence.stations.items():
        if at.apart or id in told_apart:
            continue
        figure = input_behind(actuals.pricing.costing.stations[id].efficiency)
        found = [(s, r) for s in at.samples if (r := _earned(s, figure)) is not None]
        if len(found) < FEWEST:
            continue
        samples, ratios = [s for s, _ in found], [r for _, r in found]
        told = widened(median_interval(ratios), rounding_error(samples))
        if told.holds(1.0) or told.low <= 0:
            continue
        value = figure.value
        words = phrase(
            "{count} samples: {ratio} times the standard, whatever was done there; its operations"
            " are not booked apart",
            count=len(samples),
            ratio=f"{told.likely:.2f}",
        )
        better = Interval(value / told.likely, value / told.high, value / told.low, told.level)
        least = median(sample.rounding for sample in samples)
        spread = deviation([math.log(ratio) for ratio in ratios], least)
        yield Better(figure, better, len(samples), spread, words)


def _earned(sample: Sample, efficiency: Figure) -> float | None:
    """Actual over standard of the hours that a station's efficiency divides.

    None where these are few: hours that a boat states are not divided by it, and more likely off.
    """
    terms = [(figure, factor, _slope(figure, efficiency)) for figure, factor in sample.terms]
    divided = sum(-slope * then * factor for _, factor, (slope, then) in terms)
    whole = sum(figure.value * factor for figure, factor, _ in terms)
    if divided < MOSTLY * whole:
        return None
    took = sample.actual * sample.pieces - (whole - divided)
    now = sum(-slope * then**2 * factor / efficiency.value for _, factor, (slope, then) in terms)
    return took / now if took > 0 and now > 0 else None


def _slope(figure: Figure, by: Figure) -> tuple[float, float]:
    """How a figure moves with an input of this key, and what the input was when it was made."""
    for found, slope in gradient(figure).items():
        if found.key == by.key:
            return slope, found.value
    return 0.0, by.value


def _losses(actuals: Actuals) -> Iterator[Better]:
    """Of materials, where each job or month that used them says what loss that was."""
    materials = actuals.pricing.catalogue.records.materials
    for id, rows in _of_materials(actuals).items():
        record = materials.get(id)
        loss, waste = getattr(record, "loss", None), getattr(record, "waste_on_net", None)
        written = loss if loss is not None else waste
        if written is None:
            continue
        figure = input_behind(written)
        values = [v for of in rows if (v := _lost(of, figure, loss is not None)) is not None]
        if len(values) < FEWEST:
            continue
        told = median_interval(values).mapped(lambda value: max(value, 0.0))
        if told.holds(figure.value):
            continue
        words = phrase("{count} samples of what was used for what was needed", count=len(values))
        yield Better(figure, told, len(values), deviation(values), words, relative=False)


def _of_materials(actuals: Actuals) -> dict[str, list[list[Compared]]]:
    """What was used of each material by finished jobs, and in months where none are named."""
    found: dict[str, dict[tuple[str, str], list[Compared]]] = {}
    for one in actuals.compared:
        kind, _, id = one.scope.resource.partition(".")
        job = actuals.jobs.get(one.scope.job)
        if kind == "material" and not (job is not None and job.open):
            of = (one.scope.job, "" if one.scope.job else one.scope.month)
            found.setdefault(id, {}).setdefault(of, []).append(one)
    return {id: list(by_scope.values()) for id, by_scope in found.items()}


def _lost(rows: Iterable[Compared], figure: Figure, of_issued: bool) -> float | None:
    """The loss by which a sample's standard would have been what was used.

    As a part of what is issued, standard = needed / (1 - loss); on net, needed * (1 + waste).
    """
    used = standard = moved = needed = 0.0
    for one in rows:
        if one.actual_quantity is None or one.standard_quantity is None or not one.standard.value:
            continue
        factor = 1 + variance_of(one, "scrap") / one.standard.value
        slope, then = _slope(one.standard_quantity, figure)
        used += one.actual_quantity.value
        standard += one.standard_quantity.value * factor
        moved += slope * factor * ((1 - then) if of_issued else (1 + then))
        needed += slope * factor * ((1 - then) ** 2 if of_issued else 1.0)
    left = used - (standard - moved)
    if needed <= 0 or left <= 0:
        return None
    return 1 - needed / left if of_issued else left / needed - 1


@dataclass(slots=True)
class _Route:
    """What passes at the operations of parts that share their yields, and how much was good."""

    passes: tuple[Figure, ...]
    good: float = 0.0
    scrapped: float = 0.0


def _yields(actuals: Actuals) -> Iterator[Better]:
    """Of parts whose pieces are counted; of several operations each bears its part of the scrap."""
    assemblies = _assemblies(actuals)
    routes: dict[tuple[str, ...], _Route] = {}
    for pulled in actuals.pulled:
        made = assemblies.get(pulled.part)
        passes = [] if made is None else [done.operation.passes for done in made.operations]
        inputs = tuple(input_behind(each) for each in passes if each is not None)
        if inputs:
            route = routes.setdefault(tuple(f.key for f in inputs), _Route(inputs))
            route.good += pulled.good.value
            route.scrapped += pulled.scrapped.value
    for route in routes.values():
        number, planned = route.good + route.scrapped, math.prod(f.value for f in route.passes)
        if number < FEWEST or planned <= 0:
            continue
        told = share_interval(route.good, number)
        if told.holds(planned):
            continue
        words = phrase("{good} of {number} pieces were good", good=f"{route.good:g}",
                       number=f"{number:g}")  # fmt: skip
        yield from _borne_by_all(route, told, planned, round(number), words)


def _borne_by_all(
    route: _Route, told: Interval, planned: float, number: int, words: str
) -> Iterator[Better]:
    for figure in route.passes:
        low, likely, high = (
            _borne(share, figure, planned, len(route.passes))
            for share in (told.low, told.likely, told.high)
        )
        interval = Interval(likely, low, high, told.level)
        yield Better(figure, interval, number, 0.0, words, relative=False)


def _borne(share: float, figure: Figure, planned: float, number: int) -> float:
    """The yield of one operation where all together pass a share: its own part of the loss.

    passes^(ln share / ln planned), so that the product of all is the share; of a route that loses
    nothing by plan, the loss is borne alike.
    """
    if planned >= ALL:
        return math.pow(share, 1 / number)
    return float(figure.value ** (math.log(max(share, 1e-9)) / math.log(planned)))


def _assemblies(actuals: Actuals) -> Mapping[str, Assembly]:
    """Everything that is made, by its key."""
    found = {each.recipe.key: each for each in actuals.pricing.costing.parts.values()}
    for model in actuals.pricing.costing.models.values():
        for assembly in (*model.options.values(), model.base):
            found.setdefault(assembly.recipe.key, assembly)
    return found


def _rework(actuals: Actuals, evidence: Evidence) -> Iterator[Better]:
    """Shares of pieces that are mended, where hours of rework are told apart by operation."""
    mended: dict[str, list[tuple[float, float]]] = {}
    shares: dict[str, Figure] = {}
    again = [work.operation.rework for work in evidence.works.values()]
    inputs = [input_behind(each.share) for each in again if each is not None]
    records = {figure.key: figure for figure in inputs}
    for one in actuals.compared:
        if not one.scope.operation or not any(line.kind == "rework" for line in one.lines):
            continue
        standard = one.standard_quantity
        if standard is None or not one.standard.value:
            continue
        for found, slope in gradient(standard).items():
            if found.key in records and slope:
                factor = 1 + variance_of(one, "scrap") / one.standard.value
                planned = slope * found.value * factor
                more = variance_of(one, "rework") * standard.value / one.standard.value
                mended.setdefault(found.key, []).append((max(planned + more, 0.0), planned))
                shares[found.key] = records[found.key]
    for key, pairs in mended.items():
        if len(pairs) >= FEWEST:
            yield from _better_rework(shares[key], pairs)


def _better_rework(figure: Figure, pairs: Sequence[tuple[float, float]]) -> Iterator[Better]:
    told = ratio_of_totals([actual for actual, _ in pairs], [planned for _, planned in pairs])
    if told.holds(1.0):
        return
    words = phrase(
        "{count} samples: {ratio} times the hours of rework that were planned",
        count=len(pairs),
        ratio=f"{told.likely:.2f}",
    )
    share = told.mapped(lambda part: min(part * figure.value, ALL))
    yield Better(figure, share, len(pairs), 0.0, words, relative=False)
