"""JSON Schemas of the catalogue's YAML files and of requests, from the records that read them.

An editor completes and checks a file that begins, for example, with
``# yaml-language-server: $schema=materials.schema.json``.
"""

from __future__ import annotations

import json
from typing import Any

from quoter.catalogue.load import YAML_FILES
from quoter.catalogue.quoting import Request
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.yard import Yard

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> dict[str, str]:
    """File name, such as ``materials.schema.json`` -> the JSON Schema of that file's content."""
    kinds: dict[str, type[CatalogueRecord]] = {"yard.yaml": Yard, "request.yaml": Request}
    kinds |= {name: kind for name, (kind, _) in YAML_FILES.items()}
    return {
        name.replace(".yaml", ".schema.json"): _text(name, kind)
        for name, kind in sorted(kinds.items())
    }


def _text(name: str, kind: type[CatalogueRecord]) -> str:
    schema = _tidy(kind.model_json_schema())
    schema |= {"$schema": DIALECT, "title": f"quoter's {name}"}
    return json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


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
    return (key == "title" and isinstance(value, str)) or (key == "default" and not value)
