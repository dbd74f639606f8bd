"""From a sheet's blocks to a grid, from top to bottom. Still no formulas."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import groupby

from openpyxl.worksheet.cell_range import CellRange

from quoter.workbook.grid import BLANK_ROW, Area, Drawing, Grid, Slot
from quoter.workbook.lanes import Lane, lanes_of
from quoter.workbook.measure import lines, row_height
from quoter.workbook.paper import blank_before, column_points, page_heights
from quoter.workbook.table import (
    Cell,
    Chart,
    Choice,
    Entry,
    Flag,
    Link,
    Row,
    Sheet,
    Table,
    Text,
)

Spans = list[tuple[int, int]]

LEGEND_MARK = "Yours to change"
LEGEND = (
    "Cells that look like this take your numbers. Everything else is calculated from them and "
    "locked; the lock has no password."
)
_GROWTH = 1.3  # a column may become so much wider before a lane takes two
_PADDING = 2.9  # digits of a column that its text leaves free
_NARROWEST_SHEET = 130.0
_SPARE_COLUMN = 13.0
_LEGEND_COLUMN = 17.0
_TITLE_SIZE, _HEADING_SIZE = 16.0, 12.0
_CHART_GAP = 14.0
_CHART_WIDEST = 760.0
_CHART_LARGEST = 1.6  # times its usual size, on a sheet that is shrunk to fit the page
_PAGE_WIDE = 770.0  # points of columns that fit a page unshrunk
_CHART_SIDE_BY_SIDE = 640.0  # a sheet this wide takes two in a row


def lay_out(sheet: Sheet, footer: str, named: Mapping[str, Table]) -> Grid:
    """The grid of a sheet whose contents are a table by now; `named` are all charts may show.

    Raises:
        LimitError: when a table's rows don't fit its columns.
    """
    tables = [lanes_of(block) if isinstance(block, Table) else [] for block in sheet.blocks]
    widths, spans = _arrange(tables, _may_change(sheet))
    grid = Grid(sheet, widths)
    _paragraph(grid, sheet.title, "title", _TITLE_SIZE, bold=True)
    _paragraph(grid, sheet.heading, "lead")
    if _may_change(sheet):
        _legend(grid)
    under_heading = False
    for block, lanes, columns in zip(sheet.blocks, tables, spans, strict=True):
        grid.last_row += not under_heading
        under_heading = isinstance(block, Text) and block.kind == "heading"
        if isinstance(block, Table):
            _table(grid, block, lanes, columns)
        elif isinstance(block, Chart):
            _charts(grid, (block,), named)
        elif isinstance(block, Text):
            for line in block.lines:
                is_heading = block.kind == "heading"
                size = _HEADING_SIZE if is_heading else 10.0
                _paragraph(grid, line, block.kind, size, bold=is_heading)
    _charts(grid, sheet.charts, named)
    if sheet.notes:
        grid.last_row += 1
    for note in sheet.notes:
        _paragraph(grid, note, "note")
    grid.last_row += 1
    _paragraph(grid, footer, "foot", 8.0)
    return grid


def _may_change(sheet: Sheet) -> bool:
    return any(
        isinstance(cell, Entry | Choice)
        for block in sheet.blocks
        if isinstance(block, Table)
        for row in block.rows
        for cell in row.cells
    )


def _arrange(tables: Sequence[Sequence[Lane]], legend: bool) -> tuple[list[float], list[Spans]]:
    """Column widths of the sheet, and which columns each lane of each table takes.

    The table with most lanes sets the columns; a wider lane of another one runs over several.
    """
    order = sorted(range(len(tables)), key=lambda index: -len(tables[index]))
    widths: list[float] = []
    spans: list[Spans] = [[] for _ in tables]
    for index in order:
        spans[index] = _spans(tables[index], widths)
        if legend and index == order[0]:
            widths[0] = max(widths[0], _LEGEND_COLUMN)
    while sum(widths) < _NARROWEST_SHEET:
        widths.append(_SPARE_COLUMN)
    return widths, spans


def _spans(lanes: Sequence[Lane], widths: list[float]) -> Spans:
    """First and last column of each lane; columns grow a little, or are added, where need be."""
    spans: Spans = []
    column = 0
    for lane in lanes:
        first, wanted = column, lane.width + _PADDING
        if column == len(widths):
            widths.append(wanted)
        if wanted <= widths[column] * _GROWTH:
            widths[column] = max(widths[column], wanted)
        room = widths[column]
        while room < wanted:
            column += 1
            if column == len(widths):
                widths.append(wanted - room)
            room += widths[column]
        column += 1
        spans.append((first + 1, column))
    return spans


def _next_row(grid: Grid, height: float) -> int:
    grid.last_row += 1
    grid.heights[grid.last_row] = height
    return grid.last_row


def _paragraph(
    grid: Grid, text: str, role: str, size: float = 10.0, bold: bool = False, column: int = 1
) -> None:
    """Text over all columns, wrapped, in a row as high as it needs."""
    room = sum(grid.widths[column - 1 :]) - _PADDING
    row = _next_row(grid, row_height(lines(text, room, bold, size), size))
    grid.slots.append(Slot(row, column, text, role))
    grid.slots.extend(Slot(row, c, None, role) for c in range(column + 1, grid.last_column + 1))
    grid.merges.append((row, column, grid.last_column))


def _legend(grid: Grid) -> None:
    _paragraph(grid, LEGEND, "legend", column=2)
    grid.slots.append(Slot(grid.last_row, 1, LEGEND_MARK, "swatch"))


def _table(grid: Grid, table: Table, lanes: Sequence[Lane], spans: Spans) -> None:
    if table.title:
        _paragraph(grid, table.title, "heading", _HEADING_SIZE, bold=True)
    count = max(
        lines(lane.heading, _room(grid, span), bold=True)
        for lane, span in zip(lanes, spans, strict=True)
    )
    _overs(grid, lanes, spans)
    head = _next_row(grid, row_height(count + table.sortable) + 3)
    grid.heads.append(head)
    for lane, span in zip(lanes, spans, strict=True):
        side = lane.kind if lane.kind in ("number", "mark") else "text"
        # Where a filter is, its buttons stand in the lower right corners of the headings.
        _put(grid, head, span, lane.heading, f"head_{side}{'_filter' * table.sortable}")
    for index, row in enumerate(table.rows):
        _row(grid, row, lanes, spans, index)
    if table.sortable:
        grid.filters.append(CellRange(None, 1, head, spans[-1][1], grid.last_row))
        grid.kept = table.kept
    if table.name:
        own = [(lane, first) for lane, (first, _) in zip(lanes, spans, strict=True) if lane.column]
        grid.areas[table.name] = Area(
            grid.sheet.title,
            head + 1,
            tuple(head + 1 + i for i, row in enumerate(table.rows) if row.kind == "line"),
            {lane.column: first for lane, first in own},
            {lane.column: lane for lane, _ in own},
        )


def _overs(grid: Grid, lanes: Sequence[Lane], spans: Spans) -> None:
    """A row of headings over those of neighbouring columns, where some have one."""
    runs = [
        (over, [span for _, span in run])
        for over, run in groupby(zip(lanes, spans, strict=True), key=lambda pair: pair[0].over)
    ]
    if not any(over for over, _ in runs):
        return
    together = [(over, (run[0][0], run[-1][1])) for over, run in runs]
    count = max(lines(over, _room(grid, span), bold=True) for over, span in together)
    row = _next_row(grid, row_height(count) + 3)
    grid.overs.append(row)
    for over, span in together:
        _put(grid, row, span, over, "head_over")


def _room(grid: Grid, span: tuple[int, int]) -> float:
    """Digits that text has in a lane."""
    return sum(grid.widths[span[0] - 1 : span[1]]) - _PADDING + 0.5


def _put(
    grid: Grid, row: int, span: tuple[int, int], cell: Cell, role: str, code: str = "General"
) -> None:
    """A cell in its lane, joined over all its columns."""
    first, last = span
    grid.slots.append(Slot(row, first, cell, role, code))
    grid.slots.extend(Slot(row, column, None, role) for column in range(first + 1, last + 1))
    if last > first:
        grid.merges.append((row, first, last))


def _row(grid: Grid, row: Row, lanes: Sequence[Lane], spans: Spans, index: int) -> None:
    if row.kind == "group":
        words = row.cells[0] if row.cells and isinstance(row.cells[0], str) else ""
        at = _next_row(grid, row_height(1))
        _put(grid, at, (1, spans[-1][1]), words, "group")
        return
    at = _next_row(grid, 0.0)
    count = 1
    for lane, span in zip(lanes, spans, strict=True):
        cell, look = lane.cells[index], lane.looks[index]
        text = cell.text if isinstance(cell, Link) else cell
        if isinstance(text, str):
            count = max(count, lines(text, _room(grid, span), bold=row.kind == "total"))
        code = look.code if look else "General"
        _put(grid, at, span, cell, _role(cell, lane, row), code)
    grid.heights[at] = row_height(count)


def _role(cell: Cell, lane: Lane, row: Row) -> str:
    if isinstance(cell, Entry):
        return "entry"
    if isinstance(cell, Choice):
        return "choice"
    prefix = "total_" if row.kind == "total" else ""
    if isinstance(cell, Link):
        return "link"
    return prefix + ("mark" if isinstance(cell, Flag) else lane.kind)


def _charts(grid: Grid, charts: Sequence[Chart], named: Mapping[str, Table]) -> None:
    """Charts in rows of one or two, none across the end of a page."""
    total = sum(column_points(width) for width in grid.widths)
    in_a_row = 2 if len(charts) > 1 and total >= _CHART_SIDE_BY_SIDE else 1
    scale = min(max(total / _PAGE_WIDE, 1.0), _CHART_LARGEST)
    width = min(total / in_a_row - _CHART_GAP, _CHART_WIDEST * scale)
    for start in range(0, len(charts), in_a_row):
        together = charts[start : start + in_a_row]
        height = scale * max(_chart_height(chart, named[chart.table]) for chart in together)
        grid.last_row += 1
        _keep_on_page(grid, height + BLANK_ROW)
        top = grid.last_row + 1
        for place, chart in enumerate(together):
            left = place * (width + _CHART_GAP)
            grid.drawings.append(Drawing(chart, top, left, width, height, scale))
        grid.last_row += math.ceil(height / BLANK_ROW)


def _chart_height(chart: Chart, table: Table) -> float:
    if chart.kind == "columns":
        return 250.0
    shown = sum(row.kind == "line" for row in table.rows)
    bars = shown * (1.0 if chart.stacked else (1 + len(chart.values)) / 2)  # thinner side by side
    return min(max(200.0, 110.0 + 19.0 * bars), 460.0)


def _keep_on_page(grid: Grid, height: float) -> None:
    """Leave rows empty down to the next page where `height` points may not fit on this one."""
    repeated = sum(grid.heights[row] for row in repeated_rows(grid))
    heights = [grid.heights.get(row, BLANK_ROW) for row in range(1, grid.last_row + 1)]
    blank = blank_before(heights, repeated, height, page_heights(grid.widths))
    grid.last_row += math.ceil(blank / BLANK_ROW)


def repeated_rows(grid: Grid) -> range:
    """Rows printed on every page: a lone table's heading, else the sheet's title."""
    row = grid.heads[0] if len(grid.heads) == 1 else 1
    return range(row - (row - 1 in grid.overs), row + 1)
