"""Boats are drawn as long, as wide and with everything where the catalogue says, and no more.

Paths are read here by the rules of SVG 2, section 9.3, and their curves by de Casteljau's
construction; places are worked out by hand from what the catalogue says. The parabola of a deck's
edge between measured places is the program's own choice (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.public import PublicMeasure
from quoter.pricing.seen import position_seen
from quoter.problems import CatalogueError
from tests.demo import demo
from tests.pages.parsed import Element, Page
from tests.pages.test_contrast import MARK, contrast, schemes
from tests.pages.variants import small_with

LENGTHS = {
    "open_68": (680, 245),
    "longshore_76": (760, 255),
    "weekender_86": (860, 285),
    "coastal_98": (980, 320),
    "passage_120": (1200, 390),
}
STEPS = 400
Point = tuple[float, float]
# A place on the small catalogue's cutter, 8.30 m by 2.70 m.
AT = """    lead_time: 4 weeks
    at:
      - {model: cutter, side: port, end: stem, distance: 5.10 m, level: waterline, height: 300 mm}
"""


@pytest.fixture(scope="module")
def site() -> PublicSite:
    return PublicSite(demo())


def page_of(site: PublicSite, path: str) -> Page:
    return Page(site.pages([path])[path])


def points(path: str) -> list[Point]:
    """Points of a path, its curves in small steps."""
    found: list[Point] = []
    for command, given in re.findall(r"([MLQCZhva])([^MLQCZhva]*)", path):
        numbers = [float(each) for each in given.split()]
        pairs = list(zip(numbers[::2], numbers[1::2], strict=False))
        if command in "ML":
            found.append(pairs[0])
        elif command in "QC":
            found += curve([found[-1], *pairs])
        elif command == "a":  # a half circle: its end, and the middle of its bow
            radius, along = numbers[0], numbers[5]
            x, y = found[-1]
            found += [(x + along / 2, y - radius if along > 0 else y + radius), (x + along, y)]
        elif command in "hv":
            x, y = found[-1]
            found.append((x + numbers[0], y) if command == "h" else (x, y + numbers[0]))
    return found


def curve(corners: list[Point]) -> Iterator[Point]:
    for step in range(1, STEPS + 1):
        share, left = step / STEPS, corners
        while len(left) > 1:
            left = [
                (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
                for a, b in pairwise(left)
            ]
        yield left[0]


def box(path: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom."""
    across, down = zip(*points(path), strict=True)
    return min(across), min(down), max(across), max(down)


def drawings(page: Page) -> list[list[Element]]:
    """The paths of each drawing of a boat."""
    boats = [each for each in page.elements if each.attributes.get("class") == "profile"]
    return [
        [each for each in page.elements if boat in each.within and each.tag == "path"]
        for boat in boats
    ]


def paths(drawing: list[Element], kind: str) -> list[str]:
    return [each.attributes["d"] for each in drawing if each.attributes.get("class") == kind]


def marks(page: Page, wanted: str) -> list[list[str]]:
    """What marks an option: from the side, where it is seen from there, and from above."""
    groups = [each for each in page.elements if each.attributes.get("data-mark") == wanted]
    return [
        [
            each.attributes["d"]
            for each in page.elements
            if group in each.within and each.attributes.get("class", "").startswith("spot")
        ]
        for group in groups
    ]


@pytest.mark.parametrize("model", LENGTHS)
def test_a_boat_is_as_long_and_as_wide_as_it_is(site: PublicSite, model: str) -> None:
    drawn = drawings(page_of(site, f"en/home/models/{model}.html"))[0]
    length, beam = LENGTHS[model]
    profile, plan = map(box, paths(drawn, "tops"))
    assert (profile[0], profile[2]) == (0, length)
    assert (plan[0], plan[2]) == (0, length)
    assert plan[3] - plan[1] == pytest.approx(beam, abs=0.05)


@pytest.mark.parametrize("model", LENGTHS)
def test_freeboard_and_draught_are_to_scale(site: PublicSite, model: str) -> None:
    drawn = drawings(page_of(site, f"en/home/models/{model}.html"))[0]
    text = (demo().catalogue.records.models[model].place.file).strip()
    assert text.endswith("models.yaml")
    block = Path("demo_catalog/models.yaml").read_text("utf-8").partition(f"- id: {model}\n")[2]
    stated = {
        name: float(re.search(rf"{name}: ([\d.]+) m", block)[1]) * 100  # type: ignore[index]
        for name in ("freeboard_stem", "freeboard_least", "draught")
    }
    sides = points(paths(drawn, "tops")[0])
    waterline = max(y for _, y in sides)
    edge = [y for x, y in sides if y < waterline - stated["freeboard_least"] + 20]
    assert waterline - min(y for _, y in sides) == pytest.approx(stated["freeboard_stem"], abs=0.11)
    assert waterline - max(edge[: STEPS * 2]) == pytest.approx(stated["freeboard_least"], abs=0.11)
    deep = box(paths(drawn, "under")[0])
    assert deep[3] - waterline == pytest.approx(stated["draught"], abs=0.11)


