"""Two-part foam: what is injected into a cavity, its components, and what it floats."""

from __future__ import annotations

from quoter.figures import N


def packed_density(free_rise_density: N, packing_factor: N) -> N:
    """Density of foam that rose in a closed cavity.

        packed = free_rise_density * packing_factor

    Args:
        free_rise_density: density of the foam when it rises freely [kg/m3]
        packing_factor: moulded density / free-rise density [1]
    Returns:
        moulded density [kg/m3]
    Limits: packing_factor >= 1, else the cavity is not filled
    Source: definition of the packing factor, as foam patents give it.

    >>> packed_density(36.0, 1.5)
    54.0
    """
    return free_rise_density * packing_factor


def foam_mass(volume: N, free_rise_density: N, packing_factor: N) -> N:
    """Foam injected so that it fills a cavity at its packed density.

        foam = volume * free_rise_density * packing_factor

    Args:
        volume: volume of the cavity [m3]
        free_rise_density: density of the foam when it rises freely [kg/m3]
        packing_factor: moulded density / free-rise density [1]
    Returns:
        foam mass, no waste [kg]
    Limits: packing_factor >= 1, else the cavity is not filled
    Source: mass balance; moulded density = injected mass / volume, as foam patents give it.

    >>> foam_mass(0.02, 36.0, 1.5)
    1.08
    """
    return volume * packed_density(free_rise_density, packing_factor)


def component_share(parts: N, other_parts: N) -> N:
    """Share of one component in a two-part mix.

        share = parts / (parts + other_parts)

    Args:
        parts: parts by mass of this component [1]
        other_parts: parts by mass of the other component [1]
    Returns:
        component mass / mixed mass [1]
    Limits: a ratio by volume is first turned into one by mass with the densities
    Source: definition.

    >>> component_share(100.0, 150.0)
    0.4
    """
    return parts / (parts + other_parts)


def buoyancy(volume: N, foam_density: N, water_density: N) -> N:
    """Mass that submerged foam carries besides itself.

        buoyancy = volume * (water_density - foam_density)

    Args:
        volume: volume of the foam [m3]
        foam_density: density of the foam in place [kg/m3]
        water_density: density of the water, 1000 for fresh water [kg/m3]
    Returns:
        mass carried [kg]
    Limits: foam that takes up no water; no proof of flotation, which local rules ask for
    Source: Archimedes' principle; the boatbuilder's handbook to 33 CFR 183 uses the same
        difference per cubic foot.

    >>> buoyancy(0.05, 40.0, 1000.0)
    48.0
    """
    return volume * (water_density - foam_density)
