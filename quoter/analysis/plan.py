"""A year of the planned volume: demand, moulds, stations, materials, margin and emissions; what it
comes to over all models, and what is busiest or short.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from quoter.analysis.emissions import (
    Threshold,
    YearEmissions,
    limit_of,
    thresholds_of,
    year_emissions,
)
from quoter.analysis.hull_moulds import HullLoad, hull_loads
from quoter.analysis.moulds import Given, MouldFlags, MouldLoad, flags_of, mould_loads
from quoter.analysis.overtime import OvertimeLoad, all_premiums, overtime_of
from quoter.analysis.recolouring import PairDemand, recolour
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draw, Draws, draws_of
from quoter.costing.elements import in_words
from quoter.costing.rates import pack_content
from quoter.costing.rollup import Costing
from quoter.engineering.overhead import overhead_cost, under_absorbed
from quoter.figures import Figure, at_least, constant, round_up, total
from quoter.figures.ops import equal
from quoter.phrases import phrase
from quoter.pricing.price import PricedModel, Pricing
from quoter.problems import Place

NONE, ONE = constant(0.0), constant(1.0)
NO_HOURS = constant(0.0, "h")
MONTHS = constant(12.0)


def traced(figure: Figure, _key: str, _label: str, _place: Place) -> Figure:
    """A figure with all that it was computed from."""
    return figure


@dataclass(frozen=True, slots=True)
class OptionDemand:
    """A planned option on a model: take rate, units a year, and margin a year at the first buyer.

    What has no take rate in the catalogue is not planned.
    """

    model: str
    option: str
    take: Figure
    units: Figure
    margin: Figure


@dataclass(frozen=True, slots=True)
class UnitDraw:
    """What one good unit of a boat or an option draws on a resource, and what a year's units do."""

    owner: Assembly
    model: str
    amount: Figure
    units: Figure
    yearly: Figure


@dataclass(frozen=True, slots=True)
class StationLoad:
    """A station's hours a year, its load on its absorption base, overhead under-absorbed, and hours
    above the normal ones where it states them."""

    station: str
    hours: Figure
    load: Figure
    utilisation: Figure
    budget: Figure
    absorbed: Figure
    under: Figure
    overtime: OvertimeLoad | None


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """A material a month: amount, whole packs where it is bought in packs, and cost."""

    material: str
    amount: Figure
    packs: Figure | None
    price: Figure
    cost: Figure


@dataclass(frozen=True, slots=True)
class StatedNeed:
    """What boats state of a class of material as cost, not by amount, a month."""

    material_class: str
    cost: Figure

    @property
    def words(self) -> str:
        """What people call the class."""
        return in_words(self.material_class)


@dataclass(slots=True)
class Plan:
    """The planned year; `bottleneck` is the station with the highest utilisation.

    `unit_margins` are by (model, option), of the boat by (model, ""); `draws` is what the units
    draw on each resource, `yearly` what all of them draw a year. `recoloured` are options that meet
    a hull colour; their `unit_margins` are by the pair's id.
    """

    boats: dict[str, Figure] = field(default_factory=dict)
    options: list[OptionDemand] = field(default_factory=list)
    recoloured: list[PairDemand] = field(default_factory=list)
    parts: dict[str, Figure] = field(default_factory=dict)
    moulds: list[MouldLoad] = field(default_factory=list)
    hulls: list[HullLoad] = field(default_factory=list)
    stations: list[StationLoad] = field(default_factory=list)
    materials: list[MaterialNeed] = field(default_factory=list)
    stated: list[StatedNeed] = field(default_factory=list)
    emissions: YearEmissions = field(default_factory=YearEmissions)
    margins: dict[str, Figure] = field(default_factory=dict)
    unit_margins: dict[tuple[str, str], Figure] = field(default_factory=dict)
    draws: dict[Draw, list[UnitDraw]] = field(default_factory=dict)
    yearly: dict[Draw, Figure] = field(default_factory=dict)

    @property
    def emission(self) -> Figure:
        """Organic HAP that the year gives off [kg]."""
        return self.emissions.total

    @property
    def bottleneck(self) -> StationLoad | None:
        """The station nearest to or furthest above its capacity."""
        return max(self.stations, key=lambda load: load.utilisation.value, default=None)


