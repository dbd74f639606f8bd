"""What a good unit draws on: material issued, hours and pulls, with all that yields take.

Costs keep yield loss and rework apart; a plan needs them inside, since scrapped units too take
material from stores and hours from stations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from quoter.catalogue.options import Model
from quoter.costing.assembly import Assembly, entry_of
from quoter.costing.occupation import taken_by
from quoter.costing.rates import CostRates
from quoter.engineering.labour import labour_cost
from quoter.engineering.yields import per_good_unit, rolled_yield
from quoter.figures import Figure, constant, total

Kind = Literal["material", "hours", "base", "pulls", "work", "cure", "emission", "part"]
WORDS: dict[Kind, str] = {
    "material": "material issued",
    "hours": "paid hours",
    "base": "amount that overhead is absorbed on",
    "pulls": "pulls",
    "work": "hours of work in the mould",
    "cure": "hours of cure in the mould",
    "emission": "given off",
    "part": "parts",
}
ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class Draw:
    """A resource: a material, a station's hours or overhead base, a mould's pulls or hours
    of work and cure, organic HAP given off, or a part."""

    kind: Kind
    id: str

    @property
    def words(self) -> str:
        """What is drawn, in words."""
        return f"{WORDS[self.kind]}, {self.id.removeprefix('part.').replace('_', ' ')}"


Draws = dict[Draw, Figure]


def draws_of(assembly: Assembly, known: dict[str, Draws]) -> Draws:
    """The draws of one good unit, per resource; `known` keeps those of shared parts."""
    key = assembly.recipe.key
    if key not in known:
        known[key] = _draws(assembly, known)
    return known[key]


def base_boat_draws(
    model: Model, rates: CostRates, standard: Assembly, known: dict[str, Draws]
) -> Draws:
    """The draws of a boat without extra options: what is stated, and its standard options."""
    terms: dict[Draw, list[Figure]] = {}
    for id, amount in model.base.materials.items():
        terms.setdefault(Draw("material", str(id)), []).append(amount)
    for station, hours in model.base.hours.items():
        rate = rates.stations[station]
        by_cost = rate.station.overhead.base == "labour cost"
        base = labour_cost(hours, rate.labour) if by_cost else hours
        terms.setdefault(Draw("hours", str(station)), []).append(hours)
        terms.setdefault(Draw("base", str(station)), []).append(base)
    for use in standard.recipe.uses:
        for draw, amount in draws_of(use.assembly, known).items():
            terms.setdefault(draw, []).append(amount * use.quantity)
    return {draw: total(amounts, amounts[0]) for draw, amounts in terms.items()}


def _draws(assembly: Assembly, known: dict[str, Draws]) -> Draws:
    terms: dict[Draw, list[Figure]] = {}
    for at, draw, amount in _entering(assembly, known):
        through = _through(assembly, at)
        good = amount if through is None else per_good_unit(amount, through)
        terms.setdefault(draw, []).append(good)
    return {
        draw: total(amounts, amounts[0]).named(
            f"{assembly.recipe.key}.draws.{draw.kind}.{draw.id}",
            f"{assembly.name}: {draw.kind} {draw.id.replace('_', ' ')} per good unit",
        )
        for draw, amounts in terms.items()
    }


def _through(assembly: Assembly, at: int | None) -> Figure | None:
    """What passes from an operation on; a credit (None) is of something never made."""
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
        at = entry_of(recipe, line.stage)
        yield at, Draw("material", line.material), line.issued
        if line.emission is not None:
            yield at, Draw("emission", "organic HAP"), line.emission
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
        entry = None if use.credit else entry_of(recipe, "core")
        yield entry, Draw("part", use.assembly.recipe.key), use.quantity
        for draw, amount in draws_of(use.assembly, known).items():
            yield entry, draw, amount * use.quantity
