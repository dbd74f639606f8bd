"""The page of surcharge clauses: its tables against the clause, its calculator in Chromium."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest
from babel import Locale
from playwright.sync_api import Browser, ConsoleMessage, Request, sync_playwright
from playwright.sync_api import Page as Tab

from quoter.figures import constant, money_in, plain_number
from quoter.pages.costs import ASSETS
from quoter.pages.environment import asset
from quoter.pages.money import number, percent
from quoter.pages.surcharges import surcharge_pages
from quoter.pricing.clauses import steps_of
from quoter.pricing.price import Pricing
from tests.catalogues.clauses import with_clauses
from tests.catalogues.written import COST_CARD, priced
from tests.pages.parsed import Page

CLAUSES = (
    {"cap": "6 %", "leave_above": "4 %", "note": "mind the yard"},
    {"id": "excess", "name": "Excess", "only_excess": "yes", "downward": "yes", "share": "62.5 %"},
)


@pytest.fixture(scope="module")
def pricing(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    return priced(with_clauses(tmp_path_factory.mktemp("clauses") / "c", *CLAUSES))


@pytest.fixture(scope="module")
def folder(pricing: Pricing, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The review with the page of surcharges, as files."""
    folder = tmp_path_factory.mktemp("review")
    shared = {path: asset(source) for path, source in ASSETS.items()}
    for path, content in (shared | surcharge_pages(pricing)).items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder


def test_a_catalogue_without_clauses_has_no_page() -> None:
    assert surcharge_pages(priced(COST_CARD)) == {}


def test_the_page_is_whole_escapes_and_runs_nothing_inline(pricing: Pricing) -> None:
    pages = surcharge_pages(pricing)
    page = Page(pages["surcharge.html"])
    assert page.faults == []
    assert len(page.ids) == len(set(page.ids))
    (script,) = page.all("script")
    assert script.attributes["src"] in pages
    assert script.text == ""
    assert not [e for e in page.elements if any(name.startswith("on") for name in e.attributes)]
    assert not [e for e in page.elements if "style" in e.attributes or e.tag in ("b", "surcharge")]
    links = {e.attributes["href"] for e in page.elements if e.tag == "link"}
    assert links - {"assets/icon.svg", "assets/base.css", "assets/review.css"} <= pages.keys()
    for field in page.all("input"):
        assert list(page.all("label", **{"for": field.attributes["id"]}))


def test_the_table_tells_what_1000_becomes(pricing: Pricing) -> None:
    """112.5 after 100: 12.5 % of 40 % is 5 %; after 104 it is 8.17 % of 40 %, or 3.27 %."""
    page = Page(surcharge_pages(pricing)["surcharge.html"])
    table = next(iter(page.all("table", class_="outcomes")))
    rows = [e for e in page.elements if e.tag == "tr" and table in e.within]
    told = [
        [e.text for e in page.elements if e.tag in ("th", "td") and row in e.within] for row in rows
    ]
    assert told[0] == ["Base from", "Value", "2025-06-01", "2025-11-01", "2026-01-01"]
    assert told[1] == ["2025-06-01", "100.00", "1,000.00", "1,000.00", "1,050.00 ▲ may leave"]
    assert told[2] == ["2025-11-01", "104.00", "–", "1,000.00", "1,032.69"]
    assert told[3] == ["2026-01-01", "112.50", "–", "–", "1,000.00"]


def test_the_chart_is_told_in_words(pricing: Pricing) -> None:
    page = Page(surcharge_pages(pricing)["surcharge.html"])
    told = [e.text for e in page.all("desc")]
    assert told[0].startswith("2025-06-01: 100.00; 2025-11-01: 104.00; 2026-01-01: 112.50")


def test_the_same_catalogue_gives_the_same_bytes(pricing: Pricing) -> None:
    assert surcharge_pages(pricing) == surcharge_pages(pricing)


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
def tab(browser: Browser, folder: Path) -> Iterator[Tab]:
    with browser.new_context() as context:
        tab = context.new_page()
        tab.goto((folder / "surcharge.html").as_uri())
        yield tab


# Falls, moves within and on the threshold, small and large rises, prices that end in half cents.
PRICES = (1000.0, 4350.5, 0.37, 128999.99)
INDICES = (
    (100.0, 105.0),
    (100.0, 105.01),
    (104.0, 112.5),
    (112.5, 100.0),
    (97.3, 141.9),
    (80.0, 76.0),
)


