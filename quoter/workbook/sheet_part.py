"""A sheet's part of the file: its cells, and all that is set up around them, as XML.

Formula and value of a cell are written together, which applications that don't recalculate need.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import count, repeat
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from quoter.workbook.addresses import letters
from quoter.workbook.charts import Picture
from quoter.workbook.columns import GENERAL
from quoter.workbook.formula import number
from quoter.workbook.limits import check_text, footer_sides
from quoter.workbook.paper import FOOTER_FROM_EDGE, INCH, MARGIN_BOTTOM, MARGIN_SIDE, MARGIN_TOP
from quoter.workbook.styles import MAIN, CellStyle, StyleTable


class ReadyColumn(NamedTuple):
    """Cells ready to be written, one below the other, each joined from a first to a last column.

    A value is what the cell shows; `formulas` are empty texts where there is none, and none at all
    where no cell has one.
    """

    first: int
    last: int
    styles: Sequence[CellStyle]
    values: Sequence[float | str | None]
    formulas: Sequence[str] = ()


ReadyBand = tuple[int, Sequence[ReadyColumn]]  # the first of its rows, and what stands in them

RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PAPERS = {"Letter": 1, "A4": 9}  # as the format numbers them
_MOST_BREAKS = 1023
_LETTER_NUMBER = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_READ_AS_FORMULA = frozenset("=+-@\t\r")


@dataclass(frozen=True, slots=True)
class Validation:
    """What cells take: numbers from a first to a last, or those of a list; else a message."""

    cells: Sequence[str]
    kind: str
    formulas: tuple[str, ...]
    message: str


@dataclass(frozen=True, slots=True)
class Hyperlink:
    """A cell that leads to another sheet."""

    cell: str
    target: str
    text: str


@dataclass(frozen=True, slots=True)
class SheetFile:
    """A sheet as the file holds it.

    `frozen` are how many columns and rows stay in view; `filtered` is the range that has a filter,
    `repeated` the rows printed on every page, `printed` the last column and row that print, or all,
    `breaks` those after which a page ends where not all go `on_one`; `marks` has the cells in which
    a word stands out.
    """

    title: str
    widths: Sequence[float]
    bands: Sequence[ReadyBand]
    heights: Mapping[int, float]
    last_row: int
    tab: str
    footer: tuple[str, str]
    upright: bool = False
    paper: str = "A4"
    row_height: float = 0
    repeated: tuple[int, int] | None = None
    printed: tuple[int, int] | None = None
    breaks: Sequence[int] = ()
    on_one: bool = False
    frozen: tuple[int, int] = (0, 0)
    locked: bool = False
    filtered: str = ""
    marks: Mapping[str, Sequence[str]] = field(default_factory=dict)
    validations: Sequence[Validation] = ()
    links: Sequence[Hyperlink] = ()
    pictures: Sequence[Picture] = ()

    @property
    def extent(self) -> str:
        """The range of all its cells."""
        return f"A1:{letters(len(self.widths))}{self.last_row}"


class Texts(dict[str, str]):
    """The texts of all cells, each stored once and named by its number; `uses` counts them all."""

    uses = 0

    def __missing__(self, text: str) -> str:
        """The number of a new text.

        Raises:
            LimitError: for text no cell can hold.
        """
        number = self[check_text(text)] = str(len(self))
        return number

    def xml(self) -> str:
        """The book's table of texts."""
        items = "".join([f'<si><t xml:space="preserve">{_text(text)}</t></si>' for text in self])
        counts = f'count="{self.uses}" uniqueCount="{len(self)}"'
        return f'<sst xmlns="{MAIN}" {counts}>{items}</sst>'


def escaped(text: str) -> str:
    """Text as XML holds it."""
    return escape(text) if "<" in text or "&" in text or ">" in text else text


def _text(text: str) -> str:
    """Text for XML; what reads like a letter's number, ``_x0041_``, is kept from being one."""
    if "_x" in text:
        text = _LETTER_NUMBER.sub("_x005F_", text)
    return escaped(text).replace("\r", "&#13;")


