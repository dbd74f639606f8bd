"""Parts in other shapes: per option and per model, and cores that fill what a panel leaves."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from quoter.problems import CatalogueError
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO, assemblies, demo

CLOSE = 1e-12


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


def test_a_wider_panel_takes_a_larger_block(tmp_path: Path) -> None:
    """A panel made wider for one option gets the core that fits it, not the old one."""
    changes = {
        "options.yaml": (
            "      - {part: hatch_lid}\n",
            "      - {part: hatch_lid, shape: {width: 700 mm}}\n",
        ),
        "parts.yaml": (
            "{name: field, laminate: lid_field, area: 0.203 m2, gap: 20 mm, core: 15 mm}",
            "{name: field, laminate: lid_field, share: 64.7 %, gap: 20 mm, core: 15 mm}",
        ),
    }
    wide = priced(write_catalogue(tmp_path / "c", {}, changes, base=DEMO)).costing.parts
    lid = wide["part.hatch_lid__deck_hatch__1"]
    (block,) = (use.assembly for use in lid.recipe.uses)
    area = lid.recipe.drivers["area"].value
    assert area > 0.7 * 0.55
    expected = area * 0.647 * 0.015
    assert block.recipe.drivers["volume"].value == pytest.approx(expected, rel=CLOSE)
    old = assemblies()["part.hatch_lid"].recipe.uses[0].assembly
    assert block.cost.value > old.cost.value


def test_one_option_may_use_a_part_in_two_shapes(tmp_path: Path) -> None:
    changes = {
        "options.yaml": (
            "      - {part: hatch_lid}\n",
            "      - {part: topsides_white, shape: {area: 1 m2}}\n"
            "      - {part: topsides_white, shape: {area: 3 m2}}\n"
            "      - {part: hatch_lid}\n",
        )
    }
    made = priced(write_catalogue(tmp_path / "c", {}, changes, base=DEMO))
    small, large, _ = made.models["open_68"].options["deck_hatch"].assembly.recipe.uses
    areas = [use.assembly.recipe.drivers["area"].value for use in (small, large)]
    assert areas == [1.0, 3.0]
    assert small.assembly.recipe.key != large.assembly.recipe.key


def test_a_shape_of_its_own_and_the_part_s_own_do_not_mix(tmp_path: Path) -> None:
    """The wide step's flange is larger than the single door's, whichever option is costed first."""
    flanges = {
        option: demo().models["weekender_86"].options[option].assembly.recipe.uses[1].assembly
        for option in ("side_single", "side_step")
    }
    areas = {option: part.recipe.drivers["area"].value for option, part in flanges.items()}
    assert areas == {"side_single": 0.42, "side_step": 0.56}


def test_a_block_measured_for_another_panel_is_a_problem(tmp_path: Path) -> None:
    changes = {
        "parts.yaml": (
            "shape: {area: 0.42 m2, thickness: 22 mm}",
            "shape: {area: 0.42 m2, thickness: 30 mm}",
        )
    }
    with pytest.raises(CatalogueError) as caught:
        priced(write_catalogue(tmp_path / "c", {}, changes, base=DEMO))
    told = re.sub(r":\d+:\d+:", ":", str(caught.value))
    assert told == (
        "parts.yaml: core 'core_side_door' holds 12.6 L, "
        "the zones of 'side_door' leave 9.2 L for it\n"
        "    make the block's shape and the zones' core agree"
    )
