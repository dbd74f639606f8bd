"""How each list price comes about in each market, so that the review's script can follow it.

As data, one of these rules for each thing in each market:

    {"rule": "shown", "amount": published in the market's currency}
    {"rule": "recommended"}                                 follows its cost at home
    {"rule": "exchanged", "amount": home price, or null}    null follows its cost at home
    {"rule": "package", "of": places of its options, "saving": fraction, "as": market or "home"}

The functions that go with them are written from figures which the program's own pricing made.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from quoter.catalogue.factory import Market, Rounding
from quoter.catalogue.options import Package
from quoter.figures import Figure, constant, money_in
from quoter.pages.script import script_function
from quoter.pricing.markets import (
    MarketPrice,
    currency_of,
    exchanged_price,
    price_at_home,
    rounding_of,
)
from quoter.pricing.price import RECOMMENDED, PricedModel, Pricing, saved_price

Key = tuple[str, str]  # model, and option or package, or BOAT
HOME = "home"  # rounds packages by the yard's policy, whatever its first market is called
SAVING = constant(0.1)


def price_rule(
    model: PricedModel, option: str, price: MarketPrice, places: Mapping[Key, int]
) -> dict[str, Any]:
    """How a price comes about in its market.

    Args:
        model: what it is of
        option: option, package or BOAT
        price: in the market
        places: of each thing in the script's data
    """
    id = str(model.model.id)
    item = model.extras[option] if option else model.boat
    package = _package(model, option)
    if package is not None:
        return {
            "rule": "package",
            "of": [places[id, str(name)] for name in package.options],
            "saving": package.saving.value,
            "as": HOME if price.shown is item.list_price else "market",
        }
    follows = item.basis == RECOMMENDED
    if price.at_home is not None:
        stays = not (follows and price.at_home is item.list_price)
        at_home = float(money_in(price.at_home, str(item.list_price.unit)))
        return {"rule": "exchanged", "amount": at_home if stays else None}
    if follows and price.shown is item.list_price:
        return {"rule": "recommended"}
    return {"rule": "shown", "amount": price.shown.value}


def _package(model: PricedModel, option: str) -> Package | None:
    return next((each for each in model.offered_packages if each.id == option), None)


def market_functions(pricing: Pricing) -> tuple[list[str], str]:
    """Functions of every market's prices, and the object that holds them by market's id, as text.

    Each market has three: `exchanged(at_home, rate)` and `packaged(apart, saving)` give the price
    shown there, `home(shown, rate)` gives that in home currency. The policy's own `packaged` is
    beside them.
    """
    catalogue = pricing.catalogue
    written: list[str] = []
    names = []
    for number, market in enumerate(catalogue.yard.markets):
        currency = currency_of(catalogue, market)
        rule = rounding_of(catalogue, market)
        found = {
            "home": _at_home(pricing, market, f"home{number}"),
            "packaged": _packaged(rule, currency, f"packaged{number}"),
        }
        if currency != catalogue.currency:
            found["exchanged"] = _exchanged(pricing, market, f"exchanged{number}")
        written += found.values()
        own = ", ".join(f"{what}: {what}{number}" for what in found)
        names.append(f'  "{market.id}": {{ {own} }}')
    written.append(_packaged(catalogue.yard.policy.rounding, catalogue.currency, "packaged"))
    return written, "{\n" + ",\n".join(names) + "\n}"


def _exchanged(pricing: Pricing, market: Market, name: str) -> str:
    at_home = constant(100.0, pricing.catalogue.currency)
    shown = exchanged_price(pricing.catalogue, market, at_home)
    inputs = {"at_home": at_home, "rate": _rate(pricing, market)}
    return script_function(name, inputs, {"price": shown})


def _at_home(pricing: Pricing, market: Market, name: str) -> str:
    shown = constant(100.0, currency_of(pricing.catalogue, market))
    listed = price_at_home(pricing.catalogue, shown)
    inputs = {"shown": shown, "rate": _rate(pricing, market)}
    return script_function(name, inputs, {"price": listed})


def _packaged(rule: Rounding, currency: str, name: str) -> str:
    apart = constant(100.0, currency)
    inputs = {"apart": apart, "saving": SAVING}
    return script_function(name, inputs, {"price": saved_price(apart, SAVING, rule)})


def _rate(pricing: Pricing, market: Market) -> Figure:
    """The rate of a market's currency; 1 at home, where no function uses it."""
    currency = currency_of(pricing.catalogue, market)
    if currency == pricing.catalogue.currency:
        return constant(1.0)
    return pricing.catalogue.exchange[currency].rate
