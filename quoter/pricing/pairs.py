"""How many of an option are on a boat in another hull colour than its own, and what that adds."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass

from quoter.costing.assembly import Assembly
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.price import BOAT, ColourPair, PricedModel

NONE = constant(0.0)


@dataclass(frozen=True, slots=True)
class PairCount:
    """A pair of an option and a hull colour, and how often a boat has both."""

    of: ColourPair
    count: Figure


@dataclass(frozen=True, slots=True)
class Meeting:
    """A pair on one boat: what holds the option there, and which other choice brings the colour.

    `holder` is an option or a package that holds it, BOAT for standard equipment.
    """

    of: ColourPair
    holder: str
    bringer: str


def meetings(priced: PricedModel, chosen: Collection[str]) -> Iterator[Meeting]:
    """Every way in which a pair can come about among what is chosen.

    What one package holds of both is no meeting: its own cost has it already.

    Args:
        priced: the model
        chosen: ids of options and packages
    """
    for pair in priced.pairs:
        for holder in _holding(priced, pair.option):
            for bringer in _holding(priced, pair.colour):
                there = holder == BOAT or holder in chosen
                if there and bringer in chosen and holder != bringer:
                    yield Meeting(pair, holder, bringer)


def pair_counts(
    priced: PricedModel, quantities: Mapping[str, Figure], key: str
) -> tuple[PairCount, ...]:
    """How often each pair of a model comes together, whether chosen alone or in packages.

    Args:
        priced: the model
        quantities: how many of each extra, by id: of a boat, or of a year's boats their share
        key: begins the figures' keys
    """
    found: dict[str, tuple[ColourPair, list[Figure]]] = {}
    for each in meetings(priced, quantities):
        often = quantities[each.bringer]
        if each.holder != BOAT:
            often = quantities[each.holder] * often
        found.setdefault(each.of.id, (each.of, []))[1].append(often)
    return tuple(
        PairCount(
            pair,
            total(often, NONE).named(
                f"{key}.pair.{pair.option or 'boat'}.{pair.colour}",
                phrase("{name}: quantity", name=pair.assembly.name),
            ),
        )
        for pair, often in found.values()
    )


def as_coloured(
    priced: PricedModel,
    quantities: Mapping[str, Figure],
    holder: str,
    of: Callable[[Assembly], Figure],
) -> Figure:
    """What one of something chosen takes in the hull colour of its boat, such as its cost.

    Args:
        priced: the model
        quantities: how many of each extra are chosen, by id; the others may be missing
        holder: an option or a package among them, BOAT for the boat with its standard equipment
        of: what is asked of an assembly
    """
    item = priced.extras[holder] if holder else priced.boat
    found = of(item.assembly)
    for each in meetings(priced, quantities):
        if each.holder == holder:
            found = found + quantities[each.bringer] * of(each.of.assembly)
    return found


def _holding(priced: PricedModel, id: str) -> list[str]:
    """An extra and every package that holds it, by id; the boat for its standard equipment."""
    return [id, *(str(each.id) for each in priced.offered_packages if id in each.options)]
