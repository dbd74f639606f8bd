"""How each layer of a ply is cut: to which sides, in how many pieces, which way on the roll.

What is known by its dimensions is cut by them; where only an area is stated, the machine cuts it
from the part's own contour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from quoter.catalogue.factory import Ply
from quoter.catalogue.materials import SPRAYED, Glass
from quoter.catalogue.parts import Shape, Zone
from quoter.catalogue.yard import Policy
from quoter.engineering import cutting
from quoter.figures import Figure, constant

RECTANGLE, CIRCLE, STRIP, CONTOUR = "rectangle", "circle", "strip", "contour"
DIRECTED = ("woven", "stitched")  # mat and veil are alike whichever way they lie
TRIM = constant(0.025, "m", "trim of a ply")  # common practice
OVERLAP = constant(0.05, "m", "overlap of plies")  # common practice
NO_TRIM = constant(0.0, "m")
ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class Cut:
    """How one layer of a ply is cut, trim and overlap included.

    Each of its `pieces` is `width` by `length` [m]; a circle's are those of the square around it.
    On the roll a piece takes `across` by `along`, the other way about too if it `turns`. All these
    are None where the machine cuts it from the part's own contour. `direction` is as stated.
    """

    form: str
    direction: str = ""
    width: Figure | None = None
    length: Figure | None = None
    pieces: Figure = ONE
    across: Figure | None = None
    along: Figure | None = None
    turns: bool = True


def cut_of(
    policy: Policy,
    shape: Shape,
    zones: Sequence[Zone],
    zone: Zone,
    glass: Glass,
    ply: Ply,
    area: Figure,
    *,
    trimmed: bool,
) -> Cut | None:
    """How each layer of a ply is cut; None where it is sprayed.

    Args:
        policy: the yard's, with its trim and overlap
        shape: the part's
        zones: all zones of the part
        zone: where the ply is laid
        glass: what it is cut from
        ply: the ply
        area: the zone's [m2]
        trimmed: whether it is laid in the open, and trimmed at the edge
    """
    if glass.form == SPRAYED:
        return None
    trim = NO_TRIM if not trimmed else TRIM if policy.ply_trim is None else policy.ply_trim
    turns = ply.direction is None or glass.form not in DIRECTED
    cut = Cut(CONTOUR, ply.direction or "", turns=turns)
    if zone.strip is not None:
        width = cutting.strip_cut_width(zone.strip, trim)
        length = cutting.strip_length(area, zone.strip)
        return _strip(replace(cut, form=STRIP), width, length, glass, _overlap(policy, glass))
    sides = _sides(shape, zones, zone)
    if sides is None:
        return cut
    cut = replace(cut, form=RECTANGLE if shape.diameter is None else CIRCLE)
    width, length = (cutting.cut_side(side, trim) for side in sides)
    if length.value < width.value:
        width, length = length, width
    return _on_roll(cut, width, length, glass, _overlap(policy, glass))


def _sides(shape: Shape, zones: Sequence[Zone], zone: Zone) -> tuple[Figure, Figure] | None:
    """The sides of a zone that is the whole part, or what a strip along its edge leaves, where
    these and not an area make its shape."""
    sides = (shape.width, shape.height)
    if shape.diameter is not None:
        sides = (shape.diameter, shape.diameter)
    width, height = sides
    if shape.area is not None or width is None or height is None:
        return None
    if zone.is_rest:
        within = [each.strip for each in zones if each is not zone and each.within]
        if len(within) != 1 or within[0] is None:
            return None
        return cutting.side_within(width, within[0]), cutting.side_within(height, within[0])
    return None if zone.area is not None or zone.share is not None else (width, height)


def _overlap(policy: Policy, glass: Glass) -> Figure:
    """How far pieces lap: no more than half a narrow tape."""
    lap = glass.overlap if glass.overlap is not None else policy.ply_overlap
    lap = OVERLAP if lap is None else lap
    if glass.roll_width is not None and lap.value > glass.roll_width.value / 2:
        return glass.roll_width / 2
    return lap


def _strip(cut: Cut, width: Figure, length: Figure, glass: Glass, overlap: Figure) -> Cut:
    """A strip in equal lengths no longer than the roll is wide, to be cut across it or along it."""
    pieces = ONE
    if glass.roll_width is not None:
        pieces = cutting.loop_pieces(length, glass.roll_width, overlap)
    piece = cutting.loop_piece(length, pieces, overlap)
    found = _on_roll(cut, width, piece, glass, overlap)
    return replace(found, pieces=found.pieces * pieces)


def _on_roll(cut: Cut, width: Figure, length: Figure, glass: Glass, overlap: Figure) -> Cut:
    """A piece as it lies on the roll, in lapped widths where it is wider.

    `length` lies along the part, which is the roll's length at 0 degrees.
    """
    roll = glass.roll_width
    if cut.direction == "45" and not cut.turns:
        return _at_an_angle(cut, width, length, roll, overlap)
    if cut.turns:
        if roll is not None and min(width.value, length.value) > roll.value:
            cut = _cheaper(cut, width, length, roll, overlap)
        elif length.value < width.value:
            cut = replace(cut, width=width, length=length, across=length, along=width)
        else:
            cut = replace(cut, width=width, length=length, across=width, along=length)
        return cut
    if cut.direction == "90":
        pieces, side = _widths(length, roll, overlap)
        return replace(cut, width=width, length=side, pieces=pieces, across=side, along=width)
    pieces, side = _widths(width, roll, overlap)
    return replace(cut, width=side, length=length, pieces=pieces, across=side, along=length)


def _widths(side: Figure, roll: Figure | None, overlap: Figure) -> tuple[Figure, Figure]:
    """How many widths of the roll a side takes, and how wide each is."""
    if roll is None or side.value <= roll.value:
        return ONE, side
    pieces = cutting.lapped_pieces(side, roll, overlap)
    return pieces, cutting.lapped_piece(side, pieces, overlap)


def _cheaper(cut: Cut, width: Figure, length: Figure, roll: Figure, overlap: Figure) -> Cut:
    """A piece wider than the roll both ways, in the widths that take less glass."""
    ways = []
    for side, other in ((width, length), (length, width)):
        pieces, each = _widths(side, roll, overlap)
        ways.append(replace(cut, width=each, length=other, pieces=pieces, across=each, along=other))
    return min(ways, key=_glass_of)


def _glass_of(cut: Cut) -> float:
    if cut.across is None or cut.along is None:
        raise ValueError("a piece from a contour has no sides")
    return cut.pieces.value * cut.across.value * cut.along.value


def _at_an_angle(
    cut: Cut, width: Figure, length: Figure, roll: Figure | None, overlap: Figure
) -> Cut:
    """A piece at 45 degrees takes the square around it; its sides are divided until that fits."""
    across, along = ONE, ONE
    while True:
        sides = (
            cutting.lapped_piece(width, across, overlap),
            cutting.lapped_piece(length, along, overlap),
        )
        around = cutting.square_around(*sides)
        if roll is None or around.value <= roll.value:
            break
        if sides[0].value > sides[1].value:
            across = across + 1.0
        else:
            along = along + 1.0
    pieces = across * along
    return replace(cut, width=sides[0], length=sides[1], pieces=pieces, across=around, along=around)
