"""Where figures live: each has one home cell, and wherever else it is shown, a cell refers to it.

Runs of neighbouring cells become ranges: what SUM and SUMPRODUCT read best.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.workbook.layout import LaidSheet
from quoter.workbook.limits import LimitError
from quoter.workbook.table import (
    Cell,
    Choice,
    Flag,
    InputCell,
    Sheet,
    Table,
    figure_of,
    is_sortable,
)

_CELL = re.compile(r"((?:'(?:[^']|'')+'|[^'!(),:]+)!)?([A-Z]{1,3})(\d+)\Z")


@dataclass(frozen=True, slots=True)
class Address:
    """A cell: the sheet's title, ``B4``, and ``'Take-off'!B4`` as other sheets write it."""

    sheet: str
    cell: str
    qualified: str

    @property
    def absolute(self) -> str:
        """``'Take-off'!$B$4``, the same cell from wherever it is written."""
        letters = self.cell.rstrip("0123456789")
        return f"{quoted(self.sheet)}!${letters}${self.cell[len(letters) :]}"


Addresses = dict[Figure, Address]


def address(sheet: str, row: int, column: int) -> Address:
    """The cell of a sheet at a row and column, both from 1."""
    cell = f"{letters(column)}{row}"
    return Address(sheet, cell, f"{quoted(sheet)}!{cell}")


@cache
def letters(column: int) -> str:
    """A column as sheets call it: A, B, ..., Z, AA."""
    rest, last = divmod(column - 1, 26)
    return (letters(rest) if rest else "") + chr(ord("A") + last)


@cache
def quoted(sheet: str) -> str:
    """A sheet's title as formulas write it: in apostrophes unless it is one plain word."""
    plain = sheet.isascii() and sheet.isalpha() and len(sheet) > 3
    return sheet if plain else "'" + sheet.replace("'", "''") + "'"


def homes(sheets: Sequence[LaidSheet]) -> Addresses:
    """Homes of all figures shown: entries first, then sheets that own, then the others.

    A bare number of a formula has a home only where it is stated under a key, or has a label and
    is shown once. Nothing has its home on a sheet whose rows may be sorted.

    Raises:
        LimitError: when an entry's figure is no input, or has two entry cells.
    """
    found: Addresses = {}
    for laid in sheets:
        if laid.takes_entries:
            for row, cells in laid.rows.items():
                for column, _, _, content in cells:
                    if isinstance(content, InputCell | Choice):
                        _check_entry(content.figure, content.figure in found)
                        found[content.figure] = address(laid.sheet.title, row, column)
    shown: list[tuple[Figure, str, int, int]] = [
        (content, laid.sheet.title, row, column)
        for laid in sorted(sheets, key=lambda laid: not laid.sheet.owner)
        if laid.filtered is None
        for row, cells in laid.rows.items()
        for column, _, _, content in cells
        if type(content) is Figure
    ]
    times = Counter(figure for figure, *_ in shown if figure.op == "const")
    for figure, sheet, row, column in shown:
        has_home = figure.op != "const" or figure.key or (figure.label and times[figure] == 1)
        if has_home and figure not in found:
            found[figure] = address(sheet, row, column)
    return found


def _check_entry(figure: Figure, again: bool) -> None:
    name = figure.key or figure.label or figure.op
    if figure.op != "input":
        raise LimitError(f"'{name}' is calculated; only an input can stand in an entry cell")
    if again:
        raise LimitError(f"'{name}' has two entry cells; a reader could fill in only one of them")


def shown_in(sheets: Iterable[Sheet]) -> list[Figure]:
    """Every figure in any cell of the sheets' tables, in order, as often as it occurs."""
    return [figure for cell in cells_of(sheets) if (figure := figure_of(cell)) is not None]


def cells_of(sheets: Iterable[Sheet]) -> list[Cell]:
    """Every cell of the sheets' tables, in order."""
    tables = [block for sheet in sheets for block in sheet.blocks if isinstance(block, Table)]
    return [cell for table in tables for row in table.rows for cell in row.cells]


def without_cell(sheets: Iterable[Sheet], names: Iterable[Figure]) -> list[Figure]:
    """Figures that need a cell and that no table has one for, each after those it rests on.

    These are the named figures and inputs that something shown depends on, the ones that flags put
    in words, and whatever has a defined name.
    """
    sheets, names = list(sheets), list(names)
    shown = {
        figure
        for cell in cells_of(sheet for sheet in sheets if not is_sortable(sheet))
        if not isinstance(cell, Flag) and (figure := figure_of(cell)) is not None
    }
    asked = set(names)
    return [
        figure
        for figure in in_order([*shown_in(sheets), *names])
        if figure not in shown and (figure.key or figure.op == "input" or figure in asked)
    ]


def ranges(texts: Sequence[str]) -> list[str]:
    """The texts with runs of cells along a column, else along a row, joined to ranges.

    >>> ranges(["B2", "B3", "B4", "D7", "E7", "(B9*2)"])
    ['B2:B4', 'D7:E7', '(B9*2)']
    """
    at = {text: found for text in texts if (found := position(text)) is not None}
    cells = sorted((text for text in texts if text in at), key=at.__getitem__)
    others = [text for text in texts if text not in at]
    columns = _runs(cells, (0, 1))
    alone = [run[0] for run in columns if len(run) == 1]
    alone.sort(key=lambda cell: (at[cell][0], at[cell][2], at[cell][1]))
    runs = [run for run in columns if len(run) > 1] + _runs(alone, (1, 0))
    return [span(run[0], run[-1]) for run in runs] + others


def _runs(cells: Sequence[str], step: tuple[int, int]) -> list[list[str]]:
    runs: list[list[str]] = []
    for cell in cells:
        if runs and _step(runs[-1][-1], cell) == step:
            runs[-1].append(cell)
        else:
            runs.append([cell])
    return runs


def stretches(pairs: Sequence[tuple[str, str]]) -> list[list[tuple[str, str]]]:
    """Pairs in order, those together where both sides go on by one cell in the same direction."""
    found: list[list[tuple[str, str]]] = []
    direction: tuple[int, int] | None = None
    for pair in pairs:
        if found:
            last = found[-1][-1]
            step = _step(last[0], pair[0])
            same = step is not None and step == _step(last[1], pair[1])
            if same and (len(found[-1]) == 1 or step == direction):
                found[-1].append(pair)
                direction = step
                continue
        found.append([pair])
    return found


def _step(before: str, after: str) -> tuple[int, int] | None:
    """(columns, rows) from a cell to the next one along a line; None for anything else."""
    a, b = position(before), position(after)
    if a is None or b is None:
        return None
    step = (b[1] - a[1], b[2] - a[2])
    return step if a[0] == b[0] and step in ((0, 1), (1, 0)) else None


def span(first: str, last: str) -> str:
    """The range from a cell to another on the same sheet."""
    return f"{first}:{last.rpartition('!')[2]}" if first != last else first


@lru_cache(maxsize=65536)
def position(term: str) -> tuple[str, int, int] | None:
    """Sheet, column and row, where a term is one cell's address, with or without its sheet."""
    match = _CELL.match(term)
    if not match:
        return None
    column = 0
    for letter in match[2]:
        column = column * 26 + ord(letter) - 64
    return match[1] or "", column, int(match[3])
