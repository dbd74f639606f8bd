"""What other values of the catalogue would do to every boat and option: cost and margin, exactly.

The finished costing is worked out again through its graph with the values replaced; a list price
that the policy recommends follows the cost, a published one stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from quoter.figures import Figure
from quoter.figures.graph import evaluate
from quoter.pricing.price import BOAT, Priced, Pricing

NOISE = 1e-12  # of a cost; what floating numbers add


@dataclass(frozen=True, slots=True)
class Effect:
    """What a proposal does to an option (or to the boat, id ""): costs before and after, in home
    currency, and margins as fractions, None where it has no price."""

    model: str
    option: str
    cost: Figure
    new_cost: float
    margin: float | None
    new_margin: float | None


def effects(pricing: Pricing, values: Mapping[Figure, float]) -> tuple[Effect, ...]:
    """What inputs of other values do together to every boat and option whose cost they move.

    Args:
        pricing: the finished costing with prices
        values: by input, as written: the number in the unit it is written in
    """
    return effects_of(pricing, [values])[0]


def effects_of(
    pricing: Pricing, changes: Sequence[Mapping[Figure, float]]
) -> list[tuple[Effect, ...]]:
    """What each of several changes does by itself, all worked out in one pass.

    Margins are those of the first class of buyer.

    Args:
        pricing: the finished costing with prices
        changes: as those of `effects`
    """
    if not changes:
        return []
    import numpy as np

    replaced: dict[Figure, Any] = {}
    for number, values in enumerate(changes):
        for figure, value in values.items():
            if figure not in replaced:
                replaced[figure] = np.full(len(changes), figure.value)
            replaced[figure][number] = value
    sold = list(_sold(pricing))
    outputs = [item.assembly.cost for _, _, item in sold]
    outputs += [margin for _, _, item in sold for margin in _margins(item)]
    found = iter(evaluate(outputs, replaced, free=True))
    costs = [np.broadcast_to(next(found), len(changes)) for _ in sold]
    margins = [[np.broadcast_to(next(found), len(changes)) for _ in _margins(i)] for *_, i in sold]
    told: list[list[Effect]] = [[] for _ in changes]
    for (model, option, item), cost, margin in zip(sold, costs, margins, strict=True):
        before = item.assembly.cost
        old = next((each.value for each in _margins(item)), None)
        for number, new_cost in enumerate(map(float, cost)):
            if abs(new_cost - before.value) > NOISE * abs(before.value):
                new = next((float(each[number]) for each in margin), None)
                told[number].append(Effect(model, option, before, new_cost, old, new))
    return [tuple(each) for each in told]


def _sold(pricing: Pricing) -> Iterator[tuple[str, str, Priced]]:
    for id, model in pricing.models.items():
        yield id, BOAT, model.boat
        for option, item in model.options.items():
            yield id, option, item


def _margins(item: Priced) -> list[Figure]:
    """The margin at the first class of buyer, if it has a price."""
    return [sale.margin_fraction for sale in item.sales.values()][:1]
