"""What a quote leaves: its list prices, discounts, costs and margin as figures, in home currency.

What delivery is charged at is left out: it is taken to cost what it brings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from quoter.figures import Figure, at_least, constant, stated, total
from quoter.figures.ops import less
from quoter.phrases import phrase
from quoter.pricing.margin import fraction_of_price, left_after, net_price, price_for_margin
from quoter.pricing.markets import market_prices
from quoter.pricing.pairs import as_coloured
from quoter.pricing.price import BOAT, Pricing
from quoter.quotes.request import Wish

NO_DISCOUNT = constant(0.0)


@dataclass(frozen=True, slots=True)
class Item:
    """The boat (id ""), an option or package, or a surcharge of a pair: all amounts are of one.

    Costs are those in the hull colour of the boat as chosen, so a surcharge itself has none.
    """

    id: str
    name: str
    quantity: Figure
    list_price: Figure
    net: Figure
    cost: Figure
    variable: Figure


@dataclass(frozen=True, slots=True)
class Account:
    """The items of a quote, the discounts, and what all of it leaves after provisions.

    `most` is the largest discount on top of the class's that keeps the margin at the floor.
    """

    items: tuple[Item, ...]
    class_discount: Figure
    discount: Figure
    list_price: Figure
    net: Figure
    cost: Figure
    variable: Figure
    contribution: Figure
    margin: Figure
    margin_fraction: Figure
    contribution_fraction: Figure
    breach: Figure
    most: Figure


def account_of(pricing: Pricing, wish: Wish) -> Account:
    """The account of a request at the prices of its market.

    Costs and list prices are given numbers: a quote rests on what they are on its day.
    """
    prices = market_prices(pricing, wish.market)
    id = str(wish.model.model.id)
    class_discount = wish.buyer.discount
    discount = wish.request.discount if wish.request.discount is not None else NO_DISCOUNT
    items = []
    for sold in _sold(wish):
        key, name = f"quote.{sold.id or 'boat'}", sold.name
        price = prices[id, sold.id].list_price
        listed = stated(price, f"{key}.list_price", phrase("{name}: list price", name=name))
        net = net_price(net_price(listed, class_discount), discount)
        items.append(
            Item(
                id=sold.id,
                name=name,
                quantity=sold.quantity,
                list_price=listed,
                net=net.named(f"{key}.net", phrase("{name}: net price", name=name)),
                cost=stated(sold.cost, f"{key}.cost", phrase("{name}: cost", name=name)),
                variable=stated(
                    sold.variable,
                    f"{key}.variable_cost",
                    phrase("{name}: variable cost", name=name),
                ),
            )
        )
    return _summed(pricing, tuple(items), class_discount, discount)


@dataclass(frozen=True, slots=True)
class _Sold:
    """What is sold, how many of it, and what one of it costs in the colour of this boat."""

    id: str
    name: str
    quantity: Figure
    cost: Figure
    variable: Figure


def _sold(wish: Wish) -> Iterator[_Sold]:
    """The boat, what is chosen, and the surcharges that ask something for what costs them more."""
    model = wish.model
    chosen = {id: wish.boat.quantities[id] for id in model.extras if id in wish.chosen}
    for id in (BOAT, *chosen):
        item = model.extras[id] if id else model.boat
        cost = as_coloured(model, chosen, id, lambda assembly: assembly.cost)
        variable = as_coloured(model, chosen, id, lambda assembly: assembly.variable)
        quantity = chosen[id] if id else constant(1.0)
        yield _Sold(id, item.assembly.name, quantity, cost, variable)
    nothing = model.boat.assembly.cost * 0.0
    for pair in wish.surcharged:
        name = f"{pair.of.assembly.name}, surcharge"
        yield _Sold(pair.of.id, name, pair.count, nothing, nothing)


def _summed(
    pricing: Pricing, items: tuple[Item, ...], class_discount: Figure, discount: Figure
) -> Account:
    terms = pricing.terms

    def whole(what: str, amounts: list[Figure]) -> Figure:
        pieces = [a * item.quantity for a, item in zip(amounts, items, strict=True)]
        return total(pieces, pieces[0]).named(
            f"quote.{what}", phrase("Quote: {what}", what=what.replace("_", " "))
        )

    listed = whole("list_price", [item.list_price for item in items])
    net = whole("net", [item.net for item in items])
    cost = whole("cost", [item.cost for item in items])
    variable = whole("variable_cost", [item.variable for item in items])
    contribution = left_after(net, terms.provisions, variable)
    contribution = contribution.named("quote.contribution", "Quote: contribution")
    margin = left_after(net, terms.provisions, cost).named("quote.margin", "Quote: margin")
    fraction = fraction_of_price(margin, net)
    fraction = fraction.named("quote.margin_fraction", "Quote: margin of net", "percent")
    held = price_for_margin(cost, terms.provisions, terms.floor, class_discount)
    most = at_least(1 - held / listed, NO_DISCOUNT)
    return Account(
        items=items,
        class_discount=class_discount,
        discount=discount,
        list_price=listed,
        net=net,
        cost=cost,
        variable=variable,
        contribution=contribution,
        margin=margin,
        margin_fraction=fraction,
        contribution_fraction=fraction_of_price(contribution, net).named(
            "quote.contribution_fraction", "Quote: contribution of net", "percent"
        ),
        breach=less(fraction, terms.floor).named("quote.breach", "Quote: margin below the floor"),
        most=most.named("quote.most", "Quote: largest discount that keeps the floor", "percent"),
    )
