"""A model's page in a browser as its tests open it, with an ear for whatever it should not say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import public_pages
from tests.pages.ruled import ruled
from tests.pages.test_browser import WIDE

COASTAL = "site/en/home/models/coastal_98.html"
WEEKENDER = "site/en/home/models/weekender_86.html"
LANGUAGES = ("en", "de", "fr", "nb", "es")
# Violations of the page's own policy, kept where a test can ask for them.
LISTENING = """window.refused = [];
addEventListener("securitypolicyviolation", event => refused.push(event.violatedDirective));"""

# Another hash in the address, until the page has seen it.
TYPED = """state => new Promise(done => {
    const count = window.typed = (window.typed || 0) + 1;
    addEventListener("hashchange", () => done(), {once: true});
    location.hash = `${state}&typed=${count}`;
})"""


@dataclass(slots=True)
class Visit:
    """A tab, and what the pages in it said to the console or asked of the network."""

    tab: Tab
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def open(self, page: Path | str, state: str = "") -> Tab:
        """Open a page as if anew, with a state behind the hash in its address."""
        self.tab.goto("about:blank")
        self.asked.clear()
        self.said.clear()
        start = page.as_uri() if isinstance(page, Path) else page
        self.tab.goto(f"{start}#{state}" if state else start)
        return self.tab

    @property
    def faults(self) -> list[str]:
        """What a sound page never says; policy violations among them."""
        found: list[str] = self.tab.evaluate("window.refused || []")
        return [*self.said, *found]


@contextmanager
def visiting(browser: Browser, **context: Any) -> Iterator[Visit]:
    """A visit that must not have led to a single word on the console."""
    with browser.new_context(**context) as made:
        visit = Visit(made.new_page())
        tab = visit.tab
        tab.add_init_script(LISTENING)
        tab.on("console", lambda message: visit.said.append(message.text))
        tab.on("pageerror", lambda fault: visit.said.append(str(fault)))
        tab.on("request", lambda request: visit.asked.append(request.url))
        yield visit
        assert visit.faults == []


# Fixtures for the modules that import them.
@pytest.fixture(scope="module")
def tourist(browser: Browser) -> Iterator[Visit]:
    """A visit that a module's tests share."""
    with visiting(browser, viewport=WIDE, reduced_motion="reduce") as visit:
        yield visit


@pytest.fixture
def visit(tourist: Visit) -> Iterator[Visit]:
    """A visit that leaves no word on the console."""
    yield tourist
    assert tourist.faults == []


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The cutter's page, with rules of every kind."""
    folder = tmp_path_factory.mktemp("odd")
    pages = laid_out(folder / "site", public_pages(ruled(folder)))
    return pages / "en/home/models/cutter.html"


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a folder on a server of this machine."""
    quiet = type("Quiet", (SimpleHTTPRequestHandler,), {"log_message": lambda *words: None})
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(quiet, directory=folder)) as server:
        thread = Thread(target=server.serve_forever)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}"
        finally:
            server.shutdown()
            thread.join()


def laid_out(folder: Path, pages: Mapping[str, bytes]) -> Path:
    """Pages as files below a folder."""
    for path, content in pages.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder


def listed(tab: Tab) -> str:
    """The list as an address holds it."""
    written: str = tab.evaluate("boatOnPage.choice.written()")
    return written


def state(tab: Tab) -> str:
    """What stands behind the hash, as it was written."""
    return tab.url.partition("#")[2]


def shown(tab: Tab) -> list[str]:
    """The ids of the options whose articles are to be seen."""
    found: list[str] = tab.evaluate(
        """[...document.querySelectorAll("[data-item]")].filter(each => each.checkVisibility())
           .map(each => each.dataset.item)"""
    )
    return found


def opened(tab: Tab) -> None:
    """The whole list to be seen, where a small screen has one line of it."""
    line = tab.locator("#list-open")
    if line.is_visible() and line.get_attribute("aria-expanded") == "false":
        line.click()


def every_state(visit: Visit, page: Path) -> Iterator[str]:
    """The states of a page that add something to it, one after the other."""
    tab = visit.open(page, f"list=easy_boarding,seat_base*4,{'unknown' * 12}")
    yield "a list, and what was left out of it"
    tab.locator("[data-pick=side_pair]").click()
    yield "refused in the table"
    tab.locator("[data-toggle=transom_door]").click()
    yield "refused at an option"
    tab.locator("[data-pick=day_fishing]").click()
    yield "refused for a number"
    opened(tab)
    tab.locator(".ask summary").click()
    tab.fill("#ask-note", "A very long wish. " * 30)
    yield "the form open"
    if tab.locator("#list-open").is_visible():
        tab.keyboard.press("Escape")
    tab.fill("#find", "x" * 60)
    yield "nothing found"
