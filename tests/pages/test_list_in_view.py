"""Total, tax basis and actions of a list are in view on every screen, and a key away.

On wide screens the box stands beside the options; on small ones it is a line that opens.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ViewportSize, expect
from playwright.sync_api import Page as Tab

from tests.pages.boat_pages import LANGUAGES, WEEKENDER, listed, visiting
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
THREE = "side_single,transom_door,seat_base*2"
MANY = (
    "side_single,transom_door,companion_wide,deck_hatch*2,fish_lid*2,seat_base*4,sole_panels,"
    "roof_panel,buoyancy,hull_blue"
)
LISTS = {"nothing": "", "three": THREE, "many": MANY}
ACTIONS = ("#list-ask", "#list-copy", "#list-print")
WIDE = [ViewportSize(width=1280, height=800), ViewportSize(width=1152, height=600)]
MIDDLE = [ViewportSize(width=768, height=1024), ViewportSize(width=1280, height=440)]
# The last is what is left of 1280 x 1024 at 400 %.
SMALL = [
    ViewportSize(width=390, height=844),
    ViewportSize(width=320, height=568),
    ViewportSize(width=320, height=256),
]
# How far one has scrolled down the page, as a share of it.
DOWN = (0, 0.4, 1)


def scrolled(tab: Tab, share: float) -> None:
    tab.evaluate("share => scrollTo(0, share * document.documentElement.scrollHeight)", share)


@pytest.mark.parametrize("tag", LANGUAGES)
@pytest.mark.parametrize("many", LISTS)
def test_total_and_actions_are_in_view_wherever_one_is(
    browser: Browser, demo_folder: Path, many: str, tag: str
) -> None:
    page = demo_folder / WEEKENDER.replace("/en/", f"/{tag}/")
    for size in WIDE + MIDDLE + SMALL:
        with visiting(browser, viewport=size, reduced_motion="reduce") as visit:
            tab = visit.open(page, f"list={LISTS[many]}" if LISTS[many] else "")
            total = "#list-total" if size in WIDE else "#bar-total"
            basis = ".sum .tax" if size in WIDE else ".line .tax"
            for share in DOWN:
                scrolled(tab, share)
                for part in (total, basis, *(ACTIONS if size not in SMALL else ())):
                    expect(tab.locator(part)).to_be_in_viewport(ratio=1)
            if size not in WIDE:
                tab.locator("#list-open").click()
                for part in (total, basis, *(ACTIONS if size["height"] > 700 else ())):
                    expect(tab.locator(part)).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("size", [MIDDLE[0], *SMALL], ids=str)
def test_the_line_opens_into_the_whole_list_and_closes_again(
    browser: Browser, demo_folder: Path, size: Any
) -> None:
    """The disclosure pattern of the ARIA Authoring Practices Guide (W3C)."""
    with visiting(browser, viewport=size, reduced_motion="reduce") as visit:
        tab = visit.open(demo_folder / WEEKENDER, f"list={THREE}")
        line, panel = tab.locator("#list-open"), tab.locator("#list-panel")
        assert line.get_attribute("aria-controls") == "list-panel"

        def by_key() -> None:
            line.focus()
            tab.keyboard.press("Enter")

        for press in (line.click, by_key):
            assert (line.get_attribute("aria-expanded"), panel.is_visible()) == ("false", False)
            press()
            assert (line.get_attribute("aria-expanded"), panel.is_visible()) == ("true", True)
            expect(line).to_be_focused()
            tab.keyboard.press("Escape")
            assert (line.get_attribute("aria-expanded"), panel.is_visible()) == ("false", False)
            expect(line).to_be_focused()
        line.click()
        tab.get_by_role("button", name="Take out Transom door").last.click()
        assert listed(tab) == "side_single,seat_base*2"
        assert panel.is_visible()
        # Whoever goes on with the keyboard is not left behind it.
        tab.locator("#find").focus()
        assert (line.get_attribute("aria-expanded"), panel.is_visible()) == ("false", False)


@pytest.mark.parametrize("size", [WIDE[0], MIDDLE[0], *SMALL], ids=str)
def test_the_second_link_of_the_page_and_its_key_lead_to_the_list(
    browser: Browser, demo_folder: Path, size: Any
) -> None:
    with visiting(browser, viewport=size, reduced_motion="reduce") as visit:
        tab = visit.open(demo_folder / WEEKENDER, f"list={THREE}")
        tab.keyboard.press("Tab")
        tab.keyboard.press("Tab")
        link = tab.locator("#to-list")
        expect(link).to_be_focused()
        expect(link).to_be_in_viewport()
        assert link.get_attribute("accesskey") == "l"
        tab.keyboard.press("Enter")
        expect(tab.locator("#list-title")).to_be_focused()
        assert tab.locator("#list-panel").is_visible()
        assert listed(tab) == THREE


def test_asking_for_a_quote_opens_the_form_from_anywhere(
    browser: Browser, demo_folder: Path
) -> None:
    for size in (WIDE[0], MIDDLE[0]):
        with visiting(browser, viewport=size, reduced_motion="reduce") as visit:
            tab = visit.open(demo_folder / WEEKENDER, f"list={MANY}")
            scrolled(tab, 0.4)
            tab.locator("#list-ask").click()
            expect(tab.locator("#ask-name")).to_be_focused()
            expect(tab.locator("#ask-name")).to_be_in_viewport()


def test_the_longest_lead_time_of_boat_and_list_is_told(
    browser: Browser, demo_folder: Path
) -> None:
    """As models.yaml and options.yaml have it: the boat 20 weeks, no option as many."""
    with visiting(browser, viewport=WIDE[0]) as visit:
        tab = visit.open(demo_folder / WEEKENDER, f"list={THREE}")
        told = "Longest lead time: 20 weeks (Orvesund 8.6 Weekender)"
        assert tab.locator("#list-lead").inner_text() == told
        assert "\nshown_lead_weeks: 20\n" in tab.evaluate("boatOnPage.requestText({name: 'Jo'})")
