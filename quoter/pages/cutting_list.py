"""The cutting list of a shop paper: each ply with its sizes, and the rolls with every piece drawn.

A picture is to scale on paper. It is as long as the roll that is used, in rows one under the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from math import ceil

from quoter.analysis.nesting import TENTHS, Placed
from quoter.analysis.rolls import CutPly, Roll
from quoter.costing.cutting import CIRCLE, CONTOUR, RECTANGLE, STRIP
from quoter.figures import Figure, constant, plain_number, total
from quoter.figures.exact import half_up
from quoter.pages.figured import unit_words
from quoter.pages.paper_views import (
    CutRow,
    DrawnPiece,
    DrawnRow,
    MachineRow,
    MaterialRow,
    RollView,
)

FORMS = {
    RECTANGLE: "rectangle",
    CIRCLE: "circle, from the square",
    STRIP: "strip",
    CONTOUR: "on the machine, from the part's own contour",
}
SIZE, LENGTH, AREA = ("mm", 0), ("m", 2), ("m2", 3)  # units as they are said, and their digits
ROW, HIGHEST = 180.0, 52.0  # of a drawn row [mm]; both fit A4 and Letter
SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200)
ROWS = 3  # of a picture; a smaller scale is taken rather than more of them
LETTERS, SMALLEST = 2.8, 1.1  # height of a number in a piece [mm], and where none can be read
NARROW = 0.62  # width of a digit as a part of its height
EDGE, MARKS = 4.0, 4.0  # of the picture around a row, and what marks take below it [mm]
PER_MM = TENTHS / 1000


def said(figure: Figure, form: tuple[str, int]) -> str:
    """A size, length or area with its unit, as the paper shows it."""
    return f"{_digits(figure, form)} {unit_words(figure.shown_in(form[0]))}"


def _digits(figure: Figure, form: tuple[str, int]) -> str:
    unit, digits = form
    return f"{half_up(plain_number(figure.shown_in(unit)), digits):f}"


def cut_row(ply: CutPly, what: MaterialRow) -> CutRow:
    """A ply on the list.

    Args:
        ply: how it is cut
        what: its material, and how much of it
    """
    cut, line = ply.cut, ply.material.line
    if cut.width is None or cut.length is None:
        size = "" if line.area is None else said(line.area, AREA)
    elif cut.form == CIRCLE and cut.pieces.value == 1:
        size = f"Ø {said(cut.width, SIZE)}"
    else:
        size = f"{_digits(cut.width, SIZE)} × {said(cut.length, SIZE)}"
    return CutRow(
        number=ply.number,
        what=what,
        stage=str(line.stage),
        direction=f"{cut.direction}°" if cut.direction else "either",
        form=FORMS[cut.form],
        size=size,
        pieces=None if cut.form == CONTOUR else plain_number(ply.one),
    )


def roll_view(roll: Roll) -> RollView:
    """A roll with its pieces, drawn."""
    scale = _scale(roll)
    return RollView(
        name=str(roll.glass.name),
        width=said(roll.width, SIZE),
        length=said(roll.length, LENGTH),
        utilisation=None if roll.utilisation is None else plain_number(roll.utilisation),
        pieces=len(roll.nest.placed),
        numbers=tuple((ply.number, ply.pieces) for ply in roll.plies),
        scale=scale,
        rows=tuple(_rows(roll, scale)),
        by_machine=tuple(MachineRow(ply.number, said(ply.area, AREA)) for ply in roll.by_machine),
        machine_area=said(roll.machine_area, AREA) if roll.by_machine else "",
        machine_length=said(_by_machine(roll), LENGTH) if roll.by_machine else "",
    )


def _by_machine(roll: Roll) -> Figure:
    """The length of roll that holds the glass issued for what the machine cuts."""
    issued = [ply.material.line.issued * ply.units for ply in roll.by_machine]
    return total(issued, constant(0.0, "kg")) / roll.glass.areal_mass / roll.width


def _scale(roll: Roll) -> int:
    """The first scale that fits the roll's width, and its length in few rows."""
    width, length = roll.nest.width / PER_MM, roll.nest.length / PER_MM
    fitting = (s for s in SCALES if width / s <= HIGHEST and length / s <= ROW * ROWS)
    return next(fitting, SCALES[-1])


def _rows(roll: Roll, scale: int) -> Iterator[DrawnRow]:
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
            start=said(_metres(begin), LENGTH),
            end=said(_metres(end), LENGTH),
            width=_mm(width),
            height=_mm(height),
            foot=_mm(height + MARKS - 1),
            sheet=(_mm(width + 2 * EDGE), _mm(height + MARKS + 2)),
            pieces=pieces,
            marks=tuple(_marks(begin, end, mm)),
            numbers=tuple(numbers),
        )


def _metres(tenths: int) -> Figure:
    return constant(tenths / TENTHS, "m")


def _marks(begin: int, end: int, mm: float) -> Iterator[tuple[Decimal, str]]:
    """A mark at each whole metre of the roll, with what it says."""
    for metre in range(ceil(begin / TENTHS), end // TENTHS + 1):
        yield _mm((metre * TENTHS - begin) / mm), said(constant(float(metre), "m"), ("m", 0))


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
