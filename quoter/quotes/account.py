"""What a quote leaves: its list prices, discounts, costs and margin as figures, in home currency.

What delivery is charged at is left out: it is taken to cost what it brings. Lines of a request's
own are in it, and so are amounts off. What something taken in is worth counts as paid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from quoter.catalogue.quoting import ExtraLine
from quoter.figures import Figure, at_least, constant, stated, total
from quoter.figures.ops import less
from quoter.phrases import phrase
from quoter.pricing.margin import (
    fraction_of_price,
    largest_discount,
    left_after,
    net_of_trade_in,
    net_price,
)
from quoter.pricing.markets import market_prices, rates_of
from quoter.pricing.pairs import as_coloured
from quoter.pricing.price import BOAT, Pricing
from quoter.quotes.line_prices import NOTHING, counted, without_tax
from quoter.quotes.offer import Offer
from quoter.quotes.request import Wish
from quoter.units import unit

NO_DISCOUNT = constant(0.0)


@dataclass(frozen=True, slots=True)
class Item:
    """The boat (id ""), an option or package, a surcharge of a pair, or a line of the request's
    own: all amounts are of one.

    Costs are those in the hull colour of the boat as chosen, so a surcharge itself has none.
    `discounted` tells whether discounts come off; `worth` is of something taken in.
    """

    id: str
    name: str
    quantity: Figure
    list_price: Figure
    net: Figure
    cost: Figure
    variable: Figure
    own: bool = False
    discounted: bool = True
    worth: Figure | None = None


@dataclass(frozen=True, slots=True)
class Account:
    """The items of a quote, the discounts, and what all of it leaves after provisions.

    `list_price` is that of what discounts come off, `besides` the net price of all else. `most` is
    the largest discount on top of the class's that keeps the margin at the floor.
    """

    items: tuple[Item, ...]
    class_discount: Figure
    discount: Figure
    list_price: Figure
    besides: Figure
    net: Figure
    cost: Figure
    variable: Figure
    contribution: Figure
    margin: Figure
    margin_fraction: Figure
    contribution_fraction: Figure
    breach: Figure
    most: Figure


def account_of(pricing: Pricing, wish: Wish, offer: Offer) -> Account:
    """The account of a request at the prices of its market.

    Costs and list prices are given numbers: a quote rests on what they are on its day.

    Args:
        pricing: the costing with prices on the day of issue
        wish: the sound request
        offer: the request as its customer sees it, which says what amounts off are without tax
    """
    class_discount = wish.buyer.discount
    discount = wish.request.discount if wish.request.discount is not None else NO_DISCOUNT

    def discounted(item: Item) -> Item:
        """With the discounts that come off."""
        if not item.discounted:
            return item
        net = net_price(net_price(item.list_price, class_discount), discount)
        return replace(item, net=_net_as(net, item.id, item.name))

    items = (*_sold(pricing, wish), *_own(pricing, wish, offer))
    return _summed(pricing, tuple(discounted(item) for item in items), class_discount, discount)


def _sold(pricing: Pricing, wish: Wish) -> Iterator[Item]:
    """The boat, what is chosen, and the surcharges that ask something for what costs them more."""
    model, prices = wish.model, market_prices(pricing, wish.market)
    chosen = {id: wish.boat.quantities[id] for id in model.extras if id in wish.chosen}

    def item(id: str, name: str, quantity: Figure, cost: Figure, variable: Figure) -> Item:
        price = prices[str(model.model.id), id].list_price
        listed = _listed_as(price, id, name)
        return Item(
            id=id,
            name=name,
            quantity=quantity,
            list_price=listed,
            net=listed,
            cost=_cost_as(cost, id, name),
            variable=_variable_as(variable, id, name),
        )

    for id in (BOAT, *chosen):
        name = (model.extras[id] if id else model.boat).assembly.name
        cost = as_coloured(model, chosen, id, lambda assembly: assembly.cost)
        variable = as_coloured(model, chosen, id, lambda assembly: assembly.variable)
        yield item(id, name, chosen[id] if id else constant(1.0), cost, variable)
    nothing = model.boat.assembly.cost * 0.0
    for pair in wish.surcharged:
        name = f"{pair.of.assembly.name}, surcharge"
        yield item(pair.of.id, name, pair.count, nothing, nothing)


def _own(pricing: Pricing, wish: Wish, offer: Offer) -> Iterator[Item]:
    """The lines of the request's own and the amounts off, in home currency."""
    catalogue, request = pricing.catalogue, wish.request
    rates, home = rates_of(catalogue), catalogue.currency
    for place, line in enumerate(request.extra_lines, 1):
        yield _extra(f"line.{place}", line, lambda amount: rates.exchange(amount, home))
    net = net_off(offer)
    for place, off in enumerate(request.amounts_off, 1):
        id, name = f"off.{place}", str(off.name)
        amount = rates.exchange(Figure(float(net[id]), unit(offer.currency)), home)
        listed = _listed_as(amount, id, name)
        nothing = amount * 0.0
        yield Item(
            id=id,
            name=name,
            quantity=constant(1.0),
            list_price=listed,
            net=_net_as(listed, id, name),
            cost=_cost_as(nothing, id, name),
            variable=_variable_as(nothing, id, name),
            own=True,
            discounted=False,
        )


