"""Drawings for customers say what the catalogue's shapes say, at one scale, and nothing besides.

Areas are held against plane geometry: a rectangle with round corners lacks (4 - pi) r^2 (any
handbook of mathematics). Scales are the reductions of ISO 5455 and dimensions follow ISO 129-1,
both from memory: the line is as long as what it measures and no thicker than an outline, its number
stands along it, R goes before a radius.
"""

from __future__ import annotations

import math
import re
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

from quoter.catalogue.options import Option
from quoter.catalogue.parts import Shape
from quoter.pages.public.drawn_parts import drawing_of
from quoter.pages.public.drawn_views import DrawingView, PartView
from quoter.pages.public.site import MarketSheet, PublicSite
from quoter.pricing.price import Pricing
from quoter.pricing.seen import shape_seen
from tests.catalogues.written import FOLDER, priced
from tests.pages.parsed import Page
from tests.pages.test_part_drawing import area_of, closed_paths
from tests.pages.variants import small_with

REDUCTIONS = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}  # ISO 5455
TO_A_HUNDREDTH = 0.011  # millimetres of paper, as coordinates are written
NBSP = "\N{NO-BREAK SPACE}"
MADE_OF_PARTS = {
    "side_single": ["door"],
    "side_pair": ["door"],
    "side_step": ["door", "step"],
    "side_ramp": ["ramp"],
    "transom_door": ["door"],
    "companion_door": ["door"],
    "companion_wide": ["door"],
    "console_door": ["door"],
    "deck_hatch": ["lid"],
    "anchor_lid": ["lid"],
    "fish_lid": ["lid"],
    "seat_base": ["seat"],
    "sole_panels": ["panel"],
    "roof_panel": ["roof"],
}


def drawn(pricing: Pricing, option: str, model: str) -> DrawingView:
    found = drawing_of(pricing.catalogue, pricing.catalogue.records.options[option], model)
    assert found is not None
    return found


def some_model(pricing: Pricing, option: str) -> str:
    return next(str(id) for id, model in pricing.models.items() if option in model.options)


def shapes(pricing: Pricing, option: Option, model: str) -> list[Shape]:
    """The shapes of an option's seen parts, by its own words."""
    parts = pricing.catalogue.records.parts
    found = [shape_seen(parts[str(use.part)], use, model) for use in option.parts]
    return [shape for shape in found if shape is not None]


