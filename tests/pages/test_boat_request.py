"""A request saved from the page is read by the program, whatever strangers write into it."""

from __future__ import annotations

import datetime
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Browser, ViewportSize, expect
from playwright.sync_api import Page as Tab

from quoter.catalogue.quoting import MOST_LINES, Request
from quoter.pages.public.site import public_pages
from quoter.quotes.request import read_request
from tests.pages.boat_pages import (
    COASTAL,
    Visit,
    laid_out,
    listed,
    tourist,
    visit,
    visiting,
)
from tests.pages.test_browser import NARROW, WIDE, browser
from tests.pages.variants import small_with

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures


def saved(tab: Tab, folder: Path, asked: dict[str, str]) -> Path:
    """The request that the page would save for what is asked, as a file."""
    path = folder / "request.yaml"
    path.write_text(tab.evaluate("asked => boatOnPage.requestText(asked)", asked), encoding="utf-8")
    return path


def read(tab: Tab, folder: Path, asked: dict[str, str]) -> Request:
    return read_request(saved(tab, folder, asked)).request


# Whether the element that has the focus can be seen and is not under something else (WCAG 2.2,
# 2.4.11 Focus Not Obscured).
SEEN = """() => {
    const now = document.activeElement, box = now.getBoundingClientRect();
    const x = Math.min(Math.max(box.left + box.width / 2, 1), innerWidth - 1);
    return [0.1, 0.5, 0.9].some(part => {
        const there = document.elementFromPoint(x, box.top + part * box.height);
        return there && (now.contains(there) || there.contains(now) || [...now.labels || []]
            .some(label => label.contains(there)));
    });
}"""


def tab_to(tab: Tab, query: str, key: str = "Tab") -> int:
    """Press the tab key until an element has the focus; every stop on the way must be seen."""
    for count in range(1, 250):
        tab.keyboard.press(key)
        assert tab.evaluate(SEEN), tab.evaluate("document.activeElement.outerHTML")
        if tab.evaluate("query => document.activeElement.matches(query)", query):
            return count
    raise AssertionError(f"the tab key never leads to {query}")


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
def test_the_keyboard_alone_leads_from_the_top_to_a_saved_request(
    browser: Browser, demo_folder: Path, size: ViewportSize, tmp_path: Path
) -> None:
    with visiting(browser, viewport=size, reduced_motion="reduce") as visit:
        tab = visit.open(demo_folder / COASTAL)
        key = tab.keyboard.press
        assert tab_to(tab, "a.skip") == 1
        key("Enter")
        tab_to(tab, "#find")
        tab.keyboard.type("seat")
        tab_to(tab, "[data-pick=seat_base]")
        key("Space")
        assert listed(tab) == "seat_base"
        tab_to(tab, "#find", "Shift+Tab")
        key("Control+A")
        key("Delete")
        tab_to(tab, "[data-pick=ramp_hoist]")
        key("Space")
        assert listed(tab) == "seat_base"
        tab_to(tab, ".refusal button")
        key("Enter")
        assert listed(tab) == "side_ramp,ramp_hoist,seat_base"
        assert tab.evaluate("document.activeElement.dataset.pick") == "ramp_hoist"
        if size is NARROW:
            tab_to(tab, "#list-open")
            key("Enter")
        tab_to(tab, "#line-seat_base select")
        key("ArrowDown")
        expect(tab.locator("#line-seat_base select")).to_have_value("2")
        tab_to(tab, "details:has(#ask) > summary")
        key("Enter")
        for name, text in (("name", "Jo"), ("email", "jo@example.com"), ("note", "Please")):
            tab_to(tab, f"#ask-{name}")
            tab.keyboard.type(text)
        tab_to(tab, "#ask [type=submit]")
        with tab.expect_download() as waiting:
            key("Enter")
        assert waiting.value.suggested_filename == "request-coastal_98.yaml"
        waiting.value.save_as(tmp_path / "request.yaml")
        assert tab.locator("#ask-done").is_visible()
        assert tab.evaluate("document.activeElement.matches('#ask [type=submit]')")
    request = read_request(tmp_path / "request.yaml").request
    assert (request.customer.name, request.note) == ("Jo", "Please")
    chosen = [(str(each.option), each.quantity) for each in request.options]
    assert [id for id, _ in chosen] == ["side_ramp", "ramp_hoist", "seat_base"]
    assert chosen[2][1] is not None
    assert chosen[2][1].value == 2


