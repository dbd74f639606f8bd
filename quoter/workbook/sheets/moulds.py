"""The plan's sheet of moulds: pulls against what a set can give, and hull moulds with options."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.analysis.moulds import MouldFlags, MouldLoad
from quoter.analysis.plan import Plan, Year
from quoter.phrases import phrase
from quoter.workbook.sheets.plan import NAME
from quoter.workbook.table import Column, Flag, Row, Sheet, Table, lead_on


def mould_sheet(plan: Plan, year: Year) -> Sheet:
    """Pulls a year against what the moulds were planned for and can give."""
    rows = tuple(_mould(load, year.moulds[load.mould.id]) for load in plan.moulds)
    columns = (
        Column("Mould", width=NAME),
        Column("Pulls a year"),
        Column("Planned pulls"),
        Column("Against plan", width=14),
        Column("Hours of work"),
        Column("Hours of cure"),
        Column("Hours by the clock"),
        Column("Pulls one set can give"),
        Column("Sets needed"),
        Column("One set", width=12),
    )
    known = any(load.capacity is not None for load in plan.moulds)
    notes: tuple[str, ...] = (
        "Hours of work, shared by the crew, and of cure are those of a pull in the mould. By the "
        "clock it takes both and the nights and weekends in which neither goes on, until the next "
        "pull begins; these were found by following pulls through the weeks of the shift calendar "
        "when this book was built. A cure runs on at night.",
        "Pulls one set can give = open weeks x 168 h / hours by the clock x availability.",
        "Planned pulls are those the mould's cost is spread over: above them each pull bears more "
        "than its share, and the mould wears out sooner.",
    )
    if not known:
        notes += (
            phrase("The policy states no shift_calendar, so what a set can give is not known."),
        )
    explained = "Pulls from each mould, as costed and as one set allows"
    tables = (Table(columns, rows, name="pulls"), *_hulls(plan))
    then = lead_on("Stations", "their load against their capacity")
    return Sheet("Moulds", explained, tables, notes=notes, then=then)


def _hulls(plan: Plan) -> Iterator[Table]:
    """Hull moulds, and the options that keep them from the next hull."""
    rows = tuple(
        Row(
            (
                str(load.model.model.name),
                load.hulls,
                load.taken,
                load.displaced,
                load.all,
                load.capacity,
                load.sets,
                load.there,
                Flag(load.short, "NOT ENOUGH", "enough", alarm="yes"),
            ),
            str(load.model.model.place),
        )
        for load in plan.hulls
    )
    columns = (
        Column("Model", width=NAME),
        Column("Hulls a year"),
        Column("Hours from hull to hull"),
        Column("Hulls that options take"),
        Column("In all"),
        Column("Hulls one mould can give"),
        Column("Moulds needed"),
        Column("Moulds there"),
        Column("Moulds", width=12),
    )
    if rows:
        yield Table(columns, rows, "Hull moulds", "hulls")
    uses = tuple(
        Row(
            (
                use.hold.item.assembly.name,
                str(load.model.model.name),
                use.hold.work,
                use.hold.cure,
                use.hold.extra,
                use.units,
                use.pulls,
            ),
            str(use.hold.item.assembly.recipe.place),
        )
        for load in plan.hulls
        for use in load.uses
    )
    kept = (
        Column("Option or package", width=NAME),
        Column("On the model", width=NAME),
        Column("Hours of work"),
        Column("Hours of cure"),
        Column("Next hull later by hours"),
        Column("Units a year"),
        Column("Hulls a year"),
    )
    if uses:
        yield Table(kept, uses, "Options that keep a hull mould", "hull_options")


def _mould(load: MouldLoad, flags: MouldFlags) -> Row:
    enough = None
    if flags.more_sets is not None:
        enough = Flag(flags.more_sets, "NOT ENOUGH", "enough", alarm="yes")
    cells = (
        str(load.mould.name),
        load.pulls,
        load.planned,
        Flag(flags.over_planned, "ABOVE PLAN", "within", alarm="yes"),
        load.work,
        load.cure,
        load.clock,
        load.capacity,
        load.sets,
        enough,
    )
    return Row(cells, str(load.mould.place))
