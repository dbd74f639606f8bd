"""A workbook's sheets as cells: values as stored, what is no plain value told apart."""

from __future__ import annotations

import io
import re
import warnings
import zlib
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import iterparse
from zipfile import BadZipFile

from openpyxl import load_workbook

from quoter.importing.cells import Kind, Row, Sheet, SheetCell, SheetError, cell_place
from quoter.problems import Place, Problem

# What the library meets with in a damaged file, depending on where the damage is.
_BROKEN = (
    *(BadZipFile, zlib.error, OSError, EOFError, SyntaxError, ValueError, LookupError),
    *(TypeError, AttributeError, NotImplementedError, RuntimeError),
)
LARGEST = 1e15  # beyond it, or where it is no number at all, nobody means a price
ROW_TAG = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}row"
ZIPPED, OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
# What a number's format shows as currency: a code or sign, alone or with a locale, [$EUR-409].
_SIGN = re.compile(r"\[\$([^\]\-]+)|([€£$])|\b([A-Z]{3})\b")


def is_workbook(raw: bytes) -> bool:
    """Whether a file is a workbook, of the present kind or of the old one."""
    return raw.startswith((ZIPPED, OLD))


def workbook_sheets(file: str, raw: bytes) -> list[Sheet]:
    """Every sheet of a workbook.

    Raises:
        SheetError: it is of the old kind, locked, or damaged.
    """
    if raw.startswith(OLD):
        what = "the workbook is of an old kind, or locked with a password"
        hint = "save it in a spreadsheet program as .xlsx, without a password"
        raise SheetError([Problem(Place(file), f"the file can't be read: {what}", hint)])
    try:
        # What is left aside of a workbook, such as rules for entries, has no prices in it.
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return list(_sheets(file, raw))
    except _BROKEN as fault:
        what = "the file is damaged, or no workbook"
        hint = "open it in a spreadsheet program and save it as .xlsx"
        raise SheetError([Problem(Place(file), what, hint)]) from fault


def _sheets(file: str, raw: bytes) -> Iterator[Sheet]:
    """Each sheet, read twice in step: once for formulas, once for the results stored with them."""
    written = load_workbook(io.BytesIO(raw), read_only=True)
    valued = load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
    for formulas, values in zip(written.worksheets, valued.worksheets, strict=True):
        formulas.reset_dimensions()  # which some programs state wrongly
        values.reset_dimensions()
        rows, left_out, hidden = [], [], _hidden_rows(values)
        both = zip(formulas.iter_rows(), values.iter_rows(), strict=True)
        for number, (asked, found) in enumerate(both, 1):
            cells = [
                _cell(formula, value, cell_place(file, values.title, number, column))
                for column, (formula, value) in enumerate(zip(asked, found, strict=True), 1)
            ]
            if any(cell.text for cell in cells) and number in hidden:
                left_out.append(number)
            elif any(cell.text for cell in cells):
                rows.append(Row(number, cells))
        unseen = values.sheet_state != "visible"
        yield Sheet(file, rows, values.title, hidden=unseen, left_out=left_out)
    written.close()
    valued.close()


def _hidden_rows(sheet: Any) -> set[int]:
    """The numbers of rows that nobody sees; the library's reader by rows does not tell."""
    hidden, number = set(), 0
    with sheet._get_source() as source:
        for _, row in iterparse(source):
            if row.tag != ROW_TAG:
                continue
            number = int(row.get("r", number + 1))
            if row.get("hidden", "0") in ("1", "true"):
                hidden.add(number)
            row.clear()
    return hidden


def _cell(formula: Any, cell: Any, place: Place) -> SheetCell:
    value = cell.value
    if formula.value is not None and formula.data_type == "f" and value is None:
        return SheetCell("a formula", place, "formula")
    if value is None:
        return SheetCell("", place)
    if cell.data_type == "e":
        return SheetCell(str(value), place, "error")
    if isinstance(value, bool):
        return SheetCell("TRUE" if value else "FALSE", place, "truth")
    if isinstance(value, datetime | date | time | timedelta):
        return _day_cell(value, place)
    if isinstance(value, int | float):
        return _number_cell(value, str(cell.number_format or ""), place)
    return SheetCell(str(value).strip(), place)


def _day_cell(value: datetime | date | time | timedelta, place: Place) -> SheetCell:
    day = value.date() if isinstance(value, datetime) else value
    told = str(day if isinstance(day, date) else value)
    return SheetCell(told, place, "date", day=day if isinstance(day, date) else None)


def _number_cell(value: float, form: str, place: Place) -> SheetCell:
    """A number to the fifteen digits that spreadsheets show, which leaves out binary noise."""
    if not -LARGEST < value < LARGEST:
        return SheetCell(str(value), place)
    number = Decimal(f"{value:.15g}")
    if number == number.to_integral_value():
        number = number.quantize(Decimal(1))
    kind: Kind = "number"
    plain = re.sub(r'"[^"]*"|\\.', "", form)
    if "%" in plain:
        kind = "percentage"
        return SheetCell(f"{(number * 100).normalize():f} %", place, kind, number)
    # A code of digits alone may have been stored as a number that shows its leading noughts.
    text = f"{number:f}"
    if re.fullmatch("0+", form):
        text = text.zfill(len(form))
    sign = _SIGN.search(form.replace("\\", "").replace('"', " "))
    mark = next((part for part in sign.groups() if part), "") if sign else ""
    return SheetCell(text, place, kind, number, mark=mark.strip())
