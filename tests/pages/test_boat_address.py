"""A list of options stands in the page's address: reload, history, language, strangers' links."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from playwright.sync_api import Page as Tab

from tests.pages.boat_pages import (
    COASTAL,
    TYPED,
    Visit,
    listed,
    served,
    shown,
    state,
    tourist,
    visit,
    visiting,
)
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
LIST = "side_ramp,ramp_hoist,seat_base*2"


@pytest.fixture(scope="module")
def server(demo_folder: Path) -> Iterator[str]:
    with served(demo_folder) as address:
        yield address


@pytest.fixture(params=["file", "server"])
def coastal(request: pytest.FixtureRequest, demo_folder: Path, server: str) -> str:
    """The page's address, opened as a file and from a server."""
    return (demo_folder / COASTAL).as_uri() if request.param == "file" else f"{server}/{COASTAL}"


# A step through the browser's history within the page, until the page has seen it.
STEP = """by => new Promise(done => {
    addEventListener("popstate", () => setTimeout(done), {once: true});
    history.go(by);
})"""


def back(tab: Tab) -> None:
    tab.evaluate(STEP, -1)


def forward(tab: Tab) -> None:
    tab.evaluate(STEP, 1)


def test_an_address_brings_back_list_and_filters(visit: Visit, coastal: str) -> None:
    full = f"list={LIST}&find=seat+base&group=Cockpit+and+deck&open=1"
    tab = visit.open(coastal, full)
    for _ in range(2):
        assert (listed(tab), shown(tab), state(tab)) == (LIST, ["seat_base"], full)
        assert tab.locator("#find").input_value() == "seat base"
        assert tab.locator("#group").input_value() == "Cockpit and deck"
        assert tab.locator("#still-open").is_checked()
        assert tab.locator("[data-pick=ramp_hoist]").is_checked()
        tab.reload()
    assert [url for url in visit.asked if not url.startswith((coastal[:7], "about:"))] == []


def test_leaving_and_coming_back_keeps_the_list(visit: Visit, coastal: str) -> None:
    tab = visit.open(coastal)
    tab.locator("[data-pick=seat_base]").check()
    tab.get_by_role("link", name="Orvesund 6.8 Open").first.click()
    tab.wait_for_url("**/open_68.html")
    assert listed(tab) == ""
    tab.go_back()
    assert listed(tab) == "seat_base"
    tab.go_forward()
    assert listed(tab) == ""


def test_a_jump_within_the_page_keeps_the_list_and_so_does_going_back(
    visit: Visit, coastal: str
) -> None:
    tab = visit.open(coastal, f"list={LIST}")
    tab.locator("#row-sole_panels a").click()
    expect(tab.locator("#option-sole_panels")).to_be_in_viewport()
    assert (listed(tab), state(tab)) == (LIST, f"option-sole_panels&list={LIST}")
    tab.locator("[data-toggle=sole_panels]").click()
    longer = f"{LIST},sole_panels"
    for step in (back, forward, back):
        step(tab)
        assert (listed(tab), state(tab)) == (longer, f"list={longer}")
    tab.reload()
    assert listed(tab) == longer


def test_an_option_that_is_jumped_to_before_anything_is_chosen_is_kept_on_the_way_back(
    visit: Visit, coastal: str
) -> None:
    tab = visit.open(coastal)
    tab.locator("#row-buoyancy a").click()
    tab.locator("[data-toggle=buoyancy]").click()
    back(tab)
    assert (listed(tab), state(tab)) == ("buoyancy", "list=buoyancy")


def test_a_link_to_one_option_opens_the_page_at_it(visit: Visit, coastal: str) -> None:
    tab = visit.open(coastal, "option-seat_base")
    expect(tab.locator("#option-seat_base")).to_be_in_viewport()
    assert (listed(tab), state(tab)) == ("", "option-seat_base")
    tab.locator("[data-toggle=seat_base]").click()
    assert state(tab) == "list=seat_base"


def test_an_address_typed_in_brings_its_list_and_going_back_the_one_before(
    visit: Visit, coastal: str
) -> None:
    tab = visit.open(coastal, "list=seat_base")
    tab.locator("[data-pick=buoyancy]").check()
    tab.evaluate(TYPED, "list=hull_grey&find=hull")
    assert (listed(tab), tab.locator("#find").input_value()) == ("hull_grey", "hull")
    back(tab)
    assert (listed(tab), tab.locator("#find").input_value()) == ("seat_base,buoyancy", "")
    forward(tab)
    assert listed(tab) == "hull_grey"


def test_what_the_filters_hide_is_shown_when_it_is_jumped_to(visit: Visit, coastal: str) -> None:
    tab = visit.open(coastal, "find=push+button")
    assert shown(tab) == ["ramp_hoist"]
    tab.locator("#option-ramp_hoist").get_by_role("link", name="fold-down ramp").click()
    expect(tab.locator("#option-side_ramp")).to_be_in_viewport()
    assert tab.locator("#find").input_value() == ""


