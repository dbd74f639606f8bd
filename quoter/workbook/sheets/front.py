"""The first sheet: the boat as configured, what is chosen, and where everything else is."""

from __future__ import annotations

from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.configured import Configured
from quoter.pricing.price import PricedModel
from quoter.workbook.sheets.costs import sale_row, sale_table
from quoter.workbook.table import (
    Choice,
    Column,
    Contents,
    Flag,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

HOW_TO_READ = (
    "Choose options with 0 or 1 (or more, where several fit); the boat above follows. "
    "Money is in home currency without tax unless a heading says otherwise; "
    "costs are positive, a credit is negative; margins are fractions of the net price.",
)


def front_sheet(priced: PricedModel, boat: Configured, master: Figure, subtitle: str) -> Sheet:
    """The summary of one model."""
    return Sheet(
        "Summary",
        subtitle,
        (
            Paragraphs(HOW_TO_READ),
            _configured(priced, boat, master),
            _sales(boat),
            _options(priced, boat),
            Contents(),
            *_pairs(boat),
            _rules(priced, boat),
        ),
        owner=True,
        then=lead_on("Costs", "what each option costs by element"),
    )


def _configured(priced: PricedModel, boat: Configured, master: Figure) -> Table:
    base, line = priced.boat, str(priced.model.place)
    rows = (
        Row(("List price", base.list_price, boat.list_price), line),
        Row(("Full cost", base.assembly.cost, boat.cost), line),
        Row(("of which variable", base.assembly.variable, boat.variable), line),
        Row(("Mass", base.assembly.mass, boat.mass), line),
        Row(("Paid hours", base.assembly.all_hours, boat.hours), line),
        Row(("Rules between options", None, Flag(boat.all_kept, "kept", "BROKEN"))),
        Row(("All checks of this workbook", None, Flag(master))),
    )
    columns = (Column("The boat", width=34), Column("Base boat"), Column("As configured"))
    return Table(columns, rows, title="Boat as configured", name="configured")


def _sales(boat: Configured) -> Table:
    rows = (sale_row(str(sale.buyer.name), sale, sale.buyer.place) for sale in boat.sales.values())
    return sale_table(rows, "Sold to", phrase("What the configured boat leaves"), "sales")


def _kept(boat: Configured, option: str) -> Flag | None:
    """Whether the selection keeps every rule of an option."""
    kept = boat.kept.get(option)
    return None if kept is None else Flag(kept, "kept", "BROKEN")


def _rules(priced: PricedModel, boat: Configured) -> Table:
    rows = tuple(
        Row(
            (rule.words, Flag(rule.holds, "kept", "BROKEN")),
            source=str(priced.options[rule.option].assembly.recipe.place),
        )
        for rule in boat.rules
    )
    columns = (Column("Rule", width=64), Column("This boat"))
    return Table(columns, rows, title="Rules between options", name="rules", workings=True)


def _pairs(boat: Configured) -> tuple[Table, ...]:
    """What a hull colour changes in the options it meets; nothing where it changes none."""
    rows = tuple(
        Row(
            (
                pair.of.assembly.name,
                pair.count,
                None if pair.of.surcharge is None else pair.of.surcharge.list_price,
                pair.of.assembly.cost,
                pair.of.assembly.mass,
                pair.of.assembly.all_hours,
            ),
            source=str(pair.of.assembly.recipe.place),
        )
        for pair in boat.pairs
    )
    columns = (
        Column("Option in another hull colour", width=34),
        Column("On this boat", decimals=0),
        Column("Colour surcharge"),
        Column("Full cost"),
        Column("Mass added"),
        Column("Paid hours"),
    )
    title = "What the hull colour chosen changes in other options, of one"
    return (Table(columns, rows, title, "recoloured", workings=True),) if rows else ()


def _options(priced: PricedModel, boat: Configured) -> Table:
    rows = []
    for id, item in priced.extras.items():
        most = int(item.option.most.value) if item.option and item.option.most is not None else 1
        sale = next(iter(item.sales.values()))
        rows.append(
            Row(
                (
                    item.assembly.name,
                    Choice(boat.quantities[id], most),
                    item.list_price,
                    item.assembly.cost,
                    sale.margin,
                    sale.margin_fraction,
                    Flag(sale.holds, "holds", "BELOW FLOOR"),
                    _kept(boat, id),
                    item.assembly.mass,
                    item.assembly.all_hours,
                    item.basis,
                ),
                source=str(item.assembly.recipe.place),
            )
        )
    buyer = next(iter(boat.sales.values())).buyer.name
    columns = (
        Column("Option", width=34),
        Column("Quantity", form="whole"),
        Column("List price", form="bare"),
        Column("Full cost", form="bare"),
        Column(phrase("Margin, {buyer}", buyer=buyer), form="bare"),
        Column("Margin of net"),
        Column("Floor"),
        Column("Rules"),
        Column("Mass added"),
        Column("Paid hours"),
        Column("Price from"),
    )
    title = "Options: choose how many"
    return Table(columns, tuple(rows), title=title, name="options")
