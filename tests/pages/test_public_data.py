"""A price sheet as data: every price is there as on the page, and safe to open."""

from __future__ import annotations

import csv
import json
import re
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
import yaml

from quoter.catalogue.csv_cells import FORMULA_STARTS
from quoter.pages.costing_json import costing_json
from quoter.pages.public.data_table import COLUMNS
from quoter.pages.public.views import SheetView
from quoter.pricing.price import Pricing
from tests.demo import DEMO, demo
from tests.pages.data_sheets import (
    DELIVERY,
    HOSTILE,
    english,
    files,
    first_option,
    hostile,
    sheets,
    with_option,
)
from tests.pages.variants import small_with
from tests.pricing.public_prices import public

MARKETS = ("home", "trade", "north")
Prices = dict[tuple[str, str, str], Decimal]


def table(sheet: SheetView) -> list[dict[str, str]]:
    """The lines of prices.csv, read by Python's own reader."""
    text = files(sheet)["prices.csv"].decode("utf-8-sig")
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def record(sheet: SheetView) -> Any:
    return json.loads(files(sheet)["prices.json"])


def prices_of_table(sheet: SheetView) -> Prices:
    return {
        (line["model"], line["item"], line["id"]): Decimal(line["price"])
        for line in table(sheet)
        if line["price"]
    }


def prices_of_record(sheet: SheetView) -> Prices:
    found: Prices = {}
    for model in record(sheet)["models"]:
        found[model["id"], "boat", model["id"]] = Decimal(model["price"])
        options = [option for group in model["groups"] for option in group["options"]]
        for item, items in (("option", options), ("package", model["packages"])):
            found |= {(model["id"], item, each["id"]): Decimal(each["price"]) for each in items}
        for option in options:
            for each in option.get("surcharges", ()):
                pair = f"{option['id']}+{each['with']}"
                found[model["id"], "surcharge", pair] = Decimal(each["price"])
    return found


def prices_of_view(sheet: SheetView) -> Prices:
    found: Prices = {}
    for model in sheet.models:
        found[model.id, "boat", model.id] = model.price.amount
        found |= {(model.id, "option", each.id): each.price.amount for each in model.options}
        found |= {(model.id, "package", each.id): each.price.amount for each in model.packages}
        charged = [each for option in model.options for each in option.surcharges]
        found |= {(model.id, "surcharge", each.id): each.price.amount for each in charged}
    return found


