"""Every figure gets one home cell; wherever else it is shown, the cell refers to it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from openpyxl.utils import get_column_letter, quote_sheetname

from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.workbook.formula import Address
from quoter.workbook.grid import Grid
from quoter.workbook.limits import LimitError
from quoter.workbook.table import Cell, Choice, Entry, Sheet, Table, figure_of, is_sortable


@dataclass(frozen=True, slots=True)
class Spot:
    """A cell: the sheet's title, ``B4``, and ``'Take-off'!B4`` as other sheets write it."""

    sheet: str
    cell: str
    qualified: str

    @property
    def absolute(self) -> str:
        """``'Take-off'!$B$4``, the same cell from wherever it is written."""
        letters = self.cell.rstrip("0123456789")
        return f"{quoted(self.sheet)}!${letters}${self.cell[len(letters) :]}"


Spots = dict[Figure, Spot]


def spot(sheet: str, row: int, column: int) -> Spot:
    """The cell of a sheet at a row and column, both from 1."""
    cell = f"{get_column_letter(column)}{row}"
    return Spot(sheet, cell, f"{quoted(sheet)}!{cell}")


def quoted(sheet: str) -> str:
    """A sheet's title as formulas write it: in apostrophes unless it is one plain word."""
    plain = sheet.isascii() and sheet.isalpha() and len(sheet) > 3
    return sheet if plain else quote_sheetname(sheet)


def address_from(sheet: str, spots: Spots, fixed: bool = False) -> Address:
    """How formulas on a sheet refer to figures, by `fixed` addresses or not; grows with `spots`."""

    def address(figure: Figure) -> str | None:
        found = spots.get(figure)
        if found is None:
            return None
        if fixed:
            return found.absolute
        return found.cell if found.sheet == sheet else found.qualified

    return address


def place(grids: Sequence[Grid]) -> Spots:
    """Homes of all figures shown: entries first, then sheets that own, then the others.

    A bare number of a formula has a home only where it is stated under a key, or has a label and
    is shown once. Nothing has its home on a sheet whose rows may be sorted.

    Raises:
        LimitError: when an entry's figure is no input, or has two entry cells.
    """
    spots: Spots = {}
    for grid in grids:
        for slot in grid.slots:
            if isinstance(slot.content, Entry | Choice):
                figure = slot.content.figure
                _check_entry(figure, figure in spots)
                spots[figure] = spot(grid.sheet.title, slot.row, slot.column)
    shown = [
        (slot.content, spot(grid.sheet.title, slot.row, slot.column))
        for grid in sorted(grids, key=lambda grid: not grid.sheet.owner)
        if not is_sortable(grid.sheet)
        for slot in grid.slots
        if isinstance(slot.content, Figure)
    ]
    times = Counter(figure for figure, _ in shown)
    for figure, where in shown:
        if figure.op != "const" or figure.key or (figure.label and times[figure] == 1):
            spots.setdefault(figure, where)
    return spots


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
    homes = Figure | Entry | Choice
    shown = {
        figure
        for cell in cells_of(sheet for sheet in sheets if not is_sortable(sheet))
        if isinstance(cell, homes) and (figure := figure_of(cell)) is not None
    }
    asked = set(names)
    return [
        figure
        for figure in in_order([*shown_in(sheets), *names])
        if figure not in shown and (figure.key or figure.op == "input" or figure in asked)
    ]
