"""The schema of prices.json describes every sheet, every key of it, and nothing else."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from quoter.pages.public.views import SheetView
from quoter.pricing.price import Pricing
from tests.demo import demo
from tests.pages.data_sheets import DELIVERY, english, files, sheets, variants


def record(sheet: SheetView) -> Any:
    return json.loads(files(sheet)["prices.json"])


def faults(schema: Any, content: Any) -> list[str]:
    validator = Draft202012Validator(schema, format_checker=FormatChecker())
    return [fault.message for fault in validator.iter_errors(content)]


@pytest.fixture(scope="module")
def schema(small_pricing: Pricing) -> Any:
    found = json.loads(files(english(small_pricing, "home"))["prices.schema.json"])
    Draft202012Validator.check_schema(found)
    assert found["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    return found


@pytest.mark.parametrize("catalogue", ["demo", "small"])
def test_the_schema_describes_every_sheet(
    schema: Any, catalogue: str, small_pricing: Pricing
) -> None:
    pricing = demo() if catalogue == "demo" else small_pricing
    found = [*sheets(pricing), *variants(pricing)]
    assert [faults(schema, record(sheet)) for sheet in found] == [[]] * len(found)


def objects(node: Any) -> Iterator[dict[str, Any]]:
    """Every object within, outer ones first."""
    if isinstance(node, dict):
        yield node
    for inner in node.values() if isinstance(node, dict) else node:
        if isinstance(inner, dict | list):
            yield from objects(inner)


def test_the_schema_says_what_every_key_means_and_allows_no_other(schema: Any) -> None:
    described = [each for each in objects(schema) if each.get("type") == "object"]
    assert len(described) > 10
    for each in described:
        assert each["additionalProperties"] is False
        for key, meaning in each["properties"].items():
            assert meaning["description"].endswith("."), key


def test_keys_stand_in_the_schema_s_order(schema: Any) -> None:
    orders = [list(each["properties"]) for each in objects(schema) if "properties" in each]
    # One sheet with everything that can be left out.
    found = list(objects(record(replace(english(demo(), "home"), delivery=DELIVERY))))
    assert len(found) > 50
    for each in found:
        assert any(list(each) == [key for key in order if key in each] for order in orders), each


def test_whatever_is_added_or_taken_out_is_refused(schema: Any, small_pricing: Pricing) -> None:
    content = record(replace(english(small_pricing, "home"), delivery=DELIVERY))
    optional = {"delivery", "caution", "minimum_length"}
    for each in list(objects(content)):
        each["cost"] = "1.00"
        assert any("'cost' was unexpected" in fault for fault in faults(schema, content)), each
        del each["cost"]
        for key in list(each):
            kept = dict(each)
            del each[key]
            assert bool(faults(schema, content)) is (key not in optional), key
            each.update(kept)
    assert faults(schema, content) == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("price", 27375.0),
        ("price", "27,375.00"),
        ("price", "27375.00 EUR"),
        ("price", "1e5"),
        ("length", "6.2"),
        ("mass", 0),
        ("id", "Tern Skiff"),
        ("name", None),
        ("packages", {}),
    ],
)
def test_a_wrong_value_is_refused(
    schema: Any, small_pricing: Pricing, key: str, value: object
) -> None:
    content = record(english(small_pricing, "home"))
    content["models"][0][key] = value
    assert len(faults(schema, content)) == 1
