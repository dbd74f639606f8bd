"""The look of the sheets: a palette, and a style for each role a cell can have.

Deep sea-green for what frames, sand for what the reader may fill in, brick for what needs a look;
each pair of text and ground has a contrast of 4.5 or more. The colours are the project's own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.worksheet.worksheet import Worksheet

FACE = "Arial"  # on every machine, or a face of the same widths

INK = "1D2B2A"
SEA = "1B4B49"
SEA_PALE = "DDE9E6"
SEA_MIST = "F0F5F3"
MUTED = "53625F"
RULE = "CBD6D3"
WHITE = "FFFFFF"
SAND = "FCF4DC"
SAND_EDGE = "B99A53"
BRICK = "7A2A12"
BRICK_PALE = "FBE6DA"
LINK = "0F5E7A"


@dataclass(frozen=True, slots=True)
class Style:
    """How a role looks: letters, ground, edges, alignment; unlocked where a reader writes."""

    size: float = 10
    bold: bool = False
    italic: bool = False
    underlined: bool = False
    ink: str = INK
    ground: str = ""
    edges: str = ""
    horizontal: str = "left"
    vertical: str = "top"
    indent: int = 0
    wrapped: bool = True
    unlocked: bool = False


_LINE = Style(edges="rule", vertical="center", indent=1)
# No indent on the right: not every application draws it beside an empty cell.
_NUMBER = replace(_LINE, horizontal="right", wrapped=False, indent=0)
_HEAD = Style(bold=True, ink=WHITE, ground=SEA, edges="head", vertical="center", indent=1)
_ENTRY = replace(_NUMBER, ground=SAND, edges="entry", unlocked=True)

_FILTER_HEADS = {
    "text": replace(_HEAD, vertical="top"),
    "number": replace(_HEAD, vertical="top", horizontal="right", indent=0),
    "mark": replace(_HEAD, vertical="top", horizontal="center", indent=0),
}
_LINES = {
    "text": _LINE,
    "number": _NUMBER,
    "mark": replace(_LINE, horizontal="center", indent=0),
    "unit": replace(_LINE, ink=MUTED),
    "source": replace(_LINE, ink=MUTED, size=9),
}
ROLES: dict[str, Style] = {
    "title": Style(size=16, bold=True, ink=SEA, vertical="center"),
    "lead": Style(ink=MUTED),
    "legend": Style(ink=MUTED, vertical="center", indent=1),
    "swatch": replace(_ENTRY, horizontal="center", indent=0, unlocked=False),
    "plain": Style(),
    "heading": Style(size=12, bold=True, ink=SEA, vertical="center"),
    "caution": Style(ink=BRICK, ground=BRICK_PALE, edges="caution", vertical="center", indent=1),
    "note": Style(ink=MUTED),
    "foot": Style(ink=MUTED, size=8),
    "head_text": _HEAD,
    "head_number": replace(_HEAD, horizontal="right", indent=0),
    "head_mark": replace(_HEAD, horizontal="center", indent=0),
    **{f"head_{role}_filter": style for role, style in _FILTER_HEADS.items()},
    "head_over": replace(_HEAD, horizontal="center", indent=0),
    **_LINES,
    **{
        f"total_{role}": replace(style, bold=role != "source", ground=SEA_MIST, edges="total")
        for role, style in _LINES.items()
    },
    "sum_text": replace(_LINE, bold=True, size=13, ink=SEA, ground=SEA_MIST, edges="total"),
    "sum_number": replace(_NUMBER, bold=True, size=13, ink=SEA, ground=SEA_MIST, edges="total"),
    "group": replace(_LINE, bold=True, ink=SEA, ground=SEA_PALE, wrapped=False),
    "entry": _ENTRY,
    "choice": replace(_ENTRY, horizontal="center", indent=0),
    "link": replace(_LINE, ink=LINK, underlined=True),
}
"""Every role a cell can have."""


class StyleBook:
    """Hands out the numbers by which cells name their style; each style is made once a book."""

    def __init__(self, workbook: Workbook, sheet: Worksheet) -> None:
        """`sheet` is any sheet of the workbook; none of its cells is touched."""
        self._sheet = sheet
        self._ids: dict[tuple[str, str, bool], int] = {}

    def number(self, role: str, code: str, is_quoted: bool) -> int:
        """The style of a role with a number format; a quoted one is text whatever it begins with.

        Raises:
            KeyError: for a role that `ROLES` lacks.
        """
        wanted = (role, code, is_quoted)
        if wanted not in self._ids:
            self._ids[wanted] = self._make(ROLES[role], code, is_quoted)
        return self._ids[wanted]

    def _make(self, style: Style, code: str, is_quoted: bool) -> int:
        # A cell that is not among the sheet's: it only carries the style into the workbook.
        cell = Cell(self._sheet, row=1, column=1)
        cell.font = _font(style)
        cell.alignment = Alignment(
            style.horizontal, style.vertical, wrap_text=style.wrapped, indent=style.indent
        )
        if style.ground:
            cell.fill = _fill(style.ground)
        if style.edges:
            cell.border = _border(style.edges)
        if style.unlocked:
            cell.protection = _unlocked()
        cell.number_format = code
        if is_quoted:
            cell.quotePrefix = True
        return cell.style_id


@cache
def _unlocked() -> Protection:
    return Protection(locked=False)


@cache
def _font(style: Style) -> Font:
    underline: Literal["single"] | None = "single" if style.underlined else None
    return Font(
        name=FACE,
        family=2,
        sz=style.size,
        b=style.bold or None,
        i=style.italic or None,
        u=underline,
        color=f"FF{style.ink}",
    )


@cache
def _fill(colour: str) -> PatternFill:
    return PatternFill("solid", fgColor=f"FF{colour}", bgColor=f"FF{colour}")


@cache
def _border(edges: str) -> Border:
    thin, firm = Side("thin", f"FF{RULE}"), Side("thin", f"FF{SAND_EDGE}")
    if edges == "entry":
        return Border(firm, firm, firm, firm)
    if edges == "total":
        return Border(top=Side("medium", f"FF{SEA}"), bottom=thin)
    if edges == "head":
        return Border(left=Side("thin", f"FF{MUTED}"))
    if edges == "caution":
        return Border(left=Side("thick", f"FF{BRICK}"))
    return Border(bottom=thin)
