"""Variances: what was spent above standard, by cause; unfavourable is positive.

One formula serves wherever only names differ: a price and a wage rate, material used and hours
worked, scrap against plan. Of what one line is made, they add up to actual less standard exactly.
"""

from __future__ import annotations

from quoter.engineering.overhead import overhead_cost, under_absorbed
from quoter.figures import N


def price_variance(actual_price: N, standard_price: N, actual_quantity: N) -> N:
    """What paying another price than standard cost: of material, or the wage rate of hours.

        variance = (actual_price - standard_price) * actual_quantity

    Args:
        actual_price: price paid; of hours their rate with on-costs [money/kg]
        standard_price: price in force on the day by the catalogue [money/kg]
        actual_quantity: quantity bought or used [kg]
    Returns:
        price or rate variance, unfavourable positive [money]
    Limits: quantity as the price is per; all of it bought where price is seen at purchase
    Source: OpenStax, Principles of Accounting vol. 2, 8.2 (material) and 8.3 (labour).

    >>> price_variance(36.0, 35.0, 100.0)
    100.0
    """
    return (actual_price - standard_price) * actual_quantity


def quantity_variance(actual_quantity: N, standard_quantity: N, standard_price: N) -> N:
    """What taking another quantity than standard cost: usage, efficiency, scrap or rework.

        variance = (actual_quantity - standard_quantity) * standard_price

    Args:
        actual_quantity: material used, hours worked, or pieces that entered [kg]
        standard_quantity: what the output should have taken, or pieces planned to enter [kg]
        standard_price: standard price, rate of an hour, or standard cost of a piece [money/kg]
    Returns:
        usage, efficiency or scrap variance, unfavourable positive [money]
    Limits: the standard is of the actual output, not of the one that was planned
    Source: OpenStax, Principles of Accounting vol. 2, 8.2 (usage), 8.3 (time) and 8.4 (variable
        overhead efficiency, at the overhead rate).

    >>> quantity_variance(105.0, 100.0, 4.0)
    20.0
    """
    return (actual_quantity - standard_quantity) * standard_price


def mix_variance(actual_quantity: N, total_quantity: N, standard_share: N, standard_price: N) -> N:
    """What another mix than standard cost, of one material of a mix such as resin and glass.

        variance = (actual_quantity - total_quantity * standard_share) * standard_price

    Args:
        actual_quantity: quantity used of this material [kg]
        total_quantity: quantity used of all materials of the mix [kg]
        standard_share: share of this material in the standard mix [1]
        standard_price: standard price of this material [money/kg]
    Returns:
        mix variance of this material, unfavourable positive [money]
    Limits: materials that can stand for one another, all by mass; shares add up to 1
    Source: P. Dunn, Direct material mix and yield variance explained, PQ Magazine, Nov. 2020.

    >>> mix_variance(65.0, 100.0, 0.5, 2.0)
    30.0
    """
    return quantity_variance(actual_quantity, total_quantity * standard_share, standard_price)


def mix_yield_variance(
    total_quantity: N, standard_share: N, standard_quantity: N, standard_price: N
) -> N:
    """What putting in more of all materials of a mix than standard cost, of one of them.

        variance = (total_quantity * standard_share - standard_quantity) * standard_price

    Args:
        total_quantity: quantity used of all materials of the mix [kg]
        standard_share: share of this material in the standard mix [1]
        standard_quantity: what the output should have taken of this material [kg]
        standard_price: standard price of this material [money/kg]
    Returns:
        yield variance of this material, unfavourable positive [money]
    Limits: as of the mix variance; both add up to the usage variance
    Source: P. Dunn, Direct material mix and yield variance explained, PQ Magazine, Nov. 2020.

    >>> mix_yield_variance(104.0, 0.5, 50.0, 3.0)
    6.0
    """
    return quantity_variance(total_quantity * standard_share, standard_quantity, standard_price)


def budget_variance(spent: N, budget: N) -> N:
    """What was spent on fixed overhead above its budget.

        variance = spent - budget

    Args:
        spent: fixed overhead spent in the time [money]
        budget: fixed overhead budgeted for the time, a twelfth of the year's for a month [money]
    Returns:
        budget variance, unfavourable positive [money]
    Limits: both of the same station and time
    Source: common practice, recomputed from homework pages; OpenStax gives no formula for it.

    >>> budget_variance(57000.0, 50000.0)
    7000.0
    """
    return spent - budget


def absorption_variance(amount: N, rate: N, base: N) -> N:
    """Overhead above what a base absorbs: variable overhead spending, or fixed overhead volume.

        variance = amount - rate * base

    Args:
        amount: variable overhead spent, or fixed overhead budgeted [money]
        rate: standard overhead per unit of the base [money/h]
        base: the base as worked for spending, as the output should have taken for volume [h]
    Returns:
        spending or volume variance, unfavourable positive [money]
    Limits: all of the same station and time
    Source: OpenStax, Principles of Accounting vol. 2, 8.4 (variable overhead rate variance); volume
        by definition, as examinations in management accounting ask it.

    >>> absorption_variance(7000.0, 2.0, 2500.0)
    2000.0
    """
    return under_absorbed(amount, overhead_cost(rate, base))
