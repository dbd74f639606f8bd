"""What a good unit draws on stores, stations and moulds, with all that yields and rework take."""

from __future__ import annotations

import math
from collections import defaultdict
from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draw, Draws, draws_of
from quoter.costing.quantities import entry_of
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, MODEL, OPTION, priced, write_catalogue
from tests.demo import assemblies, demo

CLOSE = 1e-12
# The tray passes 90 % at laminating and 95 % at trimming, the cover 80 %, fitting a locker 50 %.
TRAY, COVER = 0.90 * 0.95, 0.80
STEPS = (("Cut", "97 %"), ("Join", "95 %"), ("Check", "93 %"))
OPERATIONS = """\
      - {name: Assembling, station: assembly, fixed: 2.75 h}
      - {name: Finishing, station: finishing, fixed: 4 h}
"""


@pytest.fixture(scope="module")
def year() -> Pricing:
    return priced(FOLDER / "year")


def draws(assembly: Assembly) -> dict[tuple[str, str], float]:
    return {(draw.kind, draw.id): figure.value for draw, figure in draws_of(assembly, {}).items()}


def option(year: Pricing, id: str, model: str = "dinghy") -> Assembly:
    return year.models[model].options[id].assembly


def test_a_part_draws_each_thing_once_for_every_good_one(year: Pricing) -> None:
    """By hand: 2 m2 of 0.5 mm gelcoat at 1.25 kg/L, 80 % on the part; 0.9 kg/m2 of mat at 30 %."""
    gelcoat, glass = 2 * 0.625 / 0.8, 2 * 0.9
    resin = glass * 0.7 / 0.3
    assert draws(year.costing.parts["part.tray"]) == pytest.approx(
        {
            ("material", "white"): gelcoat / TRAY,
            ("material", "mat"): glass / TRAY,
            ("material", "hand_resin"): resin / TRAY,
            ("material", "peroxide"): 0.02 * (gelcoat + resin) / TRAY,
            # Point values of 40 CFR 63 Subpart VVVV, Table 3: gelcoat, and resin not sprayed.
            ("emission", "organic HAP"): (0.445 * 33**1.675 * gelcoat + 0.014 * 35**2.275 * resin)
            / 1000
            / TRAY,
            ("emission", "styrene"): (0.445 * 33**1.675 * gelcoat + 0.014 * 35**2.275 * resin)
            / 1000
            / TRAY,
            ("applied", "pigmented gelcoat"): gelcoat / TRAY,
            ("applied", "production resin"): resin / TRAY,
            ("pulls", "tray_mould"): 1 / TRAY,
            # In the mould: half an hour of spraying, 2 h of cure, 45 min by two people, 10 h.
            ("work", "tray_mould"): 1.25 / TRAY,
            ("cure", "tray_mould"): 12.0 / TRAY,
            # 24 min, and 36 min for each of two, at 80 %; 20 % are mended in 30 min at 80 %.
            ("hours", "moulding"): (0.5 + 1.5 + 0.2 * 0.5 / 0.8) / TRAY,
            ("base", "moulding"): (0.5 + 1.5 + 0.2 * 0.5 / 0.8) / TRAY,
            # 12 min, and 10 % mended in 12 min; half an hour of machine, none for mending.
            ("hours", "machining"): (0.2 + 0.1 * 0.2) / 0.95,
            ("base", "machining"): (0.5 + 0.1 * 0.2) / 0.95,
        },
        rel=CLOSE,
    )


def test_a_base_of_labour_cost_is_money(year: Pricing) -> None:
    """Half an hour of finishing at 30 an hour; nothing is scrapped at or after it."""
    found = draws_of(year.costing.parts["part.cover"], {})
    base = found[Draw("base", "fitting")]
    assert base.value == pytest.approx(15.0, rel=CLOSE)
    assert str(base.unit) == "EUR"
    assert found[Draw("hours", "fitting")].value == pytest.approx(0.5, rel=CLOSE)


def test_what_is_injected_gives_off_nothing_but_its_gelcoat_does(year: Pricing) -> None:
    """40 CFR 63.5728: a closed mould has no open-moulding emission, gelcoat sprayed before has."""
    found = draws(year.costing.parts["part.cover"])
    gelcoat = 0.625 / 0.8
    expected = 0.445 * 33**1.675 * gelcoat / 1000 / COVER
    assert found["emission", "organic HAP"] == pytest.approx(expected, rel=CLOSE)


