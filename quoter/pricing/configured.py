"""A boat with chosen options: price, cost, margin, mass and hours as totals over a selection."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from quoter.costing.assembly import Assembly
from quoter.figures import Figure, Origin, dot
from quoter.figures.figure import entered
from quoter.phrases import phrase
from quoter.pricing.pairs import PairCount, pair_counts
from quoter.pricing.price import Priced, PricedModel
from quoter.pricing.rules import Rule, all_hold, rules_of
from quoter.pricing.sale import Sale, Terms, sales
from quoter.problems import Place
from quoter.units import quantity


@dataclass(frozen=True, slots=True)
class Configured:
    """A boat and a quantity of each extra option; all amounts are of the whole boat.

    `quantities` are inputs of 0, 1 or more, by id of option or package; `pairs` how often each
    option is there in another hull colour. `kept` is 1 where all of an option's rules hold,
    `all_kept` where every rule does.
    """

    quantities: dict[str, Figure]
    pairs: tuple[PairCount, ...]
    list_price: Figure
    cost: Figure
    variable: Figure
    mass: Figure
    hours: Figure
    sales: dict[str, Sale]
    rules: list[Rule]
    kept: dict[str, Figure]
    all_kept: Figure


def configure(
    terms: Terms, priced: PricedModel, chosen: dict[str, int], key: str = ""
) -> Configured:
    """The configured boat with `chosen` quantities by option id (others 0).

    `key` begins the figures' keys, such as where several boats of a model are told apart.
    """
    extras = priced.extras
    key = key or f"configured.{priced.model.id}"
    name = phrase("{name} configured", name=priced.model.name)
    quantities = _quantities(extras, chosen, key)
    pairs = pair_counts(priced, quantities, key)

    extra = list(zip(quantities.values(), extras.values(), strict=True))

    def whole(what: str, own: Figure, *more: list[tuple[Figure, Figure]]) -> Figure:
        """The boat's own amount, and each of what is chosen times its quantity."""
        amount = own
        for each in filter(None, more):
            amount = amount + dot([count for count, _ in each], [figure for _, figure in each])
        return amount.named(f"{key}.{what}", f"{name}: {what.replace('_', ' ')}")

    def whole_of(what: str, of: Callable[[Assembly], Figure]) -> Figure:
        """What the boat, the extras and the pairs hold of something."""
        moved = [(pair.count, of(pair.of.assembly)) for pair in pairs]
        apart = [(count, of(item.assembly)) for count, item in extra]
        return whole(what, of(priced.boat.assembly), apart, moved)

    charged = [
        (pair.count, pair.of.surcharge.list_price)
        for pair in pairs
        if pair.of.surcharge is not None
    ]
    apart = [(count, item.list_price) for count, item in extra]
    list_price = whole("list_price", priced.boat.list_price, apart, charged)
    cost = whole_of("cost", lambda assembly: assembly.cost)
    variable = whole_of("variable_cost", lambda assembly: assembly.variable)
    rules = rules_of(priced, quantities)
    kept = _kept(priced, rules, key)
    return Configured(
        quantities=quantities,
        pairs=pairs,
        list_price=list_price,
        cost=cost,
        variable=variable,
        mass=whole_of("mass", lambda assembly: assembly.mass),
        hours=whole_of("hours", lambda assembly: assembly.all_hours),
        sales=sales(terms, list_price, cost, variable, key, name),
        rules=rules,
        kept=kept,
        all_kept=all_hold(list(kept.values())).named(
            f"{key}.kept", phrase("{name}: all rules kept", name=name)
        ),
    )


def _quantities(extras: dict[str, Priced], chosen: dict[str, int], key: str) -> dict[str, Figure]:
    """An input for how many of each extra, by id."""
    return {
        id: entered(
            quantity(str(chosen.get(id, 0))),
            f"{key}.quantity.{id}",
            f"{item.assembly.name}: quantity",
            Origin(Place("selection"), str(chosen.get(id, 0))),
        )
        for id, item in extras.items()
    }


def _kept(priced: PricedModel, rules: list[Rule], key: str) -> dict[str, Figure]:
    """By option, 1 where the selection keeps all its rules."""
    return {
        id: all_hold([rule.holds for rule in rules if rule.option == id]).named(
            f"{key}.kept.{id}", phrase("{name}: rules kept", name=priced.options[id].assembly.name)
        )
        for id in dict.fromkeys(rule.option for rule in rules)
    }
