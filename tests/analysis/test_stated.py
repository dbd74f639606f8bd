"""How much of a class of material moves with its prices, against costings at other prices."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.margins import margin_lines
from quoter.analysis.what_if import moving_shares
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.edited import SMALL
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO, demo

VOLUMES = """\
model,option,boats,take_rate,note
skiff,,60,,
cutter,,20,,
cutter,side_door,,50 %,
"""


def spent(pricing: Pricing, of_class: str) -> float:
    """What the planned year's boats and options hold of a class, at home."""
    found = 0.0
    for line in margin_lines(pricing):
        if line.market == "home" and line.units is not None:
            model = pricing.models[line.model]
            item = model.extras[line.option] if line.option else model.boat
            cost = item.assembly.elements.get(f"material.{of_class}")
            found += 0.0 if cost is None else cost.value * line.units.value
    return found


@pytest.mark.parametrize("of_class", ["hardware", "foam", "consumable"])
def test_a_class_moves_by_what_a_costing_at_other_prices_gives(of_class: str) -> None:
    dearer, _ = price_catalogue(DEMO, settings=[f"class.{of_class}=+50%"])
    before, after = spent(demo(), of_class), spent(dearer, of_class)
    share = moving_shares(demo())[of_class]
    assert 0 < share < 1
    assert share == pytest.approx((after / before - 1) / 0.5)


def test_what_no_boat_states_moves_as_a_whole_and_is_not_told() -> None:
    stated = {str(c) for model in demo().models.values() for c in model.model.base.material}
    assert set(moving_shares(demo())) == stated
    assert "glass" not in stated


def test_by_hand(tmp_path: Path) -> None:
    """Stated hardware: 60 x 1150 + 20 x 7400 = 217,000 EUR a year; what moves comes on top."""
    folder = write_catalogue(tmp_path / "c", {"volumes.csv": VOLUMES}, base=SMALL)
    pricing = priced(folder)
    cutter = pricing.models["cutter"]
    moving = 20 * (cutter.boat.assembly.elements["material.hardware"].value - 7400)
    moving += 10 * cutter.options["side_door"].assembly.elements["material.hardware"].value
    assert moving > 0
    assert moving_shares(pricing)["hardware"] == pytest.approx(moving / (moving + 217_000))


def test_without_a_plan_one_boat_of_each_counts(small_pricing: Pricing) -> None:
    boats = [model.boat.assembly for model in small_pricing.models.values()]
    whole = sum(boat.elements["material.hardware"].value for boat in boats)
    assert moving_shares(small_pricing)["hardware"] == pytest.approx(1 - (1150 + 7400) / whole)
