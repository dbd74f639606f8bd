"""Glass, resin and time of what a gun sprays, through the take-off of a square metre."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.figures import Figure
from tests.costing.takeoff.square import figure, line, part_in, written

EXACT = 1e-12
GUN = (
    "  - {{id: gun, name: Gun roving, form: gun roving, areal_mass: 450 g/m2, glass_content: 30 %"
    "{more}}}\n"
)
SPRAYED = """\
open_mould:
  - id: square
    name: Square
    shape: {area: 1 m2, perimeter: 4 m}
    resin: resin
    zones:
      - {name: all, laminate: stack}
    nest_utilisation: 80 %
    operations:
      - name: Spray and roll out
        station: finishing
        uses: [skin, bulk]
        applied: atomised spray
        overspray: 10 %
        rates: {sprayed_mass: 0.5 min/kg, plies: 6 min/ply}
"""


def sprayed(
    folder: Path, plies: str = "{glass: gun}", resin: str = "", part: str = SPRAYED, gun: str = ""
) -> Path:
    """The square sprayed with roving; `gun` has further fields of that."""
    written(folder, part, plies=plies, resin=resin)
    for name, before, after in (
        ("materials.yaml", "glass:\n", f"glass:\n{GUN.format(more=gun)}"),
        ("prices/2026-01-01.csv", "resin,", "gun,supplier,1 USD/kg,\nresin,"),
    ):
        path = folder / name
        path.write_text(path.read_text("utf-8").replace(before, after, 1), "utf-8")
    return folder


def test_overspray_is_a_loss_of_what_is_issued_of_glass_and_resin(tmp_path: Path) -> None:
    """Derived: 0.45 kg of glass at 30 % with 1.05 kg of resin; a tenth of what is issued misses,
    and each material's own loss comes on top. Nothing is nested on a roll."""
    folder = sprayed(tmp_path / "c", gun=", loss: 4 %", resin="loss: 20 %")
    part = part_in(folder)
    glass, resin = line(part, "gun"), line(part, "resin")
    assert (glass.net.value, resin.net.value) == pytest.approx((0.45, 1.05), rel=EXACT)
    assert glass.issued.value == pytest.approx(0.45 / 0.9 / 0.96, rel=EXACT)
    assert resin.issued.value == pytest.approx(1.05 / 0.9 / 0.8, rel=EXACT)
    assert line(part, "peroxide").net.value == pytest.approx(0.02 * 1.05 / 0.9 / 0.8, rel=EXACT)
    assert part.mass.value == pytest.approx(1.5, rel=EXACT)


def test_a_thickness_says_how_much_glass_is_sprayed(tmp_path: Path) -> None:
    """Derived: 1.0508 mm at 30 % is 450 g/m2 of mat, by the form of ISO 12215-5 (from memory)."""
    part = part_in(sprayed(tmp_path / "c", "{glass: gun, thickness: 1.05078125 mm, layers: 2}"))
    assert line(part, "gun").net.value == pytest.approx(0.45, rel=1e-9)
    assert part.recipe.drivers["plies"].value == 2.0


def test_passes_of_the_gun_count_as_plies(tmp_path: Path) -> None:
    part = part_in(sprayed(tmp_path / "c", "{glass: gun, layers: 3}"))
    assert line(part, "gun").net.value == pytest.approx(3 * 0.45, rel=EXACT)
    assert part.recipe.drivers["plies"].value == 3.0


def _minutes(time: Figure) -> float:
    return time.value * 60


def test_the_gun_takes_time_by_what_leaves_it_and_roll_out_by_passes(tmp_path: Path) -> None:
    """By hand: 1.5 kg on the mould are 1.667 kg through the gun; half a minute each, and six
    minutes to roll out the one pass."""
    part = part_in(sprayed(tmp_path / "c"))
    assert figure(part, ".sprayed").value == pytest.approx(1.5 / 0.9, rel=EXACT)
    (step,) = part.operations
    assert _minutes(step.standard) == pytest.approx(0.5 * 1.5 / 0.9 + 6, rel=1e-9)


def test_what_is_sprayed_gives_off_by_how_it_is_sprayed_overspray_included(tmp_path: Path) -> None:
    """40 CFR 63 Subpart VVVV, Table 3: 45.24 kg a megagram at 28 % atomised, 45.59 at 35 % not."""
    for how, styrene, point in (("atomised", "28 %", 45.24), ("non-atomised", "35 %", 45.59)):
        text = SPRAYED.replace("applied: atomised", f"applied: {how}")
        folder = sprayed(tmp_path / how, resin=f"styrene: {styrene}", part=text)
        emission = line(part_in(folder), "resin").emission
        assert emission is not None
        assert emission.value / (1.05 / 0.9 / 1000) == pytest.approx(point, abs=0.005)


def test_mat_under_a_spray_of_resin_is_cut_from_a_roll(tmp_path: Path) -> None:
    """Resin misses the part, mat does not: it is nested; and it is on the cutting list alone."""
    plies = "{glass: mat_450, stage: skin}, {glass: gun}"
    part = part_in(sprayed(tmp_path / "c", plies))
    mat, roving = line(part, "mat_450"), line(part, "gun")
    assert mat.issued.value == pytest.approx(0.45 / 0.8, rel=EXACT)
    assert roving.issued.value == pytest.approx(0.45 / 0.9, rel=EXACT)
    assert (mat.area is None, roving.area is None) == (False, True)
    resins = {one.line.stage: one.line for one in part.materials if one.line.material == "resin"}
    assert {stage: one.issued.value for stage, one in resins.items()} == pytest.approx(
        {"skin": 1.05 / 0.9, "bulk": 1.05 / 0.9}, rel=EXACT
    )
