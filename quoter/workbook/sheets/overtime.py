"""Tables of the plan's stations: hours above normal ones, their premium, and what causes them."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.analysis.overtime import OvertimeLoad
from quoter.analysis.plan import Plan, StationLoad, Year
from quoter.costing.rollup import Costing
from quoter.workbook.table import Column, Flag, Row, Table

NAME = 30.0


def overtime_tables(costing: Costing, plan: Plan, year: Year) -> Iterator[Table]:
    """Overtime by station, and the options that draw on those that have any."""
    rows = [
        _row(costing, load, load.overtime) for load in plan.stations if load.overtime is not None
    ]
    if not rows:
        return
    rows.append(Row(("All stations", *(None,) * 7, year.premium, None), kind="total"))
    columns = (
        Column("Station", width=NAME),
        Column("Paid hours a year", decimals=0),
        Column("Normal hours", decimals=0),
        Column("Above normal"),
        Column("In overtime"),
        Column("In a second shift"),
        Column("Nobody can work"),
        Column("Premium of overtime"),
        Column("Premium a year"),
        Column("Hours", width=12),
    )
    yield Table(columns, tuple(rows), "Overtime and a second shift", "overtime")
    causes = tuple(
        Row(
            (
                cause.owner.name,
                str(costing.models[cause.model].model.name),
                str(costing.stations[load.station].name),
                cause.hours,
                cause.share,
                cause.premium,
            ),
            str(cause.owner.recipe.place),
        )
        for load in plan.stations
        if load.overtime is not None and load.overtime.above.value
        for cause in load.overtime.causes
    )
    about = (
        Column("Option or package", width=NAME),
        Column("On the model", width=NAME),
        Column("At the station", width=NAME),
        Column("Hours a year there"),
        Column("Share of its hours"),
        Column("Share of the premium"),
    )
    if causes:
        yield Table(about, causes, "Options that cause it", "overtime_causes")


def _row(costing: Costing, load: StationLoad, overtime: OvertimeLoad) -> Row:
    station = costing.stations[load.station]
    cells = (
        str(station.name),
        load.hours,
        overtime.terms.normal,
        overtime.above,
        overtime.overtime,
        overtime.shift,
        overtime.left,
        overtime.terms.premium,
        overtime.premium,
        Flag(overtime.short, "TOO MANY", "can be worked", alarm="yes"),
    )
    return Row(cells, str(station.place))
