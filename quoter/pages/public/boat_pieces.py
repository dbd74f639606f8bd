"""What stands on a boat and what is fitted to it, as paths in its profile and its plan."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.pages.public.hull_lines import GUNWALE, Block, Lines, Pen, Point, rounded, spelt

ROUND = 0.12  # metres: the radius of what has no outline of its own
PILLAR = 0.95  # metres, about, from one pillar between windows to the next
ROOF = 0.07  # metres: as thick as a roof is drawn
OVERHANG = 0.12  # metres: of a roof before and behind
STANCHION = 0.9  # metres, about, from one stanchion of a rail to the next
LOW = 0.8  # metres; what is lower is a trunk, and has no roof that stands out
STATIONS = 5  # between which a cockpit's edge is straight
SIDE_DECK = 0.16  # metres that are left of the deck beside what stands on it


@dataclass(frozen=True, slots=True)
class Spot:
    """Where something is fitted [m]: from the transom, from the centreline with starboard above
    zero, and the height of its lower edge above the waterline.

    `faces` is `side`, `aft` or `up`; width and height are those of its outline, none where it has
    no public one.
    """

    at: float
    across: float
    height: float
    faces: str
    outline: tuple[float, float, float] | None = None


def house_profile(block: Block, pen: Pen) -> str:
    """A house seen from the side: its walls, closed, or the windscreen and posts of an open one."""
    if block.open_aft:
        screen = [
            (block.fore, block.bottom),
            (block.fore - block.lean, block.top),
            (block.fore - block.lean - 0.12, block.top),
            (block.fore - 0.5, block.bottom),
        ]
        post = block.aft + 0.15
        return rounded(screen, 0.02, pen.profile) + (
            f"M{pen.profile(post, block.bottom)}L{pen.profile(post, block.top)}"
            f"L{pen.profile(post + 0.08, block.top)}L{pen.profile(post + 0.08, block.bottom)}Z"
        )
    return rounded(_walls(block), 0.1, pen.profile)


def _walls(block: Block) -> list[Point]:
    return [
        (block.aft, block.foot),
        (block.aft + 0.05, block.top),
        (block.fore - block.lean, block.top),
        (block.fore, block.bottom),
        (block.fore, block.foot),
    ]


def roof(block: Block, pen: Pen) -> str:
    """The roof of a house that people stand in, seen from the side; closed."""
    if not (block.windows or block.open_aft) or block.top - block.bottom < LOW:
        return ""
    aft, fore = block.aft - OVERHANG, block.fore - block.lean + OVERHANG
    corners = [(aft, block.top - ROOF / 2), (aft, block.top + ROOF / 2)]
    corners += [(fore, block.top + ROOF / 2), (fore, block.top - ROOF / 2)]
    return rounded(corners, ROOF / 2, pen.profile)


def windows(block: Block, pen: Pen, seen_from: float) -> str:
    """The windows in its side, between pillars, as far as they are above what hides them."""
    if not block.windows:
        return ""
    low = max(block.bottom, seen_from)
    height = block.top - low
    sill, head = low + 0.34 * height, block.top - 0.16 * height

    def fore_end(at: float) -> float:
        share = (at - block.bottom) / (block.top - block.bottom)
        return block.fore - block.lean * share - 0.09

    # An open one is glazed along the fore half of its sides.
    aft = (block.aft + block.fore) / 2 if block.open_aft else block.aft + 0.16
    count = max(1, round((fore_end(head) - aft) / PILLAR))
    wide = (fore_end(head) - aft + 0.07) / count
    found = []
    for number in range(count):
        start = aft + number * wide
        last = number == count - 1
        end = start + wide - 0.07
        corners = [(start, sill), (start, head), (fore_end(head) if last else end, head)]
        corners.append((fore_end(sill) if last else end, sill))
        found.append(rounded(corners, 0.05, pen.profile))
    return "".join(found)


def house_plan(block: Block, lines: Lines, pen: Pen) -> str:
    """A house seen from above, and the line where its windscreen meets the roof."""
    aft = _beside(lines, block.aft, block.width)
    fore = min(_beside(lines, block.fore, block.width), 0.86 * aft)
    corners = [(block.aft, -aft), (block.fore, -fore), (block.fore, fore), (block.aft, aft)]
    found = rounded(corners, 0.22, pen.plan)
    if block.lean > GUNWALE:
        share = block.lean / (block.fore - block.aft)
        across = 0.9 * (fore + (aft - fore) * share)
        head = block.fore - block.lean
        found += f"M{pen.plan(head, -across)}Q{pen.plan(head + 0.12, 0)} {pen.plan(head, across)}"
    return found


def _beside(lines: Lines, at: float, width: float) -> float:
    """Half a width, as far as the deck leaves room for it."""
    return max(0.1, min(width / 2, lines.half(at) - GUNWALE - SIDE_DECK))


def cockpit(lines: Lines, pen: Pen) -> str:
    """The recess in the deck, seen from above; closed."""
    if lines.cockpit is None:
        return ""
    aft, fore, width = lines.cockpit
    stations = [aft + (fore - aft) * number / STATIONS for number in range(STATIONS + 1)]
    side = [(at, _beside(lines, at, width)) for at in stations]
    corners = [(at, -across) for at, across in side] + side[::-1]
    return rounded(corners, 0.16, pen.plan)


def rail(lines: Lines, pen: Pen) -> str:
    """The rail on the deck's edge, seen from the side."""
    if lines.rail is None:
        return ""
    aft, fore, height = lines.rail
    count = max(2, round((fore - aft) / STANCHION))
    posts = [aft + (fore - aft) * number / count for number in range(count + 1)]
    # The after end slopes up to the first stanchion; the fore end leans over the stem.
    tops = [(at + 0.06, lines.edge(at) + height) for at in posts[1:]]
    line = f"M{pen.profile(aft, lines.edge(aft))}L"
    line += "L".join(pen.profile(*top) for top in tops)
    stands = (
        f"M{pen.profile(at, lines.edge(at))}L{pen.profile(*top)}"
        for at, top in zip(posts[1:], tops, strict=True)
    )
    return line + "".join(stands)


