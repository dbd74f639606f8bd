"""From a sheet's blocks to cells in rows, from top to bottom. Still no formulas.

Rows and columns count from 1.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, chain, groupby
from typing import NamedTuple

from quoter.phrases import phrase
from quoter.workbook.columns import GENERAL, ShownColumn, shown_columns
from quoter.workbook.laid import (
    BLANK_ROW,
    HEADING_SIZE,
    PADDING,
    Drawing,
    LaidSheet,
    Span,
    Strip,
    TableRange,
    next_row,
    paragraph,
    paragraphs,
    reached,
    repeated_rows,
    text_strip,
)
from quoter.workbook.measure import column_points, lines, row_height
from quoter.workbook.paper import (
    Whole,
    breakable,
    page_of,
    paged,
    parted,
    said_of_workings,
)
from quoter.workbook.table import (
    ENTRIES,
    TEXTS,
    Block,
    Chart,
    Link,
    OnPaper,
    Paragraphs,
    Sheet,
    Table,
    text_of,
)

NOTHING_TO_CHANGE = phrase("Nothing to change here.")
LEGEND_MARK = phrase("Yours to change")
LEGEND = phrase(
    "Cells that look like this take your numbers. Everything else is calculated from them and "
    "locked; the lock has no password."
)
_GROWTH = 1.3  # a column of the sheet may grow so much before a table's column takes two
_NARROWEST_SHEET = 130.0
_SPARE_COLUMN = 13.0
_LEGEND_COLUMN = 17.0
_TITLE_SIZE = 16.0
_CHART_GAP = 14.0
_CHART_WIDEST = 760.0
_CHART_LEAST = 0.85  # of its usual height
_CHART_LARGEST = 1.6  # times its usual size, on a sheet that is shrunk to fit the page
_CHART_SIDE_BY_SIDE = 640.0  # a sheet this wide takes two in a row
_SCREEN = 880.0  # points of columns that a screen 1280 pixels wide shows: no text runs further


def lay_out(
    sheet: Sheet,
    footer: str,
    named: Mapping[str, Table],
    on_paper: OnPaper,
    say: Callable[[str], str] = str,
) -> LaidSheet:
    """The cells of a sheet whose contents are a table by now; `named` are all charts may show.

    `say` says what the sheet itself does not: whence numbers come, and which a reader may change.

    Raises:
        LimitError: when a table's rows don't fit its columns.
    """
    printed, workings = parted(sheet, on_paper)
    shown = {
        id(block): shown_columns(block, say)
        for block in chain.from_iterable((*printed, *workings))
        if isinstance(block, Table)
    }
    takes_entries = any(column.kinds & ENTRIES for columns in shown.values() for column in columns)
    widths, of_tables = _arrange(list(shown.values()), takes_entries)
    spans = dict(zip(shown, of_tables, strict=True))
    points = list(accumulate(map(column_points, widths)))
    reach = max(1, sum(reached <= _SCREEN for reached in points))
    drawn = (block for block in chain.from_iterable(printed) if isinstance(block, Table))
    across = max(reach, *(spans[id(table)][-1][1] for table in drawn), 1)
    page = page_of(points[across - 1], on_paper.paper)
    laid = LaidSheet(sheet, widths, page, reach, across, takes_entries)
    of_sheet = _Placing(laid, shown, spans, named)
    _top(laid, said_of_workings(sheet) if workings else "", say)
    of_sheet.place(printed)
    _under_blocks(laid, sheet.notes)
    laid.printed = laid.last_row
    _paginate(laid)
    of_sheet.place(workings)
    _under_blocks(laid, (footer,), "foot", 8.0)
    return laid


def _paginate(laid: LaidSheet) -> None:
    """Where the sheet's pages end; none where all of it goes on one, made a little smaller."""
    again, page = repeated_rows(laid), laid.page
    whole = sum(laid.heights.get(row, BLANK_ROW) for row in range(1, laid.printed + 1))
    laid.on_one = page.height < whole <= page.highest
    if not laid.on_one:
        laid.breaks = paged(laid.wholes, laid.heights, BLANK_ROW, again, page).breaks


def _top(laid: LaidSheet, off_paper: str, say: Callable[[str], str]) -> None:
    """What every sheet begins with: its title, what it is for, where to go next, what to change."""
    sheet = laid.sheet
    paragraph(laid, sheet.title, "title", _TITLE_SIZE, bold=True)
    about = sheet.heading
    paragraph(laid, f"{about.rstrip('.')}. {say(off_paper)}" if off_paper else about, "lead")
    if sheet.then is not None:
        then = sheet.then
        if not laid.takes_entries:
            then = replace(then, text=f"{say(NOTHING_TO_CHANGE)} {then.text}")
        height = row_height(lines(then.text, reached(laid)))
        way = Strip(1, laid.reach, (then,), (("way", GENERAL),), frozenset({Link}))
        next_row(laid, height, way)
    if laid.takes_entries:
        _legend(laid, say(LEGEND_MARK), say(LEGEND))
    laid.wholes.append(Whole((1,), laid.last_row))


