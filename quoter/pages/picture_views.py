"""What is drawn on a shop paper: pieces on their roll, a part with its zones, and amounts beside.

As in `paper_views`, nothing here can hold money.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Amount:
    """A number in the unit that its reader has it in, with as many decimals as it is shown with.

    `beside` is the same in another unit, where both are read; `spelt` what a tape measure says of a
    number that was written with a fraction.
    """

    value: Decimal
    unit: str
    digits: int
    beside: Amount | None = None
    spelt: str = ""


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """A piece, or what of it lies in a row, in millimetres of paper from the row's corner.

    `letters` is the height of its number, None where there is no room for one.
    """

    number: int
    x: Decimal
    y: Decimal
    width: Decimal
    height: Decimal
    middle: tuple[Decimal, Decimal]
    upright: bool
    letters: Decimal | None


@dataclass(frozen=True, slots=True)
class DrawnRow:
    """A length of roll as it is drawn, in millimetres of paper.

    `marks` stand along it, their words at `foot`; `sheet` is the picture's size with them.
    """

    start: str
    end: str
    width: Decimal
    height: Decimal
    foot: Decimal
    sheet: tuple[Decimal, Decimal]
    pieces: tuple[DrawnPiece, ...]
    marks: tuple[tuple[Decimal, Decimal, str], ...]
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Band:
    """A strip along the edge: as a path of the plan or of the section, filled with a hatch."""

    plan: str
    section: str
    hatch: int


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension line as a path, and at (x, y) what it measures; `sign` comes before the amount.

    `anchor` is the end of the words that stands there, as SVG calls it.
    """

    path: str
    x: str
    y: str
    anchor: str
    sign: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Mark:
    """A letter at (x, y) of a drawing."""

    x: str
    y: str
    letter: str


@dataclass(frozen=True, slots=True)
class DrawnZone:
    """A zone, or a gelcoated face: its letter in the drawing, and where it lies.

    `lies` is inside, outside or upright of a strip that is `size` wide; "whole" all over the part;
    "area" or "share" where only its size is stated. What has no place in the drawing has no letter.
    """

    letter: str
    name: str
    is_face: bool
    lies: str
    size: Amount | None


@dataclass(frozen=True, slots=True)
class Drawing:
    """A part in plan with its zones, and a section through its edge where strips run along it.

    Lengths are millimetres of paper. `sides` are width, height and corner radius, or a diameter;
    `scale` is how many times smaller the plan is than the part, `edge_scale` the section. Where
    its area or edge was measured by itself the outline is not known: `true` is then false.
    """

    round: bool
    sides: tuple[Amount, ...]
    width: str
    height: str
    outline: str
    bands: tuple[Band, ...]
    uprights: bool
    dimensions: tuple[Dimension, ...]
    marks: tuple[Mark, ...]
    zones: tuple[DrawnZone, ...]
    scale: int
    edge_scale: int | None
    edge: str
    edge_x: str
    edge_y: str
    true: bool
