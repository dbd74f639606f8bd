"""From a sheet's blocks to cells in rows, from top to bottom. Still no formulas.

Rows and columns count from 1.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from quoter.phrases import phrase
from quoter.workbook.columns import GENERAL, ShownColumn, shown_columns
from quoter.workbook.measure import blank_before, column_points, lines, page_heights, row_height
from quoter.workbook.styles import CellStyle
from quoter.workbook.table import (
    ENTRIES,
    TEXTS,
    Cell,
    Chart,
    Paragraphs,
    Sheet,
    Table,
    text_of,
)

Span = tuple[int, int]  # first and last column

BLANK_ROW = 15.0  # points of a row that nothing was written in
LEGEND_MARK = phrase("Yours to change")
LEGEND = phrase(
    "Cells that look like this take your numbers. Everything else is calculated from them and "
    "locked; the lock has no password."
)
_GROWTH = 1.3  # a column of the sheet may grow so much before a table's column takes two
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
    the first and last row to filter, `kept` how many columns stay in view.
    """

    sheet: Sheet
    widths: list[float]
    takes_entries: bool = False
    bands: list[Band] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    heads: list[int] = field(default_factory=list)
    overs: list[int] = field(default_factory=list)
    filtered: tuple[int, int, int] | None = None
    kept: int = 1
    tables: dict[str, TableRange] = field(default_factory=dict)
    drawings: list[Drawing] = field(default_factory=list)
    last_row: int = 0

    @property
    def last_column(self) -> int:
        """Columns in use."""
        return len(self.widths)


def lay_out(
    sheet: Sheet, footer: str, named: Mapping[str, Table], say: Callable[[str], str] = str
) -> LaidSheet:
    """The cells of a sheet whose contents are a table by now; `named` are all charts may show.

    `say` says what the sheet itself does not: whence numbers come, and which a reader may change.

    Raises:
        LimitError: when a table's rows don't fit its columns.
    """
    tables = [
        shown_columns(block, say) if isinstance(block, Table) else [] for block in sheet.blocks
    ]
    takes_entries = any(column.kinds & ENTRIES for columns in tables for column in columns)
    widths, spans = _arrange(tables, takes_entries)
    laid = LaidSheet(sheet, widths, takes_entries)
    _paragraph(laid, sheet.title, "title", _TITLE_SIZE, bold=True)
    _paragraph(laid, sheet.heading, "lead")
    if takes_entries:
        _legend(laid, say(LEGEND_MARK), say(LEGEND))
    under_heading = False
    for block, columns, of_columns in zip(sheet.blocks, tables, spans, strict=True):
        laid.last_row += not under_heading
        under_heading = isinstance(block, Paragraphs) and block.kind == "heading"
        if isinstance(block, Table):
            _table(laid, block, columns, of_columns)
        elif isinstance(block, Chart):
            _charts(laid, (block,), named)
        elif isinstance(block, Paragraphs):
            for line in block.lines:
                is_heading = block.kind == "heading"
                size = _HEADING_SIZE if is_heading else 10.0
                _paragraph(laid, line, block.kind, size, bold=is_heading)
    _charts(laid, sheet.charts, named)
    if sheet.notes:
        laid.last_row += 1
    for note in sheet.notes:
        _paragraph(laid, note, "note")
    laid.last_row += 1
    _paragraph(laid, footer, "foot", 8.0)
    return laid


def _arrange(
    tables: Sequence[Sequence[ShownColumn]], legend: bool
) -> tuple[list[float], list[list[Span]]]:
    """Widths of the sheet's columns, and which of them each column of each table takes.

    The table with most columns sets them; a wider column of another one runs over several.
    """
    order = sorted(range(len(tables)), key=lambda index: -len(tables[index]))
    widths: list[float] = []
    spans: list[list[Span]] = [[] for _ in tables]
    for index in order:
        spans[index] = _spans(tables[index], widths)
        if legend and index == order[0]:
            widths[0] = max(widths[0], _LEGEND_COLUMN)
    while sum(widths) < _NARROWEST_SHEET:
        widths.append(_SPARE_COLUMN)
    return widths, spans


