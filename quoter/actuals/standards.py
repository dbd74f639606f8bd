"""What a job should have taken: hours by operation, material by part, pieces to begin with.

Quantities are those of the costing, of everything that is made for the boat as it was ordered:
paid hours and material issued with all that yields take, planned rework apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path

from quoter.catalogue.booked import JobRow
from quoter.catalogue.booked_words import options_of
from quoter.costing.assembly import Assembly
from quoter.costing.quantities import STATED, entry_of
from quoter.engineering.yields import per_good_unit, rolled_yield
from quoter.figures import Figure, constant, stated, total
from quoter.phrases import phrase
from quoter.pricing.built import Built, built
from quoter.pricing.earlier import by_recipes_before
from quoter.pricing.price import Pricing
from quoter.pricing.rules import rules_of
from quoter.problems import CatalogueError, Place, Problems, nearest

ONE = constant(1.0)
NOTHING = constant(0.0)
Owners = Mapping[str, float]  # by option id, "" for the boat itself: shares that add up to 1


@dataclass(frozen=True, slots=True)
class Work:
    """Work that some pieces take at one operation: paid hours, planned rework apart.

    `part` is the key of the assembly; `operation` counts from 1, and is 0 for hours that a boat
    states. `pieces` are all that enter there. `base` is what they absorb overhead on, rework
    included, `lost` what part of all that goes into pieces which the plan expects to be scrapped.
    """

    part: str
    operation: int
    station: str
    pieces: Figure
    lost: Figure
    hours: Figure
    rework: Figure | None
    base: Figure
    owners: Owners


@dataclass(frozen=True, slots=True)
class Taken:
    """Material that is issued for some pieces, in what it is counted in, with all losses.

    `lost` is what part of it goes into pieces which the plan expects to be scrapped.
    """

    part: str
    material: str
    quantity: Figure
    lost: Figure
    owners: Owners


@dataclass(frozen=True, slots=True)
class StatedClass:
    """Material of a boat that is stated as money only, by its class."""

    part: str
    material_class: str
    cost: Figure
    owners: Owners


@dataclass(frozen=True, slots=True)
class Pieces:
    """How many pieces of an assembly are needed good, and how many have to begin for that."""

    assembly: Assembly
    good: Figure
    entering: Figure
    owners: Owners


@dataclass(frozen=True, slots=True)
class Standard:
    """What something should take, each list in building order."""

    pieces: tuple[Pieces, ...] = ()
    works: tuple[Work, ...] = ()
    taken: tuple[Taken, ...] = ()
    classes: tuple[StatedClass, ...] = ()


@dataclass(frozen=True, slots=True)
class JobStandard:
    """A job with the boat that it was, and what all its boats should have taken.

    `pricing` holds the recipes that its boat was made by, those of the day it was begun.
    """

    row: JobRow
    boat: Built
    boats: Figure
    standard: Standard
    open: bool
    pricing: Pricing

    @property
    def number(self) -> str:
        """Its number."""
        return str(self.row.job)


def of_boat(boat: Built, boats: Figure, key: str, name: str) -> Standard:
    """What some boats alike should take; `key` and `name` begin the figures' keys and labels."""
    needed: list[tuple[Assembly, dict[str, list[Figure]]]] = []
    found: dict[str, dict[str, list[Figure]]] = {}
    options = [str(each.option.id) for each in boat.aboard]
    uses = boat.whole.recipe.uses
    own = len(uses) - len(options)
    for number, use in enumerate(uses):
        owner, count = "", use.quantity
        if number >= own:  # an option bears nothing of what the boat itself scraps
            owner = options[number - own]
        else:
            count = _entering(boat.whole, "core", ONE) * use.quantity
        _collect(use.assembly, count * boats, owner, needed, found)
    needed.append((boat.whole, {"": [boats]}))
    return _standard(needed, key, name)


def of_piece(assembly: Assembly, good: Figure, key: str, name: str) -> Standard:
    """What so many good pieces of an assembly should take, without the parts that they use."""
    return _standard([(assembly, {"": [good]})], key, name)


def _entering(assembly: Assembly, stage: str, good: Figure) -> Figure:
    """Pieces that get to where a stage enters, for so many good ones."""
    return _begun(assembly, entry_of(assembly.recipe.operations, stage), good)


def _begun(assembly: Assembly, at: int, good: Figure) -> Figure:
    """Pieces that get to an operation, for so many good ones."""
    passes = [each.passes for each in assembly.recipe.operations[at:] if each.passes is not None]
    return per_good_unit(good, rolled_yield(passes)) if passes else good


