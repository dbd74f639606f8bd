"""A model's page on small screens, on paper, without scripts, and quiet in every state."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from playwright.sync_api import Browser, ViewportSize
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import market_pages
from tests.pages.boat_pages import (
    COASTAL,
    LANGUAGES,
    WEEKENDER,
    Visit,
    every_state,
    laid_out,
    listed,
    tourist,
    visit,
    visiting,
)
from tests.pages.laden import MODEL, TWELVE, laden
from tests.pages.test_browser import NARROW, WIDE, browser, said

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
every_language = pytest.mark.parametrize("tag", LANGUAGES)
PAPERS = {"A4": "(A4)", "Letter": "(letter)"}


@pytest.fixture(scope="module")
def twelve(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pages of the demonstration with enough options for a list of twelve, by language."""
    folder = tmp_path_factory.mktemp("twelve")
    pricing = laden(folder)
    home = pricing.catalogue.yard.markets[0]
    for tag in LANGUAGES:
        laid_out(folder / "site" / tag / "home", market_pages(pricing, home, Locale(tag)))
    return folder / "site"


def printed(tab: Tab, file: Path, paper: str) -> list[str]:
    """The text of each sheet."""
    tab.pdf(path=file, format=paper, prefer_css_page_size=False, print_background=True)
    assert PAPERS[paper] in said("pdfinfo", str(file))
    return said("pdftotext", "-raw", str(file), "-").split("\f")[:-1]


def squeezed(text: str) -> str:
    return re.sub(r"[\s\N{SOFT HYPHEN}-]", "", text)


@every_language
def test_a_summary_of_twelve_options_is_one_sheet_of_either_paper(
    visit: Visit, twelve: Path, tmp_path: Path, tag: str
) -> None:
    tab = visit.open(twelve / tag / f"home/models/{MODEL}.html", f"list={','.join(TWELVE)}")
    assert {*listed(tab).split(",")} == {*TWELVE}
    tab.evaluate("window.print = () => { window.printed = document.body.className; }")
    for paper in PAPERS:
        tab.locator("#list-print").click()
        assert "only-list" in tab.evaluate("printed").split()
        # Chromium's printing to a file tells the page afterwards, as a person's does.
        (sheet,) = printed(tab, tmp_path / "summary.pdf", paper)
        flat = squeezed(sheet)
        pieces = [
            *tab.locator("#summary .figure, #summary h2").all_text_contents(),
            *tab.locator("#summary > p:not([hidden]), #summary .yard").all_text_contents(),
            *tab.evaluate("boatOnPage.choice.chosen().map(item => item.name)"),
        ]
        for piece in pieces:
            assert squeezed(piece) in flat, piece
        for number in ("2×", "4×"):
            assert number in flat
        for heading in ("glance", "details", "packages", "structure"):
            assert squeezed(tab.locator(f"h2#{heading}").inner_text()) + "\n" not in sheet
        assert not re.search(r"^(Add\b|Take out|Hinzufügen)", sheet, re.MULTILINE)
        assert "only-list" not in tab.locator("body").evaluate("body => body.className")


@pytest.mark.parametrize("state", ["", "list=side_ramp,seat_base*2"], ids=["no list", "a list"])
def test_the_page_itself_prints_the_whole_price_list(
    visit: Visit, demo_folder: Path, tmp_path: Path, state: str
) -> None:
    tab = visit.open(demo_folder / COASTAL, state)
    sheets = printed(tab, tmp_path / "page.pdf", "A4")
    flat = squeezed("".join(sheets))
    for item in tab.evaluate("priceList.items"):
        price = tab.evaluate("item => boatOnPage.money(amounts.units(item.price, 2))", item)
        assert flat.count(squeezed(price)) >= 2, item["id"]
        assert squeezed(item["name"]) in flat
    assert ("Yourboat" in flat) == bool(state)
    if state:
        assert squeezed(tab.locator("#list-total").inner_text()) in flat
    for word in ("On your list", "Search the options", "Start again", "Ask for a quote"):
        assert squeezed(word) not in flat


def test_a_filter_takes_nothing_from_paper_but_what_it_hides(
    visit: Visit, demo_folder: Path, tmp_path: Path
) -> None:
    tab = visit.open(demo_folder / COASTAL, "find=push+button")
    text = "".join(printed(tab, tmp_path / "page.pdf", "A4"))
    assert "Ramp hoist" in text
    assert "Seat base" not in text


