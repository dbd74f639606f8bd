"""A year of the planned volume: demand, moulds, stations, materials, margin and emissions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from quoter.catalogue.factory import Mould
from quoter.catalogue.options import Model
from quoter.costing.draws import Draw, Draws, base_boat_draws, draws_of
from quoter.costing.purchasing import pack_content
from quoter.costing.rollup import Costing
from quoter.engineering.overhead import overhead_cost, under_absorbed
from quoter.engineering.tooling import pulls_per_year, sets_needed
from quoter.figures import Figure, constant, round_up, total
from quoter.pricing.price import PricedModel, Pricing

NONE = constant(0.0)
MONTHS = constant(12.0)


@dataclass(frozen=True, slots=True)
class OptionDemand:
    """An option on a model: its take rate, units a year, and margin a year at the first buyer."""

    model: str
    option: str
    take: Figure
    units: Figure
    margin: Figure


@dataclass(frozen=True, slots=True)
class MouldLoad:
    """A mould's pulls a year against what one set can make; figures are None without a calendar."""

    mould: Mould
    pulls: Figure
    planned: Figure
    occupied: Figure
    capacity: Figure | None
    sets: Figure | None


@dataclass(frozen=True, slots=True)
class StationLoad:
    """A station's hours a year, its load on its absorption base, and overhead under-absorbed."""

    station: str
    hours: Figure
    load: Figure
    utilisation: Figure
    budget: Figure
    absorbed: Figure
    under: Figure


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """A material a month: amount, whole packs where it is bought in packs, and cost."""

    material: str
    amount: Figure
    packs: Figure | None
    cost: Figure


@dataclass(slots=True)
class Plan:
    """The planned year; `bottleneck` is the station with the highest utilisation."""

    boats: dict[str, Figure] = field(default_factory=dict)
    options: list[OptionDemand] = field(default_factory=list)
    parts: dict[str, Figure] = field(default_factory=dict)
    moulds: list[MouldLoad] = field(default_factory=list)
    stations: list[StationLoad] = field(default_factory=list)
    materials: list[MaterialNeed] = field(default_factory=list)
    emission: Figure = NONE
    margins: dict[str, Figure] = field(default_factory=dict)

    @property
    def bottleneck(self) -> StationLoad | None:
        """The station nearest to or furthest above its capacity."""
        return max(self.stations, key=lambda load: load.utilisation.value, default=None)


def plan_of(pricing: Pricing) -> Plan:
    """The plan that the catalogue's volumes make; models without a volume are not built."""
    plan, known = Plan(), dict[str, Draws]()
    yearly: dict[Draw, list[Figure]] = {}
    for id, priced in pricing.models.items():
        boats = _boats(pricing, id)
        if boats is not None:
            plan.boats[id] = boats
            _add_model(pricing, plan, priced, boats, known, yearly)
    for draw, amounts in yearly.items():
        named = total(amounts, amounts[0]).named(
            f"plan.{draw.kind}.{draw.id}", f"Plan: {draw.kind} {draw.id.replace('_', ' ')} a year"
        )
        _place(pricing.costing, plan, draw, named, yearly)
    return plan


def _boats(pricing: Pricing, model: str) -> Figure | None:
    rows = pricing.catalogue.records.volumes
    return next((r.boats for r in rows if r.model == model and r.boats is not None), None)


def take_rates(pricing: Pricing, model: Model) -> Mapping[str, Figure]:
    """The take rate of each option of a model that has one, by option id."""
    rows = pricing.catalogue.records.volumes
    return {
        str(row.option): row.take_rate
        for row in rows
        if row.model == model.id and row.take_rate is not None
    }


