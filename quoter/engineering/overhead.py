"""Overhead: a station's budget over its practical capacity, absorbed by what uses it."""

from __future__ import annotations

from quoter.figures import N


def overhead_rate(budget: N, capacity: N) -> N:
    """Predetermined overhead rate of a station.

        rate = budget / capacity

    Args:
        budget: annual overhead budget, variable or fixed part [money]
        capacity: practical capacity in the base; for labour or machine hours [h]
    Returns:
        overhead per unit of the base [money/h]
    Limits: capacity > 0; with labour cost as the base the rate is a plain number
    Source: OpenStax, Principles of Accounting vol. 2, 4.4.

    >>> overhead_rate(150000.0, 2000.0)
    75.0
    """
    return budget / capacity


def overhead_cost(rate: N, base: N) -> N:
    """Overhead that a unit absorbs at a station.

        cost = rate * base

    Args:
        rate: overhead per unit of the base [money/h]
        base: amount of the base the unit uses; for labour or machine hours [h]
    Returns:
        absorbed overhead [money]
    Limits: rate and base are of the same base
    Source: OpenStax, Principles of Accounting vol. 2, 4.4.

    >>> overhead_cost(75.0, 2.0)
    150.0
    """
    return rate * base


def under_absorbed(budget: N, absorbed: N) -> N:
    """Overhead that no unit bears; negative when more is absorbed than there is.

        under-absorbed = budget - absorbed

    Args:
        budget: overhead budgeted for the year, or spent in it [money]
        absorbed: overhead that all units of the year absorb [money]
    Returns:
        under-absorbed overhead [money]
    Limits: both of the same year and station
    Source: OpenStax, Principles of Accounting vol. 2, 4.6.

    >>> under_absorbed(209250.0, 209040.0)
    210.0
    """
    return budget - absorbed


def spread_over_units(cost: N, units: N) -> N:
    """What one unit bears of a cost that is spent once, such as a design or a certificate.

        cost per unit = cost / units

    Args:
        cost: what is spent once [money]
        units: units planned that bear it [1]
    Returns:
        cost per unit [money]
    Limits: units > 0; fewer units built than planned leave some of it unborne
    Source: OpenStax, Principles of Accounting vol. 1, 11.3 (units of production, no salvage).

    >>> spread_over_units(9000.0, 120.0)
    75.0
    """
    return cost / units
