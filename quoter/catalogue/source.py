"""YAML and CSV as nested texts, each with its file, line, column, key path and label.

Scalars stay text: only `fields` decides what a text means, so that `no`, `12:30` or `010` can't
turn into something else on the way.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from pathlib import Path, PurePosixPath
from typing import Any

from quoter.catalogue.csv_cells import Cell, csv_rows, other_separator
from quoter.catalogue.po_files import Entry, entries_in
from quoter.catalogue.yaml_nodes import Listed, Mapped, Node, Scalar, compose
from quoter.intake import MOST_FILES, IntakeError, counted, read_file
from quoter.problems import (
    UNPRINTABLE,
    MalformedError,
    Place,
    Problems,
    listed,
    nearest,
    quoted,
    unprintable,
)

_LINE_ENDS = re.compile("\r\n?|[\x85\u2028\u2029]")  # in YAML, also where they are escaped


class Text(str):
    """A scalar as written, with its place, key path, what to call it and since when it holds.

    `was` is what the file says where the command line sets something else.
    """

    __slots__ = ("effective", "key", "label", "meanings", "place", "was")
    place: Place
    key: str
    label: str
    effective: str
    meanings: dict[Any, Any] | None
    was: str

    @classmethod
    def at(cls, words: str, place: Place, key: str = "", label: str = "", since: str = "") -> Text:
        """The text `words` standing at `place`, in force since a date where it has one."""
        text = cls(words)
        text.place, text.key, text.label, text.effective = place, key, label, since
        text.meanings, text.was = None, ""
        return text


class Block(dict[str, Any]):
    """A mapping as written: its keys are `Text`, so that a misspelt one can be pointed at.

    `whole` is false where something of it could not be kept, which is recorded.
    """

    place: Place = Place("")
    whole: bool = True

    @classmethod
    def at(cls, place: Place) -> Block:
        """An empty mapping that begins at `place`."""
        block = cls()
        block.place = place
        return block


class Items(list[Any]):
    """A sequence as written."""

    place: Place = Place("")


@dataclass(frozen=True, slots=True)
class Trail:
    """How deep in a file a node is: the key path for figures and the names for labels."""

    key: str
    label: str

    def down(self, key: str, label: str) -> Trail:
        """One level deeper."""
        inner = f"{self.label}, {label}" if self.label and label else self.label or label
        return Trail(f"{self.key}.{key}" if self.key else key, inner)


@dataclass(slots=True)
class Sources:
    """The catalogue folder being read: remembers lines for excerpts and collects problems.

    `doubtful` names the files that could not be read, or not as a whole: what refers to them is
    not to be blamed. `given` are values set by key path on the command line, which take the place
    of the YAML files' own; `scalars` are all these by key as they stand. `instead` are files by
    name as they would be, in place of the folder's own; `names_of` the names by id in each.
    """

    folder: Path
    problems: Problems
    lines: dict[str, list[str]] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)
    doubtful: set[str] = field(default_factory=set)
    given: Mapping[str, Text] = field(default_factory=dict)
    scalars: dict[str, Text] = field(default_factory=dict)
    instead: Mapping[str, bytes] = field(default_factory=dict)
    names_of: dict[str, dict[str, str]] = field(default_factory=dict)

    def has(self, name: str) -> bool:
        """Whether there is a file of this name."""
        return name in self.instead or (self.folder / name).exists()

    def names(self, folder: str, ending: str) -> list[str]:
        """The files of an inner folder that end so, as many as are read; more are recorded."""
        found = {f"{folder}/{path.name}" for path in (self.folder / folder).glob(f"*{ending}")}
        found |= {name for name in self.instead if fnmatchcase(name, f"{folder}/*{ending}")}
        if len(found) > MOST_FILES:
            what = f"the folder has {counted(len(found))} files, and {counted(MOST_FILES)} are the"
            self.problems.add(
                Place(folder), "too-much", f"{what} most that are read", "move some elsewhere"
            )
        return sorted(found)[:MOST_FILES]

    def excerpt(self, place: Place) -> str:
        """The line a place points at."""
        return line_at(self.lines, place)

    def yaml(self, name: str) -> Block | None:
        """A YAML file as a block of texts; None when it is missing or can't be read."""
        text = self._text(name)
        if text is None:
            return None
        try:
            root = compose(text)
        except MalformedError as fault:
            self._doubt(Place(name, fault.line, fault.column), fault.code, fault.what, fault.hint)
            return None
        if root is None:
            return Block.at(Place(name, 1, 1))
        if not isinstance(root, Mapped):
            hint = "begin the file with a key at the start of a line, such as 'stations:'"
            self._doubt(
                Place(name, 1, 1), "wrong-structure", "the file holds no keys with values", hint
            )
            return None
        stem = name.removesuffix(".yaml")
        self.names_of[stem] = _names_listed(root)
        block: Block = self._node(name, root, Trail(stem, ""))
        if not block.whole:
            self.doubtful.add(name)
        self.blocks[name] = block
        return block

    def csv(
        self,
        name: str,
        columns: tuple[str, ...],
        keys: tuple[str, ...],
        spared: tuple[str, ...] = (),
    ) -> list[Block]:
        """A CSV file as one block a row; its first line names the columns, in any order.

        `keys` are the columns that tell rows apart; with the file's name they name its figures.
        Columns that are `spared` may be left out, and are empty then.
        """
        text = self._text(name)
        if text is None:
            return []
        try:
            head, *rows = list(csv_rows(text)) or [[]]
        except MalformedError as fault:
            self._doubt(Place(name, fault.line, fault.column), fault.code, fault.what, fault.hint)
            return []
        if not self._heads_fit(name, head, columns, spared):
            return []
        heads = [cell.text for cell in head]
        found = [self._row(name, heads, cells, keys) for cells in rows]
        for row in found:
            row.update({each: Text.at("", row.place) for each in spared if each not in row})
        return found

    def translations(self, name: str) -> list[Entry]:
        """The entries of a PO file; none when it can't be read."""
        text = self._text(name)
        try:
            return entries_in(text or "")
        except MalformedError as fault:
            self._doubt(Place(name, fault.line, fault.column), fault.code, fault.what, fault.hint)
            return []

    def _text(self, name: str) -> str | None:
        """A file's text; None when it is missing, or can't be read as text (which is recorded)."""
        try:
            raw = self.instead[name] if name in self.instead else read_file(self.folder / name)
        except FileNotFoundError:
            return None
        except IntakeError as fault:
            self._doubt(Place(name), fault.code, fault.what, fault.hint)
            return None
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError as fault:
            before = raw[: fault.start].decode("utf-8-sig", "replace")
            self.lines[name] = (before + raw[fault.start :].decode("latin-1")).split("\n")
            place = Place(name, before.count("\n") + 1, len(before) - before.rfind("\n"))
            what = f"the byte {raw[fault.start]:02x} is no UTF-8 text"
            self._doubt(place, "encoding", what, "save the file as UTF-8")
            return None
        text = re.sub("\r\n?", "\n", text)
        if name.endswith(".yaml"):
            text = _LINE_ENDS.sub("\n", text)
        self.lines[name] = text.split("\n")
        for number, line in enumerate(self.lines[name], 1):
            if bad := UNPRINTABLE.search(line):
                place = Place(name, number, bad.start() + 1)
                self._doubt(place, "unprintable", unprintable(bad), "remove it")
                return None
        return text

    def _doubt(self, place: Place, code: str, what: str, hint: str) -> None:
        self.problems.add(place, code, what, hint)
        self.doubtful.add(place.file)

    def _node(self, name: str, node: Node, path: Trail) -> Any:
        """A node as texts; an alias gives what it names itself, so that one line is one input."""
        if node.meant is None:
            node.meant = self._converted(name, node, path)
        return node.meant

    def _converted(self, name: str, node: Node, path: Trail) -> Any:
        place = Place(name, node.line, node.column, _last(path.key))
        if isinstance(node, Scalar):
            value = _LINE_ENDS.sub("\n", node.value)
            if bad := UNPRINTABLE.search(value):
                self._doubt(place, "unprintable", f"the escape of {unprintable(bad)}", "remove it")
            return self._scalar(UNPRINTABLE.sub("?", value), place, path)
        if isinstance(node, Listed):
            items = Items()
            items.place = place
            for index, item in enumerate(node.items, 1):
                items.append(self._node(name, item, path.down(*self._item_name(item, index))))
            return items
        return self._mapping(name, node, path, place)

    def _item_name(self, node: Node, index: int) -> tuple[str, str]:
        """What to call an item of a list: by its id, and by its name or that of what it takes."""
        known = _scalars(node) if isinstance(node, Mapped) else {}
        at = next((key for key in _NAMING if known.get(key)), "")
        words = self._called(at, known[at]) if at else ""
        return known.get("id") or str(index), known.get("name") or words or str(index)

    def _called(self, key: str, id: str) -> str:
        """What the id under a key is called, as far as the files read until now have a name."""
        known = (self.names_of.get(stem, {}) for stem in _LISTED_IN.get(key, ()))
        return next((names[id] for names in known if id in names), id)

    def _scalar(self, words: str, place: Place, path: Trail) -> Text:
        """A single value: the file's own, or that of the command line."""
        self.scalars[path.key] = Text.at(words, place, path.key, path.label)
        if path.key not in self.given:
            return self.scalars[path.key]
        given = self.given[path.key]
        text = Text.at(given, given.place, path.key, path.label)
        text.was = words
        return text

    def _mapping(self, name: str, node: Mapped, path: Trail, place: Place) -> Block:
        block = Block.at(place)
        twice: list[Text] = []
        for key_node, value in node.pairs:
            at = Place(name, key_node.line, key_node.column)
            if not isinstance(key_node, Scalar) or key_node.value == "<<":
                hint = "write 'key: value', and merged keys out"
                self.problems.add(at, "bad-yaml", "a key that is not a plain word", hint)
                block.whole = False
                continue
            key = Text.at(UNPRINTABLE.sub("?", key_node.value), at)
            if key in block:
                twice.append(key)
                continue
            named = self._called(f"in {_last(path.key)}", key).replace("_", " ")
            label = "" if isinstance(value, Listed) else named
            block[key] = self._node(name, value, path.down(key, label))
        self._refuse_twice(block, twice)
        return block

    def _refuse_twice(self, block: Block, twice: list[Text]) -> None:
        if not twice:
            return
        block.whole = False
        first = next(known for known in block if known == twice[0])
        line = first.place.line  # type: ignore[attr-defined]  # keys are Text
        what, hint = f"key {quoted(twice[0])} is written twice", "keep one of them"
        if len(twice) > 1:
            what = f"keys {listed(twice)} are written twice"
            hint = "begin a new item with '- '"
        self.problems.add(
            twice[0].place, "written-twice", what, f"it stands on line {line} already; {hint}"
        )

    def _heads_fit(
        self, name: str, head: list[Cell], columns: tuple[str, ...], spared: tuple[str, ...]
    ) -> bool:
        if not head:
            hint = f"begin with a line that names the columns: {','.join(columns)}"
            self._doubt(Place(name, 1, 1), "empty", "the file is empty", hint)
            return False
        separator = other_separator(self.lines[name][head[0].line - 1])
        if separator:
            hint = "save it with commas between the columns, and points for decimals"
            self._doubt(
                Place(name, head[0].line, 1),
                "bad-csv",
                f"the columns are parted by {separator}",
                hint,
            )
            return False
        fits = True
        named: set[str] = set()
        for cell in head:
            place = Place(name, cell.line, cell.column)
            if cell.text in named:
                self._doubt(
                    place,
                    "written-twice",
                    f"column {quoted(cell.text)} is named twice",
                    "keep one of them",
                )
                fits = False
            elif cell.text not in columns:
                hint = nearest(cell.text, [c for c in columns if c not in named])
                self._doubt(place, "unknown-key", f"unknown column {quoted(cell.text)}", hint)
                fits = False
            named.add(cell.text)
        missing = [c for c in columns if c not in named and c not in spared]
        if missing and fits:
            hint = f"begin the file with {','.join(columns)}"
            self._doubt(
                Place(name, head[0].line, 1), "missing-key", f"no column '{missing[0]}'", hint
            )
        return fits and not missing

    def _row(self, name: str, heads: list[str], cells: list[Cell], keys: tuple[str, ...]) -> Block:
        row = Block.at(Place(name, cells[0].line, 1))
        if len(cells) != len(heads):
            extra = cells[len(heads)] if len(cells) > len(heads) else cells[-1]
            count = f"{len(cells)} value{'s' if len(cells) > 1 else ''}"
            what = f"the line has {count} for {len(heads)} columns"
            hint = "put a text that holds a comma in double quotes; leave an unused value empty"
            self.problems.add(Place(name, extra.line, extra.column), "bad-csv", what, hint)
            row.whole = False
        stem = name.removesuffix(".csv").replace("/", ".")
        known = {head: cell.text for head, cell in zip(heads, cells, strict=False)}
        naming = [known[key] for key in keys if known.get(key)]
        called = ", ".join(self._called(key, known[key]) for key in keys if known.get(key))
        since = known.get("date", "") or PurePosixPath(name).stem
        for head, cell in zip(heads, cells, strict=False):
            place = Place(name, cell.line, cell.column, head)
            label = f"{called}, {head.replace('_', ' ')}"
            key = ".".join([stem, *naming, head])
            row[head] = Text.at(cell.text, place, key, label, since)
        return row


