"""The formulas between what became of earlier quotes and what an open one is likely to bring."""

from __future__ import annotations

import sys

from quoter.figures import N
from quoter.figures.formulas import remember_formulas

FEWEST = 5  # decided quotes; of fewer no chance is said


def chance_of_order(orders: N, decided: N) -> N:
    """The chance that one more quote is ordered, from those of its kind that were decided.

    Few quotes say little, so their share is drawn towards a half: five orders of five make 86 %.

        chance = (orders + 1) / (decided + 2)

    Args:
        orders: how many were ordered [1]
        decided: how many were ordered or lost [1]
    Returns:
        chance [1]
    Limits: 0 <= orders <= decided; nothing is known beforehand, and the next is like those before
    Source: rule of succession, P.-S. Laplace, Essai philosophique sur les probabilités, 1814

    >>> chance_of_order(3.0, 8.0), chance_of_order(0.0, 0.0)
    (0.4, 0.5)
    """
    return (orders + 1) / (decided + 2)


def expected_amount(chance: N, amount: N) -> N:
    """What an amount that may come is worth on the average of many such.

        expected = chance * amount

    Args:
        chance: that it comes [1]
        amount: what comes then [money]
    Returns:
        expected amount [money]
    Limits: 0 <= chance <= 1
    Source: definition of the expected value

    >>> expected_amount(0.4, 50000.0)
    20000.0
    """
    return chance * amount


remember_formulas([sys.modules[__name__]])
