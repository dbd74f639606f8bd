"""A quote in a real Chromium: on both papers, on a narrow screen, without a word to the console."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import Page as Tab

from quoter.catalogue.languages import languages
from quoter.quotes.printed.files import quote_page
from tests.pages.test_browser import NARROW, WIDE, browser, said
from tests.quotes.samples import END, FULL, SAMPLES, line, long, record

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
PAPERS = {"A4": "(A4)", "Letter": "(letter)"}
every_language = pytest.mark.parametrize("language", languages())


@pytest.fixture
def tab(browser: Browser) -> Iterator[Tab]:
    with browser.new_context(viewport=WIDE) as context:
        yield context.new_page()


def shown(tab: Tab, folder: Path, sample: str, language: str = "en") -> None:
    page = folder / f"{sample}.html"
    page.write_bytes(quote_page(SAMPLES[sample](language=language)))
    tab.goto(page.as_uri())


def printed(tab: Tab, folder: Path, paper: str) -> list[str]:
    """The text of each sheet."""
    file = folder / "quote.pdf"
    tab.pdf(path=file, format=paper, prefer_css_page_size=True, print_background=True)
    assert PAPERS[paper] in said("pdfinfo", str(file))
    return said("pdftotext", "-layout", str(file), "-").split("\f")[:-1]


def squeezed(text: str) -> str:
    return re.sub(r"[\s\N{SOFT HYPHEN}-]", "", text)


@every_language
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sample", ["short", "usual"])
def test_a_usual_quote_prints_on_two_sheets_at_most_with_nothing_lost(
    tab: Tab, tmp_path: Path, sample: str, paper: str, language: str
) -> None:
    shown(tab, tmp_path, sample, language)
    sheets = printed(tab, tmp_path, paper)
    assert 1 <= len(sheets) <= 2
    flat = squeezed(said("pdftotext", "-raw", str(tmp_path / "quote.pdf"), "-"))
    for piece in tab.locator("main th, main td, dd, main p, li, address").all():
        if piece.is_visible():
            for row in piece.inner_text().splitlines():
                assert squeezed(row) in flat, row
    for number, sheet in enumerate(sheets, 1):
        assert re.search(rf"2026-0007.+{number} ?/ ?{len(sheets)}\s*\Z", sheet, re.DOTALL)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_long_quote_splits_no_row_and_repeats_its_heading(
    tab: Tab, tmp_path: Path, paper: str
) -> None:
    shown(tab, tmp_path, "long")
    sheets = printed(tab, tmp_path, paper)
    assert 3 <= len(sheets) <= 6
    for number, each in enumerate([x for x in long().lines if x.kind in ("option", "package")], 1):
        whole = [
            sheet
            for sheet in sheets
            if f"Option no. {number:02}" in sheet and f"({number:02})" in sheet
        ]
        assert len(whole) == 1, each.name
        assert f"{each.amount:,}" in whole[0]
        assert "Unit price" in whole[0]
        assert "Amount" in whole[0]
    assert sum(sheet.count(END) for sheet in sheets) == 24
    (last,) = [sheet for sheet in sheets if "Total to pay" in sheet]
    assert "Sum without tax" in last
    assert "What changed since quote 2026-0007-R1" in sheets[-1]
    assert "Acceptance" not in sheets[-1]


@every_language
@pytest.mark.parametrize("sample", SAMPLES)
def test_a_narrow_screen_shows_everything(
    tab: Tab, tmp_path: Path, sample: str, language: str
) -> None:
    tab.set_viewport_size(NARROW)
    shown(tab, tmp_path, sample, language)
    overflow = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert tab.evaluate(overflow) == 0
    cut = """[...document.querySelectorAll('body *')].filter(element =>
        !element.closest('.scroll') && element.getBoundingClientRect().right > innerWidth + 0.5)
        .map(element => element.className + ' ' + element.textContent.slice(0, 60))"""
    assert tab.evaluate(cut) == []
    several = [x for x in SAMPLES[sample]().lines if x.quantity != 1]
    told = tab.locator(".each", has_text="×")
    assert told.count() == len(several)
    assert all(each.is_visible() for each in told.all())


@pytest.mark.parametrize("sample", SAMPLES)
def test_page_asks_for_nothing_and_says_nothing_to_the_console(
    browser: Browser, tmp_path: Path, sample: str
) -> None:
    asked: list[str] = []
    faults: list[str] = []
    with browser.new_context(viewport=WIDE) as context:
        tab = context.new_page()
        tab.on("console", lambda message: faults.append(message.text))
        tab.on("pageerror", lambda fault: faults.append(str(fault)))
        tab.on("request", lambda request: asked.append(request.url))
        shown(tab, tmp_path, sample)
        tab.wait_for_load_state("networkidle")
        assert tab.locator(".each").first.is_hidden() or sample == "long"
    assert faults == []
    assert asked == [(tmp_path / f"{sample}.html").as_uri()]


def test_skip_link_leads_to_the_content_by_keyboard(tab: Tab, tmp_path: Path) -> None:
    shown(tab, tmp_path, "usual")
    tab.keyboard.press("Tab")
    tab.keyboard.press("Enter")
    assert tab.locator(":focus").get_attribute("id") == "main"


@pytest.mark.parametrize("paper", PAPERS)
def test_a_total_is_never_split_between_sheets(tab: Tab, tmp_path: Path, paper: str) -> None:
    """Browsers split it where it must also follow the last line; the PDF keeps both."""
    for count in range(31, 38):
        options = [
            line("option", f"Hatch number {n}", "248.75", text="Flush.", lead_time="2 weeks")
            for n in range(count)
        ]
        boat, delivery = line("boat", "Tern Cutter 82", "93125.00"), line("delivery", "DAP", "9.50")
        quote = record(
            [boat, *options, delivery],
            rates={FULL.id: FULL},
            currency="EUR",
            with_tax=True,
            paper=paper,
        )
        (tmp_path / "quote.html").write_bytes(quote_page(quote))
        tab.goto((tmp_path / "quote.html").as_uri())
        sheets = printed(tab, tmp_path, paper)
        (whole,) = [sheet for sheet in sheets if "Total to pay" in sheet]
        assert "Total without tax" in whole, count
