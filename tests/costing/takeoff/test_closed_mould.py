"""What a cavity takes and whether its mould can work, through the take-off of a panel."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from quoter.problems import CatalogueError
from tests.costing.takeoff.square import figure, line, part_in, written

EXACT = 1e-12
TWO_MATS = "{glass: mat_450, layers: 2}"
PANEL = """\
closed_mould:
  - id: square
    name: Square
    shape: {{area: 1 m2, perimeter: 4 m}}
    resin: resin
    zones:
      - {{name: all, laminate: stack, gap: {gap}}}
{more}    vacuum: {{flange_pressure: 90 kPa, flange_area: 0.12 m2,
             cavity_pressure: 50 kPa, cavity_area: 1 m2}}
"""


def panel(gap: str = "3 mm", more: str = "") -> str:
    return PANEL.format(gap=gap, more=more)


def test_resin_fills_what_the_fibre_leaves_of_the_cavity(tmp_path: Path) -> None:
    """Derived, volume balance at 2.56 and 1.20 t/m3: 3.0 mm of cavity and 0.90 kg of glass on a
    square metre take 3.178 kg of resin; fibre volume 0.1172, glass content 0.2207."""
    part = part_in(written(tmp_path / "c", panel(), plies=TWO_MATS))
    resin, glass = (line(part, material).net.value for material in ("resin", "mat_450"))
    assert glass == pytest.approx(0.90, rel=EXACT)
    assert resin == pytest.approx(3.178, abs=0.0005)
    assert figure(part, ".fibre_fraction").value == pytest.approx(0.1172, abs=5e-5)
    assert glass / (glass + resin) == pytest.approx(0.2207, abs=5e-5)


FACES = "    gelcoat:\n      - {colour: white}\n      - {colour: white}\n"
CURED = "transfer: 100 %\ncured_share: 80 %"


def test_gelcoat_on_both_faces_takes_its_room_of_the_gap(tmp_path: Path) -> None:
    """Derived: a gap is between the mould faces, so 3.8 mm with two films of 0.5 mm wet that cure
    to 0.4 mm leave the 3.0 mm of cavity that take 3.178 kg of resin with 0.90 kg of glass."""
    coated = written(tmp_path / "c", panel("3.8 mm", FACES), plies=TWO_MATS, gelcoat=CURED)
    part = part_in(coated)
    assert line(part, "resin").net.value == pytest.approx(3.178, abs=0.0005)
    assert figure(part, ".fibre_fraction").value == pytest.approx(0.1172, abs=5e-5)
    assert figure(part, ".films").value == pytest.approx(0.8e-3, rel=EXACT)
    bare = part_in(written(tmp_path / "b", panel("3 mm"), plies=TWO_MATS))
    thicker = figure(part, ".zone1.filled").value - figure(bare, ".zone1.filled").value
    assert thicker == pytest.approx(0.8e-3, rel=1e-9)


def test_a_stack_that_fills_its_gap_has_no_room_for_gelcoat(tmp_path: Path) -> None:
    """Two mats lie 2.10 mm thick: in 2.7 mm they fit, and with two cured films they don't."""
    bare = written(tmp_path / "a", panel("2.7 mm"), plies=TWO_MATS)
    assert figure(part_in(bare), ".zone1.filled").value == pytest.approx(2.1016e-3, abs=1e-6)
    coated = written(tmp_path / "b", panel("2.7 mm", FACES), plies=TWO_MATS, gelcoat=CURED)
    assert told(coated) == [
        "zone 'all' of 'square' holds 2.9 mm of plies, core and gelcoat in a gap of 2.7 mm "
        "[does-not-fit]"
    ]


def test_a_gelcoat_cures_to_85_percent_unless_it_says_otherwise(tmp_path: Path) -> None:
    """Common practice, no source."""
    part = part_in(written(tmp_path / "c", panel("3.8 mm", FACES), plies=TWO_MATS))
    assert figure(part, ".face1.cured").value == pytest.approx(0.425e-3, rel=EXACT)


def test_a_face_takes_room_by_its_own_area_and_thickness_everywhere(tmp_path: Path) -> None:
    """A second face of 40 % takes 40 % of a film's volume; where it lies there are two films."""
    faces = FACES.replace("white}\n", "white, share: 40 %}\n", 1)
    part = part_in(written(tmp_path / "c", panel("3.8 mm", faces), plies=TWO_MATS, gelcoat=CURED))
    assert figure(part, ".films").value == pytest.approx(1.4 * 0.4e-3, rel=EXACT)
    assert figure(part, ".zone1.filled").value == pytest.approx(2.1016e-3 + 0.8e-3, abs=1e-6)


def test_a_cavity_that_gelcoat_fills_has_no_room_for_fibre(tmp_path: Path) -> None:
    coat = "transfer: 100 %\ncured_share: 100 %"
    folder = written(tmp_path / "c", panel("1 mm", FACES), plies=TWO_MATS, gelcoat=coat)
    assert told(folder) == [
        "gelcoat and core leave nothing of the cavity of 'square' [does-not-fit]",
        "zone 'all' of 'square' holds 3.1 mm of plies, core and gelcoat in a gap of 1 mm "
        "[does-not-fit]",
    ]


