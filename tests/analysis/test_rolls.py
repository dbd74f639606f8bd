"""What plies take of the rolls: worked by hand, and costed anew as if it were stated."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from quoter.analysis.rolls import CuttingList, RollCost
from quoter.pricing.price import Pricing
from tests.pages.variants import small_with

MAT = "form: mat, areal_mass: 450 g/m2"
ROLL = {"materials.yaml": {MAT: f"{MAT}, roll_width: 1.25 m"}}
LAPPED = {"materials.yaml": {MAT: f"{MAT}, roll_width: 1.25 m, overlap: 50 mm, loss: 4 %"}}
LID = "    gallery_and_catch_pot: 0.4 kg\n"


def cutting(pricing: Pricing, model: str, option: str) -> CuttingList:
    return CuttingList(pricing.catalogue, pricing.models[model].options[option].assembly)


def nest_stated(utilisation: float) -> dict[str, dict[str, str]]:
    stated = f"    nest_utilisation: {100 * utilisation:.15g} %\n"
    return {"parts.yaml": {LID: LID + stated}}


# By hand: the lid is 500 mm square, a dry kit of four layers without trim; two squares lie across
# 1.25 m and two deep, on 1 m of roll. Its corners of 50 mm leave 0.25 - (4 - pi) 0.0025 =
# 0.247854 m2, four times that is 79.31 % of 1.25 m2; 450 g/m2 make 0.5625 kg.
def test_a_lid_laid_by_hand(tmp_path: Path) -> None:
    found = cutting(small_with(tmp_path, ROLL), "skiff", "hatch")
    (ply,) = found.plies["part.lid"]
    assert (ply.number, ply.cut.form, ply.pieces) == (1, "rectangle", 4)
    (roll,) = found.rolls
    assert roll.utilisation is not None
    assert roll.length.value == pytest.approx(1.0, rel=1e-12)
    assert roll.utilisation.value == pytest.approx(0.793133, abs=5e-7)
    (cost,) = found.costs()
    assert cost.stated.value == pytest.approx(1.0, rel=1e-12)
    assert cost.found.value == pytest.approx(0.793133, abs=5e-7)
    assert cost.mass.value == pytest.approx(0.5625, rel=1e-12)
    assert cost.stated_mass.value == pytest.approx(4 * 0.247854 * 0.45, abs=5e-7)
    assert cost.cost > 0


@pytest.mark.parametrize("rolls", [ROLL, LAPPED], ids=["plain", "lapped, with a loss"])
def test_the_cost_moves_as_if_the_catalogue_stated_what_is_found(
    tmp_path: Path, rolls: dict[str, dict[str, str]]
) -> None:
    """Costed anew with the utilisation found in place of 70 %, yield and handling included."""
    before = small_with(tmp_path / "before", {**rolls, **nest_stated(0.7)})
    (cost,) = cutting(before, "skiff", "hatch").costs()
    assert cost.stated.value == pytest.approx(0.7, rel=1e-12)
    after = small_with(tmp_path / "after", {**rolls, **nest_stated(cost.found.value)})
    one, other = (p.models["skiff"].options["hatch"].assembly.cost for p in (before, after))
    assert cost.cost == pytest.approx(other.value - one.value, rel=1e-9)
    (again,) = cutting(after, "skiff", "hatch").costs()
    assert again.cost == pytest.approx(0.0, abs=1e-9)
    assert again.mass.value == pytest.approx(again.stated_mass.value, rel=1e-12)


def test_without_a_roll_width_nothing_is_laid_and_sizes_are_told(small_pricing: Pricing) -> None:
    found = cutting(small_pricing, "cutter", "side_door")
    assert (found.rolls, found.costs()) == ((), [])
    assert [ply.number for plies in found.plies.values() for ply in plies] == [1, 2]


def demo_costs(pricing: Pricing) -> Iterator[tuple[CuttingList, RollCost]]:
    for model in pricing.models.values():
        for option in model.options.values():
            found = CuttingList(pricing.catalogue, option.assembly)
            for cost in found.costs():
                yield found, cost


def test_the_demonstration_is_laid_and_compared(demo_pricing: Pricing) -> None:
    seen = 0
    for found, cost in demo_costs(demo_pricing):
        roll, seen = cost.roll, seen + 1
        assert len(roll.nest.placed) == sum(ply.pieces for ply in roll.plies)
        assert roll.utilisation is not None
        assert 0.5 < roll.utilisation.value <= 1
        dearer = cost.mass.value > cost.stated_mass.value
        assert dearer == (cost.found.value < cost.stated.value)
        assert found.boats.value >= 1
    assert seen > 50


def test_plies_are_numbered_skin_first_and_machine_cut_ones_are_apart(
    demo_pricing: Pricing,
) -> None:
    found = cutting(demo_pricing, "weekender_86", "side_single")
    surround = next(iter(found.plies.values()))
    stages = [ply.material.line.stage for ply in surround]
    assert stages == sorted(stages, reverse=True)
    assert set(stages) == {"skin", "bulk"}
    numbers = [ply.number for plies in found.plies.values() for ply in plies]
    assert numbers == list(range(1, len(numbers) + 1))
    machine = [ply for roll in found.rolls for ply in roll.by_machine]
    laid = [ply for roll in found.rolls for ply in roll.plies]
    assert machine
    assert {ply.cut.form for ply in machine} == {"contour"}
    assert sorted(ply.number for ply in [*machine, *laid]) == numbers
    assert all(ply.area.value > 0 for ply in machine)
