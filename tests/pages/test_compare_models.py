"""The models side by side: every cell as costing.json has it, and what the reader picks."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from playwright.sync_api import Browser, Locator, expect
from playwright.sync_api import Page as Tab

from quoter.pages.costing_json import costing_json
from quoter.pages.money import money
from quoter.pages.public.site import public_pages
from quoter.pricing.price import Pricing
from tests.pages.boat_pages import Visit, state, tourist, visit, visiting
from tests.pages.parsed import Page
from tests.pages.test_browser import NARROW, browser
from tests.pages.variants import DELIVERED, small_with

__all__ = ["browser", "tourist", "visit"]  # fixtures

COMPARE = "site/en/home/compare.html"
MODELS = ["open_68", "longshore_76", "weekender_86", "coastal_98", "passage_120"]
TAX = Decimal("1.24")  # of the demo's home market
NONE = "–not offered"


def cells(page: Page) -> dict[str, list[str]]:
    """The rows of the table by their heads: what stands under each model."""
    found: dict[str, list[str]] = {}
    for row in page.all("tr"):
        inside = [each for each in page.elements if row in each.within]
        heads = [each.text for each in inside if each.tag == "th" and "scope" in each.attributes]
        values = [
            each.text for each in inside if each.tag == "td" and "data-model" in each.attributes
        ]
        if values:
            assert len(heads) == 1
            assert heads[0] not in found
            found[heads[0]] = values
    return found


def test_each_cell_is_what_costing_json_says(
    demo_site: dict[str, bytes], demo_pricing: Pricing
) -> None:
    shown = cells(Page(demo_site["en/home/compare.html"]))
    costed: dict[str, Any] = json.loads(costing_json(demo_pricing, "build"))["models"]
    assert list(costed) == MODELS
    names = {id: own["name"] for each in costed.values() for id, own in each["options"].items()}
    for id, name in names.items():
        wanted = []
        for model in costed.values():
            if id in model["standard"]:
                wanted.append("standard")
            elif id in model["options"]:
                amount = Decimal(repr(model["options"][id]["list_price"])) * TAX
                wanted.append(money(amount, "EUR", Locale("en")))
            else:
                wanted.append(NONE)
        assert shown[name] == wanted, name
    totals = [Decimal(repr(each["boat"]["list_price"])) * TAX for each in costed.values()]
    assert shown["Price with standard equipment"] == [
        money(total, "EUR", Locale("en")) for total in totals
    ]


def test_delivery_that_must_be_paid_is_in_the_price_or_beside_it(tmp_path: Path) -> None:
    """Directive 98/6/EC: the selling price is the final one, with all taxes."""
    home = "tax: 25 %, prices: with tax"
    for prices, total, beside in (
        # Worked by hand: 21,900.00 and 1,000.00 EUR, each with 25 % tax or without.
        ("with tax", "€28,625.00 of which €1,250.00 for delivery: DAP Sundby", None),
        ("without tax", "€21,900", "€1,000 DAP Sundby"),
    ):
        changes = {"yard.yaml": {**DELIVERED, home: f"tax: 25 %, prices: {prices}"}}
        folder = tmp_path / prices.replace(" ", "_")
        folder.mkdir()
        shown = cells(Page(public_pages(small_with(folder, changes))["en/home/compare.html"]))
        assert shown["Price with standard equipment"][0] == total
        assert shown.get("Delivery, in addition", [None])[0] == beside


def boxes(tab: Tab) -> Locator:
    return tab.locator("input[name=models]")


def columns(tab: Tab) -> list[str]:
    heads: list[str] = tab.locator("thead th").evaluate_all(
        "heads => heads.filter(each => each.checkVisibility()).map(each => each.dataset.model)"
    )
    return heads


def rows(tab: Tab) -> list[str]:
    heads: list[str] = tab.locator("tbody th[scope=row]").evaluate_all(
        "heads => heads.filter(each => each.checkVisibility()).map(each => each.textContent.trim())"
    )
    return heads


@pytest.mark.slow
def test_the_reader_picks_models_and_rows_and_the_address_keeps_them(
    visit: Visit, demo_folder: Path
) -> None:
    tab = visit.open(demo_folder / COMPARE)
    every = rows(tab)
    assert columns(tab) == MODELS
    assert "Length" in every
    for model in ("open_68", "longshore_76", "passage_120"):
        tab.locator(f"input[value={model}]").uncheck()
    assert columns(tab) == MODELS[2:4]
    assert state(tab) == "models=weekender_86,coastal_98"
    expect(tab.locator("#shown")).to_have_text(
        f"Models shown: 2 of 5. Rows shown: {len(every)} of {len(every)}."
    )
    tab.locator("#differing").check()
    assert state(tab) == "models=weekender_86,coastal_98&rows=differing"
    left = rows(tab)
    assert {"Length", "Cockpit roof"} <= {*left} < {*every}
    assert not {"Side entry, single", "Console door"} & {*left}
    kept = state(tab)
    tab.reload()
    assert (columns(tab), rows(tab), state(tab)) == (MODELS[2:4], left, kept)
    tab.locator("#everything").click()
    assert (columns(tab), rows(tab), state(tab)) == (MODELS, every, "")


@pytest.mark.slow
def test_another_language_shows_the_same_choice(visit: Visit, demo_folder: Path) -> None:
    tab = visit.open(demo_folder / COMPARE, "models=open_68,coastal_98&rows=differing")
    count = len(rows(tab))
    tab.get_by_role("link", name="Deutsch", exact=True).click()
    tab.wait_for_url("**/de/home/compare.html#*")
    assert columns(tab) == ["open_68", "coastal_98"]
    assert len(rows(tab)) == count
    assert tab.locator("#differing").is_checked()


@pytest.mark.slow
def test_what_an_address_says_wrongly_is_said_and_left_out(visit: Visit, demo_folder: Path) -> None:
    for written, read in (("%3Cb%3E,deck", "<b>, deck"), ("%E0", "%E0")):
        tab = visit.open(demo_folder / COMPARE, f"models=coastal_98,{written}")
        assert columns(tab) == ["coastal_98"]
        expect(tab.locator("#shown")).to_contain_text(f"Not on this price sheet: {read}.")
        assert state(tab) == "models=coastal_98"
    tab = visit.open(demo_folder / COMPARE, "models=nowhere")
    assert columns(tab) == MODELS


@pytest.mark.slow
def test_no_model_at_all_says_so_and_can_be_mended_by_keyboard(
    visit: Visit, demo_folder: Path
) -> None:
    tab = visit.open(demo_folder / COMPARE)
    boxes(tab).first.focus()
    for _ in MODELS:
        tab.keyboard.press("Space")
        tab.keyboard.press("Tab")
    assert columns(tab) == []
    assert tab.locator("table").is_hidden()
    expect(tab.locator("#shown")).to_have_text("No model is chosen. Choose at least one.")
    tab.keyboard.press("Tab")
    assert tab.evaluate("document.activeElement.id") == "everything"
    tab.keyboard.press("Enter")
    assert columns(tab) == MODELS


@pytest.mark.slow
def test_without_scripts_the_table_is_whole_and_there_is_nothing_to_pick(
    browser: Browser, demo_folder: Path
) -> None:
    with visiting(browser, java_script_enabled=False, viewport=NARROW) as visit:
        tab = visit.tab
        tab.goto((demo_folder / COMPARE).as_uri())
        assert tab.locator("#choice").is_hidden()
        assert tab.locator("thead th").count() == len(MODELS)
        assert all(cell.is_visible() for cell in tab.locator("[data-model]").all())
