"""A sheet laid out: what stands in which row, how high rows are, where its pages end.

Rows and columns count from 1.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass, field
from typing import NamedTuple

from quoter.workbook.columns import GENERAL, ShownColumn
from quoter.workbook.measure import lines, row_height
from quoter.workbook.paper import Page, Whole
from quoter.workbook.styles import CellStyle
from quoter.workbook.table import Cell, Chart, Paragraphs, Sheet

Span = tuple[int, int]  # first and last column

BLANK_ROW = 15.0  # points of a row that nothing was written in
HEADING_SIZE = 12.0  # points of its letters
_SURE = 0.97  # of a long line that letters take, whichever application sets them
PADDING = 2.9  # digits of a column that its text leaves free


class Strip(NamedTuple):
    """What stands in a column of the sheet, or in several joined: a cell and a style for each row.

    There are hundreds of thousands of cells, so none is an object of its own. `kinds` are the
    types that occur.
    """

    first: int
    last: int
    cells: Sequence[Cell]
    styles: Sequence[CellStyle]
    kinds: Set[type]


Band = tuple[int, Sequence[Strip]]  # rows that are alike: the first one, and what stands in them


@dataclass(frozen=True, slots=True)
class TableRange:
    """Where a table landed: sheet, its first row, the rows of its lines, columns by heading."""

    sheet: str
    first: int
    lines: tuple[int, ...]
    columns: dict[str, int]
    shown: dict[str, ShownColumn]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A chart where it stands: the row its top touches, points from the left, width and height.

    `scale` enlarges its letters.
    """

    chart: Chart
    row: int
    left: float
    width: float
    height: float
    scale: float = 1.0


@dataclass(slots=True)
class LaidSheet:
    """A sheet laid out: widths of its columns, cells in bands, height of each row that has any.

    `heads` are the lowest rows of headings, `overs` the rows above some of them; `filtered` are
    the first and last row to filter, `kept` how many columns stay in view. Rows up to `printed`
    and columns up to `across` print, on pages that end after the rows of `breaks` or all `on_one`;
    texts run to the column `reach`.
    """

    sheet: Sheet
    widths: list[float]
    page: Page
    reach: int
    across: int
    takes_entries: bool = False
    bands: list[Band] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    heads: list[int] = field(default_factory=list)
    overs: list[int] = field(default_factory=list)
    filtered: tuple[int, int, int] | None = None
    kept: int = 1
    tables: dict[str, TableRange] = field(default_factory=dict)
    drawings: list[Drawing] = field(default_factory=list)
    wholes: list[Whole] = field(default_factory=list)
    breaks: list[int] = field(default_factory=list)
    printed: int = 0
    on_one: bool = False
    last_row: int = 0


def next_row(laid: LaidSheet, height: float, *strips: Strip) -> int:
    """A row below the last one, with what stands in it; gives its number."""
    laid.last_row += 1
    laid.heights[laid.last_row] = height
    laid.bands.append((laid.last_row, strips))
    return laid.last_row


def text_strip(span: Span, role: str, text: str) -> Strip:
    """One text in one row."""
    return Strip(*span, (text,), ((role, GENERAL),), frozenset({str}))


def paragraph(
    laid: LaidSheet, text: str, role: str, size: float = 10.0, bold: bool = False
) -> None:
    """Text over the columns that a screen shows, wrapped, in a row as high as it needs."""
    height = row_height(lines(text, reached(laid), bold, size), size)
    next_row(laid, height, text_strip((1, laid.reach), role, text))


def paragraphs(laid: LaidSheet, block: Paragraphs) -> range:
    """Paragraphs one below the other; gives the rows of all but the first."""
    first = laid.last_row + 1
    is_heading = block.kind == "heading"
    size = HEADING_SIZE if is_heading else 10.0
    for line in block.lines:
        paragraph(laid, line, block.kind, size, bold=is_heading)
    return range(first + 1, laid.last_row + 1)


def reached(laid: LaidSheet) -> float:
    """Digits that a text across the sheet has."""
    return sum(laid.widths[: laid.reach]) * _SURE - PADDING


def repeated_rows(laid: LaidSheet) -> range:
    """Rows printed on every page: a lone table's heading, else the sheet's title."""
    row = laid.heads[0] if len(laid.heads) == 1 else 1
    return range(row - (row - 1 in laid.overs), row + 1)
