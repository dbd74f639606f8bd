"""JSON Schemas of the catalogue's YAML files and of requests, from the records that read them.

An editor completes and checks a file that begins, for example, with
``# yaml-language-server: $schema=materials.schema.json``. What a key is, its example and its
default are those of the reference.
"""

from __future__ import annotations

import json
from typing import Any

import yaml

from quoter.catalogue.measures import Measure
from quoter.catalogue.record import EXPECTED
from quoter.catalogue.reference import VALUE, FileTold, Key, files_told

MAY_FOLLOW = "A range may follow in brackets, `[low to high]`, and a note in parentheses."
REQUEST_FILE = "request.yaml"  # what a stranger writes is not held against usual ranges
_EXPECTED = {
    "type": "object",
    "additionalProperties": {"type": "string"},
    "description": "Values of this block that are meant though unusual: the key of each, and why.",
    "examples": [{"wet_thickness": "two coats for the bottom"}],
}
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> dict[str, str]:
    """File name, such as ``materials.schema.json`` -> the JSON Schema of that file's content."""
    return {
        name.replace(".yaml", ".schema.json"): _text(file)
        for name, file in sorted(files_told().items())
        if name.endswith(".yaml")
    }


def schema_line(schema: str) -> str:
    """The comment by which editors know the schema of a YAML file.

    >>> schema_line("materials.schema.json")
    '# yaml-language-server: $schema=materials.schema.json'
    """
    return f"# yaml-language-server: $schema={schema}"


def _text(file: FileTold) -> str:
    schema = _tidy(file.records[0].record.model_json_schema())
    for number, told in enumerate(file.records):
        one = schema["$defs"][told.record.__name__] if number else schema
        one["description"] = told.description
        for key in told.keys:
            one["properties"][key.name] |= _told(key, one["properties"][key.name])
        if file.name != REQUEST_FILE:
            one["properties"][EXPECTED] = _EXPECTED
    schema |= {"$schema": DIALECT, "title": f"quoter's {file.name}"}
    return json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _told(key: Key, schema: dict[str, Any]) -> dict[str, Any]:
    """What the reference tells of a key, in the words of a JSON Schema."""
    written = f"Write {key.written}." if key.block is None else ""
    if isinstance(key.reading, Measure):
        written += f" {MAY_FOLLOW}"
    left_out = f"Unless given: {key.unless_given}." if key.unless_given else ""
    words = "\n\n".join(filter(None, (key.description, written, left_out)))
    found: dict[str, Any] = {"description": words}
    if key.example:
        found["examples"] = [_example(key, schema)]
    if key.default:
        found["default"] = key.default
    return found


def _example(key: Key, schema: dict[str, Any]) -> object:
    read = yaml.load(key.example, yaml.BaseLoader)  # quotes of the example are the file's
    return int(read) if key.form == VALUE and schema.get("type") == "integer" else read


def _tidy(node: Any) -> Any:
    """Without the generator's titles and nulls: a key is written with a value, or left out."""
    if isinstance(node, list):
        return [_tidy(item) for item in node if item != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    kept = {key: _tidy(value) for key, value in node.items() if not _noise(key, value)}
    choices = kept.get("anyOf", [])
    if len(choices) == 1:
        del kept["anyOf"]
        kept = choices[0] | kept
    return kept


def _noise(key: str, value: Any) -> bool:
    # What holds without a block is told with its keys.
    empty = not value or isinstance(value, dict)
    return (key == "title" and isinstance(value, str)) or (key == "default" and empty)
