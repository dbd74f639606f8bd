"""Organic HAP from open moulding by the point values of 40 CFR 63 Subpart VVVV.

An estimate, not a compliance record. A point value is kilograms of organic HAP per megagram of
resin or gelcoat applied; HAP is given in percent by mass as supplied. Resin injected into a closed
mould has no open-moulding emission (63.5728); gelcoat and skin coats applied before it do.
"""

from __future__ import annotations

from quoter.figures import N

KILOGRAMS_PER_MEGAGRAM = 1000.0
# What a yard gives off in a year, kg, that makes it a major source: 9.1 Mg of a single HAP or
# 22.7 Mg of all together. Source: 40 CFR 63 Subpart VVVV, Table 1, footnote 1.
MAJOR_SINGLE_HAP = 9100.0
MAJOR_COMBINED_HAP = 22700.0
# The kinds of material that the rule limits, in the order of `emission_limit`.
LIMITED = (
    "production resin",
    "pigmented gelcoat",
    "clear gelcoat",
    "tooling resin",
    "tooling gelcoat",
)


def resin_atomised(hap_percent: N) -> N:
    """Point value of production or tooling resin that is sprayed.

        point value = 0.014 * hap_percent^2.425

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1a.

    >>> round(resin_atomised(28.0), 2)
    45.24
    """
    result: N = 0.014 * hap_percent**2.425
    return result


def resin_atomised_bagged_rolled(hap_percent: N) -> N:
    """Point value of sprayed resin, rolled out and then vacuum-bagged.

        point value = 0.01185 * hap_percent^2.425

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1b.

    >>> round(resin_atomised_bagged_rolled(28.0), 2)
    38.29
    """
    result: N = 0.01185 * hap_percent**2.425
    return result


def resin_atomised_bagged(hap_percent: N) -> N:
    """Point value of sprayed resin, vacuum-bagged at once without roll-out.

        point value = 0.00945 * hap_percent^2.425

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1c.

    >>> round(resin_atomised_bagged(28.0), 2)
    30.53
    """
    result: N = 0.00945 * hap_percent**2.425
    return result


def resin_non_atomised(hap_percent: N) -> N:
    """Point value of production or tooling resin that is not sprayed.

        point value = 0.014 * hap_percent^2.275

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1d.

    >>> round(resin_non_atomised(35.0), 2)
    45.59
    """
    result: N = 0.014 * hap_percent**2.275
    return result


def resin_non_atomised_bagged_rolled(hap_percent: N) -> N:
    """Point value of resin not sprayed, rolled out and then vacuum-bagged.

        point value = 0.0110 * hap_percent^2.275

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1e.

    >>> round(resin_non_atomised_bagged_rolled(35.0), 2)
    35.82
    """
    result: N = 0.011 * hap_percent**2.275
    return result


def resin_non_atomised_bagged(hap_percent: N) -> N:
    """Point value of resin not sprayed, vacuum-bagged at once without roll-out.

        point value = 0.0076 * hap_percent^2.275

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 1f.

    >>> round(resin_non_atomised_bagged(35.0), 2)
    24.75
    """
    result: N = 0.0076 * hap_percent**2.275
    return result


def gelcoat_any_method(hap_percent: N) -> N:
    """Point value of pigmented, clear or tooling gelcoat, however applied.

        point value = 0.445 * hap_percent^1.675

    Args:
        hap_percent: organic HAP as supplied, percent by mass [1]
    Returns:
        point value, kilograms of HAP per megagram applied [1]
    Limits: 0 < hap_percent <= 100
    Source: 40 CFR 63 Subpart VVVV, Table 3, row 2.

    >>> round(gelcoat_any_method(33.0), 2)
    155.55
    """
    result: N = 0.445 * hap_percent**1.675
    return result


def emitted(mass: N, point_value: N) -> N:
    """Organic HAP that an applied material gives off.

        emitted = mass * point_value / 1000

    Args:
        mass: resin or gelcoat applied, lost or not [kg]
        point_value: kilograms of HAP per megagram applied [1]
    Returns:
        organic HAP [kg]
    Limits: no add-on control; a filled resin has a lower point value (63.5714)
    Source: 40 CFR 63.5710, equation 1.

    >>> emitted(200.0, 45.0)
    9.0
    """
    return mass * point_value / KILOGRAMS_PER_MEGAGRAM


def of_substance(emitted: N, content: N, hap: N) -> N:
    """The part of the organic HAP given off that is one substance.

        part = emitted * content / hap

    Args:
        emitted: organic HAP given off [kg]
        content: the substance as supplied, a mass fraction [1]
        hap: all organic HAP as supplied, a mass fraction [1]
    Returns:
        of this substance [kg]
    Limits: 0 < hap; substances that evaporate more readily give off more than their share
    Source: common practice, no source; the rule gives the total alone

    >>> of_substance(9.0, 0.04, 0.36)
    1.0
    """
    return emitted * content / hap


def emission_limit(
    production_resin: N,
    pigmented_gelcoat: N,
    clear_gelcoat: N,
    tooling_resin: N,
    tooling_gelcoat: N,
) -> N:
    """Organic HAP allowed from a year's open moulding.

        limit = (46 * production_resin + 159 * pigmented_gelcoat + 291 * clear_gelcoat
                 + 54 * tooling_resin + 214 * tooling_gelcoat) / 1000

    Args:
        production_resin: production resin applied in 12 months [kg]
        pigmented_gelcoat: pigmented gelcoat applied in 12 months [kg]
        clear_gelcoat: clear gelcoat applied in 12 months [kg]
        tooling_resin: tooling resin applied in 12 months [kg]
        tooling_gelcoat: tooling gelcoat applied in 12 months [kg]
    Returns:
        organic HAP allowed in 12 months [kg]
    Limits: exempt materials left out; no compliance record
    Source: 40 CFR 63.5698, equation 1, its masses in megagrams.

    >>> emission_limit(10000.0, 2000.0, 500.0, 100.0, 50.0)
    939.6
    """
    production = 46 * production_resin + 159 * pigmented_gelcoat + 291 * clear_gelcoat
    tooling = 54 * tooling_resin + 214 * tooling_gelcoat
    return (production + tooling) / KILOGRAMS_PER_MEGAGRAM
