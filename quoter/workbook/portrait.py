"""Sheets for people outside the yard: values only, upright, nothing locked, nothing behind them.

No formula, no name but those of printing, no comment, no author: what is written is all there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from quoter.workbook.columns import GENERAL
from quoter.workbook.limits import check_number, check_text, check_titles
from quoter.workbook.measure import column_points, lines, row_height
from quoter.workbook.paper import Whole, page_of, paged
from quoter.workbook.sheet_part import ReadyBand, ReadyColumn, SheetFile
from quoter.workbook.styles import ROLES, SEA
from quoter.workbook.xlsx import file_of

BLANK = 9.0  # points of a row that only keeps others apart
_PADDING = 2.4  # digits of a cell that its text leaves free
# Where letter paper is usual: the supplemental data of CLDR, paperSize (from memory).
_LETTER = "BZ CA CL CO CR GT MX NI PA PH PR SV US VE"


@dataclass(frozen=True, slots=True)
class Piece:
    """What stands in a row: a value or nothing, in a role of `styles.ROLES`, over some columns."""

    value: str | Decimal | int | None
    role: str
    code: str = GENERAL
    over: int = 1


@dataclass(slots=True)
class Portrait:
    """An upright sheet that is filled from top to bottom; `widths` are of its columns, in digits.

    `repeated` is the row that every printed page begins with, if there is one; `frozen` how many
    rows stay in view; `together` has the first and last rows of what stays on one page.
    """

    title: str
    widths: Sequence[float]
    bands: list[ReadyBand] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    repeated: int = 0
    frozen: int = 0
    row: int = 0
    together: list[tuple[int, int]] = field(default_factory=list)

    def add(self, *pieces: Piece) -> int:
        """A row of pieces from the first column on, as high as its texts need; tells its number.

        Raises:
            LimitError: for what no cell can hold.
        """
        self.row += 1
        height, first = 0.0, 1
        cells = []
        for piece in pieces:
            last = first + piece.over - 1
            height = max(height, self._height(piece, first, last))
            style = (piece.role, piece.code)
            cells.append(ReadyColumn(first, last, [style], [_value(piece.value)]))
            first = last + 1
        self.bands.append((self.row, cells))
        self.heights[self.row] = height
        return self.row

    def across(self, text: str, role: str = "plain") -> None:
        """A text over all columns."""
        self.add(Piece(text, role, over=len(self.widths)))

    def keep(self, first: int) -> None:
        """Have all from a row down to the last one so far stay on one page, where it can."""
        self.together.append((first, self.row))

    def blank(self, points: float = BLANK) -> None:
        """An empty row."""
        self.row += 1
        self.bands.append((self.row, ()))
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


def paper_of(territory: str) -> str:
    """What is printed on in the country that has these two letters."""
    return "Letter" if territory in _LETTER.split() else "A4"


def write_portraits(
    sheets: Sequence[Portrait], title: str, footer: str, paper: str, *, stored: bool = False
) -> bytes:
    """The file of these sheets; the same sheets give the same bytes.

    Args:
        sheets: in their order
        title: of the document, for who asks for its properties
        footer: on the left of every printed page
        paper: one of `figures.readers.PAPERS`
        stored: whether the bytes are to be the same whichever library there is to deflate them

    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    check_titles([sheet.title for sheet in sheets])
    files = [_sheet(sheet, footer, paper) for sheet in sheets]
    return file_of(title, files, {}, stored=stored)


def _breaks(sheet: Portrait, paper: str) -> list[int]:
    """The rows after which pages end."""
    wholes: list[Whole] = []
    reach = dict(sorted(sheet.together))
    end = 0
    for row in range(1, sheet.row + 1):
        if row > end:
            wholes.append(Whole([row], row))
        end = max(end, row, reach.get(row, 0))
        wholes[-1] = wholes[-1]._replace(end=end)
    page = page_of(sum(map(column_points, sheet.widths)), paper)
    again = range(sheet.repeated, sheet.repeated + bool(sheet.repeated))
    return paged(wholes, sheet.heights, BLANK, again, page).breaks


def _sheet(sheet: Portrait, footer: str, paper: str) -> SheetFile:
    return SheetFile(
        sheet.title,
        sheet.widths,
        sheet.bands,
        sheet.heights,
        sheet.row,
        tab=SEA,
        footer=(footer, "&P / &N"),
        upright=True,
        paper=paper,
        repeated=(sheet.repeated, sheet.repeated) if sheet.repeated else None,
        breaks=_breaks(sheet, paper),
        frozen=(0, sheet.frozen),
    )