def sheet_part(sheet: SheetFile, styles: StyleTable, texts: Texts) -> str:
    """A sheet's part; its elements have to come in this order."""
    widths = "".join(
        f'<col width="{round(width, 2)}" customWidth="1" min="{i}" max="{i}"/>'
        for i, width in enumerate(sheet.widths, 1)
    )
    height = f'"{sheet.row_height:g}" customHeight="1"' if sheet.row_height else '"15"'
    merged: list[str] = []
    rows = _rows(sheet, styles, texts, merged)
    return "".join(
        (
            f'<worksheet xmlns="{MAIN}" xmlns:r="{RELATIONS}">',
            f'<sheetPr><tabColor rgb="FF{sheet.tab}"/><pageSetUpPr fitToPage="1"/></sheetPr>',
            f'<dimension ref="{sheet.extent}"/>',
            _view(*sheet.frozen),
            f'<sheetFormatPr baseColWidth="8" defaultRowHeight={height}/><cols>{widths}</cols>',
            rows,
            # Without a password: against slips, not against the reader.
            '<sheetProtection sheet="1" formatColumns="0" formatRows="0"/>' * sheet.locked,
            f'<autoFilter ref="{sheet.filtered}"/>' * bool(sheet.filtered),
            _counted("mergeCells", merged),
            *_marks(sheet.marks),
            _counted("dataValidations", [_validation(each) for each in sheet.validations]),
            _links(sheet.links),
            _print(sheet),
            _breaks(sheet.breaks),
            '<drawing r:id="rId1"/>' * bool(sheet.pictures),
            "</worksheet>",
        )
    )


def _view(columns: int, rows: int) -> str:
    pane = ""
    if columns or rows:
        split = f' xSplit="{columns}"' * bool(columns) + f' ySplit="{rows}"' * bool(rows)
        where = f'topLeftCell="{letters(columns + 1)}{rows + 1}"'
        active = "bottomRight" if columns and rows else "bottomLeft" if rows else "topRight"
        others = ("topRight", "bottomLeft") if columns and rows else ()
        pane = f'<pane{split} {where} activePane="{active}" state="frozen"/>'
        pane += "".join(f'<selection pane="{other}"/>' for other in others)
        pane += f'<selection pane="{active}" activeCell="A1" sqref="A1"/>'
    return (
        f'<sheetViews><sheetView showGridLines="0" workbookViewId="0">{pane}</sheetView>'
        "</sheetViews>"
    )


def _rows(sheet: SheetFile, styles: StyleTable, texts: Texts, merged: list[str]) -> str:
    """The `sheetData` element: every row, with its cells from left to right.

    Cells that run over several columns are put into `merged`.
    """
    written = ["<sheetData>"]
    heights = {height: f"{height:g}" for height in set(sheet.heights.values())}
    for first, columns in sheet.bands:
        whole = _cells(columns, styles, texts, merged, first) if columns else [""]
        for row, cells in enumerate(whole, first):
            height = heights[sheet.heights[row]]
            written.append(f'<row r="{row}" ht="{height}" customHeight="1">{cells}</row>')
    written.append("</sheetData>")
    return "".join(written)


def _cells(
    columns: Sequence[ReadyColumn],
    styles: StyleTable,
    texts: Texts,
    merged: list[str],
    first: int,
) -> Iterator[str]:
    """The cells of each row. Every cell of a book comes by here: it is short for that.

    Texts and styles are numbered as they occur, so this goes along the rows.
    """
    names = [letters(column.first) for column in columns]
    joined = [
        [letters(number) for number in range(column.first + 1, column.last + 1)]
        for column in columns
    ]
    values = zip(*(column.values for column in columns), strict=True)
    formulas = zip(*(column.formulas or repeat("") for column in columns), strict=False)
    looks = zip(*(column.styles for column in columns), strict=True)
    for row, *whole in zip(map(str, count(first)), values, formulas, looks, strict=False):
        written = []
        for name, more, value, formula, look in zip(names, joined, *whole, strict=True):
            style = styles[look]
            if value is None:
                written.append(f'<c r="{name}{row}" s="{style}"/>')
            elif type(value) is not str:
                made = f"<f>{escaped(formula)}</f>" if formula else ""
                written.append(f'<c r="{name}{row}" s="{style}">{made}<v>{number(value)}</v></c>')
            elif formula:
                made = f"<f>{escaped(formula)}</f><v>{_text(value)}</v>"
                written.append(f'<c r="{name}{row}" s="{style}" t="str">{made}</c>')
            else:
                if value[0] in _READ_AS_FORMULA:
                    style = styles.quoted(look)
                texts.uses += 1
                written.append(f'<c r="{name}{row}" s="{style}" t="s"><v>{texts[value]}</v></c>')
            if more:
                merged.append(f'<mergeCell ref="{name}{row}:{more[-1]}{row}"/>')
                empty = styles[look[0], GENERAL]
                written += [f'<c r="{column}{row}" s="{empty}"/>' for column in more]
        yield "".join(written)