def plan_of(pricing: Pricing, given: Given = traced) -> Plan:
    """The plan that the catalogue's volumes make; models without a volume are not built.

    Args:
        pricing: the finished costing with prices
        given: what becomes of each amount, margin and price per unit (with key, label, place):
            itself, or `figures.stated` for a plan that rests on them as they are
    """
    plan, known = Plan(), dict[str, Draws]()
    for id, priced in pricing.models.items():
        boats = boats_planned(pricing.catalogue.records, id)
        if boats is not None:
            plan.boats[id] = boats
            _add_model(pricing, plan, priced, boats, known, given)
    for draw, units in plan.draws.items():
        amounts = [unit.yearly for unit in units]
        plan.yearly[draw] = total(amounts, amounts[0]).named(
            f"plan.{draw.kind}.{draw.id}", phrase("{words}, a year", words=draw.words)
        )
    for draw in plan.draws:
        _place(pricing.costing, plan, draw, given)
    plan.moulds = mould_loads(pricing.costing, plan.parts, plan.yearly, given)
    planned = {(demand.model, demand.option): demand.units for demand in plan.options}
    plan.hulls = hull_loads(pricing, plan.boats, planned)
    moulds = pricing.catalogue.yard.policy.moulds_built
    plan.emissions = year_emissions(plan.yearly, pricing.costing.rates.names, moulds)
    return plan


def _add_model(
    pricing: Pricing,
    plan: Plan,
    priced: PricedModel,
    boats: Figure,
    known: dict[str, Draws],
    given: Given,
) -> None:
    model, boat = priced.model, priced.boat.assembly
    _draw(plan, priced, boat, draws_of(boat, known), boats, given)
    key = f"plan.{model.id}"
    margins = [boats * _unit_margin(plan, priced, "", given)]
    rates = take_rates(pricing.catalogue.records, str(model.id))
    for id, item in priced.extras.items():
        if id not in rates:
            continue
        take, label = rates[id], f"{model.name}: {item.assembly.name}"
        units = (boats * take).named(
            f"{key}.{id}.units", phrase("{label}, units a year", label=label)
        )
        margin = (units * _unit_margin(plan, priced, id, given)).named(
            f"{key}.{id}.margin", phrase("{label}, margin a year", label=label)
        )
        plan.options.append(OptionDemand(str(model.id), id, take, units, margin))
        margins.append(margin)
        _draw(plan, priced, item.assembly, draws_of(item.assembly, known), units, given)
    for pair in recolour(priced, boats, rates, known, given):
        plan.recoloured.append(pair)
        plan.unit_margins[str(model.id), pair.of.id] = pair.margin
        margins.append(pair.yearly)
        _draw(plan, priced, pair.of.assembly, pair.draws, pair.units, given)
    plan.margins[str(model.id)] = total(margins, margins[0]).named(
        f"{key}.margin", phrase("{name}: margin a year with its options", name=model.name)
    )


def _unit_margin(plan: Plan, priced: PricedModel, option: str, given: Given) -> Figure:
    """The margin of a boat or an option of it at the first class of buyer."""
    item = priced.extras[option] if option else priced.boat
    margin = next(iter(item.sales.values())).margin
    key = f"plan.{priced.model.id}.unit_margin.{option or 'boat'}"
    label = phrase(
        "{name}: {name2}, margin of one", name=priced.model.name, name2=item.assembly.name
    )
    one = given(margin, key, label, item.assembly.recipe.place)
    plan.unit_margins[str(priced.model.id), option] = one
    return one


def _draw(
    plan: Plan, priced: PricedModel, owner: Assembly, each: Draws, units: Figure, given: Given
) -> None:
    for draw, amount in each.items():
        key = f"{owner.recipe.key}.unit.{draw.kind}.{draw.id}"
        label = phrase(
            "{name}: {name2}, {words} of one",
            name=priced.model.name,
            name2=owner.name,
            words=draw.words,
        )
        one = given(amount, key, label, owner.recipe.place)
        drawn = UnitDraw(owner, str(priced.model.id), one, units, one * units)
        plan.draws.setdefault(draw, []).append(drawn)


def _place(costing: Costing, plan: Plan, draw: Draw, given: Given) -> None:
    yearly = plan.yearly[draw]
    if draw.kind == "material":
        plan.materials.append(_material(costing, draw.id, yearly, given))
    elif draw.kind == "part":
        plan.parts[draw.id] = yearly
    elif draw.kind == "stated":
        label = phrase("{id}: cost stated by class, a month", id=draw.id)
        cost = (yearly / MONTHS).named(f"plan.month.stated.{draw.id}", label)
        plan.stated.append(StatedNeed(draw.id, cost))
    elif draw.kind == "hours":
        load = plan.yearly[Draw("base", draw.id)]
        overtime = overtime_of(
            costing.rates.stations[draw.id],
            yearly,
            [(unit.owner, unit.model, unit.yearly) for unit in plan.draws[draw]],
        )
        plan.stations.append(_station(costing, draw.id, yearly, load, overtime))


