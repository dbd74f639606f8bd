"""What a reader takes along: one printed sheet with a symbol, a draft of an e-mail, and a notice
where the prices' days are over or have not begun.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from urllib.parse import unquote, urlsplit
from zoneinfo import ZoneInfo

import pytest
import segno
from playwright.sync_api import Browser, expect
from playwright.sync_api import Page as Tab
from segno import encoder

from quoter.pages.public.site import PublicSite
from quoter.pricing.price import Pricing
from tests.catalogues.written import priced
from tests.demo import DEMO
from tests.pages.boat_pages import Visit, laid_out, served, tourist, visit, visiting
from tests.pages.laden import MODEL, TWELVE, laden
from tests.pages.test_browser import WIDE, browser, said
from tests.pages.test_qr import whole_bytes
from tests.pages.variants import copied

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
PAPERS = ("A4", "Letter")
ADDRESS = "https://www.orvesund.example.com/prices/"
STATED = f"  address: {ADDRESS}\n"
# The rows of modules that are drawn, by where the ink is.
DRAWN = """() => {
    const svg = document.querySelector("#summary-symbol svg"), [, , size] = svg.getAttribute(
        "viewBox").split(" ").map(Number);
    const rows = Array.from({length: size}, () => Array(size).fill("0"));
    for (const [, x, y] of svg.lastChild.getAttribute("d").matchAll(/M(\\d+) (\\d+)h1v1h-1z/g)) {
        rows[y][x] = "1";
    }
    return rows.map(row => row.join(""));
}"""


def sheet_of(pricing: Pricing, folder: Path) -> Path:
    """The home market's sheet in English, as files."""
    site = PublicSite(pricing)
    paths = [path for path in site.makers if path.startswith("en/home/")]
    return laid_out(folder, site.pages(paths))


