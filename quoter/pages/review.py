"""The yard's internal review: every page of it, and which stand beside each other."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.actuals.compared import Actuals
from quoter.actuals.left import left_by_last
from quoter.analysis.bridge import Bridge
from quoter.analysis.findings import Findings
from quoter.pages.changes import change_page
from quoter.pages.costs import cost_page
from quoter.pages.environment import office_locale
from quoter.pages.history import history_page
from quoter.pages.margins import margin_page
from quoter.pages.questions import plan_page
from quoter.pages.surcharges import surcharge_pages
from quoter.phrases import phrase
from quoter.pricing.price import Pricing
from quoter.problems import Problem

FIRST = ("index.html", "Margin review")
ALWAYS = (
    ("costs.html", "Costs and prices"),
    ("plan.html", "The planned year"),
    ("history.html", "Prices and margins over time"),
)
CHANGED = ("change.html", phrase("What moved since the last price list"))
CLAUSES = ("surcharge.html", "Surcharge clauses")
ACTUALS = ("../actuals/index.html", phrase("What it really took"))
PAPERS = ("../papers/index.html", phrase("Shop papers"))


def review_files(
    findings: Findings, warnings: Sequence[Problem], actuals: Actuals | None = None
) -> dict[str, bytes]:
    """Path below internal/review/ -> content, without the pages of single options.

    Args:
        findings: what is asked of the finished costing
        warnings: what the catalogue's reading and costing found worth a look
        actuals: what was booked, held against standard; where nothing was, no page tells of it
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing = findings.pricing
    found: dict[str, bytes] = {}
    if findings.bridge is not None:
        found |= {"change.html": _change(pricing, findings.bridge)}
    found |= surcharge_pages(pricing)
    beside = [page for page in (CHANGED, CLAUSES) if page[0] in found]
    took, left = [], None
    if actuals is not None:
        review = findings.margins
        took, left = [ACTUALS], left_by_last(actuals, review.at_home, str(review.buyer.id))
    others = [*ALWAYS, *beside, *took, PAPERS]
    found |= margin_page(findings, warnings, others, left)
    found |= cost_page(pricing, [FIRST, *others[1:]])
    found |= plan_page(findings)
    return found | history_page(findings)


def _change(pricing: Pricing, bridge: Bridge) -> bytes:
    catalogue = pricing.catalogue
    company, market = catalogue.yard.company, catalogue.yard.markets[0]
    name = f"{company.name}{' (a what-if)' if catalogue.settings else ''}"
    return change_page(bridge, office_locale(market), name, catalogue.settings, catalogue.paper)