def _collect(
    assembly: Assembly,
    good: Figure,
    owner: str,
    needed: list[tuple[Assembly, dict[str, list[Figure]]]],
    found: dict[str, dict[str, list[Figure]]],
) -> None:
    """Add an assembly and all that is made for it, the parts first; credits are not made."""
    for use in assembly.recipe.uses:
        if not use.credit:
            count = _entering(assembly, "core", good) * use.quantity
            _collect(use.assembly, count, owner, needed, found)
    if assembly.recipe.key not in found:
        found[assembly.recipe.key] = {}
        needed.append((assembly, found[assembly.recipe.key]))
    found[assembly.recipe.key].setdefault(owner, []).append(good)


def _standard(
    needed: list[tuple[Assembly, dict[str, list[Figure]]]], key: str, name: str
) -> Standard:
    pieces: list[Pieces] = []
    works: list[Work] = []
    taken: list[Taken] = []
    classes: list[StatedClass] = []
    for assembly, by_owner in needed:
        own = f"{key}.{assembly.recipe.key}"
        label = phrase("{job}: {name}", job=name, name=assembly.name)
        every = [each for amounts in by_owner.values() for each in amounts]
        good = total(every, every[0])
        good = good.named(f"{own}.good", phrase("{label}, good pieces", label=label))
        begun = _begun(assembly, 0, good)
        begun = begun.named(f"{own}.begun", phrase("{label}, pieces begun", label=label))
        owners = _shares(by_owner)
        pieces.append(Pieces(assembly, good, begun, owners))
        works += _works(assembly, good, owners, own, label)
        taken += _taken(assembly, good, owners, own, label)
        for material_class, cost in assembly.recipe.stated.material.items():
            amount = (cost * good).named(f"{own}.stated.{material_class}", label)
            classes.append(StatedClass(assembly.recipe.key, str(material_class), amount, owners))
    return Standard(tuple(pieces), tuple(works), tuple(taken), tuple(classes))


def _shares(by_owner: Mapping[str, list[Figure]]) -> Owners:
    """The share of each owner of pieces."""
    sums = {owner: sum(each.value for each in amounts) for owner, amounts in by_owner.items()}
    whole = sum(sums.values())
    return {owner: amount / whole if whole else 1.0 / len(sums) for owner, amount in sums.items()}


def _works(
    assembly: Assembly, good: Figure, owners: Owners, key: str, label: str
) -> Iterator[Work]:
    part = assembly.recipe.key
    for number, done in enumerate(assembly.operations, 1):
        pieces, again = _begun(assembly, number - 1, good), done.rework
        what = phrase("{label}, {operation}", label=label, operation=done.operation.name)
        own = f"{key}.operation{number}"
        base = done.base if again is None else done.base + again.base
        yield Work(
            part=part,
            operation=number,
            station=str(done.operation.station),
            pieces=pieces,
            lost=1 - good / pieces if good.value else NOTHING,
            hours=(done.paid * pieces).named(f"{own}.hours", phrase("{what}, hours", what=what)),
            rework=None
            if again is None
            else (again.paid * pieces).named(f"{own}.rework", phrase("{what}, rework", what=what)),
            base=base * pieces,
            owners=owners,
        )
    for station, hours in assembly.recipe.stated.hours.items():
        what = phrase("{label}, hours at {station}", label=label, station=station)
        yield Work(
            part=part,
            operation=0,
            station=str(station),
            pieces=good,
            lost=NOTHING,
            hours=(hours * good).named(f"{key}.stated.{station}.hours", what),
            rework=None,
            base=assembly.stated.loads[str(station)] * good,
            owners=owners,
        )


def _taken(
    assembly: Assembly, good: Figure, owners: Owners, key: str, label: str
) -> Iterator[Taken]:
    """Each material of an assembly once, however many lines it has."""
    amounts: dict[str, list[Figure]] = {}
    kept: dict[str, list[Figure]] = {}
    route = assembly.recipe.operations
    for material in assembly.materials:
        line = material.line
        at = len(route) if line.stage == STATED else entry_of(route, line.stage)
        amounts.setdefault(line.material, []).append(line.issued * _begun(assembly, at, good))
        kept.setdefault(line.material, []).append(line.issued * good)
    for id, issued in amounts.items():
        what = phrase("{label}, {material} issued", label=label, material=id)
        quantity = total(issued, issued[0]).named(f"{key}.material.{id}", what)
        lost = 1 - total(kept[id], issued[0]) / quantity if quantity.value else NOTHING
        yield Taken(assembly.recipe.key, id, quantity, lost, owners)


