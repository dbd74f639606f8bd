"""Sheets for people outside the yard: values only, upright, nothing locked, nothing behind them.

No formula, no name but those of printing, no comment, no author: what is written is all there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.cell_range import CellRange, MultiCellRange
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from quoter.workbook.fill import Filled
from quoter.workbook.limits import check_number, check_text, check_titles, footer_sides
from quoter.workbook.measure import lines, row_height
from quoter.workbook.paper import FOOTER_FROM_EDGE, INCH, MARGIN_BOTTOM, MARGIN_SIDE, MARGIN_TOP
from quoter.workbook.seal import SheetParts, seal, skeleton_of
from quoter.workbook.styles import ROLES, SEA, StyleBook
from quoter.workbook.xml import Texts, sheet_data

_THEME = (Path(__file__).parent / "theme.xml").read_bytes()
BLANK = 9.0  # points of a row that only keeps others apart
_PADDING = 2.4  # digits of a cell that its text leaves free
_PAPERS = {"Letter": 1, "A4": 9}  # as the format numbers them
# Where letter paper is usual: the supplemental data of CLDR, paperSize (from memory).
_LETTER = "BZ CA CL CO CR GT MX NI PA PH PR SV US VE"


@dataclass(frozen=True, slots=True)
class Piece:
    """What stands in a row: a value or nothing, in a role of `styles.ROLES`, over some columns."""

    value: str | Decimal | int | None
    role: str
    code: str = "General"
    over: int = 1


@dataclass(slots=True)
class Portrait:
    """An upright sheet that is filled from top to bottom; `widths` are of its columns, in digits.

    `repeated` is the row that every printed page begins with, if there is one.
    """

    title: str
    widths: Sequence[float]
    cells: list[Filled] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    merges: list[tuple[int, int, int]] = field(default_factory=list)
    repeated: int = 0
    row: int = 0

    def add(self, *pieces: Piece) -> int:
        """A row of pieces from the first column on, as high as its texts need; tells its number.

        Raises:
            LimitError: for what no cell can hold.
        """
        self.row += 1
        height, first = 0.0, 1
        for piece in pieces:
            last = first + piece.over - 1
            height = max(height, self._height(piece, first, last))
            self.cells.append(
                Filled(self.row, first, piece.role, piece.code, "", _value(piece.value))
            )
            for column in range(first + 1, last + 1):
                self.cells.append(Filled(self.row, column, piece.role, "General", "", None))
            if last > first:
                self.merges.append((self.row, first, last))
            first = last + 1
        self.heights[self.row] = height
        return self.row

    def across(self, text: str, role: str = "plain") -> None:
        """A text over all columns."""
        self.add(Piece(text, role, over=len(self.widths)))

    def blank(self, points: float = BLANK) -> None:
        """An empty row."""
        self.row += 1
        self.heights[self.row] = points

    def _height(self, piece: Piece, first: int, last: int) -> float:
        style = ROLES[piece.role]
        room = sum(self.widths[first - 1 : last]) - _PADDING
        text = piece.value if isinstance(piece.value, str) else ""
        return row_height(lines(text, room, style.bold, style.size), style.size)


def _value(value: str | Decimal | int | None) -> float | str | None:
    if value is None:
        return None
    return check_text(value) or None if isinstance(value, str) else check_number(float(value))


def write_portraits(sheets: Sequence[Portrait], title: str, footer: str, territory: str) -> bytes:
    """The file of these sheets; the same sheets give the same bytes.

    Args:
        sheets: in their order
        title: of the document, for who asks for its properties
        footer: on the left of every printed page
        territory: a country's two letters, which decide on the paper

    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    check_titles([sheet.title for sheet in sheets])
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    workbook.loaded_theme = _THEME
    paper = "Letter" if territory in _LETTER.split() else "A4"
    for sheet in sheets:
        _set_up(workbook.create_sheet(sheet.title), sheet, footer, paper)
    styles, texts = StyleBook(workbook, workbook.worksheets[0]), Texts()
    parts = [
        SheetParts(sheet_data(sheet.cells, sheet.heights, styles.number, texts), _extent(sheet), ())
        for sheet in sheets
    ]
    return seal(skeleton_of(workbook), parts, texts.xml(), check_text(title))


def _extent(sheet: Portrait) -> str:
    return f"A1:{get_column_letter(len(sheet.widths))}{sheet.row}"


def _set_up(made: Worksheet, sheet: Portrait, footer: str, paper: str) -> None:
    for column, width in enumerate(sheet.widths, 1):
        made.column_dimensions[get_column_letter(column)].width = width
    made.sheet_view.showGridLines = False
    made.sheet_properties.tabColor = SEA
    made.merged_cells = MultiCellRange(
        [CellRange(None, first, row, last, row) for row, first, last in sheet.merges]
    )
    setup = made.page_setup
    setup.orientation, setup.paperSize = "portrait", _PAPERS[paper]
    setup.fitToWidth, setup.fitToHeight = 1, 0
    made.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    made.print_options.horizontalCentered = True
    margins = made.page_margins
    margins.left = margins.right = MARGIN_SIDE / INCH
    margins.top, margins.bottom = MARGIN_TOP / INCH, MARGIN_BOTTOM / INCH
    margins.header = margins.footer = FOOTER_FROM_EDGE / INCH
    if sheet.repeated:
        made.print_title_rows = f"{sheet.repeated}:{sheet.repeated}"
    made.print_area = _extent(sheet)
    odd = HeaderFooterItem()
    odd.left.text, odd.right.text = footer_sides(footer, "&8 &P / &N")
    made.HeaderFooter.oddFooter = odd
