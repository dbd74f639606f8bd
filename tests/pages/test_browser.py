"""The pages in a real Chromium, opened as files: narrow, without scripts, printed, by keyboard."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from playwright.sync_api import (
    Browser,
    ConsoleMessage,
    Error,
    Request,
    ViewportSize,
    sync_playwright,
)
from playwright.sync_api import Page as Tab

from quoter.figures.exact import half_up
from quoter.pages.money import length, mass, money, percent

pytestmark = pytest.mark.slow

PAGES = [
    "site/index.html",
    "site/en/home/index.html",
    "site/en/home/models/open_68.html",
    "site/de/home/models/coastal_98.html",
    "site/en/north/changes.html",
    "site/en/north/compare.html",
    "site/nb/home/list.html",
    "internal/review/index.html",
    "internal/review/plan.html",
    "internal/review/history.html",
    "internal/review/coastal_98/side_step.html",
    "internal/papers/index.html",
    "internal/papers/coastal_98/side_step.html",
]
# What these are without scripts is compared in their own tests.
SCRIPTED = {
    "site/en/north/compare.html",
    "internal/review/index.html",
    "site/en/home/models/open_68.html",
    "site/de/home/models/coastal_98.html",
}
# Here scripts only add: whatever stands without them still stands.
ADDED = {"site/en/home/index.html"}
WIDE = ViewportSize(width=1280, height=900)
NARROW = ViewportSize(width=320, height=640)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    # Debian's own; without these switches it calls home at every start.
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        yield chromium
        chromium.close()


@pytest.fixture
def tab(browser: Browser) -> Iterator[Tab]:
    with browser.new_context(viewport=WIDE) as context:
        yield context.new_page()


def uri(folder: Path, page: str) -> str:
    return (folder / page).as_uri()


# What watches the size of a table is told of it with the next picture that is drawn.
DRAWN = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
# WCAG 2.2: 1.4.10 Reflow, at 400 % and at 200 % of a screen 1280 wide, and 1.4.4 Resize Text.
SIGHTS = {"320 wide": (320, 1), "200 %": (640, 1), "text twice as large": (1280, 2)}


@pytest.mark.parametrize(("width", "letters"), SIGHTS.values(), ids=SIGHTS)
@pytest.mark.parametrize("page", PAGES)
def test_no_page_is_wider_than_its_window(
    tab: Tab, demo_folder: Path, page: str, width: int, letters: int
) -> None:
    tab.set_viewport_size({"width": width, "height": 640})
    tab.goto(uri(demo_folder, page))
    tab.evaluate("times => { document.documentElement.style.fontSize = `${times}00%`; }", letters)
    tab.evaluate(DRAWN)
    overflow = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert tab.evaluate(overflow) == 0
    stray = """[...document.querySelectorAll('table')].filter(table =>
        table.getBoundingClientRect().width > innerWidth &&
        !table.closest('[role=region][tabindex="0"][aria-labelledby]')).length"""
    assert tab.evaluate(stray) == 0
    cut = """[...document.querySelectorAll('main *')].filter(element =>
        !element.closest('.scroll') && !element.closest('svg') &&
        element.getBoundingClientRect().right > innerWidth + 0.5).length"""
    assert tab.evaluate(cut) == 0


def test_a_wide_table_scrolls_by_keyboard_in_its_own_region(tab: Tab, demo_folder: Path) -> None:
    tab.set_viewport_size(NARROW)
    tab.goto(uri(demo_folder, "internal/review/index.html"))
    region = tab.locator(".scroll").first
    assert region.evaluate("region => region.scrollWidth > region.clientWidth")
    region.focus()
    tab.keyboard.press("End")
    tab.keyboard.press("ArrowRight")
    tab.wait_for_function("document.querySelector('.scroll').scrollLeft > 0")


@pytest.mark.parametrize("page", PAGES)
def test_pages_are_the_same_without_scripts_and_ask_for_nothing_else(
    browser: Browser, demo_folder: Path, page: str
) -> None:
    shown: list[str] = []
    asked: list[str] = []
    faults: list[str] = []

    def hear_console(message: ConsoleMessage) -> None:
        faults.append(message.text)

    def hear_error(fault: Error) -> None:
        faults.append(str(fault))

    def hear_request(request: Request) -> None:
        asked.append(request.url)

    for scripts in (True, False):
        with browser.new_context(viewport=WIDE, java_script_enabled=scripts) as context:
            tab = context.new_page()
            tab.on("console", hear_console)
            tab.on("pageerror", hear_error)
            tab.on("request", hear_request)
            tab.goto(uri(demo_folder, page), wait_until="networkidle")
            shown.append(tab.locator("body").inner_text())
    assert faults == []
    with_scripts, without = ([line for line in text.splitlines() if line] for text in shown)
    if page in ADDED:
        assert [line for line in without if line not in with_scripts] == []
    else:
        assert with_scripts == without or page in SCRIPTED
    assert len(shown[1]) > 300
    assert [url for url in asked if not url.startswith(f"{own_folder(demo_folder, page)}/")] == []


def own_folder(demo_folder: Path, page: str) -> str:
    """What may be sent on alone: a market's folder in one language, or all that is internal."""
    parts = page.split("/")
    of_market = parts[0] == "site" and len(parts) > 3
    return uri(demo_folder, "/".join(parts[: 3 if of_market else 1]))