def test_the_request_says_what_the_page_shows(visit: Visit, demo_folder: Path) -> None:
    """Read by another reader of YAML than the program's."""
    page = demo_folder / COASTAL.replace("/en/", "/de/")
    tab = visit.open(page, "list=side_ramp,seat_base*2,hull_blue")
    asked = {"date": "2026-11-26", "name": "Jo", "address": "1 Quay\n\n  Sundby ", "note": "a\n\nb"}
    assert yaml.safe_load(tab.evaluate("asked => boatOnPage.requestText(asked)", asked)) == {
        "format": 1,
        "date": datetime.date(2026, 11, 26),
        "price_sheet": "2026-11",
        "market": "home",
        "language": "de",
        "model": "coastal_98",
        "options": [{"option": "side_ramp"}, {"option": "seat_base", "quantity": 2}],
        "colour": "hull_blue",
        # 267,716.00 + 8,047.60 + 2 x 1,562.40 + 2,963.60
        "shown_total": "281852.00 EUR",
        # The boat itself takes longest, by models.yaml.
        "shown_lead_weeks": 26,
        "customer": {"name": "Jo", "address": ["1 Quay", "Sundby"]},
        "note": "a\n\nb",
    }
    tab = visit.open(page)
    plain = yaml.safe_load(tab.evaluate("boatOnPage.requestText({name: 'Jo'})"))
    assert {"options", "colour", "note"} & {*plain} == set()
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", str(plain["date"]))
    assert str(plain["date"]) == tab.locator("#ask-date").input_value()


def test_several_colours_or_two_of_one_are_asked_for_as_options(
    browser: Browser, tmp_path: Path
) -> None:
    changes = {"kind: colour\n": "kind: colour\n    most: 2\n", "kind: core\n": "kind: colour\n"}
    # No face follows the hull, so nothing stands against two colours on a boat.
    faces = {"{colour: hull, strip": "{colour: white, strip"}
    pages = public_pages(small_with(tmp_path, {"options.yaml": changes, "parts.yaml": faces}))
    cutter = laid_out(tmp_path / "site", pages) / "en/home/models/cutter.html"
    with visiting(browser) as visit:
        for state, colour, options in (
            ("green", "green", []),
            ("green*2", None, [("green", 2)]),
            ("box,green", None, [("box", None), ("green", None)]),
        ):
            request = read(visit.open(cutter, f"list={state}"), tmp_path, {"name": "Jo"})
            assert request.colour == colour
            found = [(str(e.option), e.quantity) for e in request.options]
            assert [(id, None if n is None else n.value) for id, n in found] == options


LONG = " ".join(["Sundby"] * 70)  # 489 letters on one line
STRANGE = [
    ('Jörg "Jo" O\'Brien # not a comment', 'Jörg "Jo" O\'Brien # not a comment'),
    ("back\\slash \\n {brace} [x], *y &z !w %v |> `t` @u", None),
    *((text, None) for text in ("no", "~", "12:30", "=1+1", "- dash", "? x", "null", "0x1F")),
    ("Ægir Łukasz 帆船 יעל \N{GRINNING FACE}", None),
    # What is pasted along with a number from an address book.
    ("\N{LEFT-TO-RIGHT EMBEDDING}+47 555 0134\N{POP DIRECTIONAL FORMATTING}", "+47 555 0134"),
    ("\N{RIGHT-TO-LEFT OVERRIDE}oJ", "oJ"),
    ("Jo\x0bBrien\x1f\x00\x9f!", "Jo Brien !"),
    ("Jo\u2028Brien", "Jo Brien"),
    ("Jo\r\nBrien\tx", "Jo Brien x"),
    ("\N{ZERO WIDTH NO-BREAK SPACE}Jo\uffff", "Jo\N{REPLACEMENT CHARACTER}"),
    ("  Jo \N{NO-BREAK SPACE}", "Jo"),
    ("x" * 200, None),
]


