"""The cells of a book before it becomes a file, by sheet and address."""

from __future__ import annotations

from typing import NamedTuple

from quoter.workbook import Book
from quoter.workbook.addresses import letters
from quoter.workbook.compose import compose


class Composed(NamedTuple):
    row: int
    column: int
    role: str
    formula: str
    value: float | str | None


def composed(book: Book) -> dict[str, dict[str, Composed]]:
    """Every cell of every sheet by its address."""
    draft = compose(book)
    return {
        laid.sheet.title: {
            f"{letters(column)}{row}": Composed(row, column, role, formula, value)
            for row, cells in rows.items()
            for column, _, (role, _), formula, value in cells
        }
        for laid, rows in zip(draft.sheets, draft.rows, strict=True)
    }
