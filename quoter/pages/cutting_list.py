"""The cutting list of a shop paper: each ply with its sizes, and the rolls with every piece drawn.

A picture is to scale on paper. It is as long as the roll that is used, in rows one under the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from math import ceil

from babel import Locale
from babel.numbers import format_decimal

from quoter.analysis.nesting import TENTHS, Placed
from quoter.analysis.rolls import CutPly, Roll
from quoter.costing.cutting import CIRCLE, CONTOUR, RECTANGLE, STRIP
from quoter.figures import Figure, constant, plain_number, total
from quoter.figures.exact import half_up
from quoter.figures.readers import Reader, System
from quoter.pages.figured import unit_words
from quoter.pages.paper_views import CutRow, MachineRow, MaterialRow, RollView
from quoter.pages.picture_views import DrawnPiece, DrawnRow
from quoter.phrases import phrase
from quoter.units import to_base
from quoter.units import unit as unit_of

FORMS = {
    RECTANGLE: phrase("rectangle"),
    CIRCLE: phrase("circle, from the square"),
    STRIP: phrase("strip"),
    CONTOUR: phrase("on the machine, from the part's own contour"),
}
STAGES = {
    "gelcoat": phrase("gelcoat"),
    "skin": phrase("skin"),
    "bulk": phrase("bulk"),
    "resin": phrase("resin"),
    "core": phrase("core"),
    "foam": phrase("foam"),
    "goods": phrase("goods"),
}
ENGLISH = Locale("en")
SIZE, LENGTH, AREA = "size", "length", "area"
ROW, HIGHEST = 180.0, 52.0  # of a drawn row [mm]; both fit A4 and Letter
ROWS = 3  # of a picture; a smaller scale is taken rather than more of them
LETTERS, SMALLEST = 2.8, 1.1  # height of a number in a piece [mm], and where none can be read
NARROW = 0.62  # width of a digit as a part of its height
EDGE, MARKS = 4.0, 4.0  # of the picture around a row, and what marks take below it [mm]
MARK_WIDTH = 1.6  # of a letter of a mark, with its share of what keeps marks apart [mm]
PER_MM = TENTHS / 1000
EIGHTHS = ("", " 1/8", " 1/4", " 3/8", " 1/2", " 5/8", " 3/4", " 7/8")


@dataclass(frozen=True, slots=True)
class Said:
    """How a system's readers see sizes, lengths and areas: units and digits, None for eighths;
    every how many of them the roll has a mark; to which scales pictures are drawn."""

    units: Mapping[str, tuple[str, int | None]]
    mark: int
    scales: tuple[int, ...]


SAID = {
    "metric": Said(
        {SIZE: ("mm", 0), LENGTH: ("m", 2), AREA: ("m2", 3)},
        1,
        (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200),
    ),
    "US": Said(
        {SIZE: ("in", None), LENGTH: ("ft", 1), AREA: ("ft2", 2)},
        2,
        (6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192),
    ),
}


def said(reader: Reader, kind: str, *sides: Figure, locale: Locale = ENGLISH) -> str:
    """A size, a length or an area with its unit, in those that the reader reads.

    Args:
        reader: who reads
        kind: which of the three
        sides: one figure, or the two sides of a piece
        locale: whose decimal sign they have
    """
    told = _told(reader.first, kind, sides, locale)
    if reader.beside is None:
        return told
    return f"{told} ({_told(reader.beside, kind, sides, locale)})"


def _told(system: System, kind: str, sides: Sequence[Figure], locale: Locale) -> str:
    unit, digits = SAID[system.name].units[kind]
    figures = [side.shown_in(unit) for side in sides]
    numbers = (_number(plain_number(figure), digits, locale) for figure in figures)
    return f"{' × '.join(numbers)} {unit_words(figures[0])}"


def _number(value: Decimal, digits: int | None, locale: Locale) -> str:
    """With so many decimals, or to an eighth as inches are read."""
    if digits is not None:
        return format_decimal(half_up(value, digits), f"0.{'0' * digits}", locale)
    whole, eighths = divmod(int(half_up(value * 8, 0)), 8)
    return f"{whole}{EIGHTHS[eighths]}" if whole else EIGHTHS[eighths].strip() or "0"


def cut_row(ply: CutPly, what: MaterialRow, reader: Reader, locale: Locale = ENGLISH) -> CutRow:
    """A ply on the list.

    Args:
        ply: how it is cut
        what: its material, and how much of it
        reader: in whose units
        locale: in whose decimals
    """
    cut, line = ply.cut, ply.material.line
    if cut.width is None or cut.length is None:
        size = "" if line.area is None else said(reader, AREA, line.area, locale=locale)
    elif cut.form == CIRCLE and cut.pieces.value == 1:
        size = f"Ø {said(reader, SIZE, cut.width, locale=locale)}"
    else:
        size = said(reader, SIZE, cut.width, cut.length, locale=locale)
    return CutRow(
        number=ply.number,
        what=what,
        stage=STAGES.get(line.stage, line.stage),
        direction=f"{cut.direction}°" if cut.direction else phrase("either"),
        form=FORMS[cut.form],
        size=size,
        pieces=None if cut.form == CONTOUR else plain_number(ply.one),
    )


def roll_view(roll: Roll, reader: Reader, locale: Locale = ENGLISH) -> RollView:
    """A roll with its pieces, drawn."""
    tell = partial(said, reader, locale=locale)
    scale = _scale(roll, SAID[reader.first.name].scales)
    return RollView(
        name=str(roll.glass.name),
        width=tell(SIZE, roll.width),
        length=tell(LENGTH, roll.length),
        utilisation=None if roll.utilisation is None else plain_number(roll.utilisation),
        pieces=len(roll.nest.placed),
        numbers=tuple((ply.number, ply.pieces) for ply in roll.plies),
        scale=scale,
        rows=tuple(_rows(roll, scale, reader, tell)),
        by_machine=tuple(MachineRow(ply.number, tell(AREA, ply.area)) for ply in roll.by_machine),
        machine_area=tell(AREA, roll.machine_area) if roll.by_machine else "",
        machine_length=tell(LENGTH, _by_machine(roll)) if roll.by_machine else "",
    )


def _by_machine(roll: Roll) -> Figure:
    """The length of roll that holds the glass issued for what the machine cuts."""
    issued = [ply.material.line.issued * ply.units for ply in roll.by_machine]
    return total(issued, constant(0.0, "kg")) / roll.glass.areal_mass / roll.width


def _scale(roll: Roll, scales: Sequence[int]) -> int:
    """The first scale that fits the roll's width, and its length in few rows."""
    width, length = roll.nest.width / PER_MM, roll.nest.length / PER_MM
    fitting = (s for s in scales if width / s <= HIGHEST and length / s <= ROW * ROWS)
    return next(fitting, scales[-1])


