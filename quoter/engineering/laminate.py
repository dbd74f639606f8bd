"""Open-mould laminates: glass and resin of a ply, its thickness, the glass content of a stack."""

from __future__ import annotations

from quoter.figures import N


def overlap_factor(roll_width: N, overlap: N) -> N:
    """How much more glass is laid than the area shows, because strips overlap at their seams.

        factor = roll_width / (roll_width - overlap)

    Args:
        roll_width: width of the roll [m]
        overlap: overlap of neighbouring strips, 0 for butted ones [m]
    Returns:
        glass area laid / laminated area [1]
    Limits: 0 <= overlap < roll_width
    Source: definition; every strip covers its width less one overlap, as on a large surface.

    >>> overlap_factor(1.25, 0.25)
    1.25
    """
    return roll_width / (roll_width - overlap)


def glass_mass(area: N, overlap_factor: N, areal_mass: N) -> N:
    """Dry reinforcement in one ply.

        glass = area * overlap_factor * areal_mass

    Args:
        area: laminated area [m2]
        overlap_factor: glass area laid / laminated area [1]
        areal_mass: dry mass of the reinforcement per area [kg/m2]
    Returns:
        glass mass, no waste [kg]
    Limits: overlap_factor >= 1
    Source: mass balance.

    >>> round(glass_mass(10.0, 1.04, 0.45), 6)
    4.68
    """
    return area * overlap_factor * areal_mass


def resin_for_glass(glass: N, glass_content: N) -> N:
    """Resin that brings dry glass to a glass content by mass.

        resin = glass * (1 - glass_content) / glass_content

    Args:
        glass: dry glass mass [kg]
        glass_content: glass mass / laminate mass [1]
    Returns:
        resin mass, no waste [kg]
    Limits: 0 < glass_content <= 1; 0.2 to 0.7 in practice (common practice, no source)
    Source: mass balance (definition of the content); no empirical constant.

    >>> round(resin_for_glass(4.5, 0.30), 6)
    10.5
    """
    return glass * (1 - glass_content) / glass_content


def ply_thickness(areal_mass: N, glass_content: N, glass_density: N, resin_density: N) -> N:
    """Thickness of one cured ply, from the volumes of its glass and resin.

        thickness = areal_mass / glass_density
                    + areal_mass * (1 - glass_content) / (glass_content * resin_density)

    Args:
        areal_mass: dry mass of the reinforcement per area [kg/m2]
        glass_content: glass mass / laminate mass [1]
        glass_density: density of the glass itself [kg/m3]
        resin_density: density of the cured resin [kg/m3]
    Returns:
        thickness without voids [m]
    Limits: 0 < glass_content <= 1
    Source: volume balance; at 2560 and 1200 kg/m3 it is the form of ISO 12215-5,
        (w / 3.072) (2.56 / psi - 1.36) (from memory).

    >>> round(ply_thickness(0.450, 0.30, 2560.0, 1200.0), 9)
    0.001050781
    """
    resin = areal_mass * (1 - glass_content) / glass_content
    return areal_mass / glass_density + resin / resin_density


def catalyst_mass(resin_issued: N, fraction: N) -> N:
    """Peroxide catalyst for a resin or gelcoat: dosed on all that is issued, lost or not.

        catalyst = resin_issued * fraction

    Args:
        resin_issued: resin or gelcoat issued [kg]
        fraction: catalyst mass / resin mass [1]
    Returns:
        catalyst mass [kg]
    Limits: 0.01 <= fraction <= 0.03 (common practice, no source); the safety data sheet and the
        resin maker's data sheet decide
    Source: definition.

    >>> catalyst_mass(12.0, 0.02)
    0.24
    """
    return resin_issued * fraction


def mixed_glass_content(mat_share: N, all_woven: N, mat_slope: N) -> N:
    """Glass content of mat and woven roving laid together, by the share of mat.

        content = all_woven - mat_slope * mat_share

    Args:
        mat_share: mat mass / mass of mat and woven roving [1]
        all_woven: glass content at no mat [1]
        mat_slope: how much the content falls from no mat to all mat [1]
    Returns:
        glass mass / laminate mass [1]
    Limits: 0 <= mat_share <= 1 and mat_slope < all_woven; of mat and woven roving alone, since
        stitched multiaxial and unidirectional glass have contents of their own
    Source: ISO 12215-5:2008 gives 0.46 - 0.18 R for simple hand lay-up, and apart from it 0.50 for
        multiaxial and 0.55 for unidirectional glass (from memory).

    >>> round(mixed_glass_content(0.5, 0.46, 0.18), 6)
    0.37
    """
    return all_woven - mat_slope * mat_share
