"""How good our estimates are: actual against standard by operation, with what can be said of it.

Ratios are told by their median, which a stray job hardly moves; whoever is far from the others is
marked. Of fewer than five samples nothing is said but that they are too few.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from statistics import median

from quoter.actuals.after import Quoted
from quoter.actuals.compared import Actuals
from quoter.actuals.evidence import AtStation, Evidence, Sample, Work, rounding_error, station_key
from quoter.actuals.fits import learned, trend
from quoter.actuals.samples import (
    FEWEST,
    STRAY,
    Interval,
    deviation,
    median_interval,
    modified_scores,
    widened,
)
from quoter.analysis.kinds import known_inputs
from quoter.analysis.ranges import Ranges
from quoter.analysis.spreads import Asked, Draws, percentiles
from quoter.catalogue.certainty import BASES, BASIS_WORDS, SIMILAR
from quoter.catalogue.operations import DRIVERS, Operation
from quoter.figures import Figure
from quoter.figures.graph import evaluate, input_behind, inputs_of
from quoter.phrases import phrase, together

__all__ = ["Bias", "Estimate", "Estimates", "Interval", "Sample", "estimates_of"]

ENOUGH_LOTS = 8  # of which a learning slope is told, where their numbers at least double
DOUBLING = 2.0
A_YEAR = 365.25  # days
DRAWN = 400  # values of each input, for the P80 of a standard
P80 = 0.8
STATION, DRIVER, BASIS, PREPARER = "station", "driver", "basis", "preparer"
FIXED, SETUP = "fixed", "setup"
DRIVER_WORDS: dict[str, str] = {
    FIXED: phrase("fixed time"),
    SETUP: phrase("set-up"),
    "area": phrase("by area"),
    "perimeter": phrase("by perimeter"),
    "plies": phrase("by plies"),
    "glass mass": phrase("by glass mass"),
    "gelcoat faces": phrase("by gelcoat faces"),
    "count": phrase("by count"),
    "fasteners": phrase("by fasteners"),
    "length": phrase("by length"),
    "foam mass": phrase("by foam mass"),
    "sprayed mass": phrase("by sprayed mass"),
}


@dataclass(frozen=True, slots=True)
class Estimate:
    """What samples of an operation (or of a station, where operations are not booked) say.

    `ratio` of actual to standard; `spread` its robust standard deviation; `trend` of the ratio a
    year; `learning` the fitted slope, as the fraction at each doubling; `held` how often the P80 of
    the catalogue's range held. None where data are too few to say, which `doubt` says in words.
    """

    key: str
    part: str
    operation: int
    station: str
    name: str
    samples: tuple[Sample, ...]
    standard: Figure | None
    ratio: Interval | None
    spread: float | None
    trend: Interval | None
    learning: Interval | None
    held: tuple[int, int] | None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Bias:
    """Ratio of actual to standard over all operations of a group: a station, a kind of driver, a
    basis of the time (timed, similar, drawing), or who prepared the quote."""

    of: str
    id: str
    name: str
    samples: int
    ratio: Interval | None


@dataclass(frozen=True, slots=True)
class Estimates:
    """All of it, operations in the order of the catalogue; `evidence` is what it rests on."""

    operations: tuple[Estimate, ...]
    stations: tuple[Estimate, ...]
    biases: tuple[Bias, ...]
    evidence: Evidence | None = field(default=None, repr=False, compare=False)


def estimates_of(actuals: Actuals, quotes: Mapping[str, Quoted] | None = None) -> Estimates:
    """How good the estimates are that finished jobs were held against.

    Args:
        actuals: what was booked, compared
        quotes: what jobs were sold for, by their numbers, with who prepared it; where none are
            given, nothing is said by preparer
    """
    evidence = Evidence(actuals)
    works, stations = evidence.works, evidence.stations
    every = [_marked(work.samples) for work in works.values()]
    every += [_marked(station.samples) for station in stations.values()]
    reached = iter(_p80s(actuals, [sample for of in every for sample in of]))
    told = iter([[replace(sample, p80=next(reached)) for sample in of] for of in every])
    operations = tuple(_of_work(work, next(told)) for work in works.values())
    at = tuple(_of_station(actuals, station, next(told)) for station in stations.values())
    biases = tuple(_biases(actuals, evidence, at, quotes or {}))
    return Estimates(operations, at, biases, evidence)


def _marked(samples: Sequence[Sample]) -> list[Sample]:
    """The samples with what is said of those far from the others."""
    if len(samples) < FEWEST:
        return [*samples]
    logs = [math.log(sample.ratio) for sample in samples]
    scores = modified_scores(logs, median(sample.rounding for sample in samples))
    return [
        replace(sample, outlier=_stray_words(score)) if abs(score) > STRAY else sample
        for sample, score in zip(samples, scores, strict=True)
    ]


def _stray_words(score: float) -> str:
    far = f"{abs(score):.1f}"
    if score > 0:
        return phrase("{far} robust deviations above the others; it weighs less", far=far)
    return phrase("{far} robust deviations below the others; it weighs less", far=far)


def _p80s(actuals: Actuals, samples: Sequence[Sample]) -> list[float]:
    """The P80 of each sample's standard by the ranges of its inputs, in hours a piece."""
    terms = [figure for sample in samples for figure, _ in sample.terms]
    ranges = Ranges(actuals.pricing.catalogue).varying(inputs_of(terms))
    drawn = Draws(DRAWN).of(
        [Asked(figure.key, v.spread, v.group, v.sign) for figure, v in ranges.items()]
    )
    values = iter(evaluate(terms, dict(zip(ranges, drawn, strict=True)), free=True))
    found = []
    for sample in samples:
        whole = sum(next(values) * factor for _, factor in sample.terms)
        reached = whole if isinstance(whole, float) else percentiles(whole, [P80])[0]
        found.append(float(reached) / sample.pieces)
    return found


