"""Mixing resin and gelcoat pot by pot: how much goes into one, how many there are, their dose."""

from __future__ import annotations

from quoter.figures import N, at_most, round_up


def rate_of_use(amount: N, time: N) -> N:
    """How fast the people at a step use up what is mixed for it.

        rate = amount / time

    Args:
        amount: all that is mixed for the step [kg]
        time: time by the clock in which it is laid, rest included [h]
    Returns:
        rate of use by the clock [kg/h]
    Limits: time > 0; as if it were used evenly all that time. Where it is used faster, the pots
        that follow are smaller than they need be, and none is too large
    Source: definition; even use is common practice, no source

    >>> rate_of_use(8.0, 2.0)
    4.0
    """
    return amount / time


def used_in_pot_life(rate: N, pot_life: N) -> N:
    """The most that can be laid before a pot that was mixed at once begins to gel.

        used = rate * pot_life

    Args:
        rate: rate of use by the clock [kg/h]
        pot_life: time from stirring in the catalyst until it can't be worked any more [h]
    Returns:
        largest pot by its life [kg]
    Limits: both above 0; pot life falls with warmth, dose and the size of the pot: the maker's data
        sheet and the day decide
    Source: definition; common practice, no source, is to mix no more than can be used in it

    >>> used_in_pot_life(6.0, 0.5)
    3.0
    """
    return rate * pot_life


def bucket_mass(bucket: N, density: N) -> N:
    """What the largest mix of one bucket weighs.

        mass = bucket * density

    Args:
        bucket: volume mixed at most in one bucket [m3]
        density: density of the liquid [kg/m3]
    Returns:
        largest pot by the bucket [kg]
    Limits: both above 0; before the catalyst
    Source: definition of density

    >>> bucket_mass(0.005, 1100.0)
    5.5
    """
    return bucket * density


def largest_pot(by_life: N, by_bucket: N) -> N:
    """The most that is mixed at once, where pot life and bucket both limit it.

        largest = min(by_life, by_bucket)

    Args:
        by_life: largest pot by its life [kg]
        by_bucket: largest pot by the bucket [kg]
    Returns:
        largest pot [kg]
    Limits: both above 0
    Source: definition

    >>> largest_pot(3.0, 5.5)
    3.0
    """
    return at_most(by_life, by_bucket)


def pots_needed(amount: N, largest: N) -> N:
    """How many pots a mix is parted into.

        pots = ceil(amount / largest)

    Args:
        amount: all that is to be mixed [kg]
        largest: the most that is mixed at once [kg]
    Returns:
        whole number of pots [1]
    Limits: largest > 0; what is whole to nine places is not rounded up
    Source: definition of division into whole lots

    >>> pots_needed(13.7, 4.2)
    4.0
    """
    return round_up(amount / largest)


def even_pot(amount: N, pots: N) -> N:
    """What goes into each pot when all are alike, so that one dose serves them all.

        pot = amount / pots

    Args:
        amount: all that is to be mixed [kg]
        pots: whole number of pots [1]
    Returns:
        amount of one pot [kg]
    Limits: more than 0 and no more than the largest pot, where `pots` is the number needed; full
        pots would leave a last one that may be too small to measure its catalyst
    Source: mass balance

    >>> round(even_pot(13.7, 4.0), 9)
    3.425
    """
    return amount / pots


def dose_volume(dose: N, density: N) -> N:
    """The volume of a dose of catalyst, for who measures it in a cup or a dispenser.

        volume = dose / density

    Args:
        dose: mass of the catalyst [kg]
        density: density of the catalyst [kg/m3]
    Returns:
        volume of the dose [m3]
    Limits: density > 0, as its data sheet has it at the shop's temperature
    Source: definition of density

    >>> dose_volume(0.055, 1100.0)
    5e-05
    """
    return dose / density
