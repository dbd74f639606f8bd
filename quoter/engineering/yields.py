"""Yield: a scrapped unit takes with it all it holds, so the good ones bear it."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.figures import N


def rolled_yield(yields: Sequence[N]) -> N:
    """Fraction that passes every operation of a route.

        rolled = y_1 * y_2 * ... * y_n

    Args:
        yields: fraction that each operation passes [1]
    Returns:
        fraction that passes all [1]
    Raises:
        ValueError: when there is no yield: a route without operations has nothing to say here
    Limits: 0 < y_i <= 1
    Source: rolled throughput yield, quality-engineering handbooks.

    >>> round(rolled_yield([0.5, 0.8]), 6)
    0.4
    """
    if not len(yields):
        raise ValueError("a rolled yield needs at least one operation's yield")
    rolled = yields[0]
    for passed in yields[1:]:
        rolled = rolled * passed
    return rolled


def per_good_unit(cost: N, passed: N) -> N:
    """Cost a good unit bears of what was spent on every unit started.

        cost per good unit = cost / passed

    Args:
        cost: cost spent per unit at an operation [money]
        passed: fraction that passes this operation and all later ones [1]
    Returns:
        cost per good unit [money]
    Limits: 0 < passed <= 1; holds for masses and hours as well
    Source: cost balance: what is spent on all is borne by the good.

    >>> per_good_unit(95.0, 0.95)
    100.0
    """
    return cost / passed


def rework_time(share: N, time: N) -> N:
    """Time each unit bears for the rework of some.

        time per unit = share * time

    Args:
        share: fraction of units that are reworked [1]
        time: time one rework takes [h]
    Returns:
        rework time per unit [h]
    Limits: 0 <= share <= 1; a unit reworked twice counts twice
    Source: definition of an average.

    >>> rework_time(0.25, 2.0)
    0.5
    """
    return share * time