def size(part: PartView) -> tuple[float, float]:
    """How wide and high an outline is on paper."""
    xs, ys = zip(*closed_paths(part.outline.written)[0], strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def mm(length: object) -> float:
    return float(length.value) * 1000  # type: ignore[attr-defined]


def test_each_option_made_of_parts_is_drawn_as_what_it_is(demo_pricing: Pricing) -> None:
    told = {
        id: [part.what for part in found.parts]
        for id, option in demo_pricing.catalogue.records.options.items()
        if (found := drawing_of(demo_pricing.catalogue, option, some_model(demo_pricing, id)))
    }
    assert told == MADE_OF_PARTS
    for id in ("ramp_hoist", "buoyancy", "hull_blue"):
        assert id in demo_pricing.catalogue.records.options, (
            "goods, a fill and a colour: no picture"
        )


@pytest.mark.parametrize("option", MADE_OF_PARTS)
def test_an_outline_is_to_a_scale_of_the_standard_and_as_large_as_its_shape(
    demo_pricing: Pricing, option: str
) -> None:
    record = demo_pricing.catalogue.records.options[option]
    model = some_model(demo_pricing, option)
    scales = set()
    for part, shape in zip(
        drawn(demo_pricing, option, model).parts, shapes(demo_pricing, record, model), strict=True
    ):
        width, height = size(part)
        scale = round(mm(shape.width) / width)
        scales.add(scale)
        assert width * scale == pytest.approx(mm(shape.width), abs=TO_A_HUNDREDTH * scale * 2)
        assert height * scale == pytest.approx(mm(shape.height), abs=TO_A_HUNDREDTH * scale * 2)
        radius = mm(shape.corner_radius)
        exact = mm(shape.width) * mm(shape.height) - (4 - math.pi) * radius**2
        assert area_of(part.outline.written) * scale**2 == pytest.approx(exact, rel=0.003)
    assert len(scales) == 1, "parts of an option are drawn at one scale"
    assert scales <= REDUCTIONS


def lines(written: str) -> list[tuple[float, float, float, float]]:
    """The straight lines of a path in absolute coordinates, such as dimension lines are."""
    found = re.findall(r"M(-?[\d.]+) (-?[\d.]+)L(-?[\d.]+) (-?[\d.]+)", written)
    return [tuple(map(float, each)) for each in found]  # type: ignore[misc]


@pytest.mark.parametrize("option", MADE_OF_PARTS)
def test_a_dimension_line_is_as_long_as_what_it_tells(demo_pricing: Pricing, option: str) -> None:
    view = drawn(demo_pricing, option, some_model(demo_pricing, option))
    for part in view.parts:
        wide, high = size(part)
        across, along, *radius = part.labels
        assert (across.length, along.length) == (part.told.width, part.told.height)
        lengths = [max(math.dist(line[:2], line[2:]) for line in lines(label.line.written))
                   for label in (across, along)]  # fmt: skip
        assert lengths == pytest.approx([wide, high], abs=2 * TO_A_HUNDREDTH)
        assert across.turn.written.startswith("rotate(0 ")
        assert along.turn.written.startswith("rotate(-90 "), "read from the right"
        assert [label.length for label in radius] == [part.told.radius]
        assert all(label.what == "radius" for label in radius)


def test_a_door_worked_by_hand(demo_pricing: Pricing) -> None:
    """By hand: 720 by 840 mm at 1:20 is 36 by 42 mm of paper, 29 mm at 1:2 a section of 14.5."""
    (door,) = drawn(demo_pricing, "side_single", "weekender_86").parts
    assert size(door) == pytest.approx((36, 42), abs=2 * TO_A_HUNDREDTH)
    assert door.clear is not None
    assert door.section is not None
    assert door.section.core is not None
    xs, ys = zip(*closed_paths(door.clear.written)[0], strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((30, 37), abs=0.03)
    assert [(each.kind, each.count, each.edge) for each in door.fitted] == [
        ("hinge", 2, "left"),
        ("latch", 2, "right"),
    ]
    slab, core = (closed_paths(path.written)[0] for path in (door.section.slab, door.section.core))
    assert max(y for _, y in slab) - min(y for _, y in slab) == pytest.approx(14.5, abs=0.03)
    assert max(y for _, y in core) - min(y for _, y in core) == pytest.approx(11, abs=0.03)
    assert (door.section.thickness, door.section.core_thickness) != (None, None)


def test_fittings_are_as_many_as_the_goods_and_stand_where_hinges_do(demo_pricing: Pricing) -> None:
    """As many as the option's goods say, by hand: of six latches two on each of three panels."""
    pair = drawn(demo_pricing, "side_pair", "weekender_86").parts[0]
    assert pair.count == 2
    assert {each.kind: each.count for each in pair.fitted} == {"hinge": 2, "latch": 2}
    door, step = drawn(demo_pricing, "side_step", "weekender_86").parts
    assert {each.kind: each.count for each in door.fitted} == {"hinge": 3, "latch": 2}
    assert step.fitted == ()
    sole = drawn(demo_pricing, "sole_panels", "weekender_86").parts[0]
    assert [(each.kind, each.count, each.edge) for each in sole.fitted] == [("latch", 2, "")]
    assert len(sole.copies) == 2, "three panels side by side"
    roof = drawn(demo_pricing, "roof_panel", "open_68").parts[0]
    assert [(each.kind, each.count) for each in roof.fitted] == [("leg", 4)]
    assert roof.fittings is not None
    assert len(closed_paths(roof.fittings.written)) == 4
    ramp = drawn(demo_pricing, "side_ramp", "coastal_98").parts[0]
    assert door.fittings is not None
    assert ramp.fitted[0].edge == "bottom"


def test_layers_are_told_where_the_yard_says_so(demo_pricing: Pricing) -> None:
    """Of the ramp's field, by the catalogue: four layers of mat and one of flow mat."""
    ramp = drawn(demo_pricing, "side_ramp", "coastal_98").parts[0]
    assert ramp.section is not None
    assert ramp.section.plies is not None
    assert [(each.form, each.count) for each in ramp.section.layers] == [
        ("mat", 4),
        ("flow core", 1),
    ]
    assert ramp.section.plies.written.count("M") == 5
    door = drawn(demo_pricing, "side_single", "coastal_98").parts[0]
    assert door.section is not None
    assert door.section.layers == ()
    assert door.section.plies is None


def test_an_option_keeps_its_own_shape(demo_pricing: Pricing) -> None:
    """The wide cabin door is the same part in another shape: 760 by 1180 mm."""
    part = drawn(demo_pricing, "companion_wide", "weekender_86").parts[0]
    assert [part.told.width.amount, part.told.height.amount] == [Decimal(760), Decimal(1180)]


# of a small yard, whose lid is drawn

LID = "shape: {width: 500 mm, height: 500 mm, corner_radius: 50 mm}"


def lid_drawn(folder: Path, drawing: str, **changes: dict[str, str]) -> Pricing:
    words = {"parts.yaml": {LID: f"{LID}\n    drawing: {drawing}"}}
    for name, more in changes.items():
        words.setdefault(f"{name}.yaml", {}).update(more)
    return small_with(folder, words)


def drawings_of(pricing: Pricing) -> list[bytes]:
    """All drawings of parts in the yard's pages of models."""
    site = PublicSite(pricing)
    pages = [
        site.makers[path]() for path in site.makers if "/models/" in path and path.endswith("html")
    ]
    return [
        each
        for page in pages
        for each in re.findall(rb'<svg class="drawing parts".*?</svg>', page, re.DOTALL)
    ]


def test_nothing_is_drawn_that_the_yard_does_not_say(small_pricing: Pricing) -> None:
    assert drawings_of(small_pricing) == []


def test_what_is_not_public_changes_no_byte_of_a_drawing(tmp_path: Path) -> None:
    """Gap, core and stack are the yard's own unless a drawing `shows` them."""
    told, more = (
        "{what: lid, view: above}",
        "{what: lid, view: above, shows: [thickness, core, laminate]}",
    )
    other = {
        "gap: 26.85 mm, core: 20 mm": "gap: 27.5 mm, core: 20.5 mm",
        "volume: 4.957 L": "volume: 5.081 L",
    }
    plain = drawings_of(lid_drawn(tmp_path / "a", told))
    assert plain
    assert plain == drawings_of(lid_drawn(tmp_path / "b", told, parts=other))
    shown = drawings_of(lid_drawn(tmp_path / "c", more))
    assert plain != shown != drawings_of(lid_drawn(tmp_path / "d", more, parts=other))


def test_a_shape_of_which_only_an_area_is_known_there_is_not_drawn(tmp_path: Path) -> None:
    pricing = lid_drawn(tmp_path, "{what: lid, view: above}")
    for option in pricing.catalogue.records.options.values():
        for use in option.parts:
            if use.part == "lid":
                part = pricing.catalogue.records.parts["lid"]
                own = use.model_copy(update={"shape": None, "per_model": {}})
                area = part.shape.model_copy(
                    update={"width": None, "height": None, "corner_radius": None,
                            "area": part.shape.width}
                )  # fmt: skip
                assert shape_seen(part, own, "any") == part.shape
                assert shape_seen(part, own.model_copy(update={"shape": area}), "any") is None
                return
    pytest.fail("no option uses the lid")


def test_a_us_yard_reads_inches(tmp_path: Path) -> None:
    """By the catalogue: 20 by 20 in, corners of 2 in, a gap of 1.057 in and a core of 3/4 in."""
    copy = tmp_path / "us_yard"
    shutil.copytree(FOLDER / "us_yard", copy)
    parts = copy / "parts.yaml"
    text = parts.read_text(encoding="utf-8")
    shape = "shape: {width: 20 in, height: 20 in, corner_radius: 2 in}"
    assert shape in text
    drawing = f"{shape}\n    drawing: {{what: lid, view: above, shows: [thickness, core]}}"
    parts.write_text(text.replace(shape, drawing, 1), encoding="utf-8")
    found = [Page(page) for page in drawings_of(priced(copy))]
    texts = [each.text for each in found[0].all("text")]
    plain = [text.replace(NBSP, " ") for text in texts]
    assert plain == ["20 in", "20 in", "R 2 in", "Thickness 1.06 in", "Core 0.75 in"]
    assert not any("mm" in text for text in plain)


# what stands on the page


def test_a_drawing_says_in_words_all_that_it_shows(demo_pricing: Pricing) -> None:
    site = PublicSite(demo_pricing)
    page = Page(site.makers["en/north/models/weekender_86.html"]())
    svg = page.one("svg", id="drawn-side_single")
    assert svg.attributes["role"] == "img"
    named = svg.attributes["aria-labelledby"].split()
    title, desc = (page.one(tag, id=id) for tag, id in zip(("title", "desc"), named, strict=True))
    assert title.text == "Side entry, single"
    assert desc.text.replace(NBSP, " ") == (
        "Drawn to scale. Door, seen from the front: width 720 mm, height 840 mm, "
        "radius of the corners 90 mm; clear opening: width 600 mm, height 740 mm, "
        "radius of the corners 60 mm; hinges × 2, on the left; latches × 2, on the right; "
        "thickness 29 mm; core 22 mm."
    )


def test_what_is_drawn_alike_is_written_once(demo_pricing: Pricing) -> None:
    sheet = PublicSite(demo_pricing).sheets["en/home"]
    assert isinstance(sheet, MarketSheet)
    page = Page(sheet.makers()["models/weekender_86.html"]())
    uses = [each.attributes["href"] for each in page.all("use")]
    assert uses.count("#drawn-sole_panels-1") == 2
    ids = [each.attributes["id"] for each in page.elements if "id" in each.attributes]
    assert len(ids) == len(set(ids))
    assert not page.faults


CLIPPED = """() => [...document.querySelectorAll('svg.parts')].flatMap(svg => {
    const sheet = svg.getBoundingClientRect();
    return [...svg.querySelectorAll('text')].filter(text => {
        const words = text.getBoundingClientRect();
        return words.left < sheet.left - 1 || words.right > sheet.right + 1
            || words.top < sheet.top - 1 || words.bottom > sheet.bottom + 1;
    }).map(text => `${svg.id}: ${text.textContent}`);
})"""


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", "de", "fr", "nb", "es"])
def test_words_of_a_drawing_stay_within_it_and_are_to_be_read(
    demo_folder: Path, language: str
) -> None:
    """At 320 px too, where letters are as large as at full size: 12 px and more."""
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        tab = chromium.new_page(viewport={"width": 320, "height": 640})
        for page in ("models/coastal_98.html", "models/open_68.html", "list.html"):
            tab.goto((demo_folder / "site" / language / "home" / page).as_uri())
            assert tab.locator("svg.parts").count() >= 3
            assert tab.evaluate(CLIPPED) == []
            shown = "[...document.querySelectorAll('svg.parts')].map(svg => svg.clientWidth)"
            assert min(tab.evaluate(shown)) >= 280
        chromium.close()
