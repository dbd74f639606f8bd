"""Every page of the price sheets fits: on small screens, with large letters, on paper.

Sources: W3C, Web Content Accessibility Guidelines 2.2, 1.4.4 Resize Text and 1.4.10 Reflow (320 CSS
pixels are 1280 at 400 %). What a printed page must look like is common practice, no source.
"""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from sys import stdout
from typing import Any

import pytest
from babel import Locale
from playwright.sync_api import Browser
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import market_pages
from tests.pages.boat_pages import LANGUAGES, WEEKENDER, every_state, laid_out, visiting
from tests.pages.fleet import fleet
from tests.pages.test_browser import DRAWN, browser

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture

# Width of the window and size of the letters that the reader asked for, in CSS pixels.
SIGHTS = {
    "1280 at 400 %": (320, 16),
    "letters of 32": (360, 32),
    "tablet": (768, 16),
    "desk": (1280, 16),
}
FOLDS = 740  # height of a phone's window, in CSS pixels
MOST_OF_HEAD = 150  # of which the head of a page takes this at most
LEAST_OF_FIRST = 0.6  # of a printed first page that something stands on
FOOT = 25  # points at a sheet's end that hold its number
SLIDES = """() => {
    const faults = [];
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (wide > 0) { faults.push(`${wide} too wide`); }
    for (const each of document.querySelectorAll("body *")) {
        if (each.closest(".scroll, svg, .unseen, .skip") || !each.checkVisibility()) { continue; }
        // What is clipped to a point is for those who listen.
        const caption = each.closest("caption");
        if (caption && caption.getBoundingClientRect().width <= 1) { continue; }
        if (each.getBoundingClientRect().right > innerWidth + 0.5) {
            faults.push(`${each.tagName}.${each.className}#${each.id}`);
        }
    }
    return faults.slice(0, 5);
}"""


def sheets(folder: Path) -> list[Path]:
    """Every page of every market in every language."""
    pages = sorted((folder / "site").rglob("*.html"))
    assert len({page.parts[-3:-1] for page in pages}) > 2 * len(LANGUAGES)
    return pages


def too_wide(tab: Tab, scripts: bool = True) -> Iterator[tuple[str, list[str]]]:
    """What sticks out of the window in each sight."""
    for sight, (width, letters) in SIGHTS.items():
        tab.set_viewport_size({"width": width, "height": FOLDS})
        tab.evaluate("size => { document.documentElement.style.fontSize = `${size}px`; }", letters)
        if scripts:  # without them nothing watches, and no picture is told of
            tab.evaluate(DRAWN)
        if faults := tab.evaluate(SLIDES):
            yield sight, faults


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_no_page_slides_sideways_in_any_market_language_or_sight(
    browser: Browser, demo_folder: Path, scripts: bool
) -> None:
    pages = sheets(demo_folder)
    if not scripts:  # alike in all markets
        pages = [page for page in pages if "home" in page.parts]
    faults: dict[str, object] = {}
    with browser.new_context(java_script_enabled=scripts, reduced_motion="reduce") as context:
        tab = context.new_page()
        for page in pages:
            tab.goto(page.as_uri())
            faults |= {
                f"{'/'.join(page.parts[-4:])}, {sight}": told
                for sight, told in too_wide(tab, scripts)
            }
    stdout.write(f"{len(pages)} pages, {len(SIGHTS)} sights each: {len(faults)} faults\n")
    assert faults == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_state_of_a_list_slides_sideways(
    browser: Browser, demo_folder: Path, language: str
) -> None:
    page = demo_folder / WEEKENDER.replace("/en/", f"/{language}/")
    with visiting(browser, viewport={"width": 320, "height": FOLDS}) as visit:
        for state in every_state(visit, page):
            assert list(too_wide(visit.tab)) == [], state


def test_a_page_of_a_large_fleet_fits(browser: Browser, tmp_path: Path) -> None:
    pricing = fleet(tmp_path, 16)
    made = market_pages(pricing, pricing.catalogue.yard.markets[0], Locale("en"))
    folder = laid_out(tmp_path / "pages", made)
    with browser.new_context() as context:
        tab = context.new_page()
        for page in ("index.html", "list.html", "compare.html", "models/open_68_b.html"):
            tab.goto((folder / page).as_uri())
            assert list(too_wide(tab)) == [], page
            assert head_of(tab) <= MOST_OF_HEAD, page


