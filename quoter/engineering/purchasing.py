"""What a purchased unit costs landed in the yard."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.figures import N, at_least, dot, total


def landed_price(price: N, rate: N, freight: N, duty: N) -> N:
    """Price landed in home currency: exchanged, with freight, and duty on price and freight.

        landed = price / rate * (1 + freight) * (1 + duty)

    Args:
        price: supplier's price of one unit, in the supplier's currency [money]
        rate: supplier's currency for one unit of home currency [1]
        freight: freight as a fraction of the price [1]
        duty: duty as a fraction of price and freight [1]
    Returns:
        price of one unit in home currency [money]
    Limits: rate > 0; freight and duty at least 0
    Source: definition of the landed price; duty on cost and freight is common practice, no source

    >>> round(landed_price(2.16, 1.08, 0.05, 0.10), 6)
    2.31
    """
    return price / rate * (1 + freight) * (1 + duty)


def material_cost(issued: N, price: N) -> N:
    """Cost of the material issued at its landed price.

        cost = issued * price

    Args:
        issued: amount issued from stores [kg]
        price: landed price of one unit [money/kg]
    Returns:
        cost [money]
    Limits: both at least 0
    Source: OpenStax, Principles of Accounting vol. 2, 8.1 (quantity x price on a cost card)

    >>> material_cost(4.0, 5.25)
    21.0
    """
    return issued * price


def handling_cost(material: N, fraction: N) -> N:
    """Material handling as a fraction of the material's cost.

        handling = material * fraction

    Args:
        material: cost of the material [money]
        fraction: handling rate [1]
    Returns:
        handling cost [money]
    Limits: fraction at least 0
    Source: definition of an overhead rate on material cost

    >>> handling_cost(700.0, 0.05)
    35.0
    """
    return material * fraction


def ordering_rate(freight: N, minimum: N, order: N) -> N:
    """What each order costs besides its goods, as a fraction of what is needed of it.

        rate = (freight + max(minimum - order, 0)) / order

    Args:
        freight: fixed freight and charges of one order [money]
        minimum: least that the supplier takes an order for [money]
        order: landed value of what the yard needs between two orders [money]
    Returns:
        ordering cost / landed material cost [1]
    Limits: order > 0; what a minimum order brings beyond the need is paid and lost. A yard that
        stocks and uses it states an order of that value
    Source: definition of a cost per order spread over the order; common practice, no source

    >>> ordering_rate(150.0, 500.0, 400.0)
    0.625
    """
    return (freight + at_least(minimum - order, order * 0.0)) / order


def ordering_cost(material: N, rate: N) -> N:
    """Order freight and minimum order that a material bears.

        cost = material * rate

    Args:
        material: landed cost of the material [money]
        rate: ordering cost / landed material cost [1]
    Returns:
        ordering cost [money]
    Limits: both at least 0
    Source: definition

    >>> ordering_cost(80.0, 0.625)
    50.0
    """
    return material * rate


def holding_cost(material: N, rate: N, months: N) -> N:
    """Cost of the stock, and of the money that lies in it.

        cost = material * rate * months / 12

    Args:
        material: landed cost of the material [money]
        rate: cost of holding stock for a year / its value [1]
        months: how long material is held before the boat is paid for, in months [1]
    Returns:
        inventory and working capital [money]
    Limits: rate at least 0; simple interest, within a year or so
    Source: definition of a carrying rate; Stevenson, Operations Management, inventory holding
        cost as a fraction of unit cost a year (from memory)

    >>> holding_cost(1000.0, 0.12, 3.0)
    30.0
    """
    return material * rate * months / 12


def disposal_cost(waste: N, rate: N) -> N:
    """Cost of having waste taken away.

        cost = waste * rate

    Args:
        waste: mass of the waste [kg]
        rate: what the disposal of a kilogram costs [money/kg]
    Returns:
        disposal cost [money]
    Limits: both at least 0; what may be thrown away and how is for local law
    Source: definition

    >>> disposal_cost(2.5, 0.5)
    1.25
    """
    return waste * rate


def moved_price(price: N, move: N, years: N) -> N:
    """A price some time from now, if it goes on moving by the same fraction a year.

        price then = price * (1 + move) ^ years

    Args:
        price: price today [money/kg]
        move: what it moves in a year, as a fraction of it [1]
        years: years from now [1]
    Returns:
        price then [money/kg]
    Limits: move > -1
    Source: compound growth, definition.

    >>> moved_price(100.0, 0.21, 0.5)
    110.0
    """
    result: N = price * (1 + move) ** years
    return result


def freight_fraction(freight: N, price: N, quantity: N) -> N:
    """Freight of an invoice's line as a fraction of its price.

        fraction = freight / (price * quantity)

    Args:
        freight: freight of the line [money]
        price: price of one unit [money/kg]
        quantity: units invoiced [kg]
    Returns:
        freight / value of the goods [1]
    Limits: price and quantity above 0; all three of one line
    Source: definition

    >>> freight_fraction(50.0, 4.0, 250.0)
    0.05
    """
    return freight / (price * quantity)


def average_price(prices: Sequence[N], quantities: Sequence[N]) -> N:
    """The weighted average of what units bought at different prices had cost.

        average = (p_1 * q_1 + ... + p_n * q_n) / (q_1 + ... + q_n)

    Args:
        prices: landed price of each purchase [money/kg]
        quantities: quantity of each [kg]
    Returns:
        average price of a unit [money/kg]
    Raises:
        ValueError: when there is no purchase, or not a quantity for each price
    Limits: quantities above 0
    Source: OpenStax, Principles of Accounting vol. 1, 10.2 (weighted-average cost: goods available
        for sale over their number)

    >>> average_price([4.0, 5.0], [100.0, 300.0])
    4.75
    """
    return dot(prices, quantities) / total(quantities, quantities[0])
