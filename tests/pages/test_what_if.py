"""The margin review's sliders, filters and sorting in a real Chromium, opened as a file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from shlex import split

import pytest
from playwright.sync_api import Browser, Locator
from playwright.sync_api import Page as Tab

from quoter.analysis.findings import Findings
from quoter.analysis.margins import margin_lines, sales_year
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO
from tests.outputs import whole_review
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
    rows = tab.locator("#every tbody tr").evaluate_all("""rows => rows.map(row =>
        Object.fromEntries([...row.cells].map(cell => [cell.dataset.key, cell.textContent.trim()])))
    """)
    return {(row["model"], row["name"]): row for row in rows}


def assert_shown(tab: Tab, exact: Pricing, market: str, buyer: str) -> None:
    """Every cost, margin, floor and sum on the page is that of the exact calculation."""
    rows = shown(tab)
    lines = [line for line in margin_lines(exact) if line.market == market]
    assert len(rows) == len(lines)
    for line in lines:
        name = line.name if line.option else "Boat with standard equipment"
        row, sale = rows[line.model_name, name], line.sales[buyer]
        assert row["list_price"] == f"{half_up(line.list_price.value):,}", (market, name)
        assert row["cost"] == f"{half_up(line.cost.value):,}"
        assert row["margin"] == f"{half_up(sale.margin.value):,}"
        assert float(row["margin_fraction"].rstrip("%")) == pytest.approx(
            sale.margin_fraction.value * 100, abs=0.0501
        )
        below = [str(s.buyer.name) for s in line.sales.values() if s.breach.value]
        assert row["floor"] == (f"▼ below at {', '.join(below)}" if below else "holds")
    year = sales_year(lines, buyer, "year", "year")
    assert year is not None
    whole = tab.locator("#year tbody tr").last
    assert cells(whole)["margin"] == f"{half_up(year.margin.value):,}"


def half_up(amount: float) -> int:
    """Whole money, halves away from zero; numbers on the page differ by no more than 1e-6."""
    size = int(abs(amount) + 0.5 + 1e-9)
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
    assert_commanded(tab, DEMO)
    note = tab.locator("#what-if-note")
    assert note.is_visible()
    assert "Resin prices +20.0 %" in note.inner_text()
    tab.get_by_role("button", name="Back to today").click()
    today, _ = price_catalogue(DEMO)
    assert_shown(tab, today, "home", "contract")
    assert note.is_hidden()


PLACES = [
    (market, buyer)
    for market in ("north", "trade", "home")  # ends where the page begins
    for buyer in ("direct", "area", "contract")
]


def assert_shown_everywhere(tab: Tab, exact: Pricing) -> None:
    for market, buyer in PLACES:
        tab.locator("#market").select_option(market)
        tab.locator("#buyer").select_option(buyer)
        assert_shown(tab, exact, market, buyer)


def assert_commanded(tab: Tab, catalogue: Path) -> None:
    """The command that the page prints gives what the page shows."""
    words = split(tab.locator("#what-if-command").inner_text())
    assert words[:3] == ["quoter", "build", "CATALOGUE"]
    assert words[-2:] == ["--internal", "DIR"]
    asked = dict.fromkeys(words[3:-2:2])
    assert set(asked) <= {"--set", "--as-of"}
    given = list(zip(words[3:-2:2], words[4:-2:2], strict=True))
    days = [date.fromisoformat(value) for name, value in given if name == "--as-of"]
    settings = [value for name, value in given if name == "--set"]
    exact, _ = price_catalogue(catalogue, days[0] if days else None, settings=settings)
    assert_shown_everywhere(tab, exact)


@contextmanager
def opened(
    browser: Browser,
    folder: Path,
    catalogue: Path,
    as_of: date | None = None,
    settings: Sequence[str] = (),
) -> Iterator[Tab]:
    """The review of a catalogue as `build` would write it, in a tab of its own."""
    pricing, warnings = price_catalogue(catalogue, as_of, settings=settings)
    for name, content in whole_review(Findings(pricing), warnings).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    with browser.new_context(viewport=WIDE) as context:
        page = context.new_page()
        page.goto((folder / "index.html").as_uri())
        yield page


def unpublished(folder: Path) -> Path:
    """The demonstration with prices of every kind: an option without one, in a package too; one
    published abroad, and one of a market of the home currency that rounds by its own rule."""
    book = (DEMO / "price_book.csv").read_text("utf-8")
    kept = [line for line in book.splitlines() if ",fish_lid," not in line]
    assert len(kept) < len(book.splitlines())
    kept += ["2026-11-01,trade,,seat_base,1255 EUR,", "2026-11-01,north,,transom_door,33333 NOK,"]
    yard = "    units: metric and US\n    note: tax follows"
    rounding = "    rounding: {step: 25 EUR, direction: nearest, ending: 5 EUR}\n"
    files = {"price_book.csv": "\n".join(kept) + "\n"}
    return write_catalogue(folder, files, {"yard.yaml": (yard, rounding + yard)}, base=DEMO)


UP = {name: 35.0 if name == "class-hardware" else 7.5 for name in SLIDERS}
DOWN = {name: -30.0 if name.startswith("currency") else -4.5 for name in SLIDERS}


@pytest.mark.parametrize("moves", [UP, DOWN], ids=["up", "down"])
@pytest.mark.parametrize("which", ["demo", "unpublished"])
def test_all_sliders_give_an_exact_rebuild_in_every_market_to_every_buyer(
    browser: Browser, tmp_path: Path, which: str, moves: dict[str, float]
) -> None:
    catalogue = DEMO if which == "demo" else unpublished(tmp_path / "c")
    settings = [f"{SLIDERS[name][0]}={value:+g}%" for name, value in moves.items()]
    exact, _ = price_catalogue(catalogue, settings=settings)
    with opened(browser, tmp_path / "pages", catalogue) as tab:
        assert_shown_everywhere(tab, price_catalogue(catalogue)[0])
        for name, value in moves.items():
            slide(tab, name, value)
        assert_shown_everywhere(tab, exact)


RISE = "Quenmoor Polymers Inc.: +0.10 USD/lb on polyester"


def test_a_rise_alone_is_said_as_the_prices_it_gives(tab: Tab) -> None:
    tab.get_by_label(RISE).check()
    told = tab.locator("#what-if-command").inner_text()
    rise = "--set 'price.resin_inj=2.24 USD/lb'"
    assert told == f"quoter build CATALOGUE --as-of 2026-11-01 {rise} --internal DIR"
    assert_commanded(tab, DEMO)


def test_a_rise_with_a_move_of_its_class_is_what_the_command_gives(tab: Tab) -> None:
    """The percentage comes on top of the raised price, on the page as on the command line."""
    tab.get_by_label(RISE).check()
    slide(tab, "class-resin", 20)
    slide(tab, "currency-USD", -5.5)
    assert_commanded(tab, DEMO)


def test_two_rises_of_one_price_add_up(browser: Browser, tmp_path: Path) -> None:
    rises = (DEMO / "rises.csv").read_text("utf-8")
    rises += "2026-10-29,quenmoor,polyester,-5 %,2027-01-15,announced,\n"
    catalogue = write_catalogue(tmp_path / "c", {"rises.csv": rises}, base=DEMO)
    with opened(browser, tmp_path / "pages", catalogue) as tab:
        tab.get_by_label(RISE).check()
        tab.get_by_label("Quenmoor Polymers Inc.: -5.0% on polyester").check()
        # 2.14 + 0.10 - 5 % of 2.14
        assert "'price.resin_inj=2.133 USD/lb'" in tab.locator("#what-if-command").inner_text()
        assert_commanded(tab, catalogue)


def test_a_page_of_an_earlier_day_says_which(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, DEMO, date(2026, 10, 5)) as tab:
        told = tab.locator("#what-if-command").inner_text()
        assert told.startswith("quoter build CATALOGUE --as-of 2026-10-05 --set class.")
        slide(tab, "class-glass", 12.5)
        assert " --set class.glass=+12.5% " in tab.locator("#what-if-command").inner_text()
        assert_commanded(tab, DEMO)


OWN = ["class.resin=+10%", "price.mat_450=2.75 EUR/kg", "rate.NOK=11.2", "wages=-1.5%"]


def test_a_page_that_is_a_what_if_repeats_what_it_was_built_with(
    browser: Browser, tmp_path: Path
) -> None:
    with opened(browser, tmp_path, DEMO, settings=OWN) as tab:
        assert "'price.mat_450=2.75 EUR/kg'" in tab.locator("#what-if-command").inner_text()
        for name, value in (("class-resin", 5.5), ("class-glass", 20), ("currency-NOK", 8)):
            slide(tab, name, value)
        told = tab.locator("#what-if-command").inner_text()
        assert " --set class.resin=+16.05% " in told  # 1.10 x 1.055
        assert " --set wages=-1.5% " in told
        assert_commanded(tab, DEMO)


def test_what_no_command_says_is_said_so(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, DEMO, settings=OWN) as tab:
        code, none = tab.locator("#what-if-command"), tab.locator("#what-if-no-command")
        assert none.is_hidden()
        tab.get_by_label(RISE).check()
        assert code.is_hidden()
        assert none.inner_text() == (
            "no command gives it, since the rise comes on top of class.resin=+10%, which this "
            "page was built with."
        )
        tab.get_by_label(RISE).uncheck()
        assert code.is_visible()


def test_a_slider_says_how_much_of_its_class_it_moves(tab: Tab) -> None:
    slider = tab.get_by_role("slider", name="Hardware prices")
    told = tab.locator("#factor-class-hardware-moves")
    assert "factor-class-hardware-moves" in (slider.get_attribute("aria-describedby") or "")
    assert told.inner_text().startswith("Moves ")
    assert "of what the planned year spends on it" in told.inner_text()


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
    tab.get_by_label(RISE).check()
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
