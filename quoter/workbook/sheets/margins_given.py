"""Sheets behind the margin review: prices and volumes to change, and the sales they make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from quoter.analysis.margin_review import Key, Place, Review, Reviewed
from quoter.catalogue.factory import DealerClass, Market
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.figures import Figure
from quoter.figures.graph import input_behind, inputs_of
from quoter.workbook.sheets.margins import BOAT_WORDS, MODEL, NAME, WHAT, called
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Cell, Column, Entry, Row, Sheet, Table

VOLUMES = "Volumes and costs"


def list_price_sheet(review: Review, roots: Iterable[Figure]) -> Sheet:
    """Published prices and those of the models: one cell a line of the price book."""
    used = set(inputs_of(roots))
    rows = tuple(
        Row((*words, Entry(price), since, note), sources_of(price))
        for words, price, since, note in _published(review)
        if price in used
    )
    columns = (
        Column("Market", width=20),
        Column("Model", width=MODEL),
        Column(WHAT, width=NAME),
        Column("List price"),
        Column("In force since", width=12),
        Column("Note", width=NAME),
    )
    return Sheet(
        "List prices",
        "List prices without tax as they are published: change one, and every model and market "
        "it holds for follows",
        (Table(columns, rows, name="prices"),),
        notes=(
            "What is not here follows from what is: a package from its options, less its saving; a "
            "price in another currency from the home price; an option without a published price "
            "from its cost, by the policy.",
        ),
    )


def _published(review: Review) -> Iterator[tuple[tuple[str, str, str], Figure, str, str]]:
    """Each line in words, its price as written, since when it holds, and its note."""
    pricing = review.pricing
    for model in pricing.models.values():
        words = "all", str(model.model.name), BOAT_WORDS
        yield words, input_behind(model.model.list_price), "", ""
    markets = {str(m.id): str(m.name) for m in pricing.catalogue.yard.markets}
    for (market, on, option), row in pricing.catalogue.book.items():
        name = str(pricing.models[on].model.name) if on else "all models"
        words = markets.get(market, "all"), name, _named(review, option)
        yield words, input_behind(row.list_price), str(row.date), str(row.note)


def _named(review: Review, option: str) -> str:
    models = review.pricing.models.values()
    names = [m.options[option].assembly.name for m in models if option in m.options]
    return names[0] if option and names else BOAT_WORDS


def volume_cost_sheet(review: Review, moved: Mapping[Key, str], build_id: str) -> Sheet:
    """Boats a year and take rates to change; what one of each costs, as of the build."""
    records = review.pricing.catalogue.records
    boats = []
    for id, model in review.pricing.models.items():
        planned = boats_planned(records, id)
        if planned is not None:
            written = input_behind(planned)
            boats.append(Row((str(model.model.name), Entry(written)), sources_of(written)))
    lines = review.lines[str(review.home.id)]
    rows = [Row(_cost_cells(review, each, moved), _sources(review, each)) for each in lines]
    blocks = []
    if boats:
        columns = (Column("Model", width=MODEL), Column("Boats a year"))
        blocks.append(Table(columns, tuple(boats), title="Boats", name="boats"))
    title = f"{'Take rates, and w' if boats else 'W'}hat one costs by build {build_id}"
    blocks.append(Table(_cost_columns(review), tuple(rows), title=title, name="costs"))
    heading = "What one of each costs, a number of this build that does not follow a change"
    if not boats:
        return Sheet(VOLUMES, f"{heading}; no year is planned", tuple(blocks))
    heading = f"Boats a year and the part of them that takes an option, yours to change. {heading}"
    about = "What has no take rate in volumes.csv is not planned; what has 0 % can be raised."
    return Sheet(VOLUMES, heading, tuple(blocks), notes=(about,))


def _cost_columns(review: Review) -> tuple[Column, ...]:
    columns = [
        Column("Model", width=MODEL),
        Column(WHAT, width=NAME),
        Column("Full cost"),
        Column("of which variable"),
    ]
    if review.years:
        columns[2:2] = [Column("Take rate"), Column("Units a year")]
    if review.last_list:
        columns += [Column("Full cost at the last list"), Column("Change in cost")]
        columns.append(Column("What moved it", width=50))
    return tuple(columns)


def _cost_cells(review: Review, each: Reviewed, moved: Mapping[Key, str]) -> tuple[Cell, ...]:
    line = each.line
    take = take_rates(review.pricing.catalogue.records, line.model).get(line.option)
    rate = None if take is None or line.units is None else Entry(input_behind(take))
    cells: list[Cell] = [line.model_name, called(review, each.key)]
    if review.years:
        cells += [rate, line.units]
    cells += [line.cost, line.variable]
    if review.last_list:
        cells += [each.last_cost, each.moved, moved.get(each.key)]
    return tuple(cells)


def _sources(review: Review, each: Reviewed) -> str:
    """Where the take rate stands, or what is sold."""
    take = take_rates(review.pricing.catalogue.records, each.line.model).get(each.line.option)
    return _place(review, each) if take is None else sources_of(take)


def _place(review: Review, each: Reviewed) -> str:
    model = review.pricing.models[each.line.model]
    item = model.extras[each.line.option] if each.line.option else model.boat
    return str(item.assembly.recipe.place)


def sale_sheet(review: Review) -> Sheet:
    """What a sale of each line leaves, by market and class of buyer: where it is worked out."""
    rows: list[Row] = []
    for market in review.pricing.catalogue.yard.markets:
        for buyer in review.pricing.terms.buyers:
            rows += _sales(review, market, buyer)
    columns = [
        Column("Model", width=MODEL),
        Column(WHAT, width=NAME),
        Column("List price"),
        Column("Net price"),
        Column("Contribution"),
        Column("Margin"),
        Column("Margin of net"),
        Column("Below the floor, 1 or 0"),
    ]
    if review.years:
        columns.append(Column("Margin a year"))
    if review.last_list:
        columns.append(Column("Margin of net at the last list"))
        columns.append(Column("Margin lost", unit="points", decimals=2))
    return Sheet(
        "Sales",
        "Every line sold to every class of buyer in every market: where the other sheets take "
        "their numbers from",
        (Table(tuple(columns), tuple(rows), name="sales"),),
    )


def _sales(review: Review, market: Market, buyer: DealerClass) -> Iterator[Row]:
    place = str(market.id), str(buyer.id)
    yield Row((f"{market.name}, {buyer.name}",), kind="group")
    for each in review.lines[place[0]]:
        yield Row(_sale_cells(review, each, place), _place(review, each))


def _sale_cells(review: Review, each: Reviewed, place: Place) -> tuple[Cell, ...]:
    line, (_, buyer) = each.line, place
    sale = line.sales[buyer]
    cells: list[Cell] = [
        line.model_name,
        called(review, each.key),
        line.list_price,
        sale.net,
        sale.contribution,
        sale.margin,
        sale.margin_fraction,
        sale.breach,
    ]
    if review.years:
        cells.append(each.yearly.get(buyer))
    if review.last_list:
        cells += [each.last_fraction(buyer), each.lost.get(buyer)]
    return tuple(cells)
