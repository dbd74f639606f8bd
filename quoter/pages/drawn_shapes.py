"""Outlines, dimension lines and scales, for drawings of parts: those of the yard, and public ones.

All lengths are millimetres of paper, unless they are said to be metres of the part.
"""

from __future__ import annotations

from dataclasses import dataclass

SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500)  # the reductions of ISO 5455
MM = 1000.0
TICK = 1.0  # of a dimension line: the oblique strokes at its ends


@dataclass(frozen=True, slots=True)
class Plan:
    """The outline on paper: its middle, sides and corner radius, and a metre's length there."""

    x: float
    y: float
    width: float
    height: float
    radius: float
    metre: float

    def path(self, out: float = 0.0) -> str:
        """The outline, or one as far outside it; inside, where that is negative."""
        width, height = self.width + 2 * out, self.height + 2 * out
        if width <= 0 or height <= 0:
            return ""
        radius = min(max(self.radius + out, 0.0), width / 2, height / 2)
        x, y = self.x - width / 2, self.y - height / 2
        corner = f"a{paper(radius)} {paper(radius)} 0 0 1"
        return (
            f"M{paper(x + radius)} {paper(y)}"
            f"h{paper(width - 2 * radius)}{corner} {paper(radius)} {paper(radius)}"
            f"v{paper(height - 2 * radius)}{corner} {paper(-radius)} {paper(radius)}"
            f"h{paper(2 * radius - width)}{corner} {paper(-radius)} {paper(-radius)}"
            f"v{paper(2 * radius - height)}{corner} {paper(radius)} {paper(-radius)}z"
        )


def scale_for(room: tuple[float, float], width: float, height: float) -> int:
    """The least reduction by which what is so large, in metres, has room."""
    needed = max(width * MM / room[0], height * MM / room[1])
    return next((scale for scale in SCALES if scale >= needed), SCALES[-1])


def dimension_line(x1: float, y1: float, x2: float, y2: float) -> str:
    """A line with a tick at either end."""
    ticks = "".join(
        f"M{paper(x - TICK)} {paper(y + TICK)}L{paper(x + TICK)} {paper(y - TICK)}"
        for x, y in ((x1, y1), (x2, y2))
    )
    return f"M{paper(x1)} {paper(y1)}L{paper(x2)} {paper(y2)}{ticks}"


def box(x: float, y: float, width: float, height: float) -> str:
    """A rectangle by its upper left corner."""
    return f"M{paper(x)} {paper(y)}h{paper(width)}v{paper(height)}h{paper(-width)}z"


def paper(number: float) -> str:
    """A coordinate to a hundredth of a millimetre, without a minus before nothing."""
    return f"{round(number, 2) + 0.0:g}"
