"""Prices that are worth a second look: below cost or floor, or far from the price before.

Each is a warning at the line that sets the price, one a line however many boats, markets and
classes of buyer it holds for. What follows its cost has no such line, and is not spoken of.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.markets import Market
from quoter.catalogue.prices import book_key, published, usual_limit
from quoter.catalogue.tables import BookRow
from quoter.figures import Figure, money_in
from quoter.pricing.markets import market_prices
from quoter.pricing.price import BOAT, MarketPrice, PricedModel, Pricing
from quoter.pricing.sale import Sale
from quoter.problems import Place, Problem

SAME = 1e-9  # a move of just the limit is none beyond it


@dataclass(frozen=True, slots=True)
class _Poor:
    """A price with the sale that leaves the least of it."""

    name: str
    price: MarketPrice
    sale: Sale


def price_warnings(pricing: Pricing) -> list[Problem]:
    """What to look at twice among the prices in force, and those already entered for later."""
    return sorted([*_poor_prices(pricing), *_jumps(pricing)])


def warnings_of(
    pricing: Pricing, market: Market, model: PricedModel, options: Iterable[str]
) -> list[Problem]:
    """What to look at twice among the prices of a boat with options and packages in a market."""
    lines = {_line(pricing, market, model, option) for option in (BOAT, *options)}
    return [found for found in price_warnings(pricing) if found.place in lines]


def _poor_prices(pricing: Pricing) -> Iterator[Problem]:
    """Each line that sells something at less than the floor: in the first market where it does."""
    told: dict[Place, Problem] = {}
    for market in pricing.catalogue.yard.markets:
        poorest: dict[Place, _Poor] = {}
        for place, poor in _sold(pricing, market):
            if place in told or not _is_poor(poor.sale):
                continue
            if place not in poorest or _left(poor.sale) < _left(poorest[place].sale):
                poorest[place] = poor
        told |= {place: _below_floor(pricing, place, poor) for place, poor in poorest.items()}
    yield from told.values()


def _sold(pricing: Pricing, market: Market) -> Iterator[tuple[Place, _Poor]]:
    """All that is sold in a market at a price that a line of the catalogue sets."""
    prices = market_prices(pricing, market)
    for id, model in pricing.models.items():
        for option, item in {BOAT: model.boat, **model.extras}.items():
            place, price = _line(pricing, market, model, option), prices[id, option]
            if place is not None and price.sales:
                worst = min(price.sales.values(), key=_left)
                yield place, _Poor(item.assembly.name, price, worst)


def _line(pricing: Pricing, market: Market, model: PricedModel, option: str) -> Place | None:
    """Where the price of a thing in a market is set; None where it follows its cost."""
    package = next((each for each in model.offered_packages if each.id == option), None)
    if package is not None:
        return figure_place(package.saving)
    row = published(pricing.catalogue, str(market.id), str(model.model.id), option)
    if row is not None:
        return figure_place(row.list_price)
    return None if option else figure_place(model.model.list_price)


def _is_poor(sale: Sale) -> bool:
    """Whether a sale leaves less than the floor; a credit, whether it gives more than it saves."""
    return bool(sale.breach.value) if sale.net.value > 0 else sale.margin.value < 0


def _left(sale: Sale) -> float:
    return sale.margin_fraction.value if sale.net.value > 0 else sale.margin.value


def _below_floor(pricing: Pricing, place: Place, poor: _Poor) -> Problem:
    sale, home = poor.sale, pricing.catalogue.currency
    where = (
        ""
        if poor.price.market is pricing.catalogue.yard.markets[0]
        else (f" in the market '{poor.price.market.id}'")
    )
    at = f"{poor.name} at {_money(poor.price.shown)}{where}"
    left = f"{money_in(sale.margin, home):,.2f} {home} at {sale.buyer.name}"
    if sale.net.value < 0:
        what = f"{at} gives back more than it saves: it leaves {left}"
        return Problem(place, "below-floor", what, "check the price", warning=True)
    floor, fraction = pricing.terms.floor.value * 100, sale.margin_fraction.value * 100
    below = "its cost" if fraction < 0 else f"the floor of {floor:g} %"
    what = f"{at} leaves {left}, {fraction:.1f} % of net: below {below}"
    hint = "check the price; 'quoter reprice' says what the policy would publish"
    return Problem(place, "below-floor", what, hint, warning=True)


def _jumps(pricing: Pricing) -> Iterator[Problem]:
    """Published prices, in force or for later, that moved far from those they follow."""
    catalogue = pricing.catalogue
    limit = usual_limit(catalogue.records)
    lines: dict[tuple[str, str, str], list[BookRow]] = {}
    for row in sorted(catalogue.records.book, key=lambda row: row.date):
        lines.setdefault(book_key(row), []).append(row)
    for (market, model, option), rows in lines.items():
        stated = catalogue.records.models.get(model) if not (market or option) else None
        before = None if stated is None else stated.list_price
        for row, later in zip(rows, [*rows[1:], None], strict=True):
            superseded = later is not None and later.date <= catalogue.as_of
            if before is not None and not superseded:
                yield from _jump(row, before, limit)
            before = row.list_price


def _jump(row: BookRow, before: Figure, limit: float) -> Iterator[Problem]:
    old, new = before.value, row.list_price.value
    if not old or abs(new / old - 1) - limit <= SAME:
        return
    told = "of the other sign than"
    if new / old > 0:
        told = f"{abs(new / old - 1) * 100:.1f} % {'more' if new > old else 'less'} than"
    what = f"{_money(row.list_price)} from {row.date} on, {told} the {_money(before)} before it"
    hint = f"{figure_place(before).clickable} has that; more than {limit * 100:g} % is worth a look"
    yield Problem(figure_place(row.list_price), "price-jump", what, hint, warning=True)


def _money(price: Figure) -> str:
    currency = str(price.unit)
    return f"{money_in(price, currency).normalize():,f} {currency}"
