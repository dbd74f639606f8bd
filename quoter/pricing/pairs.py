"""How many of an option are on a boat in another hull colour than its own, and what that adds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from quoter.figures import Figure, constant, total
from quoter.pricing.price import BOAT, ColourPair, PricedModel

NONE = constant(0.0)


@dataclass(frozen=True, slots=True)
class PairCount:
    """A pair of an option and a hull colour, and how often a boat has both."""

    of: ColourPair
    count: Figure


def pair_counts(
    priced: PricedModel, quantities: Mapping[str, Figure], key: str
) -> tuple[PairCount, ...]:
    """How often each pair of a model comes together, where its colour can be chosen.

    Whether an option or a colour is chosen by itself or in a package makes no difference, but that
    what one package holds of both is in its own cost already.

    Args:
        priced: the model
        quantities: how many of each extra, by id: of a boat, or of a year's boats their share
        key: begins the figures' keys
    """
    found = []
    for pair in priced.pairs:
        colours, options = _holding(priced, pair.colour), _holding(priced, pair.option)
        apart = [
            quantities[colour] if option == BOAT else quantities[option] * quantities[colour]
            for option in options
            for colour in colours
            if option != colour and option in {BOAT, *quantities} and colour in quantities
        ]
        if apart:
            label = f"{pair.assembly.name}: quantity"
            count = total(apart, NONE).named(
                f"{key}.pair.{pair.option or 'boat'}.{pair.colour}", label
            )
            found.append(PairCount(pair, count))
    return tuple(found)


def _holding(priced: PricedModel, id: str) -> list[str]:
    """An extra and every package that holds it, by id; the boat for its standard equipment."""
    return [id, *(str(each.id) for each in priced.offered_packages if id in each.options)]
