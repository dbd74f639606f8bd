"""The boat before options: its stated materials, hours and tooling, plus its standard options."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.catalogue.options import Model
from quoter.costing.assembly import Assembly, Recipe, Use, finished, hours_by_station
from quoter.costing.elements import summed
from quoter.costing.rates import Rates
from quoter.engineering.labour import labour_cost
from quoter.engineering.overhead import overhead_cost
from quoter.engineering.purchasing import handling_cost, material_cost
from quoter.figures import Figure, total


def cost_base_boat(rates: Rates, model: Model, standard: Sequence[Use]) -> Assembly:
    """Cost a model without extra options; `hours` are stated as paid hours by station.

    A station that absorbs overhead on machine hours counts one per stated labour hour here, since
    a stated boat has no operations.
    """
    key, name, base = f"boat.{model.id}", str(model.name), model.base
    consumed = [use.assembly for use in standard]
    own = _own_elements(rates, model, key)
    elements = summed([own, *(made.elements for made in consumed)], rates.nothing, key, name)
    hours = {str(station): [stated] for station, stated in base.hours.items()}
    for made in consumed:
        for station, taken in made.hours.items():
            hours.setdefault(station, []).append(taken)
    return finished(
        Recipe(str(model.id), key, name, model.place, uses=tuple(standard)),
        (),
        (),
        (),
        elements,
        hours_by_station(hours, key, name),
        [made.yield_hours for made in consumed],
        [made.rework_hours for made in consumed],
        [base.mass, *(made.mass for made in consumed)],
        None,
        rates.nothing,
    )


def _own_elements(rates: Rates, model: Model, key: str) -> dict[str, Figure]:
    """The elements of what is stated for the boat itself."""
    base, nothing = model.base, rates.nothing
    terms: dict[str, list[Figure]] = {}

    def add(element: str, cost: Figure) -> None:
        terms.setdefault(element, []).append(cost)

    bought = [(str(name), cost) for name, cost in base.material.items()]
    for id, amount in base.materials.items():
        cost = material_cost(amount, rates.prices[str(id)])
        cost = cost.named(f"{key}.materials.{id}", f"{model.name}: {rates.names[str(id)]}, cost")
        bought.append((rates.classes[str(id)], cost))
    for material_class, cost in bought:
        add(f"material.{material_class}", cost)
        add("handling", handling_cost(cost, rates.handling))
    for station, hours in base.hours.items():
        rate = rates.stations[str(station)]
        labour = labour_cost(hours, rate.labour)
        on = labour if rate.station.overhead.base == "labour cost" else hours
        variable, fixed = overhead_cost(rate.variable, on), overhead_cost(rate.fixed, on)
        add(f"labour.{station}", labour)
        add("overhead_variable", variable)
        add("overhead_fixed", fixed)
        conversion = total([labour, variable, fixed], nothing)
        add("general_overhead", overhead_cost(rates.general, conversion))
    if base.tooling is not None:
        add("tooling", base.tooling)
    return {element: total(figures, nothing) for element, figures in terms.items()}
