"""A hull colour recolours the other options of its boat.

What a boat costs is held against another catalogue, whose boat has that hull colour from the start.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.pricing.configured import Configured, configure
from quoter.pricing.price import Pricing
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO, demo

CLOSE = 1e-12
MODEL = "weekender_86"
WHITE, BLUE = (f"    hull_colour: gel_{colour}\n" for colour in ("white", "blue"))
STANDARD_DOOR = (
    "models.yaml",
    "    standard: [anchor_lid, companion_door]\n",
    "    standard: [anchor_lid, companion_door, transom_door]\n",
)
PACKAGE = "    options: [side_single, transom_door]\n"
NO_DOOR_IN_PACKAGE = ("options.yaml", PACKAGE, "    options: [side_single, seat_base]\n")
STEP = "    name: Side entry, wide with step\n"
IN_PLACE = ("options.yaml", STEP, f"{STEP}    credits: [{{option: transom_door}}]\n")


def edited(folder: Path, *changes: tuple[str, str, str], blue: bool = False) -> Pricing:
    """The demonstration with texts changed, `blue` with that hull colour of the weekender's own."""
    yard = write_catalogue(folder, {}, base=DEMO)
    for name, old, new in changes:
        text = (yard / name).read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        (yard / name).write_text(text.replace(old, new), encoding="utf-8")
    if blue:
        path = yard / "models.yaml"
        before, id, after = path.read_text(encoding="utf-8").partition(f"  - id: {MODEL}\n")
        path.write_text(before + id + after.replace(WHITE, BLUE, 1), encoding="utf-8")
    return priced(yard)


def chosen(pricing: Pricing, *ids: str) -> Configured:
    return configure(pricing.terms, pricing.models[MODEL], dict.fromkeys(ids, 1))


def amounts(boat: Configured) -> dict[str, float]:
    return {
        "cost": boat.cost.value,
        "variable": boat.variable.value,
        "mass": boat.mass.value,
        "hours": boat.hours.value,
    }


def agree(white: Pricing, blue: Pricing, *ids: str) -> None:
    """A white boat with the colour costs what a blue one does with it, which moves nothing there.

    The colour itself costs the same on both: it is in the place of white topsides.
    """
    moved = chosen(white, *ids, "hull_blue")
    assert amounts(moved) == pytest.approx(amounts(chosen(blue, *ids, "hull_blue")), rel=CLOSE)
    assert moved.cost.value > chosen(white, *ids).cost.value + colour_alone(white) + 1.0


def colour_alone(pricing: Pricing) -> float:
    return pricing.models[MODEL].options["hull_blue"].assembly.cost.value


@pytest.mark.parametrize(
    "ids",
    [("side_single",), ("side_pair", "transom_door", "seat_base"), ("easy_boarding",)],
    ids=["a door", "several", "a package"],
)
def test_a_white_boat_in_blue_costs_what_a_blue_boat_does(
    tmp_path: Path, ids: tuple[str, ...]
) -> None:
    agree(demo(), edited(tmp_path / "c", blue=True), *ids)


def test_a_difference_is_that_of_every_element(tmp_path: Path) -> None:
    blue = edited(tmp_path / "c", blue=True).models[MODEL].options["side_pair"].assembly
    white = demo().models[MODEL].options["side_pair"].assembly
    moved = demo().costing.models[MODEL].recoloured["side_pair", "hull_blue"]
    assert {"material.gelcoat", "material.catalyst", "handling"} < set(moved.elements)
    for element, figure in moved.elements.items():
        expected = blue.elements[element].value - white.elements[element].value
        assert figure.value == pytest.approx(expected, rel=1e-9, abs=1e-12), element


def test_standard_equipment_takes_the_colour_too(tmp_path: Path) -> None:
    changes = (STANDARD_DOOR, NO_DOOR_IN_PACKAGE)
    white = edited(tmp_path / "white", *changes)
    agree(white, edited(tmp_path / "blue", *changes, blue=True))


def test_what_makes_room_for_an_option_is_credited_in_the_boat_s_colour(tmp_path: Path) -> None:
    """The door that the step replaces leaves no white or blue face behind."""
    changes = (STANDARD_DOOR, NO_DOOR_IN_PACKAGE, IN_PLACE)
    white = edited(tmp_path / "white", *changes)
    agree(white, edited(tmp_path / "blue", *changes, blue=True), "side_step")


def test_a_package_of_a_door_and_a_colour_holds_the_door_in_it(tmp_path: Path) -> None:
    together = ("options.yaml", PACKAGE, "    options: [side_single, hull_blue]\n")
    pricing = edited(tmp_path / "c", together)
    made = chosen(pricing, "easy_boarding")
    apart = chosen(demo(), "side_single", "hull_blue")
    assert amounts(made) == pytest.approx(amounts(apart), rel=CLOSE)
    # The package's price is that of its options less the saving of 4 %, and asks no surcharge.
    options = pricing.models[MODEL].options
    listed = options["side_single"].list_price.value + options["hull_blue"].list_price.value
    assert pricing.models[MODEL].packages["easy_boarding"].list_price.value < listed * 0.96 + 0.01


def test_the_price_of_a_pair_is_the_sum_and_what_the_catalogue_asks_for_it() -> None:
    extras = demo().models[MODEL].extras
    boat = demo().models[MODEL].boat.list_price.value
    for door, asked in (("side_single", 60.0), ("side_pair", 0.0)):
        listed = boat + extras[door].list_price.value + extras["hull_blue"].list_price.value
        found = chosen(demo(), door, "hull_blue").list_price.value
        assert found == pytest.approx(listed + asked, rel=CLOSE), door
    packed = chosen(demo(), "easy_boarding", "hull_blue").list_price.value
    listed = boat + extras["easy_boarding"].list_price.value + extras["hull_blue"].list_price.value
    assert packed == pytest.approx(listed + 60.0, rel=CLOSE)


def test_a_boat_without_other_colours_has_no_pairs() -> None:
    assert demo().costing.models["passage_120"].recoloured == {}
    assert demo().models["passage_120"].pairs == ()
    found = {pair.id for pair in demo().models[MODEL].pairs}
    doors = ("side_single", "side_pair", "side_step", "transom_door")
    assert found == {f"{door}+hull_{colour}" for door in doors for colour in ("blue", "grey")}


def test_a_colour_may_be_standard(tmp_path: Path) -> None:
    """Its colour is then what doors are made in, and another one moves them from there."""
    _, plain, _ = STANDARD_DOOR
    standard = ("models.yaml", plain, plain.replace("]", ", hull_blue]"))
    grey = "      - {part: topsides_grey, per_model: *topsides}\n    credits:\n"
    in_place = ("options.yaml", grey, f"{grey}      - {{option: hull_blue}}\n")
    model = edited(tmp_path / "c", standard, in_place).models[MODEL]
    blue = edited(tmp_path / "blue", blue=True).models[MODEL]
    for door in ("side_single", "transom_door"):
        expected = blue.options[door].assembly.cost.value
        assert model.options[door].assembly.cost.value == pytest.approx(expected, rel=CLOSE)
    assert {pair.colour for pair in model.pairs} == {"hull_grey"}
