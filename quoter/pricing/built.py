"""A boat as it is ordered: everything that is made for it, in its real colours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from quoter.catalogue.colours import standard_colour
from quoter.catalogue.materials import Gelcoat
from quoter.catalogue.options import Credit, Option
from quoter.costing.assembly import Assembly, MaterialCost, Use, in_building_order
from quoter.costing.quantities import STATED
from quoter.costing.recolour import STANDARD
from quoter.figures import Figure, at_least, constant, total
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.rules import boarded

NO_MASS = constant(0.0, "kg")


@dataclass(frozen=True, slots=True)
class Aboard:
    """An option on a boat in its colour, and how many of it; whether it is standard there."""

    option: Option
    assembly: Assembly
    count: Figure
    standard: bool


@dataclass(frozen=True, slots=True)
class NotMade:
    """A part or a standard option that is not made, and the option that takes its place."""

    name: str
    quantity: float
    instead: str


@dataclass(frozen=True, slots=True)
class Built:
    """A boat with all that is made for it: `whole` uses the boat's own parts and its options.

    `colour` is the gelcoat of its hull-coloured faces. `restyled` is what the colour adds to the
    mass of standard equipment.
    """

    priced: PricedModel
    colour: Gelcoat
    aboard: tuple[Aboard, ...]
    not_made: tuple[NotMade, ...]
    whole: Assembly
    restyled: Figure


def built(pricing: Pricing, priced: PricedModel, chosen: Mapping[str, int]) -> Built:
    """The boat with a quantity of each option and package, which keep all rules.

    Args:
        pricing: of the catalogue
        priced: the model
        chosen: quantities by id; the colour is among them
    """
    records = pricing.catalogue.records
    quantities = {id: constant(float(chosen.get(id, 0))) for id in priced.extras}
    counts = {id: count for id, count in boarded(priced, quantities).items() if count.value}
    colours = [id for id in counts if records.options[id].hull_colour is not None]
    colours.sort(key=lambda id: id in priced.model.standard)  # what is chosen first
    bringer = colours[0] if colours else ""
    recoloured = pricing.costing.models[str(priced.model.id)].recoloured
    aboard = []
    for id, count in counts.items():
        moved = recoloured.get((id, bringer))
        own = priced.options[id].assembly
        assembly = own if moved is None else moved.recipe.uses[0].assembly
        standard = id in priced.model.standard
        aboard.append(Aboard(records.options[id], assembly, count, standard))
    gelcoat = str(records.options[bringer].hull_colour) if bringer else ""
    gelcoat = gelcoat or standard_colour(records, priced.model)
    moved = recoloured.get((STANDARD, bringer))
    return Built(
        priced=priced,
        colour=records.of("gelcoat")[gelcoat],
        aboard=tuple(aboard),
        not_made=tuple(_not_made(aboard)),
        whole=_whole(priced, aboard),
        restyled=NO_MASS if moved is None else moved.mass,
    )


def bare_boat(priced: PricedModel) -> Assembly:
    """The boat without its standard options, which are made by recipes of their own."""
    boat = priced.boat.assembly
    own = [use for use in boat.recipe.uses if use.assembly.recipe.key.startswith("part.")]
    return replace(boat, recipe=replace(boat.recipe, uses=own))


def _whole(priced: PricedModel, aboard: list[Aboard]) -> Assembly:
    """The boat of its own parts, but for those whose place an option takes, and its options."""
    boat = bare_boat(priced)
    gone: dict[str, list[Use]] = {}
    for each in aboard:
        for credit, use in _credits(each):
            left_out = replace(use, quantity=_pieces(credit) * each.count)
            gone.setdefault(use.assembly.recipe.key, []).append(left_out)
    own = []
    for use in boat.recipe.uses:
        taken = [each.quantity for each in gone.pop(use.assembly.recipe.key, [])]
        left = use
        if taken:
            left = replace(use, quantity=use.quantity - total(taken, taken[0]))
        if left.quantity.value > 0:
            own.append(left)
    options = [Use(each.assembly, each.count, each.option.place) for each in aboard]
    within = [use for uses in gone.values() for use in uses]
    return replace(
        boat,
        materials=tuple(_less(material, within) for material in boat.materials),
        recipe=replace(boat.recipe, uses=[*own, *options]),
    )


def _less(material: MaterialCost, not_made: list[Use]) -> MaterialCost:
    """What is stated of a boat that is not built up, less what parts would take of it."""
    line = material.line
    if line.stage != STATED:
        return material
    taken = [
        each.line.issued * use.quantity * one.quantity
        for use in not_made
        for one in in_building_order(use.assembly)
        for each in one.assembly.materials
        if each.line.material == line.material
    ]
    if not taken:
        return material
    left = at_least(line.issued - total(taken, taken[0]), Figure(0.0, line.issued.unit))
    return replace(material, line=replace(line, net=left, issued=left))


def _credits(one: Aboard) -> Iterator[tuple[Credit, Use]]:
    """What an option leaves out, with the assembly of it; its uses end with them."""
    credits = one.option.credits
    uses = [use for use in one.assembly.recipe.uses if use.credit]
    yield from zip(credits, uses, strict=True)


def _pieces(credit: Credit) -> Figure:
    """How many are left out, whatever share of the cost is credited."""
    return credit.quantity if credit.quantity is not None else constant(1.0)


def _not_made(aboard: list[Aboard]) -> Iterator[NotMade]:
    for each in aboard:
        for credit, use in _credits(each):
            count = (_pieces(credit) * each.count).value
            yield NotMade(use.assembly.name, count, each.assembly.name)
