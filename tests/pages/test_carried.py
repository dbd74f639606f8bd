"""A list goes to another boat or market and says what fell out; two lists stand side by side."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import PublicSite
from quoter.pricing.price import Pricing
from tests.pages.boat_pages import Visit, laid_out, listed, served, state, tourist, visit, visiting
from tests.pages.test_browser import NARROW, browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
SHEETS = ("en/home/", "en/north/")


@pytest.fixture(scope="module")
def sheets(demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two markets' price sheets of the demonstration in English."""
    site = PublicSite(demo_pricing)
    paths = [path for path in site.makers if path.startswith(SHEETS)]
    return laid_out(tmp_path_factory.mktemp("sheets"), site.pages(paths))


@pytest.fixture(scope="module")
def server(sheets: Path) -> Iterator[str]:
    with served(sheets) as address:
        yield address


@pytest.fixture(params=["file", "server"])
def models(request: pytest.FixtureRequest, sheets: Path, server: str) -> str:
    """Where the boats' pages are, opened as files and from a server."""
    root = sheets.as_uri() if request.param == "file" else server
    return f"{root}/en/home/models"


def told(tab: Tab) -> list[str]:
    """What is said of a list on its arrival, sentence by sentence."""
    return tab.locator(
        "#list-left-out :is(li, #list-left-out > p:not(:has(strong)))"
    ).all_inner_texts()


@pytest.mark.parametrize(
    ("boat", "typed", "kept", "said"),
    [
        # Which boat has what is as options.yaml says; every sentence has names alone.
        (
            "weekender_86",
            "list=side_ramp,ramp_hoist,seat_base*2,hull_blue&from=coastal_98",
            "seat_base*2,hull_blue",
            [
                "Side entry, fold-down ramp is not offered on this boat.",
                "Ramp hoist is not offered on this boat.",
                "Standard on the Orvesund 9.8 Coastal, an extra on this boat: Deck hatch.",
            ],
        ),
        (
            "passage_120",
            "list=transom_door,fish_lid",
            "",
            [
                "Transom door is standard on this boat.",
                "Insulated storage lid is not offered on this boat.",
            ],
        ),
        ("coastal_98", "list=seat_base*9", "seat_base*4", ["Of Seat base, at most 4 can be had."]),
        ("coastal_98", "list=seat_base*x", "", ["Of Seat base, at most 4 can be had."]),
        (
            "open_68",
            "list=companion_door",
            "",
            [
                "Cabin door is not offered on this boat; it is standard on Orvesund 8.6 Weekender; "
                "Orvesund 9.8 Coastal; Orvesund 12.0 Passage."
            ],
        ),
        (
            "passage_120",
            "list=easy_boarding",
            "side_single",
            [
                "Transom door is standard on this boat.",
                "Easy boarding is no package on this boat; what it holds is listed one by one.",
            ],
        ),
        (
            "coastal_98",
            "list=anvil,seat_base",
            "seat_base",
            ["1 entry is on no price sheet of this yard."],
        ),
        (
            "coastal_98",
            "list=anvil,__proto__,constructor*2,<img src=x onerror=alert(1)>",
            "",
            ["4 entries are on no price sheet of this yard."],
        ),
    ],
)
def test_what_a_boat_can_t_have_is_told_with_its_reason(
    visit: Visit, sheets: Path, boat: str, typed: str, kept: str, said: list[str]
) -> None:
    tab = visit.open(sheets / f"en/home/models/{boat}.html", typed)
    assert listed(tab) == kept
    assert told(tab) == said
    assert state(tab) == (f"list={kept}" if kept else "")
    assert not re.search(r"\b[a-z]+_[a-z]+\b", tab.locator("#list-left-out").inner_text())


def test_what_the_rules_of_the_other_boat_forbid_is_told_in_their_words(
    visit: Visit, sheets: Path
) -> None:
    tab = visit.open(
        sheets / "en/home/models/coastal_98.html", "list=ramp_hoist,side_single,side_pair"
    )
    assert listed(tab) == "side_single"
    words = " ".join(told(tab))
    assert "Ramp hoist can only be had with Side entry, fold-down ramp" in words
    assert "Side entry, pair" in words
    assert "one of" in words.lower()


def test_links_take_the_list_to_every_other_boat_and_to_every_other_market(
    visit: Visit, models: str
) -> None:
    tab = visit.open(f"{models}/coastal_98.html", "list=seat_base*2,hull_blue,day_fishing")
    tab.locator(".carry summary").click()
    boats = tab.locator("#carry-list a").all_inner_texts()
    assert boats == [
        *("Orvesund 6.8 Open", "Orvesund 7.6 Longshore", "Orvesund 8.6 Weekender"),
        "Orvesund 12.0 Passage",
    ]
    # The largest has a seat base, but neither the lid nor the colours.
    assert (
        tab.locator("#carry-list li").last.inner_text().endswith("2 of 3 offered or standard there")
    )
    tab.get_by_role("link", name="Orvesund 8.6 Weekender").last.click()
    tab.wait_for_url("**/weekender_86.html#*")
    expect(tab.locator("#list-left-out")).to_be_visible()
    assert listed(tab) == "seat_base*2,hull_blue,day_fishing"
    assert "from=" not in state(tab)
    tab.locator(".carry summary").click()
    tab.locator("[aria-labelledby=carry-markets] a[hreflang=en]").last.click()
    tab.wait_for_url("**/en/north/models/weekender_86.html#*")
    expect(tab.locator("#list-total")).not_to_be_empty()
    assert listed(tab) == "seat_base*2,hull_blue,day_fishing"
    assert "NOK" in tab.locator("#list-total").inner_text()


