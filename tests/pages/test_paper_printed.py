"""Shop papers in a real Chromium: whole at 1280 pixels, on A4 and Letter without a loose head."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import Page as Tab

from tests.pages.test_browser import WIDE, browser, said

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
SIZES = {"A4": "(A4)", "Letter": "(letter)"}
# Papers of every kind of part: infused, sprayed, laid up, injected, foamed, in many batches.
PRINTED = (
    "open_68/base-boat",
    "open_68/deck_hatch",
    "weekender_86/side_single",
    "weekender_86/side_pair",
    "weekender_86/companion_door",
    "weekender_86/roof_panel",
    "weekender_86/hull_blue",
    "weekender_86/buoyancy",
    "coastal_98/side_step",
)
WIDER = """[...document.querySelectorAll('main *')].filter(element =>
    element.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 ||
    (element.matches('.scroll, table, th, td, .frame, figure, li') &&
     element.scrollWidth > element.clientWidth + 1)
).map(element => element.tagName + '.' + element.className + ' ' + element.textContent.slice(0, 40))
"""


@pytest.fixture
def tab(browser: Browser) -> Iterator[Tab]:
    with browser.new_context(viewport=WIDE) as context:
        yield context.new_page()


def test_no_shop_paper_is_wider_than_a_screen_of_1280(tab: Tab, demo_folder: Path) -> None:
    papers = sorted((demo_folder / "internal" / "papers").glob("*/*.html"))
    assert len(papers) > 50
    for paper in papers:
        tab.goto(paper.as_uri())
        assert tab.evaluate(WIDER) == [], paper


def squeezed(text: str) -> str:
    return re.sub(r"[\s\N{SOFT HYPHEN}-]", "", text)


def printed(tab: Tab, folder: Path, paper: Path, size: str) -> list[str]:
    """The words of each sheet in the order they were set, without blanks and page numbers."""
    tab.goto(paper.as_uri())
    tab.add_style_tag(content=f"@page {{ size: {size}; }}")
    file = folder / "paper.pdf"
    tab.pdf(path=file, prefer_css_page_size=True, print_background=True)
    assert SIZES[size] in said("pdfinfo", str(file))
    sheets = said("pdftotext", "-raw", str(file), "-").split("\f")[:-1]
    count = len(sheets)
    numbered = [squeezed(sheet) for sheet in sheets]
    for number, sheet in enumerate(numbered, 1):
        assert sheet.startswith(f"{number}/{count}"), sheet[:40]
    return [sheet.removeprefix(f"{n}/{count}") for n, sheet in enumerate(numbered, 1)]


def texts(tab: Tab, which: str) -> list[str]:
    """The words of each element that print shows."""
    tab.emulate_media(media="print")
    shown = "found => found.filter(e => e.getClientRects().length).map(e => e.textContent)"
    return [squeezed(text) for text in tab.locator(which).evaluate_all(shown)]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PRINTED)
def test_no_heading_stands_last_and_no_step_is_parted_from_its_cautions(
    tab: Tab, demo_folder: Path, tmp_path: Path, name: str, size: str
) -> None:
    paper = demo_folder / "internal" / "papers" / f"{name}.html"
    sheets = printed(tab, tmp_path, paper, size)
    heads = texts(tab, "thead")
    headings = texts(tab, "h1, h2, h3, caption, .running, tbody th[scope=rowgroup]")
    assert heads
    assert len(headings) > 3
    for sheet in sheets:
        assert [head for head in (*heads, *headings) if sheet.endswith(head)] == []
        # Where a column ends, the head of its table comes again.
        assert [head for head in heads if head + head in sheet] == []
        groups = texts(tab, "tbody th[scope=rowgroup]")
        assert [each for each in groups for head in heads if each + head in sheet] == []
    whole = texts(tab, ".step, .mix, section.caution, .check, .hazard, .settings li, figcaption")
    assert len(whole) > 2
    assert [text for text in whole if not any(text in sheet for sheet in sheets)] == []