def _under_blocks(
    laid: LaidSheet, texts: Sequence[str], role: str = "note", size: float = 10.0
) -> None:
    """Texts below all that stands on the sheet until now."""
    if texts:
        first = laid.last_row + 1
        laid.last_row += 1
        for text in texts:
            paragraph(laid, text, role, size)
        laid.wholes.append(Whole((first,), laid.last_row))


class _Placing(NamedTuple):
    """Blocks on their way to a sheet, with what is known of their tables."""

    laid: LaidSheet
    shown: Mapping[int, Sequence[ShownColumn]]
    spans: Mapping[int, Sequence[Span]]
    named: Mapping[str, Table]

    def place(self, groups: Sequence[Sequence[Block]]) -> None:
        """Blocks one below the other; what stands in a group keeps to one page where it can."""
        laid, under_heading = self.laid, False
        parts: list[int] = []
        for group in groups:
            if not under_heading:
                parts = [laid.last_row + 1]
                laid.last_row += 1
            under_heading = isinstance(group[0], Paragraphs) and group[0].kind == "heading"
            for block in group:
                if isinstance(block, Table):
                    _table(laid, block, self.shown[id(block)], self.spans[id(block)])
                    first = laid.last_row - len(block.rows) + 1
                    parts += breakable(block, first)
                elif isinstance(block, Paragraphs):
                    parts += paragraphs(laid, block)
            charts = [block for block in group if isinstance(block, Chart)]
            if charts:
                parts += _charts(laid, charts, self.named, self._left(parts))
            if not under_heading:
                laid.wholes.append(Whole(sorted(set(parts)), laid.last_row, bool(charts)))

    def _left(self, parts: Sequence[int]) -> tuple[float, float]:
        """Points left under what stands in a group until now: on its page, and on a new one."""
        laid = self.laid
        own = Whole(sorted(set(parts)), laid.last_row)
        again = repeated_rows(laid) if laid.heads else range(1, 2)
        here, anew = (
            paged(wholes, laid.heights, BLANK_ROW, again, laid.page).left
            for wholes in ([*laid.wholes, own], [own])
        )
        return here, anew - laid.heights[again.start]


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
        first, wanted = at, column.width + PADDING
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


def _legend(laid: LaidSheet, mark: str, words: str) -> None:
    height = row_height(lines(words, reached(laid) - laid.widths[0]))
    legend = text_strip((2, laid.reach), "legend", words)
    next_row(laid, height, text_strip((1, 1), "swatch", mark), legend)


def _table(
    laid: LaidSheet, table: Table, columns: Sequence[ShownColumn], spans: Sequence[Span]
) -> None:
    if table.title:
        paragraph(laid, table.title, "heading", HEADING_SIZE, bold=True)
    rooms = [_room(laid, span) for span in spans]
    count = max(
        lines(column.heading, room, bold=True) for column, room in zip(columns, rooms, strict=True)
    )
    _overs(laid, columns, spans)
    # Where a filter is, its buttons stand in the lower right corners of the headings.
    heads = [
        text_strip(span, _head(column, table.sortable), column.heading)
        for column, span in zip(columns, spans, strict=True)
    ]
    head = next_row(laid, row_height(count + table.sortable) + 3, *heads)
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
    heads = [text_strip(span, "head_over", over) for over, span in together]
    laid.overs.append(next_row(laid, row_height(count) + 3, *heads))


def _room(laid: LaidSheet, span: Span) -> float:
    """Digits that text has in a span."""
    return sum(laid.widths[span[0] - 1 : span[1]]) - PADDING + 0.5


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
            laid.bands.append((first + end, [text_strip((1, spans[-1][1]), "group", words)]))
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


def _charts(
    laid: LaidSheet,
    charts: Sequence[Chart],
    named: Mapping[str, Table],
    free: tuple[float, float],
) -> Iterator[int]:
    """Charts in rows of one or two, right under what stands there; gives each row's first.

    One that would be a little too high for what is `free` of this page, or else of a new one, is
    made lower.
    """
    total = sum(column_points(width) for width in laid.widths[: laid.across])
    in_a_row = 2 if len(charts) > 1 and total >= _CHART_SIDE_BY_SIDE else 1
    scale = min(max(total / laid.page.width, 1.0), _CHART_LARGEST)
    width = min(total / in_a_row - _CHART_GAP, _CHART_WIDEST * scale)
    for start in range(0, len(charts), in_a_row):
        together = charts[start : start + in_a_row]
        height = scale * max(_chart_height(chart, named[chart.table]) for chart in together)
        rooms = [(room // BLANK_ROW - 1) * BLANK_ROW for room in free]  # whole rows
        room = next((room for room in rooms if room >= _CHART_LEAST * height), height)
        height = min(height, room)
        free = rooms[0] - height, rooms[1] - height
        laid.last_row += 1
        yield laid.last_row
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
