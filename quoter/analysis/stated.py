"""How much of what the planned year spends on a class of material is stated and has no price."""

from __future__ import annotations

from quoter.catalogue.volumes import boats_planned, units_planned
from quoter.figures import money_in
from quoter.pricing.price import Pricing


def moving_shares(pricing: Pricing) -> dict[str, float]:
    """Class of material -> the fraction of its cost that follows prices, where some does not.

    Over the boats and options of the planned year, or one boat of each model where none is
    planned. The rest is what boats state of the class as an amount of money. Material that yields
    take counts as yield loss, and so in neither.

    Args:
        pricing: the finished costing
    """
    home, spent = pricing.catalogue.currency, dict[str, float]()
    held: dict[str, float] = {}
    for model, option, units in _year(pricing):
        priced = pricing.models[model]
        assembly = (priced.extras[option] if option else priced.boat).assembly
        for element, cost in assembly.elements.items():
            group, _, of_class = element.partition(".")
            if group == "material":
                spent[of_class] = spent.get(of_class, 0.0) + units * float(money_in(cost, home))
        stated = {} if option else priced.model.base.material
        for of_class, cost in stated.items():
            held[str(of_class)] = held.get(str(of_class), 0.0) + units * float(money_in(cost, home))
    return {
        of_class: max(0.0, 1 - amount / spent[of_class])
        for of_class, amount in held.items()
        if amount and spent.get(of_class)
    }


def _year(pricing: Pricing) -> list[tuple[str, str, float]]:
    """Model, option (none is the boat) and units of the planned year; or one of each boat."""
    records, found = pricing.catalogue.records, []
    for id, model in pricing.models.items():
        boats = boats_planned(records, id)
        if boats is not None:
            found.append((id, "", boats.value))
            units = {option: units_planned(records, id, option) for option in model.extras}
            found += [
                (id, option, each.value) for option, each in units.items() if each is not None
            ]
    planned = [each for each in found if each[2]]
    return planned or [(id, "", 1.0) for id in pricing.models]
