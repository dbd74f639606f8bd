"""How much of a boat is stated, not built up: of its cost, material, hours, mass and emission."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from quoter.analysis.emissions import ALL_HAP, NO_EMISSION
from quoter.costing.assembly import NO_MASS, Assembly
from quoter.costing.draws import Draws, draws_of
from quoter.costing.elements import group_of
from quoter.costing.quantities import STATED
from quoter.costing.yield_loss import NO_HOURS
from quoter.figures import Figure, total
from quoter.phrases import phrase, together


@dataclass(frozen=True, slots=True)
class StatedShare:
    """What of an amount is stated, per good unit, standard options being in the whole."""

    what: str
    stated: Figure
    whole: Figure
    share: Figure


def stated_of(assembly: Assembly) -> list[StatedShare]:
    """The stated shares of a boat's cost, material, mass, hours and emission, as far as there are.

    An assembly of which nothing is stated has none.
    """
    known: dict[str, Draws] = {}
    return [
        _share(assembly, what, stated, whole)
        for what, stated, whole in _amounts(assembly, known)
        if whole.value > 0
    ]


def _share(assembly: Assembly, what: str, stated: Figure, whole: Figure) -> StatedShare:
    key = f"{assembly.recipe.key}.stated.{what.replace(' ', '_')}"
    name = together(": ", (assembly.name, what))
    stated = stated.named(key, phrase("{name}, stated", name=name))
    share = (stated / whole).named(
        f"{key}.share", phrase("{name}, share that is stated", name=name), "percent"
    )
    return StatedShare(what, stated, whole, share)


def _amounts(assembly: Assembly, known: dict[str, Draws]) -> Iterator[tuple[str, Figure, Figure]]:
    """What is stated of each amount, and the whole of it."""
    given, elements = assembly.recipe.stated, assembly.stated.elements
    if not elements and given.mass is None:
        return
    nothing = assembly.cost * 0.0
    yield phrase("cost"), total([*elements.values()], nothing), assembly.cost
    bought = [cost for element, cost in elements.items() if group_of(element) == "material"]
    yield phrase("material"), total(bought, nothing), assembly.groups.get("material", nothing)
    yield phrase("hours"), total([*given.hours.values()], NO_HOURS), assembly.all_hours
    yield phrase("mass"), NO_MASS if given.mass is None else given.mass, assembly.mass
    lines = [material.line for material in assembly.materials if material.line.stage == STATED]
    gas = [line.emission for line in lines if line.emission is not None]
    yield (
        phrase("organic HAP"),
        total(gas, NO_EMISSION),
        draws_of(assembly, known).get(ALL_HAP, NO_EMISSION),
    )