def _add_model(
    pricing: Pricing,
    plan: Plan,
    priced: PricedModel,
    boats: Figure,
    known: dict[str, Draws],
    yearly: dict[Draw, list[Figure]],
) -> None:
    model, costing = priced.model, pricing.costing
    base = base_boat_draws(model, costing.rates, priced.boat.assembly, known)
    _draw(yearly, base, boats)
    key = f"plan.{model.id}"
    margins = [boats * _first_margin(priced, None)]
    rates = take_rates(pricing, model)
    for id, item in priced.extras.items():
        take = rates.get(id, NONE)
        label = f"{model.name}: {item.assembly.name}"
        units = (boats * take).named(f"{key}.{id}.units", f"{label}, units a year")
        margin = (units * _first_margin(priced, id)).named(
            f"{key}.{id}.margin", f"{label}, margin a year"
        )
        plan.options.append(OptionDemand(str(model.id), id, take, units, margin))
        margins.append(margin)
        if units.value:
            _draw(yearly, draws_of(item.assembly, known), units)
    plan.margins[str(model.id)] = total(margins, margins[0]).named(
        f"{key}.margin", f"{model.name}: margin a year with its options"
    )


def _first_margin(priced: PricedModel, option: str | None) -> Figure:
    item = priced.boat if option is None else priced.options[option]
    return next(iter(item.sales.values())).margin


def _draw(yearly: dict[Draw, list[Figure]], each: Draws, units: Figure) -> None:
    for draw, amount in each.items():
        yearly.setdefault(draw, []).append(amount * units)


def _place(
    costing: Costing,
    plan: Plan,
    draw: Draw,
    yearly: Figure,
    amounts: dict[Draw, list[Figure]],
) -> None:
    if draw.kind == "material":
        plan.materials.append(_material(costing, draw.id, yearly))
    elif draw.kind == "part":
        plan.parts[draw.id] = yearly
    elif draw.kind == "emission":
        plan.emission = yearly
    elif draw.kind == "hours":
        load = amounts[Draw("base", draw.id)]
        plan.stations.append(_station(costing, draw.id, yearly, total(load, load[0])))
    elif draw.kind == "pulls":
        occupied = amounts[Draw("occupied", draw.id)]
        plan.moulds.append(_mould(costing, draw.id, yearly, total(occupied, occupied[0])))


def _material(costing: Costing, id: str, yearly: Figure) -> MaterialNeed:
    material, name = costing.catalogue.records.materials[id], costing.rates.names[id]
    key = f"plan.month.{id}"
    monthly = (yearly / MONTHS).named(key, f"{name}: need a month")
    packs = None
    if material.pack is not None:
        whole = round_up(monthly / pack_content(material) * constant(1.0, "1/pack"))
        packs = whole.named(f"{key}.packs", f"{name}: whole packs a month")
    cost = (monthly * costing.rates.prices[id]).named(f"{key}.cost", f"{name}: cost a month")
    return MaterialNeed(id, monthly, packs, cost)


def _station(costing: Costing, id: str, hours: Figure, load: Figure) -> StationLoad:
    rate = costing.rates.stations[id]
    overhead, name, key = rate.station.overhead, rate.station.name, f"plan.station.{id}"
    load = load.named(f"{key}.load", f"{name}: load on its absorption base")
    used = (load / overhead.capacity).named(f"{key}.used", f"{name}: utilisation", "percent")
    budget = (overhead.variable + overhead.fixed).named(f"{key}.budget", f"{name}: budget a year")
    absorbed = overhead_cost(rate.variable + rate.fixed, load)
    absorbed = absorbed.named(f"{key}.absorbed", f"{name}: overhead absorbed")
    under = under_absorbed(budget, absorbed)
    under = under.named(f"{key}.under", f"{name}: overhead under-absorbed")
    return StationLoad(id, hours, load, used, budget, absorbed, under)


def _mould(costing: Costing, id: str, pulls: Figure, occupied: Figure) -> MouldLoad:
    mould, policy = costing.catalogue.records.moulds[id], costing.catalogue.yard.policy
    key, name = f"plan.mould.{id}", mould.name
    average = (occupied / pulls).named(f"{key}.occupied", f"{name}: hours taken by a pull")
    if policy.working_hours is None or not average.value:
        return MouldLoad(mould, pulls, mould.pulls_per_year, average, None, None)
    available = (
        policy.mould_availability if policy.mould_availability is not None else constant(1.0)
    )
    capacity = pulls_per_year(policy.working_hours, average, available)
    capacity = capacity.named(f"{key}.capacity", f"{name}: pulls a year one set can make")
    sets = sets_needed(pulls, capacity).named(f"{key}.sets", f"{name}: sets needed")
    return MouldLoad(mould, pulls, mould.pulls_per_year, average, capacity, sets)
