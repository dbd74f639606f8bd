"""Which sheet and rows of a workbook are read: what people see, and only if it is clear which."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from quoter.importing.prices import import_prices
from quoter.importing.writing import Import
from tests.importing.sheets import HEADINGS, mapped

DAY = date(2026, 12, 1)
HEADS = "      headings:\n        {code: Item No."
SHEET = {"suppliers.yaml": (HEADS, f"      sheet: Next\n{HEADS}")}


def line(code: str, price: float, per: str = "LB") -> tuple[Any, ...]:
    return (code, None, None, price, per, "USD")


def book(folder: Path, **prices: float) -> tuple[Path, Workbook]:
    """A workbook of a sheet for each price of the injection resin."""
    made = Workbook()
    assert made.active is not None
    made.remove(made.active)
    for title, price in prices.items():
        sheet = made.create_sheet(title)
        sheet.append(HEADINGS)
        sheet.append(line("WP-1188", price))
    return folder / "p.xlsx", made


def read(folder: Path, path: Path, made: Workbook, changes: Any = None) -> Import:
    made.save(path)
    return import_prices(mapped(folder / "yard", changes), path, "westpoly", DAY)


def test_two_sheets_with_the_headings_are_not_chosen_between(tmp_path: Path) -> None:
    result = read(tmp_path, *book(tmp_path, Now=2.10, Next=2.20))
    (fault,) = result.faults
    assert str(fault) == (
        f"{tmp_path}/p.xlsx: 'Now' and 'Next' both have the headings [which-sheet]\n"
        "    say which is meant with 'sheet:' beside 'headings:' in the catalogue"
    )
    assert result.files == {}


@pytest.mark.parametrize("state", ["visible", "hidden"])
def test_a_sheet_that_is_named_is_read_even_if_it_is_hidden(tmp_path: Path, state: Any) -> None:
    path, made = book(tmp_path, Now=2.10, Next=2.20)
    made["Next"].sheet_state = state
    result = read(tmp_path, path, made, SHEET)
    assert b",2.2 USD/lb," in result.files[f"prices/{DAY}.csv"]


@pytest.mark.parametrize("state", ["hidden", "veryHidden"])
def test_a_hidden_sheet_is_left_out_and_named(tmp_path: Path, state: Any) -> None:
    path, made = book(tmp_path, Old=1.95, Next=2.20)
    made["Old"].sheet_state = state
    result = read(tmp_path, path, made)
    assert result.faults == []
    assert "Read from the sheet 'Next'; hidden, and left out: 'Old'." in result.shown
    assert b",2.2 USD/lb," in result.files[f"prices/{DAY}.csv"]


def test_the_sheet_that_was_read_is_named_where_there_are_others(tmp_path: Path) -> None:
    path, made = book(tmp_path, Next=2.20)
    made.create_sheet("Terms").append(["Prices are without freight."])
    result = read(tmp_path / "two", path, made)
    assert "Read from the sheet 'Next'." in result.shown
    alone = read(tmp_path / "one", *book(tmp_path, Next=2.20))
    assert not any("sheet" in told for told in alone.shown)


def test_a_workbook_of_hidden_sheets_alone_is_refused(tmp_path: Path) -> None:
    path, made = book(tmp_path, Next=2.20)
    made["Next"].sheet_state = "hidden"
    made.create_sheet("Blank")
    (fault,) = read(tmp_path, path, made).faults
    assert fault.what == "every sheet that holds anything is hidden"
    assert fault.hint == "show 'Next' if it is meant"


def test_hidden_rows_are_left_out_and_named(tmp_path: Path) -> None:
    path, made = book(tmp_path, Next=2.20)
    sheet = made["Next"]
    sheet.append(line("WP-2044", 48.50, "US GAL"))
    sheet.append(line("WP-3101-A", 3.00))
    for row in (3, 4, 7):  # nothing stands in the last
        sheet.row_dimensions[row].hidden = True
    result = read(tmp_path, path, made)
    assert result.faults == []
    assert "Hidden, and left out: rows 3, 4." in result.shown
    assert result.files[f"prices/{DAY}.csv"].decode().splitlines()[1:] == [
        "resin_inj,westpoly,2.2 USD/lb,imported from p.xlsx"
    ]
    assert result.shown[-1].startswith("Not in the file, the old price stays: WP-2044 (gel_blue)")
