"""Gelcoat: the wet film on a face, and the cured one that it leaves in a cavity."""

from __future__ import annotations

from quoter.figures import N

# Of the wet film's thickness, what is left after cure (common practice, no source).
CURED_SHARE = 0.85


def film_mass(area: N, wet_thickness: N, density: N) -> N:
    """Gelcoat in the wet film on one face.

        film = area * wet_thickness * density

    Args:
        area: gelcoated area [m2]
        wet_thickness: thickness of the wet film [m]
        density: density of the wet gelcoat [kg/m3]
    Returns:
        film mass, no overspray [kg]
    Limits: 0.0004 <= wet_thickness <= 0.0009 (common practice, no source)
    Source: mass balance.

    >>> film_mass(2.0, 0.0005, 1250.0)
    1.25
    """
    return area * wet_thickness * density


def cured_thickness(wet_thickness: N, cured_share: N) -> N:
    """Thickness of a gelcoat film once it has cured.

        cured = wet_thickness * cured_share

    Args:
        wet_thickness: thickness of the wet film [m]
        cured_share: cured thickness / wet thickness; the area stays, so of volume as well [1]
    Returns:
        thickness of the cured film [m]
    Limits: 0.75 <= cured_share <= 0.95 (common practice, no source): styrene evaporates and the
        rest shrinks as it cures
    Source: definition.

    >>> round(cured_thickness(0.0006, 0.85), 9)
    0.00051
    """
    return wet_thickness * cured_share


def film_volume(area: N, cured_thickness: N) -> N:
    """Room that the cured film on one face takes of a cavity.

        volume = area * cured_thickness

    Args:
        area: gelcoated area [m2]
        cured_thickness: thickness of the cured film [m]
    Returns:
        volume of the cured film [m3]
    Limits: the film lies within the cavity
    Source: definition.

    >>> round(film_volume(2.0, 0.0004), 9)
    0.0008
    """
    return area * cured_thickness
