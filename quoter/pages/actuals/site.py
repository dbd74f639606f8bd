"""Which pages there are about what it really took, and how each is filled."""

from __future__ import annotations

from typing import Any

from jinja2 import Environment

from quoter.actuals.account import Account
from quoter.actuals.compared import KINDS
from quoter.actuals.estimates import BASIS, DRIVER, PREPARER, STATION
from quoter.pages.actuals.doubts import rows_words
from quoter.pages.actuals.jobs import job_context, jobs_of
from quoter.pages.actuals.months import month_context, months_of, trends_of
from quoter.pages.actuals.names import Names
from quoter.pages.actuals.operations import operation_context, operations_of
from quoter.pages.environment import assets, office_environment, office_locale, render
from quoter.phrases import phrase

LEANING = {
    STATION: phrase("station"),
    DRIVER: phrase("kind of time"),
    BASIS: phrase("where the time is from"),
    PREPARER: phrase("who prepared the quote"),
}
ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/review.css": "internal/review.css",
    "assets/actuals.css": "internal/actuals/actuals.css",
}


def actuals_files(account: Account) -> dict[str, bytes]:
    """Path below internal/actuals/ -> content: a page of every month, job and operation with data.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = account.actuals.pricing.catalogue
    names = Names(account, office_locale(catalogue.yard.markets[0]))
    environment = office_environment(catalogue)
    months, jobs = months_of(account, names), jobs_of(account, names)
    operations = operations_of(account, names)
    shared: dict[str, Any] = {
        "account": account,
        "catalogue": catalogue,
        "names": names,
        "words": KINDS,
        "rows_words": rows_words,
        "months": months,
        "jobs": jobs,
        "operations": operations,
    }
    first = {
        "trends": trends_of(months),
        "newest": months[0] if months else None,
        "causes": months[0].told.causes() if months else (),
        "off": [view for view in operations if view.off],
        "others": [view for view in operations if not view.off],
        "biases": account.estimates.biases,
        "leaning": LEANING,
    }
    files = {"index.html": _page(environment, "index", "", shared | first)}
    for month in months:
        told = month_context(month)
        files[names.month_page(month.id)] = _page(environment, "month", "", shared | told)
    for view in jobs:
        files[view.href] = _page(environment, "job", "../", shared | job_context(view))
    for each in operations:
        told = operation_context(each)
        files[each.href] = _page(environment, "operation", "../", shared | told)
    return files | assets(ASSETS, catalogue.paper)


def _page(environment: Environment, name: str, root: str, context: dict[str, Any]) -> bytes:
    return render(environment, f"internal/actuals/{name}.html", root=root, **context)
