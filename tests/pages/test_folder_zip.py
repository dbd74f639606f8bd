"""A price sheet's folder in one file: whole once it is unpacked, and nothing leads nowhere."""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from collections.abc import Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, sync_playwright

from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from quoter.workbook.xlsx import zipped
from tests.catalogues.written import priced
from tests.demo import DEMO, demo
from tests.pages.parsed import VOID
from tests.pages.test_public import links_of

ADDRESS = "  address: https://www.orvesund.example.com/prices/\n"


class _Links(HTMLParser):
    """What a page leads to, the places it has, and that its elements are closed."""

    def __init__(self) -> None:
        super().__init__()
        self.targets: list[str] = []
        self.places: set[str] = set()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        self.targets += links_of(told)
        self.places.update(told[name] for name in ("id", "name") if name in told)
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop() == tag


def parsed(page: bytes) -> _Links:
    found = _Links()
    found.feed(page.decode())
    assert found.open == []
    return found


@cache
def demo_site() -> PublicSite:
    return PublicSite(demo(), earlier_lists(DEMO, demo()))


def zips(site: PublicSite) -> dict[str, bytes]:
    return {path: site.makers[path]() for path in site.makers if path.endswith(".zip")}


def unpacked(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def broken(files: dict[str, bytes]) -> Iterator[tuple[str, str]]:
    """Links of unpacked files that lead to no file, or to no place of one; whole ones are right."""
    pages = {name: parsed(page) for name, page in files.items() if name.endswith(".html")}
    for name, page in pages.items():
        for target in page.targets:
            parts = urlsplit(target)
            if parts.scheme or parts.netloc:
                continue
            path = (
                (Path("/") / name).parent / unquote(parts.path) if parts.path else Path("/") / name
            )
            file = _plain(path)
            place = parts.fragment if file in pages else ""
            there = file in files and (not place or "=" in place or place in pages[file].places)
            if not there:
                yield name, target


def _plain(path: Path) -> str:
    found: list[str] = []
    for part in path.parts[1:]:
        if part == "..":
            if not found:
                return "outside"
            found.pop()
        elif part != ".":
            found.append(part)
    return "/".join(found)


def test_each_folder_has_one_called_by_market_and_language() -> None:
    site = demo_site()
    expected = {
        f"{folder}/{sheet.view.head.id}-{sheet.view.head.tag}.zip"
        for folder, sheet in site.sheets.items()
    }
    assert {path for path in site.makers if path.endswith(".zip")} == expected
    for folder in site.sheets:
        page = site.makers[f"{folder}/index.html"]().decode()
        (link,) = re.findall(r'<a href="([^"]*\.zip)">', page)
        assert f"{folder}/{link}" in site.makers


def test_it_holds_every_other_file_of_its_folder_and_not_itself() -> None:
    site = demo_site()
    for path, content in zips(site).items():
        folder, _, name = path.rpartition("/")
        top = name.removesuffix(".zip")
        files = unpacked(content)
        beside = {
            each.removeprefix(f"{folder}/") for each in site.makers if each.startswith(f"{folder}/")
        }
        assert {*files} == {f"{top}/{each}" for each in beside - {name}}
        for each, file in files.items():
            if not each.endswith(".html"):
                assert file == site.makers[each.replace(top, folder, 1)]()


def test_nothing_in_it_leads_nowhere() -> None:
    """Where the yard states its address, what is not there leads to the yard's own site."""
    site = demo_site()
    for path, content in zips(site).items():
        files = unpacked(content)
        assert [*broken(files)] == []
        index = files[f"{path.rpartition('/')[2].removesuffix('.zip')}/index.html"].decode()
        others = {head.folder for head in (*site.sheets[path.rpartition("/")[0]].view.markets,)}
        for folder in others:
            assert f'href="https://www.orvesund.example.com/prices/{folder}/index.html"' in index


def test_without_an_address_what_is_elsewhere_is_left_out(tmp_path: Path) -> None:
    copy = tmp_path / "yard"
    shutil.copytree(DEMO, copy)
    yard = copy / "yard.yaml"
    text = yard.read_text("utf-8")
    assert ADDRESS in text
    yard.write_text(text.replace(ADDRESS, ""), "utf-8")
    pricing = priced(copy)
    site = PublicSite(pricing, earlier_lists(copy, pricing))
    found = {path: site.makers[path]() for path in site.makers if path.startswith("en/home/")}
    files = unpacked(found["en/home/home-en.zip"])
    assert [*broken(files)] == []
    for name, page in files.items():
        if name.endswith(".html"):
            assert not re.search(rb'data-beside|href="(?:\.\./)*(?:de|en)/|\.zip', page), name
    assert b"Other price sheets" in found["en/home/index.html"]
    SiteGuard(site).look_through(found)


def test_links_of_the_site_itself_stay_as_they_are() -> None:
    index = demo_site().makers["en/home/models/open_68.html"]().decode()
    assert 'href="../../../de/home/models/open_68.html"' in index
    assert 'href="../home-en.zip"' in index


def test_it_is_the_same_every_time() -> None:
    site, again = demo_site(), PublicSite(demo(), earlier_lists(DEMO, demo()))
    path = "en/trade/trade-en.zip"
    content = site.makers[path]()
    assert again.pages([path, "en/trade/index.html"])[path] == content
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        listed = archive.infolist()
    assert [each.filename for each in listed] == sorted(each.filename for each in listed)
    assert {each.compress_type for each in listed} == {zipfile.ZIP_STORED}
    assert {each.date_time for each in listed} == {(1980, 1, 1, 0, 0, 0)}
    assert {each.create_system for each in listed} == {3}


def test_all_that_it_holds_is_accounted_for() -> None:
    site = demo_site()
    SiteGuard(site).look_through(zips(site))


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("trade-en/index.html", b"</main>", b"<p>31,415.93</p></main>"),
        ("trade-en/prices.csv", b'"boat"', b'"31415.93"'),
        ("trade-en/assets/boat.js", b"function", b"function /* Brisk */"),
    ],
)
def test_a_secret_planted_in_it_is_found(name: str, old: bytes, new: bytes) -> None:
    site, path = demo_site(), "en/trade/trade-en.zip"
    beside = site.pages(site.shares["en/trade"])
    files = unpacked(beside[path])
    assert old in files[name]
    files[name] = files[name].replace(old, new, 1)
    beside[path] = zipped(files, stored=True)
    with pytest.raises(LeakError, match=re.escape(f"{path}: {name}: ")):
        SiteGuard(site).look_through(beside)