def _extra(id: str, line: ExtraLine, at_home: Callable[[Figure], Figure]) -> Item:
    """A line of the request's own; something taken in is worth what is credited, if nothing else.

    All of what a line costs is variable: it is bought or worked for this boat.
    """
    name, price = str(line.name), at_home(line.price)
    listed = _listed_as(price * -1.0 if line.trade_in else price, id, name)
    cost = at_home(line.cost) if line.cost is not None else price * 0.0
    net, worth = listed, None
    if line.trade_in:
        value = price if line.worth is None else at_home(line.worth)
        words = phrase("{name}: worth to the yard", name=name)
        worth = stated(value, _key(id, "worth"), words)
        net = net_of_trade_in(listed * -1.0, worth)
    return Item(
        id=id,
        name=name,
        quantity=constant(float(counted(line.quantity))),
        list_price=listed,
        net=_net_as(net, id, name),
        cost=_cost_as(cost, id, name),
        variable=_variable_as(cost, id, name),
        own=True,
        discounted=line.discounted,
        worth=worth,
    )


def net_off(offer: Offer) -> dict[str, Decimal]:
    """What each amount off takes off the net price, by its id: below 0, in the quote's currency."""
    rates = {tax.id: tax.rate for tax in offer.totals.taxes}
    found: dict[str, Decimal] = {}
    for line in offer.lines:
        if line.kind == "amount_off" and line.amount is not None:
            within = rates.get(line.rate, NOTHING) if offer.with_tax else NOTHING
            net = without_tax(line.amount, within)
            found[line.id] = found.get(line.id, NOTHING) + net
    return found


def _listed_as(number: Figure, id: str, name: str) -> Figure:
    return stated(number, _key(id, "list_price"), phrase("{name}: list price", name=name))


def _net_as(number: Figure, id: str, name: str) -> Figure:
    return number.named(_key(id, "net"), phrase("{name}: net price", name=name))


def _cost_as(number: Figure, id: str, name: str) -> Figure:
    return stated(number, _key(id, "cost"), phrase("{name}: cost", name=name))


def _variable_as(number: Figure, id: str, name: str) -> Figure:
    return stated(number, _key(id, "variable_cost"), phrase("{name}: variable cost", name=name))


def _key(id: str, what: str) -> str:
    return f"quote.{id or 'boat'}.{what}"


def _summed(
    pricing: Pricing, items: tuple[Item, ...], class_discount: Figure, discount: Figure
) -> Account:
    terms = pricing.terms

    def whole(what: str, amounts: list[tuple[Figure, Item]]) -> Figure:
        pieces = [amount * item.quantity for amount, item in amounts]
        nothing = items[0].list_price * 0.0
        return total(pieces, pieces[0] if pieces else nothing).named(
            f"quote.{what}", phrase("Quote: {what}", what=what.replace("_", " "))
        )

    listed = whole("list_price", [(each.list_price, each) for each in items if each.discounted])
    besides = whole("without_discount", [(each.net, each) for each in items if not each.discounted])
    net = whole("net", [(each.net, each) for each in items])
    cost = whole("cost", [(each.cost, each) for each in items])
    variable = whole("variable_cost", [(each.variable, each) for each in items])
    contribution = left_after(net, terms.provisions, variable)
    contribution = contribution.named("quote.contribution", "Quote: contribution")
    margin = left_after(net, terms.provisions, cost).named("quote.margin", "Quote: margin")
    fraction = fraction_of_price(margin, net)
    fraction = fraction.named("quote.margin_fraction", "Quote: margin of net", "percent")
    most = largest_discount(listed, besides, cost, terms.provisions, terms.floor, class_discount)
    most = at_least(most, NO_DISCOUNT)
    return Account(
        items=items,
        class_discount=class_discount,
        discount=discount,
        list_price=listed,
        besides=besides,
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
