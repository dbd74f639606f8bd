"""The first sheet of the margin review: what it found, the year, and where everything else is."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.analysis.margin_review import NONE, Planned, Review
from quoter.analysis.margins import Year
from quoter.catalogue.volumes import boats_planned
from quoter.figures import Figure, total
from quoter.workbook.sheets.proof import CAUTIONS
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Cell, Chart, Column, Contents, Flag, Row, Sheet, Table, Text

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
    blocks: list[Text | Table | Contents | Chart] = [
        Text(("What this build found",), "heading"),
        Text(tuple(found)),
        _proof(proved),
    ]
    if review.models:
        blocks.append(_models(review))
    blocks += [_everywhere(review), _terms(review)]
    if review.models:
        blocks.append(_chart(review))
    blocks += [
        Text(("How to read this",), "heading"),
        Text(HOW_TO_READ if review.years else HOW_TO_READ[:2]),
        Text(CAUTIONS, "caution"),
        Contents(),
    ]
    return Sheet(
        "Summary",
        "Margin review: what every price leaves now, where it is below the floor, and the year",
        tuple(blocks),
    )


def _proof(proved: Figure) -> Table:
    columns = (Column("This workbook", width=34), Column("Result"))
    return Table(columns, (Row(("All checks", Flag(proved))),), name="proof")


def _models(review: Review) -> Table:
    records = review.pricing.catalogue.records
    rows, boats = [], []
    for id, planned in review.models.items():
        year, made = planned.year, boats_planned(records, id)
        boats += [] if made is None else [made]
        name = str(review.pricing.models[id].model.name)
        rows.append(Row((name, made, *_year(review, year, planned)), sources_of(year.net)))
    whole = review.years[review.first]
    all_boats = total(boats, NONE).named("review.boats", "boats a year")
    rows.append(Row(("All models", all_boats, *_year(review, whole.year, whole)), kind="total"))
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
    title = f"The planned year, sold to {review.buyer.name} in {review.home.name}"
    return Table(tuple(columns), tuple(rows), title=title, name="models")


def _year(review: Review, year: Year, planned: Planned) -> list[Cell]:
    cells: list[Cell] = [year.net, year.contribution, year.margin, year.fraction]
    return [*cells, planned.last] if review.last_list else cells


def _chart(review: Review) -> Chart:
    told, shown = [], []
    for id, planned in review.models.items():
        shown += [f.value for f in (planned.year.fraction, planned.last) if f is not None]
        now = f"{planned.year.fraction.value * 100:.1f} %"
        then = (
            "" if planned.last is None else f", at the last list {planned.last.value * 100:.1f} %"
        )
        told.append(f"{review.pricing.models[id].model.name} {now}{then}")
    values: tuple[str, ...] = ("Margin of net",)
    if review.last_list:
        values += ("Margin of net at the last list",)
    beside = " now and at the last list" if review.last_list else ""
    return Chart(
        f"Margin of the planned year by model{beside}",
        "models",
        "Model",
        values,
        "Fraction of the net price",
        "Model",
        f"Bars: each model's margin of the net price{beside}. {'; '.join(told)}",
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
            planned = review.years.get(place)
            if review.years:
                year = None if planned is None else planned.year
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
    found = {f"Discount, {buyer.name}": buyer.discount for buyer in terms.buyers}
    found["Provisions in all, of the net price"] = terms.provisions
    found["Target margin, of the net price"] = terms.target
    found["Floor margin, of the net price"] = terms.floor
    rows = tuple(Row((what, figure), sources_of(figure)) for what, figure in found.items())
    return Table((Column("Terms of sale", width=34), Column("In force")), rows, name="terms")
