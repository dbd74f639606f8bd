"""The workbook of the margin review: live over all but the costs, which are given."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quoter.analysis.findings import Findings
from quoter.analysis.margin_controls import margin_controls
from quoter.analysis.margin_review import Review, what_was_found
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.controls import master
from quoter.workbook.addresses import shown_in
from quoter.workbook.limits import LONGEST_TITLE
from quoter.workbook.paper import footer_of, on_paper_of
from quoter.workbook.sheets.margins import margin_front_sheet, market_sheet, worst_sheet
from quoter.workbook.sheets.margins_given import (
    by_model_sheet,
    list_price_sheet,
    proposal_sheet,
    sale_sheet,
    volume_cost_sheet,
)
from quoter.workbook.sheets.proof import Told, check_sheet, method_sheet
from quoter.workbook.sheets.rates import FILES, input_sheet
from quoter.workbook.table import MARK, Book, Sheet

MARGIN_REVIEW = "margin-review.xlsx"  # no id has a hyphen, so no model's book is called so
METHOD = (
    phrase(
        "List price: as published, or by the policy from the cost of this build, rounded; a "
        "package is the sum of its options less its saving, rounded down; a market of another "
        "currency has the home price exchanged and rounded by its own rule, unless it has a price "
        "of its own."
    ),
    phrase(
        "Net = list x (1 - discount); contribution = net x (1 - provisions) - variable cost; "
        "margin = net x (1 - provisions) - full cost; fractions are of the net price; below the "
        "floor where the fraction is less than the floor margin."
    ),
    phrase(
        "A year = sum over lines of units a year x what one leaves; units a year = boats a year x "
        "take rate. Margin lost = fraction at the last list - fraction now, in points."
    ),
    phrase(
        "Proposed price: as published where the wanted price is within the hold, else the wanted "
        "price rounded, no further away than the largest step."
    ),
)
# Files whose values stand on the sheet of inputs; list prices and volumes have sheets of their own.
INPUTS = {stem: title for stem, title in FILES.items() if stem not in ("price_book", "models")}
_NO_TITLE = str.maketrans(dict.fromkeys("[]:*?/\\", " "))
_KEPT_TITLES = (
    "Summary",
    "Worst",
    "Proposed prices",
    "Proposed by model",
    "List prices",
    "Volumes and costs",
    "Inputs",
    "Sales",
    "Workings",
    "Checks",
    "Method",
    "History",
)


def margin_book(findings: Findings) -> Book:
    """The workbook of the margin review, before it becomes a file."""
    review = findings.margins
    controls = margin_controls(review)
    proved = master(controls).named("control.all", "All checks hold")
    shown = [margin_front_sheet(review, what_was_found(review), proved), worst_sheet(review)]
    shown += _markets(review)
    if review.proposals:
        shown += [proposal_sheet(review), by_model_sheet(review)]
    checks, sales = check_sheet(controls, proved), sale_sheet(review)
    volumes = volume_cost_sheet(review)
    names = dict(_names(review))
    roots = [*shown_in([*shown, volumes, sales, checks]), *names.values()]
    shown += [list_price_sheet(review, roots), volumes, input_sheet(roots, INPUTS), sales]
    catalogue = review.pricing.catalogue
    company = catalogue.yard.company.name
    return Book(
        phrase("{company}: margin review", company=company),
        (*shown, checks, method_sheet(_about(review), roots, [Told(words) for words in METHOD])),
        footer_of(phrase("margin review"), catalogue),
        catalogue.currency,
        names,
        workings_before="Checks",
        reader=catalogue.reader,
        on_paper=on_paper_of(catalogue),
    )


def _about(review: Review) -> tuple[str, ...]:
    catalogue = review.pricing.catalogue
    last = (
        phrase(", compared with that of {last_list}", last_list=review.last_list)
        if review.last_list
        else ""
    )
    return (
        phrase(
            "Live over list prices, discounts, provisions, target and floor, rounding, exchange "
            "rates, boats a year and take rates. Costs of one are numbers of this build; the "
            "workbook of each model shows how they come about."
        ),
        phrase(
            "Prices as of {as_of}, newest price list of {price_list}{last}, workbook {mark}.",
            as_of=catalogue.as_of,
            price_list=catalogue.price_list,
            last=last,
            mark=MARK,
        ),
        phrase("Sources name the catalogue's file and line."),
    )


def _markets(review: Review) -> Iterator[Sheet]:
    markets = review.pricing.catalogue.yard.markets
    titles = sheet_titles((str(market.name) for market in markets), _KEPT_TITLES)
    for market, title in zip(markets, titles, strict=True):
        yield market_sheet(review, market, title)


def sheet_titles(names: Iterable[str], taken: Iterable[str]) -> list[str]:
    """Names as titles of sheets: short enough, of allowed letters, none twice.

    >>> sheet_titles(["Home", "home", "North/South"], ["Summary"])
    ['Home', 'home 2', 'North South']
    """
    used = {title.lower() for title in taken}
    found = []
    for name in names:
        whole = " ".join(name.translate(_NO_TITLE).split()).strip("' ") or "Market"
        title, number = whole[:LONGEST_TITLE].strip("' "), 2
        while title.lower() in used:
            mark = f" {number}"
            title, number = whole[: LONGEST_TITLE - len(mark)].strip("' ") + mark, number + 1
        used.add(title.lower())
        found.append(title)
    return found


def _names(review: Review) -> Iterator[tuple[str, Figure]]:
    """Defined names of key results: year.MARKET.BUYER.*, model.MODEL.* and below.MARKET.BUYER."""
    for (market, buyer), year in review.years.items():
        start = f"year.{market}.{buyer}"
        yield f"{start}.net", year.net
        yield f"{start}.margin", year.margin
        yield f"{start}.margin_fraction", year.fraction
    for model, year in review.models.items():
        yield f"model.{model}.net", year.net
        yield f"model.{model}.contribution", year.contribution
        yield f"model.{model}.margin", year.margin
    for (market, buyer), count in review.below.items():
        yield f"below.{market}.{buyer}", count