def _spans(columns: Sequence[ShownColumn], widths: list[float]) -> list[Span]:
    """The span of each column; the sheet's grow a little, or are added, where need be."""
    spans: list[Span] = []
    at = 0
    for column in columns:
        first, wanted = at, column.width + _PADDING
        if at == len(widths):
            widths.append(wanted)
        if wanted <= widths[at] * _GROWTH:
            widths[at] = max(widths[at], wanted)
        room = widths[at]
        while room < wanted:
            at += 1
            if at == len(widths):
                widths.append(wanted - room)
            room += widths[at]
        at += 1
        spans.append((first + 1, at))
    return spans


def _next_row(laid: LaidSheet, height: float, *strips: Strip) -> int:
    laid.last_row += 1
    laid.heights[laid.last_row] = height
    laid.bands.append((laid.last_row, strips))
    return laid.last_row


def _text(span: Span, role: str, text: str) -> Strip:
    return Strip(*span, (text,), ((role, GENERAL),), frozenset({str}))


def _paragraph(
    laid: LaidSheet, text: str, role: str, size: float = 10.0, bold: bool = False
) -> None:
    """Text over all columns, wrapped, in a row as high as it needs."""
    room = sum(laid.widths) - _PADDING
    height = row_height(lines(text, room, bold, size), size)
    _next_row(laid, height, _text((1, laid.last_column), role, text))


def _legend(laid: LaidSheet, mark: str, words: str) -> None:
    height = row_height(lines(words, sum(laid.widths[1:]) - _PADDING))
    legend = _text((2, laid.last_column), "legend", words)
    _next_row(laid, height, _text((1, 1), "swatch", mark), legend)


def _table(
    laid: LaidSheet, table: Table, columns: Sequence[ShownColumn], spans: Sequence[Span]
) -> None:
    if table.title:
        _paragraph(laid, table.title, "heading", _HEADING_SIZE, bold=True)
    rooms = [_room(laid, span) for span in spans]
    count = max(
        lines(column.heading, room, bold=True) for column, room in zip(columns, rooms, strict=True)
    )
    _overs(laid, columns, spans)
    # Where a filter is, its buttons stand in the lower right corners of the headings.
    heads = [
        _text(span, _head(column, table.sortable), column.heading)
        for column, span in zip(columns, spans, strict=True)
    ]
    head = _next_row(laid, row_height(count + table.sortable) + 3, *heads)
    laid.heads.append(head)
    _lines(laid, table, columns, spans, rooms)
    if table.sortable:
        laid.filtered = (head, laid.last_row, spans[-1][1])
        laid.kept = table.kept
    if table.name:
        own = [
            (column, first)
            for column, (first, _) in zip(columns, spans, strict=True)
            if column.asked
        ]
        laid.tables[table.name] = TableRange(
            laid.sheet.title,
            head + 1,
            tuple(head + 1 + i for i, row in enumerate(table.rows) if row.kind == "line"),
            {column.asked: first for column, first in own},
            {column.asked: column for column, _ in own},
        )


def _head(column: ShownColumn, has_filter: bool) -> str:
    side = column.kind if column.kind in ("number", "mark") else "text"
    return f"head_{side}{'_filter' * has_filter}"


def _overs(laid: LaidSheet, columns: Sequence[ShownColumn], spans: Sequence[Span]) -> None:
    """A row of headings over those of neighbouring columns, where some have one."""
    runs = [
        (over, [span for _, span in run])
        for over, run in groupby(zip(columns, spans, strict=True), key=lambda pair: pair[0].over)
    ]
    if not any(over for over, _ in runs):
        return
    together = [(over, (run[0][0], run[-1][1])) for over, run in runs]
    count = max(lines(over, _room(laid, span), bold=True) for over, span in together)
    heads = [_text(span, "head_over", over) for over, span in together]
    laid.overs.append(_next_row(laid, row_height(count) + 3, *heads))


def _room(laid: LaidSheet, span: Span) -> float:
    """Digits that text has in a span."""
    return sum(laid.widths[span[0] - 1 : span[1]]) - _PADDING + 0.5