def test_skip_link_is_the_first_stop_and_leads_to_the_content(tab: Tab, demo_folder: Path) -> None:
    tab.goto(uri(demo_folder, "site/en/home/models/coastal_98.html"))
    tab.keyboard.press("Tab")
    link = tab.locator(":focus")
    assert link.inner_text() == "Skip to the content"
    box = link.bounding_box()
    assert box is not None
    assert box["y"] >= 0, "it comes into view"
    assert link.evaluate("link => getComputedStyle(link).outlineStyle") == "solid"
    tab.keyboard.press("Enter")
    assert tab.locator(":focus").get_attribute("id") == "main"


def test_colours_follow_the_scheme_and_motion_the_wish(tab: Tab, demo_folder: Path) -> None:
    tab.goto(uri(demo_folder, "site/en/home/index.html"))
    paper = "getComputedStyle(document.documentElement).backgroundColor"
    motion = "getComputedStyle(document.documentElement).scrollBehavior"
    tab.emulate_media(color_scheme="light", reduced_motion="no-preference")
    assert (tab.evaluate(paper), tab.evaluate(motion)) == ("rgb(252, 251, 247)", "smooth")
    tab.emulate_media(color_scheme="dark", reduced_motion="reduce")
    assert (tab.evaluate(paper), tab.evaluate(motion)) == ("rgb(17, 25, 31)", "auto")


@pytest.mark.parametrize(
    ("page", "most"),
    [
        ("site/en/home/index.html", 2),
        ("site/en/home/models/open_68.html", 3),
        ("site/de/trade/models/coastal_98.html", 5),
        ("site/en/north/changes.html", 3),
        ("site/fr/home/compare.html", 2),
        ("site/nb/home/list.html", 8),
        ("internal/review/index.html", 14),
        ("internal/review/plan.html", 8),
        ("internal/review/coastal_98/side_step.html", 7),
    ],
)
def test_pages_print_on_a_few_sheets_with_nothing_lost(
    tab: Tab, demo_folder: Path, tmp_path: Path, page: str, most: int
) -> None:
    tab.goto(uri(demo_folder, page))
    printed = tmp_path / "page.pdf"
    tab.pdf(path=printed, prefer_css_page_size=True, print_background=True, format="A4")
    told = said("pdfinfo", str(printed))
    (count,) = map(int, re.findall(r"Pages: +(\d+)", told))
    assert 1 <= count <= most
    assert "(A4)" in told
    laid_out, raw = (said("pdftotext", how, str(printed), "-") for how in ("-layout", "-raw"))
    assert re.search(rf"{count} ?/ ?{count}\s*\Z", laid_out), "sheets are numbered"
    flat = re.sub(r"[\s\N{SOFT HYPHEN}-]", "", raw)
    tab.emulate_media(media="print")
    tab.evaluate("for (const heard of document.querySelectorAll('.unseen')) heard.remove()")
    figures = tab.locator("td:is(.figure, [data-model]), .amount, .price strong")
    pieces = figures.locator("visible=true").all_inner_texts()
    assert pieces
    # A line of a cell ends at a plain space at most, and the next cell's line may then follow.
    for piece in re.split(r"[ \n\t]+", "\n".join(pieces)):
        assert re.sub(r"[\s-]", "", piece) in flat, piece


