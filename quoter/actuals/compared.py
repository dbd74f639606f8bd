"""What comparing actual with standard gives: lines of variance, and what could not be compared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeVar

from quoter.catalogue.booked import Booked, JobRow
from quoter.costing.assembly import Assembly, in_building_order
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.built import Built
from quoter.pricing.price import Pricing
from quoter.problems import Place

if TYPE_CHECKING:
    from quoter.actuals.pieces import Pulled

Kind = Literal[
    "price",
    "exchange",
    "usage",
    "mix",
    "yield",
    "scrap",
    "rate",
    "efficiency",
    "rework",
    "spending",
    "variable efficiency",
    "budget",
    "volume",
]
# In the order of a table; unfavourable is positive.
KINDS: dict[Kind, str] = {
    "price": phrase("material price"),
    "exchange": phrase("exchange"),
    "usage": phrase("material usage"),
    "mix": phrase("mix of resin and glass"),
    "yield": phrase("yield of resin and glass"),
    "scrap": phrase("scrap against plan"),
    "rate": phrase("labour rate"),
    "efficiency": phrase("labour efficiency"),
    "rework": phrase("rework against plan"),
    "spending": phrase("variable overhead spending"),
    "variable efficiency": phrase("variable overhead efficiency"),
    "budget": phrase("fixed overhead budget"),
    "volume": phrase("fixed overhead volume"),
}
# At which level something was booked, and so compared, the finest first.
Level = Literal["operation", "part", "job", "station", "month"]
LEVELS: dict[Level, str] = {
    "operation": phrase("by operation"),
    "part": phrase("by part"),
    "job": phrase("by job"),
    "station": phrase("by station and month"),
    "month": phrase("by month"),
}


@dataclass(frozen=True, slots=True)
class Scope:
    """Of what something is: a field is empty where it was booked more coarsely.

    `month` is 2026-08; `part` the key of an assembly of the costing (`part.side_door`,
    `option.coaster_98.side_single`, `boat.coaster_98`), `operation` its number on the papers from
    1, 0 for none; `resource` is `material.ID`, `labour.STATION`, `variable.STATION`,
    `fixed.STATION`, `bought.ID` of what was bought, or `material.CLASS` of what a boat states in
    money (`material.class_CLASS` where a material has that name).
    """

    resource: str
    level: Level
    month: str
    job: str = ""
    part: str = ""
    operation: int = 0
    station: str = ""
    material: str = ""

    @property
    def key(self) -> str:
        """What begins the keys of its figures; no two scopes that are compared have the same."""
        named = ("job", self.job), ("part", self.part), ("operation", self.operation)
        return ".".join(
            ["actual", self.month, self.resource]
            + [f"{what}.{which}" for what, which in named if which]
        )


@dataclass(frozen=True, slots=True)
class Line:
    """One variance: its amount in home currency, and what it was computed from.

    `rows` are the lines of the tables that it rests on. `owners` says how the scope's standard is
    shared among what the boat consists of: the id of an option, "" for the boat itself; shares
    add up to 1, and are empty where no job is known.
    """

    kind: Kind
    scope: Scope
    amount: Figure
    rows: tuple[Place, ...]
    owners: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Compared:
    """Actual beside standard of one scope: quantities where there are, costs in home currency.

    The lines add up to `actual` - `standard`, exactly.
    """

    scope: Scope
    actual: Figure
    standard: Figure
    lines: tuple[Line, ...]
    actual_quantity: Figure | None = None
    standard_quantity: Figure | None = None
    rows: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class Unbooked:
    """What a job or part should have taken by its standard, of which nothing was booked.

    It is left out of the comparison, on both sides; `standard` is its cost.
    """

    scope: Scope
    quantity: Figure
    standard: Figure


OfScope = TypeVar("OfScope", Line, Compared, Unbooked)


@dataclass(frozen=True, slots=True)
class Job:
    """A job as booked: its line of the table, and the boat that it was by the catalogue.

    `standard` is the full cost of all its boats by standard, and `elements` what that of one
    consists of; `open` while it is at work. `pricing` holds the recipes that it was made by, where
    they are others than today's.
    """

    row: JobRow
    number: str
    model: str
    boats: float
    built: Built
    standard: Figure
    open: bool
    pricing: Pricing | None = None
    elements: Mapping[str, Figure] = field(default_factory=dict)


@dataclass(frozen=True)
class Actuals:
    """All that was booked up to a day, compared with the standards in force on the days of work.

    `jobs` by number and `compared` are in the order of the tables; `notes` says in words what was
    decided on the way, such as at which level a job was compared. `months` are those with rows,
    `pulled` the pieces of parts that were counted, `booked` the rows themselves.
    """

    pricing: Pricing
    as_of: date
    jobs: Mapping[str, Job]
    compared: tuple[Compared, ...]
    unbooked: tuple[Unbooked, ...]
    notes: tuple[str, ...]
    months: tuple[str, ...]
    pulled: tuple[Pulled, ...] = ()
    booked: Booked | None = None

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """All lines of variance."""
        return tuple(line for one in self.compared for line in one.lines)

    @cached_property
    def lines_of_jobs(self) -> dict[str, list[Line]]:
        """Lines by the job's number, "" for those of none."""
        return _by_job(self.lines)

    @cached_property
    def compared_of_jobs(self) -> dict[str, list[Compared]]:
        """What is compared by the job's number, "" for what is of none."""
        return _by_job(self.compared)

    @cached_property
    def unbooked_of_jobs(self) -> dict[str, list[Unbooked]]:
        """What was not booked by the job's number, "" for what is of none."""
        return _by_job(self.unbooked)

    @cached_property
    def assemblies(self) -> dict[str, Assembly]:
        """Everything that is costed or was built, by its key."""
        costing = self.pricing.costing
        found = dict(costing.parts)
        for model in costing.models.values():
            for assembly in (model.base, *model.options.values()):
                found.setdefault(assembly.recipe.key, assembly)
        for job in self.jobs.values():
            for made in in_building_order(job.built.whole):
                found.setdefault(made.assembly.recipe.key, made.assembly)
        return found


def _by_job(things: Iterable[OfScope]) -> dict[str, list[OfScope]]:
    found: dict[str, list[OfScope]] = {}
    for each in things:
        found.setdefault(each.scope.job, []).append(each)
    return found
