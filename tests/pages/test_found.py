"""From the first page every option of every boat is found, and each has an address of its own."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from quoter.pricing.price import Pricing
from tests.pages.boat_pages import (
    COASTAL,
    LANGUAGES,
    TYPED,
    Visit,
    listed,
    served,
    shown,
    state,
    tourist,
    visit,
    visiting,
)
from tests.pages.parsed import Element, Page
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "tourist", "visit"]  # fixtures
FIRST = "site/en/home/index.html"
OFFERS = """[...document.querySelectorAll("#places li li")].map(each => [
    each.parentElement.closest("li").querySelector("strong").textContent,
    each.querySelector("a").textContent, each.querySelector("a").getAttribute("href"),
    each.querySelector("span").textContent])"""
# Worked out from models.yaml and options.yaml of the demonstration: doors asked for in each
# language, and how many boats have a deck hatch, as standard or not.
DOORS = {"en": "doors", "de": "Türen", "fr": "portes", "nb": "dører", "es": "puertas"}
HATCHED = 5


@pytest.fixture(scope="module")
def server(demo_folder: Path) -> Iterator[str]:
    with served(demo_folder) as address:
        yield address


def test_an_option_is_found_on_every_boat_with_its_price(
    visit: Visit, demo_folder: Path, demo_site: dict[str, bytes]
) -> None:
    tab = visit.open(demo_folder / FIRST)
    tab.fill("#find", "deck hatches")
    offers = [offer for offer in tab.evaluate(OFFERS) if offer[0] == "Deck hatch"]
    assert len(offers) == HATCHED
    assert {price for *_, price in offers} > {"standard"}
    for _, boat, place, price in offers:
        path, _, id = place.partition("#")
        page = Page(demo_site[f"en/home/{path}"])
        article = page.one("article", id=id)
        assert page.one("h1").text == boat
        assert (price if price != "standard" else "included") in article.text
    assert state(tab) == "find=deck+hatches"
    tab.locator("#places li li a").first.click()
    expect(tab.locator(".option:target")).to_be_in_viewport()


@pytest.mark.parametrize("language", LANGUAGES)
def test_plurals_find_options_and_standard_equipment_in_every_language(
    visit: Visit, demo_folder: Path, language: str
) -> None:
    page = demo_folder / FIRST.replace("/en/", f"/{language}/")
    tab = visit.open(page, f"find={DOORS[language]}")
    places = {place.partition("#")[2] for _, _, place, _ in tab.evaluate(OFFERS)}
    assert {"option-companion_door", "option-transom_door"} <= places  # one is standard
    own = visit.open(page.parent / "models/weekender_86.html", f"find={DOORS[language]}")
    assert own.locator("#option-companion_door").is_visible()
    assert "transom_door" in shown(own)
    own.fill("#find", "zebra")
    assert not own.locator("#option-companion_door").is_visible()
    own.fill("#find", DOORS[language])
    own.locator("#find-everywhere").click()
    own.wait_for_url("**/index.html#find=*")
    assert own.locator("#find").input_value() == DOORS[language]
    assert own.locator("#places > li").count() > 1


def test_a_word_of_a_boat_s_name_narrows_what_is_found(visit: Visit, demo_folder: Path) -> None:
    tab = visit.open(demo_folder / FIRST)
    tab.fill("#find", "coastal door")
    assert {boat for _, boat, *_ in tab.evaluate(OFFERS)} == {"Orvesund 9.8 Coastal"}
    tab.fill("#find", "zebra")
    assert tab.locator("#places > li").count() == 0
    assert tab.locator("#found").inner_text() != ""


def test_what_is_searched_has_each_option_once_and_stays_small(
    demo_site: dict[str, bytes], demo_pricing: Pricing
) -> None:
    text = demo_site["de/trade/assets/boats.js"].decode()
    data = json.loads(text.removeprefix("window.everyBoat = ").rstrip().removesuffix(";"))
    ids = [option["id"] for option in data["options"]]
    every = {
        id for model in demo_pricing.models.values() for id in (*model.options, *model.packages)
    }
    assert sorted(ids) == sorted(every)
    assert len(text) < 20_000


def test_without_scripts_the_first_page_leads_to_the_whole_list(
    browser: Browser, demo_folder: Path
) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        tab = context.new_page()
        tab.goto((demo_folder / FIRST).as_uri())
        assert not tab.locator("#searching").is_visible()
        tab.locator("#search a").click()
        tab.wait_for_url("**/list.html")


@pytest.mark.parametrize(
    "before", ["", "list=hull_grey", "find=zebra", "list=hull_grey&group=Transom"]
)
def test_an_option_s_address_opens_and_marks_it_beside_a_list_and_a_search(
    visit: Visit, demo_folder: Path, before: str
) -> None:
    tab = visit.open(demo_folder / COASTAL, f"option-seat_base&{before}".rstrip("&"))
    expect(tab.locator("#option-seat_base")).to_be_in_viewport()
    assert tab.locator(".sought").get_attribute("id") == "option-seat_base"
    chosen = "hull_grey" if "list=" in before else ""
    assert listed(tab) == chosen
    kept = f"option-seat_base&list={chosen}" if chosen else "option-seat_base"
    assert state(tab) == kept
    tab.reload()
    assert (state(tab), listed(tab)) == (kept, chosen)
    tab.locator("nav.languages").get_by_role("link", name="Deutsch").click()
    tab.wait_for_url("**/de/home/models/coastal_98.html#*")
    assert state(tab) == kept


def test_a_new_address_in_the_line_marks_another_option_and_keeps_the_list(
    visit: Visit, demo_folder: Path
) -> None:
    tab = visit.open(demo_folder / COASTAL, "option-seat_base&list=hull_grey")
    tab.evaluate(TYPED, "option-buoyancy")
    expect(tab.locator("#option-buoyancy")).to_be_in_viewport()
    assert state(tab) == "option-buoyancy&list=hull_grey"
    assert tab.locator(".sought").get_attribute("id") == "option-buoyancy"
    tab.locator("[data-toggle=sole_panels]").click()
    assert tab.locator(".sought").count() == 0
    assert state(tab) == "list=sole_panels,hull_grey"


def test_standard_equipment_hidden_by_a_search_can_be_jumped_to(
    visit: Visit, demo_folder: Path
) -> None:
    tab = visit.open(demo_folder / COASTAL, "find=zebra")
    assert not tab.locator("#option-companion_door").is_visible()
    tab.evaluate(TYPED, "option-companion_door")
    expect(tab.locator("#option-companion_door")).to_be_in_viewport()


def by_id(page: Page, id: str) -> Element:
    (found,) = [each for each in page.elements if each.attributes.get("id") == id]
    return found


def signed(page: Page) -> Iterator[tuple[str, str]]:
    """Each sign: where it leads, and what it is called."""
    for link in page.all("a"):
        if "data-sign" in link.attributes:
            yield link.attributes["href"], link.attributes["aria-label"]


def test_every_heading_of_an_option_has_a_sign_with_its_address_in_every_language(
    demo_site: dict[str, bytes],
) -> None:
    seen = 0
    for path, content in demo_site.items():
        if not path.endswith("list.html") and not re.search(r"/models/\w+\.html$", path):
            continue
        page = Page(content)
        articles = [each for each in page.all("article") if "id" in each.attributes]
        names = {f"#{each.attributes['id']}": each for each in articles}
        signs = dict(signed(page))
        assert signs.keys() == names.keys(), path
        for place, called in signs.items():
            heading = by_id(page, names[place].attributes["aria-labelledby"])
            name = heading.text.removesuffix(" new")
            assert called == f"Link to {name}" or not path.startswith("en/")
        seen += len(signs)
    assert seen > 500


def test_ids_are_the_same_in_every_language_and_market(demo_site: dict[str, bytes]) -> None:
    ids: dict[str, set[frozenset[str]]] = {}
    for path, content in demo_site.items():
        _, _, page = path.split("/", 2) if path.count("/") > 1 else ("", "", "")
        if page.startswith("models/") and page.endswith(".html"):
            found = {link for link, _ in signed(Page(content))}
            ids.setdefault(page, set()).add(frozenset(found))
    assert len(ids) == 5
    assert all(len(every) == 1 for every in ids.values())


def test_a_sign_copies_its_address_where_the_browser_lets_it(browser: Browser, server: str) -> None:
    with visiting(browser, permissions=["clipboard-read", "clipboard-write"]) as visit:
        tab = visit.open(f"{server}/{COASTAL}", "list=hull_grey")
        sign = tab.locator("#option-seat_base .sign")
        sign.click()
        expect(tab.locator(".copied")).to_have_text("The address is copied.")
        address = f"{server}/{COASTAL}#option-seat_base"
        assert tab.evaluate("navigator.clipboard.readText()") == address
        assert state(tab) == "list=hull_grey"
        tab.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
        sign.click()
        expect(tab.locator("#option-seat_base")).to_be_in_viewport()
        assert state(tab) == "option-seat_base&list=hull_grey"


@pytest.mark.parametrize("page", ["list.html", "models/coastal_98.html"])
def test_a_long_page_leads_to_its_parts(demo_site: dict[str, bytes], page: str) -> None:
    found = Page(demo_site[f"nb/home/{page}"])
    (contents,) = [each for each in found.all("nav") if each.attributes.get("class") == "contents"]
    links = [each for each in found.all("a") if contents in each.within]
    assert len(links) > 5
    for link in links:
        heading = by_id(found, link.attributes["href"].removeprefix("#"))
        assert heading.text.startswith(link.text)
