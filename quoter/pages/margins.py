"""The margin review: what every price leaves, worst first, and what if something moved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from quoter.analysis.margins import Line, margin_lines, most_eroded, worst, year_of
from quoter.analysis.what_if import WhatIf, what_if_of
from quoter.figures import constant, plain_number
from quoter.pages.environment import asset, office_locale, page_environment, render
from quoter.pages.margin_command import example
from quoter.pages.margin_data import LARGEST_MOVE, LEAST_MOVE, levers_of, margin_data
from quoter.pages.margin_prices import market_functions
from quoter.pages.margin_views import everywhere, line_rows, proposal_rows, year_rows
from quoter.pages.script import HELPERS, script_function
from quoter.pricing.price import Pricing, recommend
from quoter.pricing.sale import Terms, sales
from quoter.problems import Problem

ASSETS = {
    "assets/margins.css": "internal/margins.css",
    "assets/margins.js": "internal/margins.js",
    "assets/margin-command.js": "internal/margin-command.js",
}
COLUMNS = (
    ("model", "Model", False),
    ("name", "Boat or option", False),
    ("list_price", "List price", True),
    ("cost", "Cost", True),
    ("moved", "Cost moved", True),
    ("margin", "Margin", True),
    ("margin_fraction", "of net", True),
    ("floor", "Floor", False),
    ("last", "At the last list", True),
    ("gained", "Since then, points", True),
    ("yearly", "Margin a year", True),
    ("units", "Units a year", True),
    ("contribution", "Contri\N{SOFT HYPHEN}bution", True),
    ("contribution_fraction", "of net", True),
    ("basis", "Basis", False),
)


@dataclass(frozen=True, slots=True)
class Buyer:
    """A class of buyer and its discount."""

    id: str
    name: str
    discount: Decimal


def margin_page(
    pricing: Pricing,
    before: Pricing | None,
    warnings: Sequence[Problem],
    pages: Sequence[tuple[str, str]],
) -> dict[str, bytes]:
    """Path below internal/review/ -> content: the review's first page and what it needs.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
        warnings: what the catalogue's reading and costing found worth a look
        pages: the other pages, each by address and name
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    home = pricing.catalogue.yard.markets[0]
    every, movable = margin_lines(pricing, before), what_if_of(pricing)
    locale = office_locale(home)
    levers = levers_of(pricing, movable, locale)
    page = render(
        page_environment(locale, pricing.catalogue.currency),
        "internal/margins.html",
        root="",
        pages=pages,
        warnings=warnings,
        **_facts(pricing, before),
        **_tables(pricing, every),
        factors=[lever for lever in levers if lever.kind == "level"],
        rises=[lever for lever in levers if lever.kind == "rise"],
        exactness=exactness(movable, pricing.catalogue.currency),
        example=example(pricing, movable),
    )
    data = margin_data(pricing, every, movable, levers, str(locale).replace("_", "-"))
    files = {
        "index.html": page,
        "assets/margins-data.js": data,
        "assets/formulas.js": formulas(pricing),
    }
    return files | {path: asset(source) for path, source in ASSETS.items()}


def _facts(pricing: Pricing, before: Pricing | None) -> dict[str, Any]:
    """What the page says of the catalogue and its terms."""
    catalogue, terms = pricing.catalogue, pricing.terms
    buyer, home = terms.buyers[0], catalogue.yard.markets[0]
    return {
        "catalogue": catalogue,
        "buyers": [Buyer(str(b.id), str(b.name), plain_number(b.discount)) for b in terms.buyers],
        "markets": [(str(m.id), str(m.name)) for m in catalogue.yard.markets],
        "models": [(id, str(model.model.name)) for id, model in pricing.models.items()],
        "sold": f"; {buyer.name}, {home.name}",
        "target": plain_number(terms.target),
        "floor": plain_number(terms.floor),
        "provisions": plain_number(terms.provisions),
        "last_year": _last_year(before),
        "repricing": catalogue.yard.policy.repricing is not None,
        "proposals": proposal_rows(pricing),
    }


def _tables(pricing: Pricing, every: Sequence[Line]) -> dict[str, Any]:
    """The rows of the tables, as sold at home to the first class of buyer."""
    home, buyer = pricing.catalogue.yard.markets[0].id, str(pricing.terms.buyers[0].id)
    lines = [line for line in every if line.market == home]
    rows = line_rows(pricing, lines, buyer)
    at = {id(line): row for line, row in zip(lines, rows, strict=True)}
    return {
        "columns": COLUMNS,
        "rows": rows,
        "worst": [at[id(line)] for line in worst(lines, buyer)],
        "eroded": [at[id(line)] for line in most_eroded(lines, buyer)],
        "below_floor": sum(line.breach for line in lines),
        "years": year_rows(pricing, lines, buyer),
        "everywhere": everywhere(pricing, every),
        "planned": any(line.units is not None and line.units.value for line in lines),
    }


def exactness(movable: WhatIf, currency: str) -> str:
    """Where the sliders' costs are exact, and what they leave out."""
    tried = f"from {LEAST_MOVE} % to +{LARGEST_MOVE} %, alone and all at once"
    told = f"Tried {tried}, these costs are those of a new calculation to the last digit. "
    if not movable.exact:
        told = (
            f"These costs are not quite in proportion to the sliders: tried {tried}, they are up "
            f"to {movable.error:.2g} {currency} off. "
        )
    return (
        f"{told}Published prices stay, each in the currency it is published in. What has no "
        "published price follows its cost, and what is exchanged, or put together as a package, "
        "follows that; all are rounded anew, as a build rounds them. What boats state as an amount "
        "of money stays, and so do hours, quantities, overhead budgets and volumes."
    )


def _last_year(before: Pricing | None) -> Decimal | None:
    """What this year's plan left of its net price at the last list's costs and prices."""
    if before is None:
        return None
    home, buyer = before.catalogue.yard.markets[0], before.terms.buyers[0]
    lines = [line for line in margin_lines(before) if line.market == home.id]
    year = year_of(lines, str(buyer.id), "year", "All models")
    return None if year is None else plain_number(year.fraction)


def formulas(pricing: Pricing) -> bytes:
    """What a sale leaves, and how prices come about, as functions of the page's script.

    They are written from the figures of the very formulas that every other output has.
    """
    cost = constant(50.0, pricing.catalogue.currency)
    price = recommend(pricing.catalogue, pricing.terms, cost, "follows", "what follows its cost")
    of_markets, markets = market_functions(pricing)
    written = [
        HELPERS,
        _sale_function(pricing),
        script_function("recommended", {"cost": cost}, {"price": price}),
        *of_markets,
        f"const markets = {markets};\n",
        "window.quoterFormulas = {\n"
        "  sale: sale, recommended: recommended, packaged: packaged, markets: markets\n};\n",
    ]
    body = "\n".join(written)
    return f'(function () {{\n"use strict";\n{body}}}());\n'.encode()


def _sale_function(pricing: Pricing) -> str:
    terms: Terms = pricing.terms
    buyer, currency = terms.buyers[0], pricing.catalogue.currency
    price, cost, variable = (constant(amount, currency) for amount in (100.0, 50.0, 40.0))
    sale = sales(replace(terms, buyers=(buyer,)), price, cost, variable, "sale", "sale")
    left = sale[str(buyer.id)]
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
