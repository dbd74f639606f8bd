"""What comes on top of a price: elements of their own where a catalogue states them, else absent.

All by hand on a published cost card of 165.25, whose material is 4 lb at 5.25.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.findings import Findings
from quoter.costing.assembly import Assembly
from quoter.costing.draws import draws_of
from quoter.costing.elements import GROUPS, IF_STATED, SHOWN, group_of, shown_groups
from quoter.workbook.model_book import model_book
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

CLOSE = 1e-12
POUND = 0.45359237
FINISHING = "{name: Finishing, station: finishing, fixed: 4 h"
PURGE = "per_batch: [{item: direct_material, quantity: 10 lb}]"
SUPPLIER = "{id: supplier, name: Supplier, currency: USD}"
ORDERS = SUPPLIER.replace(
    "}", ", order_freight: 30 USD, minimum_order: 500 USD, order_value: 400 USD}"
)
GENERAL = "general_overhead: 0 %"
HELD = f"{GENERAL}\n  holding_rate: 12 %\n  months_held: 3"
WASTE = f"{GENERAL}\n  waste_disposal: [{{material_class: other, cost: 0.50 USD/kg}}]"
LEAD = "lead_time: none"
ONCE = (
    f"{LEAD}\n    one_off:\n"
    "      - {kind: certification, cost: 900 USD, units: 120}\n"
    "      - {kind: tooling design, cost: 60 USD, units: 30}"
)


def card(folder: Path, *changes: tuple[str, str, str]) -> Assembly:
    """The cost card with texts of its files replaced."""
    write_catalogue(folder, {})
    for name, old, new in changes:
        text = (folder / name).read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        (folder / name).write_text(text.replace(old, new), encoding="utf-8")
    return priced(folder).models[MODEL].options[OPTION].assembly


def besides(made: Assembly) -> dict[str, float]:
    """The elements that are there only where they are stated."""
    return {e: f.value for e, f in made.elements.items() if group_of(e) in IF_STATED}


def test_a_card_that_states_nothing_has_none_of_it(tmp_path: Path) -> None:
    made = card(tmp_path / "c")
    assert besides(made) == {}
    assert made.cost.value == pytest.approx(165.25, rel=CLOSE)


def test_a_batch_shares_what_its_operation_uses_up(tmp_path: Path) -> None:
    """10 lb in a batch of five: 2 lb each, 10.50, none of it in the part."""
    made = card(
        tmp_path / "c",
        ("options.yaml", FINISHING, f"{FINISHING}, {PURGE}"),
        ("options.yaml", LEAD, f"{LEAD}\n    batch: 5"),
    )
    assert besides(made) == pytest.approx({"batch_material.other": 10.50}, rel=CLOSE)
    assert made.elements["material.other"].value == pytest.approx(21.00, rel=CLOSE)
    assert made.cost.value == pytest.approx(165.25 + 10.50, rel=CLOSE)
    assert made.variable.value == pytest.approx(145.00 + 10.50, rel=CLOSE)
    assert made.mass.value == pytest.approx(4 * POUND, rel=CLOSE)
    drawn = {draw.id: f.value for draw, f in draws_of(made, {}).items() if draw.kind == "material"}
    assert drawn == pytest.approx({"direct_material": 6 * POUND}, rel=CLOSE)


def test_what_a_batch_uses_up_enters_at_its_own_operation(tmp_path: Path) -> None:
    """Assembling passes half and comes first, so only what enters there is lost with it."""
    made = card(
        tmp_path / "c",
        ("options.yaml", FINISHING, f"{FINISHING}, {PURGE}"),
        ("options.yaml", "fixed: 2.75 h", "fixed: 2.75 h, passes: 50 %"),
    )
    lost = 21.00 + 2.75 * (11 + 5) + 2.75 * 3
    assert made.elements["batch_material.other"].value == pytest.approx(52.50, rel=CLOSE)
    assert made.groups["yield"].value == pytest.approx(lost, rel=CLOSE)


def test_an_order_s_freight_and_minimum_are_spread_over_its_value(tmp_path: Path) -> None:
    """30 of freight and 100 that 400 lack to the minimum of 500: 32.5 % of 21.00."""
    made = card(tmp_path / "c", ("suppliers.yaml", SUPPLIER, ORDERS))
    assert besides(made) == pytest.approx({"ordering": 0.325 * 21.00}, rel=CLOSE)
    assert made.cost.value == pytest.approx(165.25 + 6.825, rel=CLOSE)


def test_an_order_above_the_minimum_bears_its_freight_alone(tmp_path: Path) -> None:
    large = ORDERS.replace("order_value: 400", "order_value: 600")
    made = card(tmp_path / "c", ("suppliers.yaml", SUPPLIER, large))
    assert besides(made) == pytest.approx({"ordering": 30 / 600 * 21.00}, rel=CLOSE)


def test_stock_costs_its_rate_a_year_for_the_months_it_is_held(tmp_path: Path) -> None:
    """12 % a year for three months: 3 % of 21.00."""
    made = card(tmp_path / "c", ("yard.yaml", GENERAL, HELD))
    assert besides(made) == pytest.approx({"inventory": 0.63}, rel=CLOSE)


def test_waste_is_what_is_issued_less_what_stays_in_the_part(tmp_path: Path) -> None:
    """A loss of 20 % issues 5 lb for 4: 1 lb at 0.50 a kilogram."""
    made = card(
        tmp_path / "c",
        ("yard.yaml", GENERAL, WASTE),
        ("materials.yaml", 'mass: "1"', 'mass: "1", loss: 20 %'),
    )
    assert besides(made) == pytest.approx({"waste.other": POUND * 0.50}, rel=CLOSE)
    assert made.elements["material.other"].value == pytest.approx(26.25, rel=CLOSE)


def test_all_that_a_batch_uses_up_is_waste(tmp_path: Path) -> None:
    made = card(
        tmp_path / "c",
        ("yard.yaml", GENERAL, WASTE),
        ("options.yaml", FINISHING, f"{FINISHING}, {PURGE}"),
    )
    assert made.elements["waste.other"].value == pytest.approx(10 * POUND * 0.50, rel=CLOSE)


def test_what_is_spent_once_is_borne_by_the_planned_units(tmp_path: Path) -> None:
    """900 over 120 units and 60 over 30; a full cost, and no variable one."""
    made = card(tmp_path / "c", ("options.yaml", LEAD, ONCE))
    assert besides(made) == pytest.approx(
        {"one_off.certification": 7.50, "one_off.tooling_design": 2.00}, rel=CLOSE
    )
    assert made.cost.value == pytest.approx(165.25 + 9.50, rel=CLOSE)
    assert made.variable.value == pytest.approx(145.00, rel=CLOSE)


def test_all_of_it_together_is_the_cost_and_stands_on_the_sheets(tmp_path: Path) -> None:
    folder = tmp_path / "c"
    held = HELD + WASTE.removeprefix(GENERAL)
    made = card(
        folder,
        ("yard.yaml", GENERAL, held),
        ("suppliers.yaml", SUPPLIER, ORDERS),
        ("options.yaml", FINISHING, f"{FINISHING}, {PURGE}"),
        ("options.yaml", LEAD, ONCE),
    )
    bought = 21.00 + 52.50
    expected = 165.25 + 52.50 + bought * (0.325 + 0.03) + 10 * POUND * 0.50 + 9.50
    assert made.cost.value == pytest.approx(expected, rel=CLOSE)
    assert sum(f.value for f in made.elements.values()) == pytest.approx(expected, rel=CLOSE)
    pricing = priced(folder)
    book = model_book(Findings(pricing).of(pricing.models[MODEL]))
    costs = next(sheet for sheet in book.sheets if sheet.title == "Costs")
    headings = [column.heading for column in costs.blocks[0].columns]  # type: ignore[union-attr]
    assert {GROUPS[group][0] for group in IF_STATED} <= {*headings}


def test_what_nothing_states_has_no_column() -> None:
    assert shown_groups([{"material": 1}]) == {
        group: words for group, words in SHOWN.items() if group not in IF_STATED
    }
    assert "waste" in shown_groups([{"material": 1}, {"waste": 1}])


def test_a_boat_bears_its_own(tmp_path: Path) -> None:
    """100 of stated goods held at 3 %, 16 lb bought at 5.25 with 32.5 % on top, 900 over 120."""
    folder = tmp_path / "c"
    base = "material: {other: 0 USD}"
    listed = "materials: {direct_material: 16 lb}\n      material: {other: 100 USD}"
    card(
        folder,
        ("yard.yaml", GENERAL, HELD),
        ("suppliers.yaml", SUPPLIER, ORDERS),
        ("models.yaml", base, listed),
        ("models.yaml", "    base:", f"{ONCE.removeprefix(LEAD).lstrip()}\n    base:".replace(
            "one_off:", "    one_off:", 1)),
    )  # fmt: skip
    boat = priced(folder).models[MODEL].boat.assembly
    assert besides(boat) == pytest.approx(
        {
            "ordering": 84.00 * 0.325,
            "inventory": 184.00 * 0.03,
            "one_off.certification": 7.50,
            "one_off.tooling_design": 2.00,
        },
        rel=CLOSE,
    )
    assert boat.cost.value == pytest.approx(184.00 + 27.30 + 5.52 + 9.50, rel=CLOSE)