def _lines(
    laid: LaidSheet,
    table: Table,
    columns: Sequence[ShownColumn],
    spans: Sequence[Span],
    rooms: Sequence[float],
) -> None:
    """The rows of a table: its columns as they are, cut where the title of a group stands."""
    totals = [index for index, row in enumerate(table.rows) if row.kind == "total"]
    groups = [index for index, row in enumerate(table.rows) if row.kind == "group"]
    strips = [
        Strip(*span, column.cells, column.styles(totals), column.kinds)
        for column, span in zip(columns, spans, strict=True)
    ]
    counts = _line_counts(columns, rooms, totals)
    for group in groups:
        counts[group] = 1
    first = laid.last_row + 1
    laid.last_row += len(counts)
    heights = {count: row_height(count) for count in set(counts)}
    laid.heights |= {first + index: heights[count] for index, count in enumerate(counts)}
    start = 0
    for end in (*groups, len(counts)):
        if start < end:
            laid.bands.append((first + start, _cut(strips, start, end)))
        if end < len(counts):
            found = table.rows[end].cells[:1]
            words = found[0] if found and isinstance(found[0], str) else ""
            laid.bands.append((first + end, [_text((1, spans[-1][1]), "group", words)]))
        start = end + 1


def _cut(strips: Sequence[Strip], start: int, end: int) -> Sequence[Strip]:
    """Some of the rows."""
    if not start and all(end == len(strip.cells) for strip in strips):
        return strips
    return [
        Strip(first, last, cells[start:end], styles[start:end], kinds)
        for first, last, cells, styles, kinds in strips
    ]


def _line_counts(
    columns: Sequence[ShownColumn], rooms: Sequence[float], totals: Sequence[int]
) -> list[int]:
    """How many lines of text each row needs: those of its longest cell."""
    counts = [1] * len(columns[0].cells)
    for column, room in zip(columns, rooms, strict=True):
        if not column.kinds & TEXTS:
            continue
        texts = [text_of(cell) for cell in column.cells]
        needed = {text: lines(text, room) for text in set(texts)}
        for index in totals:
            counts[index] = max(counts[index], lines(texts[index], room, bold=True))
            texts[index] = ""
        if max(needed.values()) > 1:
            counts = [
                max(count, needed.get(text, 1)) for count, text in zip(counts, texts, strict=True)
            ]
    return counts


def _charts(laid: LaidSheet, charts: Sequence[Chart], named: Mapping[str, Table]) -> None:
    """Charts in rows of one or two, none across the end of a page."""
    total = sum(column_points(width) for width in laid.widths)
    in_a_row = 2 if len(charts) > 1 and total >= _CHART_SIDE_BY_SIDE else 1
    scale = min(max(total / _PAGE_WIDE, 1.0), _CHART_LARGEST)
    width = min(total / in_a_row - _CHART_GAP, _CHART_WIDEST * scale)
    for start in range(0, len(charts), in_a_row):
        together = charts[start : start + in_a_row]
        height = scale * max(_chart_height(chart, named[chart.table]) for chart in together)
        laid.last_row += 1
        _keep_on_page(laid, height + BLANK_ROW)
        top = laid.last_row + 1
        for number, chart in enumerate(together):
            left = number * (width + _CHART_GAP)
            laid.drawings.append(Drawing(chart, top, left, width, height, scale))
        laid.last_row += math.ceil(height / BLANK_ROW)


def _chart_height(chart: Chart, table: Table) -> float:
    if chart.kind == "columns":
        return 250.0
    shown = sum(row.kind == "line" for row in table.rows)
    bars = shown * (1.0 if chart.stacked else (1 + len(chart.values)) / 2)  # thinner side by side
    return min(max(200.0, 110.0 + 19.0 * bars), 460.0)


def _keep_on_page(laid: LaidSheet, height: float) -> None:
    """Leave rows empty down to the next page where `height` points may not fit on this one."""
    repeated = sum(laid.heights[row] for row in repeated_rows(laid))
    heights = [laid.heights.get(row, BLANK_ROW) for row in range(1, laid.last_row + 1)]
    blank = blank_before(heights, repeated, height, page_heights(laid.widths))
    laid.last_row += math.ceil(blank / BLANK_ROW)


def repeated_rows(laid: LaidSheet) -> range:
    """Rows printed on every page: a lone table's heading, else the sheet's title."""
    row = laid.heads[0] if len(laid.heads) == 1 else 1
    return range(row - (row - 1 in laid.overs), row + 1)
