"""The sheets of the margin review that a reader sorts and filters: ranges, addresses, locks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from openpyxl.formula.translate import Translator
from openpyxl.utils import get_column_letter

from quoter.analysis.margins import margin_lines
from tests.workbook.compare import alike, values
from tests.workbook.margin import MARKETS, Built, filtered, head_row, opened
from tests.workbook.recalculate import recalculate


def test_the_filter_spans_the_heading_and_every_line(margin_review: Built) -> None:
    workbook = opened(margin_review.file)
    assert {s.title for s in workbook if s.auto_filter.ref} == set(MARKETS.values())
    for id, title in MARKETS.items():
        sheet = workbook[title]
        top, right, bottom = filtered(sheet)
        lines = sum(line.market == id for line in margin_lines(margin_review.pricing))
        assert (top, bottom - top) == (head_row(sheet), lines)
        headings = [sheet.cell(top, column).value for column in range(1, right + 1)]
        assert headings[:2] == ["Model", "Boat, option or package"]
        assert all(headings)
        assert headings.count("Floor") == len(margin_review.pricing.terms.buyers)
        assert sheet.cell(top, right + 1).value is sheet.cell(bottom + 1, 1).value is None
        assert not any(m.max_row >= top and m.min_row <= bottom for m in sheet.merged_cells.ranges)
        assert sheet.freeze_panes == f"C{top + 1}"
        assert sheet.print_title_rows == f"${top - 1}:${top}"


def test_rows_can_be_sorted_without_any_number_changing_its_meaning(margin_review: Built) -> None:
    workbook = opened(margin_review.file)
    for sheet in workbook:
        sortable = sheet.title in MARKETS.values()
        assert bool(sheet.protection.sheet) is not sortable
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"):
            if sortable:  # a sort moves a formula as a copy of it is moved
                elsewhere = f"{get_column_letter(cell.column)}{cell.row + 7}"
                assert Translator(cell.value, cell.coordinate).translate_formula(elsewhere) == (
                    cell.value
                )
            assert not any(re.search(rf"{title}'?!", cell.value) for title in MARKETS.values())


@pytest.mark.slow
def test_a_sorted_sheet_recalculates_to_the_same_lines(
    margin_review: Built, tmp_path: Path
) -> None:
    workbook = opened(margin_review.file)
    sheet = workbook[MARKETS["north"]]
    top, right, bottom = filtered(sheet)
    rows = [
        [sheet.cell(row, column).value for column in range(1, right + 1)]
        for row in range(top + 1, bottom + 1)
    ]
    for row, cells in enumerate(reversed(rows), top + 1):
        for column, content in enumerate(cells, 1):
            sheet.cell(row, column).value = content
    workbook.save(tmp_path / "sorted.xlsx")
    ours, theirs = values(recalculate([tmp_path / "sorted.xlsx"], tmp_path / "again")[0]), {}
    for cell, value in values(margin_review.recalculated).items():
        title, _, address = cell.partition("!")
        letters = address.rstrip("0123456789")
        row = int(address.removeprefix(letters))
        if title == MARKETS["north"] and top < row <= bottom:
            theirs[f"{title}!{letters}{top + 1 + bottom - row}"] = value
        else:
            theirs[cell] = value
    assert ours.keys() == theirs.keys()
    assert [cell for cell in theirs if not alike(ours[cell], theirs[cell])] == []
