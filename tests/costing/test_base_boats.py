"""Base boats that are built up, in round numbers: parts, goods and work beside what is stated."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.stated_share import stated_of
from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draw, draws_of
from quoter.pages.papers import papers_of
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue

CLOSE = 1e-12
STATED = """\
    base:
      materials: {hand_resin: 50 kg}
      material: {hardware: 200 EUR}
      hours: {moulding: 10 h, machining: 2 h, fitting: 5 h}
      tooling: 100 EUR
      mass: 150 kg
"""
# Two trays, ten hinges and an hour and a half of work are built up, the rest is as it was.
BUILT_UP = """\
      batch: 2
      parts:
        - {part: tray, quantity: 2}
      goods:
        - {item: hinge, quantity: 10}
      operations:
        - {name: Fit the trays, station: fitting, uses: [goods], setup: 1 h, fixed: 1 h}
"""


def made(folder: Path, base: str) -> Pricing:
    changes = {"models.yaml": (STATED, base)}
    return priced(write_catalogue(folder, {}, changes, base=FOLDER / "year"))


@pytest.fixture(scope="module")
def before() -> Assembly:
    return priced(FOLDER / "year").models["dinghy"].boat.assembly


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    return made(tmp_path_factory.mktemp("built") / "c", STATED + BUILT_UP)


def test_a_boat_costs_its_parts_goods_and_work_beside_what_is_stated(
    built: Pricing, before: Assembly
) -> None:
    boat, rates = built.models["dinghy"].boat.assembly, built.costing.rates
    tray = built.costing.parts["part.tray"]
    (work,) = boat.operations
    fitting = rates.stations["fitting"]
    labour = work.paid.value * fitting.labour.value
    own = labour * (1 + fitting.variable.value + fitting.fixed.value)  # absorbed on labour cost
    own *= 1 + rates.general.value
    hinges = 10 * rates.prices["hinge"].value * (1 + rates.handling.value)
    expected = before.cost.value + 2 * tray.cost.value + own + hinges
    assert boat.cost.value == pytest.approx(expected, rel=CLOSE)
    assert boat.cost.value == pytest.approx(sum(f.value for f in boat.elements.values()), rel=CLOSE)
    assert boat.mass.value == pytest.approx(150 + 2 * tray.mass.value + 10 * 0.5, rel=CLOSE)
    hours = before.all_hours.value + 2 * tray.all_hours.value + work.paid.value
    assert boat.all_hours.value == pytest.approx(hours, rel=CLOSE)


def test_a_boat_draws_on_what_its_parts_do(built: Pricing, before: Assembly) -> None:
    boat = draws_of(built.models["dinghy"].boat.assembly, {})
    tray = draws_of(built.costing.parts["part.tray"], {})
    stated = draws_of(before, {})
    for draw in {*tray, *stated}:
        if draw.id == "fitting":
            continue
        alone = stated[draw].value if draw in stated else 0.0
        inside = 2 * tray[draw].value if draw in tray else 0.0
        assert boat[draw].value == pytest.approx(alone + inside, rel=CLOSE), draw
    assert boat[Draw("part", "part.tray")].value == 2.0
    assert boat[Draw("material", "hinge")].value == 10.0


def test_what_is_stated_is_told_as_a_share(built: Pricing, before: Assembly) -> None:
    boat = built.models["dinghy"].boat.assembly
    shares = {each.what: each for each in stated_of(boat)}
    assert [*shares] == ["cost", "material", "hours", "mass", "organic HAP"]
    stated = {"cost": before.cost, "hours": before.all_hours, "mass": before.mass}
    for what, figure in stated.items():
        assert shares[what].stated.value == pytest.approx(figure.value, rel=CLOSE), what
        assert shares[what].share.value == pytest.approx(
            figure.value / shares[what].whole.value, rel=CLOSE
        )
    assert shares["mass"].whole.value == boat.mass.value
    resin = 50 * 0.014 * 35**2.275 / 1000
    assert shares["organic HAP"].stated.value == pytest.approx(resin, rel=CLOSE)
    assert {each.share.form for each in shares.values()} == {"percent"}


def test_an_option_has_nothing_stated(built: Pricing) -> None:
    assert stated_of(built.models["dinghy"].options["bench"].assembly) == []


def test_of_a_boat_that_is_all_stated_all_of_it_is(before: Assembly) -> None:
    assert {each.share.value for each in stated_of(before)} == {1.0}


def test_what_scraps_a_boat_loses_what_is_built_up_and_not_what_is_stated(tmp_path: Path) -> None:
    """Every other boat fails with the trays in it: two more of them a good boat, no more resin."""
    work = BUILT_UP.replace("fixed: 1 h}", "fixed: 1 h, passes: 50 %}")
    pricing = made(tmp_path / "c", STATED + work)
    boat = draws_of(pricing.models["dinghy"].boat.assembly, {})
    assert boat[Draw("part", "part.tray")].value == pytest.approx(4.0, rel=CLOSE)
    tray = draws_of(pricing.costing.parts["part.tray"], {})[Draw("material", "hand_resin")].value
    assert boat[Draw("material", "hand_resin")].value == pytest.approx(50 + 4 * tray, rel=CLOSE)


def test_a_boat_may_be_built_up_alone(tmp_path: Path) -> None:
    base = "    base:\n" + BUILT_UP
    pricing = made(tmp_path / "c", base)
    boat = pricing.models["dinghy"].boat.assembly
    assert stated_of(boat) == []
    assert boat.mass.value == pytest.approx(
        2 * pricing.costing.parts["part.tray"].mass.value + 5, rel=CLOSE
    )


def test_a_part_has_a_shape_of_its_own_in_a_boat(tmp_path: Path) -> None:
    twice = BUILT_UP.replace("quantity: 2}", "shape: {area: 2 m2}}")
    pricing = made(tmp_path / "c", STATED + twice)
    (use,) = pricing.models["dinghy"].boat.assembly.recipe.uses
    assert use.assembly.recipe.key == "part.tray__boat__dinghy__1"
    assert use.assembly.recipe.drivers["area"].value == 2.0


def test_a_built_up_boat_has_a_shop_paper_of_its_own_parts(built: Pricing) -> None:
    paper, *others = papers_of(built, built.models["dinghy"])
    assert (paper.option_id, paper.option) == ("base-boat", "Base boat")
    assert [(part.name, int(part.quantity)) for part in paper.parts] == [("Tray", 2), ("Dinghy", 1)]
    own = paper.parts[-1]
    assert [row.name for row in own.goods] == ["Hinge"]
    assert [step.name for step in own.steps] == ["Fit the trays"]
    assert (own.mixes, own.plies) == ((), ())
    assert "base-boat" not in {other.option_id for other in others}
    launch = papers_of(built, built.models["launch"])
    assert "base-boat" not in {each.option_id for each in launch}
