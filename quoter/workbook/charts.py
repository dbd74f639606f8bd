"""Native charts over a table's cells, with the numbers stored beside them for previewers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from quoter.workbook.addresses import letters, quoted
from quoter.workbook.columns import unit_text
from quoter.workbook.laid import Drawing, TableRange
from quoter.workbook.limits import LimitError, check_text
from quoter.workbook.measure import column_points
from quoter.workbook.styles import FACE, INK, MUTED, RULE, SEA, WHITE
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


_SCHEMAS = "http://schemas.openxmlformats.org"
_DRAWING = f"{_SCHEMAS}/drawingml/2006"
_RELATIONS = f"{_SCHEMAS}/officeDocument/2006/relationships"
_NAMES_AXIS, _VALUES_AXIS = 10, 100  # any two numbers that differ


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart as its part of the file, where it stands, and what it shows in words."""

    chart: str
    anchor: str
    description: str


def picture(drawing: Drawing, tables: Mapping[str, TableRange], widths: Sequence[float]) -> Picture:
    """The chart of a drawing, anchored where the drawing stands.

    Raises:
        LimitError: when the lines of its table are not together.
    """
    asked = drawing.chart
    table = tables[asked.table]
    if not table.lines or table.lines[-1] - table.lines[0] != len(table.lines) - 1:
        raise LimitError(f"chart '{asked.title}': the lines of '{asked.table}' are not together")
    size = round(_BODY * drawing.scale)
    title = _title(asked.title, round(_STRONG * drawing.scale), SEA, bold=True)
    legend = f'<legend><legendPos val="b"/>{_letters(size, INK)}</legend>'
    part = (
        f'<chartSpace xmlns="{_DRAWING}/chart" xmlns:a="{_DRAWING}/main">'
        f'<roundedCorners val="0"/><chart>{title}<plotArea>{_bars(asked, table)}'
        f"{_names_axis(asked, size)}{_values_axis(asked, table, size)}</plotArea>"
        f'{legend * (len(asked.values) > 1)}<plotVisOnly val="1"/><dispBlanksAs val="gap"/>'
        f"</chart>{_edge(RULE)}</chartSpace>"
    )
    return Picture(part, _anchor(drawing, widths), check_text(asked.description))


def _bars(chart: Chart, table: TableRange) -> str:
    lie = "bar" if chart.kind == "bars" else "col"
    grouping, overlap = ("stacked", 100) if chart.stacked else ("clustered", -5)
    names = _names(chart, table)
    series = "".join(_series(chart, table, index, names) for index in range(len(chart.values)))
    return (
        f'<barChart><barDir val="{lie}"/><grouping val="{grouping}"/>{series}<gapWidth val="55"/>'
        f'<overlap val="{overlap}"/><axId val="{_NAMES_AXIS}"/><axId val="{_VALUES_AXIS}"/>'
        "</barChart>"
    )


def _series(chart: Chart, table: TableRange, index: int, names: str) -> str:
    heading = chart.values[index]
    cells = _cells(table, heading)
    points = "".join(
        f'<pt idx="{i}"><v>{figure.value!r}</v></pt>'
        for i, figure in enumerate(map(figure_of, cells))
        if figure is not None
    )
    stored = f'<formatCode>General</formatCode><ptCount val="{len(cells)}"/>{points}'
    turn, colour = divmod(index, len(PALETTE))
    fill = _solid(PALETTE[colour])
    if turn:
        fill = (
            f'<a:pattFill prst="{_PATTERNS[turn - 1]}"><a:fgClr>{_rgb(PALETTE[colour])}</a:fgClr>'
            f"<a:bgClr>{_rgb(WHITE)}</a:bgClr></a:pattFill>"
        )
    return (
        f'<ser><idx val="{index}"/><order val="{index}"/><tx><v>{escape(heading)}</v></tx>'
        f'<spPr>{fill}<a:ln w="6350">{_solid(WHITE)}<a:prstDash val="solid"/></a:ln></spPr>'
        f"<cat>{names}</cat><val><numRef><f>{escape(_range(table, heading))}</f>"
        f"<numCache>{stored}</numCache></numRef></val></ser>"
    )


def _names(chart: Chart, table: TableRange) -> str:
    cells = _cells(table, chart.categories)
    words = [cell.text if isinstance(cell, Link) else str(cell or "") for cell in cells]
    points = "".join(f'<pt idx="{i}"><v>{escape(word)}</v></pt>' for i, word in enumerate(words))
    where = escape(_range(table, chart.categories))
    stored = f'<strCache><ptCount val="{len(words)}"/>{points}</strCache>'
    return f"<strRef><f>{where}</f>{stored}</strRef>"


def _cells(table: TableRange, heading: str) -> list[Cell]:
    cells = table.shown[heading].cells
    return [cells[row - table.first] for row in table.lines]


def _range(table: TableRange, heading: str) -> str:
    column = letters(table.columns[heading])
    return f"{quoted(table.sheet)}!${column}${table.lines[0]}:${column}${table.lines[-1]}"


