"""A boat's outlines as paths of SVG, in centimetres: its profile and its plan, and places on both.

Every length is to scale. The curves between measured places are plain ones (parabolas, and a cubic
for the deck's edge forward), chosen to look like a boat: no lines plan, and nothing to build from.
Proportions that the yard left out are common practice, without a source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

CENTIMETRES = 100.0
FULLNESS = 0.6  # of the deck's edge forward: 0 is a parabola to the stem, 1 a cubic
GUNWALE = 0.075  # metres from the deck's edge to the deck proper
BOOT = 0.07  # metres: the height of the boot stripe

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Block:
    """What stands on a boat [m]: from and to, measured from the transom, bottom and top above the
    waterline, its width, and how far the top of its fore end lies abaft the bottom; its walls go on
    down to the foot, behind the topsides."""

    aft: float
    fore: float
    foot: float
    bottom: float
    top: float
    width: float
    lean: float
    windows: bool
    open_aft: bool


@dataclass(frozen=True)
class Lines:
    """A boat's measures [m], lengths from the transom, heights from the waterline."""

    length: float
    beam: float
    stem: float
    transom: float
    least: float
    least_at: float
    draught: float
    stem_rake: float
    transom_rake: float
    transom_beam: float
    widest_at: float
    sole: float
    cockpit: tuple[float, float, float] | None = None
    blocks: tuple[Block, ...] = field(default=())
    rail: tuple[float, float, float] | None = None

    def edge(self, at: float) -> float:
        """How high the deck's edge is above the waterline: a parabola to either end."""
        if at < self.least_at or self.least_at == self.length:
            return self.least + (self.transom - self.least) * (1 - at / self.least_at) ** 2
        forward = (at - self.least_at) / (self.length - self.least_at)
        return self.least + (self.stem - self.least) * forward**2

    def half(self, at: float) -> float:
        """Half the width of the deck: a parabola abaft the widest place, before it a cubic that
        ends in a point at the stem."""
        widest, narrow = self.beam / 2, self.transom_beam / 2
        if at < self.widest_at or self.widest_at == self.length:
            return widest - (widest - narrow) * (1 - at / self.widest_at) ** 2
        forward = min((at - self.widest_at) / (self.length - self.widest_at), 1.0)
        return widest * (1 - (1 - FULLNESS) * forward**2 - FULLNESS * forward**3)

    def transom_at(self, height: float) -> float:
        """How far the face of the transom lies before its top, at a height."""
        foot = -0.8 * self.draught
        return self.transom_rake * (self.transom - height) / (self.transom - foot)

    @cached_property
    def top(self) -> float:
        """The highest place of all that is drawn."""
        rail = [self.edge(self.rail[1]) + self.rail[2]] if self.rail else []
        return max(self.stem, self.transom, *(block.top for block in self.blocks), *rail) + 0.1


class Pen:
    """Writes paths: points in metres to centimetres of a drawing, bow to the right or the left."""

    def __init__(self, lines: Lines, bow_left: bool) -> None:
        """Profile above, plan below it, so far apart that nothing touches."""
        self.lines, self.bow_left = lines, bow_left
        self.axis = (lines.top + lines.draught + 0.35 + lines.beam / 2) * CENTIMETRES

    def profile(self, at: float, height: float) -> str:
        """A place seen from the side."""
        return self._pair(at, (self.lines.top - height) * CENTIMETRES)

    def plan(self, at: float, across: float) -> str:
        """A place seen from above; to starboard counts up from the centreline."""
        # With the bow to the right, starboard is below the centreline; to the left, above it.
        down = -across if self.bow_left else across
        return self._pair(at, self.axis + down * CENTIMETRES)

    def _pair(self, at: float, down: float) -> str:
        right = self.lines.length - at if self.bow_left else at
        return f"{spelt(right * CENTIMETRES)} {spelt(down)}"


def spelt(number: float) -> str:
    """A number of a path, to a millimetre of the boat.

    >>> spelt(860.0), spelt(-0.04), spelt(792.48)
    ('860', '0', '792.5')
    """
    return f"{round(number, 1) + 0:.1f}".removesuffix(".0")


def topsides(lines: Lines, pen: Pen) -> str:
    """The hull above the waterline: deck's edge, stem, waterline, transom; closed."""
    return (
        f"M{pen.profile(0, lines.transom)}{_edge(lines, pen)}{_stem(lines, pen)}"
        f"L{pen.profile(lines.transom_at(0), 0)}Z"
    )


