"""Material against standard by published worked examples, through tables and catalogue.

Unfavourable is positive.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.actuals.cases import Row, actuals_of, amounts, made, one_of, textbook
from tests.catalogues.written import COST_CARD, write_catalogue

CLOSE = 1e-9  # relative
MATERIAL = "material.direct_material"

# OpenStax, Principles of Accounting vol. 2, 8.2: 8 oz at 0.85, 11,000 made, 89,000 oz for 74,760.
PRICE, QUANTITY, TOTAL = -890, 850, -40

# Horngren, Cost Accounting, yield and mix: cider of three apples at 70, 80 and 90, of which 50, 30
# and 20 % are the standard mix; 6,500 t used, 50, 35 and 15 % of them, where 6,400 t should have
# been. Here tonnes are hundredths of a kilogram: one is a resin, two are glass.
MIX = {"resin": 0.0, "mat": 260.0, "woven": -292.5}  # 0, 26,000 U and 29,250 F
YIELD = {"resin": 35.0, "mat": 24.0, "woven": 18.0}  # 3,500 U (by the sum of 7,700), 2,400, 1,800

# Losses in process costing, ACCA F2 lecture notes: 1,000 units enter for 4,500, normal loss 10 %.
ABNORMAL_LOSS, ABNORMAL_GAIN = 200, -100  # of 860 good ones and of 920, at 5 a good unit

# An AAT worked example: standard 400 pounds a tonne at 6 dollars a pound; 1,500 t bought for
# 570,000 pounds at 7.50. The book's total; it parts it otherwise, telling the currency's part of
# the standard price. The parts here are recomputed: what was paid at 6 had been 475 a tonne.
EXCHANGED, BY_PRICE, BY_RATE = -30_000, 112_500, -142_500


def bought(quantity: str, price: str, **more: object) -> dict[str, list[Row]]:
    row = {"supplier": "supplier", "material": "direct_material"}
    line = {"quantity": quantity, "price": price, **more}
    return {"purchases": [{"reference": "I-1", "date": "2026-03-02", **row, **line}]}


def issued(quantity: str, **more: object) -> dict[str, list[Row]]:
    row = {"kind": "issue", "job": "J-1", "material": "direct_material", "quantity": quantity}
    return {"issues": [{"reference": "S-1", "date": "2026-03-16", **row, **more}]}


def at_purchase(folder: Path) -> Path:
    yard = folder / "yard.yaml"
    rule = "  actuals: {price_variance: purchase}\n"
    yard.write_text(yard.read_text().replace("dealer_classes:", f"{rule}dealer_classes:"))
    return folder


def ounces(folder: Path) -> Path:
    return textbook(folder, material="8 oz", price="0.85 USD/oz")


def test_material_of_openstax_8_2_at_use(tmp_path: Path) -> None:
    tables = made(11_000), bought("89000 oz", "0.84 USD/oz"), issued("89000 oz")
    material = one_of(actuals_of(ounces(tmp_path / "c"), *tables), MATERIAL)
    assert amounts(material) == pytest.approx({"price": PRICE, "usage": QUANTITY}, rel=CLOSE)
    assert material.actual.value == pytest.approx(74_760, rel=CLOSE)
    assert material.actual.value - material.standard.value == pytest.approx(TOTAL, rel=1e-7)


def test_the_same_by_the_price_that_the_store_knows(tmp_path: Path) -> None:
    tables = made(11_000), issued("89000 oz", price="0.84 USD/oz")
    material = one_of(actuals_of(ounces(tmp_path / "c"), *tables), MATERIAL)
    assert amounts(material) == pytest.approx({"price": PRICE, "usage": QUANTITY}, rel=CLOSE)


def test_material_of_openstax_8_2_at_purchase(tmp_path: Path) -> None:
    folder = at_purchase(ounces(tmp_path / "c"))
    actuals = actuals_of(
        folder, made(11_000), bought("89000 oz", "0.84 USD/oz"), issued("89000 oz")
    )
    used, paid = one_of(actuals, MATERIAL), one_of(actuals, "bought.direct_material")
    assert amounts(used) == pytest.approx({"usage": QUANTITY}, rel=CLOSE)
    assert amounts(paid) == pytest.approx({"price": PRICE}, rel=CLOSE)
    assert paid.actual.value == pytest.approx(74_760, rel=CLOSE)


def test_at_purchase_all_that_was_bought_shows_and_not_what_was_used_of_it(tmp_path: Path) -> None:
    """OpenStax 8.2 with twice as much bought: its formula takes the quantity bought."""
    folder = at_purchase(ounces(tmp_path / "c"))
    tables = made(11_000), bought("178000 oz", "0.84 USD/oz"), issued("89000 oz")
    actuals = actuals_of(folder, *tables)
    assert amounts(one_of(actuals, "bought.direct_material")) == pytest.approx({"price": 2 * PRICE})
    assert amounts(one_of(actuals, MATERIAL)) == pytest.approx({"usage": QUANTITY}, rel=CLOSE)


def test_a_return_is_taken_off_what_was_used(tmp_path: Path) -> None:
    rows = issued("90000 oz", price="0.84 USD/oz")["issues"]
    back = {**rows[0], "reference": "S-2", "kind": "return", "quantity": "1000 oz"}
    actuals = actuals_of(ounces(tmp_path / "c"), made(11_000), {"issues": [*rows, back]})
    assert amounts(one_of(actuals, MATERIAL)) == pytest.approx({"price": PRICE, "usage": QUANTITY})


def test_a_price_that_nobody_knows_is_the_standard_one_and_told(tmp_path: Path) -> None:
    actuals = actuals_of(ounces(tmp_path / "c"), made(11_000), issued("89000 oz"))
    assert amounts(one_of(actuals, MATERIAL)) == pytest.approx({"usage": QUANTITY}, rel=CLOSE)
    assert (
        "What was paid is not known, so that standard prices stand: Direct material"
        in actuals.notes
    )


def test_a_purchase_counts_from_its_day_on_as_the_average_of_all_until_then(tmp_path: Path) -> None:
    """By hand: 1 lb at 1.00 and 3 lb at 2.00 are 1.75 a pound; before the second it was 1.00."""
    folder = textbook(tmp_path / "c", material="1 lb", price="1 USD/lb")
    line = bought("1 lb", "1 USD/lb")["purchases"][0]
    later = {**line, "reference": "I-2", "date": "2026-03-10", "quantity": "3 lb"}
    rows = [
        {**issued("1 lb")["issues"][0], "reference": f"S-{day}", "date": f"2026-03-{day:02}"}
        for day in (5, 20)
    ]
    purchases = [line, {**later, "price": "2 USD/lb"}]
    actuals = actuals_of(folder, made(2), {"purchases": purchases, "issues": rows})
    assert one_of(actuals, MATERIAL).actual.value == pytest.approx(1.00 + 1.75, rel=CLOSE)
    assert amounts(one_of(actuals, MATERIAL)) == pytest.approx({"price": 0.75, "usage": 0.0})


def test_freight_of_a_line_is_part_of_what_was_paid(tmp_path: Path) -> None:
    """By hand: 100 lb at 1.00 and 25 of freight are 1.25 a pound."""
    folder = textbook(tmp_path / "c", material="1 lb", price="1 USD/lb")
    tables = made(100), bought("100 lb", "1 USD/lb", freight="25 USD"), issued("100 lb")
    assert amounts(one_of(actuals_of(folder, *tables), MATERIAL)) == pytest.approx(
        {"price": 25.0, "usage": 0.0}
    )


@pytest.mark.parametrize("when", ["use", "purchase"])
def test_exchange_is_parted_from_the_price(tmp_path: Path, when: str) -> None:
    folder = textbook(tmp_path / "c", material="1 t", price="2400 EUR/t")
    prices = folder / "prices" / "2026-01-01.csv"
    prices.write_text(prices.read_text().replace("1 USD/kg", "1 EUR/kg"))
    suppliers = folder / "suppliers.yaml"
    suppliers.write_text(suppliers.read_text().replace("USD", "EUR"))
    (folder / "exchange.csv").write_text("date,currency,rate,note\n2026-01-01,EUR,6 EUR/USD,\n")
    if when == "purchase":
        at_purchase(folder)
    line = bought("1500 t", "2850 EUR/t", rate="7.5 EUR/USD")
    actuals = actuals_of(folder, made(1_500), line, issued("1500 t"))
    material = one_of(actuals, MATERIAL if when == "use" else "bought.direct_material")
    told = amounts(material)
    told.pop("usage", None)
    assert told == pytest.approx({"price": BY_PRICE, "exchange": BY_RATE}, rel=CLOSE)
    assert material.actual.value - material.standard.value == pytest.approx(EXCHANGED, rel=CLOSE)
    assert material.actual.value == pytest.approx(570_000, rel=CLOSE)


PART = """\
open_mould:
  - id: skin
    name: Skin
    shape: {area: 64 m2, perimeter: 32 m}
    resin: resin
    zones:
      - {name: all, laminate: stack}
    operations:
      - {name: Laminate, station: assembly, uses: [bulk], fixed: 1 h}
