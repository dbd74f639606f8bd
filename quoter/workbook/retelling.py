"""A book in the units that its reader reads: every figure told anew, wherever it stands."""

from __future__ import annotations

from dataclasses import replace

from quoter.figures import Figure
from quoter.figures.readers import Retold
from quoter.workbook.columns import unit_of
from quoter.workbook.table import ON_FIGURES, Block, Book, Cell, Sheet, Table, UnitOf


def in_readers_units(book: Book) -> Book:
    """The book with every figure told in the units that its reader reads."""
    retold = book.reader.retold()
    return replace(
        book,
        sheets=tuple(_retold_sheet(sheet, retold) for sheet in book.sheets),
        names={name: retold.of(figure) for name, figure in book.names.items()},
    )


def _retold_sheet(sheet: Sheet, retold: Retold) -> Sheet:
    def block(one: Block) -> Block:
        if not isinstance(one, Table):
            return one
        rows = tuple(row._replace(cells=tuple(map(cell, row.cells))) for row in one.rows)
        return replace(one, rows=rows)

    def cell(one: Cell) -> Cell:
        if isinstance(one, Figure):
            return retold.of(one)
        if isinstance(one, ON_FIGURES):
            told = retold.of(one.figure)
            return one if told is one.figure else replace(one, figure=told)
        if isinstance(one, UnitOf):
            return unit_of(retold.of(one.figure))
        return one

    return replace(sheet, blocks=tuple(map(block, sheet.blocks)))
