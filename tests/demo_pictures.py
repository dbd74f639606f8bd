"""`python3 -m tests.demo_pictures`: draw the demonstration's pictures anew.

They stand in demo_catalog/pictures/ as a yard's own photographs would. All in them is invented, and
they are plainly drawings. No test compares their bytes: each version of Pillow draws edges its own
way.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from PIL import Image, ImageDraw

PICTURES = Path(__file__).resolve().parent.parent / "demo_catalog" / "pictures"
WIDTH, HEIGHT = 1600, 1000
FINER = 2  # drawn so many times as large, so that edges are smooth

Point = tuple[float, float]
Colour = tuple[int, int, int]
Placed = Callable[[float, float], Point]  # of metres from the transom and above the water

DUSK: tuple[Colour, ...] = ((122, 158, 184), (190, 206, 208), (240, 222, 196))
SEA: tuple[Colour, ...] = ((176, 196, 200), (86, 124, 142), (44, 78, 98))
HILLS: tuple[Colour, ...] = ((142, 166, 178), (104, 134, 148))
STONE: tuple[Colour, ...] = ((126, 122, 116), (104, 101, 97), (86, 84, 82))
WHITE: Colour = (244, 244, 238)
SHADE: Colour = (206, 212, 212)
NAVY: Colour = (28, 58, 86)
GLASS: Colour = (48, 70, 84)
STEEL: Colour = (150, 160, 166)
TEAK: Colour = (176, 132, 92)
ROPE: Colour = (226, 210, 178)


class Sheet:
    """A large sheet to draw on; places are told in the picture's own pixels."""

    def __init__(self) -> None:
        """Begin with nothing on it."""
        self.image = Image.new("RGB", (WIDTH * FINER, HEIGHT * FINER))
        self.draw = ImageDraw.Draw(self.image)

    def shape(self, points: Iterable[Point], colour: Colour) -> None:
        """A filled outline."""
        self.draw.polygon([(x * FINER, y * FINER) for x, y in points], fill=colour)

    def line(self, points: Iterable[Point], colour: Colour, width: float) -> None:
        """A stroke with round joints."""
        at = [(x * FINER, y * FINER) for x, y in points]
        self.draw.line(at, fill=colour, width=round(width * FINER), joint="curve")

    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        """A filled circle."""
        x, y, r = centre[0] * FINER, centre[1] * FINER, radius * FINER
        self.draw.ellipse((x - r, y - r, x + r, y + r), fill=colour)

    def box(self, box: tuple[float, float, float, float], round_by: float, colour: Colour) -> None:
        """A filled rectangle with round corners: left, top, right, bottom."""
        at = tuple(each * FINER for each in box)
        self.draw.rounded_rectangle(at, round_by * FINER, fill=colour)

    def fade(self, top: float, bottom: float, colours: Sequence[Colour]) -> None:
        """Colours one into the other, from top to bottom over the whole width."""
        first, last = round(top * FINER), round(bottom * FINER)
        for y in range(first, last):
            share = (y - first) / (last - first) * (len(colours) - 1)
            at = min(int(share), len(colours) - 2)
            colour = mixed(colours[at], colours[at + 1], share - at)
            self.draw.line(((0, y), (WIDTH * FINER, y)), fill=colour)

    def save(self, name: str) -> None:
        """Made as small as it is told, and written."""
        small = self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)
        small.save(PICTURES / name, "JPEG", quality=88, optimize=True)


def mixed(one: Colour, other: Colour, share: float) -> Colour:
    """A colour between two."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(one, other, strict=True))
    return red, green, blue


def curve(points: Sequence[Point], steps: int = 24) -> list[Point]:
    """A smooth line through points (Catmull and Rom's)."""
    ends = [points[0], *points, points[-1]]
    found = []
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for step in range(steps):
            t = step / steps
            found.append(
                tuple(
                    0.5 * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t**2)
                    + 0.5 * (3 * q - p - 3 * r + s) * t**3
                    for p, q, r, s in zip(a, b, c, d, strict=True)
                )
            )
    return [*[(x, y) for x, y in found], points[-1]]


def harbour(sheet: Sheet, horizon: float) -> None:
    """Sky, hills and water."""
    sheet.fade(0, horizon, DUSK)
    sheet.disc((1180, horizon - 120), 46, (250, 236, 208))
    for hill, colour, high, long in ((0, HILLS[0], 74, 410), (1, HILLS[1], 42, 300)):
        ridge = [
            (x, horizon - high * (0.55 + 0.3 * math.sin(x / long + hill) + 0.15 * math.sin(x / 97)))
            for x in range(-10, WIDTH + 20, 10)
        ]
        sheet.shape([(-10, horizon), *ridge, (WIDTH + 10, horizon)], colour)
    sheet.fade(horizon, HEIGHT, SEA)


