"""What the price sheet adds up is what a quote's list prices come to, whoever buys and however."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale

from quoter.pages.public.sheet import sheet_view
from quoter.pricing.price import Pricing
from quoter.quotes.language import Language
from quoter.quotes.offer import list_total
from quoter.quotes.request import read_request, sound_wish
from quoter.quotes.seen import granted_in, seen_of
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO
from tests.quotes.asked import BY, SHEET, asked, saved

CHOSEN = {"anchor_lid": 1, "seat_base": 2, "hull_grey": 1}
ENGLISH = Locale("en")
WHO = {"name": "Jo"}


def shown(pricing: Pricing, market: str) -> Decimal:
    """What a buyer adds up on the price sheet: its own prices, and the delivery it always adds."""
    (there,) = (each for each in pricing.catalogue.yard.markets if each.id == market)
    sheet = sheet_view(pricing, there, ENGLISH)
    (boat,) = (model for model in sheet.models if model.id == "open_68")
    prices = {option.id: option.price.amount for group in boat.groups for option in group.options}
    chosen = sum((prices[id] * many for id, many in CHOSEN.items()), Decimal(0))
    return boat.price.amount + chosen + (sheet.delivery.price.amount if sheet.delivery else 0)


@pytest.fixture(scope="module")
def delivering(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    """The demonstration, if it charged for delivery and a lid bore a tax of its own."""
    folder = tmp_path_factory.mktemp("delivering") / "yard"
    usual = "    words: The boat is handed over afloat at the yard's quay.\n"
    lid = "  - id: anchor_lid\n"
    changes = {
        "yard.yaml": (usual, f"{usual}    price: 1234.56 EUR\n"),
        "options.yaml": (lid, f"{lid}    tax: reduced\n"),
    }
    write_catalogue(folder, {}, changes, base=DEMO)
    yard, own = folder / "yard.yaml", "    prices: with tax\n"
    taxes = "    other_taxes: [{id: reduced, name: VAT, rate: 8.1 %}]\n"
    yard.write_text(yard.read_text("utf-8").replace(own, own + taxes), encoding="utf-8")
    for words in (folder / "translations").glob("*.po"):
        name = 'msgctxt "yard.markets.home.other_taxes.reduced.name"'
        entry = f'\n{name}\nmsgid "VAT"\nmsgstr "VAT"\n'
        words.write_text(words.read_text("utf-8") + entry, encoding="utf-8")
    return priced(folder)


@pytest.mark.parametrize("yard", ["demo_pricing", "delivering"])
@pytest.mark.parametrize("market", ["home", "trade", "north"])
@pytest.mark.parametrize(
    "more",
    [
        "",
        "buyer: contract\n",
        "buyer: area\ndiscount: 3 %\nscheme: reverse_charge\n",
        "scheme: export\n",
        "delivery: {term: DAP, named_place: Quay, edition: Incoterms 2020, price: 990 EUR}\n",
    ],
)
def test_list_total_is_what_the_price_sheet_adds_up(
    tmp_path: Path, request: pytest.FixtureRequest, yard: str, market: str, more: str
) -> None:
    pricing: Pricing = request.getfixturevalue(yard)
    base = SHEET.replace("market: home", f"market: {market}").replace("shown_total", "# ")
    wish = sound_wish(read_request(saved(tmp_path, asked(WHO, BY + more, base))), pricing)
    assert list_total(pricing, wish, Language(pricing.catalogue, ENGLISH)) == shown(pricing, market)


def test_the_sheet_s_own_total_holds_delivery_and_other_taxes(
    demo_pricing: Pricing, delivering: Pricing
) -> None:
    """By hand: 1,234.56 with 24 % is 1,530.85; a lid of 710 has 8.1 % in the place of 24 %."""
    more = shown(delivering, "home") - shown(demo_pricing, "home")
    assert more == Decimal("1530.85") - (Decimal("880.40") - Decimal("767.51"))


def test_what_was_seen_is_kept_beside_what_is_listed(tmp_path: Path, demo_pricing: Pricing) -> None:
    language = Language(demo_pricing.catalogue, ENGLISH)
    wish = sound_wish(read_request(saved(tmp_path, asked(WHO))), demo_pricing)
    seen = seen_of(demo_pricing, wish, language)
    assert seen is not None
    assert (seen.total, seen.price_sheet) == (Decimal("62570.40"), "2026-11")
    assert seen.listed == shown(demo_pricing, "home")
    unsaid = asked(WHO, base=SHEET.replace("shown_total: 62570.40 EUR\n", ""))
    wish = sound_wish(read_request(saved(tmp_path, unsaid)), demo_pricing)
    assert seen_of(demo_pricing, wish, language) is None


@pytest.mark.parametrize(
    ("more", "granted"),
    [
        ("", []),
        ("buyer: contract\ndiscount: 20 %\n", ["buyer", "discount"]),
        ("scheme: export\nvalid_until: 2027-11-26\n", ["scheme", "valid_until"]),
    ],
)
def test_what_the_page_never_writes_is_found(tmp_path: Path, more: str, granted: list[str]) -> None:
    path = saved(tmp_path, asked(WHO, BY + more))
    assert granted_in(read_request(path).request) == granted
    other = SHEET.replace("price_sheet:", "# ").replace("shown_total:", "# ")
    path = saved(tmp_path, asked(WHO, BY + more, other))
    assert granted_in(read_request(path).request) == []