ONE = "1 entry is on no price sheet of this yard."
MORE = "3 entries are on no price sheet of this yard."


@pytest.mark.parametrize(
    ("typed", "kept", "told"),
    [
        ("seat_base,anvil", "seat_base", [ONE]),
        ("seat_base,anvil,boat*2,x", "seat_base", [MORE]),
        ("seat_base*9", "seat_base*4", ["Of Seat base, at most 4 can be had."]),
        (
            *("ramp_hoist", ""),
            ["Ramp hoist can only be had with Side entry, fold-down ramp."],
        ),
        (
            *("side_ramp,side_pair,boat*2", "side_ramp"),
            ["Only one of these can be had: Side entry, pair; Side entry, fold-down ramp.", ONE],
        ),
        ("companion_door", "", ["Cabin door is standard on this boat."]),
        # On other boats, as options.yaml and models.yaml have it.
        (
            *("console_door,roof_panel,seat_base", "seat_base"),
            [
                "Console door is not offered on this boat; "
                "it is standard on Orvesund 7.6 Longshore.",
                "Cockpit roof is not offered on this boat.",
            ],
        ),
        ("side_single,seat_base", "side_single,seat_base", []),
        ("<img src=x onerror=alert(1)>", "", [ONE]),
        ("%3Cb%3Ebold%3C/b%3E", "", [ONE]),
    ],
)
def test_what_can_t_be_taken_over_is_told_in_words(
    visit: Visit, demo_folder: Path, typed: str, kept: str, told: list[str]
) -> None:
    """Names and reasons, never an id or what else stood in the address."""
    tab = visit.open(demo_folder / COASTAL, f"list={typed}")
    assert listed(tab) == kept
    left = tab.locator("#list-left-out")
    expect(left.locator("li")).to_have_text(told)
    assert left.is_visible() == bool(told)
    assert left.locator("img, b, script").count() == 0
    assert state(tab) == (f"list={kept}" if kept else "")


@pytest.mark.parametrize(
    "fragment",
    [
        *("%E0%A4%A", "list=%E0%A4%A", "find=%ff&list=%", "&&=&==", "=", "list", "list&find"),
        *("<script>alert(1)</script>", "javascript:alert(1)", "option-nowhere", "option-%00"),
        *("x=y", "__proto__=1&constructor=2", "hatch" * 20_000, "LIST=hull_grey"),
    ],
)
def test_a_fragment_that_says_nothing_does_nothing(
    visit: Visit, demo_folder: Path, fragment: str
) -> None:
    tab = visit.open(demo_folder / COASTAL, fragment)
    assert listed(tab) == ""
    assert tab.locator("#list-left-out").is_hidden()
    tab.evaluate(TYPED, f"list={LIST}")
    before = tab.locator("main").inner_text()
    tab.evaluate(
        """fragment => new Promise(done => {
            addEventListener("hashchange", () => setTimeout(done), {once: true});
            location.hash = fragment;
        })""",
        fragment,
    )
    assert (listed(tab), state(tab)) == (LIST, f"list={LIST}")
    assert tab.locator("main").inner_text() == before
    assert tab.evaluate(
        "[...document.scripts].every(each => !each.type || each.type.endsWith('ld+json'))"
    )


def test_another_language_keeps_the_page_and_the_list(visit: Visit, coastal: str) -> None:
    """Words to search for are of one language and stay behind."""
    tab = visit.open(coastal, f"list={LIST}&find=lid&open=1")
    tab.locator("[data-pick=fish_lid]").check()
    tab.select_option("#group", "Doors and hatches")
    for name, tag in (("Deutsch", "de"), ("français", "fr"), ("English", "en")):
        link = tab.locator("nav.languages").get_by_role("link", name=name)
        assert tab.locator("nav.languages [aria-current]").count() == 1
        link.click()
        tab.wait_for_url(f"**/{tag}/home/models/coastal_98.html#*")
        assert tab.locator("html").get_attribute("lang") == tag
        assert state(tab) == "list=side_ramp,ramp_hoist,fish_lid,seat_base*2&open=1"
        assert listed(tab) == "side_ramp,ramp_hoist,fish_lid,seat_base*2"


def test_the_address_is_copied_where_the_browser_lets_it(browser: Browser, server: str) -> None:
    with visiting(browser, permissions=["clipboard-read", "clipboard-write"]) as visit:
        tab = visit.open(f"{server}/{COASTAL}", f"list={LIST}")
        tab.get_by_role("button", name="Copy the address").click()
        expect(tab.locator("#list-copied")).to_have_text("The address is copied.")
        assert tab.evaluate("navigator.clipboard.readText()") == tab.url
        tab.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
        tab.get_by_role("button", name="Copy the address").click()
        by_hand = "Copy it from your browser's address line."
        expect(tab.locator("#list-copied")).to_have_text(by_hand)
