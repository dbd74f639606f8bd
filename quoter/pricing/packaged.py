"""What a package does for options that are chosen singly: where it costs less, and what it holds.

A price sheet's list offers the same packages by the same rule, in `templates/public/choice.js`;
`tests/pages/test_packages_offered.py` holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import add

from quoter.catalogue.options import Package
from quoter.figures import Figure, constant
from quoter.pricing.pairs import pair_counts
from quoter.pricing.price import Key, PricedModel
from quoter.pricing.public import PublicPrice
from quoter.pricing.rules import rules_of

Chosen = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class CheaperPackage:
    """A package that some chosen options can go into, at less than they cost by themselves.

    `instead` are those options, one of each; `besides` what the package holds on top of them;
    `chosen` how many of each extra are chosen with it; `saving` what the whole boat then costs
    less.
    """

    package: str
    instead: tuple[str, ...]
    besides: tuple[str, ...]
    chosen: Mapping[str, int]
    saving: PublicPrice


def cheaper_packages(
    priced: PricedModel, chosen: Chosen, prices: Mapping[Key, PublicPrice]
) -> tuple[CheaperPackage, ...]:
    """The packages that would make a boat cheaper, the largest saving first.

    A package is one of them if it is not chosen yet, holds an option that is chosen singly, keeps
    all rules when one of each such option goes into it, and the boat then costs less: surcharges
    for hull colours are part of what it costs.

    Args:
        priced: the model
        chosen: how many of each extra, by id; a selection that keeps all rules
        prices: list prices by model and id, as somebody reads them
    """
    found = [
        offer
        for package in priced.offered_packages
        if not chosen.get(str(package.id))
        and (offer := _offer(priced, package, chosen, prices)) is not None
    ]
    return tuple(sorted(found, key=lambda offer: -offer.saving.amount))


def holding(priced: PricedModel, option: str, chosen: Chosen) -> tuple[str, ...]:
    """The ids of the chosen packages that hold an option."""
    return tuple(
        str(package.id)
        for package in priced.offered_packages
        if option in package.options and chosen.get(str(package.id))
    )


def _offer(
    priced: PricedModel, package: Package, chosen: Chosen, prices: Mapping[Key, PublicPrice]
) -> CheaperPackage | None:
    inside = [str(name) for name in package.options]
    instead = tuple(id for id in inside if chosen.get(id))
    if not instead:
        return None
    after = {id: count - (id in instead) for id, count in chosen.items()}
    after = {id: count for id, count in after.items() if count} | {str(package.id): 1}
    if not all(rule.holds.value for rule in rules_of(priced, _quantities(priced, after))):
        return None
    model, id = str(priced.model.id), str(package.id)
    before = [prices[model, name] for name in instead]
    saving = reduce(add, before) - prices[model, id]
    for price, fewer in _fewer_surcharges(priced, chosen, after, prices):
        for _ in range(abs(fewer)):
            saving = saving + price if fewer > 0 else saving - price
    if saving.amount <= 0:
        return None
    besides = tuple(name for name in inside if name not in instead)
    return CheaperPackage(id, instead, besides, after, saving)


def _fewer_surcharges(
    priced: PricedModel, before: Chosen, after: Chosen, prices: Mapping[Key, PublicPrice]
) -> Iterator[tuple[PublicPrice, int]]:
    """Each surcharge for a hull colour, and how many fewer of it a boat then bears."""
    counts = [
        {
            pair.of.id: int(pair.count.value)
            for pair in pair_counts(priced, _quantities(priced, chosen), "packaged")
        }
        for chosen in (before, after)
    ]
    for id in priced.surcharges:
        fewer = counts[0].get(id, 0) - counts[1].get(id, 0)
        if fewer:
            yield prices[str(priced.model.id), id], fewer


def _quantities(priced: PricedModel, chosen: Chosen) -> dict[str, Figure]:
    return {id: constant(float(chosen.get(id, 0))) for id in priced.extras}
