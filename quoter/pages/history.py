"""The page of the past: how prices of materials, costs and margins moved. For the yard alone."""

from __future__ import annotations

from decimal import Decimal

from quoter.analysis.findings import Findings
from quoter.analysis.history import ModelHistory
from quoter.pages.environment import asset, office_environment, render
from quoter.pages.figured import decimal
from quoter.pages.history_views import (
    PRINTED,
    ClassView,
    LineView,
    MaterialView,
    class_views,
    line_view,
)
from quoter.pricing.price import Pricing

ASSETS = {"assets/history.css": "internal/history.css"}


def history_page(findings: Findings) -> dict[str, bytes]:
    """Path below internal/review/ -> content: history.html and its style.

    The review's own pages bring the rest of what it needs.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing, history = findings.pricing, findings.history
    catalogue = pricing.catalogue
    floor = decimal(pricing.terms.floor)
    until = catalogue.as_of
    classes = class_views(history, catalogue.records.suppliers, catalogue.currency, until)
    models = [(model, _lines(model, floor, pricing)) for model in history.models.values()]
    page = render(
        office_environment(catalogue),
        "internal/history.html",
        root="",
        catalogue=catalogue,
        floor=floor,
        buyer=str(pricing.terms.buyers[0].name),
        days=history.days,
        left_out=history.left_out,
        printed=PRINTED,
        classes=classes,
        mover=_mover(classes),
        models=models,
        lines=[line for _, lines in models for line in lines],
    )
    return {"history.html": page} | {path: asset(source) for path, source in ASSETS.items()}


def _lines(model: ModelHistory, floor: Decimal, pricing: Pricing) -> list[LineView]:
    """A model's boat, then what can be chosen, what is below the floor first."""
    until = pricing.catalogue.as_of
    priced = pricing.models[model.id]
    boat = line_view(model.boat, floor, until, page=False, small=True)
    extras = [
        line_view(model.options[id], floor, until, page=id in priced.options, small=True)
        for id in model.extras
    ]
    extras.sort(key=lambda line: not line.below)
    return [boat, *extras]


def _mover(classes: list[ClassView]) -> MaterialView | None:
    """The material whose landed price moved most."""
    first = classes[0].moved if classes else ()
    return first[0] if first and first[0].landed.change else None