def test_without_scripts_the_page_is_complete_and_has_no_dead_control(
    browser: Browser, demo_folder: Path
) -> None:
    with visiting(browser, viewport=WIDE) as visit:
        items = visit.open(demo_folder / COASTAL).evaluate(
            "priceList.items.map(i => [i.id, i.name, boatOnPage.money(amounts.units(i.price, 2))])"
        )
    with browser.new_context(viewport=WIDE, java_script_enabled=False) as context:
        tab = context.new_page()
        tab.goto((demo_folder / COASTAL).as_uri())
        assert len(items) == 15
        for id, name, price in items:
            row = tab.locator(f"#row-{id}").inner_text()
            article = tab.locator(f"[data-item={id}]").inner_text()
            for text in (row, article):
                assert name in text
                assert price in text
        for control in tab.locator("button, input, select, textarea, summary, form").all():
            assert control.is_hidden()
        for part in ("#list", "#tools", ".bar", "th.tick"):
            assert tab.locator(part).is_hidden()
        words = tab.locator("main").inner_text()
        assert "Your boat" not in words
        assert "On your list" not in words


# What reaches beyond the screen, or is cut off within a box of its own.
CUT = """() => [...document.querySelectorAll("body *")].filter(each => {
    const box = each.getBoundingClientRect(), style = getComputedStyle(each);
    if (!box.width || each.closest("svg, .unseen, .skip")) { return false; }
    if (style.clipPath.startsWith("inset(50%")) { return false; }  // for those who listen
    const clips = style.overflowX !== "visible" && each.scrollWidth > each.clientWidth + 1 &&
        !each.matches("input, textarea, select");
    return box.right > innerWidth + 0.5 || box.left < -0.5 || clips;
}).map(each => each.tagName + " " + each.className + " " + each.textContent.slice(0, 60))"""
OVERFLOW = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


SIZES: dict[str, dict[str, Any]] = {
    "320 px": {"viewport": NARROW},
    # What is left of 1280 px at 200 % zoom.
    "zoomed": {"viewport": ViewportSize(width=640, height=450), "device_scale_factor": 2},
    "wide": {"viewport": WIDE},
}


@every_language
@pytest.mark.parametrize("size", SIZES)
def test_nothing_is_cut_off_in_any_state(
    browser: Browser, demo_folder: Path, size: str, tag: str
) -> None:
    with visiting(browser, **SIZES[size], reduced_motion="reduce") as visit:
        for name in every_state(visit, demo_folder / WEEKENDER.replace("/en/", f"/{tag}/")):
            assert visit.tab.evaluate(OVERFLOW) == 0, name
            assert visit.tab.evaluate(CUT) == [], name


@pytest.mark.parametrize("page", [COASTAL, WEEKENDER])
def test_every_control_is_large_enough_to_hit(
    browser: Browser, demo_folder: Path, page: str
) -> None:
    """24 px either way: WCAG 2.2, 2.5.8 Target Size (Minimum); links in text are exempt."""
    small = """() => [...document.querySelectorAll("button, input, select, textarea, summary")]
        .filter(each => each.checkVisibility()).map(each => [each.outerHTML.slice(0, 80),
            each.getBoundingClientRect()])
        .filter(([, box]) => box.width < 24 || box.height < 24).map(([html]) => html)"""
    for size in SIZES.values():
        with visiting(browser, **size) as visit:
            for name in every_state(visit, demo_folder / page):
                assert visit.tab.evaluate(small) == [], name


@pytest.mark.parametrize(("wish", "scroll"), [("reduce", "auto"), ("no-preference", "smooth")])
def test_nothing_moves_where_motion_is_unwanted(
    browser: Browser, demo_folder: Path, wish: Any, scroll: str
) -> None:
    with visiting(browser, viewport=NARROW, reduced_motion=wish) as visit:
        for _ in every_state(visit, demo_folder / WEEKENDER):
            assert visit.tab.evaluate("document.getAnimations().length") == 0
        found = visit.tab.evaluate("getComputedStyle(document.documentElement).scrollBehavior")
        assert found == scroll


def test_the_tests_hear_what_a_page_must_not_say(browser: Browser, demo_folder: Path) -> None:
    heard: list[str] = []

    def misbehave() -> None:
        with visiting(browser) as visit:
            tab = visit.open(demo_folder / COASTAL)
            tab.evaluate("console.info('a word')")
            tab.evaluate("document.body.setAttribute('style', 'color: red')")
            tab.wait_for_timeout(50)
            heard.extend(visit.faults)

    with pytest.raises(AssertionError):
        misbehave()
    assert "a word" in heard
    assert any(each.startswith("style-src") for each in heard)