def _rows(
    roll: Roll, scale: int, reader: Reader, tell: Callable[[str, Figure], str]
) -> Iterator[DrawnRow]:
    """The roll cut into rows; what runs over an end of one is drawn in both."""
    mm, whole = PER_MM * scale, roll.nest.length
    step = int(ROW * mm)
    for row in range(ceil(whole / step)):
        begin, end = row * step, min((row + 1) * step, whole)
        pieces = tuple(
            _drawn(placed, roll.plies[placed.kind].number, begin, end, mm)
            for placed in roll.nest.placed
            if placed.y < end and placed.y + placed.along > begin
        )
        numbers = sorted({piece.number for piece in pieces})
        width, height = (end - begin) / mm, roll.nest.width / mm
        yield DrawnRow(
            start=tell(LENGTH, _metres(begin)),
            end=tell(LENGTH, _metres(end)),
            width=_mm(width),
            height=_mm(height),
            foot=_mm(height + MARKS - 1),
            sheet=(_mm(width + 2 * EDGE), _mm(height + MARKS + 2)),
            pieces=pieces,
            marks=tuple(_marks(begin, end, mm, reader)),
            numbers=tuple(numbers),
        )


def _metres(tenths: int) -> Figure:
    return constant(tenths / TENTHS, "m")


def _marks(
    begin: int, end: int, mm: float, reader: Reader
) -> Iterator[tuple[Decimal, Decimal, str]]:
    """A mark at each metre of the roll, or each other foot: its place, that of its words, and what
    they say where there is room; words at the edge of the picture are moved into it."""
    system = SAID[reader.first.name]
    unit, every = system.units[LENGTH][0], system.mark
    step = every * float(to_base(unit_of(unit))[1]) * TENTHS
    words = [
        f"{mark * every} {unit}{_beside(reader, mark * step)}"
        for mark in range(int(end / step) + 1)
    ]
    if reader.beside is not None:
        words[0] = "0"  # it stands at the edge of the picture
    apart = ceil(max(map(len, words)) * MARK_WIDTH / (step / mm))
    for mark in range(ceil(begin / step), len(words)):
        at = (mark * step - begin) / mm
        half = len(words[mark]) * MARK_WIDTH / 2
        over = at + half - (end - begin) / mm
        told = "" if mark % apart or over > EDGE else words[mark]
        yield _mm(at), _mm(max(at, half - EDGE)), told


def _beside(reader: Reader, tenths: float) -> str:
    """A length of roll in whole ones of the other unit, where both are read."""
    if reader.beside is None:
        return ""
    unit, _ = SAID[reader.beside.name].units[LENGTH]
    length = constant(tenths / TENTHS, "m").shown_in(unit)
    return f" / {half_up(plain_number(length), 0):f} {unit}"


def _drawn(placed: Placed, number: int, begin: int, end: int, mm: float) -> DrawnPiece:
    """A piece as it is drawn in a row, the roll running from left to right."""
    left, right = max(placed.y, begin), min(placed.y + placed.along, end)
    width, height = (right - left) / mm, placed.across / mm
    upright = height > width and width < len(str(number)) * NARROW * LETTERS
    room, across = (height, width) if upright else (width, height)
    letters = min(LETTERS, across * 0.8, room * 0.9 / (len(str(number)) * NARROW))
    return DrawnPiece(
        number=number,
        x=_mm((left - begin) / mm),
        y=_mm(placed.x / mm),
        width=_mm(width),
        height=_mm(height),
        middle=(_mm((left - begin) / mm + width / 2), _mm(placed.x / mm + height / 2)),
        upright=upright,
        letters=_mm(letters) if letters >= SMALLEST else None,
    )


def _mm(value: float) -> Decimal:
    """A place on paper, to a tenth of a millimetre."""
    return half_up(Decimal(repr(value)), 1)
