"""Shapes, losses, open-mould laminates and gelcoat against published and derived values."""

from __future__ import annotations

from quoter.engineering.gelcoat import film_mass
from quoter.engineering.geometry import (
    circle_area,
    circle_perimeter,
    outer_strip_area,
    rectangle_area,
    rectangle_perimeter,
    rest_of_area,
    rounded_strip_area,
    strip_area,
    upright_area,
    widest_strip,
    widest_strip_by_perimeter,
)
from quoter.engineering.laminate import (
    catalyst_mass,
    glass_mass,
    mixed_glass_content,
    overlap_factor,
    ply_thickness,
    resin_for_glass,
)
from quoter.engineering.losses import cut_from, issued, loss_from_waste_on_net, transfer_loss
from tests.checks import table
from tests.checks.table import Check

DEFINITION = "definition, by hand"
VOLUMES = "volume balance at 2.56 and 1.20 t/m3, the densities of ISO 12215-5 (from memory)"
MASSES = "mass balance, by hand"
ISO_CONTENT = "ISO 12215-5:2008, glass content by mass (from memory)"
SPECIFICATIONS = "GRP work specifications and small-craft building notes; common practice"
CLASS_RULES = "mat seams overlap at least 50 mm: a class society's FRP rules 2014, sec. 3"
TRADE_MAGAZINE = "15 to 35 mil is usual: trade-association magazine 2016; coverage by hand"

GLASS, RESIN = "2.56 t/m3", "1.20 t/m3"
# Areal mass, glass content, thickness and resin on a square metre.
PLIES = (
    ("0.450", "0.25", "1.3008", "1.3500"),
    ("0.450", "0.36", "0.8424", "0.8000"),
    ("0.600", "0.48", "0.7760", "0.6500"),
    ("0.800", "0.58", "0.7953", "0.5793"),
    ("0.800", "0.50", "0.9792", "0.8000"),
    ("1.250", "0.3952", "2.0824", "1.9130"),
    ("0.450", "0.30", "1.051", "1.05"),
)


def ply_checks() -> tuple[Check, ...]:
    rows = []
    for areal_mass, content, thickness, resin in PLIES:
        glass = (glass_mass, "1 m2", "1", f"{areal_mass} kg/m2")
        net = (resin_for_glass, glass, content)
        ply = (ply_thickness, f"{areal_mass} kg/m2", content, GLASS, RESIN)
        rows += [
            Check(ply, f"{thickness} mm", VOLUMES, "derived"),
            Check(net, f"{resin} kg", MASSES, "derived"),
        ]
    return tuple(rows)


# A rectangle of 3 m by 2 m less the one within the strip, 2 m by 1 m with sharp corners.
WITHIN = "area of the rectangle less that within the strip, by hand"
STEINER = "Steiner's formula for parallel curves (from memory); by hand"
EDGE = (rectangle_perimeter, "3 m", "2 m", "0.5 m")
SHARPER = (rectangle_perimeter, "3 m", "2 m", "0.25 m")

