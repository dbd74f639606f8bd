"""The reference is whole: every command, formula and key of a file is in it, and what it says fits.

Keys of the catalogue have a module of their own.
"""

from __future__ import annotations

import json
import re
from copy import deepcopy
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from quoter.guide.commands import commands_topic
from quoter.guide.data import data_topic, record_schema
from quoter.guide.formulas import all_chapters, formulas_topic
from quoter.pages.costing_json import costing_json, costing_schema
from quoter.pages.public.data_table import COLUMNS
from quoter.pricing.price import Pricing
from tests.guide.commands import every_command

# What an engineer would look for beside those that are used, and which nothing shows.
BY_HAND = {
    "resin_atomised",
    "resin_atomised_bagged",
    "resin_atomised_bagged_rolled",
    "resin_non_atomised_bagged",
    "resin_non_atomised_bagged_rolled",
    "emission_limit",
}


def test_every_formula_is_told_whole_and_is_used_by_something() -> None:
    told = iter(formulas_topic().split("\n### ")[1:])  # in order: modules may share a name
    for chapter in all_chapters():
        for method in chapter.methods:
            text = next(told)
            assert text.partition("\n")[0] == method.name
            assert f"```text\n{method.equation}\n```" in text
            assert f"Holds for: {method.limits}" in text
            assert f"Source: {method.source}" in text
            assert "\n| gives | " in text
            assert re.search(r"\nUsed by: .+ \(`quoter/\w+/", text) or method.name in BY_HAND
    assert list(told) == []


def test_every_command_and_option_is_told_with_examples() -> None:
    text = commands_topic(every_command())
    for name, command in every_command().items():
        part = text.split(f"\n## {name}\n")[1].split("\n## ")[0]
        assert f"$ quoter {name}" in part
        for option in command.params:
            for words in option.opts:
                if words.startswith("--"):
                    assert f"`{words}" in part


def test_costing_json_is_as_its_schema_says(demo_pricing: Pricing) -> None:
    whole = Draft202012Validator(costing_schema())
    made: Any = json.loads(costing_json(demo_pricing, "a mark"))
    whole.validate(made)
    assert not whole.is_valid(made | {"another": 1})
    lacking = deepcopy(made)
    del lacking["models"]["open_68"]["boat"]["sales"]["direct"]["margin"]
    assert not whole.is_valid(lacking)


def keys_within(schema: Any) -> set[str]:
    """Every key that an object of a schema may have, however deep."""
    if isinstance(schema, list):
        return set().union(*map(keys_within, schema))
    if not isinstance(schema, dict):
        return set()
    here = {*schema["properties"]} if isinstance(schema.get("properties"), dict) else set()
    return here.union(*map(keys_within, schema.values()))


@pytest.mark.parametrize("schema", [costing_schema(), record_schema()])
def test_every_key_of_a_file_for_other_programs_is_told(schema: dict[str, Any]) -> None:
    text = data_topic()
    wanted = keys_within(schema)
    assert len(wanted) > 20
    for key in wanted:
        assert f"| `{key}` | " in text, key
    assert "" not in descriptions_within(schema)


def descriptions_within(schema: Any) -> list[str]:
    """What is said of each key of a schema."""
    if isinstance(schema, list):
        return [words for each in schema for words in descriptions_within(each)]
    if not isinstance(schema, dict):
        return []
    found = [each.get("description", "") for each in schema.get("properties", {}).values()]
    return found + [words for each in schema.values() for words in descriptions_within(each)]


def test_every_column_of_the_price_table_is_told() -> None:
    for column in COLUMNS:
        assert f"| `{column.name}` | {column.words}" in data_topic()
