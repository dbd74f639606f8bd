"""Organic HAP that resin and gelcoat give off where they are applied openly.

An estimate by point values, not a compliance record. What is scrapped or lost counts: the rule
goes by what is applied.
"""

from __future__ import annotations

from quoter.catalogue.materials import Gelcoat, Resin
from quoter.costing.quantities import GivenOff
from quoter.engineering import emissions
from quoter.figures import Figure

PERCENT = 100.0
STYRENE = "styrene"
RESIN, GELCOAT = "production resin", "pigmented gelcoat"


def given_off(material: Resin | Gelcoat, issued: Figure, key: str, label: str) -> GivenOff:
    """What a gelcoat, or a resin laid by hand in an open mould, gives off.

    Args:
        material: the resin or gelcoat
        issued: how much of it is applied [kg]
        key: begins the keys of the figures made here
        label: begins their labels
    """
    coat = isinstance(material, Gelcoat)
    limited_as = GELCOAT if coat else RESIN
    if material.styrene is None:
        return GivenOff(limited_as, issued)
    by = emissions.gelcoat_any_method if coat else emissions.resin_non_atomised
    point_value = by(material.styrene * PERCENT)
    point_value = point_value.named(f"{key}.point_value", f"{label}, HAP per megagram")
    gas = emissions.emitted(issued, point_value)
    gas = gas.named(f"{key}.emission", f"{label}, organic HAP")
    return GivenOff(limited_as, issued, gas, {STYRENE: gas})
