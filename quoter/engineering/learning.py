"""Learning curves of two kinds that must never be mixed.

`unit_...` is the unit model (Crawford): the time of the n-th unit is T1 n^b. `cumulative_...` is
the cumulative-average model (Wright): the average time of the first n units is T1 n^b.
"""

from __future__ import annotations

import math

from quoter.figures import N, ln, power_sum


def learning_exponent(slope: N) -> N:
    """Exponent b of a learning curve.

        b = ln(slope) / ln(2)

    Args:
        slope: time after a doubling of the quantity / time before it [1]
    Returns:
        exponent, negative or 0 [1]
    Limits: 0.5 < slope <= 1
    Source: definition of the slope: 2^b = slope.

    >>> round(learning_exponent(0.8), 6)
    -0.321928
    """
    return ln(slope) / math.log(2)


def first_unit_time(time_at_reference: N, reference: N, exponent: N) -> N:
    """Time of the first unit, from a standard set at a later one.

        T1 = time_at_reference / reference^b

    Args:
        time_at_reference: unit time, or cumulative average, at the reference unit [h]
        reference: number of the unit the standard was set at [1]
        exponent: exponent b of the curve [1]
    Returns:
        time of the first unit [h]
    Limits: reference >= 1
    Source: definition, solved for T1; the same for both models.

    >>> round(first_unit_time(32.0, 4.0, -0.321928), 3)
    50.0
    """
    result: N = time_at_reference / reference**exponent
    return result


def unit_lot_average(first: N, start: N, end: N, exponent: N) -> N:
    """Average time of the units of a lot by the unit model.

        average = first * sum(n^b for n = start .. end) / (end - start + 1)

    Args:
        first: time of the first unit [h]
        start: number of the lot's first unit, counted from 1 [1]
        end: number of the lot's last unit [1]
        exponent: exponent b of the curve [1]
    Returns:
        average time per unit of the lot [h]
    Limits: whole numbers, 1 <= start <= end; a lot of one unit has that unit's time, first * n^b
    Source: definition of the unit model (Crawford), summed exactly.

    >>> round(unit_lot_average(100.0, 1.0, 10.0, -0.321928), 3)
    63.154
    """
    return first * power_sum(start, end, exponent) / (end - start + 1)


def cumulative_total_time(first: N, units: N, exponent: N) -> N:
    """Time of all units so far by the cumulative-average model.

        total = first * n^(1 + b)

    Args:
        first: time of the first unit [h]
        units: number n of units made [1]
        exponent: exponent b of the curve [1]
    Returns:
        total time of the first n units [h]
    Limits: units >= 0; b > -1, that is a slope above 0.5
    Source: definition of the cumulative-average model (Wright), times n.

    >>> round(cumulative_total_time(1000.0, 4.0, -0.321928), 1)
    2560.0
    """
    result: N = first * units ** (1 + exponent)
    return result


def cumulative_lot_average(first: N, start: N, end: N, exponent: N) -> N:
    """Average time of the units of a lot by the cumulative-average model.

        average = (total(end) - total(start - 1)) / (end - start + 1)

    Args:
        first: time of the first unit [h]
        start: number of the lot's first unit, counted from 1 [1]
        end: number of the lot's last unit [1]
        exponent: exponent b of the curve [1]
    Returns:
        average time per unit of the lot [h]
    Limits: 1 <= start <= end; b > -1, that is a slope above 0.5; from the first unit on it is the
        cumulative average, first * n^b
    Source: definition of the cumulative-average model (Wright), as a difference of totals.

    >>> round(cumulative_lot_average(1000.0, 3.0, 4.0, -0.321928), 1)
    480.0
    """
    before = cumulative_total_time(first, start - 1, exponent)
    return (cumulative_total_time(first, end, exponent) - before) / (end - start + 1)
