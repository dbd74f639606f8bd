"""The look of the sheets: a palette, and a style for each role a cell can have.

Deep sea-green for what frames, sand for what the reader may fill in, brick for what needs a look;
each pair of text and ground has a contrast of 4.5 or more. The colours are the project's own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from xml.sax.saxutils import quoteattr

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


CellStyle = tuple[str, str]  # role and number format of a cell


@dataclass(frozen=True, slots=True)
class Style:
    """How a role looks: letters, ground, edges, alignment; unlocked where a reader writes."""

    size: float = 10
    bold: bool = False
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
    "way": Style(ink=LINK, underlined=True),
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

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
# Number formats that every application knows by these numbers (ECMA-376 part 1, 18.8.30, from
# memory); the others are numbered from 164 on.
_KNOWN_CODES = {"General": 0, "0": 1, "0.00": 2, "#,##0": 3, "#,##0.00": 4, "0%": 9, "0.00%": 10}
_FIRST_OWN_CODE = 164


def _font(style: Style) -> str:
    bold, underlined = '<b val="1"/>' * style.bold, '<u val="single"/>' * style.underlined
    letters = f'<sz val="{style.size:g}"/><color rgb="FF{style.ink}"/>'
    return f'<font>{bold}{underlined}{letters}<name val="{FACE}"/><family val="2"/></font>'


def _fill(colour: str) -> str:
    if not colour:
        return '<fill><patternFill patternType="none"/></fill>'
    both = f'<fgColor rgb="FF{colour}"/><bgColor rgb="FF{colour}"/>'
    return f'<fill><patternFill patternType="solid">{both}</patternFill></fill>'


def _side(side: str, line: str, colour: str) -> str:
    return f'<{side} style="{line}"><color rgb="FF{colour}"/></{side}>'


_BORDERS = {
    "": "<left/><right/><top/><bottom/><diagonal/>",
    "rule": _side("bottom", "thin", RULE),
    "head": _side("left", "thin", MUTED),
    "total": _side("top", "medium", SEA) + _side("bottom", "thin", RULE),
    "caution": _side("left", "thick", BRICK),
    "entry": "".join(_side(side, "thin", SAND_EDGE) for side in ("left", "right", "top", "bottom")),
}


def _listed(tag: str, items: Iterable[str]) -> str:
    together = list(items)
    return f'<{tag} count="{len(together)}">{"".join(together)}</{tag}>'


# What all books share, numbered once; the first font and the first two fills are the format's own.
_DEFAULT_FONT = (
    f'<font><sz val="10"/><color theme="1"/><name val="{FACE}"/><family val="2"/></font>'
)
_RESERVED = '<fill><patternFill patternType="gray125"/></fill>'
_FONTS = list(dict.fromkeys((_DEFAULT_FONT, *map(_font, ROLES.values()))))
_FILLS = list(
    dict.fromkeys((_fill(""), _RESERVED, *(_fill(style.ground) for style in ROLES.values())))
)
_EDGES = list(_BORDERS)
_SHARED = (
    _listed("fonts", _FONTS)
    + _listed("fills", _FILLS)
    + _listed("borders", (f"<border>{sides}</border>" for sides in _BORDERS.values()))
    + _listed("cellStyleXfs", ('<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>',))
)
# The one mark of a fault: what a flag that warns looks like.
_MARK = (
    f'<dxf><font><b val="1"/><color rgb="FF{BRICK}"/></font><fill>'
    f'<patternFill patternType="solid"><bgColor rgb="FF{BRICK_PALE}"/></patternFill></fill></dxf>'
)
_AFTER = (
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>'
    + _listed("dxfs", (_MARK,))
)


def _looks(style: Style) -> tuple[str, str]:
    """Font, fill and border of a style by number; and how its text stands."""
    fill, edges = _FILLS.index(_fill(style.ground)), _EDGES.index(style.edges)
    numbers = f'fontId="{_FONTS.index(_font(style))}" fillId="{fill}" borderId="{edges}" xfId="0"'
    wrapped, indent = ' wrapText="1"' * style.wrapped, f' indent="{style.indent}"' * style.indent
    side = f'horizontal="{style.horizontal}" vertical="{style.vertical}"'
    held = f"<alignment {side}{wrapped}{indent}/>"
    if style.unlocked:
        return (
            f'{numbers} applyAlignment="1" applyProtection="1"',
            f'{held}<protection locked="0"/>',
        )
    return f'{numbers} applyAlignment="1"', held


_LOOKS = {role: _looks(style) for role, style in ROLES.items()}


class StyleTable(dict[CellStyle, str]):
    """The styles of one book by role and number format, numbered as cells ask for them."""

    def __init__(self) -> None:
        """Start with the style of cells that nothing was written in."""
        super().__init__()
        self._quoted: dict[CellStyle, str] = {}
        self._codes: dict[str, int] = {}
        self._formats = ['<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>']

    def __missing__(self, style: CellStyle) -> str:
        """The number of a style that no cell has asked for yet.

        Raises:
            KeyError: for a role that `ROLES` lacks.
        """
        self[style] = self._add(*style)
        return self[style]

    def quoted(self, style: CellStyle) -> str:
        """The number of the same style for what is text whatever it begins with."""
        if style not in self._quoted:
            self._quoted[style] = self._add(*style, ' quotePrefix="1"')
        return self._quoted[style]

    def _add(self, role: str, code: str, more: str = "") -> str:
        looks, inside = _LOOKS[role]
        known = _KNOWN_CODES.get(code)
        if known is None:
            known = self._codes.setdefault(code, _FIRST_OWN_CODE + len(self._codes))
        self._formats.append(f'<xf numFmtId="{known}"{more} {looks}>{inside}</xf>')
        return str(len(self._formats) - 1)

    def xml(self) -> str:
        """The book's table of styles."""
        codes = [
            f'<numFmt numFmtId="{number}" formatCode={quoteattr(code)}/>'
            for code, number in self._codes.items()
        ]
        own = _listed("numFmts", codes) if codes else ""
        formats = _listed("cellXfs", self._formats)
        return f'<styleSheet xmlns="{MAIN}">{own}{_SHARED}{formats}{_AFTER}</styleSheet>'