def mark_profile(spot: Spot, lines: Lines, pen: Pen) -> str:
    """What is fitted, seen from the side."""
    if spot.outline is None:
        return _round(pen.profile(spot.at, spot.height))
    width, height, radius = spot.outline
    if spot.faces == "side":
        return _upright(spot, width, height, radius, pen)
    if spot.faces == "aft":
        low, high = spot.height, spot.height + height
        return (
            f"M{pen.profile(_abaft(spot, lines, low), low)}"
            f"L{pen.profile(_abaft(spot, lines, high), high)}"
        )
    start, end = spot.at - height / 2, spot.at + height / 2
    return f"M{pen.profile(start, spot.height)}L{pen.profile(end, spot.height)}"


def _abaft(spot: Spot, lines: Lines, height: float) -> float:
    """What is in the transom leans as that does."""
    return lines.transom_at(height) if spot.at == 0 else spot.at


def _upright(spot: Spot, width: float, height: float, radius: float, pen: Pen) -> str:
    low, high = spot.height, spot.height + height
    start, end = spot.at - width / 2, spot.at + width / 2
    corners = [(start, low), (start, high), (end, high), (end, low)]
    return rounded(corners, radius, pen.profile)


def mark_plan(spot: Spot, lines: Lines, pen: Pen) -> str:
    """What is fitted, seen from above."""
    if spot.outline is None:
        return _round(pen.plan(spot.at, spot.across))
    width, height, radius = spot.outline
    if spot.faces == "side":
        side = -1 if spot.across < 0 else 1
        ends = (spot.at - width / 2, spot.at + width / 2)
        one, other = (pen.plan(at, side * lines.half(max(at, 0.0))) for at in ends)
        return f"M{one}L{other}"
    start, end = spot.across - width / 2, spot.across + width / 2
    if spot.faces == "aft":
        return f"M{pen.plan(spot.at, start)}L{pen.plan(spot.at, end)}"
    aft, fore = spot.at - height / 2, spot.at + height / 2
    return rounded([(aft, start), (fore, start), (fore, end), (aft, end)], radius, pen.plan)


def _round(middle: str) -> str:
    """A small round mark about a place: two half circles."""
    across, down = map(float, middle.split())
    size, wide = spelt(100 * ROUND), spelt(200 * ROUND)
    half = f"a{size} {size} 0 0 1"
    return f"M{spelt(across - 100 * ROUND)} {spelt(down)}{half} {wide} 0{half} -{wide} 0Z"


def scale_bar(length: float, left: float, down: float) -> str:
    """A bar of a length [m], parted in four, from a point [cm]; the inner boxes are for filling."""
    quarter = 25 * length

    def box(number: float, wide: float) -> str:
        start = f"M{spelt(left + number * quarter)} {spelt(down)}"
        return f"{start}h{spelt(wide)}v-10h{spelt(-wide)}Z"

    return box(0, 4 * quarter) + box(0, quarter) + box(2, quarter)
