"""Every key of the catalogue, as its record tells it: what it is, how it is written, an example.

The words stand in the string under each field of a record, its last lines beginning with
``Unless given:``, ``Example:`` or ``Since:``; units, limits and choices are asked of the field's
type. Python keeps no such strings, so they are read from the source, and only when somebody asks:
the reference of keys, and the schemas for editors.
"""

from __future__ import annotations

import ast
import inspect
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import PydanticCustomError

from quoter.catalogue import booked
from quoter.catalogue.booked_files import file_of
from quoter.catalogue.load import CSV_FILES, YAML_FILES
from quoter.catalogue.measures import Measure
from quoter.catalogue.quoting import Request
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.catalogue.tables import PriceRow
from quoter.catalogue.values import OneOf, ReadAs
from quoter.catalogue.yard import Yard
from quoter.problems import Place

FIRST_VERSION = "0.1.0"  # what does not say since when it is there is there since then
# What a key means in every record that has it, unless one says otherwise.
COMMON = {
    "note": "For the yard alone: where a number is from, what was agreed. It is never public.\n"
    "Example: `agreed in May`"
}
VALUE, LIST, BY_ID = "value", "list", "by id"
_SPECIAL = re.compile(r"^(Unless given|Example|Since): ?", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Key:
    """A key of a record.

    `form` is that of its value: one, a list, or values by ids of the yard's own. What it holds is
    told by `reading`, or is a `block` with keys of its own. Where it may be left out,
    `unless_given` says in words what holds then, and `default` what could be written instead.
    """

    name: str
    description: str
    form: str
    reading: ReadAs | None
    block: type[CatalogueRecord] | None
    needed: bool
    default: str
    unless_given: str
    example: str
    since: str

    @property
    def written(self) -> str:
        """What is to be written, in words; of a block only that it has keys of its own."""
        one = self.reading.in_words if self.reading is not None else "a block of keys"
        if self.form == LIST:
            return f"a list; each {one}"
        return f"a line for each id; each {one}" if self.form == BY_ID else one

    @property
    def units(self) -> tuple[str, ...]:
        """Units that it may be written in."""
        return self.reading.units if isinstance(self.reading, Measure) else ()

    @property
    def limits(self) -> str:
        """Its limits in words, such as ``more than 0``."""
        return self.reading.limits if isinstance(self.reading, Measure) else ""

    @property
    def choices(self) -> tuple[str, ...]:
        """The words to choose from, where it is one of a few."""
        return self.reading.words if isinstance(self.reading, OneOf) else ()


@dataclass(frozen=True, slots=True)
class RecordTold:
    """A record of a file: the keys it stands under there, what it is, and its own keys.

    `names` are empty for the file itself; `under` are the blocks that hold it.
    """

    names: tuple[str, ...]
    under: tuple[str, ...]
    record: type[CatalogueRecord]
    description: str
    keys: tuple[Key, ...]

    @property
    def base(self) -> type[CatalogueRecord] | None:
        """What it has keys in common with other records of, if there is such a thing."""
        above = self.record.__mro__[1]
        known = issubclass(above, CatalogueRecord) and bool(above.model_fields)
        return above if known else None


@dataclass(frozen=True, slots=True)
class FileTold:
    """A file of the catalogue, or a request, with its records from the outermost inwards."""

    name: str
    records: tuple[RecordTold, ...]

    @property
    def description(self) -> str:
        """What the file is."""
        return self.records[0].description


def files_told() -> dict[str, FileTold]:
    """Every kind of file that a yard writes, by its name, such as ``materials.yaml``."""
    yaml: dict[str, type[CatalogueRecord]] = {"yard.yaml": Yard}
    yaml |= {name: kind for name, (kind, _) in YAML_FILES.items()}
    yaml["request.yaml"] = Request
    tables: dict[str, type[CatalogueRecord]] = {"prices/DATE.csv": PriceRow}
    tables |= {name: kind for name, (kind, _) in CSV_FILES.items()}
    tables |= {file_of(name): kind for name, kind in booked.TABLES.items()}
    told = {name: FileTold(name, records_within(kind)) for name, kind in yaml.items()}
    for name, row in tables.items():
        only = RecordTold((), (), row, words_of(row), keys_of(row, empty_cells=True))
        told[name] = FileTold(name, (only,))
    return told


def records_within(outermost: type[CatalogueRecord]) -> tuple[RecordTold, ...]:
    """A record and those that its keys hold, each once, in the order that they are met."""
    names: dict[type[CatalogueRecord], dict[str, None]] = {outermost: {}}
    under: dict[type[CatalogueRecord], dict[str, None]] = {outermost: {}}
    waiting: list[tuple[type[CatalogueRecord], str]] = [(outermost, "")]
    while waiting:
        record, name = waiting.pop(0)
        for key in keys_of(record):
            if key.block is None:
                continue
            if key.block not in names:
                waiting.append((key.block, key.name))
            names.setdefault(key.block, {})[key.name] = None
            if name:
                under.setdefault(key.block, {})[name] = None
            else:
                under.setdefault(key.block, {})
    return tuple(
        RecordTold(tuple(names[each]), tuple(under[each]), each, words_of(each), keys_of(each))
        for each in names
    )


def words_of(record: type[CatalogueRecord]) -> str:
    """What a record is, in the words of its docstring; paragraphs have an empty line between."""
    paragraphs = inspect.cleandoc(record.__doc__ or "").split("\n\n")
    return "\n\n".join(_line(words) for words in paragraphs)


def keys_of(record: type[CatalogueRecord], *, empty_cells: bool = False) -> tuple[Key, ...]:
    """The keys of a record in the order of its fields.

    Args:
        record: a kind of block, or of line in a table
        empty_cells: whether to leave a key out means to leave its cell empty, as in a table
    """
    strings = strings_under_fields(record)
    found = []
    for name, info in record.model_fields.items():
        form, inner = _form_of(info.annotation)
        reading = next((meta for meta in info.metadata if isinstance(meta, ReadAs)), None)
        reading = reading or _reading_in(inner)
        description, special = _parted(strings.get(name) or COMMON.get(name, ""))
        needed = info.is_required()
        if empty_cells and reading is not None:
            needed = needed and not _takes_nothing(reading)
        found.append(
            Key(
                name=name,
                description=description,
                form=form,
                reading=reading,
                block=None if reading is not None else _block_in(inner),
                needed=needed,
                default=_default(info.default),
                unless_given=special.get("Unless given", "").rstrip("."),
                example=special.get("Example", "").strip("`"),
                since=special.get("Since", FIRST_VERSION),
            )
        )
    return tuple(found)


def strings_under_fields(record: type[BaseModel]) -> dict[str, str]:
    """The string under each field, its own or that of the nearest record it is inherited from."""
    found: dict[str, str] = {}
    for kind in reversed(record.__mro__):
        if issubclass(kind, BaseModel) and kind not in (BaseModel, CatalogueRecord):
            found |= _strings_in(kind.__module__).get(kind.__qualname__, {})
    return found


@cache
def _strings_in(module: str) -> dict[str, dict[str, str]]:
    """Of each class of a module, by its qualified name: the string under each field."""
    return dict(_classes(ast.parse(inspect.getsource(sys.modules[module])), ""))


def _classes(node: ast.AST, within: str) -> Iterator[tuple[str, dict[str, str]]]:
    for inner in ast.iter_child_nodes(node):
        if isinstance(inner, ast.ClassDef):
            yield within + inner.name, _under_fields(inner)
            yield from _classes(inner, f"{within}{inner.name}.")
        elif isinstance(inner, ast.FunctionDef | ast.AsyncFunctionDef):
            yield from _classes(inner, f"{within}{inner.name}.<locals>.")
        else:
            yield from _classes(inner, within)


def _under_fields(node: ast.ClassDef) -> dict[str, str]:
    found = {}
    for field, below in zip(node.body, node.body[1:], strict=False):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
            words = below.value if isinstance(below, ast.Expr) else None
            if isinstance(words, ast.Constant) and isinstance(words.value, str):
                found[field.target.id] = inspect.cleandoc(words.value)
    return found


def _parted(words: str) -> tuple[str, dict[str, str]]:
    """What a string says in sentences, and what its last lines say after their first words."""
    first, *rest = _SPECIAL.split(words)
    special = {name: _line(told) for name, told in zip(rest[::2], rest[1::2], strict=True)}
    return _line(first), special


def _line(words: str) -> str:
    return " ".join(words.split())


def _form_of(annotation: Any) -> tuple[str, Any]:
    """The form of a value, and the type of what it holds."""
    annotation = _without_none(annotation)
    if get_origin(annotation) is tuple:
        return LIST, get_args(annotation)[0]
    if get_origin(annotation) is dict:
        return BY_ID, get_args(annotation)[1]
    return VALUE, annotation


def _without_none(annotation: Any) -> Any:
    if get_origin(annotation) in (Union, UnionType):
        return next(each for each in get_args(annotation) if each is not type(None))
    return annotation


def _reading_in(annotation: Any) -> ReadAs | None:
    if get_origin(annotation) is not Annotated:
        return None
    return next((meta for meta in get_args(annotation)[1:] if isinstance(meta, ReadAs)), None)


def _block_in(annotation: Any) -> type[CatalogueRecord] | None:
    known = isinstance(annotation, type) and issubclass(annotation, CatalogueRecord)
    return annotation if known else None


def _takes_nothing(reading: ReadAs) -> bool:
    """Whether an empty cell is read."""
    try:
        reading(Text.at("", Place("")))
    except PydanticCustomError:
        return False
    return True


def _default(default: object) -> str:
    """What could be written to the same end as nothing at all; empty where nothing could."""
    if isinstance(default, bool):
        return "yes" if default else "no"
    return default if isinstance(default, str) else ""
