"""The demonstration's year, its boats in it, by the masses they state and published values.

The year that was published for comparison had heavier laminates, with less resin than their glass
needs: those masses stay here, apart from what the demonstration states today.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory

import pytest

from quoter.analysis.emissions import YearEmissions, limit_of, thresholds_of
from quoter.analysis.plan import Plan, plan_of, year_of
from quoter.costing.draws import Draw, draws_of
from quoter.pricing.price import Pricing
from quoter.resources import demo_catalogue_folder
from tests.catalogues.written import priced
from tests.demo import demo

# Boats a year, and what each stated then of laminating resin and of gelcoat [kg] (invented).
STATED = {
    "open_68": (68, 470, 72),
    "longshore_76": (46, 675, 96),
    "weekender_86": (50, 1160, 154),
    "coastal_98": (30, 1770, 227),
    "passage_120": (14, 3515, 434),
}
# 40 CFR 63 Subpart VVVV, Table 3, kg per Mg: production resin that is not sprayed at 34 % of
# styrene, and pigmented gelcoat at 33 %.
RESIN, GELCOAT = 0.014 * 34**2.275, 0.445 * 33**1.675
# By hand: 223,320 kg of resin at 42.68 and 29,898 kg of gelcoat at 155.55.
OF_BASE_BOATS = 14_182.0
# As they state them today: 197,060 kg of resin and 27,694 kg of gelcoat.
OF_BASE_BOATS_TODAY = 12_718.7

# The smallest boat as the yard's books state it: in the demonstration it is built up instead.
STATED_68 = """\
    base:
      materials:
        mat_450: 205 kg
        biax_600: 195 kg
        resin_lam: 470 kg
        gel_white: 72 kg
        peroxide: 10 kg
      material:
        foam: 180 EUR
        core: 260 EUR
        hardware: 3050 EUR
        consumable: 240 EUR
        other: 560 EUR
      hours: {cutting: 4 h, gelcoat: 18 h, laminating: 74 h, finishing: 24 h, assembly: 88 h}
      tooling: 780 EUR
      mass: 1120 kg
"""
# The other boats as they stated mat, stitched glass, resin, gelcoat and peroxide then [kg].
STATED_THEN = {
    "longshore_76": (290, 280, 675, 96, 14),
    "weekender_86": (490, 475, 1160, 154, 24),
    "coastal_98": (745, 720, 1770, 227, 36),
    "passage_120": (1460, 1415, 3515, 434, 70),
}
AMOUNTS = ("mat_450", "biax_600", "resin_lam", "gel_white", "peroxide")
# As the demonstration states them today.
STATED_NOW = {
    "longshore_76": (200, 190, 640, 88, 13),
    "weekender_86": (310, 296, 990, 140, 20),
    "coastal_98": (470, 446, 1500, 205, 30),
    "passage_120": (920, 880, 2940, 400, 60),
}


def amounts(masses: tuple[int, ...]) -> str:
    """The lines of a boat's materials in models.yaml."""
    pairs = zip(AMOUNTS, masses, strict=True)
    return "".join(f"        {id}: {mass} kg\n" for id, mass in pairs)


@cache
def stated() -> Pricing:
    """The demonstration with all of its boats stated, as they were then."""
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "catalogue"
        copytree(demo_catalogue_folder(), copy)
        models = copy / "models.yaml"
        text = models.read_text(encoding="utf-8")
        begin, end = text.index("    base:\n"), text.index("    note: the yard's best seller")
        text = text[:begin] + STATED_68 + text[end:]
        for model, masses in STATED_THEN.items():
            now = amounts(STATED_NOW[model])
            assert text.count(now) == 1, model
            text = text.replace(now, amounts(masses))
        models.write_text(text, encoding="utf-8")
        return priced(copy)


@cache
def plan() -> Plan:
    return plan_of(stated())


def given_off(boats: int, resin: float, gelcoat: float) -> float:
    return float(boats * (resin * RESIN + gelcoat * GELCOAT) / 1000)


def test_base_boats_give_off_what_their_stated_masses_do() -> None:
    """They alone make the yard a major source: more than 9.1 Mg a year of styrene."""
    expected = {model: given_off(*masses) for model, masses in STATED.items()}
    assert sum(expected.values()) == pytest.approx(OF_BASE_BOATS, abs=1.0)
    assert sum(expected.values()) / 9100 == pytest.approx(1.56, abs=0.005)
    assert of_boats(plan()) == pytest.approx(expected, rel=1e-12)


