"""The class of a buyer whom nobody named: one that gives away no discount by mistake."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.catalogue.factory import DealerClass, Market


def unnamed_buyer(market: Market, classes: Sequence[DealerClass]) -> DealerClass:
    """The class that a request is priced for where neither it nor the command names one.

    Where the market's lists show tax, it is the first class of consumers. Elsewhere, or if there
    is none, it is the class with the smallest discount, the first of those that are equal.

    Args:
        market: whose price sheet was looked at
        classes: the yard's, in its order
    """
    if market.prices == "with tax":
        consumers = [each for each in classes if each.consumer]
        if consumers:
            return consumers[0]
    return min(classes, key=lambda each: each.discount.value)
