"""What a material costs landed: supplier's unit, currency, freight, duty and pack."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.catalogues.written import priced, write_catalogue
from tests.demo import demo

LB, GAL = 0.45359237, 3.785411784e-3  # kg and m3, exact
CLOSE = 1e-12

# material, worked by hand from the demo's files: price / rate x (1 + freight) x (1 + duty)
LANDED = [
    ("resin_lam", 3.48 * 1.03, "EUR/kg"),
    ("resin_inj", 2.14 / LB / 1.075 * 1.07 * 1.03, "EUR/kg"),
    ("gel_grey", 45.10 / (GAL * 1260) / 1.075 * 1.07 * 1.03, "EUR/kg"),
    ("core_iso", 2.83 / LB / 1.075 * 1.07 * 1.03, "EUR/kg"),
    ("hinge", 415 / 11.68 * 1.04, "EUR"),
    ("seal", 57 / 11.68 * 1.04, "EUR/m"),
    ("tread", 1150 / 11.68 * 1.04, "EUR/m2"),
    ("bolts", 690 / 100 / 11.68 * 1.04, "EUR"),
    ("sealant", 16.50 * 1.03, "EUR/kg"),
]


@pytest.mark.parametrize(("material", "landed", "in_unit"), LANDED, ids=[r[0] for r in LANDED])
def test_landed_prices_of_the_demo(material: str, landed: float, in_unit: str) -> None:
    found = demo().costing.rates.prices[material]
    assert found.value == pytest.approx(landed, rel=CLOSE)
    assert str(found.unit) == in_unit


# One glass and one resin, priced in the ways suppliers do; 1.08 USD buy a euro.
MATERIALS = """
glass:
  - {id: mat, name: Mat, form: mat, areal_mass: 450 g/m2, glass_content: 30 %, pack: 44 kg}
resins:
  - id: resin
    name: Resin
    liquid_density: 1.10 kg/L
    cured_density: 1.20 kg/L
    catalyst: peroxide
    catalyst_fraction: 1.5 %
    pack: 55 gal
gelcoats:
  - id: white
    name: White gelcoat
    colour: white
    density: 1250 kg/m3
    wet_thickness: 0.5 mm
    transfer: 100 %
    catalyst: peroxide
    catalyst_fraction: 2 %
catalysts:
  - {id: peroxide, name: Peroxide catalyst}
bought:
  - {id: direct_material, name: Direct material, material_class: other, mass: "1"}
"""
PRICES = """
material,supplier,price,note
direct_material,supplier,5.25 USD/lb,
white,supplier,1 USD/kg,
peroxide,supplier,1 USD/kg,
mat,supplier,{mat},
resin,supplier,{resin},
"""
GLASS = [("2.40 USD/kg", 2.40), ("1.08 USD/m2", 1.08 / 0.45), ("105.60 USD/roll", 105.60 / 44)]
RESIN = [
    ("3.30 USD/kg", 3.30),
    ("3.63 USD/L", 3.63e3 / 1100),
    ("1.50 USD/lb", 1.50 / LB),
    ("13.75 USD/gal", 13.75 / GAL / 1100),
    ("756 USD/drum", 756 / (55 * GAL) / 1100),
]


@pytest.mark.parametrize(
    ("material", "written", "per_kg"),
    [("mat", *row) for row in GLASS] + [("resin", *row) for row in RESIN],
)
def test_a_price_per_anything_becomes_one_per_kg(
    tmp_path: Path, material: str, written: str, per_kg: float
) -> None:
    given = {"mat": "1 USD/kg", "resin": "1 USD/kg", material: written}
    files = {"materials.yaml": MATERIALS, "prices/2026-01-01.csv": PRICES.format(**given)}
    landed = priced(write_catalogue(tmp_path / "c", files)).costing.rates.prices[material]
    assert landed.value == pytest.approx(per_kg, rel=CLOSE)
    assert str(landed.unit) == "USD/kg"


def test_freight_and_duty_come_on_top_and_duty_on_freight_too(tmp_path: Path) -> None:
    files = {
        "suppliers.yaml": """
        suppliers:
          - {id: supplier, name: Supplier, currency: EUR, freight: 5 %, duty: 10 %}
        """,
        "exchange.csv": "date,currency,rate,note\n2026-01-01,EUR,0.80 EUR/USD,\n",
        "prices/2026-01-01.csv": """
        material,supplier,price,note
        direct_material,supplier,4 EUR/kg,
        white,supplier,1 EUR/kg,
        peroxide,supplier,1 EUR/kg,
        """,
    }
    landed = priced(write_catalogue(tmp_path / "c", files)).costing.rates.prices
    assert landed["direct_material"].value == pytest.approx(4 / 0.80 * 1.05 * 1.10, rel=CLOSE)
    assert str(landed["direct_material"].unit) == "USD/kg"


def test_whole_packs_are_not_rounded_into_a_unit_s_cost() -> None:
    """A door that takes 16 bolts of a box of 100 bears 16 of them, and those lost."""
    door = demo().models["weekender_86"].options["side_single"].assembly
    bolts = next(m for m in door.materials if m.line.material == "bolts")
    assert bolts.line.issued.value == pytest.approx(16 / (1 - 0.02), rel=CLOSE)
    expected = 16 / (1 - 0.02) * demo().costing.rates.prices["bolts"].value
    assert bolts.cost.value == pytest.approx(expected, rel=CLOSE)
