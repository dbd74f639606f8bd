"""Read a catalogue folder: every file once, every problem in one run, a checked result."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path, PurePosixPath
from typing import Any

from quoter.catalogue import factory, fields, materials, options, parts, tables
from quoter.catalogue.accepted import files_before, recipe_changes
from quoter.catalogue.adding import pending
from quoter.catalogue.booked_files import as_far_as_read, read_booked
from quoter.catalogue.checks import CHECKS, every_record
from quoter.catalogue.checks_booked import check_come
from quoter.catalogue.day import asked_day
from quoter.catalogue.examples import speak
from quoter.catalogue.files import check_files
from quoter.catalogue.pictures import picture_problems, read_picture
from quoter.catalogue.prices import Catalogue, resolve
from quoter.catalogue.reading import read, read_lists, refuse_newer
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records, Unread
from quoter.catalogue.rises import warn_overdue_rises
from quoter.catalogue.settings import (
    COMMAND_LINE,
    apply_settings,
    asked_units,
    lines_of,
    read_settings,
)
from quoter.catalogue.source import Block, Items, Sources, Text, line_at
from quoter.catalogue.translations import read_translations
from quoter.catalogue.yard import Yard
from quoter.formats import CATALOGUE
from quoter.problems import Place, Problem, Problems, quoted

# file -> (its record, {list in the file: kind of record})
YAML_FILES: dict[str, tuple[type[CatalogueRecord], dict[str, str]]] = {
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
        dict(zip(parts.PART_KINDS, parts.PART_KINDS, strict=True)),
    ),
    "options.yaml": (options.Options, {"options": "option", "packages": "package"}),
    "models.yaml": (options.Models, {"models": "model"}),
}
CSV_FILES: dict[str, tuple[type[CatalogueRecord], tuple[str, ...]]] = {
    "wages.csv": (tables.WageRow, ("group", "date")),
    "exchange.csv": (tables.ExchangeRow, ("currency", "date")),
    "volumes.csv": (tables.VolumeRow, ("model", "option")),
    "price_book.csv": (tables.BookRow, ("market", "model", "option", "date")),
    "editions.csv": (tables.EditionRow, ("valid_from",)),
    "indices.csv": (tables.IndexRow, ("index", "date")),
    "rises.csv": (tables.RiseRow, ("supplier", "family", "effective", "date")),
    "accepted.csv": (tables.AcceptedRow, ("key", "date")),
}
# Columns that a file may leave out; they count as empty.
SPARED = {"price_book.csv": ("market",), "accepted.csv": ("by",)}
PRICE_KEYS = ("material", "supplier")
NEEDED = (
    *("yard.yaml", "stations.yaml", "suppliers.yaml", "materials.yaml", "options.yaml"),
    *("models.yaml", "wages.csv"),
)

# Kinds whose ids must differ from each other, since they are looked up together.
NAMESPACES = (
    ("glass", "resin", "gelcoat", "catalyst", "foam_component", "foam", "bought"),
    parts.PART_KINDS,
    ("option", "package"),
)


def load_catalogue(
    folder: Path,
    as_of: date | None = None,
    settings: Sequence[str] = (),
    instead: Mapping[str, bytes] | None = None,
    *,
    booked: bool = False,
) -> tuple[Catalogue, list[Problem]]:
    """The checked catalogue as of a date (by default its own) and warnings.

    Args:
        folder: the catalogue's
        as_of: the day asked about
        settings: what is to be otherwise, each as KEY=VALUE (see `settings`)
        instead: files by name that take the place of the folder's own
        booked: whether what was booked is read, too, so that its problems are told with the others
    Raises:
        CatalogueError: with every problem of every file, each at its place.
    """
    problems = Problems()
    given = read_settings(settings, problems)
    units = asked_units(given, problems)
    records, sources = read_as_of(folder, as_of, problems, given, instead)
    sources.lines[COMMAND_LINE] = lines_of(settings)
    rows = read_booked(folder, records, problems, instead) if booked else None
    catalogue = resolve(records, as_of, problems)
    if catalogue is not None:
        warn_overdue_rises(catalogue, problems)
        if rows is not None and as_of is None:
            problems.extend(check_come(rows, catalogue.as_of))
    catalogue = apply_settings(given, sources, records, catalogue, as_of, problems)
    problems.gather()
    problems.quote(sources.excerpt)
    problems.stop_if_any()
    if catalogue is None:
        raise RuntimeError("the catalogue can't be resolved, but no problem was found")
    # Only the lines are kept of what was read, not the texts that the records were made of.
    excerpt = partial(line_at, sources.lines)
    catalogue = replace(
        catalogue,
        excerpt=excerpt,
        picture=partial(read_picture, folder),
        rows=partial(as_far_as_read, folder, records),
        units=units,
        booked=rows,
    )
    return catalogue, problems.warnings


def read_as_of(
    folder: Path,
    as_of: date | None,
    problems: Problems,
    given: Mapping[str, Text] | None = None,
    instead: Mapping[str, bytes] | None = None,
) -> tuple[Records, Sources]:
    """The same as `read_records`, but each accepted value as it was on a day.

    Where a value was another on that day, the catalogue is read again with it.

    Raises:
        CatalogueError: as `read_records`.
    """
    found = Problems()
    records, sources = read_records(folder, found, given, instead)
    before = files_before(sources, records.accepted, asked_day(records, as_of))
    if before:
        found = Problems()
        records, sources = read_records(folder, found, given, {**(instead or {}), **before})
    problems.extend([*found.errors, *found.warnings])
    sources.problems = problems
    return records, sources


def read_records(
    folder: Path,
    problems: Problems,
    given: Mapping[str, Text] | None = None,
    instead: Mapping[str, bytes] | None = None,
) -> tuple[Records, Sources]:
    """A catalogue's records, checked among each other but for no date yet, and their texts.

    What is wrong is recorded. Values `given` by key take the place of the YAML files' own, and
    whole files by name that stand `instead` of the folder's own.

    Raises:
        CatalogueError: the folder does not exist, or the catalogue is of a newer format.
    """
    unfinished, _ = pending(folder)
    found = {**unfinished, **(instead or {})}
    sources = Sources(folder, problems, given=given or {}, instead=found)
    check_files(sources, (*YAML_FILES, "yard.yaml", *CSV_FILES), NEEDED)
    if not folder.is_dir():
        problems.stop_if_any()
    records = _read_all(sources)
    for check in CHECKS:
        problems.extend(check(records))
    problems.extend(recipe_changes(records, sources))
    problems.extend(picture_problems(folder, every_record(records)))
    return records, sources


def _read_all(sources: Sources) -> Records:
    unread = Unread()
    raw_yard = sources.yaml("yard.yaml")
    speak(raw_yard.get("units") if raw_yard is not None else None)
    refuse_newer(sources, CATALOGUE, raw_yard)
    yard = read(sources, Yard, raw_yard) if raw_yard is not None else None
    by_kind: dict[str, dict[str, Any]] = {}
    ids: dict[str, dict[str, Text]] = {"hull colour": {"hull": Text("hull")}}
    for name, (kind, lists) in YAML_FILES.items():
        raw = sources.yaml(name)
        for field, found in read_lists(sources, kind, raw).items():
            by_kind[lists[field]] = {str(record.id): record for record in found}
            ids[lists[field]] = dict(_raw_ids(raw, field))
            _note_unread(sources, unread, name, field, lists[field])
    _check_ids_unique(sources)
    price_lists = {
        day: list(_rows(sources, name, tables.PriceRow, PRICE_KEYS, unread))
        for name, day in _price_lists(sources, unread)
    }
    rows = {name: list(_rows(sources, name, *CSV_FILES[name], unread)) for name in CSV_FILES}
    records = Records(
        yard=yard,
        home=_home(raw_yard),
        by_kind=by_kind,
        ids=ids,
        price_lists=price_lists,
        exchange=rows["exchange.csv"],
        wages=rows["wages.csv"],
        volumes=rows["volumes.csv"],
        book=rows["price_book.csv"],
        editions=rows["editions.csv"],
        indices=rows["indices.csv"],
        rises=rows["rises.csv"],
        accepted=rows["accepted.csv"],
        unread=unread,
    )
    read_translations(sources, records)
    return records


def _home(raw_yard: Block | None) -> str | None:
    """The home currency, even of a yard that can't be read as a whole."""
    company = raw_yard.get("company") if raw_yard is not None else None
    written = company.get("currency") if isinstance(company, Block) else None
    return str(written) if isinstance(written, Text) and fields.is_currency(written) else None


