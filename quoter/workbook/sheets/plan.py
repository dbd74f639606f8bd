"""Sheets of the planned year: volumes, demand, moulds, stations, materials, and what units draw."""

from __future__ import annotations

from quoter.analysis.plan import MouldFlags, MouldLoad, Plan, StationLoad, UnitDraw, Year
from quoter.catalogue.factory import Station
from quoter.costing.draws import WORDS, Draw
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.pricing.price import Pricing
from quoter.workbook.sheets.costs import assembly_name
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Chart, Column, Entry, Flag, Row, Sheet, Table, Text

NAME = 30.0


def volume_sheet(pricing: Pricing, plan: Plan) -> Sheet:
    """Boats a year and take rates: the cells that a planner changes."""
    boats = tuple(
        Row(
            (str(pricing.models[model].model.name), Entry(input_behind(figure))), sources_of(figure)
        )
        for model, figure in plan.boats.items()
    )
    options = tuple(
        Row(
            (
                str(pricing.models[o.model].model.name),
                pricing.models[o.model].extras[o.option].assembly.name,
                Entry(input_behind(o.take)),
                o.units,
            ),
            sources_of(o.take),
        )
        for o in plan.options
    )
    asked = (Column("Model", width=NAME), Column("Option or package", width=NAME))
    return Sheet(
        "Volumes",
        "Boats a year, and the part of them that takes an option: change them, the year follows",
        (
            Table((asked[0], Column("Boats a year")), boats, "Boats", "boats"),
            Table(
                (*asked, Column("Take rate"), Column("Units a year")), options, "Options", "takes"
            ),
        ),
        notes=(
            "What has no take rate in volumes.csv is not planned; what has 0 % is, "
            "and can be raised here.",
        ),
    )


def demand_sheet(pricing: Pricing, plan: Plan) -> Sheet:
    """Options and parts a year, with the margin that options bring."""
    options = tuple(
        Row(
            (
                str(pricing.models[o.model].model.name),
                pricing.models[o.model].extras[o.option].assembly.name,
                o.units,
                plan.unit_margins[o.model, o.option],
                o.margin,
            ),
            str(pricing.models[o.model].extras[o.option].assembly.recipe.place),
        )
        for o in plan.options
    )
    parts = tuple(
        Row((assembly_name(part), good), str(part.recipe.place))
        for key, good in plan.parts.items()
        for part in [pricing.costing.parts[key]]
    )
    columns = (
        Column("Model", width=NAME),
        Column("Option or package", width=NAME),
        Column("Units a year"),
        Column("Margin of one, as of this build"),
        Column("Margin a year"),
    )
    return Sheet(
        "Demand",
        "Options and good parts that the year needs; parts include what later operations scrap",
        (
            Table(columns, options, "Options and packages", "demand"),
            Table((Column("Part", width=NAME), Column("Parts a year")), parts, "Parts", "parts"),
        ),
    )


def mould_sheet(plan: Plan, year: Year) -> Sheet:
    """Pulls a year against what the moulds were planned for and can give."""
    rows = tuple(_mould(load, year.moulds[str(load.mould.id)]) for load in plan.moulds)
    columns = (
        Column("Mould", width=NAME),
        Column("Pulls a year"),
        Column("Planned pulls"),
        Column("Against plan", width=14),
        Column("Hours a pull takes"),
        Column("Pulls one set can give"),
        Column("Sets needed"),
        Column("One set", width=12),
    )
    known = any(load.capacity is not None for load in plan.moulds)
    notes: tuple[str, ...] = (
        "Hours a pull takes are work while the part is in the mould, shared by the crew, and cure. "
        "Pulls one set can give = working hours / hours a pull takes x availability.",
        "Planned pulls are those the mould's cost is spread over: above them each pull bears more "
        "than its share, and the mould wears out sooner.",
    )
    if not known:
        notes += ("The policy states no working hours, so what a set can give is not known.",)
    explained = "Pulls from each mould, as costed and as one set allows"
    return Sheet("Moulds", explained, (Table(columns, rows, name="pulls"),), notes=notes)


def _mould(load: MouldLoad, flags: MouldFlags) -> Row:
    enough = None
    if flags.more_sets is not None:
        enough = Flag(flags.more_sets, "NOT ENOUGH", "enough", alarm="yes")
    cells = (
        str(load.mould.name),
        load.pulls,
        load.planned,
        Flag(flags.over_planned, "ABOVE PLAN", "within", alarm="yes"),
        load.occupied,
        load.capacity,
        load.sets,
        enough,
    )
    return Row(cells, str(load.mould.place))