def test_whatever_is_typed_or_pasted_makes_a_request_that_can_be_read(
    visit: Visit, demo_folder: Path, tmp_path: Path
) -> None:
    tab = visit.open(demo_folder / COASTAL)
    for typed, arrives in STRANGE:
        keys = ("name", "company", "country", "email", "phone", "address", "note")
        request = read(tab, tmp_path, dict.fromkeys(keys, typed))
        customer = request.customer
        wanted = typed if arrives is None else arrives
        for text in (customer.name, customer.company, customer.email, customer.phone):
            assert text == wanted, typed
        assert " ".join(customer.address) == wanted, typed
        assert " ".join(str(request.note).split()) == " ".join(wanted.split()), typed


def test_a_half_of_a_letter_is_marked_and_stops_nothing(
    visit: Visit, demo_folder: Path, tmp_path: Path
) -> None:
    """Of a pair of surrogates cut in two (Unicode Standard, 3.8); whole pairs stay."""
    tab = visit.open(demo_folder / COASTAL)
    text = tab.evaluate("boatOnPage.requestText({name: 'a\\ud83d b\\ude00 c\\ud83d\\ude00'})")
    (tmp_path / "request.yaml").write_text(text, encoding="utf-8")
    name = read_request(tmp_path / "request.yaml").request.customer.name
    assert name == "a\ufffd b\ufffd c\N{GRINNING FACE}"


@pytest.mark.parametrize("note", ["x\n" * 440, "\n\n\n".join("x" * 60), LONG, "a\n" * 39 + "b"])
def test_a_note_or_an_address_of_many_lines_still_fits(
    visit: Visit, demo_folder: Path, tmp_path: Path, note: str
) -> None:
    tab = visit.open(demo_folder / COASTAL)
    request = read(tab, tmp_path, {"name": "Jo", "note": note, "address": note})
    assert str(request.note).split() == note.split()
    assert str(request.note).count("\n") < MOST_LINES
    assert " ".join(request.customer.address).split() == note.split()
    assert all(line in " ".join(note.split()) for line in request.customer.address)


def test_blanks_are_no_name_and_the_browser_says_so(
    visit: Visit, demo_folder: Path, tmp_path: Path
) -> None:
    tab = visit.open(demo_folder / COASTAL)
    downloads: list[Any] = []
    tab.on("download", lambda download: downloads.append(download))
    tab.get_by_text("Ask for a quote").click()
    for name in ("", "   ", "\N{NO-BREAK SPACE}\N{ZERO WIDTH NO-BREAK SPACE}"):
        tab.fill("#ask-name", name)
        tab.get_by_role("button", name="Save the request file").click()
        assert tab.locator("#ask-name:invalid").count() == 1
        assert tab.evaluate("document.activeElement.id") == "ask-name"
        assert tab.locator("#ask-done").is_hidden()
    tab.fill("#ask-name", "Jo")
    tab.fill("#ask-date", "")
    tab.get_by_role("button", name="Save the request file").click()
    assert tab.locator("#ask-date:invalid").count() == 1
    assert downloads == []


def test_nothing_is_sent_anywhere(visit: Visit, demo_folder: Path) -> None:
    tab = visit.open(demo_folder / COASTAL, "list=seat_base")
    tab.get_by_text("Ask for a quote").click()
    tab.fill("#ask-name", "Jo")
    visit.asked.clear()
    with tab.expect_download():
        tab.locator("#ask-name").press("Enter")
    assert [url for url in visit.asked if not url.startswith("blob:")] == []
