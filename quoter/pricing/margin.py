"""The formulas between cost and list price. Margin is a fraction of price, markup one of cost."""

from __future__ import annotations

import sys

from quoter.figures import N, at_least, at_most, round_down, round_up
from quoter.figures.formulas import remember_formulas


def net_price(list_price: N, discount: N) -> N:
    """What the yard invoices: the list price less the buyer's discount.

        net = list_price * (1 - discount)

    Args:
        list_price: list price without tax [money]
        discount: discount of the class of buyer [1]
    Returns:
        net price [money]
    Limits: 0 <= discount < 1
    Source: definition

    >>> net_price(5000.0, 0.2)
    4000.0
    """
    return list_price * (1 - discount)


def left_after(net: N, provisions: N, cost: N) -> N:
    """What a net price leaves after provisions and a cost: contribution, or full margin.

        left = net * (1 - provisions) - cost

    Args:
        net: net price [money]
        provisions: commission, warranty and the like as a fraction of the net price [1]
        cost: variable cost for the contribution, full cost for the margin [money]
    Returns:
        contribution or margin [money]
    Limits: 0 <= provisions < 1
    Source: OpenStax, Principles of Accounting vol. 2, 3.1 (contribution = price less variable cost)

    >>> left_after(100.0, 0.0, 20.0)
    80.0
    """
    return net * (1 - provisions) - cost


def fraction_of_price(left: N, net: N) -> N:
    """A contribution or margin as a fraction of the net price.

        fraction = left / net

    Args:
        left: contribution or margin [money]
        net: net price [money]
    Returns:
        fraction of the price [1]
    Limits: net > 0
    Source: definition of the margin ratio

    >>> fraction_of_price(80.0, 100.0)
    0.8
    """
    return left / net


def price_for_margin(cost: N, provisions: N, margin: N, discount: N) -> N:
    """The list price that leaves a margin after provisions and discount.

        list_price = cost / (1 - provisions - margin) / (1 - discount)

    Args:
        cost: full cost [money]
        provisions: fraction of the net price [1]
        margin: target margin as a fraction of the net price [1]
        discount: discount of the class of buyer [1]
    Returns:
        list price without tax, not rounded [money]
    Limits: provisions + margin < 1; discount < 1
    Source: algebra of net_price and left_after; a markup of 25 % is a margin of 20 %

    >>> price_for_margin(100.0, 0.0, 0.2, 0.0)
    125.0
    """
    return cost / (1 - provisions - margin) / (1 - discount)


def largest_discount(
    list_price: N, besides: N, cost: N, provisions: N, margin: N, discount: N
) -> N:
    """The largest discount on top of the class's that leaves a margin.

        most = 1 - (price_for_margin(cost, provisions, margin, discount)
                    - besides / (1 - discount)) / list_price

    Args:
        list_price: list price of all that discounts come off, without tax [money]
        besides: net price of what no discount comes off, less amounts off [money]
        cost: full cost of all of it [money]
        provisions: fraction of the net price [1]
        margin: margin to be kept as a fraction of the net price [1]
        discount: discount of the class of buyer [1]
    Returns:
        discount as a fraction; below 0 where the margin is not even kept without [1]
    Limits: list_price > 0; provisions + margin < 1; discount < 1
    Source: algebra of net_price and left_after

    >>> largest_discount(100.0, 20.0, 80.0, 0.0, 0.2, 0.0)
    0.2
    """
    held = price_for_margin(cost, provisions, margin, discount)
    return 1 - (held - besides / (1 - discount)) / list_price


def net_of_trade_in(credited: N, worth: N) -> N:
    """What something taken in leaves of the net price: what was credited beyond its worth is lost.

        net = worth - credited

    Args:
        credited: what comes off what the customer pays [money]
        worth: what the yard values it at [money]
    Returns:
        net price of the trade-in, below 0 where more was credited [money]
    Limits: none
    Source: IFRS 15, 66 (consideration in a form other than cash counts at fair value; from memory)

    >>> net_of_trade_in(18000.0, 16500.0)
    -1500.0
    """
    return worth - credited


def cost_for_price(net: N, provisions: N, margin: N) -> N:
    """The cost a net price allows at a margin: what target costing aims at.

        cost = net * (1 - provisions - margin)

    Args:
        net: net price [money]
        provisions: fraction of the net price [1]
        margin: target margin as a fraction of the net price [1]
    Returns:
        full cost allowed [money]
    Limits: provisions + margin < 1
    Source: algebra of price_for_margin

    >>> cost_for_price(125.0, 0.0, 0.2)
    100.0
    """
    return net * (1 - provisions - margin)


def rounded_up(price: N, step: N, ending: N) -> N:
    """The next price of the form whole * step + ending; a credit gets no larger by it.

        rounded = up((price - ending) / step) * step + ending, up towards plus infinity

    Args:
        price: price to round [money]
        step: distance between prices [money]
        ending: what they end in [money]
    Returns:
        rounded price [money]
    Limits: step > 0
    Source: common practice, no source

    >>> rounded_up(4321.0, 100.0, 90.0), rounded_up(40.0, 100.0, 90.0)
    (4390.0, 90.0)
    """
    return _upward((price - ending) / step) * step + ending


def rounded_down(price: N, step: N, ending: N) -> N:
    """The last price of the form whole * step + ending; a credit gets no smaller by it.

        rounded = down((price - ending) / step) * step + ending, down towards minus infinity

    Args:
        price: price to round [money]
        step: distance between prices [money]
        ending: what they end in [money]
    Returns:
        rounded price [money]
    Limits: step > 0
    Source: common practice, no source

    >>> rounded_down(4321.0, 100.0, 90.0), rounded_down(-4321.0, 100.0, 0.0)
    (4290.0, -4400.0)
    """
    return _downward((price - ending) / step) * step + ending


def rounded_nearest(price: N, step: N, ending: N) -> N:
    """The nearest price of the form whole * step + ending, halves upward.

        rounded = down((price - ending) / step + 1/2) * step + ending, down towards minus infinity

    Args:
        price: price to round [money]
        step: distance between prices [money]
        ending: what they end in [money]
    Returns:
        rounded price [money]
    Limits: step > 0
    Source: common practice, no source

    >>> rounded_nearest(4345.0, 10.0, 0.0), rounded_nearest(40.0, 100.0, 90.0)
    (4350.0, 90.0)
    """
    return _downward((price - ending) / step + 0.5) * step + ending


def _upward(steps: N) -> N:
    """The next whole number; spreadsheets round away from zero, which is that only above it."""
    return round_up(at_least(steps, 0.0)) + round_down(at_most(steps, 0.0))


def _downward(steps: N) -> N:
    return round_down(at_least(steps, 0.0)) + round_up(at_most(steps, 0.0))


remember_formulas([sys.modules[__name__]])
ROUNDING = {"up": rounded_up, "down": rounded_down, "nearest": rounded_nearest}
