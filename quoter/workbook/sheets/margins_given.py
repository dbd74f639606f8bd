"""Sheets behind the margin review: prices and volumes to change, the sales they make, and what the
policy of repricing would publish next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quoter.analysis.margin_review import Proposed, Review
from quoter.analysis.margins import BOAT_WORDS, MarginLine
from quoter.catalogue.markets import DealerClass, Market
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.figures import Figure
from quoter.figures.graph import input_behind, inputs_of
from quoter.phrases import phrase
from quoter.pricing.proposals import deepest_discount
from quoter.workbook.sheets.margins import MODEL, NAME, WHAT, below, last_cost, source
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Cell, Column, InputCell, Row, Sheet, Table, lead_on

VOLUMES = "Volumes and costs"
_TERMS = "discounts, provisions, margins and rates, to change"


def list_price_sheet(review: Review, roots: Iterable[Figure]) -> Sheet:
    """Published prices and those of the models: one cell a line of the price book."""
    used = set(inputs_of(roots))
    rows = tuple(
        Row((*words, InputCell(price), since, note), sources_of(price))
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
        then=lead_on(VOLUMES, "boats a year and take rates, to change"),
    )


def _published(review: Review) -> Iterator[tuple[tuple[str, str, str], Figure, str, str]]:
    """Each line in words, its price as written, since when it holds, and its note."""
    pricing = review.pricing
    boats: dict[Figure, list[str]] = {}  # several, where one amount is written for them by an alias
    for model in pricing.models.values():
        boats.setdefault(input_behind(model.model.list_price), []).append(str(model.model.name))
    for price, names in boats.items():
        yield (phrase("all"), ", ".join(names), BOAT_WORDS), price, "", ""
    markets = {str(m.id): str(m.name) for m in pricing.catalogue.yard.markets}
    for (market, on, option), row in pricing.catalogue.book.items():
        name = str(pricing.models[on].model.name) if on else phrase("all models")
        words = markets.get(market, phrase("all")), name, _named(review, option)
        yield words, input_behind(row.list_price), str(row.date), str(row.note)


def _named(review: Review, option: str) -> str:
    models = review.pricing.models.values()
    names = [m.options[option].assembly.name for m in models if option in m.options]
    return names[0] if option and names else BOAT_WORDS


def volume_cost_sheet(review: Review) -> Sheet:
    """Boats a year and take rates to change; what one of each costs, as of the build."""
    records = review.pricing.catalogue.records
    boats = []
    for id, model in review.pricing.models.items():
        planned = boats_planned(records, id)
        if planned is not None:
            written = input_behind(planned)
            boats.append(Row((str(model.model.name), InputCell(written)), sources_of(written)))
    rows = [Row(_cost_cells(review, line), _sources(review, line)) for line in review.at_home]
    blocks = []
    if boats:
        columns = (Column("Model", width=MODEL), Column("Boats a year"))
        blocks.append(Table(columns, tuple(boats), title="Boats", name="boats"))
    title = "What one costs by this build"
    if boats:
        title = "Take rates, and what one costs by this build"
    blocks.append(Table(_cost_columns(review), tuple(rows), title=title, name="costs"))
    heading = phrase("What one of each costs, a number of this build that does not follow a change")
    if not boats:
        heading = phrase("{heading}; no year is planned", heading=heading)
        return Sheet(VOLUMES, heading, tuple(blocks), then=lead_on("Inputs", _TERMS))
    heading = phrase(
        "Boats a year and the part of them that takes an option, yours to change. {heading}",
        heading=heading,
    )
    about = "What has no take rate in volumes.csv is not planned; what has 0 % can be raised."
    then = lead_on("Inputs", _TERMS)
    return Sheet(VOLUMES, heading, tuple(blocks), notes=(about,), then=then)


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


def _cost_cells(review: Review, line: MarginLine) -> tuple[Cell, ...]:
    take = take_rates(review.pricing.catalogue.records, line.model).get(line.option)
    rate = None if take is None or line.units is None else InputCell(input_behind(take))
    cells: list[Cell] = [line.model_name, line.words]
    if review.years:
        cells += [rate, line.units]
    cells += [line.cost, line.variable]
    if review.last_list:
        cells += [last_cost(line), line.moved, review.told.get(line.key)]
    return tuple(cells)


def _sources(review: Review, line: MarginLine) -> str:
    """Where the take rate stands, or what is sold."""
    take = take_rates(review.pricing.catalogue.records, line.model).get(line.option)
    return source(review, line) if take is None else sources_of(take)


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
        (Table(tuple(columns), tuple(rows), name="sales", workings=True),),
        then=lead_on("Checks", "whether all adds up"),
    )


def _sales(review: Review, market: Market, buyer: DealerClass) -> Iterator[Row]:
    place = str(market.id), str(buyer.id)
    yield Row((f"{market.name}, {buyer.name}",), kind="group")
    for line in review.lines[place[0]]:
        yield Row(_sale_cells(review, line, place[1]), source(review, line))


def _sale_cells(review: Review, line: MarginLine, buyer: str) -> tuple[Cell, ...]:
    sale = line.sales[buyer]
    cells: list[Cell] = [
        line.model_name,
        line.words,
        line.list_price,
        sale.net,
        sale.contribution,
        sale.margin,
        sale.margin_fraction,
        sale.breach,
    ]
    if review.years:
        cells.append(line.yearly.get(buyer))
    if review.last_list:
        cells += [line.last_fraction(buyer), line.lost.get(buyer)]
    return tuple(cells)


def proposal_sheet(review: Review) -> Sheet:
    """What the policy would publish next, beside what is published."""
    published = [p for p in review.proposals if p.change is not None]
    parts = {
        phrase("Would move"): [p for p in published if p.proposal.changes],
        phrase("Not published yet, so they follow their cost"): [
            p for p in review.proposals if p.change is None
        ],
        phrase("Held"): [p for p in published if not p.proposal.changes],
    }
    rows: list[Row] = []
    for title, members in parts.items():
        if members:
            words = phrase(
                "{title}, as of this build: {members}", title=title, members=len(members)
            )
            rows.append(Row((words,), kind="group"))
            rows += [_proposal(each) for each in members]
    columns = (
        Column(WHAT, width=NAME),
        Column("Model", width=MODEL),
        Column("Market", width=14),
        Column("List price published"),
        Column("Wanted at the target"),
        Column("Wanted is off by"),
        Column("Proposed"),
        Column("Change"),
        Column("Lowest margin of net now"),
        Column("Lowest margin of net then"),
        Column("Floor then"),
        Column("Why, as of this build", width=NAME),
    )
    heading = phrase(
        "List prices by the policy of repricing, without tax; margins at {name}, the "
        "lowest of the models a price holds for. The floor is that of every class of "
        "buyer",
        name=review.buyer.name,
    )
    notes = ("Nothing here changes a price: it is published when someone accepts it.",)
    then = lead_on("Proposed by model", "what each would leave where it holds")
    table = Table(columns, tuple(rows))
    return Sheet("Proposed prices", heading, (table,), notes=notes, then=then)


def _proposal(each: Proposed) -> Row:
    proposal = each.proposal
    cells: tuple[Cell, ...] = (
        each.words,
        each.models,
        each.market,
        proposal.published,
        proposal.wanted,
        proposal.moved,
        proposal.proposed,
        each.change,
        each.before,
        each.after,
        below(each.below),
        each.why,
    )
    return Row(cells, proposal.basis)


def by_model_sheet(review: Review) -> Sheet:
    """What each proposed price would leave on each model it holds for."""
    rows = tuple(
        Row(
            (
                each.words,
                str(review.pricing.models[on.model].model.name),
                each.market,
                each.proposal.proposed,
                None if on.before is None else on.before.first,
                on.after.first,
                on.after.least,
                on.after.breach,
            ),
            each.proposal.basis,
        )
        for each in review.proposals
        for on in each.proposal.covered
    )
    first, deepest = str(review.buyer.name), str(deepest_discount(review.pricing.terms).name)
    columns = (
        Column(WHAT, width=NAME),
        Column("Model", width=MODEL),
        Column("Market", width=14),
        Column("Proposed list price"),
        Column(phrase("Margin of net now, {first}", first=first)),
        Column(phrase("Margin of net then, {first}", first=first)),
        Column(phrase("Margin of net then, {deepest}", deepest=deepest)),
        Column("Below the floor then, 1 or 0"),
    )
    heading = phrase(
        "What the proposed prices would leave on each model they hold for, at "
        "{first} and at the class with the deepest discount, {deepest}",
        first=first,
        deepest=deepest,
    )
    then = lead_on("List prices", "the prices as published, to change")
    return Sheet("Proposed by model", heading, (Table(columns, rows),), then=then)
