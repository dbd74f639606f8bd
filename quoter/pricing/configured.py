"""A boat with chosen options: price, cost, margin, mass and hours as totals over a selection."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.figures import Figure, Origin, dot
from quoter.figures.figure import entered
from quoter.pricing.price import PricedModel
from quoter.pricing.rules import Rule, all_hold, rules_of
from quoter.pricing.sale import Sale, Terms, sales
from quoter.problems import Place
from quoter.units import quantity


@dataclass(frozen=True, slots=True)
class Configured:
    """A boat and a quantity of each extra option; all amounts are of the whole boat.

    `quantities` are inputs of 0, 1 or more, by id of option or package; `kept` is 1 where all of
    an option's rules hold, `all_kept` where every rule does.
    """

    quantities: dict[str, Figure]
    list_price: Figure
    cost: Figure
    variable: Figure
    mass: Figure
    hours: Figure
    sales: dict[str, Sale]
    rules: list[Rule]
    kept: dict[str, Figure]
    all_kept: Figure


def configure(terms: Terms, priced: PricedModel, chosen: dict[str, int]) -> Configured:
    """The configured boat with `chosen` quantities by option id (others 0)."""
    extras = priced.extras
    key, name = f"configured.{priced.model.id}", f"{priced.model.name} configured"
    quantities = {
        id: entered(
            quantity(str(chosen.get(id, 0))),
            f"{key}.quantity.{id}",
            f"{item.assembly.name}: quantity",
            Origin(Place("selection"), str(chosen.get(id, 0))),
        )
        for id, item in extras.items()
    }
    boat = priced.boat
    hours = {id: item.assembly.all_hours for id, item in extras.items()}

    def whole(base: Figure, each: dict[str, Figure], what: str) -> Figure:
        if not extras:
            return base.named(f"{key}.{what}", f"{name}: {what.replace('_', ' ')}")
        chosen_sum = dot(list(quantities.values()), [each[id] for id in quantities])
        return (base + chosen_sum).named(f"{key}.{what}", f"{name}: {what.replace('_', ' ')}")

    list_price = whole(
        boat.list_price, {id: item.list_price for id, item in extras.items()}, "list_price"
    )
    cost = whole(
        boat.assembly.cost, {id: item.assembly.cost for id, item in extras.items()}, "cost"
    )
    variable = whole(
        boat.assembly.variable,
        {id: item.assembly.variable for id, item in extras.items()},
        "variable_cost",
    )
    mass = whole(
        boat.assembly.mass, {id: item.assembly.mass for id, item in extras.items()}, "mass"
    )
    rules = rules_of(priced, quantities)
    kept = {
        id: all_hold([rule.holds for rule in rules if rule.option == id]).named(
            f"{key}.kept.{id}", f"{priced.options[id].assembly.name}: rules kept"
        )
        for id in dict.fromkeys(rule.option for rule in rules)
    }
    return Configured(
        quantities,
        list_price,
        cost,
        variable,
        mass,
        whole(boat.assembly.all_hours, hours, "hours"),
        sales(terms, list_price, cost, variable, key, name),
        rules,
        kept,
        all_hold(list(kept.values())).named(f"{key}.kept", f"{name}: all rules kept"),
    )
