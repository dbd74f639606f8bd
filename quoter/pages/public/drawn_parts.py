"""Drawings of options for customers: their seen parts side by side at one scale, with dimensions.

They are made of `quoter.pricing.seen` alone, so nothing in them, told or to scale, is a number that
the yard keeps. Outlines and sections are to scale; fittings are symbols, as large at any scale.
Coordinates are no texts: they have a type of their own, which the guard takes in attributes that
place something, and nowhere else. Lines and words follow the habits of ISO 128 and ISO 129-1: thin
dimension lines, numbers above them and along upright ones, R and ⌀ before radius and diameter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.catalogue.options import Option
from quoter.catalogue.prices import Catalogue
from quoter.pages.drawn_shapes import MM, Plan, box, dimension_line, paper, scale_for
from quoter.pages.public.drawn_views import (
    DrawingView,
    FittedView,
    LabelView,
    LayersView,
    OutlineView,
    PartView,
    SectionView,
)
from quoter.pages.public.view import Coordinates
from quoter.pricing.public import PublicMeasure
from quoter.pricing.seen import Fitting, Outline, Seen, seen_parts

# Millimetres of paper: as wide as a small telephone shows at full size, with letters to be read.
WIDE, ROOM, SECTION_ROOM = 76.0, (48.0, 46.0), (60.0, 15.0)
LEFT, ABOVE, BELOW, APART = 8.2, 5.5, 7.0, 5.0
AWAY, TEXT, WORDS = 3.4, 3.2, 27.0  # of a dimension line, letters, a length in both units
SLAB = 13.0  # the length of a section
ROUND_LEG = 1.6


def drawing_of(catalogue: Catalogue, option: Option, model: str) -> DrawingView | None:
    """The drawing of an option on a model; None where nothing of it is seen.

    Args:
        catalogue: checked records
        option: one of its options
        model: the id of a boat that has it
    """
    seen = seen_parts(catalogue, option, model)
    return drawing(str(option.id), seen) if seen else None


def drawing(id: str, seen: Sequence[Seen]) -> DrawingView:
    """Parts side by side at the least scale by which each has room; in rows, where they have not.

    Args:
        id: of what they are drawn for
        seen: the parts, at least one
    """
    metre = MM / max(_scale(each.outline) for each in seen)
    x, top, row, parts = 0.0, 0.0, 0.0, []
    for number, each in enumerate(seen, 1):
        width = LEFT + max(_metres(each.outline.width) * metre, WORDS - LEFT / 2) + APART
        if x and x + width > WIDE:
            x, top, row = 0.0, top + row + APART, 0.0
        part, right, bottom = _part(f"{id}-{number}", each, metre, x, top)
        parts.append(part)
        x, row = right, max(row, bottom - top)
    height = top + row
    return DrawingView(
        id=id,
        box=_at("0 0", WIDE, height),
        width=Coordinates(f"{paper(WIDE)}mm"),
        height=Coordinates(f"{paper(height)}mm"),
        parts=tuple(parts),
    )


def _scale(outline: Outline) -> int:
    return scale_for(ROOM, _metres(outline.width), _metres(outline.height))


def _metres(length: PublicMeasure) -> float:
    return float(length.amount) / MM


def _plan(outline: Outline, x: float, y: float, metre: float) -> Plan:
    """An outline around a middle."""
    width, height = _metres(outline.width) * metre, _metres(outline.height) * metre
    radius = 0.0 if outline.radius is None else _metres(outline.radius) * metre
    return Plan(x, y, width, height, width / 2 if outline.round else radius, metre)


def _part(id: str, seen: Seen, metre: float, x: float, top: float) -> tuple[PartView, float, float]:
    """A part from an upper left corner on, and how far right and down it reaches."""
    wide, high = (_metres(side) * metre for side in (seen.outline.width, seen.outline.height))
    above = ABOVE if seen.outline.radius is not None else 1.5
    plan = _plan(seen.outline, x + LEFT + wide / 2, top + above + high / 2, metre)
    step = wide + APART
    fits = x + LEFT + wide + (seen.count - 1) * step < WIDE
    copies = [n * step for n in range(1, seen.count)] if fits else []
    right, bottom = x + LEFT + wide + sum(copies[-1:]), top + above + high + BELOW
    bottom += TEXT if _narrow(plan) else 0.0
    times = None if fits else _pair(right + 2, plan.y + TEXT / 3)
    section, bottom = _section(seen, x + LEFT, bottom) if _cut(seen) else (None, bottom)
    inner = None if seen.clear is None else _plan(seen.clear, plan.x, plan.y, metre)
    symbols = "".join(_symbols(seen, plan))
    part = PartView(
        id=id,
        what=seen.what,
        view=seen.view,
        count=seen.count,
        outline=Coordinates(plan.path()),
        clear=None if inner is None else Coordinates(inner.path()),
        fittings=Coordinates(symbols) if symbols else None,
        copies=tuple(Coordinates(f"translate({paper(copy)} 0)") for copy in copies),
        times=times,
        labels=tuple(_labels(seen.outline, plan)),
        section=section,
        told=_told(seen.outline),
        clear_told=None if seen.clear is None else _told(seen.clear),
        fitted=tuple(
            FittedView(each.kind, each.count, _edge(seen, each)) for each in seen.fittings
        ),
    )
    return part, max(right, x + WORDS) + APART, bottom


def _told(outline: Outline) -> OutlineView:
    return OutlineView(outline.width, outline.height, outline.radius, outline.round)


def _labels(outline: Outline, plan: Plan) -> Iterator[LabelView]:
    """Width below, height to the left and along its line, the radius above the corner it is of."""
    left, right = plan.x - plan.width / 2, plan.x + plan.width / 2
    top, bottom = plan.y - plan.height / 2, plan.y + plan.height / 2
    below, beside = bottom + AWAY + TEXT / 2, left - AWAY
    middle = max(plan.x, left - LEFT + WORDS / 2)
    words = below + (TEXT + 0.4 if _narrow(plan) else -0.8)
    line = f"M{paper(left)} {paper(bottom + 0.8)}V{paper(below + 0.8)}"
    line += f"M{paper(right)} {paper(bottom + 0.8)}V{paper(below + 0.8)}"
    line += dimension_line(left, below, right, below)
    what = "diameter" if outline.round else "side"
    yield _label(what, line, middle, words, "middle", outline.width)
    if outline.round:
        return
    line = f"M{paper(left - 0.8)} {paper(top)}H{paper(beside - 0.8)}"
    line += f"M{paper(left - 0.8)} {paper(bottom)}H{paper(beside - 0.8)}"
    line += dimension_line(beside, top, beside, bottom)
    middle = max(plan.y, top + (WORDS - 1.0) / 2)
    yield _label("side", line, beside - 0.8, middle, "middle", outline.height, upright=True)
    if outline.radius is not None:
        inset = plan.radius * (1 - 0.5**0.5)
        line = f"M{paper(right - inset)} {paper(top + inset)}"
        line += f"L{paper(right + 1.6)} {paper(top - 2.4)}h{1.2 if _narrow(plan) else -1.2}"
        x, anchor = (right + 3.4, "start") if _narrow(plan) else (right, "end")
        yield _label("radius", line, x, top - 1.4, anchor, outline.radius)


def _narrow(plan: Plan) -> bool:
    """Whether a part is less wide than the words that say how wide it is."""
    return plan.width < WORDS


def _label(
    what: str,
    line: str,
    x: float,
    y: float,
    anchor: str,
    length: PublicMeasure,
    upright: bool = False,
) -> LabelView:
    turn = f"rotate({-90 if upright else 0} {paper(x)} {paper(y)})"
    return LabelView(what, Coordinates(line), *_pair(x, y), anchor, Coordinates(turn), length)


def _cut(seen: Seen) -> bool:
    return seen.thickness is not None or seen.core is not None or bool(seen.layers)


def _section(seen: Seen, x: float, top: float) -> tuple[SectionView, float]:
    """A section lying below its part, to a scale of its own, with its words to the right.

    Where the thickness is not told its height is that of any section, and so says nothing; so are
    the skins where the core is not told. Lines of layers tell how many there are, not how thick.
    """
    thick = None if seen.thickness is None else _metres(seen.thickness)
    scale = 1 if thick is None else scale_for(SECTION_ROOM, 0.0, thick)
    height = 7.0 if thick is None else max(thick * MM / scale, 0.8)
    top += 2.0
    skin = height * 0.2
    if seen.core is not None and thick is not None:
        skin = max((thick - _metres(seen.core)) * MM / scale / 2, 0.3)
    core = None if seen.core is None else Coordinates(box(x, top + skin, SLAB, height - 2 * skin))
    plies = _plies(seen, x, top, height, skin)
    side = x + SLAB + 2.0
    lines = [top + TEXT + n * (TEXT + 0.9) for n in range(2 + len(seen.layers))]
    lines = lines if thick is not None else [0.0, *lines]
    rest = lines[1:] if seen.core is None else lines[2:]
    found = SectionView(
        slab=Coordinates(box(x, top, SLAB, height)),
        core=core,
        plies=Coordinates(plies) if plies else None,
        line=None if thick is None else Coordinates(dimension_line(side, top, side, top + height)),
        x=Coordinates(paper(side + 1.8)),
        thickness=seen.thickness,
        thickness_y=Coordinates(paper(lines[0])),
        core_thickness=seen.core,
        core_y=Coordinates(paper(lines[1])),
        layers=tuple(
            LayersView(form, count, Coordinates(paper(y)))
            for (form, count), y in zip(seen.layers, rest, strict=False)
        ),
    )
    told = (seen.thickness is not None) + (seen.core is not None) + len(seen.layers)
    return found, max(top + height, top + told * (TEXT + 0.9)) + 1.5


def _plies(seen: Seen, x: float, top: float, height: float, skin: float) -> str:
    """As many lines as there are layers: half in each skin, or through all of what has no core."""
    number = sum(count for _, count in seen.layers)
    outer = number - number // 2 if seen.core is not None else number
    ends = [(top, skin, outer), (top + height - skin, skin, number - outer)]
    if seen.core is None:
        ends = [(top, height, number)]
    return "".join(
        f"M{paper(x)} {paper(start + deep * (ply + 0.5) / count)}h{paper(SLAB)}"
        for start, deep, count in ends
        for ply in range(count)
    )


_ACROSS = {"left": "right", "right": "left", "top": "bottom", "bottom": "top", "": ""}


def _edge(seen: Seen, fitting: Fitting) -> str:
    """The edge that fittings stand on; hinges on their own, latches and handles across from it."""
    if fitting.kind == "leg":
        return ""
    return seen.hinged if fitting.kind == "hinge" else _ACROSS[seen.hinged]


def _symbols(seen: Seen, plan: Plan) -> Iterator[str]:
    """Fittings as symbols: a leaf over the edge, a bolt with its keep, a bar, the end of a tube."""
    for fitting in seen.fittings:
        edge = _edge(seen, fitting)
        for x, y, upright in _places(fitting, edge, plan):
            if fitting.kind == "leg":
                yield _circle(x, y, ROUND_LEG)
            elif fitting.kind == "hinge":
                long, deep = 4.4, 1.8
                yield _lying(x, y, long, deep, upright) + _lying(x, y, long, 0.0, upright)
            elif fitting.kind == "latch":
                yield _lying(x, y, 2.6, 2.0, upright) + _circle(x, y, 0.5)
            else:
                yield _lying(x, y, 6.0, 0.9, upright)


def _places(fitting: Fitting, edge: str, plan: Plan) -> Iterator[tuple[float, float, bool]]:
    """Evenly along an edge; without one, on two edges across from each other."""
    if edge:
        yield from _along(edge, fitting.count, plan, _inward(fitting.kind))
        return
    first = fitting.count - fitting.count // 2
    sides = ("left", "right") if fitting.kind == "leg" else ("top", "bottom")
    for side, count in zip(sides, (first, fitting.count - first), strict=True):
        yield from _along(side, count, plan, _inward(fitting.kind))


def _inward(kind: str) -> float:
    """How far within the edge the middle of a symbol lies."""
    return {"hinge": 0.0, "leg": 3.0}.get(kind, 2.4)


def _along(edge: str, count: int, plan: Plan, inward: float) -> Iterator[tuple[float, float, bool]]:
    reach = 0.5 - 0.5 / (count + 1) if count > 1 else 0.0
    upright = edge in ("left", "right")
    sign = -1 if edge in ("left", "top") else 1
    for number in range(count):
        share = 0.0 if count == 1 else reach * (2 * number / (count - 1) - 1)
        if upright:
            yield plan.x + sign * (plan.width / 2 - inward), plan.y + share * plan.height, True
        else:
            yield plan.x + share * plan.width, plan.y + sign * (plan.height / 2 - inward), False


def _lying(x: float, y: float, long: float, deep: float, upright: bool) -> str:
    """A box or line around a middle, along an edge."""
    width, height = (deep, long) if upright else (long, deep)
    return box(x - width / 2, y - height / 2, width, height)


def _circle(x: float, y: float, radius: float) -> str:
    return Plan(x, y, 2 * radius, 2 * radius, radius, 1.0).path()


def _pair(x: float, y: float) -> tuple[Coordinates, Coordinates]:
    return Coordinates(paper(x)), Coordinates(paper(y))


def _at(start: str, *numbers: float) -> Coordinates:
    return Coordinates(" ".join([start, *map(paper, numbers)]))
