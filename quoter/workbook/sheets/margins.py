"""Sheets of the margin review that are read: each market, the worst and the most eroded."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from quoter.analysis.margin_review import Key, Review, Reviewed
from quoter.analysis.margins import most_eroded, worst
from quoter.catalogue.factory import Market
from quoter.figures import Figure
from quoter.workbook.table import Cell, Chart, Column, Flag, Row, Sheet, Table

WHAT = "Boat, option or package"
BOAT_WORDS = "Boat with standard equipment"
NAME, MODEL = 30.0, 22.0
HELD_BACK = (
    "Sort and filter this sheet as you like: every number is taken by a fixed address from the "
    "sheets behind, and nothing reads this one. The other sheets are locked, since their rows "
    "belong where they are."
)
AS_BUILT = (
    "Which lines stand here, and in which order, is as of this build; their numbers follow what "
    "you change."
)


def called(review: Review, key: Key) -> str:
    """What a line sells."""
    model, option = key
    return review.pricing.models[model].extras[option].assembly.name if option else BOAT_WORDS


def in_full(review: Review, each: Reviewed) -> str:
    """Model and what is sold on it."""
    return f"{each.line.model_name}: {called(review, each.key)}"


def below(breach: Figure) -> Flag:
    """Whether a margin is below the floor, in a word."""
    return Flag(breach, "BELOW", "holds", alarm="yes")


def market_sheet(review: Review, market: Market, title: str) -> Sheet:
    """Every line of a market at every class of buyer, to sort and filter."""
    lines, rate = review.lines[str(market.id)], review.rates.get(str(market.id))
    rows = tuple(Row(_market_cells(review, each, rate)) for each in lines)
    currency = review.pricing.catalogue.currency
    heading = (
        f"What every price leaves in {market.name} at each class of buyer: money in {currency} "
        "without tax, margins of the net price"
    )
    table = Table(_market_columns(review, rate), rows, sortable=True, kept=2)
    return Sheet(title, heading, (table,), notes=(HELD_BACK,), owner=False)


def _market_columns(review: Review, rate: Figure | None) -> tuple[Column, ...]:
    def money(heading: str, over: str = "", width: float = 9) -> Column:
        return Column(heading, width=width, form="bare", decimals=0, over=over)

    basis = Column("Price from", width=21 if rate is None else 29)
    columns = [Column("Model"), Column(WHAT, width=25), basis]
    if rate is not None:
        columns += [money("List price there"), Column("Exchange rate", decimals=4)]
    columns += [money("List price"), money("Full cost")]
    for buyer in review.pricing.terms.buyers:
        over = str(buyer.name)
        columns += [money("Contribution", over, 12), money("Margin", over, 11)]
        columns += [Column("Margin of net", over=over), Column("Floor", over=over)]
    first = str(review.buyer.name)
    if review.last_list:
        over = f"Last list, {first}"
        columns += [money("Full cost", over), Column("Margin of net", over=over)]
        columns.append(Column("Margin lost", unit="points", decimals=2, over=over))
    if review.years:
        over = f"Planned year, {first}"
        columns += [Column("Units", decimals=1, over=over), money("Margin", over, 11)]
    return tuple(columns)


def _market_cells(review: Review, each: Reviewed, rate: Figure | None) -> tuple[Cell, ...]:
    line, first = each.line, str(review.buyer.id)
    cells: list[Cell] = [line.model_name, called(review, each.key), line.basis]
    if rate is not None:
        cells += [each.shown, rate]
    cells += [line.list_price, line.cost]
    for sale in line.sales.values():
        cells += [sale.contribution, sale.margin, sale.margin_fraction, below(sale.breach)]
    if review.last_list:
        cells += [each.last_cost, each.last_fraction(first), each.lost.get(first)]
    if review.years:
        cells += [line.units, each.yearly.get(first)]
    return tuple(cells)


def worst_sheet(review: Review, moved: Mapping[Key, str]) -> Sheet:
    """The lowest margins, and the largest erosions since the last list."""
    market, buyer = review.first
    at = {id(each.line): each for each in review.lines[market]}
    lines = [each.line for each in review.lines[market]]
    lowest = [at[id(line)] for line in worst(lines, buyer)]
    eroded = [at[id(line)] for line in most_eroded(lines, buyer)]
    blocks = [_lowest(review, lowest, moved)]
    if eroded:
        blocks.append(_eroded(review, eroded, moved))
    sold = f"{review.home.name}, {review.buyer.name}"
    notes = (AS_BUILT,) if eroded or not review.last_list else (AS_BUILT, "No margin fell.")
    heading = f"{sold}: the lowest margins, and those that fell most since the last price list"
    charts = (_chart(review, lowest),)
    return Sheet("Worst", heading, tuple(blocks), charts, notes, owner=False)


def _lowest(review: Review, lines: Sequence[Reviewed], moved: Mapping[Key, str]) -> Table:
    buyer, floor = str(review.buyer.id), review.pricing.terms.floor
    rows = []
    for each in lines:
        sale = each.line.sales[buyer]
        cells: list[Cell] = [in_full(review, each), sale.margin_fraction, floor, below(sale.breach)]
        if review.last_list:
            cells += [each.last_fraction(buyer), each.lost.get(buyer)]
        cells += [each.line.list_price, each.line.cost, sale.margin]
        if review.last_list:
            cells.append(moved.get(each.key))
        rows.append(Row(tuple(cells), _source(review, each)))
    columns = [
        Column(WHAT, width=38),
        Column("Margin of net"),
        Column("Floor margin", width=13),
        Column("Floor", width=10),
        Column("Margin of net at the last list", width=17),
        Column("Margin lost", unit="points", decimals=2, width=13),
        Column("List price", width=13),
        Column("Full cost", width=13),
        Column("Margin", width=13),
        Column("What moved the cost since the last list", width=44),
    ]
    if not review.last_list:
        columns = [*columns[:4], *columns[6:9]]
    return Table(tuple(columns), tuple(rows), title="The lowest margins", name="lowest")


def _source(review: Review, each: Reviewed) -> str:
    model, option = each.key
    item = review.pricing.models[model].extras[option] if option else None
    made = review.pricing.models[model].boat if item is None else item
    return str(made.assembly.recipe.place)


def _chart(review: Review, lines: Sequence[Reviewed]) -> Chart:
    buyer, floor = str(review.buyer.id), review.pricing.terms.floor.value
    fractions = [each.line.sales[buyer].margin_fraction.value for each in lines]
    told = ", ".join(
        f"{in_full(review, each)} {fraction * 100:.1f} %"
        for each, fraction in zip(lines, fractions, strict=True)
    )
    return Chart(
        "The lowest margins beside the floor",
        "lowest",
        WHAT,
        ("Margin of net", "Floor margin"),
        "Fraction of the net price",
        WHAT,
        f"Two bars a line: its margin of the net price, and the floor of {floor * 100:g} %. {told}",
        stacked=False,
        from_zero=min(fractions) >= 0,
    )


def _eroded(review: Review, lines: Sequence[Reviewed], moved: Mapping[Key, str]) -> Table:
    buyer = str(review.buyer.id)
    rows = []
    for each in lines:
        cells: tuple[Cell, ...] = (
            in_full(review, each),
            each.line.sales[buyer].margin_fraction,
            each.last_fraction(buyer),
            each.lost.get(buyer),
            each.last_price,
            each.line.list_price,
            each.last_cost,
            each.line.cost,
            each.moved,
            moved.get(each.key),
        )
        rows.append(Row(cells, _source(review, each)))
    columns = (
        Column(WHAT, width=38),
        Column("Margin of net"),
        Column("At the last list", width=13),
        Column("Lost", unit="points", decimals=2, width=10),
        Column("List price then", width=13),
        Column("List price now", width=13),
        Column("Full cost then", width=13),
        Column("Full cost now", width=13),
        Column("Change in cost", width=13),
        Column("What moved the cost since the last list", width=44),
    )
    title = "The largest erosions since the last list"
    return Table(columns, tuple(rows), title=title, name="eroded")
