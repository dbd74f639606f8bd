"""The reference of keys as Markdown: a topic for each file of a catalogue, one for all its tables.

Nothing of it is typed here but the frame: what a key is stands with its record, and is read from
there when somebody asks.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from quoter.catalogue.fields import FIRST_DAY, LAST_DAY
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.reference import (
    FIRST_VERSION,
    LIST,
    VALUE,
    FileTold,
    Key,
    RecordTold,
    files_told,
    keys_of,
    words_of,
)
from quoter.guide.markdown import anchor, cell

TABLES = "keys-tables"
_SEE = re.compile(r"see `(\w+)`")
_HEAD = "| key | what it is | written as | given | example |\n|---|---|---|---|---|"
_COLUMNS = _HEAD.replace("key", "column", 1)
_FRAME = (
    "A quantity carries its unit, and without it is an error; a count is bare. A range may follow, "
    "such as `[3.80 to 4.60]` or `[3.80 to 4.60 triangular]`, and a note in parentheses, which "
    "stays internal. "
    "An id has small letters, digits and `_`. Money is in home currency unless a key says "
    f"otherwise; a day is of the years {FIRST_DAY.year} to {LAST_DAY.year}."
)
_YAML_FRAME = (
    f"{_FRAME} A list is written `[one, two]`, or with a line `- one` for each. "
    "Any block may have `expected`, with the values of it that are meant though "
    "[unusual](usual-ranges.md), and why."
)
_TABLE_FRAME = (
    "CSV files, with the names of the columns on the first line. What has a day stays as it is: "
    "what moves gets a new line with its day, so that any earlier month can be built again."
)
_SINCE = f"All of it is there since {FIRST_VERSION}, unless a line says otherwise."


def keys_topics() -> dict[str, str]:
    """Topic, such as ``keys-materials`` -> its Markdown; the tables share one."""
    files = files_told()
    topics = {_topic(name): _page(file) for name, file in files.items() if _topic(name) != TABLES}
    tables = [file for name, file in files.items() if _topic(name) == TABLES]
    found = "\n\n".join(_section(file.name, file.records[0], _COLUMNS) for file in tables)
    topics[TABLES] = "\n\n".join(
        ("# The columns of the tables", _TABLE_FRAME, _FRAME, found, _SINCE + "\n")
    )
    return topics


def keys_index() -> dict[str, list[str]]:
    """Key, such as ``areal_mass`` -> the topics that it stands in, in the order of the topics."""
    found: dict[str, dict[str, None]] = {}
    for name, file in files_told().items():
        for record in file.records:
            for key in record.keys:
                found.setdefault(key.name, {})[_topic(name)] = None
    return {key: list(found[key]) for key in sorted(found)}


def key_told(name: str) -> str:
    """One key in all the places that it stands in, as Markdown; nothing of what is no key.

    Where it means the same in several places, they are named together.
    """
    places: dict[Key, dict[str, list[str]]] = {}
    for file in files_told().values():
        for record in file.records:
            for key in record.keys:
                if key.name == name:
                    places.setdefault(key, {}).setdefault(file.name, []).extend(record.names)
    parts = [f"# {name}", *(_told(key, where) for key, where in places.items())]
    return "\n\n".join(parts) + "\n" if places else ""


def _told(key: Key, places: Mapping[str, Sequence[str]]) -> str:
    """A key, with the files that it means this in and the blocks there that it stands under."""
    where = [f"{file}: {', '.join(under)}" if under else file for file, under in places.items()]
    table = all(file.endswith(".csv") for file in places)
    lines = [f"- written as: {_written(key)}", f"- given: {_given(key, table=table)}"]
    if key.example:
        lines.append(f"- example: `{key.example}`" if table else f"- example: `{_line_of(key)}`")
    return f"## {'; '.join(where)}\n\n{_with_since(key)}\n\n" + "\n".join(lines)


def _line_of(key: Key) -> str:
    return f"{key.name}: {key.example}"


def _topic(file: str) -> str:
    return TABLES if file.endswith(".csv") else f"keys-{file.removesuffix('.yaml')}"


def _page(file: FileTold) -> str:
    outermost, *inner = file.records
    parts = [f"# The keys of {file.name}", outermost.description, _YAML_FRAME]
    parts.append(_table(outermost, _HEAD))
    shared: dict[type[CatalogueRecord], str] = {}
    for record in inner:
        if record.base is not None and record.base not in shared:
            alike = [each for each in inner if each.base is record.base]
            shared[record.base] = _heading(alike)
            parts.append(_shared(record.base, shared[record.base]))
        parts.append(_section(_heading([record]), _own(record), _HEAD))
        if record.base is not None:
            heading = shared[record.base]
            parts.append(f"It also has the keys under [{heading}](#{anchor(heading)}).")
    places = {name: anchor(_heading([record])) for record in inner for name in record.names}
    return _linked("\n\n".join([*parts, _SINCE]) + "\n", places)


def _linked(text: str, places: Mapping[str, str]) -> str:
    """A page where each block that a key holds is led to."""
    return _SEE.sub(lambda found: f"see [`{found[1]}`](#{places[found[1]]})", text)


def _heading(records: Sequence[RecordTold]) -> str:
    return ", ".join(name for record in records for name in record.names)


def _shared(base: type[CatalogueRecord], heading: str) -> str:
    """Once for all of them, the keys that several records have in common."""
    return _section(heading, RecordTold((), (), base, words_of(base), keys_of(base)), _HEAD)


def _own(record: RecordTold) -> RecordTold:
    """A record with the keys alone that it shares with no other, or tells otherwise."""
    shared = keys_of(record.base) if record.base is not None else ()
    return replace(record, keys=tuple(key for key in record.keys if key not in shared))


def _section(heading: str, record: RecordTold, head: str) -> str:
    under = ", ".join(f"`{name}`" for name in record.under)
    where = f"\n\nStands in {under}." if under else ""
    return f"## {heading}\n\n{record.description}{where}\n\n{_table(record, head)}"


def _table(record: RecordTold, head: str) -> str:
    return "\n".join([head, *(_row(key, head) for key in record.keys)])


def _row(key: Key, head: str) -> str:
    example = f"`{key.example}`" if key.example else ""
    cells = (
        f"`{key.name}`",
        _with_since(key),
        _written(key),
        _given(key, table=head == _COLUMNS),
        example,
    )
    return f"| {' | '.join(map(cell, cells))} |"


def _with_since(key: Key) -> str:
    return key.description + ("" if key.since == FIRST_VERSION else f" Since {key.since}.")


def _written(key: Key) -> str:
    """What is to be written; a block says what its keys stand under."""
    if key.block is None:
        return key.written
    if key.form == VALUE:
        return f"keys, see `{key.name}`"
    many = "a list of blocks" if key.form == LIST else "a line for each id, with keys"
    return f"{many}, see `{key.name}`"


def _given(key: Key, *, table: bool) -> str:
    if key.needed:
        return "always"
    if key.default:
        return f"else `{key.default}`"
    if key.unless_given:
        return f"else {key.unless_given}"
    return "may be empty" if table else "if there is any"