def test_what_is_put_beside_or_behind_its_files_is_found() -> None:
    site, path = demo_site(), "en/trade/trade-en.zip"
    content = site.makers[path]()
    files = unpacked(content)
    for wrong in (
        content + b"x",
        zipped(files),
        zipped(files | {"trade-en/costs.txt": b"1"}, stored=True),
        zipped(files | {"elsewhere/index.html": files["trade-en/index.html"]}, stored=True),
        b"no zip",
    ):
        with pytest.raises(LeakError):
            SiteGuard(site).look_through({path: wrong})


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=switches)
        yield found
        found.close()


def test_a_browser_uses_the_unpacked_folder_from_files(browser: Browser, tmp_path: Path) -> None:
    for name, content in unpacked(demo_site().makers["en/home/home-en.zip"]()).items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(content)
    tab = browser.new_page()
    faults: list[str] = []
    tab.on("pageerror", lambda fault: faults.append(str(fault)))
    tab.on("requestfailed", lambda asked: faults.append(asked.url))
    tab.goto((tmp_path / "home-en" / "index.html").as_uri())
    tab.get_by_role("link", name="Orvesund 8.6 Weekender").first.click()
    tab.wait_for_url("**/home-en/models/weekender_86.html")  # with what it loads, scripts too
    assert tab.evaluate("typeof window.priceList") == "object"
    assert faults == []
    tab.close()
