"""Sheets of the margin review that are read: the summary, each market, the worst, the eroded."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.analysis.margin_review import NONE, Review
from quoter.analysis.margins import MarginLine, SalesYear, most_eroded, worst
from quoter.catalogue.markets import Market
from quoter.catalogue.volumes import boats_planned
from quoter.figures import Figure, total
from quoter.phrases import phrase, together
from quoter.workbook.sheets.proof import CAUTIONS, proved_table
from quoter.workbook.sources import sources_of
from quoter.workbook.table import (
    Cell,
    Chart,
    Column,
    Contents,
    Flag,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

WHAT = "Boat, option or package"
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
HOW_TO_READ = (
    "Framed, tinted cells are yours to change: prices on List prices, boats and take rates on "
    "Volumes and costs, discounts, provisions, margins and rates on Inputs. Net prices, "
    "contributions, margins, floors, sums and proposals follow. What each unit costs is a number "
    "of this build: it does not follow a changed price, wage or recipe.",
    "Money is in home currency without tax unless a heading says otherwise. Contribution = net "
    "price less provisions and variable cost; margin = net price less provisions and full cost; "
    "both as fractions of the net price. A margin lost is told in percentage points, negative "
    "where it has grown.",
    "Volumes are planned by boat and option, not by buyer or market: each sum says what the "
    "planned year would leave if all of it were sold to that class of buyer in that market.",
)


def margin_front_sheet(review: Review, found: Sequence[str], proved: Figure) -> Sheet:
    """The summary of the review."""
    blocks: list[Paragraphs | Table | Contents] = [
        Paragraphs(("What this build found",), "heading"),
        Paragraphs(tuple(found)),
        proved_table(proved),
    ]
    if review.models:
        blocks.append(_models(review))
    blocks += [_everywhere(review), _terms(review)]
    blocks += [
        Paragraphs(("How to read this",), "heading"),
        Paragraphs(HOW_TO_READ if review.years else HOW_TO_READ[:2]),
        Paragraphs(CAUTIONS, "caution"),
        Contents(),
    ]
    return Sheet(
        "Summary",
        "Margin review: what every price leaves now, where it is below the floor, and the year",
        tuple(blocks),
        charts=(_year_chart(review),) if review.models else (),
        then=lead_on("Worst", "the lowest margins and the largest erosions"),
    )


def _models(review: Review) -> Table:
    records = review.pricing.catalogue.records
    rows, boats = [], []
    for id, year in review.models.items():
        made = boats_planned(records, id)
        boats += [] if made is None else [made]
        name = str(review.pricing.models[id].model.name)
        rows.append(Row((name, made, *_year(review, year)), sources_of(year.net)))
    whole = review.years[review.first]
    all_boats = total(boats, NONE).named("review.boats", "boats a year")
    rows.append(Row(("All models", all_boats, *_year(review, whole)), kind="total"))
    columns = [
        Column("Model", width=34),
        Column("Boats a year"),
        Column("Net"),
        Column("Contribution"),
        Column("Margin"),
        Column("Margin of net"),
    ]
    if review.last_list:
        columns.append(Column("Margin of net at the last list"))
    title = phrase(
        "The planned year, sold to {name} in {market}",
        name=review.buyer.name,
        market=review.home.name,
    )
    return Table(tuple(columns), tuple(rows), title=title, name="models")


def _year(review: Review, year: SalesYear) -> list[Cell]:
    cells: list[Cell] = [year.net, year.contribution, year.margin, year.fraction]
    return [*cells, year.last] if review.last_list else cells


def _year_chart(review: Review) -> Chart:
    told, shown = [], []
    for id, year in review.models.items():
        shown += [f.value for f in (year.fraction, year.last) if f is not None]
        now = f"{year.fraction.value * 100:.1f} %"
        told.append(f"{review.pricing.models[id].model.name} {now}")
        if year.last is not None:
            last = f"{year.last.value * 100:.1f} %"
            told[-1] = phrase("{now}, at the last list {last}", now=told[-1], last=last)
    values: tuple[str, ...] = ("Margin of net",)
    if review.last_list:
        values += ("Margin of net at the last list",)
    title = "Margin of the planned year by model"
    about = "Bars: each model's margin of the net price. {models}"
    if review.last_list:
        title = "Margin of the planned year by model now and at the last list"
        about = "Bars: each model's margin of the net price now and at the last list. {models}"
    return Chart(
        title=title,
        table="models",
        categories="Model",
        values=values,
        value_title="Fraction of the net price",
        category_title="Model",
        description=phrase(about, models=together("; ", told)),
        stacked=False,
        from_zero=min(shown) >= 0,
    )


def _everywhere(review: Review) -> Table:
    """Market by class of buyer."""
    buyers = review.pricing.terms.buyers
    rows = []
    for market in review.pricing.catalogue.yard.markets:
        cells: list[Cell] = [str(market.name)]
        for buyer in buyers:
            place = str(market.id), str(buyer.id)
            if review.years:
                year = review.years.get(place)
                cells += [None] * 3 if year is None else [year.net, year.margin, year.fraction]
            cells.append(review.below[place])
        rows.append(Row(tuple(cells), str(market.place)))
    columns = [Column("Market", width=34)]
    for buyer in buyers:
        over = str(buyer.name)
        if review.years:
            columns.append(Column("Net", form="bare", decimals=0, over=over))
            columns.append(Column("Margin", form="bare", decimals=0, over=over))
            columns.append(Column("Margin of net", over=over))
        columns.append(Column("Prices below floor", over=over))
    title = "The company's planned year by market and class of buyer, and prices below the floor"
    if not review.years:
        title = "Prices below the floor by market and class of buyer"
    return Table(tuple(columns), tuple(rows), title=title, name="everywhere")


def _terms(review: Review) -> Table:
    terms = review.pricing.terms
    found = {phrase("Discount, {buyer}", buyer=one.name): one.discount for one in terms.buyers}
    found[phrase("Provisions in all, of the net price")] = terms.provisions
    found[phrase("Target margin, of the net price")] = terms.target
    found[phrase("Floor margin, of the net price")] = terms.floor
    rows = tuple(Row((what, figure), sources_of(figure)) for what, figure in found.items())
    return Table((Column("Terms of sale", width=34), Column("In force")), rows, name="terms")


def in_full(line: MarginLine) -> str:
    """Model and what is sold on it."""
    return together(": ", (line.model_name, line.words))


def below(breach: Figure) -> Flag:
    """Whether a margin is below the floor, in a word."""
    return Flag(breach, "BELOW", "holds", alarm="yes")


def market_sheet(review: Review, market: Market, title: str) -> Sheet:
    """Every line of a market at every class of buyer, to sort and filter."""
    lines, rate = review.lines[market.id], review.rates.get(market.id)
    rows = tuple(Row(_market_cells(review, line, rate)) for line in lines)
    currency = review.pricing.catalogue.currency
    heading = phrase(
        "What every price leaves in {name} at each class of buyer: money in "
        "{currency} without tax, margins of the net price",
        name=market.name,
        currency=currency,
    )
    table = Table(_market_columns(review, rate), rows, sortable=True, kept=2)
    then = lead_on("Sales", "where these numbers are worked out")
    return Sheet(title, heading, (table,), notes=(HELD_BACK,), owner=False, then=then)


def _market_columns(review: Review, rate: Figure | None) -> tuple[Column, ...]:
    def money(heading: str, over: str = "", width: float = 9) -> Column:
        return Column(heading, width=width, form="bare", decimals=0, over=over)

    basis = Column("Price from", width=21 if rate is None else 29)
    columns = [Column("Model"), Column(WHAT, width=25), basis]
    if rate is not None:
        columns += [money(phrase("List price there")), Column("Exchange rate", decimals=4)]
    columns += [money("List price"), money("Full cost")]
    for buyer in review.pricing.terms.buyers:
        over = str(buyer.name)
        columns += [money("Contribution", over, 12), money("Margin", over, 11)]
        columns += [Column("Margin of net", over=over), Column("Floor", over=over)]
    first = str(review.buyer.name)
    if review.last_list:
        over = phrase("Last list, {first}", first=first)
        columns += [money("Full cost", over), Column("Margin of net", over=over)]
        columns.append(Column("Margin lost", unit="points", decimals=2, over=over))
    if review.years:
        over = phrase("Planned year, {first}", first=first)
        columns += [Column("Units", decimals=1, over=over), money("Margin", over, 11)]
    return tuple(columns)


def _market_cells(review: Review, line: MarginLine, rate: Figure | None) -> tuple[Cell, ...]:
    first = str(review.buyer.id)
    cells: list[Cell] = [line.model_name, line.words, line.basis]
    if rate is not None:
        cells += [line.shown, rate]
    cells += [line.list_price, line.cost]
    for sale in line.sales.values():
        cells += [sale.contribution, sale.margin, sale.margin_fraction, below(sale.breach)]
    if review.last_list:
        cells += [last_cost(line), line.last_fraction(first), line.lost.get(first)]
    if review.years:
        cells += [line.units, line.yearly.get(first)]
    return tuple(cells)


def worst_sheet(review: Review) -> Sheet:
    """The lowest margins, and the largest erosions since the last list."""
    lines, buyer = review.at_home, str(review.buyer.id)
    lowest, eroded = worst(lines, buyer), most_eroded(lines, buyer)
    blocks = [_lowest(review, lowest)]
    if eroded:
        blocks.append(_eroded(review, eroded))
    sold = f"{review.home.name}, {review.buyer.name}"
    notes = (AS_BUILT,) if eroded or not review.last_list else (AS_BUILT, "No margin fell.")
    heading = phrase(
        "{sold}: the lowest margins, and those that fell most since the last price list", sold=sold
    )
    charts = (_worst_chart(review, lowest),)
    then = lead_on("Proposed prices", "what the policy would publish next")
    return Sheet("Worst", heading, tuple(blocks), charts, notes, owner=False, then=then)


def _lowest(review: Review, lines: Sequence[MarginLine]) -> Table:
    buyer, floor = str(review.buyer.id), review.pricing.terms.floor
    rows = []
    for line in lines:
        sale = line.sales[buyer]
        cells: list[Cell] = [in_full(line), sale.margin_fraction, floor, below(sale.breach)]
        if review.last_list:
            cells += [line.last_fraction(buyer), line.lost.get(buyer)]
        cells += [line.list_price, line.cost, sale.margin]
        if review.last_list:
            cells.append(review.told.get(line.key))
        rows.append(Row(tuple(cells), source(review, line)))
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


def source(review: Review, line: MarginLine) -> str:
    """Where the catalogue has what a line sells."""
    model = review.pricing.models[line.model]
    item = model.extras[line.option] if line.option else model.boat
    return str(item.assembly.recipe.place)


def last_cost(line: MarginLine) -> Figure | None:
    """Full cost at the last list."""
    return None if line.was is None else line.was.cost


def _worst_chart(review: Review, lines: Sequence[MarginLine]) -> Chart:
    buyer, floor = str(review.buyer.id), review.pricing.terms.floor.value
    fractions = [line.sales[buyer].margin_fraction.value for line in lines]
    told = together(
        ", ",
        [
            together(" ", (in_full(line), f"{fraction * 100:.1f} %"))
            for line, fraction in zip(lines, fractions, strict=True)
        ],
    )
    return Chart(
        title="The lowest margins beside the floor",
        table="lowest",
        categories=WHAT,
        values=("Margin of net", "Floor margin"),
        value_title="Fraction of the net price",
        category_title=WHAT,
        description=phrase(
            "Two bars a line: its margin of the net price, and the floor of {floor:g} %. {told}",
            floor=floor * 100,
            told=told,
        ),
        stacked=False,
        from_zero=min(fractions) >= 0,
    )


def _eroded(review: Review, lines: Sequence[MarginLine]) -> Table:
    buyer = str(review.buyer.id)
    rows = []
    for line in lines:
        cells: tuple[Cell, ...] = (
            in_full(line),
            line.sales[buyer].margin_fraction,
            line.last_fraction(buyer),
            line.lost.get(buyer),
            None if line.was is None else line.was.list_price,
            line.list_price,
            last_cost(line),
            line.cost,
            line.moved,
            review.told.get(line.key),
        )
        rows.append(Row(cells, source(review, line)))
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