def ripples(sheet: Sheet, top: float, colour: Colour, share: float = 1.0) -> None:
    """Light on the water: short level strokes, wider and farther apart toward the eye."""
    y, count = top, 0
    while y < HEIGHT:
        depth = (y - top) / (HEIGHT - top)
        for each in range(7):
            x = (each * 271 + count * 149) % (WIDTH + 200) - 100
            long = (24 + 120 * depth) * (0.5 + (each * 37 + count * 53) % 11 / 11) * share
            sheet.line(((x, y), (x + long, y)), colour, 1 + 2.2 * depth)
        y += 9 + 22 * depth
        count += 1


def cabin_boat() -> None:
    """The cabin boat alongside, seen from starboard."""
    sheet = Sheet()
    horizon, water, scale, left = 470.0, 735.0, 124.0, 250.0

    def at(x: float, z: float) -> Point:
        return left + x * scale, water - z * scale

    harbour(sheet, horizon)
    ripples(sheet, horizon + 12, (150, 178, 188))
    quay = [(0, 640), (WIDTH, 640), (WIDTH, 712), (0, 712)]
    sheet.shape(quay, STONE[1])
    sheet.shape([(0, 622), (WIDTH, 622), (WIDTH, 644), (0, 644)], STONE[0])
    for seam in range(-40, WIDTH, 118):
        sheet.line(((seam, 644), (seam, 712)), STONE[2], 3)
    sheet.line(((0, 678), (WIDTH, 678)), STONE[2], 3)
    for x in (120.0, 1490.0):
        sheet.box((x - 15, 584, x + 15, 626), 6, (58, 62, 66))
        sheet.box((x - 23, 578, x + 23, 594), 8, (70, 74, 78))
    sheer = curve([at(0.0, 1.02), at(2.2, 1.0), at(4.6, 1.12), at(6.8, 1.38), at(8.6, 1.72)])
    stem = curve([at(8.6, 1.72), at(8.28, 0.9), at(7.85, 0.0)])
    hull = [*sheer, *stem, at(0.22, 0.0)]
    mirror = [(x, 2 * water - y) for x, y in hull]
    sheet.shape(mirror, (96, 126, 140))
    house(sheet, at)
    sheet.shape(hull, WHITE)
    lower = curve([at(0.13, 0.45), at(3.0, 0.4), at(6.0, 0.5), at(8.13, 0.62)])
    sheet.shape([*lower, at(7.85, 0.0), at(0.22, 0.0)], SHADE)
    strake = [(x, y + 20) for x, y in sheer]
    sheet.line(strake, NAVY, 13)
    boot = [at(0.2, 0.13), at(7.92, 0.13), at(7.85, 0.0), at(0.22, 0.0)]
    sheet.shape(boot, NAVY)
    for x in (5.6, 6.35):
        sheet.box((*at(x, 0.95), *at(x + 0.42, 0.78)), 10, GLASS)
    fittings(sheet, at)
    ripples(sheet, water + 14, (122, 152, 164), 0.8)
    sheet.save("weekender.jpg")


def house(sheet: Sheet, place: Placed) -> None:
    """The wheelhouse and the cabin before it, down to below the deck."""
    trunk = curve([place(4.6, 1.78), place(6.1, 1.84), place(7.0, 1.66), place(7.45, 1.4)])
    sheet.shape([place(4.3, 0.9), *trunk, place(7.4, 0.9)], WHITE)
    sheet.shape([place(4.3, 0.9), place(4.3, 1.3), place(7.4, 1.42), place(7.4, 0.9)], SHADE)
    sides = [place(2.35, 0.9), place(2.5, 2.62), place(4.45, 2.66), place(5.3, 1.78)]
    sheet.shape([*sides, place(5.3, 0.9)], WHITE)
    panes = (
        ((2.72, 2.42), (3.35, 2.44), (3.35, 1.72), (2.66, 1.7)),
        ((3.47, 2.44), (4.2, 2.46), (4.2, 1.75), (3.47, 1.72)),
        ((4.31, 2.46), (4.42, 2.46), (5.06, 1.8), (4.31, 1.76)),
    )
    for pane in panes:
        sheet.shape([place(x, z) for x, z in pane], GLASS)
        (x, z), (right, _) = pane[0], pane[1]
        glint = (x + 0.06, z - 0.08), (min(x + 0.3, right), z - 0.08), (x + 0.02, z - 0.55)
        sheet.shape([place(*each) for each in glint], (86, 112, 126))
    roof = curve([place(2.15, 2.62), place(3.4, 2.76), place(4.75, 2.68)])
    sheet.shape([*roof, place(4.75, 2.6), place(2.15, 2.56)], NAVY)
    for x, width in ((5.5, 0.5), (6.15, 0.42)):
        sheet.box((*place(x, 1.68), *place(x + width, 1.5)), 8, GLASS)


