"""Raw blocks become records; whatever does not fit becomes a Problem at its own place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar, get_args, get_origin

from pydantic import ValidationError

from quoter.catalogue.fields import format_of
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.catalogue.values import OneOf, ReadAs, Ref
from quoter.formats import Format
from quoter.problems import CatalogueError, Place, Problem, closest, listed, nearest, quoted

R = TypeVar("R", bound=CatalogueRecord)
Loc = tuple[int | str, ...]
FEW = 2  # keys of one block that are told one by one; more are told together


def read(sources: Sources, kind: type[R], raw: Block) -> R | None:
    """The record a block describes, or None with every fault of it recorded."""
    try:
        return kind.model_validate(raw)
    except ValidationError as found:
        faults = found.errors(include_url=False, include_input=False)
    unknown = _keys_by_place(faults, "extra_forbidden")
    missing = _keys_by_place(faults, "missing")
    for loc in dict.fromkeys([*unknown, *missing]):
        _record_keys(sources, kind, raw, loc, unknown.get(loc, []), missing.get(loc, []))
    for error in faults:
        if error["type"] not in ("extra_forbidden", "missing"):
            _record_fault(sources, raw, error)
    return None


def refuse_newer(sources: Sources, kind: Format, raw: Block | None) -> None:
    """Stop at a file of a newer format: what looks like a fault in it may be none there.

    Raises:
        CatalogueError: it is one, and nothing else is told.
    """
    stated = raw.get("format") if raw is not None else None
    number = format_of(stated)
    if number > kind.newest:
        place = stated.place  # type: ignore[union-attr]  # only a text states a number
        what, _, hint = kind.refusal(number).rpartition(": ")
        raise CatalogueError([Problem(place, "newer-format", what, hint, sources.excerpt(place))])


def _keys_by_place(faults: list[Any], type: str) -> dict[Loc, list[str]]:
    """The keys that faults of a type are about, by where in the record their block is."""
    found: dict[Loc, list[str]] = {}
    for error in faults:
        if error["type"] == type:
            *way, key = error["loc"]
            found.setdefault(tuple(way), []).append(str(key))
    return found


def _record_keys(
    sources: Sources,
    kind: type[CatalogueRecord],
    raw: Block,
    loc: Loc,
    unknown: list[str],
    missing: list[str],
) -> None:
    """Record the keys of one block that should not be there, or should."""
    block, record = _node_at(raw, loc), _record_at(kind, loc)
    known = record.model_fields
    if len(unknown) > FEW:
        # The block is of another kind, or stands in the wrong list.
        place = next(key for key in block if key == unknown[0]).place
        hint = f"those that belong here are {', '.join(known)}"
        sources.problems.add(place, "unknown-key", f"unknown keys {listed(unknown)}", hint)
        return
    for key in unknown:
        place = next(k for k in block if k == key).place
        hint = record.departed.get(key) or nearest(key, known)
        sources.problems.add(place, "unknown-key", f"unknown key {quoted(key)}", hint)
    # A key that is there, but misspelt, is told once and not as missing, too.
    misspelt = {closest(key, known) for key in unknown}
    lacking = [key for key in missing if key not in misspelt]
    if len(lacking) > FEW:
        hint = f"{_needs(record, lacking[0])}, and likewise the others"
        sources.problems.add(block.place, "missing-key", f"missing keys {listed(lacking)}", hint)
        return
    for key in lacking:
        sources.problems.add(
            block.place, "missing-key", f"missing key '{key}'", _needs(record, key)
        )


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
        record = _inner_record(info.annotation) or CatalogueRecord
        found[field] = list(_salvaged(record, items)) if isinstance(items, Items) else []
    return found


def _salvaged(record: type[CatalogueRecord], items: Items) -> Iterator[CatalogueRecord]:
    for item in items:
        try:
            yield record.model_validate(item)
        except ValidationError:
            continue  # its faults were recorded when the whole file was read


def _record_fault(sources: Sources, raw: Block, error: Any) -> None:
    if error["type"] != "catalogue":
        raise TypeError(f"no words for a fault of type {error['type']}: {error['msg']}")
    named = next((str(part) for part in reversed(error["loc"]) if isinstance(part, str)), "")
    told = error["ctx"]
    what = f"{named.replace('_', ' ')} {told['what']}".strip()
    sources.problems.add(_place_of(raw, error["loc"]), told["code"], what, told["hint"])


def _node_at(raw: Any, loc: Loc) -> Any:
    """The deepest raw node along a location."""
    for part in loc:
        try:
            raw = raw[part]
        except (KeyError, IndexError, TypeError):
            break
    return raw


def _place_of(raw: Block, loc: Loc) -> Place:
    node = _node_at(raw, loc)
    return node.place if isinstance(node, Text | Block | Items) else raw.place


def _record_at(kind: type[CatalogueRecord], loc: Loc) -> type[CatalogueRecord]:
    """The record type at a location inside a record."""
    for part in loc:
        if isinstance(part, str) and part in kind.model_fields:
            inner = _inner_record(kind.model_fields[part].annotation)
            kind = inner or kind
    return kind


def _inner_record(annotation: Any) -> type[CatalogueRecord] | None:
    waiting = [annotation]
    while waiting:
        found = waiting.pop()
        if isinstance(found, type) and issubclass(found, CatalogueRecord):
            return found
        waiting.extend(get_args(found))
    return None


def _needs(kind: type[CatalogueRecord], key: str) -> str:
    """An example of what to write for a missing key."""
    info = kind.model_fields[key]
    for meta in info.metadata:
        if isinstance(meta, OneOf):
            return f"add '{key}:' with one of {', '.join(meta.words)}"
        if isinstance(meta, Ref):
            return f"add '{key}:' with the id of a {meta.named}"
        if isinstance(meta, ReadAs):
            example = next(iter(meta.schema().get("examples", ())), "…")
            return f"add for example '{key}: {example}'"
    return f"add '{key}:' with {'a list' if get_origin(info.annotation) is tuple else 'its keys'}"
