"""Prices by market: published there, or the home market's exchanged and rounded once."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from quoter.catalogue.markets import Market
from quoter.pricing.markets import market_prices
from quoter.pricing.price import BOAT, MarketPrice, Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue
from tests.demo import demo

SOUND = FOLDER / "sound"
HOME = "  - {id: home, name: Home, language: en, tax_name: VAT, tax: 24 %, prices: with tax}"
FAR = (
    "\n  - {id: far, name: Far, language: en, tax_name: VAT, tax: 0 %, prices: without tax,"
    " currency: USD, rounding: {step: 5 USD, direction: up}}"
)
HEAD = "date,market,model,option,list_price,note\n"


def far_prices(folder: Path, book: str) -> Mapping[tuple[str, str], MarketPrice]:
    changes = {"yard.yaml": (HOME, HOME + FAR)}
    pricing = priced(write_catalogue(folder, {"price_book.csv": HEAD + book}, changes, SOUND))
    return market_prices(pricing, market_of(pricing, "far"))


def market_of(pricing: Pricing, id: str) -> Market:
    return next(market for market in pricing.catalogue.yard.markets if market.id == id)


def test_a_home_price_is_exchanged_at_the_dated_rate_and_rounded_once(tmp_path: Path) -> None:
    """2,401 EUR at 1.08 USD/EUR is 2,593.08 USD, in steps of 5 upward 2,595; by hand."""
    price = far_prices(tmp_path / "c", "2026-09-01,,,hatch,2401 EUR,\n")["tarn_26", "hatch"]
    assert (price.shown.value, str(price.shown.unit)) == (2595.0, "USD")
    assert price.list_price.value == pytest.approx(2595 / 1.08, rel=1e-12)
    assert str(price.list_price.unit) == "EUR"
    assert price.basis == "price book 2026-09-01, exchanged"


def test_a_price_published_in_a_market_outranks_the_home_price(tmp_path: Path) -> None:
    book = "2026-09-01,,,hatch,2401 EUR,\n2026-08-01,far,,hatch,2700 USD,\n"
    price = far_prices(tmp_path / "c", book)["tarn_26", "hatch"]
    assert (price.shown.value, price.basis) == (2700.0, "price book 2026-08-01")


def test_a_price_of_the_market_and_model_outranks_one_of_the_market(tmp_path: Path) -> None:
    book = "2026-09-01,far,,hatch,2700 USD,\n2026-08-01,far,tarn_26,hatch,2750 USD,\n"
    assert far_prices(tmp_path / "c", book)["tarn_26", "hatch"].shown.value == 2750.0


def test_margins_in_a_market_are_of_its_price_in_home_currency(tmp_path: Path) -> None:
    price = far_prices(tmp_path / "c", "2026-09-01,far,,hatch,2700 USD,\n")["tarn_26", "hatch"]
    assert price.sales["contract"].net.value == pytest.approx(2700 / 1.08 * 0.8, rel=1e-12)


def test_what_is_free_in_one_market_leaves_no_margin_there(tmp_path: Path) -> None:
    """A margin is a fraction of a price."""
    price = far_prices(tmp_path / "c", "2026-09-01,far,,hatch,0 USD,\n")["tarn_26", "hatch"]
    assert (price.shown.value, price.list_price.value, price.sales) == (0.0, 0.0, {})


def test_a_boat_s_published_price_outranks_the_one_of_its_model(tmp_path: Path) -> None:
    book = "2026-09-01,,tarn_26,,99000 EUR,\n2026-09-01,far,tarn_26,,120000 USD,\n"
    prices = far_prices(tmp_path / "c", book)
    assert prices["tarn_26", BOAT].shown.value == 120000.0
    pricing = priced(tmp_path / "c")
    boat = pricing.models["tarn_26"].boat
    assert (boat.list_price.value, boat.basis) == (99000.0, "price book 2026-09-01")
    assert pricing.models["tarn_31"].boat.basis == "models.yaml"


def test_a_market_in_home_currency_without_prices_of_its_own_has_the_home_ones() -> None:
    prices = market_prices(demo(), market_of(demo(), "trade"))
    door = demo().models["weekender_86"].options["side_single"]
    assert prices["weekender_86", "side_single"].list_price is door.list_price
    assert prices["weekender_86", "side_single"].sales is door.sales


def test_every_thing_on_sale_has_a_price_in_every_market() -> None:
    for market in demo().catalogue.yard.markets:
        prices = market_prices(demo(), market)
        for id, model in demo().models.items():
            names = {BOAT, *model.options, *model.packages, *model.surcharges}
            assert {option for on, option in prices if on == id} == names


def test_a_package_abroad_saves_off_the_prices_there() -> None:
    north = market_of(demo(), "north")
    prices = market_prices(demo(), north)
    found = 0
    for id, model in demo().models.items():
        for package in model.offered_packages:
            apart = sum(prices[id, str(o)].shown.value for o in package.options)
            price = prices[id, str(package.id)].shown
            saved = apart * (1 - package.saving.value)
            assert saved - 100 < price.value <= saved + 1e-9
            assert price.value % 100 == 0
            found += 1
    assert found


def test_a_surcharge_is_exchanged_and_rounded_once_like_other_prices() -> None:
    """By hand: 60 EUR at 11.68 are 700.80 NOK, up to the market's hundreds 800."""
    pair = ("weekender_86", "side_single+hull_blue")
    at_home = market_prices(demo(), market_of(demo(), "home"))[pair]
    north = market_prices(demo(), market_of(demo(), "north"))[pair]
    assert (at_home.shown.value, str(at_home.shown.unit)) == (60.0, "EUR")
    assert (north.shown.value, str(north.shown.unit)) == (800.0, "NOK")
    assert north.list_price.value == pytest.approx(800 / 11.68, rel=1e-12)
