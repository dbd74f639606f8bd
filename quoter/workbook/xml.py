"""The rows of a sheet and the book's texts as XML, written here for speed and for cached values."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from xml.sax.saxutils import escape

from openpyxl.utils import get_column_letter

from quoter.workbook.fill import Filled
from quoter.workbook.formula import number

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_LETTER_NUMBER = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_READ_AS_FORMULA = ("=", "+", "-", "@", "\t", "\r")

StyleNumber = Callable[[str, str, bool], int]


class Texts:
    """The texts of all cells, each stored once and named by its number."""

    def __init__(self) -> None:
        """Start with none."""
        self._numbers: dict[str, int] = {}
        self._uses = 0

    def number(self, text: str) -> int:
        """The number of a text, new or known."""
        self._uses += 1
        return self._numbers.setdefault(text, len(self._numbers))

    def xml(self) -> str:
        """The book's table of texts."""
        items = "".join(
            f'<si><t xml:space="preserve">{_text(text)}</t></si>' for text in self._numbers
        )
        counts = f'count="{self._uses}" uniqueCount="{len(self._numbers)}"'
        return (
            f'<?xml version="1.0" encoding="UTF-8"?>\n<sst xmlns="{_MAIN}" {counts}>{items}</sst>'
        )


def sheet_data(
    cells: Iterable[Filled], heights: Mapping[int, float], style: StyleNumber, texts: Texts
) -> str:
    """The `sheetData` element: every row that has a height, with its cells from left to right."""
    rows: dict[int, list[Filled]] = {row: [] for row in sorted(heights)}
    for cell in cells:
        rows[cell.row].append(cell)
    parts = ["<sheetData>"]
    for row, members in rows.items():
        members.sort(key=lambda cell: cell.column)
        parts.append(f'<row r="{row}" ht="{heights[row]:g}" customHeight="1">')
        parts.extend(_cell(cell, style, texts) for cell in members)
        parts.append("</row>")
    parts.append("</sheetData>")
    return "".join(parts)


def _cell(cell: Filled, style: StyleNumber, texts: Texts) -> str:
    value = cell.value
    is_plain_text = isinstance(value, str) and not cell.formula
    is_quoted = is_plain_text and str(value).startswith(_READ_AS_FORMULA)
    head = (
        f'<c r="{get_column_letter(cell.column)}{cell.row}" '
        f's="{style(cell.role, cell.code, is_quoted)}"'
    )
    written = f"<f>{_escaped(cell.formula)}</f>" if cell.formula else ""
    if value is None:
        return head + "/>"
    if not isinstance(value, str):
        return f"{head}>{written}<v>{number(value)}</v></c>"
    if written:
        return f'{head} t="str">{written}<v>{_text(value)}</v></c>'
    return f'{head} t="s"><v>{texts.number(value)}</v></c>'


def _escaped(text: str) -> str:
    return escape(text) if "<" in text or "&" in text or ">" in text else text


def _text(text: str) -> str:
    """Text for XML; what reads like a letter's number, ``_x0041_``, is kept from being one."""
    if "_x" in text:
        text = _LETTER_NUMBER.sub("_x005F_", text)
    return _escaped(text).replace("\r", "&#13;")
