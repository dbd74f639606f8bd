"""Spray-up: roving chopped and thrown on the mould by a gun, together with its resin.

What misses the part is a loss of what is issued, of glass and resin alike (`losses.issued`).
"""

from __future__ import annotations

from quoter.figures import N


def areal_mass_of_thickness(
    thickness: N, glass_content: N, glass_density: N, resin_density: N
) -> N:
    """Glass that a gun lays by area to make a laminate of a thickness.

        areal_mass = thickness
                     / (1 / glass_density + (1 - glass_content) / (glass_content * resin_density))

    Args:
        thickness: laid thickness after roll-out and cure [m]
        glass_content: glass mass / laminate mass [1]
        glass_density: density of the glass itself [kg/m3]
        resin_density: density of the cured resin [kg/m3]
    Returns:
        dry glass by area [kg/m2]
    Limits: 0 < glass_content <= 1; without voids, which roll-out takes out. Sprayed laminates have
        25 to 35 % glass by mass (READ in an equipment maker's guide to spray-up)
    Source: volume balance; the thickness of a ply, turned round.

    >>> round(areal_mass_of_thickness(0.001050781, 0.30, 2560.0, 1200.0), 6)
    0.45
    """
    resin = (1 - glass_content) / (glass_content * resin_density)
    return thickness / (1 / glass_density + resin)


def laminate_mass(glass: N, glass_content: N) -> N:
    """Laminate that a mass of glass makes with its resin: what a gun's output is told in.

        laminate = glass / glass_content

    Args:
        glass: dry glass mass [kg]
        glass_content: glass mass / laminate mass [1]
    Returns:
        glass and resin together [kg]
    Limits: 0 < glass_content <= 1
    Source: definition of the content.

    >>> round(laminate_mass(4.5, 0.30), 9)
    15.0
    """
    return glass / glass_content