def test_no_two_boats_of_the_yard_have_one_outline(site: PublicSite) -> None:
    shapes = set()
    for model, (length, _) in LENGTHS.items():
        drawn = drawings(page_of(site, f"en/home/models/{model}.html"))[0]
        sides = points(paths(drawn, "tops")[0])
        shapes.add(tuple(round(y / length, 2) for _, y in sides[:: STEPS // 4]))
        assert paths(drawn, "wall")
    assert len(shapes) == len(LENGTHS)


def test_a_door_is_where_the_yard_measured_it_and_as_large_as_it_is(site: PublicSite) -> None:
    page = page_of(site, "en/home/models/weekender_86.html")
    ((profile, plan),) = marks(page, "side_single")
    waterline = max(y for _, y in points(paths(drawings(page)[0], "tops")[0]))
    left, top, right, bottom = box(profile)
    # 2.45 m from the transom; 60 mm above the sole, which is 0.16 m above the waterline.
    assert (left + right) / 2 == pytest.approx(245)
    assert waterline - bottom == pytest.approx(16 + 6, abs=0.11)
    # The door's own outline in parts.yaml is 720 mm by 840 mm.
    assert (right - left, bottom - top) == pytest.approx((72, 84), abs=0.11)
    # From above it lies in the edge of the deck to starboard, which is below: half of the beam,
    # less what the parabola is short of it 0.95 m abaft the widest place.
    middle = (lambda b: (b[1] + b[3]) / 2)(box(paths(drawings(page)[0], "tops")[1]))
    edge = 285 / 2 - (285 / 2 - 260 / 2) * (1 - 245 / 340) ** 2
    ends = box(plan)
    assert (ends[0], ends[2]) == pytest.approx((245 - 36, 245 + 36))
    assert (ends[1] + ends[3]) / 2 - middle == pytest.approx(edge, abs=0.3)


def test_a_lid_lies_on_the_deck(site: PublicSite) -> None:
    page = page_of(site, "en/home/models/weekender_86.html")
    ((profile, plan),) = marks(page, "anchor_lid")
    waterline = max(y for _, y in points(paths(drawings(page)[0], "tops")[0]))
    # 0.90 m from the stem; its edge rises by a parabola from the lowest place 2.10 m from the
    # transom, 1.09 m high, to 1.48 m at the stem; the lid is 10 mm above it.
    deck = 109 + (148 - 109) * ((770 - 210) / (860 - 210)) ** 2
    left, top, right, bottom = box(profile)
    assert (left + right) / 2 == pytest.approx(770)
    assert top == bottom
    assert waterline - bottom == pytest.approx(deck + 1, abs=0.11)
    above = box(plan)
    assert (above[0] + above[2]) / 2 == pytest.approx(770)


def test_both_doors_of_a_pair_are_seen_from_above_and_one_from_the_side(site: PublicSite) -> None:
    found = marks(page_of(site, "en/home/models/coastal_98.html"), "side_pair")
    assert sorted(len(each) for each in found) == [1, 2]


def test_more_of_an_option_are_marked_only_when_so_many_are_chosen(tmp_path: Path) -> None:
    at = "{model: %s, end: stem, distance: %s m, level: deck, height: 10 mm}"
    rows = "".join(f"\n      - {at % ('cutter', each)}" for each in ("1.6", "2.4"))
    changed = {"    most: 2\n": f"    most: 2\n    positions: public\n    at:{rows}\n"}
    pricing = small_with(tmp_path, {"options.yaml": changed})
    page = page_of(PublicSite(pricing), "en/home/models/cutter.html")
    assert len(marks(page, "hatch")) == len(marks(page, "hatch*2")) == 1


@pytest.mark.parametrize("path", ["en/home/index.html", "en/home/compare.html"])
def test_all_boats_are_drawn_at_one_scale(site: PublicSite, path: str) -> None:
    page = page_of(site, path)
    boats = [each for each in page.elements if each.attributes.get("class") == "profile"]
    wide = {each.attributes["viewbox"].split()[2] for each in boats}
    assert len(boats) == len(LENGTHS)
    assert wide == {str(1200 + 2 * 20)}
    for drawn, (length, _) in zip(drawings(page), LENGTHS.values(), strict=True):
        assert box(paths(drawn, "tops")[0])[2] == length


# The international foot is 0.3048 m exactly (NIST Handbook 44, Appendix C).
@pytest.mark.parametrize(("tag", "long"), [("metric", 200), ("US", 6 * 30.48)])
def test_the_scale_bar_is_as_long_as_is_said(tmp_path: Path, tag: str, long: float) -> None:
    pricing = small_with(tmp_path, {"yard.yaml": {"units: metric and US": f"units: {tag}"}})
    page = page_of(PublicSite(pricing), "en/home/models/cutter.html")
    (bar,) = paths(drawings(page)[0], "ruler")
    left, _, right, _ = box(bar)
    assert right - left == pytest.approx(long, abs=0.11)
    words = next(each.text for each in page.elements if each.tag == "figcaption")
    said = "2 m" if tag == "metric" else "6 ft"
    assert re.sub(r"\.00|\N{NO-BREAK SPACE}", lambda m: "" if m[0] == ".00" else " ", words).count(
        f"The bar is {said}"
    )


def test_a_boat_without_a_form_says_that_it_is_schematic(tmp_path: Path) -> None:
    page = page_of(PublicSite(small_with(tmp_path, {})), "en/home/models/cutter.html")
    assert "schematic" in next(each.text for each in page.elements if each.tag == "figcaption")
    profile, plan = map(box, paths(drawings(page)[0], "tops"))
    assert (profile[0], profile[2]) == (plan[0], plan[2]) == (0, 830)
    assert plan[3] - plan[1] == pytest.approx(270, abs=0.05)


def placed(folder: Path, distance: str, public: bool, side: str = "port") -> PublicSite:
    """The small catalogue with a place of its door."""
    words = AT.replace("5.10 m", distance).replace("port", side)
    words += "    positions: public\n" if public else ""
    return PublicSite(small_with(folder, {"options.yaml": {"    lead_time: 4 weeks\n": words}}))


def test_a_place_that_the_yard_keeps_leaves_no_trace(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "other").mkdir()
    here, there = (
        placed(tmp_path / "one", "5.10 m", False),
        placed(tmp_path / "other", "2 m", False),
    )
    assert here.pages() == there.pages()
    page = page_of(here, "en/home/models/cutter.html")
    assert not [each for each in page.elements if "data-mark" in each.attributes]


def test_a_public_place_is_seen_from_its_side(tmp_path: Path) -> None:
    site = placed(tmp_path, "5.10 m", True)
    path = "en/home/models/cutter.html"
    page = page_of(site, path)
    ((profile, plan),) = marks(page, "side_door")
    # From port the bow is to the left: 5.10 m from the stem is 510 from it.
    left, _, right, _ = box(profile)
    assert (left + right) / 2 == pytest.approx(510)
    assert box(plan)[0] == pytest.approx(510 - 12)
    assert not SiteGuard(site).leaks(site.pages([path]))


def test_a_mark_that_no_public_place_accounts_for_is_a_leak(tmp_path: Path) -> None:
    shown, kept = tmp_path / "shown", tmp_path / "kept"
    shown.mkdir()
    kept.mkdir()
    path = "en/home/models/cutter.html"
    page = placed(shown, "5.10 m", True, "starboard").pages([path])[path]
    found = SiteGuard(placed(kept, "5.10 m", False)).leaks({path: page})
    # 5.10 m from the stem is 320 from the transom, and the mark begins a radius of 12 before that.
    assert any("M308" in leak.text for leak in found)
    assert found[0].file == path


def test_a_place_becomes_a_public_length_only_by_the_yard_s_choice() -> None:
    options = demo().catalogue.records.options
    option = options["side_single"]
    assert isinstance(position_seen(option, option.at[0].distance), PublicMeasure)
    kept = option.model_copy(update={"positions": None})
    with pytest.raises(TypeError, match="no position that customers see"):
        position_seen(kept, option.at[0].distance)
    with pytest.raises(TypeError, match="no position that customers see"):
        position_seen(options["fish_lid"], option.at[0].distance)


def test_a_hull_has_its_true_colour_and_a_colour_its_swatch(site: PublicSite) -> None:
    page = page_of(site, "en/home/models/passage_120.html")
    tops = [each for each in drawings(page)[0] if each.attributes.get("class") == "tops"]
    assert {each.attributes["fill"] for each in tops} == {"#8d9396"}
    weekender = page_of(site, "en/home/models/weekender_86.html")
    swatches = [
        each.attributes["fill"]
        for each in weekender.elements
        if each.tag == "rect" and each.within[-1].attributes.get("class") == "swatch"
    ]
    assert swatches == ["#1f3a5f", "#8d9396"]


# WCAG 2.2, 1.4.11: what is needed to understand a graphic has 3 to 1 against what is beside it.
# A line on a hull has the page's own colour on both sides of it, whatever the hull's is.
@pytest.mark.parametrize("scheme", ["light", "dark", "paper"])
def test_lines_stand_out_on_every_hull(scheme: str) -> None:
    colours = schemes()[scheme]
    for beside in ("paper", "wash", "tint"):
        assert contrast(colours["ink"], colours[beside]) >= MARK
    css = Path("templates/public/sheet.css").read_text("utf-8")
    halo = re.search(r"\.lines \.halo \{ stroke: var\(--paper\); stroke-width: (\d+); \}", css)
    spot = re.search(r"\.lines \.spot \{ stroke-width: (\d+); \}", css)
    assert halo is not None
    assert spot is not None
    assert int(halo[1]) - int(spot[1]) >= 2


def test_a_wrong_colour_is_told(tmp_path: Path) -> None:
    changed = {"    hull_colour: green\n": '    hull_colour: green\n    swatch: "green"\n'}
    with pytest.raises(CatalogueError, match="bad-colour"):
        small_with(tmp_path, {"options.yaml": changed})
