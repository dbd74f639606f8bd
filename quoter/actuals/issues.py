"""Issues of material as entries to compare: what each had cost, and what is told in money.

A boat may state classes of its material in money. What was issued of such a class is then compared
in money at standard prices with what the boat states, unless something else of it needs that
material by quantity.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from quoter.actuals.matched import Entry, Need
from quoter.actuals.pieces import Ground
from quoter.actuals.purchases import Purchases
from quoter.actuals.standards import JobStandard, Standard
from quoter.catalogue.booked import IssueRow
from quoter.catalogue.booked_words import month_of, quantity_of
from quoter.catalogue.counting import per_counted
from quoter.costing.elements import class_words
from quoter.engineering.purchasing import material_cost
from quoter.figures import Figure, constant
from quoter.phrases import phrase
from quoter.problems import Place

AS_STANDARD = constant(1.0)  # what is compared in money, per money at standard prices
BACK = "return"


@dataclass(slots=True)
class Issues:
    """All issues up to a day, and how they are read: needs, rates and names of what they are of.

    `moved` are jobs with materials that are compared in money, `pooled` months with such: of a
    class that a boat states, and needed by nothing whose quantity is known. `unpriced` are
    materials that nobody knows what was paid for.
    """

    ground: Ground
    bought: Purchases
    at_standard: bool = False
    moved: set[tuple[str, str]] = field(default_factory=set)
    pooled: set[tuple[str, str]] = field(default_factory=set)
    unpriced: dict[str, list[Place]] = field(default_factory=dict)
    _parts: dict[str, str] = field(default_factory=dict)
    _booked: set[tuple[str, str]] = field(default_factory=set)
    _named: set[str] = field(default_factory=set)
    _in_money: set[str] = field(default_factory=set)
    _standard_rate: dict[Figure, Figure] = field(default_factory=dict)
    _behind: dict[Figure, tuple[Place, ...]] = field(default_factory=dict)
    _ratios: dict[tuple[Figure, Figure], Figure] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Find what is compared in money, before any need or entry is asked for."""
        loose: set[tuple[str, str]] = set()
        for row in self.ground.booked.issues:
            number, material = str(row.job or ""), str(row.material)
            part = self._parts[str(row.reference)] = self.ground.part(row.part, number)
            self._booked.add((number, material))
            if not number and not part:
                loose.add((month_of(row.date), material))
        jobs = self.ground.jobs.values()
        needed = {(job.number, need.material) for job in jobs for need in job.standard.taken}
        stated = {job.number: self._stated(job) for job in jobs}
        self.moved = {
            (number, material)
            for number, material in self._booked - needed
            if self.classes[material] in stated.get(number, ())
        }
        moved: dict[str, set[str]] = {}
        for number, material in self.moved:
            moved.setdefault(number, set()).add(self.classes[material])
        lacking: set[tuple[str, str]] = set()  # months with what jobs finished then need of pools
        open_to: set[tuple[str, str]] = set()  # months with classes that jobs finished then state
        for job in jobs:
            month = self._finished(job)
            lacking |= {
                (month, need.material)
                for need in job.standard.taken
                if (job.number, need.material) not in self._booked
            }
            own = moved.get(job.number, set())
            open_to |= {(month, of) for of in stated[job.number] - own}
        self.pooled = {
            (month, material)
            for month, material in loose - lacking
            if (month, self.classes[material]) in open_to
        }
        self._named = {material for _, material in self._booked}
        self._in_money = {self.classes[material] for _, material in self.moved | self.pooled}

    @property
    def nothing(self) -> Figure:
        """No money."""
        return self.ground.pricing.costing.rates.nothing

    @property
    def classes(self) -> dict[str, str]:
        """The class of each material, by id."""
        return self.ground.pricing.costing.rates.classes

    def _stated(self, job: JobStandard) -> set[str]:
        """The classes that a boat of a job states in money."""
        return {each.material_class for each in job.standard.classes if each.cost.value}

    def _finished(self, job: JobStandard) -> str:
        """The month a job was finished in, "" while it is at work."""
        return "" if job.open or job.row.finished is None else month_of(job.row.finished)

    def class_resource(self, of: str) -> str:
        """The resource of a class in money; a material may have its name."""
        return f"material.class_{of}" if of in self.classes else f"material.{of}"

    def in_money(self, resource: str) -> bool:
        """Whether a resource is a class that is compared in money."""
        return resource.partition(".")[2] not in self.classes

    def called(self, resource: str) -> str:
        """What people call a material, or a class."""
        id = resource.partition(".")[2]
        if id in self.classes:
            return self.ground.pricing.costing.rates.names[id]
        return phrase("{name}, in money", name=class_words(id.removeprefix("class_")))

    def rate(self, resource: str, day: date) -> Figure:
        """The standard price of a day; money is as it is."""
        if self.in_money(resource):
            return AS_STANDARD
        return self.ground.rates.price(resource.partition(".")[2], day)

    def booked_at_all(self, resource: str) -> bool:
        """Whether anybody books a material, or of a class what is in money; else none lacks it."""
        id = resource.partition(".")[2]
        if not self.in_money(resource):
            return id in self._named
        return id.removeprefix("class_") in self._in_money

    def needs(self, standard: Standard) -> Iterator[Need]:
        """What a standard has of each material, and what it has in money."""
        for taken in standard.taken:
            resource = f"material.{taken.material}"
            yield Need(
                resource, taken.part, 0, taken.quantity, owners=taken.owners, lost=taken.lost
            )
        for each in standard.classes:
            if each.cost.value:
                resource = self.class_resource(each.material_class)
                yield Need(resource, each.part, 0, each.cost, owners=each.owners)

    def entries(self) -> Iterator[Entry]:
        """The rows of issues, each with its prices; one that fits no job is told and left out."""
        for row in self.ground.booked.issues:
            job = str(row.job) if row.job is not None else ""
            if job and job not in self.ground.jobs:
                words = phrase(
                    "{place}: no job '{job}' was begun by then", place=row.place, job=job
                )
                self.ground.notes.append(words)
                continue
            part = self._parts[str(row.reference)]
            if row.part is not None and not part:
                words = phrase(
                    "{place}: '{part}' is no part of it; compared more coarsely",
                    place=row.place,
                    part=row.part,
                )
                self.ground.notes.append(words)
            yield self._entry(row, job, part)

    def _entry(self, row: IssueRow, job: str, part: str) -> Entry:
        id, material = str(row.material), self.ground.pricing.catalogue.records.materials
        quantity = quantity_of(row.quantity, material[id])
        if str(row.kind) == BACK:
            label = phrase("Issue {reference}: brought back", reference=row.reference)
            quantity = (-quantity).named(f"actual.issue.{row.reference}.back", label)
        standard = self.ground.rates.price(id, row.date)
        paid, resource, of = self._paid(row, standard), f"material.{id}", self.classes[id]
        loose = not job and not part and (month_of(row.date), id) in self.pooled
        if loose or (job, id) in self.moved:
            resource, part = self.class_resource(of), ""
            if standard.value:
                quantity = material_cost(quantity, standard)
                paid = self._in_standard_money(paid, standard)
            else:  # what costs nothing by standard is all above it
                quantity, paid = material_cost(quantity, paid), AS_STANDARD
            standard = AS_STANDARD
        return Entry(
            resource=resource,
            day=row.date,
            reference=str(row.reference),
            place=row.place,
            quantity=quantity,
            paid=paid,
            standard=standard,
            job=job,
            part=part,
        )

    def _paid(self, row: IssueRow, standard: Figure) -> Figure:
        """What a unit had cost: as the row says, else as purchases until its day, else standard."""
        if self.at_standard:
            return standard
        id = str(row.material)
        if row.price is not None:
            return per_counted(self.ground.pricing.catalogue.records.materials[id], row.price)
        average = self.bought.average(id, row.date)
        if average is None:
            self.unpriced.setdefault(id, []).append(row.place)
            return standard
        self._standard_rate[average.paid] = average.at_standard
        self._behind[average.paid] = average.rows
        return average.paid

    def _in_standard_money(self, paid: Figure, standard: Figure) -> Figure:
        """A price as a multiple of the standard one."""
        if paid is standard:
            return AS_STANDARD
        if (paid, standard) not in self._ratios:
            ratio = self._ratios[paid, standard] = paid / standard
            at_standard = self.at_standard_rate(paid)
            if at_standard is not paid:
                self._standard_rate[ratio] = at_standard / standard
            self._behind[ratio] = self.bought_at(paid)
        return self._ratios[paid, standard]

    def at_standard_rate(self, paid: Figure) -> Figure:
        """A price paid, as it had been at the standard rate of exchange."""
        return self._standard_rate.get(paid, paid)

    def bought_at(self, paid: Figure) -> tuple[Place, ...]:
        """The lines of purchases behind a price paid."""
        return self._behind.get(paid, ())
