"""Gelcoat: the wet film on a face."""

from __future__ import annotations

from quoter.figures import N


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
