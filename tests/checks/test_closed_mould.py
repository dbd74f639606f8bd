"""Closed moulds, vacuum and foam against published and derived values."""

from __future__ import annotations

import math

import pint
import pytest

from quoter.engineering.closed_mould import (
    STANDARD_ATMOSPHERE_PA,
    clamp_force,
    fibre_volume,
    fibre_volume_fraction,
    free_volume,
    injected_resin,
    issued_per_shot,
    thickest_films,
)
from quoter.engineering.core import buoyancy, component_share, foam_mass, packed_density
from quoter.engineering.gelcoat import cured_thickness, film_volume
from quoter.engineering.laminate import ply_thickness, resin_for_glass
from quoter.units import quantity
from tests.checks import table
from tests.checks.table import Check

VOLUMES = "volume balance at 2.56 and 1.20 t/m3, by hand"
MASSES = "mass balance, by hand"
PRESSURE = "definition of pressure, by hand"
ATMOSPHERE = "standard atmosphere 101325 Pa, exact"
PACKING = "moulded density and packing factor as patents on foam define them"
POUR = "a pour system's data sheet: mixed 1:1, free rise 36 kg/m3"
FLOTATION = "boatbuilder's handbook to 33 CFR 183: B = 62.4 - weight of foam per ft3"
# [(Wh K) + Wd] / B with Wh = 1500 lb of FRP, K = 0.33, Wd = 200 lb and 2 lb/ft3 foam, by hand.
FLOTATION_VOLUME = "11.506623 ft3"

# Faces of a square metre, 0.5 mm of wet gelcoat on each that cures to four fifths.
CURED = (cured_thickness, "0.5 mm", "80 %")
COATED = (free_volume, "3.8 L", (film_volume, "2 m2", CURED), "0 L")
FREE = (free_volume, "3.0 L", "0 L", "0 L")
FIBRES = (fibre_volume, "0.90 kg", "2.56 t/m3")
RESIN = (injected_resin, FREE, FIBRES, "1.20 t/m3")
PLY = (ply_thickness, "450 g/m2", "0.25", "2.56 t/m3", "1.20 t/m3")

CHECKS = (
    Check((fibre_volume_fraction, FIBRES, FREE), "0.1172", VOLUMES, "derived"),
    Check(RESIN, "3.178 kg", VOLUMES, "derived"),
    Check((resin_for_glass, "0.90 kg", "0.2207"), "3.178 kg", VOLUMES, "derived"),
    Check((free_volume, "18 L", "0 L", "12 L"), "6 L", VOLUMES, "derived", exact=True),
    Check(CURED, "0.4 mm", "definition, by hand", "derived"),
    Check((film_volume, "2 m2", CURED), "0.8 L", VOLUMES, "derived"),
    Check((thickest_films, [CURED, "0.3 mm", "0.5 mm"], "0 mm"), "0.9 mm", VOLUMES, "derived"),
    Check(COATED, "3.0 L", VOLUMES, "derived"),
    Check((injected_resin, COATED, FIBRES, "1.20 t/m3"), "3.178 kg", VOLUMES, "derived"),
    Check((fibre_volume, "2.56 kg", "2.56 t/m3"), "1 L", VOLUMES, "derived", exact=True),
    Check((issued_per_shot, "3.85 kg", "0.65 kg", "10 %"), "5 kg", MASSES, "derived", exact=True),
    Check((clamp_force, "0 Pa", "0 m2", "50 kPa", "1 m2"), "50 kN", PRESSURE, "derived", True),
    Check((clamp_force, "90 kPa", "0.12 m2", "0 Pa", "1 m2"), "10.8 kN", PRESSURE, "derived", True),
    Check(
        (clamp_force, "90 kPa", "0.12 m2", "50 kPa", "1 m2"), "60.8 kN", PRESSURE, "derived", True
    ),
    # 10,000 lbf is 44.4822 kN.
    Check(
        (clamp_force, "101325 Pa", "680.46 in2", "0 Pa", "0 m2"), "44.482 kN", ATMOSPHERE, "derived"
    ),
    Check(
        (clamp_force, "101325 Pa", "0.4390 m2", "0 Pa", "0 m2"), "44.48 kN", ATMOSPHERE, "derived"
    ),
    Check((packed_density, "36 kg/m3", "1.5"), "54 kg/m3", PACKING, "derived", exact=True),
    Check((packed_density, "2.0 lb/ft3", "1"), "32.037 kg/m3", "exact conversion", "derived"),
    Check((foam_mass, "20 L", "36 kg/m3", "1.5"), "1.08 kg", PACKING, "derived", exact=True),
    Check((component_share, "1", "1"), "50 %", POUR, "derived", exact=True),
    Check((component_share, "100", "150"), "40 %", MASSES, "derived", exact=True),
    Check((buoyancy, "1 ft3", "2 lb/ft3", "62.4 lb/ft3"), "60.4 lb", FLOTATION, "derived", True),
    Check(
        (buoyancy, FLOTATION_VOLUME, "2 lb/ft3", "62.4 lb/ft3"), "695.0000 lb", FLOTATION, "derived"
    ),
    Check((buoyancy, "1 m3", "40 kg/m3", "1000 kg/m3"), "960 kg", MASSES, "derived", exact=True),
)


@table.each(CHECKS)
def test_closed_mould(check: Check) -> None:
    table.verify(check)


@pytest.mark.parametrize(
    ("text", "tolerance"), [("14.69595 psi", 0.5e-5), ("29.9213 inHg", 0.5e-4)]
)
def test_a_vacuum_clamps_with_one_standard_atmosphere_at_most(text: str, tolerance: float) -> None:
    """Exact by definition; its value in other units is derived."""
    given = quantity(text)
    assert abs(STANDARD_ATMOSPHERE_PA / float(given.factor) - given.number) <= tolerance


def test_the_standard_atmosphere_is_that_of_pint() -> None:
    atmosphere = pint.UnitRegistry().Quantity(1.0, "standard_atmosphere")
    assert math.isclose(atmosphere.to("pascal").magnitude, STANDARD_ATMOSPHERE_PA, rel_tol=1e-15)


@pytest.mark.parametrize(
    ("films", "both"),
    [([], 0.0), ([0.4], 0.4), ([0.4, 0.5], 0.9), ([0.4, 0.5, 0.3], 0.9), ([0.3, 0.4, 0.5], 0.9),
     ([0.5, 0.5, 0.5], 1.0), ([0.5, 0.1, 0.2, 0.4], 0.9)],
)  # fmt: skip
def test_no_place_of_a_cavity_has_more_than_two_films(films: list[float], both: float) -> None:
    """By hand: a film lies on either face, so the two thickest are the most there can be."""
    assert thickest_films(films, 0.0) == pytest.approx(both, rel=1e-12)
