"""Closed moulds filled by resin under vacuum: the cavity decides how much resin goes in."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.engineering.losses import issued
from quoter.figures import N, at_least, at_most, total

# The most a vacuum can clamp with, exact by definition.
STANDARD_ATMOSPHERE_PA = 101325.0


def free_volume(cavity: N, films: N, core: N) -> N:
    """Volume left in a cavity for glass and resin.

        free = cavity - films - core

    Args:
        cavity: volume between the closed mould faces, as they are without gelcoat [m3]
        films: volume of the cured gelcoat films on the faces [m3]
        core: volume of the core placed in it [m3]
    Returns:
        free volume [m3]
    Limits: films and core at least 0, and together less than the cavity
    Source: volume balance.

    >>> round(free_volume(0.018, 0.001, 0.012), 9)
    0.005
    """
    return cavity - films - core


def fibre_volume(glass: N, glass_density: N) -> N:
    """Volume of the glass itself, without the gaps between its fibres.

        volume = glass / glass_density

    Args:
        glass: dry glass mass in the cavity [kg]
        glass_density: density of the glass itself [kg/m3]
    Returns:
        fibre volume [m3]
    Limits: E-glass has 2540 to 2560 kg/m3
    Source: definition.

    >>> fibre_volume(1.28, 2560.0)
    0.0005
    """
    return glass / glass_density


def fibre_volume_fraction(fibre_volume: N, free_volume: N) -> N:
    """Share of the free volume that fibres take.

        fraction = fibre_volume / free_volume

    Args:
        fibre_volume: volume of the glass itself [m3]
        free_volume: cavity less gelcoat films and core [m3]
    Returns:
        fibre volume fraction [1]
    Limits: 0.10 to 0.30 under vacuum alone (common practice, no source): above it the mould won't
        close or fill, below it the laminate is rich in resin
    Source: definition.

    >>> fibre_volume_fraction(0.0005, 0.004)
    0.125
    """
    return fibre_volume / free_volume


def injected_resin(free_volume: N, fibre_volume: N, liquid_density: N) -> N:
    """Resin that fills what gelcoat, core and fibres leave.

        resin = (free_volume - fibre_volume) * liquid_density

    Args:
        free_volume: cavity less gelcoat films and core [m3]
        fibre_volume: volume of the glass itself [m3]
        liquid_density: density of the resin as injected, lower than cured [kg/m3]
    Returns:
        resin in the part [kg]
    Limits: fibre_volume < free_volume; the cavity is full, without voids
    Source: volume balance.

    >>> round(injected_resin(0.004, 0.0005, 1100.0), 6)
    3.85
    """
    return (free_volume - fibre_volume) * liquid_density


def thickest_films(films: Sequence[N], none: N) -> N:
    """Gelcoat on both faces where it lies thickest: the two thickest films of a panel.

        both = max_i(film_i) + second of them

    Args:
        films: thickness of each cured film [m]
        none: what no film gives, 0 [m]
    Returns:
        thickness of gelcoat between the mould faces [m]
    Limits: at one place a film lies on either face, and no more than two; a film that covers a
        part of its face only may lie anywhere
    Source: definition.

    >>> round(thickest_films([0.0004, 0.0005, 0.0003], 0.0), 9)
    0.0009
    """
    if len(films) < 3:
        return total(films, none)
    first, second = films[0], none
    for film in films[1:]:
        second = at_least(second, at_most(first, film))
        first = at_least(first, film)
    return first + second


def issued_per_shot(net: N, gallery_and_catch_pot: N, loss: N) -> N:
    """Resin issued for one injection.

        issued = (net + gallery_and_catch_pot) / (1 - loss)

    Args:
        net: resin in the part [kg]
        gallery_and_catch_pot: resin left in the gallery and the catch-pot, per shot [kg]
        loss: fraction of the issued resin lost in mixing and purging [1]
    Returns:
        resin issued [kg]
    Limits: 0 <= loss < 1
    Source: mass balance.

    >>> issued_per_shot(3.85, 0.65, 0.1)
    5.0
    """
    return issued(net + gallery_and_catch_pot, loss)


def clamp_force(flange_pressure: N, flange_area: N, cavity_pressure: N, cavity_area: N) -> N:
    """Force that vacuum closes the moulds with.

        force = flange_pressure * flange_area + cavity_pressure * cavity_area

    Args:
        flange_pressure: pressure below the atmosphere in the flange channel [Pa]
        flange_area: area of the flange channel [m2]
        cavity_pressure: pressure below the atmosphere in the cavity [Pa]
        cavity_area: projected area of the cavity [m2]
    Returns:
        force [N]
    Limits: 0 to 101325 Pa each: a vacuum clamps with one standard atmosphere at most; local codes
        and licensed practice decide on vacuum equipment
    Source: definition of pressure; force balance.

    >>> clamp_force(90000.0, 0.12, 50000.0, 1.0)
    60800.0
    """
    return flange_pressure * flange_area + cavity_pressure * cavity_area
