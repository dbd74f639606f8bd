"""The parts of an option in building order: cores before panels, parts before the rest."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.costing.assembly import Assembly, Use
from quoter.figures import Figure, constant, total

ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class Made:
    """An assembly that is made, and how many of it one unit of the whole takes."""

    assembly: Assembly
    quantity: Figure


def in_building_order(whole: Assembly) -> list[Made]:
    """Everything that is made for one unit, the whole itself last; what a credit names is not."""
    found: dict[str, tuple[Assembly, list[Figure]]] = {}
    _collect(whole, ONE, found)
    return [
        Made(assembly, total(quantities, quantities[0])) for assembly, quantities in found.values()
    ]


def left_out(whole: Assembly) -> list[Use]:
    """What is not made because the whole takes its place, with negative quantities."""
    return [use for use in whole.recipe.uses if use.credit]


def _collect(
    assembly: Assembly, quantity: Figure, found: dict[str, tuple[Assembly, list[Figure]]]
) -> None:
    for use in assembly.recipe.uses:
        if not use.credit:
            _collect(use.assembly, _times(quantity, use.quantity), found)
    found.setdefault(assembly.recipe.key, (assembly, []))[1].append(quantity)


def _times(one: Figure, other: Figure) -> Figure:
    """The product; a bare one leaves the other figure as it is."""
    return other if one is ONE else one * other
