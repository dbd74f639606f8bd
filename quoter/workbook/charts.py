"""Native charts over a table's cells, with the numbers stored beside them for previewers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from openpyxl.chart import BarChart
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.data_source import (
    AxDataSource,
    NumData,
    NumDataSource,
    NumRef,
    NumVal,
    StrData,
    StrRef,
    StrVal,
)
from openpyxl.chart.series import Series, SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.colors import ColorChoice
from openpyxl.drawing.fill import PatternFillProperties
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
from openpyxl.drawing.text import (
    CharacterProperties,
    Font,
    Paragraph,
    ParagraphProperties,
    RegularTextRun,
)
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.utils import get_column_letter

from quoter.workbook.formats import unit_text
from quoter.workbook.grid import Area, Drawing
from quoter.workbook.limits import LimitError
from quoter.workbook.paper import column_points
from quoter.workbook.places import quoted
from quoter.workbook.styles import FACE, INK, MUTED, RULE, SEA
from quoter.workbook.table import Cell, Chart, Link, figure_of

# Apart in lightness as well as hue, so that they stay apart for every kind of colour vision.
PALETTE = (
    "1B4B49",
    "E2B85C",
    "3F7FA6",
    "B5553A",
    "86E0CE",
    "53327C",
    "C9BDF2",
    "85898A",
    "650E12",
)
# Beyond the colours, the same ones again in stripes and in dots.
_PATTERNS: tuple[Literal["wdUpDiag", "pct50"], ...] = ("wdUpDiag", "pct50")
MOST_SERIES = len(PALETTE) * (1 + len(_PATTERNS))
_EMU_OF_A_POINT = 12_700
_STRONG, _BODY = 1200, 900  # hundredths of a point


def native(drawing: Drawing, areas: Mapping[str, Area], widths: Sequence[float]) -> BarChart:
    """The chart of a drawing, anchored where the drawing stands.

    Raises:
        LimitError: when the lines of its table are not together.
    """
    asked = drawing.chart
    area = _area(asked, areas)
    chart = BarChart()
    chart.type = "bar" if asked.kind == "bars" else "col"
    chart.grouping = "stacked" if asked.stacked else "clustered"
    chart.overlap = 100 if asked.stacked else -5
    chart.gapWidth = 55
    chart.series = [_series(asked, area, index) for index in range(len(asked.values))]
    chart.title = _title(asked.title, round(_STRONG * drawing.scale), SEA, bold=True)
    chart.title.overlay = False
    body = round(_BODY * drawing.scale)
    _axes(chart, asked, area, body)
    if len(asked.values) > 1:
        chart.legend.position = "b"
        chart.legend.txPr = _letters(body, INK)
    else:
        chart.legend = None
    chart.graphical_properties = GraphicalProperties(ln=LineProperties(solidFill=RULE))
    chart.roundedCorners = False
    chart.anchor = _anchor(drawing, widths)  # type: ignore[assignment]  # typed as addresses only
    return chart


def _area(chart: Chart, areas: Mapping[str, Area]) -> Area:
    area = areas[chart.table]
    if not area.lines or area.lines[-1] - area.lines[0] != len(area.lines) - 1:
        raise LimitError(f"chart '{chart.title}': the lines of '{chart.table}' are not together")
    return area


def _series(chart: Chart, area: Area, index: int) -> Series:
    heading = chart.values[index]
    cells = _cells(area, heading)
    figures = [figure_of(cell) for cell in cells]
    points = [
        NumVal(idx=i, v=repr(figure.value))
        for i, figure in enumerate(figures)
        if figure is not None
    ]
    numbers = NumData(formatCode="General", ptCount=len(cells), pt=points)
    series = Series(idx=index, order=index)
    series.tx = SeriesLabel(v=heading)
    series.val = NumDataSource(numRef=NumRef(f=_range(area, heading), numCache=numbers))
    series.cat = _categories(chart, area)
    edge = LineProperties(solidFill="FFFFFF", w=6350)
    series.spPr = GraphicalProperties(ln=edge)
    turn, colour = divmod(index, len(PALETTE))
    if turn:
        pattern = PatternFillProperties(_PATTERNS[turn - 1])
        pattern.foreground, pattern.background = ColorChoice(), ColorChoice()
        pattern.foreground.RGB, pattern.background.RGB = PALETTE[colour], "FFFFFF"
        series.spPr.pattFill = pattern
    else:
        series.spPr.solidFill = PALETTE[colour]
    return series


def _categories(chart: Chart, area: Area) -> AxDataSource:
    cells = _cells(area, chart.categories)
    words = [cell.text if isinstance(cell, Link) else str(cell or "") for cell in cells]
    points = [StrVal(idx=i, v=word) for i, word in enumerate(words)]
    cache = StrData(ptCount=len(points), pt=points)
    return AxDataSource(strRef=StrRef(f=_range(area, chart.categories), strCache=cache))


def _cells(area: Area, heading: str) -> list[Cell]:
    lane = area.lanes[heading]
    return [lane.cells[row - area.first] for row in area.lines]


def _range(area: Area, heading: str) -> str:
    letter = get_column_letter(area.columns[heading])
    return f"{quoted(area.sheet)}!${letter}${area.lines[0]}:${letter}${area.lines[-1]}"


def _unit(area: Area, heading: str) -> tuple[str, bool]:
    """The unit of a column's numbers, and whether they read as percentages."""
    for figure in map(figure_of, area.lanes[heading].cells):
        if figure is not None:
            return unit_text(figure.unit), figure.form == "percent"
    return "", False


