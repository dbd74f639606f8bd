"""Prices with tax and without on one page: each to the cent what the market's price list is."""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Page as Tab

from quoter.pages.costing_json import costing_json
from quoter.pages.public.site import PublicSite, public_pages
from quoter.pricing.price import Pricing
from quoter.pricing.public import price_list
from tests.pages.boat_pages import Visit, laid_out, state, tourist, visit
from tests.pages.test_browser import browser
from tests.pages.variants import DELIVERED, small_with

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
MODELS = ("open_68", "longshore_76", "weekender_86", "coastal_98", "passage_120")
CENT = Decimal("0.01")
SHOWN = """() => Object.fromEntries([...document.querySelectorAll("[data-price]")]
    .map(each => [each.dataset.price, each.textContent.replace(/[^0-9.]/g, "")]))"""


@pytest.fixture(scope="module")
def home(demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The home market's sheet in English."""
    site = PublicSite(demo_pricing)
    paths = [path for path in site.makers if path.startswith("en/home/")]
    return laid_out(tmp_path_factory.mktemp("home"), site.pages(paths)) / "en/home/models"


def switched(tab: Tab, way: str) -> dict[str, Decimal]:
    """Every price on the page, by what it is of, after a press of the switch."""
    tab.locator(f"#basis [value={way}]").check()
    return {id: Decimal(text) for id, text in tab.evaluate(SHOWN).items()}


@pytest.mark.parametrize("model", MODELS)
def test_both_ways_are_the_price_list_of_a_market_that_shows_them_so(
    visit: Visit, home: Path, demo_pricing: Pricing, model: str
) -> None:
    market = demo_pricing.catalogue.yard.markets[0]
    tab = visit.open(home / f"{model}.html")
    for way in ("without", "with", "without"):
        prices = price_list(demo_pricing, market.model_copy(update={"prices": f"{way} tax"}))
        listed = {id: price.amount for (boat, id), price in prices.items() if boat == model}
        found = switched(tab, way)
        assert found == {id: listed[id] for id in found}
        assert len(found) == 1 + len(tab.evaluate("priceList.items"))
    # And by hand: list prices are before tax, which is 24 %, rounded half up to the cent.
    data = json.loads(costing_json(demo_pricing, "build"), parse_float=Decimal)["models"][model]
    plain = {id: each["list_price"] for id, each in data["options"].items()}
    plain[""] = data["boat"]["list_price"]
    without, taxed = switched(tab, "without"), switched(tab, "with")
    assert {id: without[id] for id in plain if id in without} == {
        id: price for id, price in plain.items() if id in without
    }
    for id in taxed.keys() & plain.keys():
        assert taxed[id] == (plain[id] * Decimal("1.24")).quantize(CENT, ROUND_HALF_UP)


def test_total_words_and_address_follow_the_switch_and_the_request_does_not(
    visit: Visit, home: Path
) -> None:
    tab = visit.open(home / "coastal_98.html", "list=side_ramp,seat_base*2,hull_blue")
    request = "boatOnPage.requestText({name: 'Jo', date: '2026-11-26'})"
    before = tab.evaluate(request)
    # 267,716.00 + 8,047.60 + 2 x 1,562.40 + 2,963.60, each of them 1.24 times what it is below.
    assert digits(tab, "#list-total") == "281852.00"
    switched(tab, "without")
    # 215,900 + 6,490 + 2 x 1,260 + 2,390
    assert digits(tab, "#list-total") == "227300.00"
    assert "without VAT" in tab.locator(".titled .price:visible").inner_text()
    assert tab.locator("#list-basis").inner_text() == "without VAT"
    assert (
        "including" not in tab.locator("#list, #prices caption, #about + dl").all_inner_texts()[0]
    )
    assert "without VAT" in tab.locator("dd[data-basis]").inner_text()
    assert state(tab).endswith("&tax=without")
    assert tab.evaluate(request) == before
    assert yaml.safe_load(before)["shown_total"] == "281852.00 EUR"
    tab.reload()
    assert digits(tab, "#list-total") == "227300.00"
    assert tab.locator("#basis [value=without]").is_checked()
    switched(tab, "with")
    assert digits(tab, "#list-total") == "281852.00"
    assert "tax=" not in state(tab)


def digits(tab: Tab, query: str) -> str:
    text: str = tab.locator(query).first.evaluate(
        "each => each.textContent.replace(/[^0-9.]/g, '')"
    )
    return text if "." in text else f"{text}.00"


@pytest.mark.parametrize("typed", ["with", "nonsense", "", "without&tax=with"])
def test_a_way_that_an_address_can_t_mean_is_the_sheet_s_own(
    visit: Visit, home: Path, typed: str
) -> None:
    tab = visit.open(home / "coastal_98.html", f"list=seat_base&tax={typed}")
    assert tab.locator("#basis [value=with]").is_checked()
    assert "including 24% VAT" in tab.locator(".titled .price:visible").inner_text()
    assert state(tab) == "list=seat_base"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    """The small catalogue without tax, with a switch, a reduced tax on its hatch, and delivery."""
    rates = "prices: without tax, tax_switch: yes, other_taxes: [{id: reduced, name: Reduced VAT"
    changes = {
        "yard.yaml": {"prices: with tax": rates + ", rate: 10 %}]", **DELIVERED},
        "options.yaml": {"    text: A flush hatch": "    tax: reduced\n    text: A flush hatch"},
    }
    return public_pages(small_with(tmp_path_factory.mktemp("small"), changes))


def test_an_option_s_own_tax_and_delivery_are_in_the_other_way_as_well(
    visit: Visit, small: Mapping[str, bytes], tmp_path: Path
) -> None:
    page = laid_out(tmp_path, small) / "en/home/models/skiff.html"
    tab = visit.open(page, "list=hatch")
    boat = tab.evaluate("priceList.price")
    # The hatch is 440 EUR in the price book and bears 10 %; delivery, 1000 EUR, bears 25 %.
    assert digits(tab, "[data-delivery]") == "1000.00"
    found = switched(tab, "with")
    assert found["hatch"] == Decimal(484)
    assert found[""] == (Decimal(boat) * Decimal("1.25")).quantize(CENT, ROUND_HALF_UP)
    assert digits(tab, "[data-delivery]") == "1250.00"
    total = Decimal(digits(tab, "#list-total"))
    assert total == found[""] + Decimal(484) + Decimal(1250)


def test_only_a_market_that_says_so_has_the_switch(site: dict[str, bytes]) -> None:
    data: dict[str, Any] = {path: page for path, page in site.items() if "/models/" in path}
    assert data
    assert not [path for path, page in data.items() if b'id="basis"' in page]