def station_load_sheet(costing: Costing, plan: Plan, year: Year) -> Sheet:
    """Hours against capacity, and overhead absorbed against budget."""
    rows = [
        _load(load, costing.stations[load.station], year.most_loaded[load.station])
        for load in plan.stations
    ]
    together = (year.hours, None, None, None, None, year.budget, year.absorbed, year.under)
    rows.append(Row(("All stations", *together), kind="total"))
    columns = (
        Column("Station", width=NAME),
        Column("Paid hours a year", decimals=0),
        Column("Load on its base", decimals=0),
        Column("Practical capacity", decimals=0),
        Column("Utilisation"),
        Column("Most loaded", width=9),
        Column("Overhead budget"),
        Column("Absorbed"),
        Column("Under-absorbed"),
    )
    chart = Chart(
        "Utilisation of each station",
        "loads",
        "Station",
        ("Utilisation",),
        "Load as a fraction of practical capacity",
        "Station",
        "Bars: how much of each station's practical capacity the planned year takes",
        from_zero=True,
    )
    return Sheet(
        "Stations",
        "Load against practical capacity, and overhead absorbed against the budget; "
        "under-absorbed is negative where more is absorbed than budgeted",
        (Table(columns, tuple(rows), name="loads"),),
        charts=(chart,),
    )


def _load(load: StationLoad, station: Station, most: Figure) -> Row:
    cells = (
        str(station.name),
        load.hours,
        load.load,
        station.overhead.capacity,
        load.utilisation,
        Flag(most, "MOST", "no", alarm="yes"),
        load.budget,
        load.absorbed,
        load.under,
    )
    return Row(cells, str(station.place))


def material_need_sheet(costing: Costing, plan: Plan, year: Year) -> Sheet:
    """What stores need a month, in whole packs too, and what it costs."""
    rows = [
        Row(
            (
                costing.rates.names[need.material],
                costing.rates.classes[need.material],
                need.amount,
                need.packs,
                need.price,
                need.cost,
            ),
            str(costing.catalogue.records.materials[need.material].place),
        )
        for need in plan.materials
    ]
    rows.append(Row(("All materials", None, None, None, None, year.material), kind="total"))
    columns = (
        Column("Material", width=NAME),
        Column("Class", width=12),
        Column("Need a month"),
        Column("Whole packs", form="whole"),
        Column("Landed price, as of this build", decimals=4),
        Column("Cost a month"),
    )
    return Sheet(
        "Materials",
        "Material issued in an average month of the year, scrap included; packs are rounded up",
        (Table(columns, tuple(rows), name="needs"),),
    )


def draw_sheet(costing: Costing, plan: Plan, build_id: str) -> Sheet:
    """What each boat and option draws on each resource, and what a year's units do."""
    rows: list[Row] = []
    for draw, units in plan.draws.items():
        rows.append(Row((_called(costing, draw), *(None,) * 4), kind="group"))
        rows += [_draw(costing, unit) for unit in units]
        rows.append(Row(("All", None, None, None, plan.yearly[draw]), kind="total"))
    columns = (
        Column("Boat, option or package", width=NAME),
        Column("Model", width=NAME),
        Column("Of one, as of this build"),
        Column("Units a year"),
        Column("All units a year"),
    )
    about = (
        f"What one good unit draws is a number of build {build_id}, with all that yields and "
        "rework take; it does not follow. Units a year follow the sheet Volumes."
    )
    return Sheet(
        "Draws",
        "What one good unit of each boat, option and package draws, times the units of a year",
        (Text((about,)), Table(columns, tuple(rows), name="draws")),
    )


def _draw(costing: Costing, unit: UnitDraw) -> Row:
    model = costing.models[unit.model].model.name
    cells = (unit.owner.name, str(model), unit.amount, unit.units, unit.yearly)
    return Row(cells, str(unit.owner.recipe.place))


def _called(costing: Costing, draw: Draw) -> str:
    names = {
        "material": costing.rates.names,
        "hours": {id: str(station.name) for id, station in costing.stations.items()},
        "part": {key: assembly_name(part) for key, part in costing.parts.items()},
        "pulls": {id: str(m.name) for id, m in costing.catalogue.records.moulds.items()},
    }
    names |= {"base": names["hours"], "occupied": names["pulls"]}
    name = names.get(draw.kind, {}).get(draw.id, draw.id)
    return f"{name}: {WORDS[draw.kind]}"
