"""Sheets of quantities: material take-off, operations with their hours, moulds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from quoter.catalogue.factory import Mould
from quoter.costing.assembly import Assembly
from quoter.costing.operations import OperationCost
from quoter.costing.rates import CostRates
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.price import PricedModel
from quoter.workbook.sheets.costs import assembly_name
from quoter.workbook.sources import sources_in
from quoter.workbook.table import Chart, Column, Row, Sheet, Table, lead_on


def takeoff_sheet(assemblies: Sequence[Assembly], rates: CostRates) -> Sheet:
    """Every material line of every part and option: net, issued, price and cost."""
    rows = []
    for assembly in assemblies:
        for material in assembly.materials:
            line = material.line
            rows.append(
                Row(
                    (
                        assembly_name(assembly),
                        rates.names[line.material],
                        line.use,
                        line.net,
                        line.issued,
                        material.price,
                        material.cost,
                        line.mass,
                    ),
                    source=str(line.place),
                )
            )
    columns = (
        Column("Part or option", width=30),
        Column("Material", width=30),
        Column("Use", width=22),
        Column("Net"),
        Column("Issued"),
        Column("Landed price"),
        Column("Cost"),
        Column("Mass added"),
    )
    table = Table(columns, tuple(rows), name="takeoff", workings=True)
    explained = (
        "Every material line of every part and option, per unit worked on; loss is a fraction of "
        "what is issued"
    )
    then = lead_on("Parts", "what consumes which part")
    return Sheet("Take-off", explained, (table,), then=then)


def part_sheet(assemblies: Sequence[Assembly]) -> Sheet:
    """What consumes what, and the figures that tell whether a mould can work."""
    explained = "Parts that options and panels consume, and the figures of moulding"
    then = lead_on("Operations", "every step of work with its time")
    return Sheet("Parts", explained, (_uses(assemblies), _notable(assemblies)), then=then)


def _uses(assemblies: Sequence[Assembly]) -> Table:
    rows = tuple(
        Row(
            (
                assembly_name(assembly),
                assembly_name(use.assembly),
                "credit" if use.credit else "part",
                use.quantity,
                use.assembly.cost,
            ),
            source=str(use.place),
        )
        for assembly in assemblies
        for use in assembly.recipe.uses
    )
    columns = (
        Column("Part or option", width=30),
        Column("Consumes", width=30),
        Column("As", width=22),
        Column("Quantity"),
        Column("Cost of one"),
    )
    return Table(columns, rows, title="Parts consumed", name="uses", workings=True)


def _notable(assemblies: Sequence[Assembly]) -> Table:
    sources = sources_in(figure for each in assemblies for figure in each.recipe.notable)
    rows = tuple(
        Row(
            (assembly_name(assembly), _figure(figure), figure),
            sources[figure],
        )
        for assembly in assemblies
        for figure in assembly.recipe.notable
    )
    columns = (
        Column("Part", width=30),
        Column("Moulding figure", width=30),
        Column("Value"),
    )
    return Table(columns, rows, title="Moulding figures", name="notable", workings=True)


def _figure(figure: Figure) -> str:
    """What a moulding figure is called without the part's name."""
    words = figure.label.partition(": ")[2]
    return words[:1].upper() + words[1:]


def labour_sheet(assemblies: Sequence[Assembly], costing: Costing) -> Sheet:
    """Every operation with its standard time, paid hours and cost."""
    names = {id: str(station.name) for id, station in costing.stations.items()}
    rows = [
        _operation(assembly, cost, names) for assembly in assemblies for cost in assembly.operations
    ]
    columns = (
        Column("Part or option", width=30),
        Column("Operation", width=30),
        Column("Station", width=16),
        Column("Standard time"),
        Column("Paid hours"),
        Column("Labour"),
        Column("Overhead, variable"),
        Column("Overhead, fixed"),
        Column("Passes"),
        Column("Hazards", width=18),
    )
    return Sheet(
        "Operations",
        "Every step of work, per unit worked on: standard time includes the allowance, paid hours "
        "the station's efficiency",
        (Table(columns, tuple(rows), title="Operations", name="operations", workings=True),),
        then=lead_on("Hours", "paid hours of each option by station"),
    )


