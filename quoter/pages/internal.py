"""The yard's own review of prices and margins, for its eyes only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.costing.elements import GROUPS, group_total
from quoter.figures import Figure, constant
from quoter.pages.environment import asset, locale_of, page_environment, render
from quoter.pages.money import half_up
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.pricing.sale import Sale
from quoter.problems import Problem

ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/review.css": "internal/review.css",
}
BAR_WIDTH = Decimal(100)


@dataclass(frozen=True, slots=True)
class SaleRow:
    """What a sale to one class of buyer leaves; `breach` where that is below the floor."""

    buyer: str
    net: Decimal
    contribution: Decimal
    contribution_fraction: Decimal
    margin: Decimal
    margin_fraction: Decimal
    breach: bool


@dataclass(frozen=True, slots=True)
class Bar:
    """A piece of a stacked bar: where it starts and how wide it is, in hundredths of the whole."""

    group: str
    start: Decimal
    width: Decimal


@dataclass(frozen=True, slots=True)
class ReviewRow:
    """A boat or an option: prices, costs by group, mass [kg], hours and sales by buyer.

    A standard option has no sales of its own: it is sold within the boat.
    """

    id: str
    name: str
    basis: str
    standard: bool
    list_price: Decimal
    recommended: Decimal
    cost: Decimal
    variable: Decimal
    mass: Decimal
    hours: Decimal
    groups: Mapping[str, Decimal]
    bars: tuple[Bar, ...]
    sales: tuple[SaleRow, ...]

    @property
    def breach(self) -> bool:
        """Whether some class of buyer leaves less than the floor."""
        return any(sale.breach for sale in self.sales)


@dataclass(frozen=True, slots=True)
class ModelReview:
    """A model: its boat, then its options, those that breach the floor first."""

    id: str
    name: str
    boat: ReviewRow
    options: tuple[ReviewRow, ...]

    @property
    def rows(self) -> tuple[ReviewRow, ...]:
        """The boat and its options."""
        return (self.boat, *self.options)


def review_pages(pricing: Pricing, warnings: Sequence[Problem]) -> dict[str, bytes]:
    """Path below internal/review/ -> content.

    Args:
        pricing: the finished costing with prices
        warnings: what the catalogue's reading and costing found worth a look
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = pricing.catalogue
    environment = page_environment(locale_of(catalogue.yard.markets[0]), catalogue.currency)
    page = render(
        environment,
        "internal/review.html",
        root="",
        catalogue=catalogue,
        buyers=[str(buyer.name) for buyer in pricing.terms.buyers],
        discounts=[decimal(buyer.discount) for buyer in pricing.terms.buyers],
        target=decimal(pricing.terms.target),
        floor=decimal(pricing.terms.floor),
        provisions=decimal(pricing.terms.provisions),
        groups={group: words for group, (words, _) in GROUPS.items()},
        models=review(pricing),
        warnings=warnings,
    )
    return {"index.html": page} | {path: asset(source) for path, source in ASSETS.items()}


def review(pricing: Pricing) -> tuple[ModelReview, ...]:
    """Every model with its boat and options, in the catalogue's order."""
    nothing = constant(0.0, pricing.catalogue.currency)
    costs = [_positive(model.boat, nothing) for model in pricing.models.values()]
    largest = max(costs, default=Decimal(0))
    return tuple(_model(model, nothing, largest) for model in pricing.models.values())


def decimal(figure: Figure) -> Decimal:
    """A figure's value with every digit it has."""
    return Decimal(repr(figure.value))


def _model(model: PricedModel, nothing: Figure, largest_boat: Decimal) -> ModelReview:
    largest = max((_positive(item, nothing) for item in model.options.values()), default=Decimal(0))
    options = [
        _row(id, item, id not in model.extras, nothing, largest)
        for id, item in model.options.items()
    ]
    options.sort(key=lambda row: not row.breach)
    boat = _row("boat", model.boat, False, nothing, largest_boat)
    return ModelReview(str(model.model.id), str(model.model.name), boat, tuple(options))


def _row(id: str, item: Priced, standard: bool, nothing: Figure, largest: Decimal) -> ReviewRow:
    assembly, groups = item.assembly, _groups(item, nothing)
    return ReviewRow(
        id=id,
        name=assembly.name,
        basis=item.basis,
        standard=standard,
        list_price=decimal(item.list_price),
        recommended=decimal(item.recommended),
        cost=decimal(assembly.cost),
        variable=decimal(assembly.variable),
        mass=decimal(assembly.mass),
        hours=decimal(assembly.all_hours),
        groups=groups,
        bars=tuple(_bars(groups, largest)),
        sales=() if standard else tuple(_sale(sale) for sale in item.sales.values()),
    )


def _sale(sale: Sale) -> SaleRow:
    return SaleRow(
        buyer=str(sale.buyer.name),
        net=decimal(sale.net),
        contribution=decimal(sale.contribution),
        contribution_fraction=decimal(sale.contribution_fraction),
        margin=decimal(sale.margin),
        margin_fraction=decimal(sale.margin_fraction),
        breach=bool(sale.breach.value),
    )


def _groups(item: Priced, nothing: Figure) -> dict[str, Decimal]:
    elements = item.assembly.elements
    return {group: decimal(group_total(elements, [group], nothing)) for group in GROUPS}


def _positive(item: Priced, nothing: Figure) -> Decimal:
    """What the bar of a cost is long: its groups without those a credit makes negative."""
    return sum((max(cost, Decimal(0)) for cost in _groups(item, nothing).values()), Decimal(0))


def _bars(groups: Mapping[str, Decimal], largest: Decimal) -> Iterator[Bar]:
    """The positive groups end to end, the longest bar of the table being the whole width."""
    start = Decimal(0)
    for group, cost in groups.items():
        if cost > 0:
            width = cost / largest * BAR_WIDTH
            yield Bar(group, half_up(start, 3), half_up(width, 3))
            start += width
