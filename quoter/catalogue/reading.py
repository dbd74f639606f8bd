"""Raw blocks become records; whatever does not fit becomes a Problem at its own place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar, get_args, get_origin

from pydantic import ValidationError

from quoter.catalogue.record import Record
from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.catalogue.values import Choice, Reading, Ref
from quoter.problems import Place, closest, nearest, quoted

R = TypeVar("R", bound=Record)


def read(sources: Sources, kind: type[R], raw: Block) -> R | None:
    """The record a block describes, or None with every fault of it recorded."""
    try:
        return kind.model_validate(raw)
    except ValidationError as found:
        faults = found.errors(include_url=False, include_input=False)
    misspelt = set()
    for error in faults:
        if error["type"] == "extra_forbidden":
            *way, key = error["loc"]
            misspelt.add((*way, closest(str(key), _record_at(kind, tuple(way)).model_fields)))
    for error in faults:
        # A key that is there, but misspelt, is told once and not as missing, too.
        if error["type"] != "missing" or error["loc"] not in misspelt:
            _record_fault(sources, kind, raw, error)
    return None


def read_lists(sources: Sources, kind: type[R], raw: Block | None) -> dict[str, list[Any]]:
    """The lists of a YAML file: field name -> the records of it that could be read.

    Faults of one record do not hide the others, so that all are told in one run.
    """
    whole = read(sources, kind, raw) if raw is not None else None
    found: dict[str, list[Any]] = {}
    for field, info in kind.model_fields.items():
        if whole is not None:
            found[field] = list(getattr(whole, field))
            continue
        items = raw.get(field) if raw is not None else None
        record = _inner_record(info.annotation) or Record
        found[field] = list(_salvaged(record, items)) if isinstance(items, Items) else []
    return found


def _salvaged(record: type[Record], items: Items) -> Iterator[Record]:
    for item in items:
        try:
            yield record.model_validate(item)
        except ValidationError:
            continue  # its faults were recorded when the whole file was read


def _record_fault(sources: Sources, kind: type[Record], raw: Block, error: Any) -> None:
    loc = error["loc"]
    place = _place_of(raw, loc)
    key = str(loc[-1]) if loc else ""
    if error["type"] == "extra_forbidden":
        place = next(k for k in _node_at(raw, loc[:-1]) if k == key).place
        known = _record_at(kind, loc[:-1]).model_fields
        what, hint = f"unknown key {quoted(key)}", nearest(key, known)
    elif error["type"] == "missing":
        what, hint = f"missing key '{key}'", _needs(_record_at(kind, loc[:-1]), key)
    elif error["type"] == "catalogue":
        named = next((str(part) for part in reversed(loc) if isinstance(part, str)), "")
        what = f"{named.replace('_', ' ')} {error['ctx']['what']}".strip()
        hint = error["ctx"]["hint"]
    else:
        raise TypeError(f"no words for a fault of type {error['type']} at {loc}: {error['msg']}")
    sources.problems.add(place, what, hint)


def _node_at(raw: Any, loc: tuple[int | str, ...]) -> Any:
    """The deepest raw node along a location."""
    for part in loc:
        try:
            raw = raw[part]
        except (KeyError, IndexError, TypeError):
            break
    return raw


def _place_of(raw: Block, loc: tuple[int | str, ...]) -> Place:
    node = _node_at(raw, loc)
    return node.place if isinstance(node, Text | Block | Items) else raw.place


def _record_at(kind: type[Record], loc: tuple[int | str, ...]) -> type[Record]:
    """The record type at a location inside a record."""
    for part in loc:
        if isinstance(part, str) and part in kind.model_fields:
            inner = _inner_record(kind.model_fields[part].annotation)
            kind = inner or kind
    return kind


def _inner_record(annotation: Any) -> type[Record] | None:
    waiting = [annotation]
    while waiting:
        found = waiting.pop()
        if isinstance(found, type) and issubclass(found, Record):
            return found
        waiting.extend(get_args(found))
    return None


def _needs(kind: type[Record], key: str) -> str:
    """An example of what to write for a missing key."""
    info = kind.model_fields[key]
    for meta in info.metadata:
        if isinstance(meta, Choice):
            return f"add '{key}:' with one of {', '.join(meta.words)}"
        if isinstance(meta, Ref):
            return f"add '{key}:' with the id of a {meta.named}"
        if isinstance(meta, Reading):
            example = next(iter(meta.schema().get("examples", ())), "…")
            return f"add for example '{key}: {example}'"
    return f"add '{key}:' with {'a list' if get_origin(info.annotation) is tuple else 'its keys'}"
