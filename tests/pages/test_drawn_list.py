"""The list is drawn on the boat as it is chosen, and told in words beside it, in a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from quoter.pages.public.site import PublicSite
from tests.demo import demo
from tests.pages.boat_pages import Visit, laid_out, tourist, visit, visiting
from tests.pages.test_browser import NARROW, WIDE, browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
BOAT = "en/home/models/weekender_86"
STANDARD = ["anchor_lid", "companion_door"]
BLUE, GREY, WHITE = "rgb(31, 58, 95)", "rgb(141, 147, 150)", "rgb(241, 238, 228)"
MARKED = """() => [...document.querySelectorAll("[data-mark]")]
    .filter(each => getComputedStyle(each).display !== "none").map(each => each.dataset.mark)"""
TOLD = """() => [...document.querySelectorAll("[data-marked]")]
    .filter(each => each.checkVisibility()).map(each => each.dataset.marked)"""
HULL = """() => [...new Set([...document.querySelectorAll("#drawn .tops")]
    .map(each => getComputedStyle(each).fill))]"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The weekender's page with what it needs."""
    site = PublicSite(demo())
    wanted = [
        path
        for path in site.makers
        if path.startswith("en/home/") and (path.startswith(BOAT) or not path.endswith(".html"))
    ]
    laid = laid_out(tmp_path_factory.mktemp("drawn"), site.pages(wanted))
    return laid / f"{BOAT}.html"


def drawn(tab: Any) -> tuple[list[str], list[str], list[str]]:
    """What is marked, what is told of that, and the colours of the hull."""
    return sorted(set(tab.evaluate(MARKED))), sorted(tab.evaluate(TOLD)), tab.evaluate(HULL)


def test_the_boat_as_it_comes_is_drawn_without_scripts(browser: Browser, page: Path) -> None:
    with browser.new_context(java_script_enabled=False) as quiet:
        tab = quiet.new_page()
        tab.goto(page.as_uri())
        marks = tab.locator("[data-mark]:not([display=none])")
        found = {marks.nth(n).get_attribute("data-mark") for n in range(marks.count())}
        assert found == {*STANDARD}
        told = tab.locator("[data-marked]:visible").all_inner_texts()
        assert told == ["Cabin door", "Anchor locker lid"]
        assert tab.locator("#drawn .tops").first.get_attribute("fill") == "#f1eee4"


def test_what_is_chosen_is_marked_and_told(visit: Visit, page: Path) -> None:
    tab = visit.open(page, "list=side_single")
    assert drawn(tab) == (sorted([*STANDARD, "side_single"]),) * 2 + ([WHITE],)
    tab.locator("[data-pick=side_single]").click()
    assert drawn(tab) == (STANDARD, STANDARD, [WHITE])


def test_a_package_is_drawn_as_what_it_holds(visit: Visit, page: Path) -> None:
    tab = visit.open(page, "list=easy_boarding")
    marks = sorted([*STANDARD, "side_single", "transom_door"])
    assert drawn(tab) == (marks, marks, [WHITE])


def test_what_takes_the_place_of_a_standard_item_is_drawn_in_its_place(
    visit: Visit, page: Path
) -> None:
    tab = visit.open(page, "list=companion_wide")
    marks = ["anchor_lid", "companion_wide"]
    assert drawn(tab) == (marks, marks, [WHITE])


def test_a_colour_colours_the_hull_and_leaves_it_again(visit: Visit, page: Path) -> None:
    tab = visit.open(page, "list=hull_blue")
    assert drawn(tab)[2] == [BLUE]
    tab.locator("[data-pick=hull_blue]").click()
    assert drawn(tab)[2] == [WHITE]
    tab.locator("[data-pick=hull_grey]").click()
    assert drawn(tab)[2] == [GREY]


def test_the_drawing_beside_the_list_is_the_same_one(visit: Visit, page: Path) -> None:
    tab = visit.open(page, "list=side_pair,hull_grey")
    small = tab.locator("#list svg.profile use")
    assert small.get_attribute("href") == "#drawn-boat"
    assert small.evaluate("each => each.getBoundingClientRect().width > 100")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
def test_colours_are_true_in_the_dark_and_lines_are_not(
    browser: Browser, page: Path, scheme: Any, size: Any
) -> None:
    with visiting(browser, viewport=size, color_scheme=scheme) as visit:
        tab = visit.open(page, "list=hull_blue")
        assert drawn(tab)[2] == [BLUE]
        swatch = tab.locator("#option-hull_blue .swatch rect")
        assert swatch.evaluate("each => getComputedStyle(each).fill") == BLUE
        ink = tab.locator("#drawn .spot").first.evaluate("each => getComputedStyle(each).stroke")
        assert ink == ("rgb(22, 34, 43)" if scheme == "light" else "rgb(235, 231, 220)")
        width = tab.locator("#drawn").evaluate("each => each.getBoundingClientRect().width")
        assert width > 250
