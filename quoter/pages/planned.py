"""The planned year as a page shows it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from quoter.analysis.plan import MaterialNeed, Plan, StationLoad
from quoter.analysis.year import Year, year_of
from quoter.costing.rates import pack_content
from quoter.costing.rollup import Costing
from quoter.figures import money_in, plain_number
from quoter.figures.graph import input_behind
from quoter.pages.charts import bars
from quoter.pages.figured import maybe, unit_words, variant_of, with_unit
from quoter.pages.question_views import (
    Amount,
    BoatRow,
    DemandRow,
    MouldRow,
    NeedRow,
    PartRow,
    PlanView,
    StationRow,
    ThresholdRow,
)
from quoter.pricing.price import Pricing

FULL = Decimal(1)


def plan_view(pricing: Pricing, plan: Plan) -> PlanView:
    """A plan as a page shows it."""
    costing, home = pricing.costing, pricing.catalogue.currency
    year = year_of(plan, costing.rates.nothing)
    busiest = sorted(plan.stations, key=lambda load: -load.utilisation.value)
    stations = tuple(_station(costing, load) for load in busiest)
    return PlanView(
        models=tuple(
            BoatRow(
                id, str(pricing.models[id].model.name), plain_number(boats), money_in(left, home)
            )
            for (id, boats), left in zip(plan.boats.items(), plan.margins.values(), strict=True)
        ),
        options=tuple(_options(pricing, plan)),
        parts=tuple(_parts(costing, plan)),
        moulds=tuple(_moulds(plan, year)),
        stations=stations,
        loads=bars([station.utilisation for station in stations], FULL),
        materials=tuple(_need(costing, need) for need in plan.materials),
        thresholds=tuple(
            ThresholdRow(known.what, plain_number(known.limit), plain_number(known.used))
            for known in year.thresholds
        ),
        emission=plain_number(plan.emission),
        boats=plain_number(year.boats),
        margin=money_in(year.margin, home),
        material=money_in(year.material, home),
        hours=plain_number(year.hours),
        budget=money_in(year.budget, home),
        absorbed=money_in(year.absorbed, home),
        under=money_in(year.under, home),
    )


def _options(pricing: Pricing, plan: Plan) -> Iterator[DemandRow]:
    home = pricing.catalogue.currency
    for demand in plan.options:
        priced = pricing.models[demand.model]
        yield DemandRow(
            model_id=demand.model,
            model=str(priced.model.name),
            id=demand.option,
            name=priced.extras[demand.option].assembly.name,
            take=plain_number(demand.take),
            units=plain_number(demand.units),
            margin=money_in(demand.margin, home),
            page=demand.option in priced.options,
        )


def _parts(costing: Costing, plan: Plan) -> Iterator[PartRow]:
    for key, units in plan.parts.items():
        yield PartRow(costing.parts[key].name, variant_of(key), plain_number(units))


def _moulds(plan: Plan, year: Year) -> Iterator[MouldRow]:
    for load in plan.moulds:
        yield MouldRow(
            name=str(load.mould.name),
            pulls=plain_number(load.pulls),
            planned=plain_number(load.planned),
            occupied=plain_number(load.occupied),
            capacity=maybe(load.capacity),
            sets=maybe(load.sets),
            over_planned=bool(year.moulds[str(load.mould.id)].over_planned.value),
        )


def _station(costing: Costing, load: StationLoad) -> StationRow:
    station, home = costing.stations[load.station], costing.catalogue.currency
    return StationRow(
        name=str(station.name),
        hours=plain_number(load.hours),
        load=with_unit(load.load),
        capacity=with_unit(station.overhead.capacity),
        unit=unit_words(load.load),
        base=str(station.overhead.base),
        utilisation=plain_number(load.utilisation),
        budget=money_in(load.budget, home),
        absorbed=money_in(load.absorbed, home),
        under=money_in(load.under, home),
    )


def _need(costing: Costing, need: MaterialNeed) -> NeedRow:
    """`bought` is how many packs the need is, times what a pack is written to hold."""
    material = costing.catalogue.records.materials[need.material]
    home = costing.catalogue.currency
    bought, pack = None, ""
    if material.pack is not None:
        written = input_behind(material.pack)
        amount = need.amount / pack_content(material) * written
        bought = Amount(plain_number(amount), unit_words(amount))
        pack = written.origin.text if written.origin is not None else ""
    return NeedRow(
        name=costing.rates.names[need.material],
        need=Amount(plain_number(need.amount), unit_words(need.amount)),
        bought=bought,
        pack=pack,
        packs=maybe(need.packs),
        cost=money_in(need.cost, home),
    )
