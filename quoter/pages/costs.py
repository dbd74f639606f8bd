"""What each boat and option costs, by element, and what its price leaves. For the yard's eyes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.costing.elements import SHOWN
from quoter.figures import money_in, plain_number
from quoter.pages.environment import asset, office_locale, page_environment, render
from quoter.pages.money import half_up
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.pricing.sale import Sale

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


def cost_page(pricing: Pricing, pages: Sequence[tuple[str, str]]) -> dict[str, bytes]:
    """Path below internal/review/ -> content.

    Args:
        pricing: the finished costing with prices
        pages: the other pages of the review, each by address and name
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = pricing.catalogue
    environment = page_environment(office_locale(catalogue.yard.markets[0]), catalogue.currency)
    page = render(
        environment,
        "internal/costs.html",
        root="",
        catalogue=catalogue,
        buyers=[str(buyer.name) for buyer in pricing.terms.buyers],
        discounts=[plain_number(buyer.discount) for buyer in pricing.terms.buyers],
        target=plain_number(pricing.terms.target),
        floor=plain_number(pricing.terms.floor),
        provisions=plain_number(pricing.terms.provisions),
        groups=SHOWN,
        models=review(pricing),
        pages=pages,
    )
    return {"costs.html": page} | {path: asset(source) for path, source in ASSETS.items()}


def review(pricing: Pricing) -> tuple[ModelReview, ...]:
    """Every model with its boat and options, in the catalogue's order."""
    home = pricing.catalogue.currency
    largest = _longest((model.boat for model in pricing.models.values()), home)
    return tuple(_model(model, largest, home) for model in pricing.models.values())


def _model(model: PricedModel, largest_boat: Decimal, home: str) -> ModelReview:
    largest = _longest(model.options.values(), home)
    options = [
        _row(id, item, id not in model.extras, largest, home) for id, item in model.options.items()
    ]
    options.sort(key=lambda row: not row.breach)
    boat = _row("boat", model.boat, False, largest_boat, home)
    return ModelReview(str(model.model.id), str(model.model.name), boat, tuple(options))


def _row(id: str, item: Priced, standard: bool, largest: Decimal, home: str) -> ReviewRow:
    assembly, groups = item.assembly, _groups(item, home)
    return ReviewRow(
        id=id,
        name=assembly.name,
        basis=item.basis,
        standard=standard,
        list_price=money_in(item.list_price, home),
        recommended=money_in(item.recommended, home),
        cost=money_in(assembly.cost, home),
        variable=money_in(assembly.variable, home),
        mass=plain_number(assembly.mass),
        hours=plain_number(assembly.all_hours),
        groups=groups,
        bars=tuple(_bars(groups, largest)),
        sales=() if standard else tuple(_sale(sale, home) for sale in item.sales.values()),
    )


def _sale(sale: Sale, home: str) -> SaleRow:
    return SaleRow(
        buyer=str(sale.buyer.name),
        net=money_in(sale.net, home),
        contribution=money_in(sale.contribution, home),
        contribution_fraction=plain_number(sale.contribution_fraction),
        margin=money_in(sale.margin, home),
        margin_fraction=plain_number(sale.margin_fraction),
        breach=bool(sale.breach.value),
    )


def _groups(item: Priced, home: str) -> dict[str, Decimal]:
    found = item.assembly.groups
    nothing = Decimal(0)
    return {g: money_in(found[g], home) if g in found else nothing for g in SHOWN}


def _longest(items: Iterable[Priced], home: str) -> Decimal:
    """What the longest bar stands for: the groups of a cost but those a credit makes negative."""
    sums = (sum(cost for cost in _groups(item, home).values() if cost > 0) for item in items)
    return max((Decimal(cost) for cost in sums), default=Decimal(0))


def _bars(groups: Mapping[str, Decimal], largest: Decimal) -> Iterator[Bar]:
    """The positive groups end to end, the longest bar of the table being the whole width."""
    start = Decimal(0)
    for group, cost in groups.items():
        if cost > 0:
            width = cost / largest * BAR_WIDTH
            yield Bar(group, half_up(start, 3), half_up(width, 3))
            start += width