def of_boats(given: Plan) -> dict[str, float]:
    """What the stated amounts of each base boat give off in a year [kg]."""
    found: dict[str, float] = {}
    for draw, units in given.draws.items():
        for unit in units if draw.kind == "emission" and draw.id == "organic HAP" else ():
            if unit.owner.recipe.key.startswith("boat."):
                lines = (material.line for material in unit.owner.materials)
                own = sum(line.emission.value for line in lines if line.emission is not None)
                found[unit.model] = own * unit.units.value
    return found


def test_base_boats_give_off_what_they_state_today() -> None:
    """By hand, the smallest boat by what it stated: still a major source, at 1.4 thresholds."""
    expected = {
        model: given_off(STATED[model][0], resin, gelcoat)
        for model, (_, _, resin, gelcoat, _) in STATED_NOW.items()
    }
    found = of_boats(plan_of(demo()))
    assert {model: found[model] for model in expected} == pytest.approx(expected, rel=1e-12)
    with_smallest = sum(expected.values()) + given_off(*STATED["open_68"])
    assert with_smallest == pytest.approx(OF_BASE_BOATS_TODAY, abs=1.0)


@pytest.mark.parametrize(("model", "masses"), STATED_NOW.items())
def test_stated_resin_is_what_the_stated_glass_needs(model: str, masses: tuple[int, ...]) -> None:
    """Mat at 30 % of glass takes 7/3 of its mass in resin, stitched glass at 50 % as much as it
    is (common practice); a boat without engine is 45 to 75 % laminate (common practice)."""
    mat, stitched, resin, gelcoat, _ = masses
    assert 0.85 < resin / (mat * 0.7 / 0.3 + stitched) < 1.4
    boat = demo().models[model].boat.assembly
    assert 0.45 < (mat + stitched + resin + gelcoat) / boat.mass.value < 0.75


# What the yard's own moulds take in a year [kg] (invented): resin by hand at 39 %, gelcoat at 40 %.
TOOLING = (620 * 0.014 * 39**2.275 + 85 * 0.445 * 40**1.675) / 1000


def test_the_year_gives_off_what_its_boats_options_and_moulds_do() -> None:
    """Before the boats were in it, the year stood at 263 kg and 2.9 % of the threshold."""
    options = plan().emission.value - OF_BASE_BOATS - TOOLING
    assert options == pytest.approx(263.0, abs=4.0)
    assert pytest.approx(54.4, abs=0.1) == TOOLING


def test_each_substance_counts_alone_and_all_together() -> None:
    """Gelcoat at 29 % styrene and 4 % methyl methacrylate gives off 29 and 4 parts of 33."""
    styrene, methacrylate, combined = thresholds_of(plan().emissions)
    assert (styrene.what, methacrylate.what) == (
        "a single organic HAP, styrene",
        "a single organic HAP, methyl methacrylate",
    )
    of_gelcoat = sum(boats * gelcoat * GELCOAT / 1000 for boats, _, gelcoat in STATED.values())
    least = of_gelcoat * 4 / 33  # of base boats; options come on top, dark blue at 4 of 35
    assert least < methacrylate.given_off.value < 1.05 * least
    both = styrene.given_off.value + methacrylate.given_off.value
    assert both == pytest.approx(combined.given_off.value, rel=1e-12)
    assert [t.below.value for t in (styrene, methacrylate, combined)] == [0.0, 1.0, 1.0]


def test_the_limit_is_that_of_the_rule_for_what_is_applied() -> None:
    """40 CFR 63.5698, equation 1: 46, 159, 291, 54 and 214 kg for each Mg applied."""
    applied = {kind: mass.value for kind, mass in plan().emissions.applied.items()}
    assert applied["tooling resin"] == 620
    assert applied["tooling gelcoat"] == 85
    resin = sum(boats * resin for boats, resin, _ in STATED.values())
    assert resin < applied["production resin"] < 1.05 * resin
    limit = limit_of(plan().emissions)
    assert limit is not None
    expected = 46 * applied["production resin"] + 159 * applied["pigmented gelcoat"]
    expected += 54 * 620 + 214 * 85
    assert limit.limit.value == pytest.approx(expected / 1000, rel=1e-12)
    # Resin at 34 % and gelcoat at 33 % stay within what 35 and 33 % may give off.
    assert limit.below.value == 1.0
    assert limit.used.value == pytest.approx(plan().emission.value / (expected / 1000), rel=1e-12)


