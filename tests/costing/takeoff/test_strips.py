"""Strips along an edge, through the take-off of a catalogue's part: each corner once."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from quoter.figures.graph import in_order
from quoter.problems import CatalogueError
from tests.costing.takeoff.square import figure, part_in, written

EXACT = 1e-12
SIDES = "{width: 800 mm, height: 600 mm}"
ROUNDED = "{width: 800 mm, height: 600 mm, corner_radius: 90 mm}"
ROUND = "{diameter: 500 mm}"
BY_HAND = "{area: 0.48 m2, perimeter: 2.8 m}"


def stripped(shape: str, strip: str) -> str:
    return f"""\
open_mould:
  - id: square
    name: Square
    shape: {shape}
    resin: resin
    zones:
      - {{name: rim, laminate: stack, strip: {strip}}}
"""


# Derived: the whole less what is within the strip; that of a circle is a ring.
AREAS = [
    (SIDES, "60 mm", 0.48 - 0.68 * 0.48),
    (SIDES, "300 mm", 0.48),
    (ROUNDED, "60 mm", 0.48 - (4 - math.pi) * 0.09**2 - (0.68 * 0.48 - (4 - math.pi) * 0.03**2)),
    (ROUNDED, "120 mm", 0.48 - (4 - math.pi) * 0.09**2 - 0.56 * 0.36),
    (ROUND, "50 mm", math.pi / 4 * (0.5**2 - 0.4**2)),
    (ROUND, "250 mm", math.pi / 4 * 0.5**2),
    (BY_HAND, "60 mm", 2.8 * 0.06 - math.pi * 0.06**2),
    (SIDES, "160 mm, lies: upright", 2.8 * 0.16),
    (SIDES, "100 mm, lies: outside", 2.8 * 0.1 + math.pi * 0.1**2),
    (SIDES, "400 mm, lies: outside", 2.8 * 0.4 + math.pi * 0.4**2),
    (SIDES, "60 mm, lies: inside", 0.48 - 0.68 * 0.48),
]


@pytest.mark.parametrize(("shape", "strip", "area"), AREAS)
def test_a_strip_counts_each_corner_once(
    tmp_path: Path, shape: str, strip: str, area: float
) -> None:
    part = part_in(written(tmp_path / "c", stripped(shape, strip)))
    assert figure(part, ".zone1.area").value == pytest.approx(area, rel=1e-9)
    assert [limit.holds.value for limit in part.recipe.limits] == [1.0] * len(part.recipe.limits)


def test_a_gelcoated_strip_counts_each_corner_once(tmp_path: Path) -> None:
    coated = """\
open_mould:
  - id: square
    name: Square
    shape: {width: 800 mm, height: 600 mm}
    gelcoat:
      - {colour: white, strip: 100 mm}
"""
    part = part_in(written(tmp_path / "c", coated))
    assert figure(part, ".face1.area").value == pytest.approx(2.8 * 0.1 - 4 * 0.01, rel=EXACT)


# Shape, width of a strip that covers some of it twice, and what is said to do.
TOO_WIDE = [
    (SIDES, "301 mm", "expected at most 300 mm, or 'lies: outside' or 'upright'"),
    (ROUND, "251 mm", "expected at most 250 mm, or 'lies: outside' or 'upright'"),
    (BY_HAND, "450 mm", "expected at most 445.6 mm, or 'lies: outside' or 'upright'"),
    (BY_HAND, "250 mm", "its 0.5037 m2 are more than the part's 0.48 m2"),
]


@pytest.mark.parametrize(("shape", "strip", "hint"), TOO_WIDE)
def test_a_strip_wider_than_its_part_is_told(
    tmp_path: Path, shape: str, strip: str, hint: str
) -> None:
    folder = written(tmp_path / "c", stripped(shape, strip))
    with pytest.raises(CatalogueError) as caught:
        part_in(folder)
    assert re.sub(r"^\S+ ", "", str(caught.value)).splitlines() == [
        f"a strip of {strip} along the inside of the edge of 'square' is wider than the part "
        "[does-not-fit]",
        f"    {hint}",
    ]


REST = """\
open_mould:
  - id: square
    name: Square
    shape: {shape}
    resin: resin
    zones:
      - {{name: rim, laminate: stack, {rim}}}
      - {{name: lap, laminate: stack, strip: 40 mm, lies: {lap}}}
      - {{name: field, laminate: stack, share: the rest}}
"""
# Derived: what is within a rim is a smaller rectangle or circle, or the whole less what is written.
RESTS = [
    (SIDES, "strip: 60 mm", 0.68 * 0.48),
    (ROUND, "strip: 50 mm", math.pi / 4 * 0.4**2),
    (BY_HAND, "area: 0.2 m2", 0.28),
    (SIDES, "share: 25 %", 0.36),
]


@pytest.mark.parametrize("lap", ["outside", "upright"])
@pytest.mark.parametrize(("shape", "rim", "area"), RESTS)
def test_the_rest_is_what_the_zones_within_the_part_leave(
    tmp_path: Path, shape: str, rim: str, area: float, lap: str
) -> None:
    part = part_in(written(tmp_path / "c", REST.format(shape=shape, rim=rim, lap=lap)))
    rest = figure(part, ".zone3.area")
    assert rest.value == pytest.approx(area, rel=1e-9)
    assert [limit.holds.value for limit in part.recipe.limits] == [1.0] * len(part.recipe.limits)
    keys = {each.key for each in in_order([rest])}
    assert {"part.square.zone1.area", "part.square.area"} <= keys
    assert "part.square.zone2.area" not in keys