def rows(tab: Tab) -> dict[str, list[str]]:
    """The comparison's rows of two cells by their heads."""
    found: dict[str, list[str]] = tab.evaluate(
        """Object.fromEntries([...document.querySelectorAll("#beside tbody tr")]
           .filter(row => row.cells.length === 3 && row.checkVisibility())
           .map(row => [...row.cells].map(cell => cell.innerText))
           .map(([name, mine, other]) => [name, [mine, other]]))"""
    )
    return found


def plain(text: str) -> str:
    return re.sub(r"[^0-9.-]", "", text.replace("\N{MINUS SIGN}", "-"))


def test_two_lists_of_one_boat_stand_side_by_side(visit: Visit, models: str) -> None:
    tab = visit.open(f"{models}/coastal_98.html", "list=side_ramp,seat_base*2,hull_blue")
    expect(tab.locator("#beside")).to_be_hidden()
    tab.get_by_role("button", name="Keep this list aside").click()
    expect(tab.locator("#beside")).to_be_visible()
    assert tab.evaluate("document.activeElement.id") == "beside-title"
    assert tab.locator("#beside-same").inner_text().startswith("Both lists hold the same options.")
    tab.locator("[data-pick=hull_blue]").uncheck()
    tab.locator("[data-pick=buoyancy]").check()
    found = rows(tab)
    # 267,716.00 + 8,047.60 + 2 x 1,562.40 + 2,963.60, as the price sheet has them.
    assert plain(found["Total"][1]) == "281852.00"
    own, other = (round(100 * float(plain(each))) for each in found["Total"])
    assert round(100 * float(plain(found["Difference"][1]))) == other - own
    assert found["Hull colour deep blue"][0] == "–"
    assert plain(found["Hull colour deep blue"][1]) == "2963.60"
    assert found["Buoyancy fill"][1] == "–"
    assert "Side entry, fold-down ramp" not in found
    assert "Side entry, fold-down ramp" in tab.locator("#beside-same").inner_text()
    assert all("kg" in each for each in found["Weight"])
    assert all("week" in each for each in found["Longest lead time"])
    aside = "aside=coastal_98:side_ramp,seat_base*2,hull_blue"
    assert state(tab) == f"list=side_ramp,buoyancy,seat_base*2&{aside}" or aside in state(tab)
    shared = tab.url
    tab.get_by_role("link", name="Let them change places").click()
    expect(tab.locator("#line-hull_blue")).to_be_visible()
    assert [*reversed(found["Total"])] == rows(tab)["Total"]
    tab.get_by_role("button", name="Put the other list away").click()
    expect(tab.locator("#beside")).to_be_hidden()
    assert "aside" not in state(tab)
    tab.goto("about:blank")
    tab.goto(shared)
    expect(tab.locator("#beside")).to_be_visible()
    assert rows(tab) == found


def test_lists_of_two_boats_stand_side_by_side_wherever_the_page_is(
    visit: Visit, models: str
) -> None:
    tab = visit.open(f"{models}/coastal_98.html", "list=side_ramp,seat_base*2,hull_blue")
    tab.get_by_role("button", name="Keep this list aside").click()
    tab.locator("nav .all, nav ul").first.get_by_role("link", name="Orvesund 8.6 Weekender")
    tab.locator(".carry summary").click()
    tab.get_by_role("link", name="Orvesund 8.6 Weekender").last.click()
    tab.wait_for_url("**/weekender_86.html#*")
    expect(tab.locator("#beside")).to_be_visible()
    found = rows(tab)
    assert found["Boat"] == ["Orvesund 8.6 Weekender", "Orvesund 9.8 Coastal"]
    assert plain(found["Total"][1]) == "281852.00"
    assert found["Deck hatch"] == ["–", "standard"]
    assert "Anchor locker lid" in tab.locator("#beside-same").inner_text()
    # The page's own boat is as it was.
    assert tab.evaluate("priceList.model") == "weekender_86"
    tab.get_by_role("link", name="Let them change places").click()
    tab.wait_for_url("**/coastal_98.html#*")
    expect(tab.locator("#beside")).to_be_visible()
    assert rows(tab)["Total"] == [*reversed(found["Total"])]
    asked = [url for url in visit.asked if not url.startswith((models[:7], "about:"))]
    assert asked == []


@pytest.mark.parametrize("aside", ["anvil:seat_base", "seat_base", "../../x:1", ":", "__proto__:1"])
def test_what_can_t_be_a_list_kept_aside_is_told_and_asks_for_nothing(
    visit: Visit, sheets: Path, aside: str
) -> None:
    tab = visit.open(sheets / "en/home/models/coastal_98.html", f"list=seat_base&aside={aside}")
    assert tab.locator("#beside").is_hidden()
    assert tab.locator("#aside-told").inner_text() == "The list kept aside can't be read here."
    assert listed(tab) == "seat_base"
    assert not [url for url in visit.asked if url.endswith(("anvil.js", "x.js"))]


def test_a_comparison_fits_a_phone(browser: Browser, sheets: Path) -> None:
    with visiting(browser, viewport=NARROW) as visit:
        page = sheets / "en/home/models/weekender_86.html"
        tab = visit.open(page, "list=seat_base*2&aside=coastal_98:side_ramp,seat_base,day_fishing")
        expect(tab.locator("#beside")).to_be_visible()
        wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert tab.evaluate(wide) == 0