def test_every_shop_paper_prints_on_seven_sheets_at_most_with_nothing_lost(
    tab: Tab, demo_folder: Path, tmp_path: Path
) -> None:
    papers = sorted((demo_folder / "internal" / "papers").glob("*/*.html"))
    assert len(papers) > 50
    printed = tmp_path / "page.pdf"
    for paper in papers:
        tab.goto(paper.as_uri())
        tab.pdf(path=printed, prefer_css_page_size=True, print_background=True)
        told = said("pdfinfo", str(printed))
        (count,) = map(int, re.findall(r"Pages: +(\d+)", told))
        assert 1 <= count <= 7, paper.stem
        assert "(A4)" in told
        text = said("pdftotext", "-raw", str(printed), "-")
        flat = re.sub(r"[\s\N{SOFT HYPHEN}-]", "", text)
        for piece in tab.locator("td.figure, .step th, .hazard, .caution li").all_inner_texts():
            assert re.sub(r"[\s-]", "", piece) in flat, f"{paper.stem}: {piece}"


def test_print_keeps_rows_whole_and_repeats_heads(tab: Tab, demo_folder: Path) -> None:
    tab.goto(uri(demo_folder, "site/en/home/models/coastal_98.html"))
    tab.emulate_media(media="print")
    style = "(element, name) => getComputedStyle(element)[name]"
    assert tab.locator("thead").first.evaluate(style, "display") == "table-header-group"
    for part in ("tbody tr", "article", "section.caution"):
        assert tab.locator(part).first.evaluate(style, "breakInside") == "avoid"
    assert [nav.is_visible() for nav in tab.locator("nav").all()] == [False] * 3


def said(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


# An implementation of the same rules by other hands: ECMA-402, as Chromium has it.
INTL = """([locale, options, amount]) =>
    new Intl.NumberFormat(locale, options).format(amount)"""


@pytest.mark.parametrize("locale", ["en", "en-GB", "en-IE", "de", "fr", "nb"])
def test_numbers_read_as_the_browser_writes_them(tab: Tab, locale: str) -> None:
    own = Locale.parse(locale, sep="-")

    def intl(amount: str, **options: object) -> str:
        return plain(tab.evaluate(INTL, [locale, options, amount]))

    for amount in ("0.125", "2.345", "-7.5", "1234.005", "98765432.1"):
        for currency in ("EUR", "USD", "GBP", "NOK", "CHF", "JPY", "BHD"):
            written = plain(money(Decimal(amount), currency, own))
            assert written == intl(amount, style="currency", currency=currency)
        digits = {"minimumFractionDigits": 1, "maximumFractionDigits": 1}
        assert plain(percent(Decimal(amount), own)) == intl(amount, style="percent", **digits)
    kilograms = {"style": "unit", "unit": "kilogram", **digits}
    assert plain(mass(Decimal("37.25"), own)) == intl("37.25", **kilograms)
    metres = {"style": "unit", "unit": "meter"} | dict.fromkeys(digits, 2)
    assert plain(length(Decimal("7.925"), own)).partition(" (")[0] == intl("7.925", **metres)
    assert half_up(Decimal("7.925"), 2) == Decimal("7.93")


def plain(text: str) -> str:
    """Spaces of every width as one kind: versions of CLDR differ in which they use."""
    return re.sub(r"\s", " ", text)