MIXED = (mixed_glass_content, "0.36", "0.46", "0.18")
CHECKS = (
    *ply_checks(),
    Check((resin_for_glass, "1 kg", "0.286"), "2.5 kg", SPECIFICATIONS, "published"),
    Check(MIXED, "0.3952", ISO_CONTENT, "from memory", exact=True),
    Check((mixed_glass_content, "0.5", "0.35", "0.11"), "0.295", ISO_CONTENT, "from memory", True),
    Check((mixed_glass_content, "0.5", "0.56", "0.22"), "0.45", ISO_CONTENT, "from memory", True),
    Check((resin_for_glass, "1.250 kg", MIXED), "1.9130 kg", ISO_CONTENT, "from memory"),
    Check((overlap_factor, "1.25 m", "50 mm"), "1.0417", CLASS_RULES, "derived"),
    Check((overlap_factor, "1.25 m", "75 mm"), "1.0638", CLASS_RULES, "derived"),
    Check((overlap_factor, "1.25 m", "100 mm"), "1.0870", CLASS_RULES, "derived"),
    Check((glass_mass, "6 m2", "1.25", "1.5 oz/ft2"), "3.43296 kg", MASSES, "derived"),
    Check((cut_from, "1.5 kg", "75 %"), "2 kg", MASSES, "derived", exact=True),
    Check((catalyst_mass, "100 kg", "1 %"), "1 kg", SPECIFICATIONS, "derived", exact=True),
    Check((catalyst_mass, "100 kg", "2 %"), "2 kg", SPECIFICATIONS, "derived", exact=True),
    Check((film_mass, "1 m2", "0.5 mm", "1.25 t/m3"), "0.625 kg", MASSES, "derived", True),
    Check((film_mass, "1.6 m2", "0.5 mm", "1.25 t/m3"), "1.0 kg", SPECIFICATIONS, "published"),
    Check((film_mass, "1604.17 ft2", "1 mil", "1 lb/gal"), "1.0000 lb", MASSES, "derived"),
    Check((film_mass, "106.94 ft2", "15 mil", "1 lb/gal"), "1.0000 lb", TRADE_MAGAZINE, "derived"),
    Check((film_mass, "80.21 ft2", "20 mil", "1 lb/gal"), "1.0000 lb", TRADE_MAGAZINE, "derived"),
    Check((issued, "100 kg", "20 %"), "125 kg", MASSES, "derived", exact=True),
    Check((loss_from_waste_on_net, "25 %"), "20 %", MASSES, "derived", exact=True),
    Check((issued, "3 kg", (transfer_loss, "75 %")), "4 kg", MASSES, "derived", exact=True),
    Check((rectangle_area, "3 m", "2 m", "0 m"), "6 m2", DEFINITION, "derived", exact=True),
    Check((rectangle_area, "3 m", "2 m", "0.5 m"), "5.785398 m2", DEFINITION, "derived"),
    Check((rectangle_perimeter, "3 m", "2 m", "0.5 m"), "9.141593 m", DEFINITION, "derived"),
    Check((strip_area, "10 m", "0.5 m", "0 m"), "4 m2", WITHIN, "derived", exact=True),
    Check((strip_area, EDGE, "0.5 m", "0.5 m"), "3.785398 m2", WITHIN, "derived"),
    Check((strip_area, EDGE, "0.25 m", "0.5 m"), "2.089049 m2", WITHIN, "derived"),
    Check((strip_area, SHARPER, "0.5 m", "0.25 m"), "3.946350 m2", WITHIN, "derived"),
    Check(
        (rounded_strip_area, (circle_perimeter, "2 m"), "0.25 m"), "1.374447 m2", WITHIN, "derived"
    ),
    Check((rounded_strip_area, (circle_perimeter, "2 m"), "1 m"), "3.141593 m2", WITHIN, "derived"),
    Check((outer_strip_area, (circle_perimeter, "2 m"), "1 m"), "9.424778 m2", STEINER, "derived"),
    Check((upright_area, "10 m", "0.5 m"), "5 m2", DEFINITION, "derived", exact=True),
    # Within a strip of 0.5 m along the edge of 3 m by 2 m is a rectangle of 2 m by 1 m.
    Check(
        (rest_of_area, "6 m2", (strip_area, "10 m", "0.5 m", "0 m")),
        "2 m2",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check((widest_strip, "3 m", "2 m"), "1 m", DEFINITION, "derived", exact=True),
    Check((widest_strip_by_perimeter, (circle_perimeter, "2 m")), "1 m", DEFINITION, "derived"),
    Check((circle_area, "2 m"), "3.141593 m2", DEFINITION, "derived"),
    Check((circle_perimeter, "2 m"), "6.283185 m", DEFINITION, "derived"),
)


@table.each(CHECKS)
def test_laminate(check: Check) -> None:
    table.verify(check)
