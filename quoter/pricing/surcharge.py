"""The formulas of a surcharge clause: what an index's move adds to a price that stays open.

The move is the ratio of two index values less 1, never their difference: points depend on the
series' base period, ratios don't.
"""

from __future__ import annotations

import sys

from quoter.figures import N, at_least, at_most, round_to, where
from quoter.figures.formulas import remember_formulas
from quoter.figures.ops import less


def index_ratio(now: N, base: N) -> N:
    """An index as a multiple of what it was.

        ratio = now / base

    Args:
        now: value of the index on the later day [1]
        base: value of the same series on the day of the quote [1]
    Returns:
        ratio of the two values [1]
    Limits: base > 0; both of one series with one base period
    Source: definition of a relative index change

    >>> index_ratio(126.0, 120.0)
    1.05
    """
    return now / base


def beyond_threshold(ratio: N, threshold: N) -> N:
    """Whether an index has moved further than the threshold, either way.

        beyond = 1 if ratio > 1 + threshold or ratio < 1 - threshold, else 0

    Args:
        ratio: index now to index then [1]
        threshold: how far it may move without consequence [1]
    Returns:
        1 or 0 [1]
    Limits: 0 <= threshold < 1; exactly the threshold is not beyond it
    Source: common practice, no source

    >>> beyond_threshold(1.06, 0.05), beyond_threshold(1.05, 0.05), beyond_threshold(0.94, 0.05)
    (1.0, 0.0, 1.0)
    """
    return at_least(less(1 + threshold, ratio), less(ratio, 1 - threshold))


def whole_move(ratio: N, threshold: N) -> N:
    """The move that counts where all of it does once the threshold is passed.

        counted = ratio - 1 if the ratio is beyond the threshold, else 0

    Args:
        ratio: index now to index then [1]
        threshold: how far it may move without consequence [1]
    Returns:
        counted move, negative for a fall [1]
    Limits: 0 <= threshold < 1
    Source: 48 CFR 852.216-72 (change divided by the base index), with a threshold by definition

    >>> round(whole_move(1.06, 0.05), 6), whole_move(1.05, 0.05)
    (0.06, 0.0)
    """
    return where(beyond_threshold(ratio, threshold), ratio - 1, 0 * ratio)


def excess_move(ratio: N, threshold: N) -> N:
    """The move that counts where only what lies beyond the threshold does.

        counted = max(ratio - (1 + threshold), 0) + min(ratio - (1 - threshold), 0)

    Args:
        ratio: index now to index then [1]
        threshold: how far it may move without consequence [1]
    Returns:
        counted move, negative for a fall [1]
    Limits: 0 <= threshold < 1
    Source: Oregon Standard Specifications, special provision 00195.10 (asphalt escalation): price
        less 1.05 times the base where above 105 % of it, and likewise below 95 %

    >>> round(excess_move(1.06, 0.05), 6), round(excess_move(0.92, 0.05), 6)
    (0.01, -0.03)
    """
    return at_least(ratio - (1 + threshold), 0.0) + at_most(ratio - (1 - threshold), 0.0)


def only_rises(counted: N) -> N:
    """The counted move of a clause that lowers no price.

        counted = max(counted, 0)

    Args:
        counted: counted move [1]
    Returns:
        counted move, 0 for a fall [1]
    Limits: none
    Source: definition

    >>> only_rises(-0.03), only_rises(0.04)
    (0.0, 0.04)
    """
    return at_least(counted, 0.0)


def charged_fraction(counted: N, share: N) -> N:
    """The part of the price that a counted move adds.

        fraction = share * counted

    Args:
        counted: counted move of the index [1]
        share: part of the price that follows the index [1]
    Returns:
        surcharge as a fraction of the price, not capped [1]
    Limits: 0 < share <= 1
    Source: 48 CFR 852.216-72 (the base cost is a fixed percentage of the price)

    >>> charged_fraction(0.125, 0.4)
    0.05
    """
    return share * counted


def capped_fraction(fraction: N, cap: N) -> N:
    """A surcharge no higher than the cap; a reduction has none.

        fraction = min(fraction, cap)

    Args:
        fraction: surcharge as a fraction of the price [1]
        cap: the most by which the price may rise [1]
    Returns:
        surcharge as a fraction of the price [1]
    Limits: cap > 0
    Source: common practice, no source

    >>> capped_fraction(0.12, 0.08), capped_fraction(-0.12, 0.08)
    (0.08, -0.12)
    """
    return at_most(fraction, cap)


def surcharge_amount(price: N, fraction: N, smallest: N) -> N:
    """The surcharge in money, rounded once, halves away from zero.

        surcharge = round(price * fraction / smallest) * smallest

    Args:
        price: price of the quote without tax [money]
        fraction: surcharge as a fraction of it [1]
        smallest: the currency's smallest unit [money]
    Returns:
        surcharge, negative where the price falls [money]
    Limits: smallest > 0
    Source: definition; 48 CFR 852.216-72 rounds likewise

    >>> surcharge_amount(4350.0, 0.048, 0.01)
    208.8
    """
    return round_to(price * fraction, smallest)


def may_leave(fraction: N, leave_above: N) -> N:
    """Whether a surcharge lets the customer leave the contract.

        leave = 1 if fraction > leave_above, else 0

    Args:
        fraction: surcharge as a fraction of the price [1]
        leave_above: fraction above which the customer may leave [1]
    Returns:
        1 or 0 [1]
    Limits: leave_above >= 0
    Source: common practice, no source

    >>> may_leave(0.07, 0.06), may_leave(0.06, 0.06)
    (1.0, 0.0)
    """
    return less(leave_above, fraction)


remember_formulas([sys.modules[__name__]])