def rows(name: str) -> list[dict[str, str]]:
    """A table of the demonstration's catalogue."""
    with (DEMO / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def written(name: str) -> Any:
    return yaml.safe_load((DEMO / name).read_text("utf-8"))


def amount(text: str) -> Decimal:
    """The number of a quantity such as "24 %" or "100 NOK (invented)"."""
    return Decimal(text.split()[0])


def stepped(value: Decimal, step: Decimal, rounding: str) -> Decimal:
    return (value / step).quantize(Decimal(1), rounding) * step


def worked_out(market: str) -> Prices:
    """The demonstration's prices from costing.json and what the catalogue's files say.

    The rules are the README's: a price in another currency is exchanged at the newest rate and
    rounded up to the market's step unless one is published there; a package costs its options'
    prices less the saving, rounded down to the step; a surcharge is asked of an option with a hull
    colour, wherever both can be added; then the tax is added where prices hold it.
    """
    yard = written("yard.yaml")
    facts = next(each for each in yard["markets"] if each["id"] == market)
    rounding = facts.get("rounding") or yard["policy"]["rounding"]
    step, tax = amount(rounding["step"]), amount(facts["tax"]) / 100
    factor = 1 + tax if facts["prices"] == "with tax" else Decimal(1)
    rates = [row for row in rows("exchange.csv") if row["currency"] == facts.get("currency")]
    there = {row["option"]: row for row in rows("price_book.csv") if row["market"] == market}
    saved = {each["id"]: each for each in written("options.yaml").get("packages", [])}

    charged = [
        (each["id"], asked["colour"], amount(asked["list_price"]))
        for each in written("options.yaml")["options"]
        for asked in each.get("colour_surcharges", ())
    ]

    def listed(id: str, price: float) -> Decimal:
        if id in there:
            return amount(there[id]["list_price"])
        if not rates:
            return Decimal(str(price))
        return stepped(Decimal(str(price)) * amount(rates[-1]["rate"]), step, ROUND_CEILING)

    def shown(price: Decimal) -> Decimal:
        return (price * factor).quantize(Decimal("0.01"), ROUND_HALF_UP)

    found: Prices = {}
    for id, model in json.loads(costing_json(demo(), "a build"))["models"].items():
        found[id, "boat", id] = shown(listed("", model["boat"]["list_price"]))
        own = {name: listed(name, item["list_price"]) for name, item in model["options"].items()}
        extras = own.keys() - set(model["standard"])
        found |= {(id, "option", name): shown(own[name]) for name in extras}
        for name, colour, price in charged:
            if {name, colour} <= extras:
                found[id, "surcharge", f"{name}+{colour}"] = shown(listed("", float(price)))
        for name, package in saved.items():
            if set(package["options"]) <= extras:
                apart = sum(own[option] for option in package["options"])
                less = apart * (1 - amount(package["saving"]) / 100)
                found[id, "package", name] = shown(stepped(less, step, ROUND_FLOOR))
    return found


@pytest.mark.parametrize("market", MARKETS)
def test_every_price_is_the_catalogue_s_with_the_market_s_tax(market: str) -> None:
    sheet = english(demo(), market)
    expected = worked_out(market)
    assert len(expected) > 50
    assert prices_of_view(sheet) == expected
    assert prices_of_table(sheet) == expected
    assert prices_of_record(sheet) == expected


def test_a_price_worked_by_hand(small_pricing: Pricing) -> None:
    home, abroad = (english(small_pricing, market) for market in ("home", "abroad"))
    # 440 EUR in the price book, 25 % tax on top at home; none abroad.
    for sheet, price, tax in ((home, "550.00", "with"), (abroad, "440.00", "without")):
        (line,) = (row for row in table(sheet) if (row["model"], row["id"]) == ("skiff", "hatch"))
        assert (line["price"], line["currency"], line["tax"]) == (price, "EUR", tax)
        assert record(sheet)["tax"]["included"] is (tax == "with")
    assert (record(home)["tax"]["rate"], record(abroad)["tax"]["rate"]) == ("0.25", "0")


def test_a_currency_without_small_coins_has_whole_amounts(tmp_path: Path) -> None:
    rounding = "currency: JPY, rounding: {step: 1000 JPY, direction: up}}"
    changes = {
        "yard.yaml": {"prices: without tax}": f"prices: without tax, {rounding}"},
        "exchange.csv": {"invented": "invented\n2026-01-01,JPY,160.5 JPY/EUR,invented"},
    }
    sheet = english(small_with(tmp_path, changes), "abroad")
    # 74500 EUR at 160.5 are 11,957,250 JPY; ISO 4217 gives the yen no minor unit.
    assert record(sheet)["models"][1]["price"] == "11958000"
    (boat,) = (line for line in table(sheet) if line["id"] == "cutter")
    assert (boat["price"], boat["currency"]) == ("11958000", "JPY")


@pytest.mark.parametrize("market", MARKETS)
def test_the_table_tells_of_everything_on_every_model(market: str) -> None:
    sheet = english(demo(), market)
    lines = {(line["model"], line["item"], line["id"]): line for line in table(sheet)}
    told = 0
    for model in sheet.models:
        assert lines[model.id, "boat", model.id]["mass_kg"] == str(model.mass.amount)
        for item in model.standard:
            assert lines[model.id, "standard", item.id]["price"] == ""
        for group in model.groups:
            for option in group.options:
                line = lines[model.id, "option", option.id]
                assert (line["name"], line["group"]) == (option.name, group.name)
                assert (line["kind"], line["lead_time"]) == (option.kind, option.lead_time)
                assert line["needs"].split() == [other.id for other in option.needs]
                assert line["not_with"].split() == [other.id for other in option.conflicts]
                assert line["instead_of"].split() == [other.id for other in option.instead_of]
                assert line["most"] == str(option.most or 1)
                assert line["mass_kg"] == str(option.mass.amount)
                assert bool(line["caution"]) == (option.kind == "opening")
        for package in model.packages:
            holds = lines[model.id, "package", package.id]["holds"]
            assert holds.split() == [other.id for other in package.options]
        for option in model.options:
            for each in option.surcharges:
                line = lines[model.id, "surcharge", each.id]
                assert line["needs"].split() == [option.id, each.colour]
                assert (line["name"], line["mass_kg"]) == (each.words, "")
                told += 1
        told += 1 + len(model.standard) + len(model.options) + len(model.packages)
    assert told == len(lines) == len(table(sheet))
    assert any(line["caution"] for line in lines.values())
    for line in lines.values():
        assert (line["tax"], line["market"]) == ("with" if sheet.taxed else "without", market)
        assert (line["valid_from"], line["valid_until"]) == ("2026-11-01", "2027-02-28")


def test_texts_are_in_the_sheet_s_language_and_columns_in_none() -> None:
    german = next(sheet for sheet in sheets(demo()) if sheet.head.folder == "de/home")
    english_lines, lines = table(english(demo(), "home")), table(german)
    assert list(lines[0]) == list(english_lines[0]) == [column.name for column in COLUMNS]
    assert all(re.fullmatch(r"[a-z]+(_[a-z]+)*", name) for name in lines[0])
    told, meant = ({(ln["item"], ln["name"]) for ln in each} for each in (lines, english_lines))
    assert ("option", "Deckel für Ankerkasten") in told - meant
    prices = [[line[name] for name in ("model", "id", "kind", "price")] for line in lines]
    assert prices == [
        [line[name] for name in ("model", "id", "kind", "price")] for line in english_lines
    ]
    assert record(german)["language"] == "de"


def test_the_table_is_one_of_rfc_4180_in_marked_utf_8(small_pricing: Pricing) -> None:
    content = files(english(small_pricing, "home"))["prices.csv"]
    assert content.startswith(b"\xef\xbb\xbfmodel,")
    assert content.endswith(b"\r\n")  # RFC 4180, section 2, rules 1 and 2
    assert content.count(b"\n") == content.count(b"\r\n") == len(content.splitlines())
    text = StringIO(content.decode("utf-8-sig"), newline="")
    assert {len(fields) for fields in csv.reader(text, strict=True)} == {len(COLUMNS)}  # rule 4


@pytest.mark.parametrize("start", FORMULA_STARTS)
def test_no_text_of_the_table_can_be_a_formula(small_pricing: Pricing, start: str) -> None:
    text = f"{start}HYPERLINK(A1)"
    sheet = english(small_pricing, "home")
    sheet = with_option(sheet, name=text, lead_time=text, price=public(-440))
    option = first_option(sheet)
    (line,) = (row for row in table(sheet) if row["model"] == "skiff" and row["id"] == option.id)
    assert (line["name"], line["lead_time"]) == (f"'{text}", f"'{text}")
    assert line["price"] == "-440.00"  # a credit is a number
    first = [field[:1] for row in table(sheet) for field in row.values() if field != "-440.00"]
    assert not set(first) & set(FORMULA_STARTS)
    (group, *_) = record(sheet)["models"][0]["groups"]
    assert group["options"][0]["name"] == text  # JSON is opened by programs


def test_the_starts_of_formulas_are_those_of_the_published_lists() -> None:
    # OWASP, "CSV Injection" (2025); OWASP ASVS 5.0, 1.2.10, has the null character besides.
    assert {ord(start) for start in FORMULA_STARTS} == {0x3D, 0x2B, 0x2D, 0x40, 9, 13, 10, 0}


def test_hostile_texts_come_back_as_they_were(small_pricing: Pricing) -> None:
    sheet = hostile(english(small_pricing, "home"))
    model = sheet.models[0]
    lines = [line for line in table(sheet) if line["model"] == model.id]
    assert {line["model_name"] for line in lines} == {HOSTILE}
    assert {line["version"] for line in lines} == {HOSTILE}
    (line,) = (line for line in lines if line["id"] == first_option(sheet).id)
    assert [line[name] for name in ("name", "group", "lead_time")] == [HOSTILE] * 3
    found = record(sheet)
    assert found["company"]["name"] == found["models"][0]["text"] == HOSTILE
    assert found["company"]["website"] == ""


def test_what_is_charged_for_delivery_stands_with_every_boat(small_pricing: Pricing) -> None:
    sheet = english(small_pricing, "home")
    assert "delivery" not in record(sheet)
    assert all(line["item"] != "delivery" for line in table(sheet))
    sheet = replace(sheet, delivery=DELIVERY)
    assert record(sheet)["delivery"] == {"text": "DAP Sundby", "price": "1240.00"}
    found = [line for line in table(sheet) if line["item"] == "delivery"]
    assert [(line["model"], line["name"], line["price"]) for line in found] == [
        ("skiff", "DAP Sundby", "1240.00"),
        ("cutter", "DAP Sundby", "1240.00"),
    ]
