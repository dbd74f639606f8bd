"""What the file says is what an independent spreadsheet computes from its formulas."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from quoter.figures.graph import in_order
from quoter.figures.kernel import KERNEL
from quoter.workbook import Book, Column, Row, Sheet, Table, write_book
from quoter.workbook.formula import SHEET
from tests.workbook.compare import alike, differences, formulas, values
from tests.workbook.long_formulas import deep_chain, long_products, long_sum, wide_tree
from tests.workbook.operations import every_operation
from tests.workbook.package import part, with_change
from tests.workbook.recalculate import recalculate

pytestmark = pytest.mark.slow


def test_every_cell_recalculates_to_its_stored_value(built: Path, recalculated: Path) -> None:
    assert differences(built, recalculated) == []
    calculated = [text for text in formulas(built).values() if str(text).startswith("=")]
    assert len(calculated) > 200


def test_every_operation_takes_part_in_the_recalculation(built: Path, recalculated: Path) -> None:
    done = {figure.op for figure in in_order(every_operation())}
    assert done == set(SHEET) == {*KERNEL, "const", "input"}
    theirs = values(recalculated)
    by_label = {
        theirs[cell]: theirs.get(cell.replace("!A", "!B"))
        for cell in theirs
        if cell.startswith("Operations!A")
    }
    for figure in every_operation():
        assert alike(figure.value, by_label[figure.label]), figure.label


def test_a_wrong_stored_value_is_caught(built: Path, tmp_path: Path) -> None:
    name = _sheet_part(built, "Operations")
    row = next(cell for cell, text in values(built).items() if text == "pow")
    cell = row.replace("Operations!A", "B")
    stored = part(built, name).split(f'<c r="{cell}"')[1].split("</c>")[0]
    planted = stored.replace("<v>512</v>", "<v>999</v>")
    assert planted != stored
    wrong = with_change(built, name, stored, planted, tmp_path / "wrong.xlsx")
    found = differences(wrong, recalculate([wrong], tmp_path)[0])
    assert found == [f"Operations!{cell}: stored 999, recalculated 512"]


def test_a_changed_entry_moves_what_depends_on_it(
    built: Path, recalculated: Path, tmp_path: Path
) -> None:
    name = _sheet_part(built, "Inputs")
    dearer = with_change(built, name, "<v>62.4</v>", "<v>78</v>", tmp_path / "dearer.xlsx")
    then, now = values(recalculated), values(recalculate([dearer], tmp_path)[0])
    ratio = 78 / 62.4
    assert alike(now["Options!B6"], then["Options!B6"] * ratio)
    assert alike(now["Options!C6"], then["Options!C6"])
    assert now["Options!F6"] > then["Options!F6"]
    assert now["Summary!D8"] >= then["Summary!D8"]


def test_a_chosen_option_moves_the_configured_boat(
    built: Path, recalculated: Path, tmp_path: Path
) -> None:
    then = values(recalculated)
    row = next(c.removeprefix("Summary!A") for c, v in then.items() if v == "Side entry, pair")
    last = next(c.removeprefix("Summary!A") for c, v in then.items() if v == "Configured boat")
    name = _sheet_part(built, "Summary")
    stored = part(built, name).split(f'<c r="B{row}"')[1].split("</c>")[0]
    two = with_change(
        built, name, f'<c r="B{row}"{stored}', f'<c r="B{row}"{stored}'.replace("<v>0<", "<v>2<"),
        tmp_path / "two.xlsx",
    )  # fmt: skip
    now = values(recalculate([two], tmp_path)[0])
    for column in "CDFG":
        more = 2 * then[f"Summary!{column}{row}"]
        assert alike(now[f"Summary!{column}{last}"], then[f"Summary!{column}{last}"] + more)


def test_formulas_that_were_split_still_recalculate(tmp_path: Path) -> None:
    rows = tuple(
        Row((figure.label, figure))
        for figure in (deep_chain(300), long_sum(700), wide_tree(14), long_products(400))
    )
    table = Table((Column("What"), Column("Value")), rows)
    path = tmp_path / "long.xlsx"
    path.write_bytes(write_book(Book("Long", (Sheet("Long", "Long.", (table,)),), "", "EUR")))
    assert differences(path, recalculate([path], tmp_path)[0]) == []


def test_defined_names_hold_after_recalculation(book: Book, recalculated: Path) -> None:
    workbook = load_workbook(recalculated, data_only=True)
    for name, figure in book.names.items():
        sheet, _, cell = workbook.defined_names[name].attr_text.replace("$", "").rpartition("!")
        assert alike(workbook[sheet.strip("'")][cell].value, figure.value)


def _sheet_part(built: Path, title: str) -> str:
    index = load_workbook(built, read_only=True).sheetnames.index(title)
    return f"xl/worksheets/sheet{index + 1}.xml"
