"""The margin review: what every price leaves, worst first, and what if something moved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from quoter.actuals.left import Left
from quoter.analysis.findings import Findings
from quoter.analysis.margin_review import Proposed, Review
from quoter.analysis.margins import Key, MarginLine, most_eroded, worst
from quoter.analysis.what_if import WhatIf
from quoter.figures import constant
from quoter.pages.environment import assets, office_environment, office_locale, render
from quoter.pages.margin_script import (
    LARGEST_MOVE,
    LEAST_MOVE,
    example,
    levers_of,
    margin_data,
    market_functions,
)
from quoter.pages.script import HELPERS, script_function
from quoter.phrases import phrase
from quoter.pricing.price import Pricing, recommend
from quoter.pricing.sale import sales
from quoter.problems import Problem

ASSETS = {
    "assets/margins.css": "internal/margins.css",
    "assets/margins.js": "internal/margins.js",
    "assets/margin-command.js": "internal/margin-command.js",
}
LAST_LEFT = ("left", phrase("Last ones left"), True)  # where anything was booked
COLUMNS = (
    ("model", "Model", False),
    ("name", "Boat or option", False),
    ("list_price", "List price", True),
    ("cost", "Cost", True),
    ("moved", phrase("Cost moved"), True),
    ("margin", "Margin", True),
    ("margin_fraction", "of net", True),
    LAST_LEFT,
    ("floor", "Floor", False),
    ("last", "At the last list", True),
    ("gained", phrase("Since then, points"), True),
    ("yearly", "Margin a year", True),
    ("units", "Units a year", True),
    ("contribution", phrase("Contri\N{SOFT HYPHEN}bution"), True),
    ("contribution_fraction", "of net", True),
    ("basis", "Basis", False),
)


def margin_page(
    findings: Findings,
    warnings: Sequence[Problem],
    pages: Sequence[tuple[str, str]],
    left: Mapping[Key, Left] | None = None,
) -> dict[str, bytes]:
    """Path below internal/review/ -> content: the review's first page and what it needs.

    Args:
        findings: what is asked of the finished costing
        warnings: what the catalogue's reading and costing found worth a look
        pages: the other pages, each by address and name
        left: what the last jobs left, where anything was booked
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing, movable, review = findings.pricing, findings.what_if, findings.margins
    locale = office_locale(review.home)
    levers = levers_of(pricing, movable, locale)
    page = render(
        office_environment(pricing.catalogue),
        "internal/margins.html",
        root="",
        pages=pages,
        warnings=warnings,
        catalogue=pricing.catalogue,
        terms=pricing.terms,
        review=review,
        models=[(id, str(model.model.name)) for id, model in pricing.models.items()],
        proposals=_proposals(review),
        **_tables(review, left),
        factors=[lever for lever in levers if lever.kind == "level"],
        rises=[lever for lever in levers if lever.kind == "rise"],
        exactness=exactness(movable, pricing.catalogue.currency),
        example=example(pricing, movable),
    )
    files = {
        "index.html": page,
        "assets/margins-data.js": margin_data(findings, levers, locale),
        "assets/formulas.js": formulas(pricing),
    }
    return files | assets(ASSETS, findings.pricing.catalogue.paper)


def _tables(review: Review, left: Mapping[Key, Left] | None) -> dict[str, Any]:
    """The lines of the tables, as sold at home to the first class of buyer."""
    lines, buyer = review.at_home, str(review.buyer.id)
    return {
        "columns": [one for one in COLUMNS if left is not None or one is not LAST_LEFT],
        "left": left,
        "lines": lines,
        "numbers": {line.key: number for number, line in enumerate(lines)},
        "links": {line.key: _link(review.pricing, line) for line in lines},
        "worst": worst(lines, buyer),
        "eroded": most_eroded(lines, buyer),
        "below_floor": sum(bool(line.below) for line in lines),
        "planned": any(line.units is not None and line.units.value for line in lines),
    }


def _link(pricing: Pricing, line: MarginLine) -> str:
    """The page of an option; the boat's and packages' numbers stand on the page of costs."""
    if line.option in pricing.models[line.model].options:
        return f"{line.model}/{line.option}.html"
    return f"costs.html#model-{line.model}"


def _proposals(review: Review) -> list[Proposed]:
    """Every price that the policy would publish anew or for the first time."""
    found = [each for each in review.proposals if each.proposal.changes]
    return sorted(found, key=lambda each: each.proposal.published is None)


def exactness(movable: WhatIf, currency: str) -> str:
    """Where the sliders' costs are exact, and what they leave out."""
    tried = phrase(
        "from {least_move} % to +{largest_move} %, alone and all at once",
        least_move=LEAST_MOVE,
        largest_move=LARGEST_MOVE,
    )
    told = phrase(
        "Tried {tried}, these costs are those of a new calculation to the last digit.", tried=tried
    )
    if not movable.exact:
        told = phrase(
            "These costs are not quite in proportion to the sliders: tried {tried}, they "
            "are up to {error:.2g} {currency} off.",
            tried=tried,
            error=movable.error,
            currency=currency,
        )
    return phrase(
        "{told} Published prices stay, each in the currency it is published in. What "
        "has no published price follows its cost, and what is exchanged, or put "
        "together as a package, follows that; all are rounded anew, as a build "
        "rounds them. What boats state as an amount of money stays, and so do hours, "
        "quantities, overhead budgets and volumes.",
        told=told,
    )


def formulas(pricing: Pricing) -> bytes:
    """What a sale leaves, and how prices come about, as functions of the page's script.

    They are written from the figures of the very formulas that every other output has.
    """
    cost = constant(50.0, pricing.catalogue.currency)
    price = recommend(
        pricing.catalogue, pricing.terms, cost, "follows", phrase("what follows its cost")
    )
    of_markets, markets = market_functions(pricing)
    written = [
        HELPERS,
        _sale_function(pricing),
        script_function("recommended", {"cost": cost}, {"price": price}),
        *of_markets,
        phrase("const markets = {markets};\n", markets=markets),
        "window.quoterFormulas = {\n"
        "  sale: sale, recommended: recommended, packaged: packaged, markets: markets\n};\n",
    ]
    body = "\n".join(written)
    return f'(function () {{\n"use strict";\n{body}}}());\n'.encode()


def _sale_function(pricing: Pricing) -> str:
    terms, buyer, currency = pricing.terms, pricing.terms.buyers[0], pricing.catalogue.currency
    price, cost, variable = (constant(amount, currency) for amount in (100.0, 50.0, 40.0))
    sale = sales(replace(terms, buyers=(buyer,)), price, cost, variable, "sale", "sale")
    left = sale[buyer.id]
    inputs = {
        "list_price": price,
        "discount": buyer.discount,
        "provisions": terms.provisions,
        "floor": terms.floor,
        "cost": cost,
        "variable": variable,
    }
    outputs = {
        "net": left.net,
        "contribution": left.contribution,
        "contribution_fraction": left.contribution_fraction,
        "margin": left.margin,
        "margin_fraction": left.margin_fraction,
        "breach": left.breach,
    }
    return script_function("sale", inputs, outputs)