def test_a_headline_says_what_it_leaves_out() -> None:
    assert plan().emissions.scope == "from resin and gelcoat"
    assert YearEmissions(left_out=("moulds built",)).scope == (
        "from resin and gelcoat, without moulds built"
    )


def test_materials_a_month_hold_what_boats_state_as_cost() -> None:
    """By hand from models.yaml: boats times what each states by class, over twelve months."""
    classes = {
        "foam": 68 * 180 + 46 * 240 + 50 * 260 + 30 * 380 + 14 * 700,
        "core": 68 * 260 + 46 * 820 + 50 * 1900 + 30 * 3750 + 14 * 9100,
        "hardware": 68 * 3050 + 46 * 5900 + 50 * 13900 + 30 * 24500 + 14 * 54500,
        "consumable": 68 * 240 + 46 * 340 + 50 * 560 + 30 * 880 + 14 * 1650,
        "other": 68 * 560 + 46 * 1480 + 50 * 4040 + 30 * 7010 + 14 * 15870,
    }
    found = {need.material_class: need.cost.value for need in plan().stated}
    assert found == pytest.approx({name: cost / 12 for name, cost in classes.items()}, rel=1e-12)
    by_amount = sum(need.cost.value for need in plan().materials)
    year = year_of(plan(), stated().costing.rates.nothing)
    assert year.material.value == pytest.approx(by_amount + sum(classes.values()) / 12, rel=1e-12)
    assert by_amount == pytest.approx(159_683, abs=1.0)


# Hull, deck and liner of the 6.8 by zone: area [m2], mat and stitched glass [kg/m2] (invented).
ZONES = [
    (12.5, 0.300 + 4 * 0.450, 4 * 0.600),
    (11.5, 0.300 + 3 * 0.450, 3 * 0.600),
    (4.0, 2 * 0.450, 3 * 0.600),
    (19.0, 0.300 + 2 * 0.450, 2 * 0.600),
    (15.5, 0.300 + 2 * 0.450, 2 * 0.600),
]


LAP_OF_MAT, LAP_OF_STITCHED = 1.25 / 1.20, 1.27 / 1.22


def test_the_boat_that_is_built_up_gives_off_what_its_laminates_and_the_rest_do() -> None:
    """By hand: rolls lap by 50 mm, mat and sprayed glass at 30 %, stitched at 50 % of glass, 6 % of
    resin and 22 % of gelcoat lost; 0.5 mm of film at 1.25 kg/L on 58.5 m2; the rest is stated.

    The deck is infused behind its skin coat, which gives off nothing, and 99 % of them pass; of the
    liner's 2.4 mm of sprayed laminate, and the resin with it, 12 % miss it.
    """
    mat = sum(area * one for area, one, _ in ZONES[:3]) * LAP_OF_MAT
    stitched = sum(area * other for area, _, other in ZONES[:3]) * LAP_OF_STITCHED
    skins = (19 / 0.99 + 15.5) * 0.750 * LAP_OF_MAT
    sprayed = 15.5 * 0.0024 / (1 / 2560 + 0.7 / 0.3 / 1200)
    bulk = (sprayed * 0.7 / 0.3 + 15.5 * 0.600 * LAP_OF_STITCHED) / 0.88
    resin = ((mat + skins) * 0.7 / 0.3 + stitched + bulk) / 0.94
    gelcoat = (24 + 19 / 0.99 + 15.5) * 0.625 / 0.78
    expected = given_off(1, resin + 135, gelcoat + 25)
    boat = demo().models["open_68"].boat.assembly
    found = draws_of(boat, {})[Draw("emission", "organic HAP")].value
    assert found == pytest.approx(expected, rel=1e-9)
    # About what the books stated for it, as are its mass and its cost.
    assert expected == pytest.approx(given_off(1, 470, 72), rel=0.05)
    before = stated().models["open_68"].boat.assembly
    assert boat.mass.value == pytest.approx(before.mass.value, rel=0.01)
    assert boat.cost.value == pytest.approx(before.cost.value, rel=0.02)
    assert boat.all_hours.value == pytest.approx(before.all_hours.value, rel=0.02)


def test_every_built_up_boat_takes_a_pull_of_each_of_its_moulds() -> None:
    pulls = {str(load.mould.id): load.pulls.value for load in plan_of(demo()).moulds}
    taken = [pulls[f"{part}_68_mould"] for part in ("hull", "deck", "liner")]
    assert taken == pytest.approx([68.0, 68.0 / 0.99, 68.0])
