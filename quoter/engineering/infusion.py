"""Vacuum infusion: a dry kit under a bag drinks resin until it is packed as the vacuum packs it.

The target decides how much resin stays; what core, flow medium, peel ply, lines and pot take comes
on top. Resin infused under a bag is closed moulding (40 CFR 63.5779, from memory), which has no
emission limit (63.5728); gelcoat and skin coats laid before it are open moulding.
"""

from __future__ import annotations

from quoter.engineering.losses import issued
from quoter.figures import N

# The least and the most that fibre takes of an infused laminate unless the policy says otherwise:
# 15 to 25 % for random mat, 40 to 55 % for woven, 60 % for stitched and 60 to 70 % for parallel
# fibres are typical (READ in lecture notes of a university on fibre volume and thickness), of which
# one atmosphere alone reaches less than a press.
LOWEST_FIBRE, HIGHEST_FIBRE = 0.20, 0.65


def glass_content(fibre_volume: N, glass_density: N, resin_density: N) -> N:
    """Glass content by mass of a laminate whose fibre volume is the target.

        content = fibre_volume * glass_density
                  / (fibre_volume * glass_density + (1 - fibre_volume) * resin_density)

    Args:
        fibre_volume: volume of the glass / volume of the laminate [1]
        glass_density: density of the glass itself [kg/m3]
        resin_density: density of the cured resin [kg/m3]
    Returns:
        glass mass / laminate mass [1]
    Limits: 0 < fibre_volume < 1; without voids
    Source: mass balance, as any lecture on composites has it.

    >>> glass_content(0.5, 2400.0, 1200.0) == 2 / 3
    True
    """
    fibres = fibre_volume * glass_density
    return fibres / (fibres + (1 - fibre_volume) * resin_density)


def packed_fibre_fraction(glass: N, resin: N, glass_density: N, resin_density: N) -> N:
    """Share of a cured laminate's volume that its fibres take.

        fraction = (glass / glass_density) / (glass / glass_density + resin / resin_density)

    Args:
        glass: dry glass in the laminate [kg]
        resin: resin between its fibres, without what a core takes [kg]
        glass_density: density of the glass itself [kg/m3]
        resin_density: density of the cured resin [kg/m3]
    Returns:
        fibre volume fraction [1]
    Limits: without voids; typically 0.15 to 0.25 for random mat, 0.40 to 0.55 for woven and 0.60
        for stitched glass (READ in lecture notes of a university)
    Source: volume balance.

    >>> packed_fibre_fraction(2.4, 1.2, 2400.0, 1200.0)
    0.5
    """
    fibres = glass / glass_density
    return fibres / (fibres + resin / resin_density)


def taken_up(amount: N, uptake: N) -> N:
    """Resin that a core, flow medium or peel ply takes up: in grooves, holes, cells and meshes.

        resin = amount * uptake

    Args:
        amount: how much of the core or consumable is laid [m2]
        uptake: resin that one of it takes, both faces together [kg/m2]
    Returns:
        resin [kg]
    Limits: uptake >= 0, as weighed on a trial panel; 0.3 to 1.5 kg/m2 for grooved and perforated
        foam, 0.3 to 0.8 for a flow medium (common practice, no source)
    Source: definition.

    >>> taken_up(2.0, 0.75)
    1.5
    """
    return amount * uptake


def issued_per_infusion(net: N, held: N, lines_and_pot: N, loss: N) -> N:
    """Resin issued for one infusion.

        issued = (net + held + lines_and_pot) / (1 - loss)

    Args:
        net: resin in the part, its core included [kg]
        held: resin in what is pulled off: flow medium and peel ply [kg]
        lines_and_pot: resin left in feed lines, pot and trap, per shot [kg]
        loss: fraction of the issued resin lost in mixing [1]
    Returns:
        resin issued [kg]
    Limits: 0 <= loss < 1
    Source: mass balance.

    >>> issued_per_infusion(7.0, 1.5, 0.5, 0.1)
    10.0
    """
    return issued(net + held + lines_and_pot, loss)


def covering(area: N, per_area: N, perimeter: N, per_perimeter: N) -> N:
    """What covers a part and reaches beyond its edge, such as a bag with its pleats and margin.

        amount = area * per_area + perimeter * per_perimeter

    Args:
        area: area of the part [m2]
        per_area: amount for each area covered, above 1 for overlaps and pleats [1]
        perimeter: length of its edge [m]
        per_perimeter: amount for each length of the edge, a margin's width for an area [m]
    Returns:
        amount [m2]
    Limits: all at least 0; corners of a margin are not counted
    Source: definition.

    >>> covering(2.0, 1.25, 6.0, 0.25)
    4.0
    """
    return area * per_area + perimeter * per_perimeter


def per_pull(amount: N, pulls: N) -> N:
    """What one pull uses up of something that is used again, such as a silicone bag.

        share = amount / pulls

    Args:
        amount: how much of it a pull needs [m2]
        pulls: pulls that it lasts [1]
    Returns:
        amount that one pull bears, so that its cost is price / pulls [m2]
    Limits: pulls >= 1
    Source: definition of an average.

    >>> per_pull(6.0, 40.0)
    0.15
    """
    return amount / pulls
