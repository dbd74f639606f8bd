"""A text of rows, however a program saved it: commas, semicolons or tabs, UTF-8 or older."""

from __future__ import annotations

import codecs
import re

from quoter.catalogue.csv_cells import csv_rows, need_few_lines
from quoter.importing.cells import Row, Sheet, SheetCell, SheetError
from quoter.intake import MOST_ROWS
from quoter.problems import MalformedError, Place, Problem

MARKS = (",", ";", "\t")


def text_sheets(file: str, raw: bytes) -> list[Sheet]:
    """A text read in each way that it may be parted into cells; the headings tell which is right.

    Raises:
        SheetError: it is no text, or has more lines than are read.
    """
    text = re.sub("\r\n?", "\n", _decoded(file, raw))
    try:
        need_few_lines(text, MOST_ROWS)
    except MalformedError as long:
        raise SheetError([Problem(Place(file, long.line), long.what, long.hint)]) from long
    lines = text.split("\n")
    return [_sheet(file, text, lines, mark) for mark in MARKS]


def _decoded(file: str, raw: bytes) -> str:
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError as fault:
            last = fault
    before = raw[: last.start]
    place = Place(file, before.count(b"\n") + 1, len(before) - before.rfind(b"\n"))
    what = f"the byte {raw[last.start]:02x} is no text"
    hint = "save the file as UTF-8, or as a workbook of the kind .xlsx"
    raise SheetError([Problem(place, what, hint)])


def _sheet(file: str, text: str, lines: list[str], mark: str) -> Sheet:
    """The rows up to where the text breaks off, if it does."""
    rows: list[Row] = []
    fault = None
    try:
        for cells in csv_rows(text, mark, MOST_ROWS):
            found = [SheetCell(cell.text, Place(file, cell.line, cell.column)) for cell in cells]
            rows.append(Row(cells[0].line, found))
    except MalformedError as bad:
        place = Place(file, bad.line, bad.column)
        fault = Problem(place, bad.what, bad.hint, lines[bad.line - 1])
    return Sheet(file, rows, None, lines, fault)
