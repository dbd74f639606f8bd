"""The drawing of a part says what its shape and zones say, at its scale, and nothing else."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from quoter.catalogue.colours import standard_colour
from quoter.costing.takeoff import take_off
from quoter.figures.readers import METRIC_READER
from quoter.pages.amounts import as_written
from quoter.pages.drawn_shapes import SCALES
from quoter.pages.part_drawing import drawing_of
from quoter.pages.picture_views import Drawing
from quoter.pricing.price import Pricing
from tests.outputs import paper_pages
from tests.pages.parsed import Page
from tests.pages.test_papers import PRICINGS, every_paper, paper_of, part_of
from tests.pages.variants import small_with

STEPS = re.compile(r"([MhvaHz])((?: ?-?[\d.]+)*)")
ARCS = 64  # sides of a quarter of a circle


def closed_paths(path: str) -> list[list[tuple[float, float]]]:
    """Each closed outline of a path as points, in millimetres of paper."""
    found: list[list[tuple[float, float]]] = []
    x = y = 0.0
    for command, given in STEPS.findall(path):
        numbers = [float(each) for each in given.split()]
        if command == "M":
            x, y = numbers
            found.append([(x, y)])
        elif command in "hv":
            x, y = (x + numbers[0], y) if command == "h" else (x, y + numbers[0])
            found[-1].append((x, y))
        elif command == "a":
            radius, *_, right, down = numbers
            found[-1] += quarter(x, y, radius, right, down)
            x, y = x + right, y + down
    return found


def quarter(
    x: float, y: float, radius: float, right: float, down: float
) -> list[tuple[float, float]]:
    """Points of a quarter of a circle, clockwise as on a screen."""
    if not radius:
        return []
    # Clockwise, the middle is beside the start, on the side that the arc turns to.
    middle = (x, y + down) if right * down > 0 else (x + right, y)
    start = math.atan2(y - middle[1], x - middle[0])
    turns = (start + math.pi / 2 * step / ARCS for step in range(1, ARCS + 1))
    return [(middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns]


def area_of(path: str) -> float:
    """What lies between the outlines of a path by the shoelace formula, in square millimetres."""
    outlines = closed_paths(path)
    sizes = [
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(o, o[1:] + o[:1], strict=True))) / 2
        for o in outlines
    ]
    return abs(sizes[0] - sizes[1]) if len(sizes) == 2 else sizes[0]


def drawings(pricing: Pricing) -> list[tuple[str, Drawing]]:
    found = {}
    for paper in every_paper(pricing):
        for part in paper.parts:
            if part.drawing is not None:
                found[part.id] = (part.name, part.drawing)
    return [*found.values()]


@pytest.mark.parametrize("fixture", PRICINGS)
def test_outline_and_strips_are_as_large_as_they_are_costed(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    """By the shoelace formula on the drawn path, against the areas that the costing works with."""
    pricing: Pricing = request.getfixturevalue(fixture)
    records = pricing.catalogue.records
    colour = standard_colour(records, next(iter(records.models.values())))
    seen = 0
    for part in records.parts.values():
        drawing = drawing_of(pricing.catalogue, part, part.shape)
        if drawing is None or not drawing.true:
            continue
        off = take_off(pricing.catalogue, part, "part", None, colour)
        square = drawing.scale**2 / 1e6
        assert area_of(drawing.outline) * square == pytest.approx(
            off.drivers["area"].value, rel=0.005
        )
        zones = [*getattr(part, "zones", ()), *getattr(part, "gelcoat", ())]
        names = [f"part.zone{n}.area" for n in range(1, len(getattr(part, "zones", ())) + 1)]
        areas = {figure.key: figure.value for figure in off.regions.values()}
        flat = {band.hatch: band for band in drawing.bands if band.plan}
        for number, zone in enumerate(zones):
            if zone.strip is None or (zone.lies or "inside") == "upright":
                continue
            drawn = area_of(flat[number].plan) * square
            assert number >= len(names) or drawn == pytest.approx(areas[names[number]], rel=0.01)
            seen += 1
    assert seen or fixture == "small_pricing"


def test_a_drawing_of_a_surround_worked_by_hand(demo_pricing: Pricing) -> None:
    """By hand: with a lap of 140 mm it is 1000 by 1120 mm; at 1:20 that is 50 by 56 mm."""
    surround = part_of(
        paper_of(demo_pricing, "weekender_86", "side_single"), "Surround, single opening"
    )
    drawing = surround.drawing
    assert drawing is not None
    assert (drawing.scale, drawing.edge_scale, drawing.true) == (20, 10, True)
    xs, ys = zip(*closed_paths(drawing.outline)[0], strict=True)
    assert max(xs) - min(xs) == pytest.approx(36, abs=0.02)
    assert max(ys) - min(ys) == pytest.approx(42, abs=0.02)
    told = [(zone.letter, zone.name, zone.lies, zone.is_face) for zone in drawing.zones]
    assert told == [
        ("A", "return", "upright", False),
        ("B", "landing", "inside", False),
        ("C", "lap on the hull", "outside", False),
        ("D", "", "upright", True),
    ]
    amounts = [f"{each.sign}{each.amount.value} {each.amount.unit}" for each in drawing.dimensions]
    strips = ["A 160.0 mm", "B 95.0 mm", "C 140.0 mm", "D 180.0 mm"]
    assert sorted(amounts) == sorted(["720.0 mm", "840.0 mm", "R 90.0 mm", *strips])
    assert len({band.hatch for band in drawing.bands}) == 4, "told apart without colour"


def test_what_is_stated_by_area_alone_is_not_drawn_and_said_so(demo_pricing: Pricing) -> None:
    page = Page(paper_pages(demo_pricing)["weekender_86/side_single.html"])
    text = page.one("section", class_="drawings").text.replace("\N{NO-BREAK SPACE}", " ")
    missing = "Not drawn, since only area or volume are stated: Deck flange, Core of the side door."
    assert missing in text
    assert "Rectangle, 720 mm wide and 840 mm high, corners of 90 mm radius. Plan 1 : 20" in text
    assert "A return, 160 mm high, upright on the edge" in text
    assert "C lap on the hull, 140 mm wide, outside the edge" in text
    assert "field, 0.431 m², not drawn: only its size is stated" in text
    assert len(list(page.all("svg", class_="part-drawing"))) == 2


def test_a_circle_is_drawn_round_and_square_corners_sharp(tmp_path: Path) -> None:
    shapes = {
        "{width: 500 mm, height: 500 mm, corner_radius: 50 mm}": "{diameter: 500 mm}",
        "{width: 700 mm, height: 800 mm, corner_radius: 80 mm}": "{width: 28 in, height: 31.5 in}",
    }
    cores = {"volume: 4.957 L": "volume: 3.927 L"}
    pricing = small_with(tmp_path, {"parts.yaml": shapes | cores})
    paper = paper_of(pricing, "cutter", "side_door")
    record = pricing.catalogue.records.of("closed_mould")["lid"]
    lid = drawing_of(pricing.catalogue, record, record.shape)
    surround = part_of(paper, "Surround").drawing
    assert lid is not None
    assert surround is not None
    assert lid.round
    assert area_of(lid.outline) * lid.scale**2 / 1e6 == pytest.approx(math.pi / 16, rel=0.002)
    assert [each.sign for each in lid.dimensions] == ["\N{DIAMETER SIGN} "]
    assert [(str(side.value), side.unit) for side in surround.sides] == [
        ("28.0", "in"),
        ("31.5", "in"),
    ]


def test_an_outline_that_was_measured_otherwise_is_not_to_scale(tmp_path: Path) -> None:
    change = {"corner_radius: 80 mm}": "corner_radius: 80 mm, perimeter: 3.1 m}"}
    pricing = small_with(tmp_path, {"parts.yaml": change})
    surround = part_of(paper_of(pricing, "cutter", "side_door"), "Surround").drawing
    assert surround is not None
    assert not surround.true
    text = (
        Page(paper_pages(pricing)["cutter/side_door.html"]).one("section", class_="drawings").text
    )
    assert "Plan not to scale: area or edge were measured by themselves" in text


def test_every_drawing_has_room_on_a_sheet_and_a_scale_of_the_standard(
    demo_pricing: Pricing,
) -> None:
    found = drawings(demo_pricing)
    assert len(found) > 10
    for name, drawing in found:
        assert float(drawing.width) <= 155, name
        assert float(drawing.height) <= 95, name
        assert {drawing.scale, drawing.edge_scale or 1} <= {*SCALES}
        for each in drawing.dimensions:
            assert 0 <= float(each.x) <= float(drawing.width)
            assert 0 <= float(each.y) <= float(drawing.height)


def test_amounts_of_a_drawing_are_as_written(small_pricing: Pricing) -> None:
    lid = small_pricing.catalogue.records.of("closed_mould")["lid"]
    drawing = drawing_of(small_pricing.catalogue, lid, lid.shape)
    assert drawing is not None
    assert drawing.sides[0] == as_written(METRIC_READER, lid.shape.width)