def _unit(table: TableRange, heading: str) -> tuple[str, bool]:
    """The unit of a column's numbers, and whether they read as percentages."""
    for figure in map(figure_of, table.shown[heading].cells):
        if figure is not None:
            return unit_text(figure.unit), figure.form == "percent"
    return "", False


def _names_axis(chart: Chart, size: int) -> str:
    first_on_top = "maxMin" if chart.kind == "bars" else "minMax"  # as in the table
    return (
        f'<catAx><axId val="{_NAMES_AXIS}"/><scaling><orientation val="{first_on_top}"/></scaling>'
        f'{_axis(chart.category_title, size)}<majorTickMark val="none"/><minorTickMark val="none"/>'
        # Beside the chart, not across bars that are negative.
        f'<tickLblPos val="low"/>{_edge(MUTED)}{_letters(size, INK)}'
        f'<crossAx val="{_VALUES_AXIS}"/><lblOffset val="100"/></catAx>'
    )


def _values_axis(chart: Chart, table: TableRange, size: int) -> str:
    unit, percent = _unit(table, chart.values[0])
    code = "0%" if percent else "#,##0" if unit else "#,##0.###"
    said = f"{chart.value_title} [{unit}]" if unit else chart.value_title
    least = '<min val="0"/>' * chart.from_zero
    below = '<crosses val="max"/>' * (chart.kind == "bars")
    return (
        f'<valAx><axId val="{_VALUES_AXIS}"/>'
        f'<scaling><orientation val="minMax"/>{least}</scaling>'
        f"{_axis(said, size, grid=f'<majorGridlines>{_edge(RULE)}</majorGridlines>')}"
        f'<numFmt formatCode="{code}" sourceLinked="0"/>'
        f'<majorTickMark val="none"/><minorTickMark val="none"/>{_edge(MUTED)}'
        f'{_letters(size, INK)}<crossAx val="{_NAMES_AXIS}"/>{below}</valAx>'
    )


def _axis(title: str, size: int, grid: str = "") -> str:
    # Left unsaid, recent applications would delete the axis.
    return f'<delete val="0"/><axPos val="l"/>{grid}{_title(title, size, MUTED)}'


def _rgb(colour: str) -> str:
    return f'<a:srgbClr val="{colour}"/>'


def _solid(colour: str) -> str:
    return f"<a:solidFill>{_rgb(colour)}</a:solidFill>"


def _edge(colour: str) -> str:
    return f'<spPr><a:ln>{_solid(colour)}<a:prstDash val="solid"/></a:ln></spPr>'


def _properties(tag: str, size: int, ink: str, bold: bool = False) -> str:
    face = f'{_solid(ink)}<a:latin typeface="{FACE}"/>'
    return f'<a:{tag} sz="{size}" b="{bold:d}">{face}</a:{tag}>'


def _letters(size: int, ink: str) -> str:
    looks, end = (_properties(tag, size, ink) for tag in ("defRPr", "endParaRPr"))
    return f"<txPr><a:bodyPr/><a:p><a:pPr>{looks}</a:pPr>{end}</a:p></txPr>"


def _title(text: str, size: int, ink: str, bold: bool = False) -> str:
    looks, own = (_properties(tag, size, ink, bold) for tag in ("defRPr", "rPr"))
    run = f"<a:r>{own}<a:t>{escape(text)}</a:t></a:r>"
    rich = f"<rich><a:bodyPr/><a:p><a:pPr>{looks}</a:pPr>{run}</a:p></rich>"
    return f'<title><tx>{rich}</tx><overlay val="0"/></title>'


def _anchor(drawing: Drawing, widths: Sequence[float]) -> str:
    left = drawing.left
    column = 0
    while column < len(widths) - 1 and left >= column_points(widths[column]):
        left -= column_points(widths[column])
        column += 1
    across, down = (round(points * _EMU_OF_A_POINT) for points in (drawing.width, drawing.height))
    return (
        f"<from><col>{column}</col><colOff>{round(left * _EMU_OF_A_POINT)}</colOff>"
        f'<row>{drawing.row - 1}</row><rowOff>0</rowOff></from><ext cx="{across}" cy="{down}"/>'
    )


def drawing_part(pictures: Sequence[Picture]) -> str:
    """Charts where they stand, each with a description for those who can't see them."""
    frames = "".join(
        f"<oneCellAnchor>{picture.anchor}<graphicFrame><nvGraphicFramePr>"
        f'<cNvPr id="{i}" name="Chart {i}" descr={quoteattr(picture.description)}/>'
        "<cNvGraphicFramePr/></nvGraphicFramePr>"
        '<xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xfrm>'
        f'<a:graphic><a:graphicData uri="{_DRAWING}/chart">'
        f'<c:chart xmlns:c="{_DRAWING}/chart" xmlns:r="{_RELATIONS}" r:id="rId{i}"/>'
        "</a:graphicData></a:graphic></graphicFrame><clientData/></oneCellAnchor>"
        for i, picture in enumerate(pictures, 1)
    )
    spaces = f'xmlns="{_DRAWING}/spreadsheetDrawing" xmlns:a="{_DRAWING}/main"'
    return f"<wsDr {spaces}>{frames}</wsDr>"