def _note_unread(sources: Sources, unread: Unread, name: str, field: str, kind: str) -> None:
    """Remember a kind of record that may have more ids than are known."""
    raw = sources.blocks.get(name)
    if raw is None:
        if name in sources.doubtful:
            unread.kinds.add(kind)
        elif not sources.has(name):
            unread.missing[kind] = name
        return
    items = raw.get(field, Items())
    misspelt = any(key not in YAML_FILES[name][1] for key in raw) and field not in raw
    unnamed = not isinstance(items, Items) or any(
        not isinstance(item, Block) or not item.whole or not fields.is_identifier(item.get("id"))
        for item in items
    )
    if name in sources.doubtful or misspelt or unnamed:
        unread.kinds.add(kind)


def _raw_ids(raw: Block | None, field: str) -> Iterator[tuple[str, Text]]:
    items = raw.get(field) if raw is not None else None
    for item in items if isinstance(items, Items) else ():
        id = item.get("id") if isinstance(item, Block) else None
        if isinstance(id, Text):
            yield str(id), id


def _check_ids_unique(sources: Sources) -> None:
    kinds = {k: (name, f) for name, (_, lists) in YAML_FILES.items() for f, k in lists.items()}
    together = {kind for space in NAMESPACES for kind in space}
    for space in (*NAMESPACES, *((kind,) for kind in kinds if kind not in together)):
        first: dict[str, Text] = {}
        for kind in space:
            name, field = kinds[kind]
            for id, text in _raw_ids(sources.blocks.get(name), field):
                if id in first:
                    hint = f"the first is at {first[id].place.clickable}; every id must differ"
                    sources.problems.add(
                        text.place, "id-twice", f"id {quoted(id)} is used twice", hint
                    )
                first.setdefault(id, text)


