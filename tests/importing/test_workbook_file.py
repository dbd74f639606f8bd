"""Cells of workbooks come out as people read them, with their kind; damage is told in words."""

from __future__ import annotations

import io
import random
import zipfile
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from quoter.importing.cells import SheetCell, SheetError
from quoter.importing.prices import import_prices
from quoter.importing.workbook_file import workbook_sheets
from tests.importing.faulty import write_odd_kinds
from tests.importing.sheets import HEADINGS, mapped


def cell_of(value: Any, form: str = "General") -> SheetCell:
    """A value written to a workbook with a number format, and read back."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["C4"] = value
    sheet["C4"].number_format = form
    content = io.BytesIO()
    book.save(content)
    (found,) = workbook_sheets("b.xlsx", content.getvalue())
    (row,) = found.rows
    assert row.number == 4
    return found.at(row, 2)


@pytest.mark.parametrize(
    ("value", "form", "text", "kind", "number", "mark"),
    [
        ("  QN-1 ", "General", "QN-1", "text", None, ""),
        (1188, "General", "1188", "number", "1188", ""),
        (1188, "000000", "001188", "number", "1188", ""),
        (2.14, "0.00", "2.14", "number", "2.14", ""),
        (0.1 + 0.2, "0.00", "0.3", "number", "0.3", ""),
        (1200.0, "#,##0", "1200", "number", "1200", ""),
        (2.14, "[$USD] #,##0.00", "2.14", "number", "2.14", "USD"),
        (2.14, "[$kr-414] #,##0.00", "2.14", "number", "2.14", "kr"),
        (2.14, '#,##0.00\\ "€"', "2.14", "number", "2.14", "€"),
        (2.14, '"$"#,##0.00_);[Red]\\("$"#,##0.00\\)', "2.14", "number", "2.14", "$"),
        (2.14, '0.00" per LB"', "2.14", "number", "2.14", ""),
        (0.48, "0.0%", "48 %", "percentage", "0.48", ""),
        (1e300, "General", "1e+300", "text", None, ""),
        (True, "General", "TRUE", "truth", None, ""),
        ("#REF!", "General", "#REF!", "error", None, ""),
        ("=1+1", "General", "a formula", "formula", None, ""),
        (datetime(2026, 11, 1), "dd.mm.yyyy", "2026-11-01", "date", None, ""),
        (time(12, 30), "hh:mm", "12:30:00", "date", None, ""),
    ],
)
def test_a_cell_is_read_as_people_see_it(
    value: Any, form: str, text: str, kind: str, number: str | None, mark: str
) -> None:
    cell = cell_of(value, form)
    assert (cell.text, cell.kind, cell.mark) == (text, kind, mark)
    assert cell.number == (None if number is None else Decimal(number))
    assert cell.place.clickable == "b.xlsx, Sheet!C4"
    assert cell.day == (date(2026, 11, 1) if isinstance(value, datetime) else None)


def test_the_sheet_that_has_the_headings_is_read_below_merged_titles(tmp_path: Path) -> None:
    book = Workbook()
    first = book.active
    assert first is not None
    first.append(["Contents"])
    prices = book.create_sheet("Resins & gelcoats")
    prices.append(["Westpoly", *[None] * 5])
    prices.merge_cells("A1:F2")
    for row in ((), HEADINGS, ("WP-1188", None, None, 2.2, "LB", "EUR")):
        prices.append(list(row))
    book.save(tmp_path / "p.xlsx")
    catalogue = mapped(tmp_path / "yard")
    (fault,) = import_prices(catalogue, tmp_path / "p.xlsx", "westpoly", date(2026, 12, 1)).faults
    cell = f"F{prices.max_row}"
    assert fault.place.clickable == f"{tmp_path}/p.xlsx, 'Resins & gelcoats'!{cell}"


def test_damage_anywhere_is_told_and_never_a_crash(tmp_path: Path) -> None:
    """Letters of the workbook's parts are replaced, and bytes of the whole file."""
    write_odd_kinds(tmp_path / "b.xlsx")
    raw = (tmp_path / "b.xlsx").read_bytes()
    chance = random.Random(4)
    told: list[str] = []
    for turn in range(120):
        damaged = spoilt_part(raw, chance) if turn % 2 else spoilt_bytes(raw, chance)
        try:
            sheets = workbook_sheets("b.xlsx", damaged)
        except SheetError as refused:
            told += [problem.what for problem in refused.problems]
            continue
        cells = [cell for sheet in sheets for row in sheet.rows for cell in row.cells]
        assert all("!" in cell.place.cell for cell in cells)
    assert 0 < len(told) < 120
    assert "the file is damaged, or no workbook" in told
    # Damage may also look like another kind of archive, a lock, or more than what is read.
    others = [what for what in told if not what.startswith("the file ")]
    assert all("the most that " in what for what in others)


def spoilt_part(raw: bytes, chance: random.Random) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(content, "w") as new:
        spoilt = chance.choice([name for name in old.namelist() if "docProps" not in name])
        for name in old.namelist():
            part = bytearray(old.read(name))
            for _ in range(3 if name == spoilt else 0):
                part[chance.randrange(len(part))] = chance.choice(b'<>"=/0123456789abcrst ')
            new.writestr(name, bytes(part))
    return content.getvalue()


def spoilt_bytes(raw: bytes, chance: random.Random) -> bytes:
    damaged = bytearray(raw)
    for _ in range(3):
        damaged[chance.randrange(4, len(damaged))] = chance.randrange(256)
    return bytes(damaged[: chance.randrange(4, len(damaged))] if chance.random() < 0.2 else damaged)
