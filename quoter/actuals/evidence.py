"""What hours were booked at each operation and station, by job, beside what they should have been.

One operation of the catalogue is one, whatever parts share it by an alias and in whichever colour.
Hours of rework beyond plan are taken off where they are told apart, and the standard is that of
the pieces that were begun: so what is left is how long the work took.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from statistics import median

from quoter.actuals.compared import Actuals, Compared, Job
from quoter.actuals.samples import rounding_deviation, step_of
from quoter.catalogue.factory import Station
from quoter.catalogue.operations import DRIVERS, Operation
from quoter.costing.assembly import Assembly, in_building_order
from quoter.costing.operations import OperationCost
from quoter.figures import Figure
from quoter.figures.graph import input_behind, inputs_of
from quoter.problems import Place
from quoter.units import to_base

LABOUR = "labour"


@dataclass(frozen=True, slots=True)
class Sample:
    """One job's hours at one operation or station: actual beside standard, in hours a piece.

    `unit` is the running number of the first of its pieces, for learning; `drivers` what the
    operation's rates apply to. `outlier` says why it is far from the others, "" where it isn't; it
    is shown, and weighs less. `part` is the key of the assembly; `terms` are the figures of the
    standard of all pieces, each with the factor by which more pieces were begun than planned;
    `rounding` is the deviation that booking to the quarter of an hour alone gives the ratio; `p80`
    the hours a piece that the catalogue's ranges are under four times in five.
    """

    job: str
    day: date
    actual: float
    standard: float
    pieces: float
    unit: float
    drivers: dict[str, float]
    rows: tuple[Place, ...]
    outlier: str = ""
    part: str = ""
    terms: tuple[tuple[Figure, float], ...] = field(default=(), repr=False)
    rounding: float = 0.0
    p80: float | None = None

    @property
    def ratio(self) -> float:
        """Actual over standard."""
        return self.actual / self.standard

    @property
    def lot(self) -> tuple[float, float]:
        """The running numbers of its first and last piece."""
        return self.unit, self.unit + max(1.0, round(self.pieces)) - 1


@dataclass(slots=True)
class Work:
    """An operation of the catalogue with its samples, by day; `parts` are those it was done in.

    `key` is that of the operation in its file, with which the keys of its values begin; `part` is
    the key of the first assembly that it was done in, and `number` its own there.
    """

    key: str
    cost: OperationCost
    part: str
    number: int
    parts: list[str] = field(default_factory=list)
    samples: list[Sample] = field(default_factory=list)

    @property
    def operation(self) -> Operation:
        """The record."""
        return self.cost.operation


@dataclass(slots=True)
class AtStation:
    """A station with its samples, by day: of jobs, and of months where no job was booked.

    `apart` says whether every hour of it was booked by operation.
    """

    id: str
    apart: bool = True
    samples: list[Sample] = field(default_factory=list)


class Evidence:
    """Samples of finished work, by operation and by station."""

    def __init__(self, actuals: Actuals) -> None:
        """Nothing is looked up yet."""
        self._actuals = actuals

    @cached_property
    def works(self) -> dict[str, Work]:
        """By the key of the operation, in the order of the catalogue."""
        found: dict[str, Work] = {}
        for job, rows in self._finished():
            made = self._made[job.number]
            for (part, number), of in _by_operation(rows, made).items():
                assembly, pieces = made[part]
                cost = assembly.operations[number - 1]
                sample = self._sample(job.number, _day(job), of, pieces, part)
                if sample is None:
                    continue
                key = operation_key(cost.operation)
                work = found.setdefault(key, Work(key, cost, part, number))
                work.parts.append(assembly.recipe.id)
                work.samples.append(replace(sample, drivers=_drivers(assembly, cost.operation)))
        for work in found.values():
            work.parts = list(dict.fromkeys(work.parts))
            work.samples = _numbered(work)
        return dict(sorted(found.items(), key=lambda each: _place(each[1].operation)))

    @cached_property
    def stations(self) -> dict[str, AtStation]:
        """By id, in the order of the catalogue; hours by operation count here too."""
        found = {id: AtStation(id) for id in self._actuals.pricing.costing.stations}
        for job, rows in self._finished():
            by_station: dict[str, list[Compared]] = {}
            for one in rows:
                by_station.setdefault(_station(one), []).append(one)
            for id, of in by_station.items():
                self._add(found[id], self._sample(job.number, _day(job), of, job.boats), of)
        for one in self._actuals.compared:
            if _is_labour(one) and not one.scope.job:
                of = [one]
                year, month = map(int, one.scope.month.split("-"))
                sample = self._sample("", date(year, month, 1), of, 1.0, one.scope.part)
                self._add(found[_station(one)], sample, of)
        for station in found.values():
            station.samples.sort(key=lambda sample: sample.day)
        return {id: station for id, station in found.items() if station.samples}

    @staticmethod
    def _add(station: AtStation, sample: Sample | None, of: Iterable[Compared]) -> None:
        station.apart = station.apart and all(one.scope.level == "operation" for one in of)
        if sample is not None:
            station.samples.append(sample)

    def _sample(
        self, job: str, day: date, rows: Sequence[Compared], pieces: float, part: str = ""
    ) -> Sample | None:
        """Hours of work a piece; None where there is nothing by standard, or was nothing."""
        actual, terms, places = 0.0, list[tuple[Figure, float]](), list[Place]()
        for one in rows:
            hours, standard = one.actual_quantity, one.standard_quantity
            if hours is None or standard is None or not one.standard.value:
                continue
            rate = one.standard.value / standard.value
            actual += hours.value - variance_of(one, "rework") / rate
            terms.append((standard, 1 + variance_of(one, "scrap") / one.standard.value))
            places += one.rows
        whole = sum(figure.value * factor for figure, factor in terms)
        if actual <= 0 or whole <= 0 or pieces <= 0:
            return None
        return Sample(
            job=job,
            day=day,
            actual=actual / pieces,
            standard=whole / pieces,
            pieces=pieces,
            unit=1.0,
            drivers={},
            rows=tuple(places),
            part=part,
            terms=tuple(terms),
            rounding=rounding_deviation(self._step, len(places)) / whole,
        )

    @cached_property
    def _step(self) -> float:
        """The step that all hours were booked to."""
        booked = [one.actual_quantity for one in self._actuals.compared if _is_labour(one)]
        rows = inputs_of([figure for figure in booked if figure is not None])
        return step_of([figure.value * float(to_base(figure.unit)[1]) for figure in rows])

    def _finished(self) -> Iterator[tuple[Job, list[Compared]]]:
        """Each finished job with its hours; one at work counts at par, which says nothing."""
        rows: dict[str, list[Compared]] = {}
        for one in self._actuals.compared:
            if _is_labour(one) and one.scope.job:
                rows.setdefault(one.scope.job, []).append(one)
        jobs = [job for job in self._actuals.jobs.values() if not job.open and job.number in rows]
        for job in sorted(jobs, key=_day):
            yield job, rows[job.number]

    @cached_property
    def _made(self) -> dict[str, dict[str, tuple[Assembly, float]]]:
        """By job, everything that was made for it by key, with how many pieces."""
        return {
            number: {
                made.assembly.recipe.key: (made.assembly, made.quantity.value * job.boats)
                for made in in_building_order(job.built.whole)
            }
            for number, job in self._actuals.jobs.items()
        }


def rounding_error(samples: Sequence[Sample]) -> float:
    """What booking to a step leaves in doubt of a ratio: it is the same for the same standard, and
    so averages out over different ones alone."""
    apart = {round(sample.standard * sample.pieces, 3) for sample in samples}
    return median(sample.rounding for sample in samples) / math.sqrt(len(apart))


def operation_key(operation: Operation) -> str:
    """The key of an operation in its file, such as `parts.open_mould.hull.operations.2`."""
    return operation.name.key.rpartition(".")[0]


def station_key(station: Station) -> str:
    """The key of a station in its file, with which those of its values begin."""
    return input_behind(station.efficiency).key.rpartition(".")[0]


def variance_of(one: Compared, kind: str) -> float:
    """The variance of a kind, in money."""
    return sum(line.amount.value for line in one.lines if line.kind == kind)


def _place(operation: Operation) -> tuple[str, int, int]:
    place = operation.name.place
    return place.file, place.line, place.column


def _day(job: Job) -> date:
    return job.row.finished or job.row.started


def _is_labour(one: Compared) -> bool:
    return one.scope.resource.startswith(f"{LABOUR}.")


def _station(one: Compared) -> str:
    return one.scope.resource.partition(".")[2]


def _by_operation(
    rows: Iterable[Compared], made: Mapping[str, tuple[Assembly, float]]
) -> dict[tuple[str, int], list[Compared]]:
    """Hours by part and operation; a part's are those of the only one that it has there."""
    found: dict[tuple[str, int], list[Compared]] = {}
    for one in rows:
        part, number = one.scope.part, one.scope.operation
        if part in made and not number:
            number = _only_one_at(_station(one), made[part][0])
        if part in made and number:
            found.setdefault((part, number), []).append(one)
    return found


def _only_one_at(station: str, assembly: Assembly) -> int:
    """The number of the one operation that an assembly has at a station; 0 of none or several."""
    there = [
        number
        for number, done in enumerate(assembly.operations, 1)
        if str(done.operation.station) == station
    ]
    return there[0] if len(there) == 1 and station not in assembly.recipe.stated.hours else 0


def _drivers(assembly: Assembly, operation: Operation) -> dict[str, float]:
    """What the rates of an operation apply to, by driver."""
    found = {}
    for driver in DRIVERS:
        field = driver.replace(" ", "_")
        if getattr(operation.rates, field, None) is not None:
            given: Figure | None = getattr(operation.drivers, field, None)
            found[driver] = (given if given is not None else assembly.recipe.drivers[driver]).value
    return found


def _numbered(work: Work) -> list[Sample]:
    """The samples with the number of their first piece, from that of the first planned one on."""
    curve, found = work.operation.learning, []
    unit = 1.0 if curve is None else input_behind(curve.first).value
    for sample in work.samples:
        found.append(replace(sample, unit=unit))
        unit += max(1.0, round(sample.pieces))
    return found