def _rows(
    sources: Sources, name: str, kind: type[CatalogueRecord], keys: tuple[str, ...], unread: Unread
) -> Iterator[Any]:
    """The rows that could be read; what the others are about is remembered as unread."""
    table = kind.__name__
    seen: dict[tuple[str, ...], Block] = {}
    for raw in sources.csv(name, tuple(kind.model_fields), keys, SPARED.get(name, ())):
        told = tuple(str(raw.get(key, "")) for key in keys)
        if told in seen and any(told):
            what = f"a second line for {' and '.join(quoted(word) for word in told if word)}"
            hint = f"keep this line or line {seen[told].place.line}"
            sources.problems.add(raw.place, "written-twice", what, hint)
        seen.setdefault(told, raw)
        record = read(sources, kind, raw) if raw.whole else None
        if record is not None:
            yield record
        else:
            unread.rows.setdefault(table, set()).add(told[0])
    if name in sources.doubtful:
        unread.tables.add(table)


def _price_lists(sources: Sources, unread: Unread) -> Iterator[tuple[str, date]]:
    """The dated price lists, oldest first."""
    found = sources.names("prices", ".csv")
    if not found and "prices" not in sources.doubtful:
        hint = "write for example prices/2026-11-01.csv with material,supplier,price,note"
        sources.problems.add(Place("prices"), "not-in-force", "there is no price list", hint)
    for name in found:
        day = fields.day_of(PurePosixPath(name).stem)
        if day is not None:
            yield name, day
            continue
        unread.tables.add(tables.PriceRow.__name__)
        hint = "name it by the day it takes effect, for example 2026-11-01.csv"
        wrong = fields.day_fault(PurePosixPath(name).stem).removeprefix("is ")
        what = f"the file is named by {wrong}"
        if wrong.startswith("not"):
            what = "the file is not named by a date"
        sources.problems.add(Place(name), "file-name", what, hint)
