"""An option with a tax of its own: no page and no data says the usual rate of its price."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from quoter.pages.public.site import public_pages
from tests.pages.parsed import Page
from tests.pages.variants import small_with

REDUCED = "prices: with tax, other_taxes: [{id: reduced, name: Reduced VAT, rate: 10 %}]"
PAGES = ("index.html", "list.html", "compare.html", "models/skiff.html", "models/cutter.html")


@pytest.fixture(scope="module")
def taxed(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    """The small catalogue, a hatch of which bears 10 % at home in place of 25 %."""
    changes = {
        "yard.yaml": {"prices: with tax": REDUCED},
        "options.yaml": {"    text: A flush hatch": "    tax: reduced\n    text: A flush hatch"},
    }
    folder: Path = tmp_path_factory.mktemp("taxed")
    return public_pages(small_with(folder, changes))


@pytest.mark.parametrize("name", PAGES)
def test_pages_claim_one_rate_of_all_prices_only_where_it_is_so(
    site: Mapping[str, bytes], taxed: Mapping[str, bytes], name: str
) -> None:
    plain, own = (Page(pages[f"en/home/{name}"]) for pages in (site, taxed))
    assert "including 25% VAT" in plain.one("main").text
    assert "including 25% VAT" not in own.one("main").text
    assert "including VAT" in own.one("main").text
    said = {page: [each.text for each in page.all("dd")] for page in (plain, own)}
    assert "Every price includes 25% VAT." in said[plain]
    assert "Every price includes VAT, at 25% unless stated otherwise." in said[own]
    assert "Deck hatch (10% Reduced VAT)" in said[own]
    assert ["Taxed differently" in [each.text for each in page.all("dt")] for page in said] == [
        False,
        True,
    ]


def test_the_option_itself_says_its_rate(taxed: Mapping[str, bytes]) -> None:
    page = Page(taxed["en/home/models/skiff.html"])
    told = {
        each.attributes["data-item"]: each.text
        for each in page.all("article")
        if "data-item" in each.attributes
    }
    assert [id for id, text in told.items() if "Reduced VAT 10%" in text] == ["hatch"]
    # 440 EUR in the price book, and a tenth of it.
    assert "€484.00" in told["hatch"]


def test_a_model_s_page_speaks_of_no_other_model_s_options(tmp_path: Path) -> None:
    changes = {
        "yard.yaml": {"prices: with tax": REDUCED},
        "options.yaml": {"    text: A door in": "    tax: reduced\n    text: A door in"},
    }
    pages = public_pages(small_with(tmp_path, changes))
    told = [name for name in PAGES if b"Side door (10% Reduced VAT)" in pages[f"en/home/{name}"]]
    assert told == ["index.html", "list.html", "compare.html", "models/cutter.html"]


def test_another_market_is_not_concerned(
    site: Mapping[str, bytes], taxed: Mapping[str, bytes]
) -> None:
    others = [path for path in site if path.startswith("en/abroad/") and path.endswith(".html")]
    assert len(others) > 4
    assert [path for path in others if b"Taxed differently" in taxed[path]] == []


def test_data_have_the_rate_of_each_price(taxed: Mapping[str, bytes]) -> None:
    lines = csv.DictReader(io.StringIO(taxed["en/home/prices.csv"].decode("utf-8-sig")))
    rates = {line["id"]: line["tax_rate"] for line in lines}
    assert {id for id, rate in rates.items() if rate == "0.1"} == {"hatch"}
    assert {rate for id, rate in rates.items() if id != "hatch"} == {"0.25"}
    record = json.loads(taxed["en/home/prices.json"])
    assert record["tax"] == {"name": "VAT", "rate": "0.25", "included": True}
    taxes = {
        option["id"]: option.get("tax")
        for model in record["models"]
        for group in model["groups"]
        for option in group["options"]
    }
    assert taxes.pop("hatch") == {"name": "Reduced VAT", "rate": "0.1"}
    assert set(taxes.values()) == {None}