@pytest.mark.slow
def test_the_calculator_gives_what_python_gives(tab: Tab, pricing: Pricing) -> None:
    faults: list[str] = []
    tab.on("pageerror", lambda fault: faults.append(str(fault)))
    english, tried = Locale("en"), 0
    for clause in pricing.catalogue.yard.surcharges:
        form = tab.locator(f"form[data-clause={clause.id}]")
        for price, (base, now) in product(PRICES, INDICES):
            for name, value in (("price", price), ("base", base), ("now", now)):
                form.locator(f"[name={name}]").fill(repr(value))
            given = constant(price, "USD"), constant(base), constant(now)
            found = steps_of(clause, *given, "USD")
            for name, figure in (("surcharge", found.surcharge), ("adjusted", found.adjusted)):
                told = form.locator(f"[name={name}]").inner_text()
                assert plain(told) == plain(number(money_in(figure, "USD"), english, 2))
            for name, figure in (("counted", found.counted), ("fraction", found.fraction)):
                told = form.locator(f"[name={name}]").inner_text()
                assert plain(told) == plain(percent(plain_number(figure), english, 2)), (base, now)
            leave = "yes" if found.leave.value else "no"
            assert form.locator("[name=leave]").inner_text() == leave
            tried += 1
    assert tried == 48
    assert faults == []


def plain(text: str) -> str:
    """Signs and spaces as ASCII has them, and no sign before a zero."""
    text = re.sub(r"\s", " ", text.replace("\N{MINUS SIGN}", "-"))
    return re.sub(r"^-(?=[0.,%]+$)", "", text)


@pytest.mark.slow
def test_fields_are_reached_and_filled_by_keyboard(tab: Tab) -> None:
    form = tab.locator("form[data-clause=resin]")
    form.locator("[name=price]").focus()
    for typed in ("2000", "100", "112.5"):
        tab.keyboard.press("Control+A")
        tab.keyboard.type(typed)
        tab.keyboard.press("Tab")
    assert form.locator("[name=adjusted]").inner_text() == "2,100.00"
    assert form.locator("[name=leave]").inner_text() == "yes"
    form.locator("[name=now]").focus()
    tab.keyboard.press("Enter")
    assert form.locator("[name=adjusted]").inner_text() == "2,100.00"


@pytest.mark.slow
@pytest.mark.parametrize("typed", ["", "0", "-3"])
def test_a_field_without_a_number_above_0_is_told(tab: Tab, typed: str) -> None:
    form = tab.locator("form[data-clause=resin]")
    form.locator("[name=base]").fill(typed)
    assert form.locator("[name=adjusted]").inner_text() == "–"
    assert form.locator(".fault").inner_text() == "Write a number above 0 in each field."
    form.locator("[name=base]").fill("100")
    assert form.locator(".fault").inner_text() == ""


@pytest.mark.slow
def test_without_scripts_the_tables_stand_and_a_command_is_named(
    browser: Browser, folder: Path
) -> None:
    for scripts in (True, False):
        with browser.new_context(java_script_enabled=scripts) as context:
            tab = context.new_page()
            tab.goto((folder / "surcharge.html").as_uri())
            assert tab.locator("form.calculator").first.is_visible() is scripts
            assert tab.locator(".unscripted").first.is_visible() is not scripts
            assert tab.locator(".outcomes").first.is_visible()


@pytest.mark.slow
def test_it_asks_for_nothing_beyond_its_folder_and_fits_a_narrow_screen(
    browser: Browser, folder: Path
) -> None:
    asked: list[str] = []
    said: list[str] = []

    def hear_request(request: Request) -> None:
        asked.append(request.url)

    def hear_console(message: ConsoleMessage) -> None:
        said.append(message.text)

    with browser.new_context(viewport={"width": 320, "height": 640}) as context:
        tab = context.new_page()
        tab.on("request", hear_request)
        tab.on("console", hear_console)
        tab.goto((folder / "surcharge.html").as_uri(), wait_until="networkidle")
        wide = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert tab.evaluate(wide) == 0
    assert said == []
    assert all(url.startswith(folder.as_uri()) for url in asked)
    assert len(asked) == 7
