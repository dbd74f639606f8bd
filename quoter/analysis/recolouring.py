"""What hull colours change in a planned year: the options that meet a colour, and what that draws.

Colours and options are taken to be chosen independently: of the boats that take a door, as many
take a colour as of all boats of the model.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draws, draws_of
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.pairs import pair_counts
from quoter.pricing.price import ColourPair, PricedModel
from quoter.problems import Place

Given = Callable[[Figure, str, str, Place], Figure]


@dataclass(frozen=True, slots=True)
class PairDemand:
    """A planned pair of an option and a hull colour: the part of a model's boats, and units.

    `margin` is of one at the first class of buyer, `yearly` of all units; `draws` is what one draws
    more than the option as it comes.
    """

    model: str
    of: ColourPair
    take: Figure
    units: Figure
    margin: Figure
    yearly: Figure
    draws: Draws


def recolour(
    priced: PricedModel,
    boats: Figure,
    takes: Mapping[str, Figure],
    known: dict[str, Draws],
    given: Given,
) -> Iterator[PairDemand]:
    """Every pair of a model of which both have a take rate.

    Args:
        priced: the model
        boats: of the model a year
        takes: the part of its boats that takes an option, by id
        known: the draws that are worked out already, by the keys of assemblies
        given: what becomes of the margin of one, as in the plan
    """
    model = str(priced.model.id)
    planned = {id: take for id, take in takes.items() if id in priced.extras}
    for pair in pair_counts(priced, planned, f"plan.{model}"):
        made, key = pair.of.assembly, f"{pair.of.option or 'boat'}.{pair.of.colour}"
        label = f"{priced.model.name}: {made.name}"
        units = (boats * pair.count).named(
            f"plan.{model}.{key}.units", phrase("{label}, units a year", label=label)
        )
        margin = given(
            _margin(pair.of),
            f"plan.{model}.unit_margin.{key}",
            f"{label}, margin of one",
            made.recipe.place,
        )
        yield PairDemand(
            model=model,
            of=pair.of,
            take=pair.count,
            units=units,
            margin=margin,
            yearly=(units * margin).named(
                f"plan.{model}.{key}.margin", phrase("{label}, margin a year", label=label)
            ),
            draws=_moved(made, known),
        )


def _margin(pair: ColourPair) -> Figure:
    """What one of a pair leaves: its surcharge less provisions and cost, or its cost alone."""
    if pair.surcharge is None:
        return -pair.assembly.cost
    return next(iter(pair.surcharge.sales.values())).margin


def _moved(made: Assembly, known: dict[str, Draws]) -> Draws:
    """What a difference draws, without what both sides of it draw alike."""
    return {
        draw: amount
        for draw, amount in draws_of(made, known).items()
        if amount.value and (draw.kind != "part" or draw.id.startswith("part."))
    }
