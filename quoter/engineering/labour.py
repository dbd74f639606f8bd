"""Labour: from the time an operation takes to the hours paid and what they cost."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.figures import N, at_least, dot


def run_time(fixed: N, rates: Sequence[N], drivers: Sequence[N]) -> N:
    """Time one unit takes at an operation, set-up aside.

        time = fixed + sum(rate_i * driver_i)

    Args:
        fixed: time whatever the size of the part [h]
        rates: time per unit of each driver; for an area [h/m2]
        drivers: amount of each driver; for an area [m2]
    Returns:
        normal time per unit [h]
    Raises:
        ValueError: when the two lists differ in length
    Limits: each rate times its driver gives hours; rate and driver stand in the same order
    Source: definition; linear in its drivers (common practice, no source).

    >>> run_time(0.5, [0.25, 0.5], [2.0, 3.0])
    2.5
    """
    if not len(rates) and not len(drivers):
        return fixed
    return fixed + dot(rates, drivers)


def setup_per_unit(setup: N, batch: N) -> N:
    """Set-up time each unit of a batch bears.

        time = setup / batch

    Args:
        setup: set-up time of the batch [h]
        batch: units that share the set-up [1]
    Returns:
        set-up time per unit [h]
    Limits: batch >= 1
    Source: definition.

    >>> setup_per_unit(2.0, 8.0)
    0.25
    """
    return setup / batch


def crew_hours(hours: N, crew: N) -> N:
    """Labour hours of a crew that works together.

        labour = hours * crew

    Args:
        hours: time by the clock [h]
        crew: people at work for that time [1]
    Returns:
        labour hours [h]
    Limits: crew > 0
    Source: definition.

    >>> crew_hours(1.5, 2.0)
    3.0
    """
    return hours * crew


def standard_on_work(normal: N, allowance: N) -> N:
    """Standard time when the allowance is a fraction of the work time.

        standard = normal * (1 + allowance)

    Args:
        normal: normal time [h]
        allowance: allowed time / work time [1]
    Returns:
        standard time [h]
    Limits: allowance >= 0
    Source: Handbook of Industrial Engineering, time standards.

    >>> round(standard_on_work(1.0, 0.11), 6)
    1.11
    """
    return normal * (1 + allowance)


def standard_on_shift(normal: N, allowance: N) -> N:
    """Standard time when the allowance is a fraction of the shift.

        standard = normal / (1 - allowance)

    Args:
        normal: normal time [h]
        allowance: allowed time / shift time [1]
    Returns:
        standard time [h]
    Limits: 0 <= allowance < 1
    Source: Handbook of Industrial Engineering, time standards.

    >>> round(standard_on_shift(1.0, 0.11), 6)
    1.123596
    """
    return normal / (1 - allowance)


def paid_hours(expected: N, efficiency: N) -> N:
    """Hours paid for the expected ones at a station's efficiency.

        paid = expected / efficiency

    Args:
        expected: expected labour hours [h]
        efficiency: hours earned / hours paid [1]
    Returns:
        paid hours [h]
    Limits: efficiency > 0
    Source: definition of labour efficiency.

    >>> paid_hours(3.4, 0.85)
    4.0
    """
    return expected / efficiency


def labour_rate(wage: N, on_costs: N) -> N:
    """Cost of a paid hour with what the employer pays on top.

        rate = wage * (1 + on_costs)

    Args:
        wage: wage per paid hour [money/h]
        on_costs: employer's charges, holidays and the like / wage [1]
    Returns:
        cost of a paid hour [money/h]
    Limits: on_costs >= 0
    Source: definition.

    >>> labour_rate(24.0, 0.5)
    36.0
    """
    return wage * (1 + on_costs)


def labour_cost(paid_hours: N, rate: N) -> N:
    """Cost of paid hours.

        cost = paid_hours * rate

    Args:
        paid_hours: paid labour hours [h]
        rate: cost of a paid hour [money/h]
    Returns:
        labour cost [money]
    Limits: paid_hours >= 0
    Source: definition.

    >>> labour_cost(4.0, 36.0)
    144.0
    """
    return paid_hours * rate


def hours_above(hours: N, normal: N) -> N:
    """Hours that are worked beyond the normal ones.

        above = max(hours - normal, 0)

    Args:
        hours: paid hours that the work takes [h]
        normal: paid hours that are worked in normal time [h]
    Returns:
        hours above them [h]
    Limits: none
    Source: definition.

    >>> hours_above(46.0, 40.0)
    6.0
    """
    return at_least(hours - normal, 0 * normal)


def premium_cost(hours: N, rate: N, premium: N) -> N:
    """What hours outside normal time cost on top of their normal pay.

        cost = hours * rate * premium

    Args:
        hours: paid hours in overtime or in a second shift [h]
        rate: cost of a paid hour in normal time [money/h]
        premium: what is paid on top, as a fraction of that rate [1]
    Returns:
        premium, without the normal pay of these hours [money]
    Limits: hours >= 0 and premium >= 0
    Source: overtime pay of 29 CFR 778.110 (from memory): half the rate on top, for each hour above.

    >>> premium_cost(6.0, 12.0, 0.5)
    36.0
    """
    return hours * rate * premium