def head_of(tab: Tab) -> float:
    """How far down a page's head reaches on a phone."""
    tab.set_viewport_size({"width": 390, "height": FOLDS})
    tab.evaluate("document.documentElement.style.fontSize = ''")
    height: float = tab.evaluate(
        "document.querySelector('.masthead').getBoundingClientRect().bottom"
    )
    return height


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_on_a_phone_the_ways_to_other_pages_open_when_asked(
    browser: Browser, demo_folder: Path, scripts: bool
) -> None:
    heads: Counter[float] = Counter()
    with browser.new_context(java_script_enabled=scripts) as context:
        tab = context.new_page()
        for page in sheets(demo_folder):
            if "home" not in page.parts:
                continue
            tab.goto(page.as_uri())
            heads[head_of(tab)] += 1
        stdout.write(f"heights of heads: {dict(heads)}\n")
        assert max(heads) <= MOST_OF_HEAD
        ways = tab.locator("nav[aria-label]").first
        assert not ways.is_visible()
        tab.locator(".menu summary").press("Enter")
        assert ways.is_visible()
        tab.set_viewport_size({"width": 1280, "height": 900})
        assert ways.is_visible()
        assert not tab.locator(".menu").is_visible()


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_a_way_back_up_appears_when_a_phone_has_scrolled(
    browser: Browser, demo_folder: Path, scripts: bool
) -> None:
    up = """() => {
        const link = document.querySelector(".up a").getBoundingClientRect();
        return link.top > 0 && link.bottom < innerHeight && link.right < innerWidth;
    }"""
    screen: dict[str, Any] = {
        "viewport": {"width": 390, "height": FOLDS},
        "reduced_motion": "reduce",
    }
    with browser.new_context(**screen, java_script_enabled=scripts) as context:
        tab = context.new_page()
        for page in ("list.html", "models/coastal_98.html", "compare.html", "index.html"):
            tab.goto((demo_folder / "site/en/home" / page).as_uri())
            tab.evaluate("scrollTo(0, 0)")
            assert not tab.evaluate(up), page
            tab.evaluate("scrollTo(0, 3 * innerHeight)")
            assert tab.evaluate(up), page
        tab.locator(".up a").click()
        tab.wait_for_function("scrollY < 50")


# A sheet of paper and its height, a word on it and how far down its line ends; all in points.
SHEET = re.compile(r'<page width="[\d.]+" height="([\d.]+)">(.*?)</page>', re.DOTALL)
WORD = re.compile(r'yMin="([\d.]+)".*?yMax="([\d.]+)">(.*?)</word>')


def printed(tab: Tab, target: Path, paper: str) -> list[tuple[float, list[tuple[float, str]]]]:
    """Each sheet: its height, and its words with where they end, without what is at its foot."""
    # The page's own size is its market's; the other one is that of a reader elsewhere.
    tab.pdf(path=target, format=paper, print_background=True)
    told = subprocess.run(
        ["pdftotext", "-bbox", str(target), "-"], capture_output=True, text=True, check=True
    ).stdout
    found = []
    for height, inside in SHEET.findall(told):
        high = float(height)
        words = [(float(end), word) for _, end, word in WORD.findall(inside)]
        found.append((high, [(end, word) for end, word in words if end < high - FOOT - 15]))
    return found


def last_line(words: Iterable[tuple[float, str]]) -> str:
    words = list(words)
    lowest = max(end for end, _ in words)
    return " ".join(word for end, word in words if lowest - end < 4)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_printed_pages_begin_full_and_leave_no_heading_alone(
    browser: Browser, demo_folder: Path, tmp_path: Path, language: str, paper: str
) -> None:
    pages = [page for page in sheets(demo_folder) if f"{language}/home" in page.as_posix()]
    assert len(pages) > 8
    sheets_made, faults = 0, []
    with browser.new_context() as context:
        tab = context.new_page()
        for page in pages:
            tab.goto(page.as_uri())
            tab.emulate_media(media="print")
            heads = tab.locator("h1, h2, h3, h4, [scope=rowgroup], thead tr").all_inner_texts()
            told = {" ".join(head.split()) for head in heads}
            made = printed(tab, tmp_path / "page.pdf", paper)
            sheets_made += len(made)
            for number, (height, words) in enumerate(made):
                name = f"{page.name} {number + 1}/{len(made)}"
                if number == 0 and len(made) > 1 and max(words)[0] < LEAST_OF_FIRST * height:
                    faults.append(f"{name} is near empty")
                if words and last_line(words) in told:
                    faults.append(f"{name} ends with a heading: {last_line(words)}")
    stdout.write(f"{language}, {paper}: {len(pages)} pages on {sheets_made} sheets\n")
    assert faults == []
