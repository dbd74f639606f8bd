"""Cost at the day of building against a catalogue whose prices have moved so far already."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.analysis.long_lead import Built, built_cost, later, prices_then
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from tests.catalogues.written import priced, write_catalogue

CLOSE = 1e-9
DEMO = demo_catalogue_folder()
NO_RISES = "date,supplier,family,by,effective,state,note\n"


def demo(folder: Path, building: str, rises: str | None = None) -> Pricing:
    text = (DEMO / "yard.yaml").read_text(encoding="utf-8")
    start, end = text.index("  building:\n"), text.index("  mould_availability:")
    files = {"yard.yaml": text[:start] + building + text[end:]}
    if rises is not None:
        files["rises.csv"] = rises
    return priced(write_catalogue(folder, files, base=DEMO))


def built(pricing: Pricing) -> list[Built]:
    """Of every boat and of its options."""
    moved = prices_then(pricing)
    found = [
        built_cost(pricing, item.assembly, moved)
        for model in pricing.models.values()
        for item in model.boat_and_options
    ]
    return [one for one in found if one is not None]


def costs(pricing: Pricing) -> list[float]:
    return [
        item.assembly.cost.value
        for model in pricing.models.values()
        for item in model.boat_and_options
    ]


def test_prices_moved_for_a_year_cost_what_a_catalogue_with_these_prices_costs(
    tmp_path: Path,
) -> None:
    building = "  building: {months: 12, moves: {resin: 10 %, hardware: -5 %}}\n"
    found = built(demo(tmp_path / "c", building, NO_RISES))
    settings = ["class.resin=+10%", "class.hardware=-5%"]
    moved, _ = price_catalogue(DEMO, settings=settings)
    assert [one.cost.value for one in found] == pytest.approx(costs(moved), rel=CLOSE)
    assert {of.material_class for one in found for of in one.added} == {"resin", "hardware"}


def test_half_a_year_moves_by_the_root(tmp_path: Path) -> None:
    """21 % a year are 10 % in half a year."""
    found = built(demo(tmp_path / "c", "  building: {months: 6, moves: {glass: 21 %}}\n", NO_RISES))
    moved, _ = price_catalogue(DEMO, settings=["class.glass=+10%"])
    assert [one.cost.value for one in found] == pytest.approx(costs(moved), rel=CLOSE)


def test_an_announced_rise_holds_from_its_day_and_in_place_of_what_is_expected(
    tmp_path: Path,
) -> None:
    """The letter names 0.10 USD/lb from 15 December; injection resin is 2.14 USD/lb."""
    soon = demo(tmp_path / "a", "  building: {months: 1, moves: {resin: 50 %}}\n")
    late = demo(tmp_path / "b", "  building: {months: 2, moves: {resin: 50 %}}\n")
    assert not any(each.announced for each in prices_then(soon))
    (by_letter,) = (each for each in prices_then(late) if each.announced)
    assert by_letter.then / by_letter.price.value == pytest.approx(2.24 / 2.14, rel=CLOSE)
    raised, _ = price_catalogue(DEMO, settings=["price.resin_inj=2.24 USD/lb"])
    only = demo(tmp_path / "c", "  building: {months: 2}\n")
    assert [one.cost.value for one in built(only)] == pytest.approx(costs(raised), rel=CLOSE)


def test_what_classes_add_makes_the_whole_difference(demo_pricing: Pricing) -> None:
    found = built(demo_pricing)
    assert any(one.added for one in found)
    for one in found:
        added = sum(of.announced.value + of.expected.value for of in one.added)
        assert one.cost.value == pytest.approx(one.today.value + added, rel=CLOSE)
        assert one.day == date(2027, 5, 1)


def test_without_a_lead_only_todays_cost_is_told(tmp_path: Path) -> None:
    pricing = demo(tmp_path / "c", "")
    assert (prices_then(pricing), built(pricing)) == ([], [])


def test_the_day_of_building_is_one_that_every_month_has() -> None:
    assert later(date(2026, 12, 15), 1) == date(2027, 1, 15)
    assert later(date(2026, 8, 31), 18) == date(2028, 2, 28)