def _operation(assembly: Assembly, cost: OperationCost, stations: Mapping[str, str]) -> Row:
    operation = cost.operation
    cells = (
        assembly_name(assembly),
        str(operation.name),
        stations[str(operation.station)],
        cost.standard,
        cost.paid,
        cost.labour,
        cost.variable,
        cost.fixed,
        operation.passes,
        ", ".join(operation.hazards) or None,
    )
    return Row(cells, source=str(operation.place))


def hours_sheet(priced: PricedModel, costing: Costing) -> Sheet:
    """Paid hours of the boat and every option by station."""
    sold = [item.assembly for item in priced.boat_and_options]
    stations = [id for id in costing.stations if any(id in item.hours for item in sold)]
    names = [str(costing.stations[id].name) for id in stations]
    whole = (phrase("Rework"), phrase("Lost to yield"), phrase("All paid hours"))
    columns = (
        Column("Option", width=34),
        *(Column(name, decimals=2) for name in (*names, *whole)),
    )
    tables = []
    for title, name, items in (
        (phrase("Base boat with its standard options"), "boat_hours", sold[:1]),
        ("Options", "station_hours", sold[1:]),
    ):
        rows = tuple(
            Row(
                (
                    item.name,
                    *(item.hours.get(id) for id in stations),
                    item.rework_hours,
                    item.yield_hours,
                    item.all_hours,
                ),
                source=str(item.recipe.place),
            )
            for item in items
        )
        tables.append(Table(columns, rows, title=title, name=name))
    chart = Chart(
        title="Paid hours of each option by station",
        table="station_hours",
        categories="Option",
        values=(*names, phrase("Rework"), phrase("Lost to yield")),
        value_title="Paid hours",
        category_title="Option",
        description="Stacked bars: the paid hours of every option, divided among the stations",
    )
    about = (
        "Paid hours of each option by station, per good unit: which stations an option keeps busy"
    )
    then = lead_on("Tooling", "what each mould costs per pull")
    return Sheet("Hours", about, tuple(tables), charts=(chart,), then=then)


def tooling_sheet(assemblies: Sequence[Assembly], costing: Costing) -> Sheet:
    """Each mould's cost per pull and the parts pulled from it."""
    users: dict[str, list[str]] = {}
    for assembly in assemblies:
        for mould, _ in assembly.tooling:
            users.setdefault(mould, []).append(assembly.name)
    rows = tuple(
        _mould_row(costing.catalogue.records.moulds[id], names, costing.rates.pulls[id])
        for id, names in users.items()
    )
    columns = (
        Column("Mould", width=30),
        Column("Cost"),
        Column("Refurbishment"),
        Column("Salvage"),
        Column("Life, pulls"),
        Column("Pulls a year"),
        Column("Years to write off"),
        Column("Upkeep per pull"),
        Column("Cost per pull"),
        Column("Pulled from it", width=34),
    )
    return Sheet(
        "Tooling",
        "What each mould costs per pull: moulds are written off over the least of their life and "
        "the planned pulls",
        (Table(columns, rows, title="Moulds", name="moulds"),),
        then=lead_on("Prices", "how landed prices follow from those of suppliers"),
    )


def _mould_row(mould: Mould, names: list[str], per_pull: Figure) -> Row:
    cells = (
        str(mould.name),
        mould.cost,
        mould.refurbishment,
        mould.salvage,
        mould.life,
        mould.pulls_per_year,
        mould.write_off_years,
        mould.upkeep,
        per_pull,
        ", ".join(dict.fromkeys(names)),
    )
    return Row(cells, source=str(mould.place))