def test_an_option_draws_on_what_its_parts_do_as_often_as_it_uses_them(year: Pricing) -> None:
    """Two trays count twice, the cover once; nothing is scrapped at fitting."""
    bench = draws(option(year, "bench"))
    tray, cover = (draws(year.costing.parts[f"part.{id}"]) for id in ("tray", "cover"))
    own = {("material", "hinge"): 3.0, ("part", "part.tray"): 2.0, ("part", "part.cover"): 1.0}
    # An hour of fitting, and half of the benches are mended in half an hour, at 30 an hour.
    own |= {("hours", "fitting"): 1.25, ("base", "fitting"): 37.5}
    for draw in {*tray, *cover, *own}:
        expected = 2 * tray.get(draw, 0.0) + cover.get(draw, 0.0) + own.get(draw, 0.0)
        assert bench[draw] == pytest.approx(expected, rel=CLOSE), draw
    assert bench.keys() == {*tray, *cover, *own}


def test_scrapping_an_option_takes_its_part_along(year: Pricing) -> None:
    """Every other locker is scrapped, with the tray in it and the half hour spent."""
    locker = draws(option(year, "locker"))
    tray = draws(year.costing.parts["part.tray"])
    for draw, amount in tray.items():
        assert locker[draw] == pytest.approx(2 * amount, rel=CLOSE), draw
    assert locker["part", "part.tray"] == pytest.approx(2.0, rel=CLOSE)
    assert locker["hours", "fitting"] == pytest.approx(1.0, rel=CLOSE)


def test_a_credit_takes_off_what_the_deleted_part_draws(year: Pricing) -> None:
    """Half of a tray, with what its scrap takes; a part never made is not scrapped again."""
    lid = draws(option(year, "lid"))
    tray, cover = (draws(year.costing.parts[f"part.{id}"]) for id in ("tray", "cover"))
    own = {("part", "part.tray"): -0.5, ("part", "part.cover"): 1.0}
    own |= {("hours", "fitting"): 0.5, ("base", "fitting"): 15.0}
    for draw in {*tray, *cover, *own}:
        expected = cover.get(draw, 0.0) - 0.5 * tray.get(draw, 0.0) + own.get(draw, 0.0)
        assert lid[draw] == pytest.approx(expected, rel=1e-9), draw


def test_scrapping_an_option_does_not_scrap_what_it_deletes(tmp_path: Path) -> None:
    """Every other lid is scrapped, with its cover; half a tray is saved once."""
    changes = {"options.yaml": ("fixed: 30 min}", "fixed: 30 min, passes: 50 %}")}
    made = priced(write_catalogue(tmp_path / "c", {}, changes, base=FOLDER / "year"))
    lid, tray = draws(option(made, "lid")), draws(made.costing.parts["part.tray"])
    assert lid["part", "part.cover"] == pytest.approx(2.0, rel=CLOSE)
    assert lid["part", "part.tray"] == pytest.approx(-0.5, rel=CLOSE)
    assert lid["pulls", "tray_mould"] == pytest.approx(-0.5 / TRAY, rel=CLOSE)
    cover = draws(made.costing.parts["part.cover"])["material", "mat"]
    expected = 2 * cover - 0.5 * tray["material", "mat"]
    assert lid["material", "mat"] == pytest.approx(expected, rel=CLOSE)


def test_a_package_draws_what_its_options_do(year: Pricing) -> None:
    both = draws(year.models["dinghy"].packages["both"].assembly)
    bench, locker = (draws(option(year, id)) for id in ("bench", "locker"))
    for draw in {*bench, *locker}:
        expected = bench.get(draw, 0.0) + locker.get(draw, 0.0)
        assert both[draw] == pytest.approx(expected, rel=CLOSE), draw


def test_a_boat_draws_what_is_stated_and_its_standard_options(year: Pricing) -> None:
    def of_boat(id: str) -> dict[tuple[str, str], float]:
        model = year.models[id]
        found = draws_of(model.boat.assembly, {})
        return {(draw.kind, draw.id): figure.value for draw, figure in found.items()}

    assert of_boat("dinghy") == pytest.approx(
        {
            ("material", "hand_resin"): 50.0,
            ("stated", "hardware"): 200.0,
            # Laid by hand, as long as nothing else is said: Table 3 of 40 CFR 63 Subpart VVVV.
            ("applied", "production resin"): 50.0,
            ("emission", "organic HAP"): 50 * 0.014 * 35**2.275 / 1000,
            ("emission", "styrene"): 50 * 0.014 * 35**2.275 / 1000,
            ("hours", "moulding"): 10.0,
            ("base", "moulding"): 10.0,
            ("hours", "machining"): 2.0,
            ("base", "machining"): 2.0,
            ("hours", "fitting"): 5.0,
            ("base", "fitting"): 150.0,
        },
        rel=CLOSE,
    )
    locker = draws(option(year, "locker", "launch"))
    stated = {("hours", "moulding"): 20.0, ("base", "moulding"): 20.0}
    stated |= {("hours", "fitting"): 10.0, ("base", "fitting"): 300.0}
    for draw, amount in of_boat("launch").items():
        expected = locker.get(draw, 0.0) + stated.get(draw, 0.0)
        assert amount == pytest.approx(expected, rel=CLOSE), draw