@pytest.fixture(scope="module")
def home(demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return sheet_of(demo_pricing, tmp_path_factory.mktemp("home"))


@pytest.fixture(scope="module")
def unstated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same of a yard that does not say where its price sheets will be."""
    folder = tmp_path_factory.mktemp("unstated")
    copy = copied(DEMO, folder / "demo", {"yard.yaml": {STATED: ""}})
    return sheet_of(priced(copy), folder / "site")


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration with so many options on one boat that a list has seventeen lines."""
    folder = tmp_path_factory.mktemp("full")
    return sheet_of(laden(folder, (*TWICE_MORE,)), folder / "site")


TWICE_MORE = ("sole_panels", "roof_panel", "buoyancy", "fish_lid", "seat_base", "deck_hatch")
SIXTEEN = (*TWELVE, "buoyancy_too", "fish_lid_too*2", "seat_base_too*4", "deck_hatch_too*2")


def page_of(folder: Path, model: str = "coastal_98") -> Path:
    return folder / f"en/home/models/{model}.html"


def summary(tab: Tab) -> Tab:
    """Press the button that prints; the browser's own window stays shut."""
    tab.evaluate("window.print = () => { window.printed = document.body.className; }")
    tab.locator("#list-print").click()
    assert "only-list" in tab.evaluate("printed").split()
    return tab


def printed(tab: Tab, file: Path, paper: str) -> list[str]:
    tab.pdf(path=file, format=paper, prefer_css_page_size=False, print_background=True)
    return said("pdftotext", "-layout", str(file), "-").split("\f")[:-1]


@pytest.mark.parametrize("paper", PAPERS)
def test_a_long_list_is_one_sheet_with_all_that_it_is_for(
    visit: Visit, full: Path, tmp_path: Path, paper: str
) -> None:
    tab = visit.open(page_of(full, MODEL), f"list={','.join(SIXTEEN)}")
    summary(tab)
    lines = tab.locator("#summary-lines tr").count()
    assert lines >= 17
    (sheet,) = printed(tab, tmp_path / "summary.pdf", paper)
    tab.emulate_media(media="print")
    tab.evaluate("document.body.classList.add('only-list')")
    flat = re.sub(r"\s", "", sheet)
    for piece in tab.locator("#summary :is(th, td, dt, dd, h2, p)").all_inner_texts():
        for word in re.split(r"\s+", piece):
            assert re.sub(r"\s", "", word) in flat, word
    for words in ("Orvesund Boatyard", "2026-11", "24% VAT", "Printed on", "Longest lead time"):
        assert re.sub(r"\s", "", words) in flat
    assert tab.locator("#summary-total").inner_text() == tab.locator("#list-sum").text_content()
    for label in ("Name", "Address", "Telephone", "E-mail"):
        assert re.search(rf"^ *{label}\b", sheet, re.MULTILINE), label
    assert "only-list" in tab.evaluate("document.body.className")
    tab.emulate_media(media="null")


def test_the_symbol_is_of_the_address_and_has_its_quiet_zone(
    visit: Visit, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By segno, with four modules of light around it as ISO/IEC 18004 asks for."""
    monkeypatch.setattr(encoder, "write_padding_bits", whole_bytes)
    tab = summary(visit.open(page_of(home), "list=seat_base*2,hull_blue&find=door"))
    address = f"{ADDRESS}en/home/models/coastal_98.html#list=hull_blue,seat_base*2"
    text = tab.locator("#summary-address").text_content() or ""
    address = text.removeprefix("This list on the web: ")
    assert address.startswith(f"{ADDRESS}en/home/models/coastal_98.html#list=")
    assert {*address.partition("=")[2].split(",")} == {"hull_blue", "seat_base*2"}
    made = segno.make(
        address, error="m", mode="byte", encoding="utf-8", boost_error=False, micro=False
    )
    wanted = ["".join("01"[bool(module)] for module in row) for row in made.matrix_iter(border=4)]
    assert tab.evaluate(DRAWN) == wanted
    # A module is 0.42 mm wide on paper, so that a camera at arm's length reads it (no source).
    size = tab.locator("#summary-symbol svg").get_attribute("width")
    assert size is not None
    assert float(size.removesuffix("mm")) == pytest.approx(0.42 * len(wanted))
    label = tab.locator("#summary-symbol svg").get_attribute("aria-label")
    assert label == "QR symbol of the address of this list"


def test_a_file_without_a_stated_address_has_no_symbol_and_says_so(
    visit: Visit, unstated: Path
) -> None:
    tab = summary(visit.open(page_of(unstated), "list=seat_base"))
    assert tab.locator("#summary-symbol svg").count() == 0
    words = tab.locator("#summary-address").text_content() or ""
    assert words.startswith("This price sheet was opened from a file and has no address on the web")
    assert "file:" not in words
    assert "file:" not in unquote(tab.locator("#ask-mail").get_attribute("href") or "")
    with served(unstated) as server:
        tab = summary(visit.open(f"{server}/en/home/models/coastal_98.html", "list=seat_base"))
        words = tab.locator("#summary-address").text_content() or ""
        assert (
            words == f"This list on the web: {server}/en/home/models/coastal_98.html#list=seat_base"
        )
        assert tab.locator("#summary-symbol svg").count() == 1


def test_the_day_of_print_is_the_browser_s(browser: Browser, home: Path) -> None:
    with visiting(browser, viewport=WIDE) as visit:
        visit.tab.clock.set_fixed_time("2027-01-09T12:00:00")
        tab = summary(visit.open(page_of(home), "list=seat_base"))
        day = tab.locator("#summary-day").text_content() or ""
        assert re.search(r"January.*2027", day)
        assert "9" in day


def draft(tab: Tab) -> tuple[str, dict[str, str]]:
    """A draft's address and fields, taken apart by another hand: RFC 6068 over RFC 3986."""
    link = tab.locator("#ask-mail").get_attribute("href") or ""
    assert len(link) < 2000
    assert re.fullmatch(r"[A-Za-z0-9\-._~!$'()*+,;:@%/?&=]*", link), "no other signs (RFC 6068, 2)"
    parts = urlsplit(link)
    assert parts.scheme == "mailto"
    fields = dict(pair.split("=", 1) for pair in parts.query.split("&"))
    assert "+" not in parts.query, "a blank is %20 there, never a plus sign"
    return parts.path, {name: unquote(text, errors="strict") for name, text in fields.items()}


def test_a_draft_holds_the_list_in_words_and_what_was_written(visit: Visit, home: Path) -> None:
    tab = visit.open(page_of(home), "list=side_ramp,seat_base*2,hull_blue")
    tab.locator("#list-ask").click()
    for name, text in (
        ("name", "Jörg & Söhne"),
        ("phone", "+49 1"),
        ("note", "Blau?\n100 % bitte"),
    ):
        tab.fill(f"#ask-{name}", text)
    to, fields = draft(tab)
    assert to == "sales@orvesund.example.com"
    assert fields.keys() == {"subject", "body"}
    assert fields["subject"] == "Request for a quote: Orvesund 9.8 Coastal"
    body = fields["body"]
    assert "\n" not in body.replace("\r\n", ""), "lines end in CR LF (RFC 6068, 5)"
    lines = body.split("\r\n")
    assert next(line for line in lines if "Seat base" in line).startswith("- 2 × Seat base: ")
    assert any(line.startswith("Total: ") and "281,852" in line for line in lines)
    assert any("VAT" in line for line in lines)
    web = f"{ADDRESS}en/home/models/coastal_98.html#list=side_ramp,"
    assert any(web in line for line in lines)
    for words in ("Jörg & Söhne", "+49 1", "Blau?", "100 % bitte", "2026-11"):
        assert words in lines or any(words in line for line in lines)
    tab.locator("[data-pick=hull_blue]").uncheck()
    assert "Hull colour" not in draft(tab)[1]["body"]


def test_a_long_draft_is_shortened_and_keeps_the_address(visit: Visit, full: Path) -> None:
    tab = visit.open(page_of(full, MODEL), f"list={','.join(SIXTEEN)}")
    tab.locator("#list-ask").click()
    for name in ("name", "company", "email", "phone", "country"):
        tab.fill(f"#ask-{name}", "帆船" * 99)
    tab.fill("#ask-address", "帆船\n" * 99)
    tab.fill("#ask-note", "帆" * 900)
    _, fields = draft(tab)
    web = re.search(rf"{re.escape(ADDRESS)}\S+", fields["body"])
    assert web is not None
    assert {*web[0].partition("#list=")[2].split(",")} == {*SIXTEEN}
    assert "Total: " in fields["body"]
    assert "…" in fields["body"]
    assert re.search(r"and \d+ more", fields["body"]) or "buoyancy" in fields["body"].lower()


PAGES = ("index.html", "compare.html", "list.html", "models/coastal_98.html")
# As editions.csv has it, the edition holds from 1 November 2026 until 28 February 2027.
DAYS = {
    "2026-10-31T23:59:00": "These prices are not valid yet: they are valid from 1 November 2026.",
    "2026-11-01T00:01:00": "",
    "2027-02-28T23:59:00": "",
    "2027-03-01T00:01:00": "These prices were valid until 28 February 2027. Ask for the new list.",
}


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles"])
def test_a_notice_stands_over_prices_on_days_that_they_do_not_hold_for(
    browser: Browser, home: Path, zone: str
) -> None:
    """By the reader's own clock and in the reader's own time, wherever that is."""
    with visiting(browser, viewport=WIDE, timezone_id=zone) as visit:
        for moment, words in DAYS.items():
            local = datetime.fromisoformat(moment).replace(tzinfo=ZoneInfo(zone))
            visit.tab.clock.set_fixed_time(local)
            for name in PAGES:
                tab = visit.open(home / "en/home" / name, "list=seat_base" if "/" in name else "")
                notice = tab.locator(".masthead [data-edition]")
                expect(notice).to_be_visible(visible=bool(words))
                assert (notice.text_content() or "") == words
                if words:
                    top = notice.bounding_box()
                    price = tab.locator(".price:visible, .prices:visible, table:visible").first
                    below = price.bounding_box()
                    assert top is not None
                    assert below is not None
                    assert top["y"] < below["y"]
            notices = visit.tab.locator("[data-edition]").all()
            assert len(notices) == 3, "over the page, on the list, on the print"
            assert {each.text_content() or "" for each in notices} == {words}
            shown = visit.tab.locator("#list [data-edition]").is_visible()
            assert shown == bool(words)


def test_a_page_left_open_overnight_tells_it_the_next_day(
    browser: Browser, home: Path, tmp_path: Path
) -> None:
    with visiting(browser, viewport=WIDE) as visit:
        visit.tab.clock.set_fixed_time("2027-02-28T12:00:00Z")
        tab = visit.open(page_of(home), "list=seat_base")
        assert tab.locator(".masthead [data-edition]").is_hidden()
        tab.clock.set_fixed_time("2027-03-02T12:00:00Z")
        tab.evaluate("dispatchEvent(new Event('beforeprint'))")
        expect(tab.locator(".masthead [data-edition]")).to_be_visible()
        summary(tab)
        (sheet,) = printed(tab, tmp_path / "late.pdf", "A4")
        assert "These prices were valid until 28 February 2027." in re.sub(r"\s+", " ", sheet)