"""
MATERIALS = """\
glass:
  - {id: mat, name: Mat, form: mat, areal_mass: 300 g/m2, glass_content: 50 %}
  - {id: woven, name: Woven, form: woven, areal_mass: 200 g/m2, glass_content: 50 %}
resins:
  - {id: resin, name: Resin, liquid_density: 1.1 kg/L, cured_density: 1.2 kg/L,
     catalyst: peroxide, catalyst_fraction: 0 %}
gelcoats:
  - {id: white, name: White gelcoat, colour: white, density: 1250 kg/m3, wet_thickness: 0.5 mm,
     transfer: 100 %, catalyst: peroxide, catalyst_fraction: 2 %}
catalysts:
  - {id: peroxide, name: Peroxide catalyst}
"""
LAMINATES = "laminates:\n  - {id: stack, name: Stack, plies: [{glass: mat}, {glass: woven}]}\n"
OPTION = """\
options:
  - id: unit
    name: One unit
    group: Worked example
    kind: fitting
    text: One unit.
    lead_time: none
    parts:
      - {part: skin}
"""
PRICES = """\
material,supplier,price,note
resin,supplier,70 USD/kg,
mat,supplier,80 USD/kg,
woven,supplier,90 USD/kg,
white,supplier,1 USD/kg,
peroxide,supplier,1 USD/kg,
"""


@pytest.mark.parametrize("part", ["", "skin"], ids=["by job", "by part"])
def test_mix_and_yield_of_resin_and_glass(tmp_path: Path, part: str) -> None:
    folder = write_catalogue(
        tmp_path / "c",
        {
            "materials.yaml": MATERIALS,
            "parts.yaml": PART,
            "laminates.yaml": LAMINATES,
            "options.yaml": OPTION,
            "prices/2026-01-01.csv": PRICES,
        },
        base=COST_CARD,
    )
    used = {"resin": "32.5 kg", "mat": "22.75 kg", "woven": "9.75 kg"}
    rows = [
        {**issued(amount, part=part)["issues"][0], "material": id, "reference": f"S-{id}"}
        for id, amount in used.items()
    ]
    actuals = actuals_of(folder, made(1), {"issues": rows})
    for id in used:
        found = one_of(actuals, f"material.{id}")
        assert found.scope.level == ("part" if part else "job")
        told = {"mix": MIX[id], "yield": YIELD[id]}
        assert amounts(found) == pytest.approx(told, rel=CLOSE, abs=1e-9), id


@pytest.mark.parametrize(("good", "scrap"), [(860, ABNORMAL_LOSS), (920, ABNORMAL_GAIN)])
def test_scrap_beyond_plan_is_an_abnormal_loss(tmp_path: Path, good: int, scrap: float) -> None:
    folder = textbook(tmp_path / "c", material="1 lb", price="4.50 USD/lb")
    options = folder / "options.yaml"
    options.write_text(options.read_text().replace("fixed: 1 h", "fixed: 1 h, passes: 90 %"))
    pulls = {"reference": "P-1", "date": "2026-03-16", "part": "unit", "job": "J-1"}
    pulled = {"pulls": [{**pulls, "good": good, "scrapped": 1_000 - good}]}
    actuals = actuals_of(folder, made(good), pulled, issued("1000 lb"))
    material = one_of(actuals, MATERIAL)
    assert amounts(material) == pytest.approx({"usage": 0.0, "scrap": scrap}, abs=1e-7)
    assert material.standard.value == pytest.approx(good * 5.0, rel=CLOSE)
    assert material.actual.value == pytest.approx(4_500, rel=CLOSE)
    assert {
        place.file for line in material.lines for place in line.rows if line.kind == "scrap"
    } == {
        "actuals/issues.csv",
        "actuals/pulls.csv",
    }
