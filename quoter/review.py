"""The yard's internal review: every page of it, and which stand beside each other."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.analysis.bridge import bridge_of
from quoter.analysis.plan import plan_of
from quoter.pages.changes import change_page
from quoter.pages.costs import cost_page
from quoter.pages.environment import office_locale
from quoter.pages.history import history_page
from quoter.pages.margins import margin_page
from quoter.pages.questions import question_pages
from quoter.pages.surcharges import surcharge_pages
from quoter.pricing.price import Pricing
from quoter.problems import Problem

FIRST = ("index.html", "Margin review")
ALWAYS = (
    ("costs.html", "Costs and prices"),
    ("plan.html", "The planned year"),
    ("history.html", "Prices and margins over time"),
)
CHANGED = ("change.html", "What moved since the last price list")
CLAUSES = ("surcharge.html", "Surcharge clauses")
PAPERS = ("../papers/index.html", "Shop papers")


def review_files(
    pricing: Pricing, before: Pricing | None, warnings: Sequence[Problem]
) -> dict[str, bytes]:
    """Path below internal/review/ -> content.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
        warnings: what the catalogue's reading and costing found worth a look
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    found: dict[str, bytes] = {}
    if before is not None:
        found |= {"change.html": _change(before, pricing)}
    found |= surcharge_pages(pricing)
    beside = [page for page in (CHANGED, CLAUSES) if page[0] in found]
    others = [*ALWAYS, *beside, PAPERS]
    found |= margin_page(pricing, before, warnings, others)
    found |= cost_page(pricing, [FIRST, *others[1:]])
    found |= question_pages(pricing, plan_of(pricing))
    return found | history_page(pricing)


def _change(before: Pricing, pricing: Pricing) -> bytes:
    catalogue = pricing.catalogue
    days = str(before.catalogue.as_of), str(catalogue.as_of)
    bridge = bridge_of(before, pricing, *days)
    company, market = catalogue.yard.company, catalogue.yard.markets[0]
    name = f"{company.name}{' (a what-if)' if catalogue.settings else ''}"
    return change_page(bridge, office_locale(market), name, catalogue.settings)
