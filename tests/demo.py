"""The demo catalogue as tests use it: read, costed and priced once a run."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.pricing.price import Priced, Pricing
from tests.catalogues.written import priced

DEMO = Path(__file__).resolve().parent.parent / "demo_catalog"


@cache
def demo() -> Pricing:
    return priced(DEMO)


@cache
def everything_priced() -> tuple[Priced, ...]:
    """Every boat and every option on every model that can have it."""
    models = demo().models.values()
    return tuple(item for model in models for item in (model.boat, *model.options.values()))


@cache
def assemblies() -> dict[str, Assembly]:
    """Every part, option and boat of the demo by its key."""
    parts = dict(demo().costing.parts)
    return parts | {item.assembly.recipe.key: item.assembly for item in everything_priced()}


@cache
def results() -> tuple[Figure, ...]:
    """What the outputs show of every boat and option: prices, costs, masses, hours, margins."""
    found: list[Figure] = []
    for item in everything_priced():
        made = item.assembly
        found += [item.list_price, item.recommended, made.cost, made.mass, made.all_hours]
        for sale in item.sales.values():
            found += [sale.contribution_fraction, sale.margin_fraction, sale.holds, sale.breach]
    return tuple(found)


@cache
def all_figures() -> tuple[Figure, ...]:
    """Every figure behind the results, arguments first."""
    return tuple(in_order(results()))
