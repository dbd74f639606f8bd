"""Moulds: what a pull costs, how many pulls a mould gives and how many sets a demand needs."""

from __future__ import annotations

from quoter.figures import N, at_most, round_up

MONTHS_A_YEAR = 12.0


def pulls_to_write_off(life: N, pulls_per_year: N, years: N) -> N:
    """Pulls a mould's cost is spread over: what it lasts, or what is planned if that is less.

        pulls = min(life, pulls_per_year * years)

    Args:
        life: pulls the mould lasts [each]
        pulls_per_year: pulls planned in a year [each]
        years: years of the write-off [1]
    Returns:
        pulls that bear the cost [each]
    Limits: all above 0
    Source: common practice, no source; the careful one of the two bases.

    >>> pulls_to_write_off(500.0, 60.0, 5.0)
    300.0
    """
    return at_most(pulls_per_year * years, life)


def outlay(cost: N, refurbishment: N, salvage: N) -> N:
    """What a mould takes over its life and has to give back.

        outlay = cost + refurbishment - salvage

    Args:
        cost: cost of the mould or set [money]
        refurbishment: refurbishments over its life [money]
        salvage: what it fetches at its end [money]
    Returns:
        outlay [money]
    Limits: none
    Source: the depreciable amount, OpenStax, Principles of Accounting vol. 1, 11.3.

    >>> outlay(12000.0, 2000.0, 500.0)
    13500.0
    """
    return cost + refurbishment - salvage


def cost_per_pull(cost: N, refurbishment: N, salvage: N, pulls: N, upkeep: N) -> N:
    """What one pull bears of a mould, by units of production.

        cost per pull = (cost + refurbishment - salvage) / pulls + upkeep

    Args:
        cost: cost of the mould or set [money]
        refurbishment: refurbishments over its life [money]
        salvage: what it fetches at its end [money]
        pulls: pulls that bear the cost [each]
        upkeep: wax, release agent, polishing and repair per pull [money/each]
    Returns:
        cost per pull [money/each]
    Limits: pulls > 0
    Source: units-of-production depreciation, OpenStax, Principles of Accounting vol. 1, 11.3.

    >>> cost_per_pull(12000.0, 2000.0, 500.0, 300.0, 4.0)
    49.0
    """
    return outlay(cost, refurbishment, salvage) / pulls + upkeep


def pulls_per_year(weeks: N, week: N, taken: N, availability: N) -> N:
    """Pulls one mould can give in a year, one after the other.

        pulls = weeks * week / taken * availability

    Args:
        weeks: weeks a year in which the yard works [1]
        week: hours of a whole week, nights and weekend included, 168 h [h]
        taken: time by the clock from one pull to the next, nights and weekends included [h/each]
        availability: fraction of that time the mould is fit for use [1]
    Returns:
        pulls in a year [each]
    Limits: taken > 0 and 0 < availability <= 1; both clocks run through nights, since cures do
    Source: definition.

    >>> pulls_per_year(46.0, 168.0, 56.0, 0.75)
    103.5
    """
    return weeks * week / taken * availability


def sets_needed(demand: N, pulls: N) -> N:
    """Mould sets that meet a year's demand.

        sets = ceil(demand / pulls)

    Args:
        demand: parts needed in a year [each]
        pulls: pulls one set can give in a year [each]
    Returns:
        whole sets [1]
    Limits: pulls > 0; what is whole to nine places counts as whole
    Source: definition.

    >>> sets_needed(310.0, 150.0)
    3.0
    """
    return round_up(demand / pulls)


def pulls_displaced(units: N, extra: N, taken: N) -> N:
    """Pulls of a mould that a year's units of an option take, by keeping it longer.

        pulls = units * extra / taken

    Args:
        units: units of the option in a year [each]
        extra: time by the clock that each keeps the mould longer [h/each]
        taken: time by the clock from one pull to the next without the option [h/each]
    Returns:
        pulls that the mould gives less in a year [each]
    Limits: taken > 0
    Source: definition.

    >>> pulls_displaced(30.0, 42.0, 84.0)
    15.0
    """
    return units * extra / taken


def yearly_charge(cost: N, refurbishment: N, salvage: N, years: N) -> N:
    """What a mould costs a year, however little it is used.

        charge = (cost + refurbishment - salvage) / years

    Args:
        cost: purchase or building cost [money]
        refurbishment: all refurbishments over its life [money]
        salvage: value at the end [money]
        years: years to write off [1]
    Returns:
        charge a year [money]
    Limits: years > 0
    Source: straight-line depreciation, OpenStax, Principles of Accounting vol. 1, 11.3

    >>> yearly_charge(12000.0, 1000.0, 1000.0, 5.0)
    2400.0
    """
    return outlay(cost, refurbishment, salvage) / years


def units_to_bear(charge: N, contribution: N) -> N:
    """Units whose contribution bears a fixed charge.

        units = charge / contribution

    Args:
        charge: fixed cost to bear [money]
        contribution: contribution of one unit [money]
    Returns:
        units [1]
    Limits: contribution > 0
    Source: OpenStax, Principles of Accounting vol. 2, 3.2 (break-even point in units)

    >>> units_to_bear(18000.0, 80.0)
    225.0
    """
    return charge / contribution


def payback_months(invested: N, contribution: N, units_a_year: N) -> N:
    """Months until an outlay has come back at a steady volume; interest is left out.

        months = 12 * invested / (contribution * units_a_year)

    Args:
        invested: outlay, less what it fetches at its end [money]
        contribution: what one unit brings before it bears the outlay [money]
        units_a_year: units made in a year [1]
    Returns:
        months [1]
    Limits: contribution > 0 and units_a_year > 0
    Source: payback period, outlay over net cash flow of a year, OpenStax, Principles of
        Accounting vol. 2, 11.2 (from memory)

    >>> payback_months(10000.0, 50.0, 40.0)
    60.0
    """
    return MONTHS_A_YEAR * invested / (contribution * units_a_year)


def crossing_volume(fixed_first: N, each_first: N, fixed_later: N, each_later: N) -> N:
    """The volume from which the second of two ways to make a part costs less in all.

        volume = (fixed_later - fixed_first) / (each_first - each_later)

    Args:
        fixed_first: charge a year of the way that is cheaper at first [money]
        each_first: its cost of one unit without that charge [money]
        fixed_later: charge a year of the other [money]
        each_later: its cost of one unit without that charge [money]
    Returns:
        units a year [1]; at or below 0 where the other is cheaper from the first unit on
    Limits: each_first > each_later; both charges are of one set of tooling
    Source: crossover of two straight cost lines, as in operations management textbooks

    >>> crossing_volume(25000.0, 18.0, 50000.0, 10.0)
    3125.0
    """
    return (fixed_later - fixed_first) / (each_first - each_later)
