"""What a good unit draws on: material issued, hours and pulls, with all that yields take.

Costs keep yield loss and rework apart; a plan needs them inside, since scrapped units too take
material from stores and hours from stations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from quoter.costing.assembly import Assembly
from quoter.costing.occupation import taken_by
from quoter.costing.quantities import STATED, GivenOff, entry_of
from quoter.engineering.yields import per_good_unit, rolled_yield
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase, together

Kind = Literal[
    "material",
    "stated",
    "hours",
    "base",
    "pulls",
    "work",
    "cure",
    "part",
    "emission",
    "applied",
    "untold",
]
WORDS: dict[Kind, str] = {
    "material": phrase("material issued"),
    "stated": phrase("cost stated by class"),
    "hours": phrase("paid hours"),
    "base": phrase("amount that overhead is absorbed on"),
    "pulls": phrase("pulls"),
    "work": phrase("hours of work in the mould"),
    "cure": phrase("hours of cure in the mould"),
    "part": phrase("parts"),
    "emission": phrase("given off"),
    "applied": phrase("applied in open moulds"),
    "untold": phrase("applied without a told HAP content"),
}
ORGANIC_HAP = phrase("organic HAP")
ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class Draw:
    """A resource: a material, or a class of material whose cost is stated; a station's hours or
    overhead base, a mould's pulls or hours of work and cure, a part; organic HAP given off, what
    is applied of the kinds that give it off, and of materials whose content is not told."""

    kind: Kind
    id: str

    @property
    def words(self) -> str:
        """What is drawn, in words."""
        name = self.id  # a phrase where the program has a word for it
        if type(name) is str:
            name = name.removeprefix("part.").replace("_", " ")
        return together(", ", (WORDS[self.kind], name))


Draws = dict[Draw, Figure]


def draws_of(assembly: Assembly, known: dict[str, Draws]) -> Draws:
    """The draws of one good unit, per resource; `known` keeps those of shared parts."""
    key = assembly.recipe.key
    if key not in known:
        known[key] = _draws(assembly, known)
    return known[key]


def _draws(assembly: Assembly, known: dict[str, Draws]) -> Draws:
    terms: dict[Draw, list[Figure]] = {}
    for at, draw, amount in (*_entering(assembly, known), *_stated(assembly)):
        through = _through(assembly, at)
        good = amount if through is None else per_good_unit(amount, through)
        terms.setdefault(draw, []).append(good)
    return {
        draw: total(amounts, amounts[0]).named(
            f"{assembly.recipe.key}.draws.{draw.kind}.{draw.id}",
            phrase(
                "{name}: {kind} {id} per good unit",
                name=assembly.name,
                kind=draw.kind,
                id=draw.id.replace("_", " "),
            ),
        )
        for draw, amounts in terms.items()
    }


def _through(assembly: Assembly, at: int | None) -> Figure | None:
    """What passes from an operation on; all (None) of what is stated per good unit, and of a
    credit, which is of something never made."""
    if at is None:
        return None
    passes = [operation.passes for operation in assembly.recipe.operations[at:]]
    later = [passed for passed in passes if passed is not None]
    return rolled_yield(later) if later else None


def _entering(
    assembly: Assembly, known: dict[str, Draws]
) -> Iterator[tuple[int | None, Draw, Figure]]:
    recipe = assembly.recipe
    for material in assembly.materials:
        line = material.line
        at = None if line.stage == STATED else entry_of(recipe.operations, line.stage)
        yield at, Draw("material", line.material), line.issued
        if line.given_off is not None:
            for draw, amount in _given_off(line.material, line.given_off):
                yield at, draw, amount
    taken = taken_by(assembly, None)
    for mould, _ in assembly.tooling:
        yield 0, Draw("pulls", mould), ONE
        yield 0, Draw("work", mould), taken.work
        yield 0, Draw("cure", mould), taken.cure
    for at, operation in enumerate(assembly.operations):
        station = str(operation.operation.station)
        yield at, Draw("hours", station), operation.paid
        yield at, Draw("base", station), operation.base
        if operation.rework is not None:
            yield at, Draw("hours", station), operation.rework.paid
            yield at, Draw("base", station), operation.rework.base
    for use in recipe.uses:
        entry = None if use.credit else entry_of(recipe.operations, "core")
        if use.assembly.recipe.key.startswith("part."):
            yield entry, Draw("part", use.assembly.recipe.key), use.quantity
        for draw, amount in draws_of(use.assembly, known).items():
            yield entry, draw, amount * use.quantity


def _given_off(material: str, gas: GivenOff) -> Iterator[tuple[Draw, Figure]]:
    yield Draw("applied", gas.limited_as), gas.applied
    if gas.total is None:
        yield Draw("untold", material), gas.applied
    else:
        yield Draw("emission", ORGANIC_HAP), gas.total
        for substance, amount in gas.substances.items():
            yield Draw("emission", substance), amount


def _stated(assembly: Assembly) -> Iterator[tuple[None, Draw, Figure]]:
    """What is stated by station and by class. On machine hours, a stated hour counts as one."""
    for station, hours in assembly.recipe.stated.hours.items():
        yield None, Draw("hours", str(station)), hours
        yield None, Draw("base", str(station)), assembly.stated.loads[str(station)]
    for material_class, cost in assembly.recipe.stated.material.items():
        yield None, Draw("stated", str(material_class)), cost
