"""The offers as JSON-LD: in the published words of schema.org, and harmless within a page."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright
from rdflib import RDF, SDO, Graph

from quoter.pages.public.linked_data import boat_json_ld
from quoter.pages.public.views import SheetView
from quoter.pricing.price import Pricing
from quoter.resources import templates_folder
from tests.demo import demo
from tests.pages.data_sheets import DELIVERY, HOSTILE, english, files, hostile, sheets, variants
from tests.pages.parsed import Page
from tests.pages.vocabulary import faults, nodes


def offers(sheet: SheetView) -> Any:
    return json.loads(files(sheet)["offers.jsonld"])


def boat(sheet: SheetView, number: int = 0) -> Any:
    return json.loads(boat_json_ld(sheet, sheet.models[number]))


def documents(pricing: Pricing) -> list[Any]:
    """Every file of a yard, and every boat for its own page."""
    found = [*sheets(pricing), *variants(pricing)]
    boats = [boat(sheet, number) for sheet in found for number in range(len(sheet.models))]
    return [*(offers(sheet) for sheet in found), *boats]


@pytest.mark.parametrize("catalogue", ["demo", "small"])
def test_every_word_is_schema_org_s_and_where_it_belongs(
    catalogue: str, small_pricing: Pricing
) -> None:
    found = documents(demo() if catalogue == "demo" else small_pricing)
    assert {fault for document in found for fault in faults(document)} == set()
    kinds = {node["@type"] for document in found for node in nodes(document) if "@type" in node}
    assert {"CompoundPriceSpecification", "DeliveryChargeSpecification", "Offer"} <= kinds


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("priceTag", "1", "there is no priceTag"),
        ("weight", {"@type": "QuantitativeValue"}, "weight is no property of Offer"),
        ("seller", "Orvesund", 'seller is no "Orvesund"'),
        ("seller", {"@type": "Product"}, 'seller is no {"@type": "Product"}'),
        ("seller", {"@id": "elsewhere"}, "nothing is said of elsewhere"),
        ("addOn", {"@type": "Extra", "name": "x"}, "there is no Extra"),
        ("price", True, "price is no true"),
        ("availability", "in stock", 'availability is no "in stock"'),
        ("availability", "https://schema.org/NewCondition", "availability is no"),
        ("priceValidUntil", "28 February", 'priceValidUntil is no "28 February"'),
        ("reviews", {"@type": "Review"}, "reviews is superseded"),
    ],
)
def test_the_search_for_other_words_sees_them(key: str, value: object, told: str) -> None:
    assert any(each.startswith(told) for each in faults({"@type": "Offer", key: value}))


def prices_of(sheet: SheetView) -> Iterator[Decimal]:
    """Every price of a sheet."""
    for model in sheet.models:
        yield model.price.amount
        yield from (option.price.amount for option in model.options)
        yield from (package.price.amount for package in model.packages)


def added(offered: Any) -> dict[str, Decimal]:
    return {
        offer["itemOffered"]["productID"]: Decimal(offer["price"])
        for offer in offered["offers"].get("addOn", [])
    }


@pytest.mark.parametrize("market", ["home", "trade", "north"])
def test_offers_have_the_sheet_s_prices_tax_and_days(market: str) -> None:
    sheet = english(demo(), market)
    found = offers(sheet)["dataFeedElement"]
    for model, offered in zip(sheet.models, found, strict=True):
        assert Decimal(offered["offers"]["price"]) == model.price.amount
        extras = {option.id: option.price.amount for option in model.options}
        extras |= {package.id: package.price.amount for package in model.packages}
        assert added(offered) == extras
        sizes = [offered[size] for size in ("weight", "width", "additionalProperty")]
        # Common codes of UN/CEFACT Recommendation 20, from memory.
        assert [size["unitCode"] for size in sizes] == ["KGM", "MTR", "MTR"]
        known = [model.mass, model.beam, model.length]
        assert [size["value"] for size in sizes] == [round(float(each.amount), 2) for each in known]
    every = [node for node in nodes(found) if node.get("@type") == "Offer"]
    assert len(every) == sum(1 + len(m.options) + len(m.packages) for m in sheet.models)
    for offer in every:
        asked = offer["priceSpecification"]
        assert (asked["price"], asked["priceCurrency"]) == (offer["price"], sheet.currency)
        assert asked["valueAddedTaxIncluded"] is (market == "home")
        assert (offer["validFrom"], offer["priceValidUntil"]) == ("2026-11-01", "2027-02-28")
        # Built when ordered: nobody has said what stands in the yard.
        assert offer["availability"] == "https://schema.org/MadeToOrder"


def test_a_boat_has_its_builder_s_brand_and_its_picture() -> None:
    sheet = english(demo(), "home")
    found = {each["productID"]: each for each in offers(sheet)["dataFeedElement"]}
    assert {each["brand"]["name"] for each in found.values()} == {"Orvesund Boatyard"}
    folder = "https://www.orvesund.example.com/prices/en/home/pictures/"
    pictured = found["weekender_86"]
    assert pictured["image"] == f"{folder}boat-weekender_86-1280.jpg"
    assert "image" not in found["open_68"]
    images = {
        offer["itemOffered"]["productID"]: offer["itemOffered"].get("image")
        for offer in pictured["offers"]["addOn"]
    }
    assert images.pop("side_single") == f"{folder}option-side_single-1280.jpg"
    assert set(images.values()) == {None}


def test_a_price_approves_no_structure_stands_with_each_opening() -> None:
    caution = "A price approves no structure"
    sheet = english(demo(), "home")
    openings = {each.id for m in sheet.models for each in m.options if each.kind == "opening"}
    every = [node for node in nodes(offers(sheet)) if "itemOffered" in node]
    told = [offer for offer in every if offer.get("description", "").startswith(caution)]
    assert {offer["itemOffered"]["productID"] for offer in told} == openings != set()


def test_what_a_boat_costs_delivered_is_told_as_on_its_page(small_pricing: Pricing) -> None:
    # The skiff at 21,900.00 EUR, with 25 % tax 27,375.00; delivery at 1,240.00.
    home, abroad = (
        offers(replace(english(small_pricing, market), delivery=DELIVERY))["dataFeedElement"][0]
        for market in ("home", "abroad")
    )
    whole = home["offers"]["priceSpecification"]
    assert home["offers"]["price"] == whole["price"] == "28615.00"
    parts = [(part["name"], part["price"]) for part in whole["priceComponent"]]
    assert parts == [("Tern Skiff", "27375.00"), ("DAP Sundby", "1240.00")]
    apart = abroad["offers"]["priceSpecification"]
    assert abroad["offers"]["price"] == "21900.00"
    assert [part["price"] for part in apart] == ["21900.00", "1240.00"]


def test_rules_that_have_words_are_told(small_pricing: Pricing) -> None:
    skiff, cutter = offers(english(small_pricing, "home"))["dataFeedElement"]
    extras = {offer["itemOffered"]["productID"]: offer for offer in skiff["offers"]["addOn"]}
    assert extras["hatch"]["eligibleQuantity"]["maxValue"] == 2
    assert "eligibleQuantity" not in extras["box"]
    held = [node["typeOfGood"] for node in extras["foredeck"]["includesObject"]]
    assert held == [{"@id": extras[id]["itemOffered"]["@id"]} for id in ("box", "cleats")]
    (standard,) = cutter["offers"]["includesObject"]
    assert (standard["typeOfGood"]["name"], standard["amountOfThisGood"]) == ("Pair of cleats", 1)


def test_ids_lead_to_the_sheet_s_own_pages(
    demo_site: dict[str, bytes], site: dict[str, bytes], small_pricing: Pricing
) -> None:
    start = "https://www.orvesund.example.com/prices/"
    for pages, prefix, pricing in ((demo_site, start, demo()), (site, "", small_pricing)):
        sheet = english(pricing, "home")
        base = prefix + "en/home/" if prefix else ""
        found = {node["@id"] for node in nodes(offers(sheet)) if "@type" in node and "@id" in node}
        assert len(found) > 10
        for id in found:
            path, _, place = id.removeprefix(base).partition("#")
            page = Page(pages[f"en/home/{path}"])
            assert place in ("yard", "boat", *page.ids), id


def test_a_boat_on_its_page_is_the_one_of_the_file(small_pricing: Pricing) -> None:
    sheet = english(small_pricing, "home")
    assert not sheet.address
    for number, offered in enumerate(offers(sheet)["dataFeedElement"]):
        alone = boat(sheet, number)
        assert alone.pop("@context") == "https://schema.org"
        assert alone["offers"]["seller"]["name"] == "Tern Quay Boats"
        alone["offers"]["seller"] = {"@id": "../index.html#yard"}
        assert json.loads(json.dumps(alone).replace("../", "")) == offered


# rdflib's own reader of JSON-LD still uses what rdflib has given up.
@pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated:DeprecationWarning")
def test_another_program_reads_the_same_offers() -> None:
    sheet = english(demo(), "home")
    # The context of schema.org would be fetched; this one gives its words the same meaning.
    document = offers(sheet) | {"@context": {"@vocab": str(SDO)}}
    graph = Graph().parse(data=json.dumps(document), format="json-ld")
    boats = set(graph.objects(None, SDO.dataFeedElement))
    assert len(boats) == len(sheet.models)
    prices = sorted(
        Decimal(str(graph.value(offer, SDO.price))) for offer in graph.subjects(RDF.type, SDO.Offer)
    )
    assert prices == sorted(prices_of(sheet))


def test_no_text_of_the_catalogue_ends_the_block_in_a_page(small_pricing: Pricing) -> None:
    sheet = hostile(english(small_pricing, "home"))
    written = str(boat_json_ld(sheet, sheet.models[0]))
    assert "<" not in written
    assert boat(sheet)["name"] == boat(sheet)["description"] == HOSTILE
    assert "javascript:" not in written
    block = f'<script type="application/ld+json">{written}</script><p>after</p>'
    page = Page(block.encode())
    assert [element.tag for element in page.elements] == ["script", "p"]
    assert json.loads("".join(page.one("script").pieces)) == boat(sheet)


def test_the_file_is_the_same_every_time(small_pricing: Pricing) -> None:
    first, second = (english(small_pricing, "home") for _ in range(2))
    assert files(first) == files(second)
    assert boat_json_ld(first, first.models[0]) == boat_json_ld(second, second.models[0])


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        yield chromium
        chromium.close()


@pytest.mark.slow
@pytest.mark.parametrize(("kind", "reported"), [("application/ld+json", 0), ("", 1)])
def test_the_pages_policy_lets_a_block_of_data_stand(
    browser: Browser, small_pricing: Pricing, tmp_path: Path, kind: str, reported: int
) -> None:
    # HTML Standard, "script": one whose type is no script's is a data block; it never runs.
    policy = (templates_folder() / "public/policy.html").read_text("utf-8").partition("#}")[2]
    sheet = hostile(english(small_pricing, "home"))
    block = boat_json_ld(sheet, sheet.models[0]) if kind else "document.title = 'ran'"
    tail = f'<script type="{kind}">{block}</script><p>after</p>'
    page = tmp_path / "page.html"
    page.write_text(f"<!doctype html><title>t</title>{policy}{tail}", "utf-8")
    told: list[str] = []
    with browser.new_context() as context:
        tab = context.new_page()
        tab.on("console", lambda message: told.append(message.text))
        tab.goto(page.as_uri())
        assert tab.title() == "t"
        assert tab.locator("p").inner_text() == "after"
        if kind:
            text = tab.evaluate("JSON.parse(document.querySelector('script').textContent).name")
            assert text == HOSTILE
    assert len(told) == reported, told
