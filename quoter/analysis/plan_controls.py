"""Controls of a plan: each reaches one number by two roads, and both must agree."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.analysis.moulds import started_in
from quoter.analysis.plan import MONTHS, NONE, ONE, Plan, UnitDraw, Year, highest_of
from quoter.costing.draws import Draw
from quoter.figures import Figure, dot, stated, total
from quoter.figures.ops import both, less_or_equal
from quoter.phrases import phrase
from quoter.pricing.controls import Control, agree
from quoter.pricing.price import PricedModel, Pricing


def plan_controls(pricing: Pricing, plan: Plan, year: Year) -> list[Control]:
    """Every control of a plan."""
    return [
        *_hours(pricing, plan),
        *_overhead(pricing, plan, year),
        _margin(plan, year),
        _material(pricing, plan, year),
        *_pulls(pricing, plan),
        *_shares(pricing, plan),
    ]


def _of_a_boat(plan: Plan, unit: UnitDraw) -> Figure:
    """How many of a unit an average boat of its model has: itself, or an option's take rate."""
    if unit.owner.recipe.key.startswith("boat."):
        return ONE
    for pair in plan.recoloured:
        if pair.of.assembly is unit.owner:
            return pair.take
    id = unit.owner.recipe.id
    return next(o.take for o in plan.options if (o.model, o.option) == (unit.model, id))


def _by_boat(plan: Plan, draw: Draw) -> Figure:
    """A year's draw as boats of each model times what an average one of them draws."""
    models = []
    for model, boats in plan.boats.items():
        units = [unit for unit in plan.draws[draw] if unit.model == model]
        if units:
            each = dot([_of_a_boat(plan, unit) for unit in units], [unit.amount for unit in units])
            models.append(boats * each)
    return total(models, models[0])


def _hours(pricing: Pricing, plan: Plan) -> Iterator[Control]:
    for load in plan.stations:
        station = pricing.costing.stations[load.station]
        again = _by_boat(plan, Draw("hours", load.station))
        again = again.named(
            f"control.plan.hours.{load.station}",
            phrase("{name}: hours by average boat", name=station.name),
        )
        what = phrase(
            "{name}: hours a year are boats times the hours of an average boat", name=station.name
        )
        yield Control(what, load.hours, again, agree(load.hours, again), station.place)


def _overhead(pricing: Pricing, plan: Plan, year: Year) -> Iterator[Control]:
    for load in plan.stations:
        station = pricing.costing.stations[load.station]
        again = (load.budget * load.utilisation).named(
            f"control.plan.absorbed.{load.station}",
            phrase("{name}: budget by utilisation", name=station.name),
        )
        what = phrase(
            "{name}: overhead absorbed is the budget times the utilisation", name=station.name
        )
        yield Control(what, load.absorbed, again, agree(load.absorbed, again), station.place)
    again = (year.absorbed + year.under).named("control.plan.overhead", "absorbed and not absorbed")
    what = phrase("Overhead absorbed and under-absorbed is the budget, all stations")
    yield Control(what, year.budget, again, agree(year.budget, again))


def _margin(plan: Plan, year: Year) -> Control:
    models = []
    for model, boats in plan.boats.items():
        options = [option for option in plan.options if option.model == model]
        each = [plan.unit_margins[model, ""]]
        if options:
            margins = [plan.unit_margins[model, option.option] for option in options]
            each.append(dot([option.take for option in options], margins))
        for pair in plan.recoloured:
            if pair.model == model:
                each.append(pair.take * plan.unit_margins[model, pair.of.id])
        models.append(boats * total(each, each[0]))
    again = total(models, models[0]).named("control.plan.margin", "margin by average boat")
    what = phrase("Margin a year is boats times the margin of an average boat, all models")
    return Control(what, year.margin, again, agree(year.margin, again))


def _material(pricing: Pricing, plan: Plan, year: Year) -> Control:
    """Materials by what draws them, where the plan has them by material or class."""
    prices = {need.material: need.price for need in plan.materials}
    drawn: dict[tuple[str, str], list[tuple[UnitDraw, Figure]]] = {}
    for draw, units in plan.draws.items():
        for unit in units if draw.kind == "material" else ():
            owner = (unit.model, unit.owner.recipe.key)
            drawn.setdefault(owner, []).append((unit, prices[draw.id]))
    costs = []
    for (model, key), lines in drawn.items():
        unit = lines[0][0]
        one = dot([unit.amount for unit, _ in lines], [price for _, price in lines])
        name = f"{pricing.models[model].model.name}: {unit.owner.name}"
        one = one.named(
            f"control.plan.material.{key}", phrase("{name}, material of one", name=name)
        )
        costs.append(one * unit.units)
    costs += [
        unit.amount * unit.units
        for draw, units in plan.draws.items()
        for unit in units
        if draw.kind == "stated"
    ]
    nothing = pricing.costing.rates.nothing
    again = (total(costs, nothing) / MONTHS).named(
        "control.plan.material", "materials a month by boat and option"
    )
    what = phrase("Materials a month are the sum over boats and options of what each draws")
    return Control(what, year.material, again, agree(year.material, again))


def _pulls(pricing: Pricing, plan: Plan) -> Iterator[Control]:
    for load in plan.moulds:
        id = str(load.mould.id)
        started = [pulls for _, pulls in started_in(pricing.costing, id, plan.parts, stated)]
        again = total(started, NONE).named(
            f"control.plan.pulls.{id}", phrase("{name}: parts started in it", name=load.mould.name)
        )
        what = phrase("{name}: pulls a year are the parts started in it", name=load.mould.name)
        yield Control(what, load.pulls, again, agree(load.pulls, again), load.mould.place)


def _shares(pricing: Pricing, plan: Plan) -> Iterator[Control]:
    """Take rates are fractions; those of options that exclude each other add up to no more."""
    for model in plan.boats:
        priced = pricing.models[model]
        takes = {option.option: option.take for option in plan.options if option.model == model}
        if takes:
            rates = list(takes.values())
            lowest = _rate(-highest_of([-rate for rate in rates]), model, "lowest")
            highest = _rate(highest_of(rates), model, "highest")
            held = both(less_or_equal(NONE, lowest), less_or_equal(highest, ONE))
            what = phrase(
                "{name}: take rates lie between 0 and 100 % (lowest, highest)",
                name=priced.model.name,
            )
            yield Control(what, lowest, highest, held)
        for group, members in _groups(priced).items():
            found = [takes[id] for id in members if id in takes]
            if len(found) > 1:
                together = _rate(total(found, NONE), model, group)
                what = phrase(
                    "{name}: take rates of one {group} are 100 % at most",
                    name=priced.model.name,
                    group=group,
                )
                yield Control(what, together, None, less_or_equal(together, ONE))


def _rate(figure: Figure, model: str, which: str) -> Figure:
    key = f"control.plan.take.{model}.{which.replace(' ', '_')}"
    return figure.named(key, phrase("take rates, {which}", which=which), "percent")


def _groups(priced: PricedModel) -> dict[str, list[str]]:
    """Options of each group of which a boat can have one, and packages that hold one of them."""
    groups: dict[str, list[str]] = {}
    for id, item in priced.options.items():
        if item.option is not None and item.option.at_most_one is not None:
            groups.setdefault(str(item.option.at_most_one), []).append(id)
    for package in priced.offered_packages:
        for members in groups.values():
            if any(name in members for name in package.options):
                members.append(str(package.id))
    return groups
