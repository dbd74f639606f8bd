"""The reference of files for other programs, each from the schema that it is held to."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from quoter.catalogue.reference import strings_under_fields
from quoter.guide.markdown import cell, table
from quoter.pages.actuals.data_schema import actuals_schema
from quoter.pages.costing_json import costing_schema
from quoter.pages.public.data_schema import schema_file
from quoter.pages.public.data_table import COLUMNS
from quoter.quotes.kept.amounts import Frozen
from quoter.quotes.kept.record import Record

Schema = Mapping[str, Any]
_DEFINED = "#/$defs/"


def data_topic() -> str:
    """Every key of costing.json, of the price data and of a quote's record, as Markdown."""
    parts = [
        "# Files for other programs",
        "Every key of the files that other programs may read: all costs of a build, what "
        "`quoter actuals --json` prints, the prices that dealers' systems take, the record of a "
        "quote. Each states the number of its format; within one, no key changes its meaning.",
        *_of_schema("costing.json", costing_schema()),
        *_of_schema("actuals.json", actuals_schema()),
        *_of_schema("prices.json", json.loads(schema_file())),
        "## prices.csv",
        "A line for everything that can be had with each model. Its columns are described for "
        "machines in `prices.csv-metadata.json`. A text that begins like a formula has an "
        "apostrophe before it. Where commas are decimal, import the file into your spreadsheet "
        "rather than open it, and say that its numbers have points.",
        table(["column", "what it is"], [[f"`{c.name}`", cell(c.words)] for c in COLUMNS]),
        "## offers.jsonld",
        "The same prices in the vocabulary of schema.org, for search engines.",
        *_of_schema("record.json", record_schema()),
    ]
    return "\n\n".join(parts) + "\n"


def record_schema() -> Schema:
    """What the keys of a quote's record mean, each as the string under its field says."""
    schema = Record.model_json_schema(mode="serialization")
    blocks = {each.__name__: each for each in Frozen.__subclasses__()}
    for name, block in {**schema["$defs"], Record.__name__: schema}.items():
        for key, words in strings_under_fields(blocks[name]).items():
            block["properties"][key]["description"] = words
    return schema


def _of_schema(name: str, schema: Schema) -> Iterator[str]:
    """A file's keys, then those of each kind of block within, where it is first met."""
    definitions: Mapping[str, Schema] = schema.get("$defs", {})
    yield f"## {name}"
    yield from _block(schema, definitions)
    seen: list[str] = []
    queue = [("", schema)]
    while queue:
        path, block = queue.pop(0)
        for key, below in _blocks(block, definitions):
            where = f"{path}.{key}".lstrip(".")
            found = json.dumps(below, sort_keys=True)
            if found not in seen:
                seen.append(found)
                yield f"### {name}: {where}"
                yield from _block(below, definitions)
                queue.append((where, below))


def _block(schema: Schema, definitions: Mapping[str, Schema]) -> Iterator[str]:
    if schema.get("description"):
        yield cell(schema["description"])
    keys: Mapping[str, Schema] = schema.get("properties", {})
    if keys:
        rows = [
            [f"`{key}`", cell(below.get("description", "")), _kind(below, definitions)]
            for key, below in keys.items()
        ]
        yield table(["key", "what it is", "holds"], rows)


def _blocks(schema: Schema, definitions: Mapping[str, Schema]) -> Iterator[tuple[str, Schema]]:
    """The objects that keys of an object hold, in lists and by id as well."""
    for key, below in schema.get("properties", {}).items():
        for found in _within(below, definitions):
            yield key, found


def _within(schema: Schema, definitions: Mapping[str, Schema]) -> Iterator[Schema]:
    name = schema.get("$ref", "").removeprefix(_DEFINED)
    if name:
        schema = definitions[name]
    if schema.get("properties"):
        yield schema
    for below in (schema.get("items"), schema.get("additionalProperties")):
        if isinstance(below, Mapping):
            yield from _within(below, definitions)
    for below in (*schema.get("anyOf", ()), *schema.get("oneOf", ()), *schema.get("allOf", ())):
        yield from _within(below, definitions)


def _kind(schema: Schema, definitions: Mapping[str, Schema]) -> str:
    """What a key holds, in a word or two."""
    if "$ref" in schema:
        schema = definitions[schema["$ref"].removeprefix(_DEFINED)]
    for choices in ("anyOf", "oneOf", "allOf"):
        if choices in schema:
            told = dict.fromkeys(_kind(each, definitions) for each in schema[choices])
            return ", or ".join(each for each in told if each != "nothing")
    if "enum" in schema:
        return ", ".join(f"`{each}`" for each in schema["enum"])
    if "const" in schema:
        return f"`{schema['const']}`"
    if schema.get("type") == "array":
        items = schema.get("items")
        return f"a list of {_kind(items, definitions)}" if items else "a list"
    if schema.get("type") == "object":
        below = schema.get("additionalProperties")
        return f"by id, {_kind(below, definitions)}" if isinstance(below, Mapping) else "a block"
    return _NAMED.get(schema.get("format") or schema.get("type", ""), "anything")


_NAMED = {
    "string": "a text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "`true` or `false`",
    "null": "nothing",
    "date": "a day",
    "email": "an address",
    "uri": "a web address",
}
