"""A drawing of a part for its shop paper: outline, zones and dimensions, as far as a shape tells.

In plan stands the outline with the strips inside and outside its edge; what stands upright on the
edge is seen in the section beside it. Every length is one of the shape or of a zone, divided by a
stated scale; nothing is drawn of a part that states its area or volume alone. Hatches tell zones
apart without colour, and the words beside the drawing say all that it shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from quoter.catalogue.parts import AnyPart, Face, Shape, Zone
from quoter.catalogue.prices import Catalogue
from quoter.figures import Figure
from quoter.figures.readers import Reader
from quoter.pages.amounts import as_written
from quoter.pages.drawn_shapes import MM, Plan, box, dimension_line, paper, scale_for
from quoter.pages.picture_views import Amount, Band, Dimension, Drawing, DrawnZone, Mark

# The room on paper for plan and section in millimetres.
PLAN_ROOM, EDGE_ROOM = (68.0, 64.0), (30.0, 26.0)
LEFT, TOP, BELOW, ASIDE, LABEL = 20.0, 5.0, 9.0, 4.0, 16.0
AWAY, BAR, ROW = 4.0, 1.6, 4.2  # of a dimension line, a band in section
HATCHES = 6
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Strip:
    """A zone or face along the edge: its letter, how wide it is in metres and as written."""

    letter: str
    width: float
    amount: Amount
    lies: str
    hatch: int


@dataclass(slots=True)
class Sheet:
    """What has been drawn so far, and who reads it."""

    reader: Reader
    bands: list[Band] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)


def drawing_of(catalogue: Catalogue, part: AnyPart, shape: Shape) -> Drawing | None:
    """The drawing of a part in one of its shapes; None where the shape has no outline."""
    sides = _sides(shape)
    if not sides:
        return None
    zones = tuple(_zones(catalogue, part))
    strips = [strip for strip in map(_strip_of, _of(part), zones, _hatches(zones)) if strip]
    outside = max([s.width for s in strips if s.lies == "outside"], default=0.0)
    width, height, radius = _extents(sides)
    scale = scale_for(PLAN_ROOM, width + 2 * outside, height + 2 * outside)
    metre, out = MM / scale, outside * MM / scale
    plan = Plan(
        LEFT + out + width * metre / 2,
        TOP + out + height * metre / 2,
        width * metre,
        height * metre,
        radius * metre,
        metre,
    )
    sheet = Sheet(catalogue.reader)
    _draw_plan(sheet, plan, strips, zones)
    right = plan.x + plan.width / 2 + out + ASIDE
    edge = _draw_edge(sheet, strips, right) if strips else None
    across = right + LABEL if edge is None else edge.right
    down = plan.y + plan.height / 2 + out + BELOW
    down = down if edge is None else max(down, edge.bottom + 3)
    _draw_sides(sheet, plan, out, sides, down - 1)
    return Drawing(
        round=len(sides) == 1,
        sides=tuple(as_written(catalogue.reader, side) for side in sides),
        width=paper(across),
        height=paper(down),
        outline=plan.path(),
        bands=tuple(sheet.bands),
        uprights=any(strip.lies == "upright" for strip in strips),
        dimensions=tuple(sheet.dimensions),
        marks=tuple(sheet.marks),
        zones=zones,
        scale=scale,
        edge_scale=None if edge is None else edge.scale,
        edge="" if edge is None else edge.path,
        edge_x=paper(right),
        edge_y=paper(TOP),
        true=shape.area is None and shape.perimeter is None,
    )


def _sides(shape: Shape) -> tuple[Figure, ...]:
    """Width, height and corner radius of a rectangle, or the diameter of a circle."""
    if shape.width is not None and shape.height is not None:
        radius = shape.corner_radius
        rounded = () if radius is None or radius.value <= 0 else (radius,)
        return shape.width, shape.height, *rounded
    return () if shape.diameter is None else (shape.diameter,)


def _extents(sides: Sequence[Figure]) -> tuple[float, float, float]:
    """Width, height and corner radius in metres; a circle is as round as it can be."""
    if len(sides) == 1:
        return sides[0].value, sides[0].value, sides[0].value / 2
    return sides[0].value, sides[1].value, sides[2].value if len(sides) == 3 else 0.0


def _of(part: AnyPart) -> list[Zone | Face]:
    return [*getattr(part, "zones", ()), *getattr(part, "gelcoat", ())]


def _zones(catalogue: Catalogue, part: AnyPart) -> Iterator[DrawnZone]:
    letters = iter(LETTERS)
    for each in _of(part):
        name = _face_name(catalogue, each) if isinstance(each, Face) else str(each.name)
        lies, size = _lies(each)
        shown = lies not in ("area", "share") and not (isinstance(each, Face) and lies == "whole")
        yield DrawnZone(
            letter=next(letters, "") if shown else "",
            name=name,
            is_face=isinstance(each, Face),
            lies=lies,
            size=None if size is None else as_written(catalogue.reader, size),
        )


def _face_name(catalogue: Catalogue, face: Face) -> str:
    if face.colour == "hull":
        return ""
    return str(catalogue.records.of("gelcoat")[face.colour].colour)


def _lies(each: Any) -> tuple[str, Figure | None]:
    if each.strip is not None:
        return str(each.lies or "inside"), each.strip
    if each.area is not None:
        return "area", each.area
    if each.share is None:
        return "whole", None
    return ("share", each.share) if isinstance(each.share, Figure) else ("rest", None)


def _hatches(zones: Sequence[DrawnZone]) -> list[int]:
    return [number % HATCHES for number in range(len(zones))]


def _strip_of(each: Zone | Face, zone: DrawnZone, hatch: int) -> Strip | None:
    if each.strip is None or zone.size is None:
        return None
    return Strip(zone.letter, each.strip.value, zone.size, zone.lies, hatch)


def _draw_plan(
    sheet: Sheet, plan: Plan, strips: Sequence[Strip], zones: Sequence[DrawnZone]
) -> None:
    """Strips inside and outside the edge, the widest first, each with its letter where it shows."""
    for lies, sign in (("inside", -1), ("outside", 1)):
        found = sorted((s for s in strips if s.lies == lies), key=lambda s: -s.width)
        for number, strip in enumerate(found):
            reach = strip.width * plan.metre
            narrower = found[number + 1].width * plan.metre if number + 1 < len(found) else 0.0
            ring = plan.path() + plan.path(sign * reach)
            sheet.bands.append(Band(ring, "", strip.hatch))
            share = (number + 1) / (len(found) + 1) - 0.5
            at = plan.y - plan.height / 2 - sign * (reach + narrower) / 2
            sheet.marks.append(_mark(plan.x + share * plan.width, at, strip.letter))
    upright = [strip for strip in strips if strip.lies == "upright"]
    for number, strip in enumerate(upright):
        share = (number + 1) / (len(upright) + 1) - 0.5
        at = plan.y + share * plan.height
        sheet.marks.append(_mark(plan.x + plan.width / 2, at, strip.letter))
    whole = [zone.letter for zone in zones if zone.lies == "whole" and zone.letter]
    if whole:
        sheet.marks.append(_mark(plan.x, plan.y, " ".join(whole)))


def _draw_sides(
    sheet: Sheet, plan: Plan, out: float, sides: Sequence[Figure], lowest: float
) -> None:
    """Dimension lines of the outline, beyond what lies outside it; the radius in the last row."""
    told = [as_written(sheet.reader, side) for side in sides]
    left, right = plan.x - plan.width / 2, plan.x + plan.width / 2
    top, bottom = plan.y - plan.height / 2, plan.y + plan.height / 2
    below, beside = bottom + out + AWAY, left - out - AWAY
    sign = "\N{DIAMETER SIGN} " if len(sides) == 1 else ""
    line = dimension_line(left, below, right, below)
    found = [Dimension(line, paper(plan.x), paper(below + 3.4), "middle", sign, told[0])]
    if len(sides) > 1:
        line = dimension_line(beside, top, beside, bottom)
        found.append(Dimension(line, paper(beside - 1.5), paper(plan.y + 1), "end", "", told[1]))
    if len(sides) == 3:
        inset = plan.radius * (1 - 0.5**0.5)
        end = right + out + 2
        line = f"M{paper(right - inset)} {paper(bottom - inset)}L{paper(end)} {paper(lowest - 1)}h1"
        found.append(Dimension(line, paper(end + 2), paper(lowest), "start", "R ", told[2]))
    sheet.dimensions += found


@dataclass(frozen=True, slots=True)
class _Edge:
    """The section: its scale, the plane of the part as a path, and where it ends."""

    scale: int
    path: str
    right: float
    bottom: float


def _draw_edge(sheet: Sheet, strips: Sequence[Strip], left: float) -> _Edge:
    """A section through the edge: the part to the left, outside to the right, upright above."""
    reach = {
        lies: max([s.width for s in strips if s.lies == lies], default=0.0)
        for lies in ("inside", "outside", "upright")
    }
    scale = scale_for(EDGE_ROOM, reach["inside"] + reach["outside"], reach["upright"])
    metre = MM / scale
    x = left + LABEL + max(reach["inside"] * metre, 8.0)
    y = TOP + 5.0 + reach["upright"] * metre
    rows = {"inside": 0, "outside": 0, "upright": 0}
    for strip in strips:
        row = rows[strip.lies]
        rows[strip.lies] += 1
        length = strip.width * metre
        if strip.lies == "upright":
            _upright(sheet, strip, x + row * 2 * BAR, y, length, row)
        else:
            _flat(sheet, strip, x, y + BAR + row * ROW, length)
    below = y + max(rows["inside"], rows["outside"]) * ROW + 2 * BAR
    plane = f"M{paper(x - max(reach['inside'] * metre, 8.0))} {paper(y)}H{paper(x)}"
    if reach["outside"]:
        plane += f"H{paper(x + reach['outside'] * metre)}"
    return _Edge(scale, plane, x + max(reach["outside"] * metre, 2 * BAR) + LABEL, below)


def _flat(sheet: Sheet, strip: Strip, x: float, y: float, length: float) -> None:
    """A strip in the plane of the part, with what it measures at its far end."""
    away = -1 if strip.lies == "inside" else 1
    start = x - length if away < 0 else x
    sheet.bands.append(Band("", box(start, y, length, BAR), strip.hatch))
    end = x + away * (length + 1.2)
    anchor = "end" if away < 0 else "start"
    line = dimension_line(start, y + BAR + 0.9, start + length, y + BAR + 0.9)
    sheet.dimensions.append(
        Dimension(line, paper(end), paper(y + BAR + 0.4), anchor, f"{strip.letter} ", strip.amount)
    )


def _upright(sheet: Sheet, strip: Strip, x: float, y: float, length: float, row: int) -> None:
    """A strip that stands on the edge; one after the other has its words to the left and right."""
    sheet.bands.append(Band("", box(x, y - length, BAR, length), strip.hatch))
    aside = -0.9 if row == 0 else BAR + 0.9
    line = dimension_line(x + aside, y - length, x + aside, y)
    anchor, words = ("end", x + aside - 1) if row == 0 else ("start", x + aside + 1)
    at = y - length / (row + 2) if row else y - length / 2
    sheet.dimensions.append(
        Dimension(line, paper(words), paper(at + 1), anchor, f"{strip.letter} ", strip.amount)
    )


def _mark(x: float, y: float, letter: str) -> Mark:
    return Mark(paper(x), paper(y + 1), letter)
