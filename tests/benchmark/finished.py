"""A finished workbook taken apart: its cells as they stand, their styles, the widths of columns.

It is what a rival is given to write again, and what the test reads back from both.
"""

from __future__ import annotations

import re
import zipfile
from copy import copy
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from lxml import etree
from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles.stylesheet import apply_stylesheet
from openpyxl.utils import column_index_from_string

_SPACE = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATED = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_COLUMN = re.compile("[A-Z]+")
LOOKS = ("font", "fill", "border", "alignment", "number_format", "protection")

# A cell that is there: its column, its value (a formula begins with "="), whether that is a text
# whatever it begins with, and the number of its style.
FinishedCell = tuple[int, float | str | None, bool, int]


@dataclass(frozen=True, slots=True)
class FinishedSheet:
    """A sheet: its title, the width of each column, and the cells of each row from the first on."""

    title: str
    widths: dict[int, float]
    rows: list[list[FinishedCell]]


@dataclass(frozen=True, slots=True)
class FinishedBook:
    """A workbook: its sheets, its styles by number, and the parts of its file as they are."""

    sheets: list[FinishedSheet]
    styles: list[dict[str, Any]]
    parts: dict[str, bytes]


def taken_apart(book: bytes) -> FinishedBook:
    """A workbook's file as it is finished, nothing of it computed any more."""
    with zipfile.ZipFile(BytesIO(book)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
        styles = _styles(archive)
    texts = _texts(parts.get("xl/sharedStrings.xml", b""))
    listed = etree.fromstring(parts["xl/workbook.xml"])
    related = etree.fromstring(parts["xl/_rels/workbook.xml.rels"])
    targets = {each.get("Id"): each.get("Target") for each in related}
    sheets = []
    for sheet in listed.iter(f"{_SPACE}sheet"):
        target = str(targets[sheet.get(_RELATED)])
        name = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        sheets.append(_sheet(str(sheet.get("name")), etree.fromstring(parts[name]), texts))
    return FinishedBook(sheets, styles, parts)


def _styles(archive: zipfile.ZipFile) -> list[dict[str, Any]]:
    """Looks of each style, by its number."""
    reader: Any = Workbook()
    apply_stylesheet(archive, reader)
    found = []
    for style in reader._cell_styles:
        cell: Any = Cell(reader.active, row=1, column=1)
        cell._style = style
        found.append({look: copy(getattr(cell, look)) for look in LOOKS})
    return found


def _texts(part: bytes) -> list[str]:
    if not part:
        return []
    return [
        "".join(text.text or "" for text in item.iter(f"{_SPACE}t"))
        for item in etree.fromstring(part)
    ]


def _sheet(title: str, root: Any, texts: list[str]) -> FinishedSheet:
    widths = {
        int(number): float(column.get("width"))
        for column in root.iter(f"{_SPACE}col")
        for number in range(int(column.get("min")), int(column.get("max")) + 1)
    }
    rows: list[list[FinishedCell]] = []
    for row in root.iter(f"{_SPACE}row"):
        rows += [[] for _ in range(int(row.get("r")) - len(rows) - 1)]
        rows.append([_cell(cell, texts) for cell in row])
    return FinishedSheet(title, widths, rows)


def _cell(cell: Any, texts: list[str]) -> FinishedCell:
    found = _COLUMN.match(cell.get("r"))
    column = column_index_from_string(found[0]) if found else 0
    style = int(cell.get("s", "0"))
    formula, value = cell.find(f"{_SPACE}f"), cell.find(f"{_SPACE}v")
    if formula is not None:
        return column, f"={formula.text}", False, style
    if cell.get("t") == "inlineStr":
        return column, "".join(cell.itertext()), True, style
    if value is None:
        return column, None, False, style
    if cell.get("t") == "s":
        return column, texts[int(value.text)], True, style
    return column, float(value.text), False, style
