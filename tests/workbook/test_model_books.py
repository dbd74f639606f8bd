"""The demonstration's workbooks: recalculated elsewhere, read elsewhere, held to costing.json."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from python_calamine import CalamineWorkbook

from quoter.analysis.findings import Findings
from quoter.pages.costing_json import costing_json
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from tests.outputs import every_book
from tests.workbook.compare import RELATIVE, alike, differences
from tests.workbook.recalculate import recalculate
from tests.workbook.validity import schema_errors

UNLOCKED = {
    "plan": {"Inputs", "Volumes"},
    "margin-review": {"Inputs", "List prices", "Volumes and costs"},
}
DEARER_RESIN = "6.75"  # far from any listed price, so that a mix-up can't pass


@dataclass(frozen=True)
class Built:
    pricing: Pricing
    books: dict[str, Path]
    recalculated: dict[str, Path]
    costing: dict[str, Any]


def _write(pricing: Pricing, folder: Path) -> dict[str, Path]:
    books = {}
    for name, content in every_book(Findings(pricing)):
        path = folder / name
        path.write_bytes(content)
        books[path.stem] = path
    return books


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("demo_books")
    pricing, _ = price_catalogue(demo_catalogue_folder())
    books = _write(pricing, folder)
    results = recalculate(list(books.values()), tmp_path_factory.mktemp("demo_recalculated"))
    recalculated = {path.stem: path for path in results}
    return Built(pricing, books, recalculated, json.loads(costing_json(pricing, "build")))


def _named(book: Path) -> dict[str, Any]:
    """What each defined name of a file stands for, as a reader without formulas sees it."""
    workbook = load_workbook(book, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        sheet, cell = next(iter(defined.destinations))
        found[name] = workbook[sheet][cell.replace("$", "")].value
    return found


def _expected(model: dict[str, Any]) -> Iterator[tuple[str, float]]:
    """Name in the workbook and value in costing.json of every key result of a model."""
    things = {"boat": model["boat"]}
    things |= {f"option_{id}": option for id, option in model["options"].items()}
    fields = {
        "list_price": "list_price",
        "recommended": "recommended",
        "cost": "cost",
        "variable_cost": "variable_cost",
        "mass": "mass_kg",
        "hours": "all_hours",
    }
    for start, thing in things.items():
        for name, field in fields.items():
            yield f"{start}_{name}", thing[field]
        for buyer, sale in thing["sales"].items():
            yield f"{start}_margin_{buyer}", sale["margin"]


@pytest.mark.slow
def test_every_cell_recalculated_elsewhere_is_what_the_file_stores(demo: Built) -> None:
    for model, book in demo.books.items():
        assert differences(book, demo.recalculated[model]) == []


@pytest.mark.slow
def test_the_named_results_agree_with_costing_json(demo: Built) -> None:
    for model, costing in demo.costing["models"].items():
        named = _named(demo.recalculated[model])
        expected = dict(_expected(costing))
        assert len(expected) > 50
        for name, value in expected.items():
            assert named[name] == pytest.approx(value, rel=RELATIVE), f"{model}: {name}"


@pytest.mark.slow
def test_a_schema_validator_finds_no_error(demo: Built) -> None:
    for book in demo.books.values():
        assert schema_errors(book) == []


@pytest.mark.slow
def test_two_other_readers_see_the_same_numbers_in_the_file_as_built(demo: Built) -> None:
    for book in demo.books.values():
        workbook = load_workbook(book, data_only=True)
        for sheet in workbook.worksheets:
            rows = CalamineWorkbook.from_path(book).get_sheet_by_name(sheet.title)
            start_row, start_column = rows.start or (0, 0)
            seen = 0
            for r, row in enumerate(rows.to_python(skip_empty_area=True), start_row + 1):
                for c, value in enumerate(row, start_column + 1):
                    if isinstance(value, float):
                        mine = sheet.cell(r, c).value
                        assert isinstance(mine, int | float)
                        assert alike(mine, value)
                        seen += 1
            assert seen > 0 or sheet.title == "Method"


@pytest.mark.slow
def test_every_check_says_ok(demo: Built) -> None:
    for name, book in demo.recalculated.items():
        sheet = load_workbook(book, data_only=True)["Checks"]
        said = [c.value for row in sheet.iter_rows() for c in row if c.value in ("OK", "CHECK")]
        assert len(said) > (25 if name == "margin-review" else 40)
        assert set(said) == {"OK"}


@pytest.mark.slow
def test_a_resin_price_changed_in_the_sheet_gives_what_a_build_with_that_price_gives(
    demo: Built, tmp_path: Path
) -> None:
    model = "weekender_86"
    row = demo.pricing.catalogue.prices["resin_lam"]
    edited = tmp_path / "edited.xlsx"
    _edit_input(demo.books[model], row.price.label, float(DEARER_RESIN), edited)
    changed = _named(recalculate([edited], tmp_path / "recalculated")[0])

    catalogue = tmp_path / "catalogue"
    shutil.copytree(demo_catalogue_folder(), catalogue)
    listed = catalogue / row.place.file
    lines = listed.read_text("utf-8").splitlines()
    line = lines[row.place.line - 1]
    price = re.compile(r"[\d.]+ EUR/kg(?: \[.*?\])?")
    assert len(price.findall(line)) == 1
    lines[row.place.line - 1] = price.sub(f"{DEARER_RESIN} EUR/kg", line)
    listed.write_text("\n".join(lines) + "\n", "utf-8")
    dearer, _ = price_catalogue(catalogue)
    costing = json.loads(costing_json(dearer, "build"))

    expected = dict(_expected(costing["models"][model]))
    before = dict(_expected(demo.costing["models"][model]))
    for name, value in expected.items():
        assert changed[name] == pytest.approx(value, rel=RELATIVE), name
    moved = [name for name in expected if expected[name] != before[name]]
    assert {"option_side_single_cost", "boat_cost", "option_side_step_recommended"} <= set(moved)


def _edit_input(book: Path, label: str, value: float, to: Path) -> None:
    workbook = load_workbook(book)
    sheet = workbook["Inputs"]
    rows = [row for row in sheet.iter_rows() if row[0].value == label]
    assert len(rows) == 1, f"{len(rows)} rows of Inputs are called {label}"
    cell = rows[0][1]
    assert not cell.protection.locked
    cell.value = value
    workbook.save(to)


@pytest.mark.slow
def test_the_effect_of_a_rise_is_what_the_input_raised_in_the_sheet_does(
    demo: Built, tmp_path: Path
) -> None:
    """A rate moves a cost along a straight line, so the sheet's effect of a rise is exact."""
    model, option = "weekender_86", "option_side_pair_cost"
    rate = demo.pricing.catalogue.yard.policy.general_overhead
    told = load_workbook(demo.books[model], data_only=True)["Sensitivity"]
    row = next(r for r in told.iter_rows(values_only=True) if r[0] == rate.label)
    effect, holds = row[6], row[8]
    assert holds == "exactly"
    edited = tmp_path / "edited.xlsx"
    _edit_input(demo.books[model], rate.label, rate.value * 1.1, edited)
    raised = _named(recalculate([edited], tmp_path / "recalculated")[0])
    assert raised[option] - _named(demo.books[model])[option] == pytest.approx(effect, rel=1e-8)


@pytest.mark.slow
def test_only_inputs_quantities_volumes_and_the_rise_are_unlocked(demo: Built) -> None:
    for name, book in demo.books.items():
        workbook = load_workbook(book)
        unlocked = {}
        for sheet in workbook.worksheets:
            assert bool(sheet.protection.sheet) is not bool(sheet.auto_filter.ref)
            open_cells = [c for row in sheet.iter_rows() for c in row if not c.protection.locked]
            assert all(isinstance(cell.value, int | float) for cell in open_cells)
            if open_cells:
                unlocked[sheet.title] = len(open_cells)
        assert set(unlocked) == UNLOCKED.get(name, {"Inputs", "Summary", "Sensitivity"})
        assert unlocked.get("Sensitivity", 1) == 1


@pytest.mark.slow
def test_no_sheet_row_or_column_is_hidden(demo: Built) -> None:
    for book in demo.books.values():
        for sheet in load_workbook(book).worksheets:
            assert sheet.sheet_state == "visible"
            assert not any(dimension.hidden for dimension in sheet.row_dimensions.values())
            assert not any(dimension.hidden for dimension in sheet.column_dimensions.values())