def _axes(chart: BarChart, asked: Chart, area: Area, size: int) -> None:
    unit, percent = _unit(area, asked.values[0])
    category, value = chart.x_axis, chart.y_axis
    for axis in (category, value):
        axis.delete = False  # left unsaid, recent applications hide the axis
        axis.txPr = _letters(size, INK)
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=MUTED))
    category.tickLblPos = "low"  # beside the chart, not across bars that are negative
    category.title = _title(asked.category_title, size, MUTED)
    value.title = _title(
        f"{asked.value_title} [{unit}]" if unit else asked.value_title, size, MUTED
    )
    value.number_format = "0%" if percent else "#,##0" if unit else "#,##0.###"
    if asked.from_zero:
        value.scaling.min = 0
    value.majorGridlines = ChartLines(GraphicalProperties(ln=LineProperties(solidFill=RULE)))
    if asked.kind == "bars":
        category.scaling.orientation = "maxMin"  # the first line on top, as in the table
        value.crosses = "max"  # and the numbers below


def _letters(size: int, ink: str) -> RichText:
    properties = _properties(size, ink)
    paragraph = Paragraph(pPr=ParagraphProperties(defRPr=properties), endParaRPr=properties, r=[])
    return RichText(p=[paragraph])


def _properties(size: int, ink: str, bold: bool = False) -> CharacterProperties:
    return CharacterProperties(sz=size, b=bold, solidFill=ink, latin=Font(typeface=FACE))


def _title(text: str, size: int, ink: str, bold: bool = False) -> Title:
    run = RegularTextRun(rPr=_properties(size, ink, bold), t=text)
    properties = ParagraphProperties(defRPr=_properties(size, ink, bold))
    rich = RichText(p=[Paragraph(pPr=properties, r=[run])])
    return Title(tx=Text(rich=rich), overlay=False)


def _anchor(drawing: Drawing, widths: Sequence[float]) -> OneCellAnchor:
    left = drawing.left
    column = 0
    while column < len(widths) - 1 and left >= column_points(widths[column]):
        left -= column_points(widths[column])
        column += 1
    corner = AnchorMarker(col=column, colOff=round(left * _EMU_OF_A_POINT), row=drawing.row - 1)
    size = XDRPositiveSize2D(
        round(drawing.width * _EMU_OF_A_POINT), round(drawing.height * _EMU_OF_A_POINT)
    )
    return OneCellAnchor(_from=corner, ext=size)
