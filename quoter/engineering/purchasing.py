"""What a purchased unit costs landed in the yard."""

from __future__ import annotations

from quoter.figures import N


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
