"""List prices in every market: published there, or the home market's in the market's currency.

What holds at home is exchanged at the dated rate and rounded once. A price that was rounded so is
never what another market's is exchanged from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from quoter.catalogue.markets import Market, Rounding
from quoter.catalogue.options import Package
from quoter.catalogue.prices import Catalogue, published
from quoter.catalogue.tables import BookRow
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.exchange import ExchangeRates
from quoter.pricing.margin import ROUNDING
from quoter.pricing.price import (
    BOAT,
    Key,
    MarketPrice,
    Priced,
    PricedModel,
    Pricing,
    book_basis,
    saved_price,
)
from quoter.pricing.sale import sales


def market_prices(pricing: Pricing, market: Market) -> Mapping[Key, MarketPrice]:
    """(model, option) -> the price of everything that can be bought in a market; worked out once.

    Args:
        pricing: the finished costing with the home market's prices
        market: one of the yard's
    """
    id = str(market.id)
    if id not in pricing.in_markets:
        pricing.in_markets[id] = _market_prices(pricing, market)
    return pricing.in_markets[id]


def _market_prices(pricing: Pricing, market: Market) -> dict[Key, MarketPrice]:
    found: dict[Key, MarketPrice] = {}
    for id, model in pricing.models.items():
        found[id, BOAT] = _price(pricing, market, id, BOAT, model.boat)
        for option, item in model.options.items():
            found[id, option] = _price(pricing, market, id, option, item)
        for pair, item in model.surcharges.items():
            found[id, pair] = _price(pricing, market, id, pair, item)
        for package in model.offered_packages:
            found[id, str(package.id)] = _package(pricing, market, model, package, found)
    return found


def _price(pricing: Pricing, market: Market, model: str, option: str, item: Priced) -> MarketPrice:
    row = published(pricing.catalogue, str(market.id), model, option)
    if row is not None and row.market:
        return _made(pricing, market, item, row.list_price, book_basis(row))
    if currency_of(pricing.catalogue, market) == pricing.catalogue.currency:
        if row is None or _is_home_price(item, row):
            return MarketPrice(market, item.list_price, item.list_price, item.basis, item.sales)
        return _made(pricing, market, item, row.list_price, book_basis(row))
    at_home = item.list_price if row is None else row.list_price
    basis = phrase("{value}, exchanged", value=item.basis if row is None else book_basis(row))
    shown = exchanged_price(pricing.catalogue, market, at_home)
    return replace(_made(pricing, market, item, shown, basis), at_home=at_home)


def _is_home_price(item: Priced, row: BookRow) -> bool:
    """Whether the home market's price rests on this very line."""
    return item.list_price.args == (row.list_price,)


def _package(
    pricing: Pricing,
    market: Market,
    model: PricedModel,
    package: Package,
    found: Mapping[Key, MarketPrice],
) -> MarketPrice:
    """As at home: the sum of the options' prices there, less the saving, rounded down."""
    item = model.packages[package.id]
    inside = [found[model.model.id, option] for option in package.options]
    at_home = [model.options[option].list_price for option in package.options]
    if [price.shown for price in inside] == at_home:
        return MarketPrice(market, item.list_price, item.list_price, item.basis, item.sales)
    currency = currency_of(pricing.catalogue, market)
    apart = total([price.shown for price in inside], constant(0.0, currency))
    saved = saved_price(apart, package.saving, rounding_of(pricing.catalogue, market))
    return _made(pricing, market, item, saved, item.basis)


def exchanged_price(catalogue: Catalogue, market: Market, at_home: Figure) -> Figure:
    """A home price in the market's currency, exchanged and rounded once."""
    currency, rule = currency_of(catalogue, market), rounding_of(catalogue, market)
    ending = rule.ending if rule.ending is not None else constant(0.0, currency)
    price = rates_of(catalogue).exchange(at_home, currency)
    rounded: Figure = ROUNDING[rule.direction](price, rule.step, ending)
    return rounded


def price_at_home(catalogue: Catalogue, shown: Figure) -> Figure:
    """A market's price in home currency, never rounded."""
    return rates_of(catalogue).exchange(shown, catalogue.currency)


def rates_of(catalogue: Catalogue) -> ExchangeRates:
    """The rates in force on a catalogue's day."""
    return ExchangeRates(catalogue.currency, catalogue.exchange)


def _made(pricing: Pricing, market: Market, item: Priced, shown: Figure, basis: str) -> MarketPrice:
    """A price of this market's own, and what it leaves."""
    assembly, catalogue = item.assembly, pricing.catalogue
    key, name = f"{assembly.recipe.key}.market.{market.id}", f"{assembly.name}, {market.name}"
    there = shown.named(f"{key}.shown", phrase("{name}: list price there", name=name))
    listed = price_at_home(catalogue, there).named(
        f"{key}.list_price", phrase("{name}: list price", name=name)
    )
    if not listed.value:
        return MarketPrice(market, there, listed, basis, {})  # a margin is a fraction of a price
    left = sales(pricing.terms, listed, assembly.cost, assembly.variable, key, name)
    return MarketPrice(market, there, listed, basis, left)


def currency_of(catalogue: Catalogue, market: Market) -> str:
    """The currency a market sells in."""
    return str(market.currency or catalogue.currency)


def rounding_of(catalogue: Catalogue, market: Market) -> Rounding:
    """How a market rounds its prices: by its own rule, or the yard's."""
    return market.rounding or catalogue.yard.policy.rounding