def fittings(sheet: Sheet, place: Placed) -> None:
    """Rails, mast, ropes and fenders."""
    rail = curve([place(5.4, 1.72), place(6.6, 1.96), place(8.62, 2.3)])
    sheet.line(rail, STEEL, 5)
    for x, foot, top in ((5.42, 1.2, 1.72), (6.2, 1.3, 1.86), (7.0, 1.42, 2.04), (7.8, 1.56, 2.18)):
        sheet.line((place(x, foot), place(x + 0.04, top)), STEEL, 4)
    sheet.line((place(8.52, 1.7), place(8.62, 2.3)), STEEL, 4)
    sheet.line((place(0.08, 1.02), place(0.02, 1.66), place(1.9, 1.7), place(1.95, 1.04)), STEEL, 5)
    sheet.line((place(1.0, 1.02), place(1.0, 1.68)), STEEL, 4)
    sheet.line((place(3.1, 2.74), place(3.0, 3.55)), STEEL, 6)
    sheet.shape([place(3.01, 3.5), place(3.03, 3.26), place(2.45, 3.36)], (196, 84, 62))
    for start, end in ((place(0.25, 1.0), (120.0, 600.0)), (place(8.35, 1.62), (1490.0, 600.0))):
        (x, y), (right, down) = start, end
        sheet.line(curve([start, ((x + right) / 2, (y + down) / 2 + 26), end]), ROPE, 5)
    for x in (1.3, 3.3, 5.0):
        left, top = place(x, 0.86)
        sheet.line((place(x + 0.09, 1.06), (left + 11, top)), ROPE, 3)
        sheet.box((left, top, left + 22, top + 66), 11, (60, 84, 106))


def side_door() -> None:
    """The door in the side, open, with the quay before it."""
    sheet = Sheet()
    harbour(sheet, 190)
    sheet.shape([(0, 250), (WIDTH, 214), (WIDTH, HEIGHT), (0, HEIGHT)], WHITE)
    sheet.shape([(0, 640), (WIDTH, 600), (WIDTH, HEIGHT), (0, HEIGHT)], SHADE)
    sheet.line(((0, 300), (WIDTH, 264)), NAVY, 30)
    sheet.line(((0, 250), (WIDTH, 214)), TEAK, 16)
    sheet.box((560, 232, 1060, 842), 46, (190, 198, 200))
    sheet.box((588, 236, 1032, 816), 30, (120, 136, 142))
    inside(sheet)
    sheet.shape([(588, 806), (1032, 806), (1046, 830), (574, 830)], STEEL)
    sheet.line(((590, 812), (1030, 812)), (206, 214, 218), 3)
    sheet.fade(930, HEIGHT, STONE)
    for x in range(-30, WIDTH, 230):
        sheet.line(((x, 930), (x - 40, HEIGHT)), STONE[2], 4)
    sheet.line(((0, 930), (WIDTH, 930)), (150, 146, 140), 8)
    sheet.save("side_door.jpg")


def inside(sheet: Sheet) -> None:
    """What the opening shows: sole, far side, and the door swung in on its hinges."""
    sheet.shape([(606, 250), (1014, 250), (1014, 640), (606, 640)], (214, 218, 216))
    sheet.shape([(606, 250), (1014, 250), (1014, 300), (606, 300)], (168, 190, 198))
    sheet.shape([(640, 470), (1014, 470), (1014, 640), (640, 640)], (188, 196, 196))
    sheet.shape([(640, 452), (1014, 452), (1014, 478), (640, 478)], TEAK)
    sheet.shape([(606, 640), (1014, 640), (1014, 800), (606, 800)], TEAK)
    for each in range(9):
        x = 606 + each * 51
        sheet.line(((810 + (x - 810) * 0.86, 640), (x, 800)), (132, 96, 66), 3)
    door = [(606, 252), (724, 300), (724, 700), (606, 796)]
    sheet.shape(door, (232, 234, 230))
    sheet.shape([(630, 330), (700, 352), (700, 652), (630, 712)], (208, 214, 214))
    for y in (350.0, 690.0):
        sheet.box((596, y, 624, y + 54), 6, STEEL)
        sheet.disc((610, y + 14), 4, (96, 106, 112))
        sheet.disc((610, y + 40), 4, (96, 106, 112))
    sheet.box((702, 486, 722, 536), 6, STEEL)
    sheet.box((1000, 486, 1018, 536), 5, STEEL)


def main() -> None:
    """Each of them."""
    PICTURES.mkdir(exist_ok=True)
    cabin_boat()
    side_door()


if __name__ == "__main__":
    main()