def test_liquid_resin_fills_the_cavity_and_cured_resin_makes_the_thickness(tmp_path: Path) -> None:
    """The content of the ply says how thick it lies, not how much resin is injected."""
    found = []
    for content in ("25 %", "36 %"):
        folder = written(tmp_path / content[:2], panel(), plies=TWO_MATS, content=content)
        part = part_in(folder)
        found.append((line(part, "resin").net.value, figure(part, ".zone1.filled").value))
    (first, thick), (second, thin) = found
    assert first == second
    assert thin < thick


# Derived: t = (w / 3.072) (2.56 / content - 1.36) mm, the form of ISO 12215-5 (from memory).
THICKNESSES = [
    ("{glass: mat_450}", "25 %", 1.3008),
    ("{glass: mat_450}", "36 %", 0.8424),
    ("{glass: woven_600}", "48 %", 0.7760),
    ("{glass: woven_800}", "58 %", 0.7953),
    ("{glass: woven_800}", "50 %", 0.9792),
    ("{glass: mat_450}", "30 %", 1.051),
]


@pytest.mark.parametrize(("plies", "content", "millimetres"), THICKNESSES)
def test_a_ply_is_as_thick_as_its_content_says(
    tmp_path: Path, plies: str, content: str, millimetres: float
) -> None:
    """Two layers in a gap that just takes them, since a lone one would be rich in resin."""
    two = plies.replace("}", ", layers: 2}")
    part = part_in(written(tmp_path / "c", panel("2.7 mm"), plies=two, content=content))
    filled = figure(part, ".zone1.filled").value
    assert filled / 2 * 1000 == pytest.approx(millimetres, abs=0.0005)


def test_mat_and_woven_glass_by_the_mixed_rule_are_2_0824_mm(tmp_path: Path) -> None:
    """Derived, from a content of 0.3952 by 0.46 - 0.18 R (from memory, ISO 12215-5)."""
    rule = "mixed_content: {all_woven: 46 %, mat_slope: 18 %}"
    plies = "{glass: mat_450}, {glass: woven_800}"
    part = part_in(written(tmp_path / "c", panel(), plies=plies, laminate=rule))
    assert figure(part, ".zone1.filled").value * 1000 == pytest.approx(2.0824, abs=5e-5)


def test_a_shot_also_fills_gallery_and_catch_pot(tmp_path: Path) -> None:
    """Derived: (net + 0.65 kg) over 90 % are issued, and none of the rest stays in the panel."""
    more = "    gallery_and_catch_pot: 0.65 kg\n"
    part = part_in(written(tmp_path / "c", panel(more=more), plies=TWO_MATS, resin="loss: 10 %"))
    resin = line(part, "resin")
    assert resin.issued.value == pytest.approx((resin.net.value + 0.65) / 0.9, rel=EXACT)
    assert resin.mass.value == resin.net.value


def test_a_vacuum_clamps_with_its_pressure_on_its_area(tmp_path: Path) -> None:
    """Derived: 90 kPa on 0.12 m2 of flange are 10.8 kN, 50 kPa on a square metre 50 kN."""
    part = part_in(written(tmp_path / "c", panel(), plies=TWO_MATS))
    assert figure(part, ".clamp").value == pytest.approx(10_800.0 + 50_000.0, rel=EXACT)
    assert [limit.holds.value for limit in part.recipe.limits] == [1.0] * len(part.recipe.limits)


def told(folder: Path) -> list[str]:
    """What is said of a catalogue, without places and remedies."""
    with pytest.raises(CatalogueError) as caught:
        part_in(folder)
    return [re.sub(r"^\S+ ", "", line) for line in str(caught.value).splitlines()[::2]]


def test_more_than_the_atmosphere_can_not_be_drawn(tmp_path: Path) -> None:
    """Standard atmosphere, exact: 101.325 kPa, and no vacuum clamps with more."""
    at = panel().replace("90 kPa", "101.325 kPa")
    part_in(written(tmp_path / "a", at, plies=TWO_MATS))
    above = panel().replace("90 kPa", "101.4 kPa")
    with pytest.raises(CatalogueError, match=r"101\.4 kPa"):
        part_in(written(tmp_path / "b", above, plies=TWO_MATS))


def test_a_cavity_too_tight_or_too_wide_for_its_fibre_is_told(tmp_path: Path) -> None:
    tight = written(tmp_path / "a", panel("1.1 mm"), plies=TWO_MATS, content="60 %")
    assert told(tight) == ["fibre is 32.0% of the free volume of 'square' [fibre-fraction]"]
    wide = written(tmp_path / "b", panel("9 mm"), plies=TWO_MATS)
    assert told(wide) == ["fibre is 3.9% of the free volume of 'square' [fibre-fraction]"]


def test_each_zone_must_fit_its_own_gap(tmp_path: Path) -> None:
    """Two mats lie 2.1 mm thick: in 2.5 mm they fit, in 2.0 mm they don't."""
    zones = "    zones:\n      - {name: all, laminate: stack, gap: 3 mm}\n"
    two = (
        "    zones:\n"
        "      - {name: field, laminate: stack, area: 0.8 m2, gap: 2.5 mm}\n"
        "      - {name: rim, laminate: stack, area: 0.2 m2, gap: 2.0 mm}\n"
    )
    folder = written(tmp_path / "c", panel().replace(zones, two), plies=TWO_MATS)
    assert told(folder) == [
        "zone 'rim' of 'square' holds 2.1 mm of plies, core and gelcoat in a gap of 2 mm "
        "[does-not-fit]"
    ]
