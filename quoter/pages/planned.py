"""The planned year as a page shows it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from quoter.analysis.findings import Findings
from quoter.analysis.plan import MaterialNeed, Plan, StationLoad, Year
from quoter.costing.rates import pack_content
from quoter.costing.rollup import Costing
from quoter.figures.graph import input_behind
from quoter.pages.charts import bars
from quoter.pages.figured import decimal, maybe, unit_words, variant_of
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


def plan_view(findings: Findings) -> PlanView:
    """The plan as a page shows it."""
    pricing, plan, year = findings.pricing, findings.plan, findings.year
    costing = pricing.costing
    busiest = sorted(plan.stations, key=lambda load: -load.utilisation.value)
    stations = tuple(_station(costing, load) for load in busiest)
    return PlanView(
        models=tuple(
            BoatRow(id, str(pricing.models[id].model.name), decimal(boats), decimal(margin))
            for (id, boats), margin in zip(plan.boats.items(), plan.margins.values(), strict=True)
        ),
        options=tuple(_options(pricing, plan)),
        parts=tuple(_parts(costing, plan)),
        moulds=tuple(_moulds(plan, year)),
        stations=stations,
        loads=bars([station.utilisation for station in stations], FULL),
        materials=tuple(_need(costing, need) for need in plan.materials),
        thresholds=tuple(
            ThresholdRow(known.what, decimal(known.limit), decimal(known.used))
            for known in year.thresholds
        ),
        emission=decimal(plan.emission),
        boats=decimal(year.boats),
        margin=decimal(year.margin),
        material=decimal(year.material),
        hours=decimal(year.hours),
        budget=decimal(year.budget),
        absorbed=decimal(year.absorbed),
        under=decimal(year.under),
    )


def _options(pricing: Pricing, plan: Plan) -> Iterator[DemandRow]:
    for demand in plan.options:
        priced = pricing.models[demand.model]
        yield DemandRow(
            model_id=demand.model,
            model=str(priced.model.name),
            id=demand.option,
            name=priced.extras[demand.option].assembly.name,
            take=decimal(demand.take),
            units=decimal(demand.units),
            margin=decimal(demand.margin),
            page=demand.option in priced.options,
        )


def _parts(costing: Costing, plan: Plan) -> Iterator[PartRow]:
    for key, units in plan.parts.items():
        yield PartRow(costing.parts[key].name, variant_of(key), decimal(units))


def _moulds(plan: Plan, year: Year) -> Iterator[MouldRow]:
    for load in plan.moulds:
        yield MouldRow(
            name=str(load.mould.name),
            pulls=decimal(load.pulls),
            planned=decimal(load.planned),
            occupied=decimal(load.occupied),
            capacity=maybe(load.capacity),
            sets=maybe(load.sets),
            over_planned=bool(year.moulds[str(load.mould.id)].over_planned.value),
        )


def _station(costing: Costing, load: StationLoad) -> StationRow:
    station = costing.stations[load.station]
    return StationRow(
        name=str(station.name),
        hours=decimal(load.hours),
        load=decimal(load.load),
        capacity=decimal(station.overhead.capacity),
        unit=unit_words(load.load),
        base=str(station.overhead.base),
        utilisation=decimal(load.utilisation),
        budget=decimal(load.budget),
        absorbed=decimal(load.absorbed),
        under=decimal(load.under),
    )


def _need(costing: Costing, need: MaterialNeed) -> NeedRow:
    """`bought` is how many packs the need is, times what a pack is written to hold."""
    material = costing.catalogue.records.materials[need.material]
    bought, pack = None, ""
    if material.pack is not None:
        written = input_behind(material.pack)
        amount = need.amount / pack_content(material) * written
        bought = Amount(decimal(amount), unit_words(amount))
        pack = written.origin.text if written.origin is not None else ""
    return NeedRow(
        name=costing.rates.names[need.material],
        need=Amount(decimal(need.amount), unit_words(need.amount)),
        bought=bought,
        pack=pack,
        packs=maybe(need.packs),
        cost=decimal(need.cost),
    )
