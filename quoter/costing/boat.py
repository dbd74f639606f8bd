"""The boat before options: its stated materials, hours and tooling, plus its standard options."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.catalogue.options import Model
from quoter.costing.assembly import Assembly, Recipe, Use, finished
from quoter.costing.elements import summed
from quoter.costing.rates import Rates
from quoter.costing.yield_loss import NO_HOURS
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
    nothing = rates.nothing
    terms: dict[str, list[Figure]] = {}
    for material_class, cost in base.material.items():
        terms.setdefault(f"material.{material_class}", []).append(cost)
        terms.setdefault("handling", []).append(handling_cost(cost, rates.handling))
    for id, amount in base.materials.items():
        cost = material_cost(amount, rates.prices[str(id)])
        cost = cost.named(f"{key}.materials.{id}", f"{name}: {rates.names[str(id)]}, cost")
        terms.setdefault(f"material.{rates.classes[str(id)]}", []).append(cost)
        terms.setdefault("handling", []).append(handling_cost(cost, rates.handling))
    for station, hours in base.hours.items():
        rate = rates.stations[str(station)]
        labour = labour_cost(hours, rate.labour)
        on = labour if rate.station.overhead.base == "labour cost" else hours
        variable, fixed = overhead_cost(rate.variable, on), overhead_cost(rate.fixed, on)
        terms.setdefault(f"labour.{station}", []).append(labour)
        terms.setdefault("overhead_variable", []).append(variable)
        terms.setdefault("overhead_fixed", []).append(fixed)
        general = overhead_cost(rates.general, total([labour, variable, fixed], nothing))
        terms.setdefault("general_overhead", []).append(general)
    if base.tooling is not None:
        terms["tooling"] = [base.tooling]
    own = {element: total(figures, nothing) for element, figures in terms.items()}
    consumed = [use.assembly.elements for use in standard]
    elements = summed([own, *consumed], nothing, key, name)
    hours_by_station = {str(station): [hours] for station, hours in base.hours.items()}
    for use in standard:
        for station, hours in use.assembly.hours.items():
            hours_by_station.setdefault(station, []).append(hours)
    masses = [base.mass, *(use.assembly.mass for use in standard)]
    lost = [use.assembly.yield_hours for use in standard]
    again = [use.assembly.rework_hours for use in standard]
    recipe = Recipe(str(model.id), key, name, model.place, uses=tuple(standard))
    by_station = {
        station: total(figures, NO_HOURS).named(
            f"{key}.hours.{station}", f"{name}: hours, {station.replace('_', ' ')}"
        )
        for station, figures in hours_by_station.items()
    }
    return finished(recipe, (), (), (), elements, by_station, lost, again, masses, None, nothing)
