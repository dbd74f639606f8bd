"""The guide's pages: before two checkers by other hands, without a server, without a dead end."""

from __future__ import annotations

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from playwright.sync_api import Browser, Request

from quoter.guide.markdown import links_of
from quoter.guide.pages import guide_files
from quoter.guide.topics import WRITTEN, written_topics
from tests.guide.commands import every_command
from tests.pages import nu_checker
from tests.pages.axe import violations
from tests.pages.boat_pages import laid_out
from tests.pages.test_browser import browser
from tests.pages.test_standards import SCREENS, each_screen

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pages as they are built."""
    return laid_out(tmp_path_factory.mktemp("guide"), guide_files(every_command()))


class Links(HTMLParser):
    """Where the links of a page lead, what it loads, and the ids that it has."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loads: list[str] = []
        self.ids: set[str] = set()
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        self.ids |= {told["id"]} if "id" in told else set()
        if tag == "a":
            self.links.append(told["href"])
        elif tag in ("link", "script", "img"):
            self.loads.append(told.get("href") or told.get("src", ""))


def pages_of(guide: Path) -> dict[str, Links]:
    return {page.name: Links(page) for page in sorted(guide.glob("*.html"))}


def test_no_link_is_broken_and_nothing_is_loaded_from_elsewhere(guide: Path) -> None:
    pages = pages_of(guide)
    assert len(pages) > 20
    for name, page in pages.items():
        for link in page.links:
            to, _, section = link.partition("#")
            there = pages.get(to or name)
            assert there is not None, f"{name} leads to {link}"
            assert not section or unquote(section) in there.ids, f"{name} leads to {link}"
        for asset in page.loads:
            assert (guide / asset).is_file(), f"{name} loads {asset}"


def test_every_page_is_reached_from_the_contents_and_written_ones_from_a_text(guide: Path) -> None:
    pages = pages_of(guide)
    assert {link.partition("#")[0] for link in pages["index.html"].links} >= {*pages}
    linked = {
        link
        for topic in written_topics()
        for link in _links_in_text(topic.text)
        if link != topic.name
    }
    assert {*WRITTEN} - linked == {"first-hour"}, "that one the contents and README begin with"


def _links_in_text(text: str) -> Iterator[str]:
    return (link.partition("#")[0].removesuffix(".md") for link in links_of(text))


@each_screen
def test_axe_finds_nothing(browser: Browser, guide: Path, screen: dict[str, Any]) -> None:
    with browser.new_context(**screen, reduced_motion="reduce") as context:
        tab = context.new_page()
        for page in sorted(guide.glob("*.html")):
            tab.goto(page.as_uri())
            assert violations(tab) == [], page.name
        tab.goto((guide / "index.html").as_uri())
        tab.get_by_label("Find in the guide").fill("vacuum")
        assert violations(tab) == [], "what was found"


def test_the_checker_finds_nothing(guide: Path) -> None:
    files = [*guide.rglob("*.html"), *guide.rglob("*.css"), *guide.rglob("*.svg")]
    assert nu_checker.faults(files) == []


def test_a_search_finds_places_without_a_server(browser: Browser, guide: Path) -> None:
    asked: list[str] = []

    def hear(request: Request) -> None:
        asked.append(request.url)

    with browser.new_context(**SCREENS[0]) as context:
        tab = context.new_page()
        tab.on("request", hear)
        tab.goto((guide / "month.html").as_uri())
        tab.get_by_label("Find in the guide").fill("film_mass")
        first = tab.locator("#places a").first
        assert first.inner_text() == "Formulas: film_mass"
        first.click()
        assert tab.url.endswith("formulas.html#film_mass")
        assert tab.locator("#film_mass").is_visible()
        tab.get_by_label("Find in the guide").fill("nothing-has-this-word")
        assert tab.get_by_role("status").inner_text() == "Nothing has all of these words."
    assert asked
    assert all(url.startswith("file://") for url in asked)


@pytest.mark.parametrize("width", [320, 360, 1280])
def test_no_page_is_wider_than_its_window(browser: Browser, guide: Path, width: int) -> None:
    with browser.new_context(viewport={"width": width, "height": 800}) as context:
        tab = context.new_page()
        for page in sorted(guide.glob("*.html")):
            tab.goto(page.as_uri())
            over = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
            assert tab.evaluate(over) == 0, page.name


def test_the_same_program_gives_the_same_bytes() -> None:
    assert guide_files(every_command()) == guide_files(every_command())
