"""Organic HAP of a square metre by the point values of 40 CFR 63 Subpart VVVV, Table 3."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.costing.draws import Draw, draws_of
from tests.costing.takeoff.square import COATED, OPEN, line, part_in, written
from tests.costing.takeoff.test_closed_mould import TWO_MATS, panel

EXACT = 1e-12
# At the contents of Table 2, in kg per Mg, derived from the formulas of Table 3. The rule-maker's
# limits of 46, 159, 291, 54 and 214 are rounded and not these.
RESINS = [("35 %", 45.59), ("39 %", 58.32)]  # production and tooling resin, not atomised
GELCOATS = [("33 %", 155.55), ("48 %", 291.37), ("40 %", 214.69)]  # pigmented, clear, tooling


@pytest.mark.parametrize(("styrene", "point_value"), RESINS)
def test_resin_laid_by_hand(tmp_path: Path, styrene: str, point_value: float) -> None:
    """Of all that is issued, lost or not: 1.05 kg net at a loss of 20 %."""
    part = part_in(written(tmp_path / "c", OPEN, resin=f"styrene: {styrene}\nloss: 20 %"))
    emission = line(part, "resin").emission
    assert emission is not None
    issued = 1.05 / 0.8 / 1000  # Mg
    assert emission.value / issued == pytest.approx(point_value, abs=0.005)
    assert str(emission.unit) == "kg"


@pytest.mark.parametrize(("styrene", "point_value"), GELCOATS)
def test_gelcoat_by_any_method(tmp_path: Path, styrene: str, point_value: float) -> None:
    """Overspray too: 0.625 kg on the part at a transfer of 80 %."""
    coat = f"transfer: 80 %\nstyrene: {styrene}"
    part = part_in(written(tmp_path / "c", COATED, gelcoat=coat))
    emission = line(part, "white").emission
    assert emission is not None
    assert emission.value / (0.625 / 0.8 / 1000) == pytest.approx(point_value, abs=0.005)


def test_what_is_injected_is_at_zero_and_the_gelcoat_before_it_is_not(tmp_path: Path) -> None:
    """40 CFR 63.5728: closed moulding has no open-moulding limit; gelcoat applied before has."""
    faces = "    gelcoat:\n      - {colour: white}\n      - {colour: white}\n"
    folder = written(
        tmp_path / "c",
        panel(more=faces),
        plies=TWO_MATS,
        resin="styrene: 35 %",
        gelcoat="transfer: 100 %\nstyrene: 33 %",
    )
    part = part_in(folder)
    assert line(part, "resin").emission is None
    in_all = draws_of(part, {})[Draw("emission", "organic HAP")].value
    assert in_all == pytest.approx(2 * 0.625 * 155.55 / 1000, rel=1e-4)


def test_a_skin_coat_by_hand_counts_apart_from_the_bulk(tmp_path: Path) -> None:
    """Each stage has its own resin; together they give off what they would as one."""
    plies = "{glass: mat_300, stage: skin}, {glass: mat_450}"
    part = part_in(written(tmp_path / "c", OPEN, plies=plies, resin="styrene: 35 %"))
    stages = {one.line.stage: one.line for one in part.materials if one.line.material == "resin"}
    assert {stage: one.net.value for stage, one in stages.items()} == pytest.approx(
        {"skin": 0.7, "bulk": 1.05}, rel=EXACT
    )
    given_off = [one.emission.value for one in stages.values() if one.emission is not None]
    assert sum(given_off) * 1000 / 1.75 == pytest.approx(45.59, abs=0.005)
    assert len(given_off) == 2


def test_a_resin_whose_styrene_is_not_told_is_not_guessed(tmp_path: Path) -> None:
    part = part_in(written(tmp_path / "c", OPEN))
    assert line(part, "resin").emission is None
    assert Draw("emission", "organic HAP") not in draws_of(part, {})


def test_glass_and_catalyst_give_off_nothing(tmp_path: Path) -> None:
    part = part_in(written(tmp_path / "c", OPEN, resin="styrene: 35 %"))
    assert line(part, "mat_450").emission is None
    assert line(part, "peroxide").emission is None
