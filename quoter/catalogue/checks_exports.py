"""Rules of how the yard's own exports are read: every row must become one of its table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from quoter.catalogue.booked import TABLES
from quoter.catalogue.checks_ids import unknown
from quoter.catalogue.checks_prices import ONE_MEANING, named_twice
from quoter.catalogue.exports import HELPING, Export, columns_of_table
from quoter.catalogue.fields import is_identifier
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.source import Text
from quoter.catalogue.values import OneOf
from quoter.problems import Place, Problem, listed, nearest, quoted
from quoter.units import UnitError, to_base, unit

# Columns that hold ids -> the kinds of record that they are of.
IDS = {
    "station": ("station",),
    "material": MATERIAL_KINDS,
    "supplier": ("supplier",),
    "model": ("model",),
    "options": ("option", "package"),
}
# Of these one says where hours were worked.
WHERE = ("operation", "station")


def words_for(table: str, column: str) -> tuple[str, ...]:
    """The words that a column may hold, where it is one of a few; else none."""
    if column == "rework":
        return ("yes", "no")
    info = TABLES[table].model_fields.get(column)
    readings = info.metadata if info is not None else ()
    return next((meta.words for meta in readings if isinstance(meta, OneOf)), ())


def named_in(record: CatalogueRecord | None) -> dict[str, Any]:
    """The keys of a block that are given, with what they hold."""
    if record is None:
        return {}
    found = ((name, getattr(record, name)) for name in type(record).model_fields)
    return {name: value for name, value in found if value not in (None, {})}


def check_exports(records: Records) -> Iterator[Problem]:
    """An export fills its table, and what it says of columns is of columns of that table."""
    exports = records.yard.exports if records.yard is not None else ()
    yield from named_twice((each.id for each in exports), "export", "give one another id")
    for export in exports:
        yield from _columns(export)
        yield from _lacking(export)
        yield from _codes(records, export)
        yield from _always(records, export)
        yield from _bare(export)


def _columns(export: Export) -> Iterator[Problem]:
    """Headings, codes and the like are of columns of the table, and each heading is one column."""
    headings = named_in(export.headings)
    yield from named_twice(headings.values(), "heading", ONE_MEANING)
    own = columns_of_table(str(export.of))
    known = (*own, *(name for name, serves in HELPING.items() if {*serves} & {*own}))
    blocks = (("headings", export.headings), ("codes", export.codes))
    for called, block in (*blocks, ("always", export.always), ("bare", export.bare)):
        strange = [name for name in named_in(block) if name not in known]
        if strange and block is not None:
            what = f"'{export.of}' has no column {listed(strange)}"
            hint = f"'{called}' of it may name {', '.join(_of_block(block, known))}"
            yield Problem(block.place, "unknown-key", what, hint)
    for name in sorted({*named_in(export.always)} & {*headings}):
        what = f"'{name}' has a heading, and 'always' says it too"
        place = export.always.place if export.always is not None else export.place
        yield Problem(place, "choose-one", what, "keep one of the two")


def _of_block(block: CatalogueRecord, known: tuple[str, ...]) -> list[str]:
    return [name for name in type(block).model_fields if name in known]


def _lacking(export: Export) -> Iterator[Problem]:
    """Columns that the table needs come from somewhere."""
    table = str(export.of)
    given = {*named_in(export.headings), *named_in(export.always)}
    if "code" in given:
        given |= {*HELPING["code"]}
    spared = {"reference", "kind"} if table == "issues" else {"reference"}
    fields = TABLES[table].model_fields
    needed = [name for name, info in fields.items() if info.is_required() and name not in spared]
    lacking = [name for name in needed if name not in given]
    if lacking:
        what = f"nothing says what the {listed(lacking)} of '{table}' {_are(lacking)}"
        hint = f"add for example '{lacking[0]}: {lacking[0].capitalize()}' to the headings"
        yield Problem(export.headings.place, "headings", what, hint)
    if table == "hours" and not given.intersection(WHERE):
        what = "nothing says at which station hours were worked"
        hint = f"add a heading of code, {' or '.join(WHERE)}, or 'always: {{station: …}}'"
        yield Problem(export.headings.place, "headings", what, hint)


def _are(names: list[str]) -> str:
    return "is" if len(names) == 1 else "are"


def _codes(records: Records, export: Export) -> Iterator[Problem]:
    """A word of theirs means one thing, which exists."""
    for column, words in named_in(export.codes).items():
        yield from named_twice(words, "word", "a word means one thing: keep one of them")
        for meant in words.values():
            yield from _unknown(records, export, column, meant)


def _always(records: Records, export: Export) -> Iterator[Problem]:
    for column, meant in named_in(export.always).items():
        if isinstance(meant, Text):
            yield from _unknown(records, export, column, meant)


def _unknown(records: Records, export: Export, column: str, meant: Text) -> Iterator[Problem]:
    """That a word of the yard's own is none."""
    if few := words_for(str(export.of), column):
        if meant not in few:
            what = f"{quoted(meant)} is no word that fits here"
            yield Problem(meant.place, "unknown-word", what, nearest(meant, few))
    elif column == "group":
        groups = {str(row.group) for row in records.wages}
        if groups and meant not in groups and not records.unread.touches("WageRow"):
            what = f"unknown wage group {quoted(meant)}"
            yield Problem(meant.place, "unknown-id", what, nearest(meant, groups))
    elif column in IDS and records.lacks(IDS[column], meant):
        yield unknown(records, IDS[column], meant, called(column))
    elif column in IDS and not is_identifier(meant):
        what = f"{quoted(meant)} can't serve as an id"
        yield Problem(meant.place, "bad-id", what, "write the id of the catalogue's record")


def called(column: str) -> str:
    """What people call a thing of a column."""
    return {"options": "option", "group": "wage group"}.get(column, column)


def _bare(export: Export) -> Iterator[Problem]:
    given: Mapping[str, Any] = named_in(export.bare)
    if "hours" not in given:
        return
    place: Place = given["hours"].place
    try:
        base, _ = to_base(unit(str(given["hours"])))
    except UnitError as bad:
        yield Problem(place, bad.code, bad.what, bad.hint)
        return
    if base != unit("h"):
        what = f"{quoted(given['hours'])} is no unit of time"
        yield Problem(place, "wrong-unit", what, "write for example 'h' or 'min'")
