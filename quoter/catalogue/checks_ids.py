"""Rules about ids: every one that is named exists. Also how to walk all records."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any, TypeVar

from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.values import ReadAs, Ref
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.problems import Place, Problem, nearest, quoted

R = TypeVar("R", bound=ReadAs)


def every_record(records: Records) -> Iterator[CatalogueRecord]:
    """Every record of the catalogue, outer ones first."""
    if records.yard:
        yield from within(records.yard)
    for found in records.by_kind.values():
        for record in found.values():
            yield from within(record)
    for rows in records.price_lists.values():
        yield from rows
    yield from (*records.exchange, *records.wages, *records.volumes, *records.book)
    yield from (*records.editions, *records.rises, *records.indices, *records.accepted)


def within(value: Any) -> Iterator[CatalogueRecord]:
    """The records of a value, the outer ones first: the value itself if it is one."""
    if isinstance(value, CatalogueRecord):
        yield value
        for name in _holding(type(value)):
            yield from within(getattr(value, name))
    elif isinstance(value, tuple):
        for item in value:
            yield from within(item)
    elif isinstance(value, dict):
        for item in value.values():
            yield from within(item)


@cache
def _holding(kind: type[CatalogueRecord]) -> tuple[str, ...]:
    """The fields of a kind of record that hold records; most hold texts and figures."""
    return tuple(n for n, info in kind.model_fields.items() if _names_records(info.annotation))


def _names_records(annotation: Any) -> bool:
    if isinstance(annotation, type) and issubclass(annotation, CatalogueRecord):
        return True
    return any(map(_names_records, getattr(annotation, "__args__", ())))


def figure_place(figure: Figure) -> Place:
    """Where the input behind a catalogue figure stands."""
    origin = input_behind(figure).origin
    if origin is None:
        raise ValueError(f"the input {figure.key} has no place")
    return origin.place


def check_references(records: Records) -> Iterator[Problem]:
    """An id that names nothing would leave a cost out."""
    told_files = set()
    for record in every_record(records):
        for name, reading in _references(type(record)):
            value = getattr(record, name)
            for word in value if isinstance(value, tuple) else (value,):
                if word is None or not records.lacks(reading.kinds, word):
                    continue
                missing = records.unread.missing
                file = next((missing[kind] for kind in reading.kinds if kind in missing), None)
                if file is None:
                    yield unknown(records, reading.kinds, word, reading.named)
                elif file not in told_files:
                    told_files.add(file)
                    named = f"the {reading.named} {quoted(word)}"
                    hint = f"{word.place.clickable} names {named}, which belongs in it"
                    yield Problem(Place(file), "no-file", "the file is missing", hint)


@cache
def _references(kind: type[CatalogueRecord]) -> tuple[tuple[str, Ref], ...]:
    """The fields of a kind of record that name other records."""
    return tuple(readings(kind, Ref))


def readings(kind: type[CatalogueRecord], wanted: type[R]) -> Iterator[tuple[str, R]]:
    """The fields of a kind of record whose texts are read in a certain way, and how."""
    for name, info in kind.model_fields.items():
        reading = _reading(wanted, info.annotation, info.metadata)
        if reading is not None:
            yield name, reading


def _reading(wanted: type[R], annotation: Any, metadata: Iterable[Any]) -> R | None:
    for meta in (*metadata, *getattr(annotation, "__metadata__", ())):
        if isinstance(meta, wanted):
            return meta
    inner = (_reading(wanted, each, ()) for each in getattr(annotation, "__args__", ()))
    return next((found for found in inner if found), None)


def unknown(records: Records, kinds: Iterable[str], word: Text, called: str) -> Problem:
    """That an id names no record of these kinds, and which one is near or what it is instead."""
    hint = nearest(word, records.named(kinds))
    other = next((kind for kind, ids in records.ids.items() if word in ids), None)
    if other is not None:
        named = Ref((other,)).named
        hint = f"{quoted(word)} is {'an' if named[0] in 'aeiou' else 'a'} {named}"
    return Problem(word.place, "unknown-id", f"unknown {called} {quoted(word)}", hint)
