"""The shift calendar: work stands still at night and over the weekend, a cure runs on.

Time is counted in hours by the clock from the first shift of a week. A working day is one stretch,
so that two shifts follow each other; the working days of a week follow each other, too.
"""

from __future__ import annotations

from quoter.figures import N, at_least, at_most, round_down, round_up


def hours_worked(time: N, shift: N, days: N, day: N) -> N:
    """Hours worked from the first shift of a week until a time by the clock.

        week = 7 * day; weeks = floor(time / week); today = floor((time - weeks * week) / day)
        worked = weeks * days * shift + min(today * shift + min(rest of today, shift), days * shift)

    Args:
        time: time by the clock since a week's first shift began [h]
        shift: hours worked on a working day, all shifts together [h]
        days: working days a week [1]
        day: hours of a whole day, 24 h [h]
    Returns:
        hours worked until then [h]
    Limits: time >= 0, 0 < shift <= day and 1 <= days <= 7
    Source: definition.

    >>> hours_worked(27.0, 8.0, 5.0, 24.0), hours_worked(150.0, 8.0, 5.0, 24.0)
    (11.0, 40.0)
    """
    weeks = round_down(time / (7 * day))
    in_week = time - 7 * weeks * day
    today = round_down(in_week / day)
    this_week = today * shift + at_most(in_week - today * day, shift)
    return weeks * days * shift + at_most(this_week, days * shift)


def time_worked(worked: N, shift: N, days: N, day: N) -> N:
    """The time by the clock at which so many hours have been worked.

        whole = ceil(worked / shift) - 1
        time = whole * day + (worked - whole * shift) + floor(whole / days) * (7 - days) * day

    Args:
        worked: hours worked since a week's first shift began [h]
        shift: hours worked on a working day, all shifts together [h]
        days: working days a week [1]
        day: hours of a whole day, 24 h [h]
    Returns:
        time by the clock [h]
    Limits: worked > 0, 0 < shift <= day and days a whole number of 1 to 7
    Source: definition; the inverse of hours_worked. Work that ends with a shift ends that evening.

    >>> time_worked(11.0, 8.0, 5.0, 24.0), time_worked(40.0, 8.0, 5.0, 24.0)
    (27.0, 104.0)
    """
    whole = round_up(worked / shift) - 1
    rest = worked - whole * shift
    return whole * day + rest + round_down(whole / days) * (7 - days) * day


def after_work(time: N, work: N, shift: N, days: N, day: N) -> N:
    """When work that begins at a time ends by the clock: it waits for shifts and goes on in them.

        end = max(time, time_worked(hours_worked(time) + work))

    Args:
        time: time by the clock since a week's first shift began, when work may begin [h]
        work: hours of work by those who do it together [h]
        shift: hours worked on a working day, all shifts together [h]
        days: working days a week [1]
        day: hours of a whole day, 24 h [h]
    Returns:
        time by the clock when it is done [h]
    Limits: time >= 0, work >= 0, 0 < shift <= day and days a whole number of 1 to 7
    Source: definition.

    >>> after_work(6.0, 3.0, 8.0, 5.0, 24.0)
    25.0
    """
    worked = hours_worked(time, shift, days, day) + work
    return at_least(time_worked(worked, shift, days, day), time)


def working_day(worked: N, shift: N) -> N:
    """Which working day it is once so many hours have been worked: what follows falls on it.

        day = floor(worked / shift) + 1

    Args:
        worked: hours worked before it since a week's first shift began [h]
        shift: hours worked on a working day, all shifts together [h]
    Returns:
        number of the working day, 1 for the first [1]
    Limits: worked >= 0, shift > 0
    Source: definition. Work that begins when a shift is over begins with the next one.

    >>> working_day(7.5, 8.0), working_day(8.0, 8.0)
    (1.0, 2.0)
    """
    return round_down(worked / shift) + 1
