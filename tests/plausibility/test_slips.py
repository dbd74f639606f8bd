"""Slips that somebody makes on a busy day, one at a time in the demonstration: each is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.plausibility.walk import doubts_of
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError, Problem
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

FEW = 4
TAKEN = (("weekender_86", 20), ("coastal_98", 22))
Slip = tuple[str, str, str, str, str]


def told(
    folder: Path, file: str, changes: list[tuple[str, str]], *, priced: bool = True
) -> list[Problem]:
    """What is told of the demonstration with the first of each text replaced in one file.

    Unless it is to be `priced`, of its values alone, which takes a fifth of the time.
    """
    text = (DEMO / file).read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    yard = write_catalogue(folder / "yard", {}, base=DEMO)
    (yard / file).write_text(text, encoding="utf-8")
    try:
        return price_catalogue(yard)[1] if priced else doubts_of(load_catalogue(yard)[0]).found
    except CatalogueError as fault:
        return fault.problems


def test_the_demonstration_leaves_nothing_unexplained(tmp_path: Path) -> None:
    assert told(tmp_path, "yard.yaml", []) == []


# file, text, what is written for it, how the problem begins, its code
SLIPS: dict[str, Slip] = {
    # what must be caught, whoever tries it
    "film_in_inches": (
        *("materials.yaml", "wet_thickness: 0.5 mm", "wet_thickness: 0.5 in"),
        *("wet thickness of 0.5 in (12.7 mm), and 0.3 to 1.5 mm is usual", "unusual"),
    ),
    "efficiency_without_its_sign": (
        *("stations.yaml", "efficiency: 86 %", "efficiency: 86"),
        *("efficiency of 86 (8600 %), and 40 to 120 % is usual", "unusual"),
    ),
    "rate_upside_down": (
        *("exchange.csv", "USD,1.075 USD/EUR", "USD,0.930 USD/EUR"),
        *("rate of 0.930 USD/EUR, and 0.95 to 1.6 is usual of USD", "unusual"),
    ),
    "rate_upside_down_of_a_small_currency": (
        *("exchange.csv", "NOK,11.68 NOK/EUR", "NOK,0.0856 NOK/EUR"),
        *("rate of 0.0856 NOK/EUR, and 7 to 13 is usual of NOK", "unusual"),
    ),
    "price_a_hundred_times": (
        *("prices/2026-11-01.csv", "biax_600,dolvane,4.64 EUR", "biax_600,dolvane,464 EUR"),
        *("price of 464 EUR/kg, and 1.5 to 25 EUR/kg is usual of", "unusual"),
    ),
    "price_a_hundred_times_without_a_history": (
        *("prices/2026-09-01.csv", "bolts,skavrand,690 NOK", "bolts,skavrand,69000 NOK"),
        *("price of 69000 NOK/box (1206 EUR/kg), and 0.8 to 500 EUR/kg is usual", "unusual"),
    ),
    "wage_by_the_minute": (
        *("wages.csv", "2026-10-01,laminator,24.30", "2026-10-01,laminator,0.405"),
        *("wage of 0.405 EUR/h, and 4 to 100 EUR/h is usual", "unusual"),
    ),
    "wage_in_minutes": (
        *("wages.csv", "2026-10-01,fitter,26.50 EUR/h", "2026-10-01,fitter,26.50 EUR/min"),
        *("wage of 26.50 EUR/min (1590 EUR/h), and 4 to 100 EUR/h is usual", "unusual"),
    ),
    "zone_ten_times_its_part": (
        *("parts.yaml", "area: 0.62 m2, gap", "area: 6.2 m2, gap"),
        *("zone 'field' of 'wide_door', of its area, is 758.9 %, and at most 125 %", "unusual"),
    ),
    "face_of_forty_parts": (
        *("parts.yaml", "share: 40 %}", "share: 4000 %}"),
        *("share of 4000 %, and 1 to 250 % is usual", "unusual"),
    ),
    "resin_a_tenth": (
        *("models.yaml", "resin_lam: 990 kg", "resin_lam: 99 kg"),
        *("the resin of 'weekender_86', of the 1027 kg that its glass needs, is", "unusual"),
    ),
    # what was accepted without a word
    "glass_alone": (
        *("materials.yaml", "glass_content: 50 %", "glass_content: 100 %"),
        *("glass content of 100 %, and 0 to 95.4 % is possible", "impossible"),
    ),
    "film_of_half_a_metre": (
        *("materials.yaml", "wet_thickness: 22 mil", "wet_thickness: 0.5 m"),
        *("wet thickness of 0.5 m (500 mm), and 0.3 to 1.5 mm is usual", "unusual"),
    ),
    "hardly_any_transfer": (
        *("materials.yaml", "transfer: 78 %", "transfer: 0.001 %"),
        *("transfer of 0.001 %, and at least 40 % is usual", "unusual"),
    ),
    "catalyst_as_much_as_resin": (
        *("materials.yaml", "catalyst_fraction: 1.5 %", "catalyst_fraction: 100 %"),
        *("catalyst fraction of 100 %, and 0.5 to 4 % is usual", "unusual"),
    ),
    "nine_times_as_fast": (
        *("stations.yaml", "efficiency: 85 %", "efficiency: 900 %"),
        *("efficiency of 900 %, and 40 to 120 % is usual", "unusual"),
    ),
    "part_wider_than_a_harbour": (
        *("parts.yaml", "{width: 560 mm, height: 700 mm", "{width: 700 m, height: 700 mm"),
        *("width of 700 m, and 0.01 to 25 m is usual", "unusual"),
    ),
    "a_hundred_thousand_plies": (
        *("laminates.yaml", "layers: 4", "layers: 100000"),
        *("layers of 100000, and at most 30 plies is usual", "unusual"),
    ),
    "an_operation_of_years": (
        *("options.yaml", "fixed: 14 min", "fixed: 5000 h"),
        *("fixed of 5000 h, and at most 400 h is usual", "unusual"),
    ),
    "a_minute_a_year": (
        *("stations.yaml", "capacity: 1050 h", "capacity: 1 min"),
        *("capacity of 1 min (0.01667 h), and 50 to 500000 h is usual", "unusual"),
    ),
    "tax_of_nine_prices": (
        *("yard.yaml", "tax: 24 %", "tax: 900 %"),
        *("tax of 900 %, and at most 30 % is usual", "unusual"),
    ),
    "half_a_pull": (
        *("moulds.yaml", "life: 320", "life: 0.5"),
        *("life of 0.5, and 5 to 20000 pulls is usual", "unusual"),
    ),
    "ending_above_its_step": (
        *("yard.yaml", "ending: 0 EUR", "ending: 12 EUR"),
        *("the ending, of its step, is 120 %, and at most 99.99 % is usual", "unusual"),
    ),
    "strip_wider_than_its_part": (
        *("parts.yaml", "laminate: hand_lid, strip: 50 mm", "laminate: hand_lid, strip: 500 mm"),
        *("a strip of 500 mm along the inside of the edge of 'hatch_lid_by_hand'", "does-not-fit"),
    ),
    "cavity_above_its_flange": (
        *("parts.yaml", "cavity_pressure: 45 kPa", "cavity_pressure: 95 kPa"),
        *("the cavity's vacuum, of the flange's, is 111.8 %, and at most 100 %", "unusual"),
    ),
    "discount_of_all_but_nothing": (
        *("yard.yaml", "discount: 21 %", "discount: 99.9 %"),
        *("discount of 99.9 %, and at most 45 % is usual", "unusual"),
    ),
    "delivery_round_the_moon": (
        *("yard.yaml", "term: EXW", "price: 100000000000 EUR\n    term: EXW"),
        *("price of 100000000000 EUR, and at most 100000 EUR is", "unusual"),
    ),
    # values that only others show to be wrong
    "boat_lighter_than_its_laminate": (
        *("models.yaml", "mass: 2480 kg", "mass: 1480 kg"),
        *("the laminate of 'weekender_86', of its mass, is 116.5 %", "unusual"),
    ),
    "hours_of_another_boat": (
        *("models.yaml", "laminating: 158 h", "laminating: 1580 h"),
        *("the hours of 'weekender_86', of what sisters say for its length, is", "unusual"),
    ),
    "mass_of_another_boat": (
        *("models.yaml", "mass: 3850 kg", "mass: 38500 kg"),
        *("the mass of 'coastal_98', of what sisters say for its length, is", "unusual"),
    ),
    "pulls_of_another_mould": (
        *("moulds.yaml", "pulls_per_year: 99", "pulls_per_year: 9"),
        *("what 'companion_door_ab' plans of the 94 pulls a year that the volumes", "unusual"),
    ),
    "capacity_of_a_week": (
        *("stations.yaml", "capacity: 61000 h", "capacity: 1220 h"),
        *("the overhead of 'assembly' over an hour is 1000 EUR/h, and 0.5 to 500", "unusual"),
    ),
    "a_mix_of_ten_to_one": (
        *("materials.yaml", "parts_b: 112", "parts_b: 11.2"),
        *("one component, of the other, is 892.9 %, and 20 to 500 % is usual", "unusual"),
    ),
    "beam_of_a_barge": (
        *("models.yaml", "beam: 2.85 m", "beam: 8.25 m"),
        *("the beam of 'weekender_86', of its length, is 95.93 %", "unusual"),
    ),
    "cavity_with_a_hole": (
        *("parts.yaml", "laminate: lid_edge, strip: 45 mm", "laminate: lid_edge, strip: 6 mm"),
        *("all zones of 'console_door', of its area,", "unusual"),
    ),
    "face_of_thirty_parts": (
        *("parts.yaml", "strip: 180 mm, lies: upright}", "area: 18 m2}"),
        *("face 'hull' of 'surround_single', of its area, is 3011 %, and at most 250 %", "unusual"),
    ),
    "face_of_a_strip_too_wide": (
        *("parts.yaml", "strip: 180 mm, lies: upright}", "strip: 1800 mm, lies: upright}"),
        *("the strip of face 'hull', of its part's shorter side, is 250 %", "unusual"),
    ),
    "faces_of_more_than_two_sides": (
        *("parts.yaml", "share: 40 %}", "share: 240 %}"),
        *("all faces of 'seat_base', of its area, is 340 %, and at most 300 %", "unusual"),
    ),
    "resin_of_a_wetter_boat": (
        *("models.yaml", "resin_lam: 990 kg", "resin_lam: 1490 kg"),
        *("the resin of 'weekender_86', of the 1027 kg that its glass needs, is 145.8", "unusual"),
    ),
    "a_boat_of_hardly_any_laminate": (
        *("models.yaml", "mass: 2480 kg", "mass: 4280 kg"),
        *("the laminate of 'weekender_86', of its mass, is 40.65 %, and 45 to 75 %", "unusual"),
    ),
    "mass_of_what_is_built_up_too": (
        *("models.yaml", "mass: 547.9 kg", "mass: 1347.9 kg"),
        *("the laminate of 'open_68', of its mass, is 41.6 %, and 45 to 75 %", "unusual"),
    ),
    "hull_mould_for_a_week_too_long": (
        *("options.yaml", "hull_mould: {work: 5.5 h", "hull_mould: {work: 55 h"),
        *("what 'side_single' keeps the hull mould, of the 45.15 h of its open", "unusual"),
    ),
    "certification_of_more_than_are_built": (
        *("models.yaml", "cost: 16500 EUR, units: 120", "cost: 16500 EUR, units: 1200"),
        *("the units that bear the certification of 'coastal_98', of the 300 that", "unusual"),
    ),
    "moulds_built_in_closed_moulds": (
        *("yard.yaml", "mass: 620 kg, styrene", "mass: 620 kg, applied: closed mould, styrene"),
        *("'Tooling resin' for moulds is applied in a closed mould, and", "unusual"),
    ),
    "boat_stated_in_a_closed_mould": (
        *("models.yaml", "applied: by hand", "applied: closed mould"),
        *("the resin that 'open_68' states is applied in a closed mould, and", "unusual"),
    ),
    "a_price_no_policy_explains": (
        *("price_book.csv", ",,deck_hatch,960 EUR", ",,deck_hatch,9600 EUR"),
        *("Deck hatch at 9,600 EUR, 1043 % of what the policy recommends", "unusual"),
    ),
}  # fmt: skip


# Told by all of a check; of the others, only the pass over values is asked.
PRICED = (
    *[*SLIPS][: [*SLIPS].index("glass_alone") + 1],
    *("strip_wider_than_its_part", "boat_lighter_than_its_laminate", "hours_of_another_boat"),
    *("mass_of_another_boat", "resin_of_a_wetter_boat", "a_boat_of_hardly_any_laminate"),
    *("mass_of_what_is_built_up_too", "hull_mould_for_a_week_too_long"),
    "a_price_no_policy_explains",
)


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_told(name: str, tmp_path: Path) -> None:
    file, old, new, begins, code = SLIPS[name]
    found = told(tmp_path, file, [(old, new)], priced=name in PRICED)
    named = [problem for problem in found if problem.what.startswith(begins)]
    assert len(named) == 1, [str(problem) for problem in found]
    assert (named[0].place.file, named[0].code) == (file, code)
    assert named[0].warning == (code == "unusual")
    assert len(found) <= FEW, "one slip is told in few lines"


def test_zones_that_cover_their_part_many_times_are_told(tmp_path: Path) -> None:
    wide = [
        (f"strip: {n} mm, lies: {where}}}", f"strip: 600 mm, lies: {where}}}")
        for n, where in ((160, "upright"), (140, "outside"))
    ]
    (found,) = told(tmp_path, "parts.yaml", wide, priced=False)
    assert found.what.startswith("all zones of 'surround_single', of its area, is ")


def test_an_option_that_no_plan_knows_of_is_told_with_its_boats(tmp_path: Path) -> None:
    lines = [(f"{boat},side_step,,{n} %,(invented)\n", "") for boat, n in TAKEN]
    problems = told(tmp_path, "volumes.csv", lines, priced=False)
    (found,) = [problem for problem in problems if "take rate" in problem.what]
    assert found.what == "option 'side_step' has no take rate on weekender_86, coastal_98"
    assert found.hint == (
        "add lines to volumes.csv; if it is meant, say why beside it: 'expected: {take_rate: …}'"
    )


def test_a_sign_that_was_left_out_is_asked_for(tmp_path: Path) -> None:
    found = told(tmp_path, "stations.yaml", [("efficiency: 86 %", "efficiency: 86")])[-1]
    assert found.hint == (
        "is '86 %' meant? common practice, no source; "
        "if it is meant, say why beside it: 'expected: {efficiency: …}'"
    )


def test_a_slip_in_every_block_is_told_in_one_line(tmp_path: Path) -> None:
    text = (DEMO / "stations.yaml").read_text(encoding="utf-8")
    changes = [("efficiency: 86 %", "efficiency: 86")] * text.count("efficiency: 86 %")
    changes += [("efficiency: 88 %", "efficiency: 86")] * text.count("efficiency: 88 %")
    changes += [(f"efficiency: {n} %", "efficiency: 86") for n in (85, 87, 92)]
    *_, found = told(tmp_path, "stations.yaml", changes)
    assert found.hint.endswith("(also on lines 28, 42, 56, 75 and 3 more)")
