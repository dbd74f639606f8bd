"""Prices as a market's lists show them: with the tax that the thing bears, or without."""

from __future__ import annotations

from decimal import Decimal

from quoter.catalogue.factory import Market, OtherTax
from quoter.catalogue.options import Option
from quoter.figures import Figure, plain_number
from quoter.pricing.markets import BOAT, currency_of
from quoter.pricing.price import Pricing, public_amount, with_tax
from quoter.quotes.offer import delivery_amount


def listed_price(pricing: Pricing, market: Market, model: str, id: str, price: Figure) -> Decimal:
    """A list price as a market's price lists show it: with the tax the thing bears, or without.

    Args:
        pricing: the costing that knows what is sold
        market: whose list it is
        model: of what is sold
        id: an option or package, or BOAT
        price: without tax, in the market's currency
    """
    currency = currency_of(pricing.catalogue, market)
    item = pricing.models[model].options.get(id) if id != BOAT else None
    own = None if item is None or item.option is None else own_tax(market, item.option)
    tax = market.tax if own is None else own.rate
    return _listed(market, public_amount(price, currency), tax, currency)


def own_tax(market: Market, option: Option) -> OtherTax | None:
    """The tax that an option bears in a market in place of the usual one."""
    return next((tax for tax in market.other_taxes if tax.id == option.tax), None)


def delivery_price(pricing: Pricing, market: Market) -> Decimal | None:
    """What is charged for delivery with every boat, as a market's lists show prices."""
    catalogue = pricing.catalogue
    policy = catalogue.yard.quotes
    if policy is None or policy.delivery.price is None:
        return None
    currency = currency_of(catalogue, market)
    amount = delivery_amount(catalogue, policy.delivery.price, currency)
    return _listed(market, amount, market.tax, currency)


def _listed(market: Market, amount: Decimal, tax: Figure, currency: str) -> Decimal:
    """An amount without tax as the market's lists show it."""
    if market.prices != "with tax":
        return amount
    return with_tax(amount, plain_number(tax), currency)