def _of_work(work: Work, samples: Sequence[Sample]) -> Estimate:
    name = str(work.operation.name)
    if len(work.parts) > 1:
        name = phrase("{name}, of {count} parts", name=name, count=len(work.parts))
    told = _told(samples)
    model = work.operation.learning.model if work.operation.learning is not None else "unit"
    learning = learning_of(samples, model)
    if learning is not None and work.operation.learning is None:
        counted = phrase("pieces are counted from the first that was booked")
        told = replace(told, doubt=together("; ", [w for w in (told.doubt, counted) if w]))
    return replace(
        told,
        key=work.key,
        part=work.part,
        operation=work.number,
        station=str(work.operation.station),
        name=name,
        standard=work.cost.paid,
        learning=learning,
    )


def _of_station(actuals: Actuals, at: AtStation, samples: Sequence[Sample]) -> Estimate:
    record = actuals.pricing.costing.stations[at.id]
    return replace(_told(samples), key=station_key(record), station=at.id, name=str(record.name))


def _told(samples: Sequence[Sample]) -> Estimate:
    """What samples say; nothing where they are few."""
    nothing = Estimate("", "", 0, "", "", tuple(samples), None, None, None, None, None, None)
    if len(samples) < FEWEST:
        words = phrase(
            "{count} of the {fewest} samples that it takes to say anything",
            count=len(samples),
            fewest=FEWEST,
        )
        return replace(nothing, doubt=words)
    ratios = [sample.ratio for sample in samples]
    first = min(sample.day for sample in samples)
    held = [sample.actual <= sample.p80 for sample in samples if sample.p80 is not None]
    years = [(sample.day - first).days / A_YEAR for sample in samples]
    return replace(
        nothing,
        ratio=widened(median_interval(ratios), rounding_error(samples)),
        spread=deviation(ratios, median(sample.rounding for sample in samples)),
        trend=trend(years, ratios),
        held=(sum(held), len(held)),
    )


def learning_of(samples: Sequence[Sample], model: str) -> Interval | None:
    """The learning slope of an operation; None of too few lots, or where they don't double."""
    lots = [sample.lot for sample in samples]
    if len(lots) < ENOUGH_LOTS or lots[-1][1] < DOUBLING * lots[0][1]:
        return None
    return learned([sample.ratio for sample in samples], lots, model).slope


def _biases(
    actuals: Actuals,
    evidence: Evidence,
    stations: Sequence[Estimate],
    quotes: Mapping[str, Quoted],
) -> Iterator[Bias]:
    """By station, by what drives most of the time, by its basis, and by who prepared the quote."""
    for at in stations:
        yield Bias(STATION, at.station, at.name, len(at.samples), at.ratio)
    of_driver: dict[str, list[float]] = {}
    of_basis: dict[str, list[float]] = {}
    known = known_inputs(actuals.pricing.catalogue)
    for work in evidence.works.values():
        inputs = times_of(work.operation)
        bases = [known[f].basis for f in map(input_behind, inputs.values()) if f in known]
        for sample in work.samples:
            driver = _mostly(work.operation, sample)
            of_driver.setdefault(driver, []).append(sample.ratio)
            of_basis.setdefault((*bases, SIMILAR)[0], []).append(sample.ratio)
    for driver, words in DRIVER_WORDS.items():
        if driver in of_driver:
            yield _bias(DRIVER, driver, words, of_driver[driver])
    for basis in BASES:
        if basis in of_basis:
            yield _bias(BASIS, basis, BASIS_WORDS[basis], of_basis[basis])
    of_preparer: dict[str, list[float]] = {}
    for job, ratio in _whole_jobs(stations):
        if job in quotes and quotes[job].by:
            of_preparer.setdefault(quotes[job].by, []).append(ratio)
    for name, ratios in sorted(of_preparer.items()):
        yield _bias(PREPARER, name, name, ratios)


def _bias(of: str, id: str, name: str, ratios: Sequence[float]) -> Bias:
    told = median_interval(ratios) if len(ratios) >= FEWEST else None
    return Bias(of, id, name, len(ratios), told)


def _whole_jobs(stations: Iterable[Estimate]) -> Iterator[tuple[str, float]]:
    """Each job with all its hours over what they should have been."""
    sums: dict[str, tuple[float, float]] = {}
    for at in stations:
        for sample in at.samples:
            actual, standard = sums.get(sample.job, (0.0, 0.0))
            more = sample.actual * sample.pieces, sample.standard * sample.pieces
            sums[sample.job] = actual + more[0], standard + more[1]
    for job, (actual, standard) in sums.items():
        if job:
            yield job, actual / standard


def times_of(operation: Operation) -> dict[str, Figure]:
    """The times of an operation that are more than nothing: set-up, fixed, and rates by driver."""
    found = {SETUP: operation.setup, FIXED: operation.fixed}
    for driver in DRIVERS:
        found[driver] = getattr(operation.rates, driver.replace(" ", "_"), None)
    return {name: figure for name, figure in found.items() if figure is not None and figure.value}


def _mostly(operation: Operation, sample: Sample) -> str:
    """What most of the time of a sample goes by."""
    times = times_of(operation)
    hours = {name: f.value * sample.drivers.get(name, 1.0) for name, f in times.items()}
    return max(hours, key=lambda name: hours[name], default=FIXED)
