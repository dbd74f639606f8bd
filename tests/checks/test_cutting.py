"""Cut sizes, laps and lengths of roll, by definition."""

from __future__ import annotations

from quoter.engineering.cutting import (
    cut_side,
    lapped_piece,
    lapped_pieces,
    loop_piece,
    loop_pieces,
    roll_mass,
    roll_utilisation,
    side_within,
    square_around,
    strip_cut_width,
    strip_length,
)
from quoter.engineering.geometry import outer_strip_area
from tests.checks import table
from tests.checks.table import Check

MARGINS = "definition: a margin on each edge that is trimmed"
LAPS = "definition: laps counted on a drawing; a closed strip has as many laps as lengths"
SQUARE = "definition: a square of side a cut at 45 degrees lies in one of side a times sqrt(2)"
MASSES = "definition of areal mass and of utilisation"
STEINER = "Steiner's formula; the middle line of a strip around a circle is pi (d + w)"

CHECKS = (
    Check((cut_side, "500 mm", "25 mm"), "550 mm", MARGINS, "derived", exact=True),
    Check((side_within, "720 mm", "60 mm"), "600 mm", MARGINS, "derived", exact=True),
    Check((strip_cut_width, "95 mm", "25 mm"), "120 mm", MARGINS, "derived", exact=True),
    Check(
        (strip_length, (outer_strip_area, "3.14159265 m", "0.1 m"), "0.1 m"),
        "3.456 m",
        STEINER,
        "derived",
    ),
    Check((loop_pieces, "3 m", "1.25 m", "50 mm"), "3", LAPS, "derived", exact=True),
    Check((loop_piece, "3 m", "3", "50 mm"), "1050 mm", LAPS, "derived", exact=True),
    Check((lapped_pieces, "2.45 m", "1.25 m", "50 mm"), "2", LAPS, "derived", exact=True),
    Check((lapped_pieces, "2.46 m", "1.25 m", "50 mm"), "3", LAPS, "derived", exact=True),
    Check((lapped_piece, "2.45 m", "2", "50 mm"), "1.25 m", LAPS, "derived", exact=True),
    Check((square_around, "1 m", "1 m"), "1.4142136 m", SQUARE, "derived"),
    Check((roll_utilisation, "5 m2", "5 m", "1.25 m"), "80 %", MASSES, "derived", exact=True),
    Check((roll_mass, "4 m", "1.25 m", "600 g/m2"), "3 kg", MASSES, "derived", exact=True),
)


@table.each(CHECKS)
def test_cutting(check: Check) -> None:
    table.verify(check)
