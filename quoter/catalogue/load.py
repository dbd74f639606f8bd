"""Read a catalogue folder: every file once, every problem in one run, a checked result."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from quoter.catalogue import factory, materials, options, parts, tables
from quoter.catalogue.checks import CHECKS
from quoter.catalogue.prices import Catalogue, resolve
from quoter.catalogue.reading import R, read, read_lists
from quoter.catalogue.record import Record
from quoter.catalogue.records import Records
from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.problems import Place, Problem, Problems

# file -> (its record, {list in the file: kind of record})
YAML_FILES: dict[str, tuple[type[Record], dict[str, str]]] = {
    "stations.yaml": (factory.Stations, {"stations": "station"}),
    "suppliers.yaml": (factory.Suppliers, {"suppliers": "supplier"}),
    "materials.yaml": (
        materials.Materials,
        {
            "glass": "glass",
            "resins": "resin",
            "gelcoats": "gelcoat",
            "catalysts": "catalyst",
            "foam_components": "foam_component",
            "foams": "foam",
            "bought": "bought",
        },
    ),
    "moulds.yaml": (factory.Moulds, {"moulds": "mould"}),
    "laminates.yaml": (factory.Laminates, {"laminates": "laminate"}),
    "parts.yaml": (
        parts.Parts,
        {"open_mould": "open_mould", "closed_mould": "closed_mould", "core": "core"},
    ),
    "options.yaml": (options.Options, {"options": "option"}),
    "models.yaml": (options.Models, {"models": "model"}),
}
NEEDED = ("yard.yaml", "stations.yaml", "materials.yaml", "options.yaml", "models.yaml")


# Kinds whose ids must differ from each other, since they are looked up together.
NAMESPACES = (
    ("glass", "resin", "gelcoat", "catalyst", "foam_component", "foam", "bought"),
    ("open_mould", "closed_mould", "core"),
)


def load_catalogue(folder: Path, as_of: date | None = None) -> tuple[Catalogue, list[Problem]]:
    """The checked catalogue as of a date (by default that of its newest price list) and warnings.

    Raises:
        CatalogueError: with every problem of every file, each at its place.
    """
    problems = Problems()
    sources = Sources(folder, problems)
    records = _read_all(sources)
    for check in CHECKS:
        problems.extend(check(records))
    catalogue = resolve(records, as_of, problems)
    problems.quote(sources.excerpt)
    problems.stop_if_any()
    if catalogue is None:
        raise RuntimeError("the catalogue can't be resolved, but no problem was found")
    return catalogue, problems.warnings


def _read_all(sources: Sources) -> Records:
    problems = sources.problems
    for name in NEEDED:
        if not (sources.folder / name).is_file():
            problems.add(Place(name), "is missing", "a catalogue needs this file")
    raw_yard = sources.yaml("yard.yaml")
    yard = read(sources, factory.Yard, raw_yard) if raw_yard is not None else None
    by_kind: dict[str, dict[str, Any]] = {}
    ids: dict[str, dict[str, Text]] = {"hull colour": {"hull": Text("hull")}}
    for name, (kind, lists) in YAML_FILES.items():
        raw = sources.yaml(name)
        for field, found in read_lists(sources, kind, raw).items():
            by_kind[lists[field]] = {str(record.id): record for record in found}
            ids[lists[field]] = dict(_raw_ids(raw, field))
    _check_ids_unique(sources, problems)
    price_lists = {
        day: list(_rows(sources, name, tables.PriceRow, ("material", "supplier")))
        for name, day in _price_lists(sources)
    }
    return Records(
        yard=yard,
        by_kind=by_kind,
        ids=ids,
        price_lists=price_lists,
        exchange=list(_rows(sources, "exchange.csv", tables.ExchangeRow, ("currency", "date"))),
        wages=list(_rows(sources, "wages.csv", tables.WageRow, ("group", "date"))),
        volumes=list(_rows(sources, "volumes.csv", tables.VolumeRow, ("model", "option"))),
        book=list(_rows(sources, "price_book.csv", tables.BookRow, ("model", "option", "date"))),
    )


def _raw_ids(raw: Block | None, field: str) -> Iterator[tuple[str, Text]]:
    items = raw.get(field) if raw is not None else None
    for item in items if isinstance(items, Items) else ():
        id = item.get("id") if isinstance(item, Block) else None
        if isinstance(id, Text):
            yield str(id), id


def _check_ids_unique(sources: Sources, problems: Problems) -> None:
    kinds = {k: (name, f) for name, (_, lists) in YAML_FILES.items() for f, k in lists.items()}
    together = {kind for space in NAMESPACES for kind in space}
    for space in (*NAMESPACES, *((kind,) for kind in kinds if kind not in together)):
        first: dict[str, Text] = {}
        for kind in space:
            name, field = kinds[kind]
            for id, text in _raw_ids(sources.blocks.get(name), field):
                if id in first:
                    hint = f"the first is at {first[id].place.clickable}; every id must differ"
                    problems.add(text.place, f"id '{id}' is used twice", hint)
                first.setdefault(id, text)


def _rows(sources: Sources, name: str, kind: type[R], keys: tuple[str, ...]) -> Iterator[R]:
    seen: dict[tuple[str, ...], Block] = {}
    for raw in sources.csv(name, tuple(kind.model_fields), keys):
        told = tuple(str(raw.get(key, "")) for key in keys)
        if told in seen:
            what = f"{', '.join(word for word in told if word)} is listed twice"
            sources.problems.add(raw.place, what, f"keep this line or line {seen[told].place.line}")
        seen.setdefault(told, raw)
        record = read(sources, kind, raw)
        if record is not None:
            yield record


def _price_lists(sources: Sources) -> Iterator[tuple[str, date]]:
    """The dated price lists, oldest first."""
    found = sorted((sources.folder / "prices").glob("*.csv"))
    if not found:
        hint = "write for example prices/2026-11-01.csv with material,supplier,price,note"
        sources.problems.add(Place("prices"), "holds no price list", hint)
    for path in found:
        name = f"prices/{path.name}"
        try:
            yield name, date.fromisoformat(path.stem)
        except ValueError:
            hint = "name it by the day it takes effect, for example 2026-11-01.csv"
            sources.problems.add(Place(name), "is not named by a date", hint)
