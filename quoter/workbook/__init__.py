"""Figures to spreadsheet files: live formulas, cached values, the same bytes for the same book.

`table` says what a workbook is made of, `writer.write_book` makes the file. `formula` turns a
figure into a cell's formula; `layout` and `places` decide where everything stands; `page`, `styles`
and `charts` how it looks; `seal` finishes the file.
"""

from __future__ import annotations

from quoter.workbook.limits import LimitError
from quoter.workbook.table import (
    Book,
    Chart,
    Choice,
    Column,
    Contents,
    Entry,
    Flag,
    Link,
    Row,
    Sheet,
    Table,
    Text,
)
from quoter.workbook.writer import write_book

__all__ = [
    "Book",
    "Chart",
    "Choice",
    "Column",
    "Contents",
    "Entry",
    "Flag",
    "LimitError",
    "Link",
    "Row",
    "Sheet",
    "Table",
    "Text",
    "write_book",
]
