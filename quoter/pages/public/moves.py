"""How the prices of a market's list moved since the edition before, in the amounts it shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from quoter.catalogue.factory import Market
from quoter.pages.public.views import View
from quoter.pricing.markets import BOAT, Key
from quoter.pricing.price import Pricing
from quoter.pricing.public import PublicPrice, listed_delivery, price_list

# Directive 98/6/EC, Art. 6a(1) and (2), as inserted by Directive (EU) 2019/2161: whoever announces
# a reduction to consumers tells the prior price with it, which is the lowest price of a time of at
# least 30 days before it. Per cent are of that price: Court of Justice, C-330/23 (2024).
PRIOR = timedelta(days=30)
DELIVERY: Key = ("", BOAT)  # of every boat, where its price does not hold it


@dataclass(frozen=True, slots=True)
class PastList(View):
    """What a market's list showed up to a day, since the list before it."""

    until: date
    prices: Mapping[Key, PublicPrice]


@dataclass(frozen=True, slots=True)
class Move(View):
    """A list price at the end of the edition before, and now.

    `lowest` is told with a reduction: the lowest price of the 30 days before the one that holds.
    """

    before: PublicPrice
    now: PublicPrice
    lowest: PublicPrice | None

    @property
    def difference(self) -> PublicPrice:
        """What the price rose by; a fall is negative."""
        return self.now - self.before


def shown_prices(
    pricing: Pricing, market: Market, prices: Mapping[Key, PublicPrice] | None = None
) -> dict[Key, PublicPrice]:
    """Every price of a market's list: of boats as they can be bought, of extras, of delivery.

    Args:
        pricing: the finished costing
        market: one of its yard's
        prices: the price list of the market, where it is known already
    """
    found = price_list(pricing, market) if prices is None else prices
    shown = {
        (str(model), str(id)): found[model, id]
        for model, priced in pricing.models.items()
        for id in (BOAT, *priced.extras)
    }
    delivery = listed_delivery(pricing, market)
    if delivery is None:
        return shown
    if market.prices != "with tax":
        return shown | {DELIVERY: delivery}
    # Who sees prices with tax sees what can't be left out in one amount.
    return shown | {(model, BOAT): shown[model, BOAT] + delivery for model in pricing.models}


def past_lists(earlier: Sequence[Pricing], market: Market) -> tuple[PastList, ...]:
    """A market's lists of earlier days, in the order of the days."""
    found = []
    for pricing in earlier:
        there = next(m for m in pricing.catalogue.yard.markets if m.id == market.id)
        found.append(PastList(pricing.catalogue.as_of, shown_prices(pricing, there)))
    return tuple(found)


def moves_between(now: Mapping[Key, PublicPrice], past: Sequence[PastList]) -> dict[Key, Move]:
    """The prices that were others at the end of the edition before; what had none has no move.

    Args:
        now: what the list shows
        past: what it showed up to earlier days: the last day of the edition before first, then
            each day on which a price may have been another for the last time
    """
    last = past[0].prices
    return {
        key: Move(last[key], price, _prior_price(key, price, past) if price < last[key] else None)
        for key, price in now.items()
        if key in last and last[key] != price
    }


def _prior_price(key: Key, now: PublicPrice, past: Sequence[PastList]) -> PublicPrice:
    """The lowest price of the 30 days before the price became what it is now."""
    steps = [
        (each.until, each.prices[key])
        for each in sorted(past, key=lambda each: each.until)
        if key in each.prices
    ]
    while steps[-1][1] == now:
        steps.pop()
    until = steps[-1][0]
    return min(price for day, price in steps if day > until - PRIOR)