def _counted(tag: str, items: Sequence[str]) -> str:
    return f'<{tag} count="{len(items)}">{"".join(items)}</{tag}>' if items else ""


def _marks(marks: Mapping[str, Sequence[str]]) -> list[str]:
    """Cells whose word stands out in weight and colour, by the style's only mark."""
    written = []
    for priority, (word, cells) in enumerate(marks.items(), 1):
        told = word.replace('"', '""')
        rule = f'<cfRule type="cellIs" dxfId="0" priority="{priority}" operator="equal">'
        written.append(
            f'<conditionalFormatting sqref="{" ".join(cells)}">{rule}'
            f'<formula>"{escaped(told)}"</formula></cfRule></conditionalFormatting>'
        )
    return written


def _validation(validation: Validation) -> str:
    formulas = "".join(
        f"<formula{i}>{text}</formula{i}>" for i, text in enumerate(validation.formulas, 1)
    )
    told = f'errorTitle="Not a value for this cell" error={quoteattr(validation.message)}'
    return (
        f'<dataValidation type="{validation.kind}" showErrorMessage="1" {told} '
        f'sqref="{" ".join(validation.cells)}">{formulas}</dataValidation>'
    )


def _links(links: Sequence[Hyperlink]) -> str:
    written = "".join(
        f'<hyperlink ref="{link.cell}" location={quoteattr(link.target)} '
        f"display={quoteattr(link.text)}/>"
        for link in links
    )
    return f"<hyperlinks>{written}</hyperlinks>" if links else ""


def _print(sheet: SheetFile) -> str:
    # A blank after the size: a text that begins with a digit would become part of it.
    text, pages = sheet.footer
    left, right = footer_sides(text, f"&8 {pages}")
    footer = f"&L{left}&R{right}"
    centred = '<printOptions horizontalCentered="1"/>' * sheet.upright
    sides, ends = f"{MARGIN_SIDE / INCH:g}", f"{FOOTER_FROM_EDGE / INCH:g}"
    margins = (
        f'<pageMargins left="{sides}" right="{sides}" top="{MARGIN_TOP / INCH:g}" '
        f'bottom="{MARGIN_BOTTOM / INCH:g}" header="{ends}" footer="{ends}"/>'
    )
    side = "portrait" if sheet.upright else "landscape"
    page = (
        f'<pageSetup paperSize="{_PAPERS[sheet.paper]}" orientation="{side}" '
        f'fitToWidth="1" fitToHeight="{sheet.on_one:d}"/>'
    )
    below = f"<headerFooter><oddFooter>{escaped(footer)}</oddFooter></headerFooter>"
    return centred + margins + page + below


def _breaks(rows: Sequence[int]) -> str:
    """Where pages end: after these rows. The format takes 1,023 of them (MS-XLSB, from memory)."""
    written = "".join(f'<brk id="{row}" max="16383" man="1"/>' for row in rows[:_MOST_BREAKS])
    count = min(len(rows), _MOST_BREAKS)
    counts = f'count="{count}" manualBreakCount="{count}"'
    return f"<rowBreaks {counts}>{written}</rowBreaks>" if rows else ""
