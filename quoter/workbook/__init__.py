"""Figures to spreadsheet files: live formulas, cached values, the same bytes for the same book.

From a book to bytes, in order: `table` says what a workbook is made of, `columns` how a table's
columns appear, `layout` in which row and column everything stands (`laid` is a sheet so laid out),
`paper` what of it prints and where pages end, `addresses` which cell is a figure's home, `formula`
what is written there; `compose` puts them together. `writer` sets the sheets up, `sheet_part`,
`charts`, `styles` and `xlsx` write the file. `model_book`, `margin_book`, `plan_book`,
`actuals_book` and `change_book` say which sheets a workbook has, `sheets/`
what stands on each sheet.

A *cell* has a *style* (role and number format), a table takes *columns* and *rows*, a column of it
may *span* several of the sheet's.
"""

from __future__ import annotations

from quoter.workbook.limits import LimitError
from quoter.workbook.table import (
    Book,
    Chart,
    Choice,
    Column,
    Contents,
    Flag,
    InputCell,
    Link,
    OnPaper,
    Paragraphs,
    Row,
    Sheet,
    Table,
)
from quoter.workbook.writer import write_book

__all__ = [
    "Book",
    "Chart",
    "Choice",
    "Column",
    "Contents",
    "Flag",
    "InputCell",
    "LimitError",
    "Link",
    "OnPaper",
    "Paragraphs",
    "Row",
    "Sheet",
    "Table",
    "write_book",
]
