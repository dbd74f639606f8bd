"""The formulas between a price at home and in a market of another currency."""

from __future__ import annotations

from quoter.figures import N


def exchanged(price: N, rate: N) -> N:
    """A home price in a market's currency.

        there = price * rate

    Args:
        price: price in home currency [money]
        rate: units of the market's currency that one unit of home currency buys [1]
    Returns:
        price in the market's currency, not rounded [money]
    Limits: rate > 0
    Source: definition of the rate of exchange

    >>> round(exchanged(100.0, 0.8551), 4)
    85.51
    """
    return price * rate


def in_home_currency(price: N, rate: N) -> N:
    """A price of a market in home currency.

        home = price / rate

    Args:
        price: price in the market's currency [money]
        rate: units of the market's currency that one unit of home currency buys [1]
    Returns:
        price in home currency [money]
    Limits: rate > 0
    Source: definition of the rate of exchange

    >>> round(in_home_currency(85.51, 0.8551), 4)
    100.0
    """
    return price / rate
