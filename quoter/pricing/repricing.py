"""The formulas by which a published price is held or moved."""

from __future__ import annotations

import sys

from quoter.figures import N, at_least, at_most, where
from quoter.figures.formulas import remember_formulas
from quoter.figures.ops import absolute, less_or_equal


def moved(published: N, wanted: N) -> N:
    """How far the wanted price is from the published one.

        moved = wanted / published - 1

    Args:
        published: list price in force [money]
        wanted: list price that leaves the target margin [money]
    Returns:
        fraction of the published price, negative for a fall [1]
    Limits: published not 0
    Source: definition of a relative change

    >>> round(moved(1000.0, 1050.0), 9)
    0.05
    """
    return wanted / published - 1


def furthest(published: N, step: N, direction: N) -> N:
    """The price that a largest step leads to.

        furthest = published + direction * |published| * step

    Args:
        published: list price in force [money]
        step: largest step as a fraction of the price [1]
        direction: 1 for a rise, -1 for a fall [1]
    Returns:
        list price, not rounded [money]
    Limits: 0 < step <= 1
    Source: definition of a relative change; a ceiling on one step is common practice, no source

    >>> furthest(1000.0, 0.08, 1.0), furthest(-50.0, 0.1, -1.0)
    (1080.0, -55.0)
    """
    return published + absolute(published) * step * direction


def proposed_price(published: N, moved_by: N, hold: N, rounded: N, lowest: N, highest: N) -> N:
    """The price to publish next: the old one within the hold, else the rounded one in its bounds.

        proposed = published                                 where |moved| <= hold
                 = between(lowest, rounded, highest)         else

    A bound that rounding has put on the wrong side of the published price is the published price.

    Args:
        published: list price in force [money]
        moved_by: how far the wanted price is from it, as a fraction [1]
        hold: no change is made for less than this fraction [1]
        rounded: wanted price, rounded by the policy [money]
        lowest: what the largest step down leads to, rounded up [money]
        highest: what the largest step up leads to, rounded down [money]
    Returns:
        list price to propose [money]
    Limits: 0 <= hold < 1
    Source: common practice, no source

    >>> proposed_price(1000.0, 0.015, 0.02, 1020.0, 920.0, 1080.0)
    1000.0
    >>> proposed_price(1000.0, 0.095, 0.02, 1100.0, 920.0, 1080.0)
    1080.0
    """
    bounded = at_most(at_least(rounded, at_most(lowest, published)), at_least(highest, published))
    return where(less_or_equal(absolute(moved_by), hold), published, bounded)


remember_formulas([sys.modules[__name__]])
