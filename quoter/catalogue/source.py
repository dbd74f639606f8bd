"""YAML and CSV as nested texts, each with its file, line, column, key path and label.

Scalars stay text: only `fields` decides what a text means, so that `no`, `12:30` or `010` can't
turn into something else on the way.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any

import yaml

from quoter.problems import Place, Problems, nearest


class Text(str):
    """A scalar as written, with its place, key path, what to call it and since when it holds."""

    __slots__ = ("effective", "key", "label", "place")
    place: Place
    key: str
    label: str
    effective: str

    @classmethod
    def at(cls, words: str, place: Place, key: str = "", label: str = "", since: str = "") -> Text:
        """The text `words` standing at `place`, in force since a date where it has one."""
        text = cls(words)
        text.place, text.key, text.label, text.effective = place, key, label, since
        return text


class Block(dict[str, Any]):
    """A mapping as written: its keys are `Text`, so that a misspelt one can be pointed at."""

    place: Place = Place("")

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
    """The catalogue folder being read: remembers lines for excerpts and collects problems."""

    folder: Path
    problems: Problems
    lines: dict[str, list[str]] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)

    def text(self, name: str) -> str | None:
        """A file's text, None when it is missing or not UTF-8 (which is recorded)."""
        try:
            text = (self.folder / name).read_bytes().decode("utf-8-sig")
        except FileNotFoundError:
            return None
        except UnicodeDecodeError as fault:
            self.problems.add(
                Place(name), "is not UTF-8 text", f"save it as UTF-8 ({fault.reason})"
            )
            return None
        self.lines[name] = text.splitlines()
        return text

    def excerpt(self, place: Place) -> str:
        """The line a place points at."""
        lines = self.lines.get(place.file, [])
        return lines[place.line - 1] if 0 < place.line <= len(lines) else ""

    def yaml(self, name: str) -> Block | None:
        """A YAML file as a block of texts; None when it is missing or can't be read."""
        text = self.text(name)
        if text is None:
            return None
        try:
            root = yaml.compose(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
        except yaml.MarkedYAMLError as fault:
            mark = fault.problem_mark or fault.context_mark
            place = Place(name, mark.line + 1, mark.column + 1) if mark else Place(name)
            self.problems.add(place, f"can't be read as YAML: {fault.problem or fault.context}")
            return None
        except yaml.reader.ReaderError as fault:
            self.problems.add(
                Place(name), f"holds a character YAML forbids: #x{fault.character:04x}"
            )
            return None
        if root is None:
            return Block.at(Place(name, 1, 1))
        if not isinstance(root, yaml.MappingNode):
            self.problems.add(Place(name, 1, 1), "expected keys with values at the top of the file")
            return None
        block: Block = self._node(name, root, Trail(name.removesuffix(".yaml"), ""))
        self.blocks[name] = block
        return block

    def _node(self, name: str, node: Any, path: Trail) -> Any:
        place = Place(name, node.start_mark.line + 1, node.start_mark.column + 1, _last(path.key))
        if isinstance(node, yaml.ScalarNode):
            return Text.at(node.value, place, path.key, path.label)
        if isinstance(node, yaml.SequenceNode):
            items = Items()
            items.place = place
            for index, item in enumerate(node.value, 1):
                items.append(self._node(name, item, path.down(*_item_name(item, index))))
            return items
        return self._mapping(name, node, path, place)

    def _mapping(self, name: str, node: Any, path: Trail, place: Place) -> Block:
        block = Block.at(place)
        for key_node, value in node.value:
            at = Place(name, key_node.start_mark.line + 1, key_node.start_mark.column + 1)
            if not isinstance(key_node, yaml.ScalarNode) or key_node.value == "<<":
                self.problems.add(at, "expected a plain key", "write merged or complex keys out")
                continue
            key = Text.at(key_node.value, at)
            if key in block:
                first = next(known for known in block if known == key)
                hint = f"it stands on line {first.place.line} already; keep one of them"  # type: ignore[attr-defined]  # keys are Text
                self.problems.add(at, f"key '{key}' is written twice", hint)
                continue
            label = "" if isinstance(value, yaml.SequenceNode) else key.replace("_", " ")
            block[key] = self._node(name, value, path.down(key, label))
        return block

    def csv(self, name: str, columns: tuple[str, ...], keys: tuple[str, ...]) -> list[Block]:
        """A CSV file as one block a row; its first line names the columns, in any order.

        `keys` are the columns that tell rows apart; with the file's name they name its figures.
        """
        text = self.text(name)
        if text is None:
            return []
        reader = csv.reader(io.StringIO(text), strict=True)
        rows: list[Block] = []
        try:
            heads = [head.strip() for head in next(reader, [])]
            if not self._heads_fit(name, heads, columns):
                return []
            for cells in reader:
                line = reader.line_num
                if any(cell.strip() for cell in cells):
                    rows.append(self._row(name, line, heads, cells, keys))
        except csv.Error as fault:
            self.problems.add(Place(name, reader.line_num), f"can't be read as CSV: {fault}")
        return rows

    def _heads_fit(self, name: str, heads: list[str], columns: tuple[str, ...]) -> bool:
        place = Place(name, 1, 1)
        unknown = [head for head in heads if head not in columns]
        for head in unknown:
            self.problems.add(place, f"unknown column '{head}'", nearest(head, columns))
        missing = [column for column in columns if column not in heads]
        if missing and not unknown:
            self.problems.add(
                place, f"missing column '{missing[0]}'", f"expected {','.join(columns)}"
            )
        if len(set(heads)) < len(heads):
            self.problems.add(place, "a column is named twice")
        return not unknown and not missing and len(set(heads)) == len(heads)

    def _row(
        self, name: str, line: int, heads: list[str], cells: list[str], keys: tuple[str, ...]
    ) -> Block:
        row = Block.at(Place(name, line, 1))
        if len(cells) != len(heads):
            what = f"expected {len(heads)} values, found {len(cells)}"
            self.problems.add(row.place, what, "put a text that holds a comma in double quotes")
        column = 1
        stem = name.removesuffix(".csv").replace("/", ".")
        known = dict(zip(heads, (cell.strip() for cell in cells), strict=False))
        naming = [known[key] for key in keys if known.get(key)]
        since = known.get("date", "") or PurePosixPath(name).stem
        for head, cell in zip(heads, cells, strict=False):
            place = Place(name, line, column, head)
            label = f"{', '.join(naming)}, {head.replace('_', ' ')}"
            key = ".".join([stem, *naming, head])
            row[head] = Text.at(cell.strip(), place, key, label, since)
            column += len(cell) + 1
        return row


def _last(key: str) -> str:
    return key.rpartition(".")[2]


def _item_name(node: Any, index: int) -> tuple[str, str]:
    """What to call an item of a list: by its id and name where it has them."""
    known: dict[str, str] = {}
    if isinstance(node, yaml.MappingNode):
        known = {k.value: v.value for k, v in node.value if isinstance(v, yaml.ScalarNode)}
    words = next((known[k] for k in _NAMING if known.get(k)), "")
    return known.get("id") or str(index), known.get("name") or words or str(index)


_NAMING = ("id", "name", "part", "item", "glass", "material", "colour")
