"""The plan's sheets: what the year comes to, volumes, demand, moulds, stations, materials."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.analysis.emissions import YearEmissions
from quoter.analysis.plan import Plan, StationLoad, UnitDraw, Year
from quoter.catalogue.factory import Station
from quoter.costing.draws import WORDS, Draw
from quoter.costing.elements import in_words
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.phrases import capital, phrase, together
from quoter.pricing.price import Pricing
from quoter.workbook.sheets.costs import assembly_name
from quoter.workbook.sheets.overtime import overtime_tables
from quoter.workbook.sheets.proof import proved_table
from quoter.workbook.sources import sources_of
from quoter.workbook.table import (
    Chart,
    Column,
    Contents,
    Flag,
    InputCell,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

NAME = 30.0
HOW_TO_READ = (
    phrase(
        "Framed, tinted cells are yours to change: boats a year and take rates on Volumes, "
        "capacities, budgets and closed weeks on Inputs. All other cells are formulas over them, "
        "or numbers of this build that say so."
    ),
    phrase(
        "Money is in home currency without tax. Margins are those at the first class of buyer, "
        "{buyer}; costs are positive, overhead under-absorbed is negative where more is absorbed "
        "than budgeted."
    ),
)
STATED_BY_CLASS = phrase("Stated as cost by class, base boats")
ABOUT_EMISSION = phrase(
    "Organic HAP {scope}, by the point values of 40 CFR 63 Subpart VVVV, against the yearly "
    "amounts that make a major source (Table 1, footnote 1), and against what a major source may "
    "give off for what it applies in open moulds (63.5698). A substance has its share of the "
    "content, common practice. Base boats are in it, whether built "
    "up or stated by amount. An estimate, not a compliance record; what cleaning and adhesives "
    "give off is not in it."
)


def plan_front_sheet(pricing: Pricing, plan: Plan, year: Year, proved: Figure) -> Sheet:
    """The summary of the year."""
    buyer = str(pricing.terms.buyers[0].name)
    return Sheet(
        "Summary",
        "The planned year: boats, margin, load, materials and emissions",
        (
            Paragraphs(tuple(phrase(line, buyer=buyer) for line in HOW_TO_READ)),
            _models(pricing, plan, year),
            _whole(year),
            proved_table(proved),
            _stations(pricing, plan, year),
            _emissions(plan.emissions, year),
            _applied(plan.emissions),
            Paragraphs((phrase(ABOUT_EMISSION, scope=plan.emissions.scope),)),
            Contents(),
        ),
        then=lead_on("Volumes", "boats a year and take rates, to change"),
    )


def _models(pricing: Pricing, plan: Plan, year: Year) -> Table:
    rows = [
        Row((str(pricing.models[model].model.name), boats, plan.margins[model]), sources_of(boats))
        for model, boats in plan.boats.items()
    ]
    rows.append(Row(("All models", year.boats, year.margin), kind="total"))
    columns = (
        Column("Model", width=34),
        Column("Boats a year"),
        Column("Margin a year, options included"),
    )
    return Table(columns, tuple(rows), title="Boats and margin", name="models")


def _whole(year: Year) -> Table:
    found = {
        phrase("Materials a month"): year.material,
        phrase("Paid hours a year"): year.hours,
        phrase("Overhead budgets a year"): year.budget,
        phrase("Overhead under-absorbed"): year.under,
    }
    if year.premium.value:
        found[phrase("Premium of overtime and second shifts")] = year.premium
    rows = tuple(Row((what, figure), sources_of(figure)) for what, figure in found.items())
    return Table((Column("The year", width=34), Column("In all")), rows, name="whole")


def _stations(pricing: Pricing, plan: Plan, year: Year) -> Table:
    rows = []
    for load in plan.stations:
        station = pricing.costing.stations[load.station]
        most = Flag(year.most_loaded[load.station], "MOST LOADED", "no", alarm="yes")
        rows.append(Row((str(station.name), load.utilisation, most), str(station.place)))
    columns = (Column("Station", width=34), Column("Utilisation"), Column("Bottleneck"))
    return Table(columns, tuple(rows), title="Stations", name="bottleneck")


def _emissions(given_off: YearEmissions, year: Year) -> Table:
    compared = [*year.thresholds, *([] if year.limit is None else [year.limit])]
    rows = tuple(
        Row(
            (
                capital(each.what),
                each.given_off,
                each.limit,
                each.used,
                Flag(each.below, "below", "AT OR ABOVE"),
            ),
            each.source,
        )
        for each in compared
    )
    columns = (
        Column("Threshold or limit for", width=34),
        Column("Given off a year", decimals=1),
        Column("Threshold or limit a year", decimals=0),
        Column("Used of it"),
        Column("The yard"),
    )
    return Table(
        columns, rows, title=phrase("Organic HAP {scope}", scope=given_off.scope), name="thresholds"
    )


def _applied(given_off: YearEmissions) -> Table:
    rows = tuple(
        Row((capital(kind), mass), "40 CFR 63.5698, equation 1")
        for kind, mass in given_off.applied.items()
    )
    columns = (Column("Kind of material", width=34), Column("Applied a year", decimals=0))
    return Table(columns, rows, title="Applied in open moulds", name="applied")


def volume_sheet(pricing: Pricing, plan: Plan) -> Sheet:
    """Boats a year and take rates: the cells that a planner changes."""
    boats = tuple(
        Row(
            (str(pricing.models[model].model.name), InputCell(input_behind(figure))),
            sources_of(figure),
        )
        for model, figure in plan.boats.items()
    )
    options = tuple(
        Row(
            (
                str(pricing.models[o.model].model.name),
                pricing.models[o.model].extras[o.option].assembly.name,
                InputCell(input_behind(o.take)),
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
        then=lead_on("Demand", "the options and parts that the year needs"),
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
            *_recoloured(pricing, plan, columns),
            Table((Column("Part", width=NAME), Column("Parts a year")), parts, "Parts", "parts"),
        ),
        then=lead_on("Moulds", "whether they can give what the year needs"),
    )


def _recoloured(pricing: Pricing, plan: Plan, columns: Sequence[Column]) -> Iterator[Table]:
    """Options on boats in another hull colour, and what that costs; nothing where there are none.

    A margin is the surcharge less provisions and cost, or the cost alone.
    """
    rows = tuple(
        Row(
            (
                str(pricing.models[pair.model].model.name),
                pair.of.assembly.name,
                pair.units,
                pair.margin,
                pair.yearly,
            ),
            str(pair.of.assembly.recipe.place),
        )
        for pair in plan.recoloured
    )
    if rows:
        yield Table(tuple(columns), rows, "Options in another hull colour", "recoloured")


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
        title="Utilisation of each station",
        table="loads",
        categories="Station",
        values=("Utilisation",),
        value_title="Load as a fraction of practical capacity",
        category_title="Station",
        description="Bars: how much of each station's practical capacity the planned year takes",
        from_zero=True,
    )
    return Sheet(
        "Stations",
        "Load against practical capacity, and overhead absorbed against the budget; "
        "under-absorbed is negative where more is absorbed than budgeted",
        (Table(columns, tuple(rows), name="loads"), *overtime_tables(costing, plan, year)),
        charts=(chart,),
        then=lead_on("Materials", "what stores need a month"),
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
                capital(in_words(costing.rates.classes[need.material])),
                need.amount,
                need.packs,
                need.price,
                need.cost,
            ),
            str(costing.catalogue.records.materials[need.material].place),
        )
        for need in plan.materials
    ]
    rows += [
        Row(
            (
                together(": ", (STATED_BY_CLASS, need.words)),
                capital(need.words),
                *(None,) * 3,
                need.cost,
            ),
            sources_of(need.cost),
        )
        for need in plan.stated
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
        then=lead_on("Draws", "what one unit of each draws"),
    )


def draw_sheet(costing: Costing, plan: Plan) -> Sheet:
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
        "What one good unit draws is a number of this build, with all that yields and "
        "rework take; it does not follow. Units a year follow the sheet Volumes."
    )
    return Sheet(
        "Draws",
        "What one good unit of each boat, option and package draws, times the units of a year",
        (Paragraphs((about,)), Table(columns, tuple(rows), name="draws", workings=True)),
        then=lead_on("Inputs", "capacities, budgets and closed weeks, to change"),
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
    names |= {"base": names["hours"], "work": names["pulls"], "cure": names["pulls"]}
    name = names.get(draw.kind, {}).get(draw.id, draw.id)
    return together(": ", (name, WORDS[draw.kind]))