def _material(costing: Costing, id: str, yearly: Figure, given: Given) -> MaterialNeed:
    material, name = costing.catalogue.records.materials[id], costing.rates.names[id]
    key = f"plan.month.{id}"
    monthly = (yearly / MONTHS).named(key, phrase("{name}: need a month", name=name))
    packs = None
    if material.pack is not None:
        whole = round_up(monthly / pack_content(material) * constant(1.0, "1/pack"))
        packs = whole.named(f"{key}.packs", phrase("{name}: whole packs a month", name=name))
    price = costing.rates.prices[id]
    price = given(price, f"{key}.price", phrase("{name}: landed price", name=name), material.place)
    cost = (monthly * price).named(f"{key}.cost", phrase("{name}: cost a month", name=name))
    return MaterialNeed(id, monthly, packs, price, cost)


def _station(
    costing: Costing, id: str, hours: Figure, load: Figure, overtime: OvertimeLoad | None
) -> StationLoad:
    rate = costing.rates.stations[id]
    overhead, name, key = rate.station.overhead, rate.station.name, f"plan.station.{id}"
    used = (load / overhead.capacity).named(
        f"{key}.used", phrase("{name}: utilisation", name=name), "percent"
    )
    budget = (overhead.variable + overhead.fixed).named(
        f"{key}.budget", phrase("{name}: budget a year", name=name)
    )
    absorbed = overhead_cost(rate.variable + rate.fixed, load)
    absorbed = absorbed.named(f"{key}.absorbed", phrase("{name}: overhead absorbed", name=name))
    under = under_absorbed(budget, absorbed)
    under = under.named(f"{key}.under", phrase("{name}: overhead under-absorbed", name=name))
    return StationLoad(
        station=id,
        hours=hours,
        load=load,
        utilisation=used,
        budget=budget,
        absorbed=absorbed,
        under=under,
        overtime=overtime,
    )


@dataclass(frozen=True, slots=True)
class Year:
    """Totals over all models and stations; `most_loaded` is 1 for the busiest station."""

    boats: Figure
    margin: Figure
    material: Figure
    hours: Figure
    budget: Figure
    absorbed: Figure
    under: Figure
    premium: Figure
    most_loaded: Mapping[str, Figure]
    moulds: Mapping[str, MouldFlags]
    thresholds: Sequence[Threshold]
    limit: Threshold | None


def year_of(plan: Plan, money: Figure) -> Year:
    """The totals of a plan; `money` is nothing in home currency."""

    def all_of(figures: Iterable[Figure], zero: Figure, key: str, label: str) -> Figure:
        return total(list(figures), zero).named(f"plan.all.{key}", label)

    stations = plan.stations
    return Year(
        boats=all_of(plan.boats.values(), NONE, "boats", "boats a year"),
        margin=all_of(plan.margins.values(), money, "margin", phrase("margin a year, all models")),
        material=all_of(
            [*(need.cost for need in plan.materials), *(need.cost for need in plan.stated)],
            money,
            "material",
            phrase("materials a month"),
        ),
        hours=all_of(
            (load.hours for load in stations), NO_HOURS, "hours", phrase("paid hours a year")
        ),
        budget=all_of(
            (load.budget for load in stations), money, "budget", phrase("overhead budgets a year")
        ),
        absorbed=all_of(
            (load.absorbed for load in stations), money, "absorbed", phrase("overhead absorbed")
        ),
        under=all_of(
            (load.under for load in stations), money, "under", phrase("overhead under-absorbed")
        ),
        premium=all_premiums([load.overtime for load in stations], money).named(
            "plan.all.premium", "premium of overtime and second shifts a year"
        ),
        most_loaded=_most_loaded(plan),
        moulds={str(load.mould.id): flags_of(load) for load in plan.moulds},
        thresholds=thresholds_of(plan.emissions),
        limit=limit_of(plan.emissions),
    )


def _most_loaded(plan: Plan) -> dict[str, Figure]:
    if not plan.stations:
        return {}
    highest = highest_of([load.utilisation for load in plan.stations])
    highest = highest.named("plan.utilisation.highest", "highest utilisation", "percent")
    return {load.station: equal(load.utilisation, highest) for load in plan.stations}


def highest_of(figures: Sequence[Figure]) -> Figure:
    """The largest of some figures, paired as in a tournament so that no formula nests deeply."""
    while len(figures) > 1:
        pairs = [figures[i : i + 2] for i in range(0, len(figures), 2)]
        figures = [at_least(*pair) if len(pair) == 2 else pair[0] for pair in pairs]
    return figures[0]
