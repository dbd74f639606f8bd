"""A book in the units that its reader reads: every figure told anew, wherever it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from quoter.figures import Figure
from quoter.figures.readers import Reader, Retold, System, converted, in_words, said_in
from quoter.workbook.columns import unit_of
from quoter.workbook.table import (
    ON_FIGURES,
    Block,
    Book,
    Cell,
    Choice,
    Column,
    Flag,
    Measured,
    Paragraphs,
    Sheet,
    Table,
    UnitOf,
    figure_of,
    is_sortable,
)


def in_readers_units(book: Book) -> Book:
    """The book with every figure told in the units that its reader reads."""
    retold = book.reader.retold()
    return replace(
        book,
        sheets=tuple(
            _with_both(_retold_sheet(sheet, retold), book.reader) for sheet in book.sheets
        ),
        names={name: retold.of(figure) for name, figure in book.names.items()},
    )


def _with_both(sheet: Sheet, reader: Reader) -> Sheet:
    """The sheet with a column beside each whose numbers the reader reads in another unit as well.

    Rows that a reader may sort take nothing but numbers from elsewhere, so they keep one unit.
    """
    if reader.beside is None or is_sortable(sheet):
        return sheet
    blocks = (
        _table_with_both(block, reader.beside) if isinstance(block, Table) else block
        for block in sheet.blocks
    )
    return replace(sheet, blocks=tuple(blocks))


def _table_with_both(table: Table, other: System) -> Table:
    columns: list[Column] = []
    cells: list[list[Cell]] = [[] for _ in table.rows]

    def add(column: Column, stacked: Sequence[Cell]) -> None:
        columns.append(column)
        for kept, cell in zip(cells, stacked, strict=True):
            kept.append(cell)

    whole = [[*row.cells, *(None,) * (len(table.columns) - len(row.cells))] for row in table.rows]
    stacks = [[row[number] for row in whole] for number in range(len(table.columns))]
    waiting: tuple[Column, Sequence[Cell]] | None = None
    for number, (column, own) in enumerate(zip(table.columns, stacks, strict=True)):
        add(column, own)
        if waiting:
            add(*waiting)
            waiting = None
        told = [_in_other(cell, other) for cell in own]
        if any(cell is not None for cell in told):
            beside = Column(f"{column.heading}, {other.name}", over=column.over), told
            if number + 1 < len(stacks) and _are_units(stacks[number + 1], own):
                waiting = beside  # numbers and the column of their units stay together
            else:
                add(*beside)
    rows = zip(table.rows, cells, strict=True)
    return replace(
        table,
        columns=tuple(columns),
        rows=tuple(row._replace(cells=tuple(kept)) for row, kept in rows),
    )


def _are_units(stacked: Sequence[Cell], numbers: Sequence[Cell]) -> bool:
    """Whether a column says the units of another."""
    if not all(cell is None or isinstance(cell, str) for cell in stacked):
        return False
    figures = map(figure_of, numbers)
    said = [None if figure is None else unit_of(figure) for figure in figures]
    return any(said) and said == list(stacked)


def _in_other(cell: Cell, other: System) -> Figure | None:
    figure = figure_of(cell)
    if figure is None or isinstance(cell, Choice | Flag):
        return None
    target = said_in(other, figure).unit
    return None if target == figure.unit else converted(figure, target)


def _retold_sheet(sheet: Sheet, retold: Retold) -> Sheet:
    def cell(one: Cell) -> Cell:
        if isinstance(one, Figure):
            return retold.of(one)
        if isinstance(one, ON_FIGURES):
            told = retold.of(one.figure)
            return one if told is one.figure else replace(one, figure=told)
        if isinstance(one, UnitOf):
            return unit_of(retold.of(one.figure))
        return words(one.text) if isinstance(one, Measured) else one

    def words(text: str) -> str:
        return in_words(text, retold.system)

    def block(one: Block) -> Block:
        if isinstance(one, Paragraphs):
            return replace(one, lines=tuple(map(words, one.lines)))
        if not isinstance(one, Table):
            return one
        rows = tuple(row._replace(cells=tuple(map(cell, row.cells))) for row in one.rows)
        return replace(one, rows=rows)

    return replace(
        sheet,
        heading=words(sheet.heading),
        notes=tuple(map(words, sheet.notes)),
        blocks=tuple(map(block, sheet.blocks)),
    )
