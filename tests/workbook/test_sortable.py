"""Tables that a reader may sort, headings over headings, and money that leaves out its currency."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from quoter.figures import Figure, constant, stated
from quoter.workbook import Book, Column, Flag, InputCell, LimitError, Row, Sheet, Table, write_book
from quoter.workbook.addresses import absolute
from tests.workbook.compare import formulas
from tests.workbook.margin import opened
from tests.workbook.operations import given
from tests.workbook.synthetic import written
from tests.workbook.validity import schema_errors

HEADS = (
    Column("What"),
    Column("Cost", form="bare", decimals=0, over="One"),
    Column("Twice", form="bare", over="One"),
)


def price() -> Figure:
    return written(given("4.00 EUR", "price", "price"))


def view(*rows: Row, title: str = "View") -> Sheet:
    table = Table(HEADS, rows, sortable=True, kept=1)
    return Sheet(title, "One line.", (table,), owner=False)


def written_book(tmp_path: Path, *sheets: Sheet) -> Path:
    path = tmp_path / "book.xlsx"
    path.write_bytes(write_book(Book("Test", sheets, "", "EUR")))
    return path


@pytest.fixture
def sorted_book(tmp_path: Path) -> Path:
    each = price()
    twice = (each * 2).named("twice", "twice")
    inputs = Sheet("Inputs", "One line.", (Table(HEADS[:2], (Row(("price", InputCell(each))),)),))
    return written_book(tmp_path, view(Row(("a", each, twice)), Row(("b", each, twice))), inputs)


def test_every_number_comes_from_another_sheet_by_a_fixed_address(sorted_book: Path) -> None:
    got = formulas(sorted_book)
    assert [got[f"View!{cell}"] for cell in ("B6", "C6", "B7", "C7")] == [
        "=Inputs!$B$7", "=Workings!$B$5", "=Inputs!$B$7", "=Workings!$B$5",
    ]  # fmt: skip
    assert got["Workings!B5"] == "=Inputs!B7*2"


def test_the_filter_is_there_and_the_lock_is_not(sorted_book: Path) -> None:
    workbook = opened(sorted_book)
    assert workbook["View"].auto_filter.ref == "A5:C7"
    assert not workbook["View"].protection.sheet
    assert workbook["Inputs"].protection.sheet
    assert schema_errors(sorted_book) == []


def test_a_heading_over_others_is_joined_and_printed_with_them(sorted_book: Path) -> None:
    sheet = opened(sorted_book)["View"]
    assert [sheet.cell(4, column).value for column in (1, 2, 3)] == [None, "One", None]
    assert "B4:C4" in {str(joined) for joined in sheet.merged_cells.ranges}
    assert sheet.print_title_rows == "$4:$5"
    assert sheet.freeze_panes == "A6"


def test_bare_money_has_its_currency_in_the_heading(sorted_book: Path) -> None:
    sheet = opened(sorted_book)["View"]
    assert [sheet.cell(5, column).value for column in (2, 3)] == ["Cost [EUR]", "Twice [EUR]"]
    assert [sheet.cell(6, column).number_format for column in (2, 3)] == ["#,##0", "#,##0.00"]


def test_a_number_under_a_key_has_one_cell_however_often_it_is_shown(tmp_path: Path) -> None:
    known = stated(constant(3.0, "EUR"), "known", "known")
    rows = Row(("a", known)), Row(("b", known)), Row(("c", (known * 2).named("more", "more")))
    got = formulas(written_book(tmp_path, Sheet("A", "Line.", (Table(HEADS[:2], rows),))))
    assert [got.get(f"A!B{row}") for row in (6, 7, 8)] == [3, "=B6", "=B6*2"]


def _unnamed() -> Any:
    return price() * 2


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ((Row(("a", None, None)), Row(("all", None, None), kind="total")), "totals and groups"),
        ((Row(("a",), kind="group"),), "totals and groups"),
        ((Row(("a", InputCell(price()), None)),), "only named figures"),
        ((Row(("a", _unnamed(), None)),), "only named figures"),
        ((Row(("a", Flag(_unnamed()), None)),), "only named figures"),
    ],
)
def test_what_a_sort_would_break_is_refused(rows: tuple[Row, ...], said: str) -> None:
    with pytest.raises(LimitError, match=said):
        write_book(Book("Test", (view(*rows),), "", "EUR"))


def test_a_table_to_be_sorted_stands_alone() -> None:
    table = Table(HEADS, (), sortable=True)
    with pytest.raises(LimitError, match="needs a sheet of its own"):
        write_book(Book("Test", (Sheet("A", "Line.", (table, Table(HEADS, ()))),), "", "EUR"))


def test_an_address_is_the_same_from_everywhere() -> None:
    assert absolute("'Take-off'!AB12") == "'Take-off'!$AB$12"