def _edge(lines: Lines, pen: Pen) -> str:
    middle = (lines.least_at + lines.length) / 2
    return (
        f"Q{pen.profile(lines.least_at / 2, lines.least)} "
        f"{pen.profile(lines.least_at, lines.least)}"
        f"Q{pen.profile(middle, lines.least)} {pen.profile(lines.length, lines.stem)}"
    )


def _stem(lines: Lines, pen: Pen) -> str:
    bend = pen.profile(lines.length - 0.38 * lines.stem_rake, 0.42 * lines.stem)
    return f"Q{bend} {pen.profile(lines.length - lines.stem_rake, 0)}"


def bottom(lines: Lines, pen: Pen) -> str:
    """The hull below the waterline; closed."""
    waterline, deep = lines.length - lines.stem_rake, lines.draught
    # The forefoot goes on in the direction of the stem until it is as deep as the keel.
    forefoot = waterline - min(0.62 * lines.stem_rake * deep / (0.42 * lines.stem), waterline / 3)
    keel = max(forefoot - 0.14 * lines.length, waterline / 3)
    return (
        f"M{pen.profile(lines.transom_at(0), 0)}L{pen.profile(waterline, 0)}"
        f"Q{pen.profile(forefoot, -deep)} {pen.profile(keel, -deep)}"
        f"L{pen.profile(lines.transom_at(-0.8 * deep), -0.8 * deep)}Z"
    )


def boot_stripe(lines: Lines, pen: Pen) -> str:
    """The stripe above the waterline; closed."""
    waterline = lines.length - lines.stem_rake
    share = BOOT / lines.stem
    ahead = waterline + lines.stem_rake * share * 1.3
    return (
        f"M{pen.profile(lines.transom_at(0), 0)}L{pen.profile(waterline, 0)}"
        f"L{pen.profile(ahead, BOOT)}L{pen.profile(lines.transom_at(BOOT), BOOT)}Z"
    )


def trim(lines: Lines, pen: Pen) -> str:
    """Lines on the topsides: the rubbing strake along the deck's edge, and the chine."""
    low = 0.12
    strake = (
        f"M{pen.profile(lines.transom_at(lines.transom - low), lines.transom - low)}"
        f"Q{pen.profile(lines.least_at / 2, lines.least - low)} "
        f"{pen.profile(lines.least_at, lines.least - low)}"
        f"Q{pen.profile((lines.least_at + lines.length) / 2, lines.least - low)} "
        f"{pen.profile(lines.length - 0.11 * lines.stem_rake, lines.stem - low)}"
    )
    rise = 0.28 * lines.stem
    chine = (
        f"M{pen.profile(lines.transom_at(0.12), 0.12)}"
        f"Q{pen.profile(0.6 * lines.length, 0.12)} "
        f"{pen.profile(lines.length - 0.85 * lines.stem_rake, 0.12 + rise)}"
    )
    return strake + chine


def deck_edge(lines: Lines, pen: Pen, inset: float = 0.0) -> str:
    """The deck seen from above, or a line within it as far from its edge; closed."""
    length, widest_at = lines.length, lines.widest_at
    ahead = length - 2.2 * inset
    widest, narrow = lines.beam / 2 - inset, lines.transom_beam / 2 - inset
    third = (ahead - widest_at) / 3
    fuller = widest * (1 - (1 - FULLNESS) / 3)

    def side(way: int) -> tuple[str, ...]:
        return (
            pen.plan(inset, way * narrow),
            pen.plan(inset + (widest_at - inset) / 2, way * widest),
            pen.plan(widest_at, way * widest),
            pen.plan(widest_at + third, way * widest),
            pen.plan(widest_at + 2 * third, way * fuller),
            pen.plan(ahead, 0),
        )

    one, other = side(-1), side(1)
    return (
        f"M{one[0]}Q{one[1]} {one[2]}C{one[3]} {one[4]} {one[5]}"
        f"C{other[4]} {other[3]} {other[2]}Q{other[1]} {other[0]}Z"
    )


def rounded(corners: Sequence[Point], radius: float, view: Callable[[float, float], str]) -> str:
    """A closed outline with its corners rounded, as one of a pen's views shows its points."""
    steps: list[str] = []
    for number, corner in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        start, end = _towards(corner, before, radius), _towards(corner, after, radius)
        steps.append(f"{'L' if steps else 'M'}{view(*start)}Q{view(*corner)} {view(*end)}")
    return "".join(steps) + "Z"


def _towards(one: Point, other: Point, far: float) -> Point:
    across, up = other[0] - one[0], other[1] - one[1]
    size = (across * across + up * up) ** 0.5 or 1.0
    share = min(far / size, 0.5)
    return one[0] + across * share, one[1] + up * share
