"""What another hull colour changes: an option made in it less the same option as it usually is.

The difference is an assembly like any other, so cost, elements, hours, mass and draws follow from
the same functions.
"""

from __future__ import annotations

from collections.abc import Callable

from quoter.catalogue.checks import offered
from quoter.catalogue.colours import follows_hull, go_together, other_colours
from quoter.catalogue.options import Model, Option
from quoter.catalogue.records import Records
from quoter.costing.assembly import Assembly, Recipe, Use, cost_assembly
from quoter.costing.rates import CostRates
from quoter.figures import constant
from quoter.phrases import phrase

ONE = constant(1.0)
STANDARD = ""  # in the place of an option's id: all standard equipment of the boat

Recoloured = dict[tuple[str, str], Assembly]
Made = Callable[[str, str], Assembly]


def recoloured(rates: CostRates, records: Records, model: Model, made: Made) -> Recoloured:
    """(option, colour) -> what the colour adds to the option's cost; empty without colours.

    An option that can't be had with a colour has no difference. That of (STANDARD, colour) is of
    all standard equipment together, what an option deletes of it being in the option's own.

    Args:
        rates: of the costing
        records: of the catalogue
        model: the boat
        made: an option's assembly by its id and the gelcoat of its hull-coloured faces; with an
            empty gelcoat as it comes
    """
    found: Recoloured = {}
    for id, gelcoat in other_colours(records, model).items():
        colour = records.options[id]
        for option in records.options.values():
            priced = any(each.colour == id for each in option.colour_surcharges)
            moves = follows_hull(records, option) or priced
            if moves and offered(option, model) and go_together(option, colour):
                one = made(str(option.id), gelcoat)
                found[str(option.id), id] = _less(
                    rates, model, option, colour, one, made(str(option.id), "")
                )
        standard = [found[name, id] for name in model.standard if (name, id) in found]
        if standard:
            uses = [Use(each, ONE, colour.place) for each in standard]
            found[STANDARD, id] = _assembly(
                rates, model, "boat", "Standard equipment", colour, uses
            )
    return found


def _less(
    rates: CostRates, model: Model, option: Option, colour: Option, new: Assembly, own: Assembly
) -> Assembly:
    uses = [
        Use(new, ONE, option.place),
        Use(own, constant(-1.0), option.place, credit=True),
    ]
    return _assembly(rates, model, str(option.id), str(option.name), colour, uses)


def _assembly(
    rates: CostRates, model: Model, id: str, name: str, colour: Option, uses: list[Use]
) -> Assembly:
    recipe = Recipe(
        id=id,
        key=f"colour.{model.id}.{id}.{colour.id}",
        name=phrase("{name}, recoloured: {colour}", name=name, colour=colour.name),
        place=colour.place,
        uses=uses,
    )
    return cost_assembly(recipe, rates)
