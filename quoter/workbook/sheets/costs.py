"""Sheets of cost: options by element, materials by class, labour by station, parts, margins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from quoter.analysis.stated_share import stated_of
from quoter.catalogue.markets import DealerClass
from quoter.costing.assembly import Assembly
from quoter.costing.elements import detail_of, shown_groups
from quoter.phrases import capital, phrase
from quoter.pricing.price import Priced, PricedModel
from quoter.pricing.sale import Sale
from quoter.problems import Place
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Chart, Column, Flag, Row, Sheet, Table, lead_on

WIDE = 34.0


def cost_sheet(priced: PricedModel, parts: Sequence[Assembly]) -> Sheet:
    """Cost by element group of the base boat, every option and every part."""
    sold = [item.assembly for item in priced.boat_and_options]
    options = sold[1:]
    moved = [pair.assembly for pair in priced.pairs]
    recoloured = phrase("Options in another hull colour, more than as they come")
    groups = shown_groups(item.groups for item in (*sold, *moved, *parts))
    return Sheet(
        "Costs",
        phrase(
            "{name}: what each option and part costs, by element, per good unit",
            name=priced.model.name,
        ),
        (
            _by_group(
                groups, sold[:1], phrase("Base boat with its standard options"), "boat_costs"
            ),
            *_stated(sold[0]),
            _by_group(groups, options, "Options", "option_costs"),
            *([_by_group(groups, moved, recoloured, "recoloured_costs", True)] if moved else ()),
            _by_group(groups, parts, "Parts", "part_costs", True),
        ),
        charts=(
            Chart(
                title="Cost of each option by element",
                table="option_costs",
                categories="Options",
                values=tuple(groups.values()),
                value_title="Cost",
                category_title="Option",
                description="Stacked bars: the cost of every option, divided into its elements",
            ),
        ),
        then=lead_on("Elements", "material by class and labour by station"),
    )


def _by_group(
    groups: Mapping[str, str],
    assemblies: Iterable[Assembly],
    title: str,
    name: str,
    workings: bool = False,
) -> Table:
    rows = tuple(
        Row(
            (
                assembly_name(assembly),
                *(assembly.groups.get(group) for group in groups),
                assembly.cost,
                assembly.variable,
            ),
            source=str(assembly.recipe.place),
        )
        for assembly in assemblies
    )
    columns = (
        Column(title, width=WIDE),
        *(Column(label, form="bare") for label in groups.values()),
        Column("Full cost", form="bare"),
        Column("of which variable", form="bare"),
    )
    return Table(columns, rows, title=title, name=name, workings=workings)


def _stated(boat: Assembly) -> list[Table]:
    """What of the boat is stated in place of being built up."""
    found = stated_of(boat)
    if not found:
        return []
    place = str(boat.recipe.place)
    rows = tuple(
        Row((each.what[:1].upper() + each.what[1:], each.stated, each.whole, each.share), place)
        for each in found
    )
    columns = (
        Column("Of the boat's", width=WIDE),
        Column("Stated"),
        Column("Whole"),
        Column("Share stated"),
    )
    return [Table(columns, rows, title="Stated, not built up", name="stated")]


def assembly_name(assembly: Assembly) -> str:
    """A part's name, with what tells its shapes and colours apart."""
    variant = assembly.recipe.variant
    if not variant:
        return assembly.name
    return phrase("{name} ({variant})", name=assembly.name, variant=variant)


def element_sheet(priced: PricedModel, stations: Mapping[str, str]) -> Sheet:
    """Materials by class and labour by station, in money, of the boat and every option; so too
    what a batch uses up, waste and one-off costs, where they are stated.

    Args:
        priced: the model
        stations: names by id
    """
    sold = [item.assembly for item in priced.boat_and_options]
    stated = [
        _by_element(sold, group, title, stations)
        for group, title in (
            ("batch_material", phrase("Material per batch by class")),
            ("waste", phrase("Waste disposal by class")),
            ("one_off", phrase("Design and certification by kind")),
        )
        if any(group in assembly.groups for assembly in sold)
    ]
    return Sheet(
        "Elements",
        phrase(
            "{name}: material by class and labour by station, per good unit", name=priced.model.name
        ),
        (
            _by_element(sold, "material", phrase("Material by class"), stations),
            _by_element(sold, "labour", phrase("Labour by station"), stations),
            *stated,
        ),
        then=lead_on("Margins", "what each list price leaves"),
    )


def _by_element(
    sold: Sequence[Assembly], group: str, title: str, stations: Mapping[str, str]
) -> Table:
    elements = [e for assembly in sold for e in assembly.elements if e.startswith(f"{group}.")]
    kept = list(dict.fromkeys(elements))
    rows = tuple(
        Row(
            (
                assembly.name,
                *(assembly.elements.get(element) for element in kept),
                assembly.groups.get(group),
            ),
            source=str(assembly.recipe.place),
        )
        for assembly in sold
    )
    columns = (
        Column("Boat or option", width=WIDE),
        *(Column(capital(detail_of(element, stations))) for element in kept),
        Column("Together"),
    )
    return Table(columns, rows, title=title, name=f"by_{group}")


def margin_sheet(priced: PricedModel) -> Sheet:
    """Recommended and published list prices, and what each leaves at every class of buyer."""
    sold = priced.boat_and_options
    sales = priced.boat.sales.values()
    return Sheet(
        "Margins",
        phrase(
            "{name}: list prices without tax, and what they leave by class of buyer",
            name=priced.model.name,
        ),
        (_prices(sold), *(_margins(sold, sale.buyer) for sale in sales)),
        then=lead_on("Targets", "how far each cost is from what its price allows"),
    )


def _prices(sold: Sequence[Priced]) -> Table:
    rows = tuple(
        Row(
            (
                item.assembly.name,
                item.assembly.cost,
                item.recommended,
                item.list_price,
                item.basis,
            ),
            _source_of_price(item),
        )
        for item in sold
    )
    columns = (
        Column("Boat or option", width=WIDE),
        Column("Full cost", form="bare"),
        Column("Recommended list price", form="bare"),
        Column("List price", form="bare"),
        Column("List price from"),
    )
    return Table(columns, rows, title="List prices", name="prices")


def _source_of_price(item: Priced) -> str:
    """The line of the price book or the model, or that of what the price is worked out for."""
    listed = item.list_price.op == "ref" and item.list_price.args[0].op == "input"
    return sources_of(item.list_price) if listed else str(item.assembly.recipe.place)


def _margins(sold: Sequence[Priced], buyer: DealerClass) -> Table:
    rows = (
        sale_row(item.assembly.name, item.sales[str(buyer.id)], item.assembly.recipe.place)
        for item in sold
    )
    return sale_table(
        rows, "Boat or option", phrase("Sold to: {name}", name=buyer.name), f"margins_{buyer.id}"
    )


def sale_row(what: str, sale: Sale, place: Place) -> Row:
    """What a sale leaves, for a table of sales."""
    cells = (
        what,
        sale.net,
        sale.contribution,
        sale.contribution_fraction,
        sale.margin,
        sale.margin_fraction,
        Flag(sale.holds, "holds", "BELOW FLOOR"),
    )
    return Row(cells, str(place))


def sale_table(rows: Iterable[Row], what: str, title: str, name: str) -> Table:
    """What sales leave, each of them a row."""
    columns = (
        Column(what, width=WIDE),
        Column("Net price", form="bare"),
        Column("Contribution", form="bare"),
        Column("Contribution of net"),
        Column("Full margin", form="bare"),
        Column("Margin of net"),
        Column("Floor"),
    )
    return Table(columns, tuple(rows), title=title, name=name)