def line_at(lines: Mapping[str, Sequence[str]], place: Place) -> str:
    """The line a place points at, of the lines of each file."""
    found = lines.get(place.file, ())
    return found[place.line - 1] if 0 < place.line <= len(found) else ""


def _last(key: str) -> str:
    return key.rpartition(".")[2]


def _scalars(node: Mapped) -> dict[str, str]:
    """The plain values of a block by their keys."""
    return {
        k.value: v.value for k, v in node.pairs if isinstance(k, Scalar) and isinstance(v, Scalar)
    }


def _names_listed(root: Mapped) -> dict[str, str]:
    """The names of what a file lists, by id."""
    lists = (value.items for _, value in root.pairs if isinstance(value, Listed))
    items = (_scalars(item) for found in lists for item in found if isinstance(item, Mapped))
    return {item["id"]: item["name"] for item in items if "id" in item and "name" in item}


_NAMING = ("id", "name", "part", "item", "glass", "material", "colour")
# The files that may list what an id under a key, or in a column, stands for.
_LISTED_IN: Mapping[str, tuple[str, ...]] = (
    dict.fromkeys(("item", "glass", "material", "in materials"), ("materials",))
    | {key: (f"{key}s",) for key in ("part", "supplier", "model", "option")}
    | {"colour": ("materials", "options"), "market": ("yard",), "in hours": ("stations",)}
)
