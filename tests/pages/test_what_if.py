"""The margin review's sliders, filters and sorting in a real Chromium, opened as a file."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator
from playwright.sync_api import Page as Tab

from quoter.analysis.margins import margin_lines, year_of
from quoter.build import price_catalogue
from quoter.pricing.price import Pricing
from tests.demo import DEMO
from tests.pages.test_browser import WIDE, browser, said, uri

__all__ = ["browser"]  # the fixture
pytestmark = pytest.mark.slow

SLIDERS = {
    "class-resin": ("class.resin", 20),
    "class-hardware": ("class.hardware", -12.5),
    "class-glass": ("class.glass", 35),
    "currency-USD": ("currency.USD", 15),
    "currency-NOK": ("currency.NOK", -8),
    "wages": ("wages", 4.5),
}


@pytest.fixture
def tab(browser: Browser, demo_folder: Path) -> Iterator[Tab]:
    with browser.new_context(viewport=WIDE) as context:
        page = context.new_page()
        page.goto(uri(demo_folder, "internal/review/index.html"))
        yield page


def slide(tab: Tab, name: str, value: float) -> None:
    tab.locator(f"#factor-{name}").fill(str(value))


def cells(row: Locator) -> dict[str, str]:
    found = row.evaluate("""row => Object.fromEntries(
        [...row.cells].map(cell => [cell.dataset.key, cell.textContent.trim()]))""")
    return dict(found)


def shown(tab: Tab) -> dict[tuple[str, str], dict[str, str]]:
    """The rows of the table of every price, by model and name."""
    rows = [cells(row) for row in tab.locator("#every tbody tr").all()]
    return {(row["model"], row["name"]): row for row in rows}


def assert_shown(tab: Tab, exact: Pricing, market: str, buyer: str) -> None:
    """Every cost, margin, floor and sum on the page is that of the exact calculation."""
    rows = shown(tab)
    lines = [line for line in margin_lines(exact) if line.market == market]
    assert len(rows) == len(lines)
    for line in lines:
        name = line.name if line.option else "Boat with standard equipment"
        row, sale = rows[line.model_name, name], line.sales[buyer]
        assert row["cost"] == f"{half_up(line.cost.value):,}"
        assert row["margin"] == f"{half_up(sale.margin.value):,}"
        assert float(row["margin_fraction"].rstrip("%")) == pytest.approx(
            sale.margin_fraction.value * 100, abs=0.0501
        )
        below = [str(s.buyer.name) for s in line.sales.values() if s.breach.value]
        assert row["floor"] == (f"▼ below at {', '.join(below)}" if below else "holds")
    year = year_of(lines, buyer, "year", "year")
    assert year is not None
    whole = tab.locator("#year tbody tr").last
    assert cells(whole)["margin"] == f"{half_up(year.margin.value):,}"


def half_up(amount: float) -> int:
    """Whole money, halves away from zero; numbers on the page differ by no more than 1e-6."""
    size = int(abs(amount) + 0.5)
    return -size if amount < 0 else size


def test_at_rest_the_scripts_show_what_the_page_says_without_them(
    browser: Browser, demo_folder: Path, tab: Tab
) -> None:
    with browser.new_context(viewport=WIDE, java_script_enabled=False) as context:
        still = context.new_page()
        still.goto(uri(demo_folder, "internal/review/index.html"))
        for table in ("worst", "eroded", "every", "year", "where", "proposed"):
            body = f"#{table} tbody"
            assert tab.locator(body).inner_text() == still.locator(body).inner_text()
        assert still.locator("#what-if-form").is_hidden()
        assert "The sliders need scripts" in still.locator(".what-if").inner_text()


@pytest.mark.parametrize("name", SLIDERS)
def test_one_slider_gives_what_an_exact_rebuild_gives(tab: Tab, name: str) -> None:
    setting, value = SLIDERS[name]
    slide(tab, name, value)
    exact, _ = price_catalogue(DEMO, settings=[f"{setting}={value:+g}%"])
    assert_shown(tab, exact, "home", "contract")


def test_all_sliders_at_once_give_what_an_exact_rebuild_gives(tab: Tab) -> None:
    for name, (_, value) in SLIDERS.items():
        slide(tab, name, value)
    settings = [f"{setting}={value:+g}%" for setting, value in SLIDERS.values()]
    exact, _ = price_catalogue(DEMO, settings=settings)
    assert_shown(tab, exact, "home", "contract")
    told = tab.locator("#what-if-command").inner_text()
    for setting in settings:
        assert f" --set {setting}" in told
    note = tab.locator("#what-if-note")
    assert note.is_visible()
    assert "Resin prices +20.0 %" in note.inner_text()
    tab.get_by_role("button", name="Back to today").click()
    today, _ = price_catalogue(DEMO)
    assert_shown(tab, today, "home", "contract")
    assert note.is_hidden()


@pytest.mark.parametrize("market", ["home", "trade", "north"])
@pytest.mark.parametrize("buyer", ["contract", "area", "direct"])
def test_every_market_and_class_of_buyer_is_that_of_the_costing(
    tab: Tab, market: str, buyer: str
) -> None:
    tab.locator("#market").select_option(market)
    tab.locator("#buyer").select_option(buyer)
    assert_shown(tab, price_catalogue(DEMO)[0], market, buyer)


def test_a_slider_moves_by_keyboard_and_says_where_it_is(tab: Tab) -> None:
    slider = tab.get_by_role("slider", name="Resin prices")
    slider.focus()
    tab.keyboard.press("ArrowRight")
    assert slider.get_attribute("aria-valuetext") == "+0.5 %"
    assert tab.locator("#factor-class-resin-is").inner_text() == "+0.5 %"


def test_headings_sort_both_ways_and_say_so(tab: Tab) -> None:
    button = tab.locator("#every thead button", has_text="Cost").first
    for order, falling in (("ascending", False), ("descending", True)):
        button.click()
        costs = [float(row["cost"].replace(",", "")) for row in map(cells, rows_of(tab))]
        assert costs == sorted(costs, reverse=falling)
        heading = tab.locator('#every th[data-key="cost"]')
        assert heading.get_attribute("aria-sort") == order


def rows_of(tab: Tab) -> list[Locator]:
    return tab.locator("#every tbody tr:visible").all()


def test_filters_show_what_is_asked_for_and_count_it(tab: Tab) -> None:
    tab.locator("#only-below").check()
    assert {cells(row)["name"] for row in rows_of(tab)} == {"Cockpit roof"}
    assert tab.locator("#shown").inner_text() == "3 of 61 shown"
    tab.locator("#only-below").uncheck()
    tab.locator("#search").fill("side entry")
    tab.locator("#model").select_option("coastal_98")
    names = [cells(row)["name"] for row in rows_of(tab)]
    assert len(names) == 4
    assert all(name.startswith("Side entry") for name in names)


def test_worst_follow_the_sliders(tab: Tab) -> None:
    before = cells(tab.locator("#worst tbody tr").first)
    slide(tab, "class-hardware", 50)
    after = [cells(row) for row in tab.locator("#worst tbody tr").all()]
    assert len(after) == 10
    margins = [float(row["margin_fraction"].rstrip("%")) for row in after]
    assert margins == sorted(margins)
    assert after[0] != before


def test_an_announced_rise_gives_what_its_prices_give(tab: Tab) -> None:
    """0.10 USD/lb on 2.14: the one resin of that supplier and family."""
    tab.get_by_label("Quenmoor Polymers Inc.: +0.10 USD/lb on polyester").check()
    slide(tab, "currency-USD", 10)
    settings = ["price.resin_inj=2.24 USD/lb", "currency.USD=+10%"]
    assert_shown(tab, price_catalogue(DEMO, settings=settings)[0], "home", "contract")


def test_every_printed_sheet_of_prices_has_its_headings(tab: Tab, tmp_path: Path) -> None:
    printed = tmp_path / "review.pdf"
    tab.pdf(path=printed, prefer_css_page_size=True)
    sheets = said("pdftotext", "-layout", str(printed), "-").split("\f")
    holding = [sheet for sheet in sheets if "price book 2026" in sheet]
    assert len(holding) >= 3
    assert all("Boat or option" in sheet for sheet in holding)
