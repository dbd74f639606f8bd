"""A sheet laid out: which cell, style, width and height goes where. Rows and columns from 1."""

from __future__ import annotations

from dataclasses import dataclass, field

from openpyxl.worksheet.cell_range import CellRange

from quoter.workbook.lanes import Lane
from quoter.workbook.table import Cell, Chart, Choice, Entry, Sheet

BLANK_ROW = 15.0  # points of a row that nothing was written in


@dataclass(frozen=True, slots=True)
class Slot:
    """A cell at its place, with the role that styles it and its number format."""

    row: int
    column: int
    content: Cell
    role: str
    code: str = "General"


@dataclass(frozen=True, slots=True)
class Area:
    """Where a table landed: sheet, its first row, the rows of its lines, columns by heading."""

    sheet: str
    first: int
    lines: tuple[int, ...]
    columns: dict[str, int]
    lanes: dict[str, Lane]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A chart at its place: the row its top touches, points from the left, width and height.

    `scale` enlarges its letters.
    """

    chart: Chart
    row: int
    left: float
    width: float
    height: float
    scale: float = 1.0


@dataclass(slots=True)
class Grid:
    """A sheet laid out; `merges` are rows with the first and last column joined there.

    `heads` are the lowest rows of headings, `overs` the rows above some of them; `filters` are
    the heading and rows to filter, `kept` how many columns stay in view.
    """

    sheet: Sheet
    widths: list[float]
    slots: list[Slot] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    merges: list[tuple[int, int, int]] = field(default_factory=list)
    heads: list[int] = field(default_factory=list)
    overs: list[int] = field(default_factory=list)
    filters: list[CellRange] = field(default_factory=list)
    kept: int = 1
    areas: dict[str, Area] = field(default_factory=dict)
    drawings: list[Drawing] = field(default_factory=list)
    last_row: int = 0

    @property
    def last_column(self) -> int:
        """Columns in use."""
        return len(self.widths)

    @property
    def has_entries(self) -> bool:
        """Whether the reader may change a cell here."""
        return any(isinstance(slot.content, Entry | Choice) for slot in self.slots)
