"""What each boat and option costs, by element, and what its price leaves. For the yard's eyes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.analysis.stated_share import StatedShare, stated_of
from quoter.catalogue.options import Model
from quoter.costing.elements import SHOWN, shown_groups
from quoter.figures.exact import half_up
from quoter.pages.charts import BAR_WIDTH, Span
from quoter.pages.environment import assets, office_environment, render
from quoter.pages.figured import decimal
from quoter.pricing.price import Priced, Pricing
from quoter.pricing.sale import Sale

ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/review.css": "internal/review.css",
}


@dataclass(frozen=True, slots=True)
class CostRow:
    """A boat (id "boat") or an option, its costs by group and the bar that shows them; of a boat,
    how much of it is stated.

    A standard option has no sales of its own: it is sold within the boat.
    """

    id: str
    item: Priced
    standard: bool
    groups: Mapping[str, Decimal]
    bars: tuple[Span, ...]
    stated: Sequence[StatedShare] = ()

    @property
    def sales(self) -> Sequence[Sale]:
        """What its price leaves, by class of buyer."""
        return () if self.standard else tuple(self.item.sales.values())

    @property
    def breach(self) -> bool:
        """Whether some class of buyer leaves less than the floor."""
        return any(sale.breach.value for sale in self.sales)


def cost_page(pricing: Pricing, pages: Sequence[tuple[str, str]]) -> dict[str, bytes]:
    """Path below internal/review/ -> content.

    Args:
        pricing: the finished costing with prices
        pages: the other pages of the review, each by address and name
    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    page = render(
        office_environment(pricing.catalogue),
        "internal/costs.html",
        root="",
        catalogue=pricing.catalogue,
        terms=pricing.terms,
        groups=shown_groups(
            item.assembly.groups
            for model in pricing.models.values()
            for item in model.boat_and_options
        ),
        models=cost_rows(pricing),
        pages=pages,
    )
    return {"costs.html": page} | assets(ASSETS, pricing.catalogue.paper)


def cost_rows(pricing: Pricing) -> list[tuple[Model, list[CostRow]]]:
    """Every model with its boat, then its options, those that breach the floor first."""
    found = []
    largest_boat = _longest(model.boat for model in pricing.models.values())
    for model in pricing.models.values():
        largest = _longest(model.options.values())
        options = [
            _row(id, item, id not in model.extras, largest) for id, item in model.options.items()
        ]
        options.sort(key=lambda row: not row.breach)
        found.append((model.model, [_row("boat", model.boat, False, largest_boat), *options]))
    return found


def _row(id: str, item: Priced, standard: bool, largest: Decimal) -> CostRow:
    groups = _groups(item)
    stated = tuple(stated_of(item.assembly))
    return CostRow(id, item, standard, groups, tuple(_bars(groups, largest)), stated)


def _groups(item: Priced) -> dict[str, Decimal]:
    found = item.assembly.groups
    return {group: decimal(found[group]) if group in found else Decimal(0) for group in SHOWN}


def _longest(items: Iterable[Priced]) -> Decimal:
    """What the longest bar stands for: the groups of a cost but those a credit makes negative."""
    sums = (sum(cost for cost in _groups(item).values() if cost > 0) for item in items)
    return max((Decimal(cost) for cost in sums), default=Decimal(0))


def _bars(groups: Mapping[str, Decimal], largest: Decimal) -> Iterator[Span]:
    """The positive groups end to end, the longest bar of the table being the whole width."""
    start = Decimal(0)
    for group, cost in groups.items():
        if cost > 0:
            width = cost / largest * BAR_WIDTH
            yield Span(half_up(start, 3), half_up(width, 3), group)
            start += width
