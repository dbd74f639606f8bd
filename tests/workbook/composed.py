"""The cells of a book before it becomes a file, by sheet and address."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from quoter.workbook import Book
from quoter.workbook.addresses import letters
from quoter.workbook.compose import compose
from quoter.workbook.sheet_part import ReadyBand


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
            f"{letters(cell.column)}{cell.row}": cell for band in bands for cell in _cells(band)
        }
        for laid, bands in zip(draft.sheets, draft.bands, strict=True)
    }


def _cells(band: ReadyBand) -> Iterator[Composed]:
    first, columns = band
    for column in columns:
        formulas = column.formulas or [""] * len(column.values)
        cells = zip(column.styles, formulas, column.values, strict=True)
        for row, ((role, _), formula, value) in enumerate(cells, first):
            yield Composed(row, column.first, role, formula, value)
