"""Parts in other shapes: per option and per model, and cores that fill what a panel leaves."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError
from tests.catalogues.written import FOLDER, priced, write_catalogue
from tests.demo import assemblies, demo

CLOSE = 1e-12
SMALL = FOLDER / "small"


def test_a_model_s_own_shape_changes_the_take_off() -> None:
    """Buoyancy of 320 L on one model and 620 L on another takes foam in that proportion."""
    fills = {
        model: demo().models[model].options["buoyancy"].assembly.recipe.uses[0].assembly
        for model in ("open_68", "weekender_86", "passage_120")
    }
    volumes = {model: part.recipe.drivers["volume"].value for model, part in fills.items()}
    assert volumes == pytest.approx({"open_68": 0.180, "weekender_86": 0.320, "passage_120": 0.620})
    issued = {m: sum(line.issued.value for line in p.recipe.lines) for m, p in fills.items()}
    for model in fills:
        expected = issued["open_68"] * volumes[model] / volumes["open_68"]
        assert issued[model] == pytest.approx(expected, rel=CLOSE)
    assert fills["open_68"].recipe.key == "part.buoyancy_fill"
    assert fills["passage_120"].recipe.key == "part.buoyancy_fill__buoyancy__1__passage_120"


def test_doubling_an_area_doubles_its_gelcoat() -> None:
    """Topsides of 10 m2 on the smallest boat, 20 m2 on the largest that can be coloured."""

    def gelcoat(model: str) -> float:
        colour = demo().models[model].options["hull_blue"].assembly.recipe.uses[0].assembly
        return next(x.line.issued.value for x in colour.materials if x.material_class == "gelcoat")

    assert gelcoat("coastal_98") == pytest.approx(2 * gelcoat("open_68"), rel=CLOSE)


def test_a_part_in_one_shape_is_costed_once_for_all_models() -> None:
    doors = {
        id: model.options["deck_hatch"].assembly.recipe.uses[0].assembly
        for id, model in demo().models.items()
    }
    assert len({id(door) for door in doors.values()}) == 1


def test_a_hull_colour_changes_the_faces_that_follow_it() -> None:
    white = assemblies()["part.side_door__gel_white"]
    grey = assemblies()["part.side_door__gel_grey"]
    colours = [
        [x.line.material for x in p.materials if x.material_class == "gelcoat"]
        for p in (white, grey)
    ]
    assert colours == [["gel_white", "gel_white"], ["gel_grey", "gel_white"]]
    assert grey.cost.value != white.cost.value


def test_the_blocks_of_a_panel_fill_exactly_what_its_zones_leave() -> None:
    tried = 0
    for key, made in assemblies().items():
        cores = [use for use in made.recipe.uses if use.assembly.recipe.id.startswith("core_")]
        if not cores:
            continue
        tried += 1
        filled = made.recipe.drivers["core volume"].value
        blocks = sum(u.assembly.recipe.drivers["volume"].value * u.quantity.value for u in cores)
        assert blocks == pytest.approx(filled, rel=CLOSE), key
    assert tried > 8


def test_a_wider_panel_takes_a_larger_block(small_pricing: Pricing) -> None:
    """A lid made larger for one option gets the core that fits it, not the lid's own."""
    parts = small_pricing.costing.parts
    for key, area in (("part.lid", 0.25), ("part.lid__side_door__2", 0.56)):
        lid = parts[key]
        (block,) = (use.assembly for use in lid.recipe.uses)
        corners = (4 - math.pi) * 0.050**2
        assert lid.recipe.drivers["area"].value == pytest.approx(area - corners, rel=CLOSE)
        volume = block.recipe.drivers["volume"].value
        assert volume == pytest.approx((area - corners) * 0.020, rel=CLOSE)


def test_one_option_may_use_a_part_in_two_shapes(tmp_path: Path) -> None:
    changes = {
        "options.yaml": (
            "      - {part: block, quantity: 3}\n",
            "      - {part: topsides_white, shape: {area: 1 m2}}\n"
            "      - {part: topsides_white, shape: {area: 3 m2}}\n"
            "      - {part: block, quantity: 3}\n",
        )
    }
    made = priced(write_catalogue(tmp_path / "c", {}, changes, base=SMALL))
    one, other, _ = made.models["skiff"].options["box"].assembly.recipe.uses
    areas = [use.assembly.recipe.drivers["area"].value for use in (one, other)]
    assert areas == [1.0, 3.0]
    assert one.assembly.recipe.key != other.assembly.recipe.key


def test_a_shape_of_its_own_and_the_part_s_own_do_not_mix() -> None:
    """The wide step's flange is larger than the single door's, whichever option is costed first."""
    flanges = {
        option: demo().models["weekender_86"].options[option].assembly.recipe.uses[1].assembly
        for option in ("side_single", "side_step")
    }
    areas = {option: part.recipe.drivers["area"].value for option, part in flanges.items()}
    assert areas == {"side_single": 0.42, "side_step": 0.56}


def test_a_block_measured_for_another_panel_is_a_problem(tmp_path: Path) -> None:
    changes = {"parts.yaml": ("shape: {volume: 4.957 L}", "shape: {volume: 6 L}")}
    with pytest.raises(CatalogueError) as caught:
        priced(write_catalogue(tmp_path / "c", {}, changes, base=SMALL))
    told = re.sub(r":\d+:\d+:", ":", str(caught.value))
    assert told == (
        "parts.yaml: core 'block' holds 6.0 L, the zones of 'lid' leave 5.0 L for it "
        "[does-not-fit]\n"
        "    make the block's shape and the zones' core agree"
    )
