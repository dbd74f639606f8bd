"""A real Chromium follows the catalogue: new prices, problems, and the page again, by itself."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Request, expect, sync_playwright
from playwright.sync_api import Page as Tab

from tests.preview.made import PATIENCE, Preview, followed, served, small

pytestmark = pytest.mark.slow

SKIFF = "en/home/models/skiff.html"
PRICE = ".titled .price strong"
# The model's price of the small catalogue and what it becomes, with a tax of 25 % on top.
WAS, NOW = "list_price: 21900 EUR", "list_price: 22000 EUR"
SHOWN_WAS, SHOWN_NOW = "27,375", "27,500"
PASSES = ("parts.yaml", "passes: 97 %", "passes: 197 %")
PROBLEM = "parts.yaml:56:98"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        yield chromium
        chromium.close()


@pytest.fixture
def tab(browser: Browser) -> Iterator[Tab]:
    with browser.new_context(viewport={"width": 900, "height": 500}) as context:
        tab = context.new_page()
        tab.set_default_timeout(1000 * PATIENCE)
        expect.set_options(timeout=1000 * PATIENCE)
        yield tab


@pytest.fixture
def preview(templates: Path, tmp_path: Path) -> Iterator[Preview]:
    with followed(small(tmp_path)) as running:
        yield running


def until(tab: Tab, expression: str) -> None:
    """Wait in a page whose policy forbids that a condition is evaluated within it."""
    for _ in range(50 * PATIENCE):
        if tab.evaluate(expression):
            return
        tab.wait_for_timeout(20)
    pytest.fail(f"never: {expression}")


def test_a_new_price_shows_by_itself(tab: Tab, preview: Preview) -> None:
    said: list[str] = []

    def hear(message: ConsoleMessage) -> None:
        said.append(message.text)

    tab.on("console", hear)
    tab.goto(f"{preview.server.address}{SKIFF}")
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_WAS)
    preview.edit("models.yaml", WAS, NOW)
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_NOW)
    preview.edit("models.yaml", NOW, WAS)
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_WAS)
    assert said == [], "the page's own policy forbids nothing of it"


def test_a_broken_file_shows_where_and_mended_the_page_is_back(tab: Tab, preview: Preview) -> None:
    tab.goto(f"{preview.server.address}{SKIFF}")
    preview.edit(*PASSES)
    expect(tab.locator(".place")).to_have_text(f"{preview.folder.as_posix()}/{PROBLEM}")
    expect(tab.locator("main")).to_contain_text("expected more than 0 % and at most 100 %")
    assert (
        tab.locator(".place").evaluate("place => getComputedStyle(place.firstChild).userSelect")
        == "all"
    )
    preview.edit("parts.yaml", "passes: 197 %", "passes: wholly")
    expect(tab.locator("main")).to_contain_text("wholly")
    preview.edit("parts.yaml", "passes: wholly", "passes: 97 %")
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_WAS)


@pytest.mark.parametrize("broken_between", [False, True])
@pytest.mark.parametrize("fragment", ["", "#terms"])
def test_where_one_was_reading_stays(
    tab: Tab, preview: Preview, fragment: str, broken_between: bool
) -> None:
    address = f"{preview.server.address}{SKIFF}{fragment}"
    tab.emulate_media(reduced_motion="reduce")
    tab.goto(address, wait_until="load")
    tab.evaluate("scrollTo({top: 333, behavior: 'instant'})")
    if broken_between:
        preview.edit(*PASSES)
        expect(tab.locator(".place")).to_be_visible()
        preview.edit(PASSES[0], PASSES[2], PASSES[1])
        expect(tab.locator(PRICE)).to_contain_text(SHOWN_WAS)
    preview.edit("models.yaml", WAS, NOW)
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_NOW)
    until(tab, "scrollY === 333")
    assert tab.url == address


def test_a_page_that_goes_says_so_and_is_shown_when_it_is_back(tab: Tab, preview: Preview) -> None:
    tab.goto(f"{preview.server.address}en/home/models/pram.html")
    expect(tab.locator("h1")).to_have_text("No such page")
    preview.edit("models.yaml", "id: skiff", "id: pram")
    expect(tab.locator("h1")).to_have_text("Tern Skiff")


def test_an_open_page_finds_the_next_run_on_the_same_port(tab: Tab, tmp_path: Path) -> None:
    folder = small(tmp_path)
    with served(folder) as first:
        port = first.port
        tab.goto(f"{first.server.address}{SKIFF}")
        expect(tab.locator(PRICE)).to_contain_text(SHOWN_WAS)
        first.edit("models.yaml", WAS, NOW)
    with served(folder, port):
        expect(tab.locator(PRICE)).to_contain_text(SHOWN_NOW)


HIDDEN = "Object.defineProperty(document, 'hidden', {get: () => !window.seen})"


def test_a_page_nobody_sees_asks_nothing_until_it_is_looked_at(tab: Tab, preview: Preview) -> None:
    """Browsers allow six connections to a server: more pages than that may be open."""
    asked: list[str] = []

    def hear(request: Request) -> None:
        asked.append(request.url)

    tab.add_init_script(HIDDEN)
    tab.on("request", hear)
    tab.goto(f"{preview.server.address}{SKIFF}", wait_until="load")
    first = preview.id()
    preview.edit("models.yaml", WAS, NOW)
    assert preview.latest.later_than(first, PATIENCE)
    assert tab.locator(PRICE).inner_text().endswith(f"{SHOWN_WAS}.00")
    assert not [url for url in asked if "/-/after/" in url]
    tab.evaluate("window.seen = true; document.dispatchEvent(new Event('visibilitychange'))")
    expect(tab.locator(PRICE)).to_contain_text(SHOWN_NOW)


def test_many_pages_follow_at_once(browser: Browser, preview: Preview) -> None:
    with browser.new_context() as context:
        tabs = [context.new_page() for _ in range(4)]
        for tab in tabs:
            tab.goto(f"{preview.server.address}{SKIFF}")
        preview.edit("models.yaml", WAS, NOW)
        for tab in tabs:
            expect(tab.locator(PRICE)).to_contain_text(SHOWN_NOW)


def test_the_page_of_problems_is_no_wider_than_a_narrow_screen_and_dark_when_asked(
    tab: Tab, tmp_path: Path
) -> None:
    tab.set_viewport_size({"width": 320, "height": 640})
    with served(small(tmp_path, {PASSES[0]: PASSES[1:]})) as preview:
        tab.emulate_media(color_scheme="dark")
        tab.goto(f"{preview.server.address}{SKIFF}")
        overflow = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert tab.evaluate(overflow) == 0
        line = tab.locator("pre")
        assert line.evaluate("line => line.scrollWidth > line.clientWidth"), "a long line scrolls"
        line.focus()
        tab.keyboard.press("End")
        tab.keyboard.press("ArrowRight")
        until(tab, "document.querySelector('pre').scrollLeft > 0")
        paper = "getComputedStyle(document.documentElement).backgroundColor"
        assert tab.evaluate(paper) == "rgb(17, 25, 31)"