@dataclass(slots=True)
class Recipes:
    """The catalogue by the day that a job was begun, since its papers went out with those recipes.

    Recipes have no days but for values that were accepted from what jobs took: a job that was begun
    before keeps the value there was. So a month that is closed stays as it is. Prices and wages are
    those of the catalogue's own day throughout; `Rates` has them by day. What is set of recipes
    counts on all days.
    """

    pricing: Pricing
    folder: Path | None
    _found: dict[date, Pricing] = field(default_factory=dict)

    def on(self, day: date) -> Pricing:
        """The catalogue costed by the recipes of a day, the very same where none has changed."""
        catalogue = self.pricing.catalogue
        accepted = {row.date for row in catalogue.records.accepted if row.date > day}
        later = sorted(each for each in accepted if each <= catalogue.as_of)
        if self.folder is None or not later:
            return self.pricing
        if later[0] not in self._found:
            there = by_recipes_before(self.folder, catalogue, later[0] - timedelta(days=1))
            self._found[later[0]] = there or self.pricing
        return self._found[later[0]]


def job_standards(
    recipes: Recipes, rows: list[JobRow], problems: Problems
) -> dict[str, JobStandard]:
    """Each job that was begun by the catalogue's day, by its number, in the order of the table.

    A job whose model or options the catalogue does not have, or whose options break a rule, is
    recorded and left out: nobody can say what it should have taken.
    """
    found = {}
    day = recipes.pricing.catalogue.as_of
    for row in rows:
        if row.started > day:
            continue
        pricing = recipes.on(row.started)
        boat = _boat_of(pricing, row, problems)
        if boat is None:
            continue
        number = str(row.job)
        boats = ONE if row.boats is None else row.boats
        key, name = f"actual.job.{number}", phrase("Job {number}", number=number)
        standard = of_boat(boat, boats, key, name)
        if pricing is not recipes.pricing:
            standard = as_numbers(standard, key, row.place)
        still = row.finished is None or row.finished > day
        found[number] = JobStandard(row, boat, boats, standard, still, pricing)
    return found


def as_numbers(standard: Standard, key: str, place: Place) -> Standard:
    """A standard as given numbers: recipes of another day have the keys of today's."""

    def given(figure: Figure, what: str) -> Figure:
        return stated(figure, figure.key or f"{key}.{what}", figure.label, place)

    works = []
    for work in standard.works:
        own = f"{work.part}.{work.operation}.{work.station}"
        settled = replace(
            work,
            pieces=given(work.pieces, f"{own}.pieces"),
            lost=given(work.lost, f"{own}.lost"),
            hours=given(work.hours, f"{own}.hours"),
            rework=None if work.rework is None else given(work.rework, f"{own}.rework"),
            base=given(work.base, f"{own}.base"),
        )
        works.append(settled)
    return Standard(
        tuple(
            replace(each, good=given(each.good, "good"), entering=given(each.entering, "begun"))
            for each in standard.pieces
        ),
        tuple(works),
        tuple(
            replace(
                each,
                quantity=given(each.quantity, each.material),
                lost=given(each.lost, f"{each.part}.{each.material}.lost"),
            )
            for each in standard.taken
        ),
        tuple(replace(c, cost=given(c.cost, c.material_class)) for c in standard.classes),
    )


def _boat_of(pricing: Pricing, row: JobRow, problems: Problems) -> Built | None:
    priced = pricing.models.get(str(row.model))
    if priced is None:
        what = f"job '{row.job}' is of an unknown model '{row.model}'"
        problems.add(row.model.place, "unknown-id", what, nearest(str(row.model), pricing.models))
        return None
    chosen, standard = options_of(row), {*map(str, priced.model.standard)}
    place = row.place if row.options is None else row.options.place
    unknown = [id for id in chosen if id not in priced.extras and id not in standard]
    for id in unknown:
        what = f"job '{row.job}' has '{id}', which '{row.model}' can't have"
        problems.add(place, "unknown-id", what, nearest(id, [*priced.extras, *standard]))
    if unknown:
        return None
    quantities = {id: constant(float(chosen.get(id, 0))) for id in priced.extras}
    broken = [rule for rule in rules_of(priced, quantities) if not rule.holds.value]
    for rule in broken:
        what = f"the options of job '{row.job}' break a rule: {rule.words}"
        problems.add(place, "broken-rule", what, "write what was built in")
    return None if broken else built(pricing, priced, chosen)


def stop_at(problems: Problems) -> None:
    """Stop where something was found that no comparison can be made of.

    Raises:
        CatalogueError: with every fault.
    """
    if problems.errors:
        raise CatalogueError(problems.errors)
