"""Doors and a hull colour chosen on the Summary: another spreadsheet makes the same boat."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from quoter.analysis.findings import Findings
from quoter.pricing.configured import configure
from quoter.workbook import write_book
from quoter.workbook.model_book import model_book
from tests.demo import demo
from tests.workbook.compare import alike, differences, values
from tests.workbook.package import part, with_change
from tests.workbook.recalculate import recalculate

pytestmark = pytest.mark.slow

MODEL = "weekender_86"
CHOSEN = ("side_single", "transom_door", "hull_blue")
SUMMARY = "xl/worksheets/sheet1.xml"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("recoloured") / "plain.xlsx"
    asked = Findings(demo()).of(demo().models[MODEL])
    path.write_bytes(write_book(model_book(asked)))
    return path


def choosing(book: Path, *names: str) -> Path:
    """The book with one of each of these chosen."""
    cells = values(book)
    found = book
    for name in names:
        row = next(
            cell.removeprefix("Summary!A")
            for cell, text in cells.items()
            if text == name and cell.startswith("Summary!A") and f"Summary!K{cell[9:]}" in cells
        )
        stored = part(book, SUMMARY).split(f'<c r="B{row}"')[1].split("</c>")[0]
        old = f'<c r="B{row}"{stored}'
        new = old.replace("<v>0<", "<v>1<")
        assert new != old
        found = with_change(found, SUMMARY, old, new, book.with_name(f"with_{row}.xlsx"))
    return found


def named(book: Path) -> dict[str, float]:
    """What the defined names of the configured boat stand for."""
    workbook = load_workbook(book, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        if name.startswith("configured_"):
            sheet, _, cell = defined.attr_text.replace("$", "").rpartition("!")
            found[name] = workbook[sheet.strip("'")][cell].value
    return found


def test_a_chosen_colour_recolours_the_chosen_doors(built: Path, tmp_path: Path) -> None:
    priced = demo().models[MODEL]
    names = [priced.options[id].assembly.name for id in CHOSEN]
    plain, chosen = recalculate([built, choosing(built, *names)], tmp_path / "recalculated")
    boat = configure(demo().terms, priced, dict.fromkeys(CHOSEN, 1))
    expected = {
        "configured_list_price": boat.list_price,
        "configured_cost": boat.cost,
        "configured_mass": boat.mass,
        "configured_hours": boat.hours,
    }
    expected |= {f"configured_margin_{id}": sale.margin for id, sale in boat.sales.items()}
    found = named(chosen)
    assert found.keys() == expected.keys()
    for name, figure in expected.items():
        assert alike(found[name], figure.value), name
    # And without a choice what the file says.
    assert differences(built, plain) == []
    assert named(plain)["configured_cost"] == pytest.approx(priced.boat.assembly.cost.value)
    assert "BROKEN" not in values(chosen).values()
