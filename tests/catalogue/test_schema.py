"""The schemas accept catalogues and requests that load, and refuse what loading refuses."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from quoter.catalogue.load import YAML_FILES
from quoter.catalogue.measures import _UNIT_PATTERN
from quoter.catalogue.schema import schemas
from quoter.resources import demo_catalogue_folder
from tests.catalogue.broken import SOUND

SCHEMAS = {name: json.loads(text) for name, text in schemas().items()}
FILES = ["yard.yaml", *YAML_FILES]
REQUESTS = sorted((demo_catalogue_folder() / "requests").glob("*.yaml"))


def schema_of(file: str) -> Any:
    return SCHEMAS[file.replace(".yaml", ".schema.json")]


def read(path: Path) -> Any:
    """The file as another YAML reader has it; JSON has no dates, so they are texts again."""
    return json.loads(json.dumps(yaml.safe_load(path.read_text(encoding="utf-8")), default=str))


def faults(file: str, content: Any) -> list[str]:
    return [fault.message for fault in Draft202012Validator(schema_of(file)).iter_errors(content)]


def test_there_is_a_schema_for_every_yaml_file_and_for_requests() -> None:
    names = [*FILES, "request.yaml"]
    assert sorted(SCHEMAS) == sorted(name.replace(".yaml", ".schema.json") for name in names)


@pytest.mark.parametrize("request_file", REQUESTS, ids=lambda path: path.stem)
def test_the_schema_of_a_request_accepts_the_demonstration_s(request_file: Path) -> None:
    content = read(request_file)
    assert faults("request.yaml", content) == []
    del content["customer"]["name"]
    content |= {"shown_total": "57,123.40 EUR", "favourite_radio": "none"}
    assert sorted(faults("request.yaml", content)) == [
        f"'57,123.40 EUR' does not match {_UNIT_PATTERN!r}",
        "'name' is a required property",
        "Additional properties are not allowed ('favourite_radio' was unexpected)",
    ]


@pytest.mark.parametrize("file", [*FILES, "request.yaml"])
def test_a_schema_is_itself_valid_and_names_its_dialect(file: str) -> None:
    Draft202012Validator.check_schema(schema_of(file))
    assert schema_of(file)["$schema"] == Draft202012Validator.META_SCHEMA["$id"]


@pytest.mark.parametrize("file", FILES)
@pytest.mark.parametrize("folder", [SOUND, demo_catalogue_folder()], ids=["sound", "demo"])
def test_a_schema_accepts_the_catalogues_that_load(folder: Path, file: str) -> None:
    assert faults(file, read(folder / file)) == []


@pytest.mark.parametrize("file", FILES)
def test_an_unknown_key_is_refused_at_every_level(file: str) -> None:
    content = read(SOUND / file)
    refused = 0
    for block in blocks(content):
        block["favourite_radio"] = "none"
        refused += any("favourite_radio" in fault for fault in faults(file, content))
        del block["favourite_radio"]
    assert refused == sum(1 for _ in blocks(content)) - by_id(file, content)


def blocks(content: Any) -> Any:
    """Every mapping within, outer ones first."""
    if isinstance(content, dict):
        yield content
    for inner in content.values() if isinstance(content, dict) else content:
        if isinstance(inner, dict | list):
            yield from blocks(inner)


def by_id(file: str, content: Any) -> int:
    """How many mappings have ids of the yard's own for keys, of which any may come."""
    if file == "options.yaml":
        return sum("per_model" in block for block in blocks(content))
    if file == "models.yaml":
        return sum(name in model["base"] for model in content["models"] for name in OWN_IDS)
    return 0


OWN_IDS = ("materials", "material", "hours")


@pytest.mark.parametrize(
    ("file", "change", "message"),
    [
        ("moulds.yaml", ("cost", 5), "5 is not of type 'string'"),
        ("moulds.yaml", ("cost", "5"), "'5' does not match '^ *[+-]?("),
        ("moulds.yaml", ("cost", "5,10 EUR"), "'5,10 EUR' does not match '^ *[+-]?("),
        ("moulds.yaml", ("life", "many"), "'many' does not match '^ *[+-]?("),
        ("moulds.yaml", ("id", "A mould"), "'A mould' does not match '^[a-z]"),
        ("moulds.yaml", ("note", None), "None is not of type 'string', 'number', 'boolean'"),
    ],
)
def test_a_value_that_means_nothing_is_refused(
    file: str, change: tuple[str, object], message: str
) -> None:
    content = read(SOUND / file)
    key, value = change
    content["moulds"][0][key] = value
    (found,) = faults(file, content)
    assert found.startswith(message)


def test_a_missing_key_and_a_word_of_no_choice_are_refused() -> None:
    content = read(SOUND / "materials.yaml")
    content["glass"][0]["form"] = "matt"
    del content["resins"][0]["catalyst"]
    assert sorted(faults("materials.yaml", content)) == [
        "'catalyst' is a required property",
        "'matt' is not one of ['mat', 'woven', 'stitched', 'veil', 'flow core', 'gun roving']",
    ]


def test_the_text_is_the_same_every_time_sorted_and_indented() -> None:
    text = schemas()["moulds.schema.json"]
    assert text == schemas()["moulds.schema.json"]
    assert text == json.dumps(json.loads(text), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