def test_draws_of_a_shared_part_are_made_once_and_counted_at_each_use(year: Pricing) -> None:
    known: dict[str, Draws] = {}
    for id in ("bench", "locker", "lid"):
        draws_of(option(year, id), known)
    trays = [key for key in known if key.startswith("part.")]
    assert sorted(trays) == ["part.cover", "part.tray"]
    assert draws_of(year.costing.parts["part.tray"], known) is known["part.tray"]


def test_hours_drawn_are_all_hours() -> None:
    """Those by station, of rework, and lost to yield; for every part and option of the demo."""
    tried = 0
    for key, made in assemblies().items():
        if key.startswith("boat."):
            continue
        hours = [f.value for draw, f in draws_of(made, {}).items() if draw.kind == "hours"]
        assert math.isclose(sum(hours), made.all_hours.value, rel_tol=1e-9, abs_tol=1e-9), key
        tried += 1
    for id, model in demo().models.items():
        boat = model.boat.assembly
        drawn = draws_of(boat, {})
        hours = [f.value for draw, f in drawn.items() if draw.kind == "hours"]
        assert sum(hours) == pytest.approx(boat.all_hours.value, rel=1e-9), id
    assert tried > 60


def bought(made: Assembly) -> float:
    """Material of the product and per batch."""
    groups = (made.groups.get(group) for group in ("material", "batch_material"))
    return sum(figure.value for figure in groups if figure is not None)


def lost_material(made: Assembly) -> float:
    """The cost of the material, own and in parts, that scrap takes along per good unit."""
    lost = 0.0
    for material in made.materials:
        passed = passing_from(made, entry_of(made.recipe.operations, material.line.stage))
        lost += material.cost.value * (1 / passed - 1)
    for use in made.recipe.uses:
        inside = bought(use.assembly)
        below = lost_material(use.assembly)
        at = 1.0 if use.credit else passing_from(made, entry_of(made.recipe.operations, "core"))
        lost += use.quantity.value * ((inside + below) / at - inside)
    return lost


def passing_from(made: Assembly, at: int) -> float:
    passes = [operation.passes for operation in made.recipe.operations[at:]]
    return math.prod(passed.value for passed in passes if passed is not None)


def test_material_drawn_costs_the_material_and_what_scrap_took_by_hand(year: Pricing) -> None:
    """A tray: 12.5 of gelcoat, 3.6 of mat, 16.8 of resin and 1.1525 of catalyst, over 85.5 %."""
    tray, prices = year.costing.parts["part.tray"], year.costing.rates.prices
    used = draws_of(tray, {}).items()
    spent = sum(f.value * prices[draw.id].value for draw, f in used if draw.kind == "material")
    assert spent == pytest.approx(34.0525 / TRAY, rel=CLOSE)
    assert tray.groups["material"].value == pytest.approx(34.0525, rel=CLOSE)


def test_what_enters_late_is_scrapped_by_what_follows_only(tmp_path: Path) -> None:
    """4 lb that enter at the second of three operations, which pass 97, 95 and 93 %."""
    steps = [f"{{name: {n}, station: assembly, fixed: 0 h, passes: {p}}}" for n, p in STEPS]
    steps[1] = steps[1].replace("}", ", uses: [goods]}")
    changes = {"options.yaml": (OPERATIONS, "".join(f"      - {step}\n" for step in steps))}
    made = priced(write_catalogue(tmp_path / "c", {}, changes)).models[MODEL].options[OPTION]
    drawn = draws(made.assembly)["material", "direct_material"]
    assert drawn == pytest.approx(4 * 0.45359237 / (0.95 * 0.93), rel=CLOSE)


def test_material_drawn_at_its_price_is_the_material_and_what_scrap_took_of_it() -> None:
    """Every part and option of the demo; no class of material is lost on the way."""
    prices, classes = demo().costing.rates.prices, demo().costing.rates.classes
    for key, made in assemblies().items():
        if key.startswith("boat."):
            continue
        spent: dict[str, float] = defaultdict(float)
        for draw, amount in draws_of(made, {}).items():
            if draw.kind == "material":
                spent[classes[draw.id]] += amount.value * prices[draw.id].value
        found = {element.partition(".")[2] for element in made.elements if "material." in element}
        assert spent.keys() <= found, key
        expected = bought(made) + lost_material(made)
        assert math.isclose(sum(spent.values()), expected, rel_tol=1e-9, abs_tol=1e-9), key
