"""From grids of figures to cells of formulas and values: addresses, formulas, hoisted parts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from openpyxl.utils import get_column_letter

from quoter.figures import Figure
from quoter.figures.figure import make
from quoter.workbook.formula import FormulaTooLongError, condition, formula
from quoter.workbook.grid import Grid, Slot
from quoter.workbook.limits import check_text
from quoter.workbook.places import Spot, Spots, address_from, quoted
from quoter.workbook.table import Cell, Choice, Entry, Flag, Link

READABLE = 1000  # letters of a formula that a person still follows, well below what sheets accept
# Sums and sums of products with more arguments than this are split in two, not emptied one by one.
_FEW_ARGUMENTS = 4


@dataclass(frozen=True, slots=True)
class Filled:
    """A cell ready to be written: role and number format, formula if any, value as shown."""

    row: int
    column: int
    role: str
    code: str
    formula: str
    value: float | str | None


class Formulas:
    """Formulas of all cells; what would grow too long is given parts with cells of their own."""

    def __init__(self, spots: Spots, new_spot: Callable[[Figure, Figure], Spot]) -> None:
        """`new_spot(part, whole)` finds a cell for a part of a formula."""
        self._spots = spots
        self._new_spot = new_spot
        self._texts: dict[Figure, str] = {}
        self._fixed: set[str] = set()

    def fill(self, grid: Grid) -> list[Filled]:
        """The cells of a grid.

        Raises:
            LimitError: for text no cell can hold.
        """
        if grid.filters:
            self._fixed.add(grid.sheet.title)
        return [self._fill(grid.sheet.title, slot) for slot in grid.slots]

    def _fill(self, sheet: str, slot: Slot) -> Filled:
        text, value = self._content(sheet, slot)
        return Filled(slot.row, slot.column, slot.role, slot.code, text, value)

    def _content(self, sheet: str, slot: Slot) -> tuple[str, float | str | None]:
        cell: Cell = slot.content
        if isinstance(cell, str):
            return "", check_text(cell) or None
        if isinstance(cell, Link):
            return "", check_text(cell.text)
        if isinstance(cell, Flag):
            return self._flag(sheet, cell)
        if cell is None:
            return "", None
        figure = cell.figure if isinstance(cell, Entry | Choice) else cell
        home = self._spots.get(figure)
        if home is None:
            return "", figure.value
        if sheet in self._fixed:
            return home.absolute, figure.value
        if home.sheet != sheet:
            return home.qualified, figure.value
        if home.cell != f"{get_column_letter(slot.column)}{slot.row}":
            return home.cell, figure.value
        return self.of(figure), figure.value

    def of(self, figure: Figure) -> str:
        """The formula in a figure's home cell; nothing for a bare number."""
        if not figure.args:
            return ""
        if figure not in self._texts:
            sheet = self._spots[figure].sheet
            self._texts[figure] = self._fitting(figure, sheet, formula)
        return self._texts[figure]

    def _flag(self, sheet: str, flag: Flag) -> tuple[str, str]:
        test = self._fitting(flag.figure, sheet, condition)
        yes, no = (word.replace('"', '""') for word in (flag.yes, flag.no))
        holds = flag.figure.value != 0
        return f'IF({test},"{yes}","{no}")', check_text(flag.yes if holds else flag.no)

    def _fitting(self, figure: Figure, sheet: str, write: Callable[..., str]) -> str:
        """Write a formula, moving parts of it into cells until it is short enough."""
        address = address_from(sheet, self._spots, sheet in self._fixed)
        shape = figure
        while True:
            try:
                return write(shape, address, READABLE)
            except FormulaTooLongError as fault:
                shape = self._relieve(fault, shape, figure)

    def _relieve(self, fault: FormulaTooLongError, shape: Figure, whole: Figure) -> Figure:
        node = fault.node
        if len(node.args) <= _FEW_ARGUMENTS:
            part = fault.longest_part
            if part is None:
                raise fault
            self._hoist(part, whole)
            return shape
        if node is not shape:
            self._hoist(node, whole)
            return shape
        halves = _halves(node)
        for half in halves:
            self._hoist(half, whole)
        return replace(node, op="sum", args=halves)

    def _hoist(self, part: Figure, whole: Figure) -> None:
        self._spots[part] = self._new_spot(part, whole)


def _halves(node: Figure) -> tuple[Figure, Figure]:
    """A long sum, or sum of products, as two; their sum is the whole."""
    if node.op == "sum":
        middle = len(node.args) // 2
        return make("sum", *node.args[:middle]), make("sum", *node.args[middle:])
    half = len(node.args) // 2
    left, right = node.args[:half], node.args[half:]
    middle = half // 2
    return (
        make("dot", *left[:middle], *right[:middle]),
        make("dot", *left[middle:], *right[middle:]),
    )


def link_target(link: Link) -> str:
    """Where a link leads, as the file says it."""
    return f"{quoted(link.sheet)}!{link.cell}"
