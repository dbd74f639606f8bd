"""Glass, resin and losses of a square metre, through the take-off of a catalogue's part."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.costing.takeoff.square import COATED, FOAM, OPEN, figure, line, part_in, written

EXACT = 1e-12
# From memory, ISO 12215-5:2008, glass content by mass of mat and woven glass, R the mat's share:
# 0.46 - 0.18 R by hand, simple; 0.35 - 0.11 R by hand, complex; 0.56 - 0.22 R under vacuum.
SIMPLE = "mixed_content: {all_woven: 46 %, mat_slope: 18 %}"
COMPLEX = "mixed_content: {all_woven: 35 %, mat_slope: 11 %}"
VACUUM = "mixed_content: {all_woven: 56 %, mat_slope: 22 %}"
MAT, WOVEN = "{glass: mat_450}", "{glass: woven_800}"

# Derived from the mass balance: kind of glass, content -> resin and laminate on a square metre.
PLIES = [
    ("mat_450", "25 %", 1.3500, 1.8000),
    ("mat_450", "36 %", 0.8000, 1.2500),
    ("woven_600", "48 %", 0.6500, 1.2500),
    ("woven_800", "58 %", 0.5793, 1.3793),
    ("woven_800", "50 %", 0.8000, 1.6000),
    ("mat_450", "30 %", 1.0500, 1.5000),
]


@pytest.mark.parametrize(("kind", "content", "resin", "laminate"), PLIES)
def test_a_ply_takes_the_resin_of_its_glass_content(
    tmp_path: Path, kind: str, content: str, resin: float, laminate: float
) -> None:
    part = part_in(written(tmp_path / "c", OPEN, content=content, plies=f"{{glass: {kind}}}"))
    assert line(part, "resin").net.value == pytest.approx(resin, abs=5e-5)
    assert part.mass.value == pytest.approx(laminate, abs=5e-5)
    assert line(part, kind).net.value == pytest.approx(laminate - resin, abs=1e-4)


def test_mat_by_hand_takes_two_and_a_half_times_its_mass_in_resin(tmp_path: Path) -> None:
    """GRP work specifications and small-craft building notes: a content of 0.286."""
    part = part_in(written(tmp_path / "c", OPEN, content="28.6 %"))
    assert line(part, "resin").net.value / 0.450 == pytest.approx(2.5, abs=0.005)


# Plies, rule, R, glass, content; from memory, ISO 12215-5:2008.
MIXED = [
    (f"{MAT}, {WOVEN}", SIMPLE, 0.36, 1.250, 0.3952),
    (
        "{glass: mat_450, layers: 2}, {glass: woven_800}",
        SIMPLE,
        0.9 / 1.7,
        1.700,
        0.46 - 0.162 / 1.7,
    ),
    ("{glass: mat_300, layers: 2}, {glass: woven_600}", COMPLEX, 0.5, 1.200, 0.295),
    ("{glass: mat_300, layers: 2}, {glass: woven_600}", VACUUM, 0.5, 1.200, 0.45),
    (MAT, SIMPLE, 1.0, 0.450, 0.28),
    (WOVEN, SIMPLE, 0.0, 0.800, 0.46),
]


@pytest.mark.parametrize(("plies", "rule", "share", "glass", "content"), MIXED)
def test_a_mixed_stack_has_one_content_by_the_share_of_mat(
    tmp_path: Path, plies: str, rule: str, share: float, glass: float, content: float
) -> None:
    part = part_in(written(tmp_path / "c", OPEN, plies=plies, laminate=rule))
    assert figure(part, ".zone1.mat_share").value == pytest.approx(share, rel=EXACT, abs=EXACT)
    assert figure(part, ".zone1.content").value == pytest.approx(content, rel=EXACT)
    resin = line(part, "resin").net.value
    assert resin == pytest.approx(glass * (1 - content) / content, rel=EXACT)
    assert glass / (glass + resin) == pytest.approx(content, rel=EXACT)


def test_mat_and_woven_glass_by_the_mixed_rule(tmp_path: Path) -> None:
    """450 g of mat and 800 g of woven glass: R 0.36, content 0.3952 (from memory, ISO 12215-5),
    hence 1.9130 kg of resin and 3.1630 kg of laminate on a square metre (derived)."""
    part = part_in(written(tmp_path / "c", OPEN, plies=f"{MAT}, {WOVEN}", laminate=SIMPLE))
    assert line(part, "resin").net.value == pytest.approx(1.9130, abs=5e-5)
    assert part.mass.value == pytest.approx(3.1630, abs=5e-5)


def test_stitched_glass_keeps_its_own_content_beside_the_rule(tmp_path: Path) -> None:
    """450 g of mat and 800 g of woven roving by 0.46 - 0.18 R, R 0.36; 1.2 kg of stitched glass at
    0.50, which ISO 12215-5:2008 gives multiaxial glass apart from the rule (all from memory)."""
    plies = f"{MAT}, {WOVEN}, {{glass: stitched_600, layers: 2, glass_content: 50 %}}"
    part = part_in(written(tmp_path / "c", OPEN, plies=plies, laminate=SIMPLE))
    assert figure(part, ".zone1.mat_share").value == pytest.approx(0.36, rel=EXACT)
    assert figure(part, ".zone1.ply3.resin").value == pytest.approx(1.2, rel=EXACT)
    assert line(part, "resin").net.value == pytest.approx(1.9130 + 1.2, abs=5e-5)


def test_mat_beside_stitched_glass_is_all_mat(tmp_path: Path) -> None:
    """R is 1 of mat alone, 0.28; the rule would make 0.31 of both, which stitched glass is not."""
    plies = f"{MAT}, {{glass: stitched_600, glass_content: 50 %}}"
    part = part_in(written(tmp_path / "c", OPEN, plies=plies, laminate=SIMPLE))
    resin = 0.450 * 0.72 / 0.28 + 0.600
    assert line(part, "resin").net.value == pytest.approx(resin, rel=EXACT)


def test_without_the_rule_each_ply_has_its_own_content(tmp_path: Path) -> None:
    """Layer by layer, exact: 0.450 x 0.7 / 0.3 and 0.800 at its own 0.5."""
    plies = "{glass: mat_450}, {glass: woven_800, glass_content: 50 %}"
    part = part_in(written(tmp_path / "c", OPEN, content="30 %", plies=plies))
    assert line(part, "resin").net.value == pytest.approx(1.05 + 0.80, rel=EXACT)


# A class society's FRP rules 2014, sec. 3: seams overlap at least 50 mm; derived, B / (B - o).
@pytest.mark.parametrize(("overlap", "factor"), [(50, 1.0417), (75, 1.0638), (100, 1.0870)])
def test_seams_of_a_roll_take_more_glass_and_its_resin(
    tmp_path: Path, overlap: int, factor: float
) -> None:
    rolls = f", roll_width: 1.25 m, overlap: {overlap} mm"
    part = part_in(written(tmp_path / "c", OPEN, glass=rolls))
    assert line(part, "mat_450").net.value / 0.450 == pytest.approx(factor, abs=5e-5)
    assert line(part, "resin").net.value / 1.050 == pytest.approx(factor, abs=5e-5)


@pytest.mark.parametrize("stated", ["loss: 20 %", "waste_on_net: 25 %"])
def test_a_waste_of_25_percent_on_net_is_a_loss_of_20_percent(tmp_path: Path, stated: str) -> None:
    """Derived, exact: 1 / (1 - 0.20) is 1 + 0.25; of glass, resin, gelcoat and bought goods."""
    gelcoat = "    gelcoat:\n      - {colour: white}\n    goods:\n"
    goods = "      - {item: seal, per_perimeter: 0.5 m/m}\n"
    bought = OPEN + gelcoat + goods.replace("0.5 m/m", '"0.5"')
    part = part_in(
        written(
            tmp_path / "c",
            bought,
            glass=f", {stated}",
            resin=stated,
            gelcoat=f"transfer: 100 %\n{stated}",
            bought=f", {stated}",
        )
    )
    for material, net in (("mat_450", 0.450), ("resin", 1.050), ("white", 0.625), ("seal", 2.0)):
        found = line(part, material)
        assert found.net.value == pytest.approx(net, rel=EXACT), material
        assert found.issued.value == pytest.approx(1.25 * net, rel=EXACT), material


def test_a_loss_comes_on_top_of_what_the_spray_and_the_nest_lose(tmp_path: Path) -> None:
    """Sprayed at 80 %, then 20 % lost; a nest uses 75 % of the cloth, then 10 % is lost."""
    coat = part_in(written(tmp_path / "a", COATED, gelcoat="transfer: 80 %\nwaste_on_net: 25 %"))
    assert line(coat, "white").issued.value == pytest.approx(0.625 / 0.8 / 0.8, rel=EXACT)
    nested = OPEN + "    nest_utilisation: 75 %\n"
    part = part_in(written(tmp_path / "b", nested, glass=", loss: 10 %"))
    assert line(part, "mat_450").issued.value == pytest.approx(0.450 / 0.75 / 0.9, rel=EXACT)
    assert line(part, "resin").issued.value == pytest.approx(1.05, rel=EXACT)


def test_foam_takes_its_waste_on_net_in_both_components(tmp_path: Path) -> None:
    """20 L at 36 kg/m3 free rise, packed 1.5 times: 1.08 kg, mixed 1:1, a quarter more issued."""
    core = "core:\n  - {id: square, name: Block, shape: {volume: 20 L}, foam: foam}\n"
    part = part_in(written(tmp_path / "c", core, foam=f"{FOAM}\nwaste_on_net: 25 %"))
    for component in ("foam_a", "foam_b"):
        assert line(part, component).net.value == pytest.approx(0.54, rel=EXACT)
        assert line(part, component).issued.value == pytest.approx(0.675, rel=EXACT)
    assert part.mass.value == pytest.approx(1.08, rel=EXACT)


def test_catalyst_is_dosed_on_all_that_is_issued(tmp_path: Path) -> None:
    """Common practice, no source: 2 % of 1.05 kg net over 80 %."""
    part = part_in(written(tmp_path / "c", OPEN, resin="loss: 20 %"))
    assert line(part, "peroxide").issued.value == pytest.approx(0.02 * 1.05 / 0.8, rel=EXACT)
    assert line(part, "peroxide").mass.value == 0.0


def test_a_film_of_half_a_millimetre_covers_1_6_square_metres_a_kilogram(tmp_path: Path) -> None:
    """GRP specifications: 0.5 mm nominal, 1.6 m2/kg; at 1.25 kg/L."""
    part = part_in(written(tmp_path / "c", COATED))
    assert 1 / line(part, "white").net.value == pytest.approx(1.6, rel=EXACT)
    assert part.mass.value == pytest.approx(0.625, rel=EXACT)
