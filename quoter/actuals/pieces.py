"""What rows of the tables mean: of which part they are, and how many pieces were pulled.

`Ground` is all that a comparison rests on; `hours`, `materials` and `overhead` each take it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path

from quoter.actuals.matched import grouped
from quoter.actuals.rates import Rates, others_of
from quoter.actuals.standards import JobStandard, Pieces, Recipes, job_standards, stop_at
from quoter.catalogue.booked import Booked, PullRow
from quoter.catalogue.booked_words import month_of
from quoter.costing.assembly import Assembly
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.price import Pricing
from quoter.problems import Place, Problems

NO_PIECES = constant(0.0)


@dataclass(frozen=True, slots=True)
class Pulled:
    """Pieces of a part that were pulled on a day, by the key of the assembly; `job` may be ""."""

    part: str
    job: str
    day: date
    good: Figure
    scrapped: Figure
    place: Place

    @property
    def month(self) -> str:
        """The month it was pulled in."""
        return month_of(self.day)


@dataclass(frozen=True, slots=True)
class Begun:
    """Pieces that were begun `above` those planned for as many good ones, by `rows` of pulls."""

    planned: Pieces
    above: Figure
    rows: tuple[Place, ...]

    def times(self, lost: Figure) -> Figure:
        """What was needed as a multiple of what was planned, of which a part is planned `lost`.

        Pieces leave the route where the plan expects it: work behind its last loss is done on good
        pieces alone, however many were begun. Where no loss is planned, nobody knows where they
        left, and they count as gone through all of it.
        """
        scrapped = self.planned.entering - self.planned.good
        if scrapped.value:
            return 1 + self.above * lost / scrapped
        return 1 + self.above / self.planned.good


def begun_of(planned: Pieces, rows: Sequence[Pulled], key: str) -> Begun:
    """What pulls say of pieces that were planned; `key` begins the keys of its figures."""
    good = total([each.good for each in rows], NO_PIECES)
    begun = good + total([each.scrapped for each in rows], NO_PIECES)
    above = begun - good * (planned.entering / planned.good)
    label = phrase("{name}: pieces begun above those planned", name=planned.assembly.name)
    above = above.named(f"{key}.begun_above_plan", label)
    return Begun(planned, above, tuple(each.place for each in rows))


@dataclass(frozen=True)
class Ground:
    """What a comparison rests on: rows up to the catalogue's day, jobs, rates, parts and pulls.

    `notes` gathers in words what is decided on the way.
    """

    pricing: Pricing
    booked: Booked
    jobs: dict[str, JobStandard]
    rates: Rates
    parts: dict[str, Assembly]
    pulled: tuple[Pulled, ...]
    recipes: Recipes
    notes: list[str] = field(default_factory=list)
    _begun: dict[str, dict[str, Begun]] = field(default_factory=dict, repr=False)
    _older: dict[int, dict[str, Assembly]] = field(default_factory=dict, repr=False)

    @property
    def as_of(self) -> date:
        """The day asked about."""
        return self.pricing.catalogue.as_of

    @cached_property
    def pulled_parts(self) -> dict[str, list[Pulled]]:
        """What was pulled, by part."""
        return grouped(self.pulled, lambda each: each.part)

    @cached_property
    def pulled_of_jobs(self) -> dict[str, list[Pulled]]:
        """What was pulled, by job, "" for none."""
        return grouped(self.pulled, lambda each: each.job)

    def part(self, text: str | None, job: str | None) -> str:
        """The key of the assembly that a row names, "" for none that its job or the yard has.

        It is named as on papers, by what the costing's key has after its kind; or by its id alone
        where the job, or the yard, makes it in one colour and shape only.
        """
        if not text:
            return ""
        known = self.parts
        if job in self.jobs:
            made = self.jobs[str(job)].standard.pieces
            known = {each.assembly.recipe.key: each.assembly for each in made}
        found = _called(known, text)
        return found[0].recipe.key if len(found) == 1 else ""

    def part_on(self, key: str, day: date) -> Assembly:
        """The assembly of a key by the recipes of a day, the very same where none has changed."""
        there = self.recipes.on(day)
        if there is self.pricing:
            return self.parts[key]
        if id(there) not in self._older:
            self._older[id(there)] = _parts(there, {})
        return self._older[id(there)].get(key, self.parts[key])

    def alike(self, text: str | None) -> list[Assembly]:
        """All that the yard makes of that name, in whatever colour and shape, on any model."""
        return _called(self.parts, text) if text else []

    def begun_above_plan(self, job: JobStandard) -> dict[str, Begun]:
        """By part, the pieces begun for a job beyond those planned.

        What was begun beyond what the good ones plan is added to what the job plans, so that a
        piece for stock among them moves nothing.
        """
        if job.number not in self._begun:
            mine = self.pulled_of_jobs.get(job.number, [])
            self._begun[job.number] = dict(_above_plan(job, mine))
        return self._begun[job.number]


def _above_plan(job: JobStandard, pulled: Sequence[Pulled]) -> Iterator[tuple[str, Begun]]:
    for pieces in job.standard.pieces:
        key = pieces.assembly.recipe.key
        rows = [each for each in pulled if each.part == key]
        if rows and pieces.entering.value:
            yield key, begun_of(pieces, rows, f"actual.job.{job.number}.{key}")


def _called(known: dict[str, Assembly], text: str) -> list[Assembly]:
    """The assembly of a key, with its kind or without; else those of an id."""
    for key, assembly in known.items():
        if text in (key, key.partition(".")[2]):
            return [assembly]
    return [assembly for assembly in known.values() if assembly.recipe.id == text]


def operation_of(assembly: Assembly, text: str | None) -> int:
    """The number of an operation that a row names by number or name; 0 where there is none."""
    asked = (text or "").strip().casefold()
    for number, done in enumerate(assembly.operations, 1):
        if asked in (str(number), str(done.operation.name).casefold()):
            return number
    return 0


def ground_of(pricing: Pricing, booked: Booked, folder: Path | None = None) -> Ground:
    """What comparing rests on, without what is of a day after the catalogue's.

    Raises:
        CatalogueError: jobs that the catalogue can't build, all at once.
    """
    problems, day = Problems(), pricing.catalogue.as_of
    recipes = Recipes(pricing, folder)
    jobs = job_standards(recipes, booked.jobs, problems)
    stop_at(problems)
    until = month_of(day)
    rows = Booked(
        jobs=[job.row for job in jobs.values()],
        hours=[row for row in booked.hours if row.date <= day],
        issues=[row for row in booked.issues if row.date <= day],
        purchases=[row for row in booked.purchases if row.date <= day],
        pulls=[row for row in booked.pulls if row.date <= day],
        overhead=[row for row in booked.overhead if str(row.month) <= until],
    )
    ground = Ground(
        pricing,
        rows,
        jobs,
        Rates(pricing, others_of(pricing, jobs.values())),
        _parts(pricing, jobs),
        (),
        recipes,
    )
    return replace(ground, pulled=tuple(_pulled(ground, rows.pulls)))


def _parts(pricing: Pricing, jobs: dict[str, JobStandard]) -> dict[str, Assembly]:
    """Every assembly that the yard makes by its key, those of jobs among them."""
    found = {each.recipe.key: each for each in pricing.costing.parts.values()}
    for model in pricing.costing.models.values():
        for assembly in (*model.options.values(), model.base):
            found.setdefault(assembly.recipe.key, assembly)
    for job in jobs.values():
        for pieces in job.standard.pieces:
            found.setdefault(pieces.assembly.recipe.key, pieces.assembly)
    return found


def _pulled(ground: Ground, rows: Sequence[PullRow]) -> Iterator[Pulled]:
    for row in rows:
        job = str(row.job) if row.job is not None else ""
        key = ground.part(str(row.part), job)
        if not key or (job and job not in ground.jobs):
            told = phrase("{place}: pulls of '{part}' fit no job", place=row.place, part=row.part)
            ground.notes.append(told)
            continue
        yield Pulled(key, job, row.date, row.good, row.scrapped, row.place)
