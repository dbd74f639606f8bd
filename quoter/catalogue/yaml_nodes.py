"""YAML as nodes with their line and column; what can't be read comes with advice."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml
from yaml.composer import ComposerError

from quoter.problems import MalformedError

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
DEEPEST = 40  # levels; a catalogue has fewer than ten
MOST_NODES = 200_000  # a few dozen times a large catalogue's largest file

_INDENTED = "indent the lines of one block alike, with spaces"
# What the parser says (in its compiled and its plain form) -> what to say, and what to do.
_SAID: tuple[tuple[str, str, str], ...] = (
    (r"nesting depth", f"more than {DEEPEST} levels", "close some brackets"),
    (
        r"mapping values are not allowed",
        "a second ': ' on one line, or a line indented too far",
        f"put a text that holds ': ' in quotes; {_INDENTED}",
    ),
    (
        r"cannot start any token|a tab character",
        "a character that can't begin a value",
        "put a text that begins with @, ` or % in quotes",
    ),
    (
        r"escape character|Unicode character",
        "an escape that means nothing",
        "write a backslash in double quotes twice",
    ),
    (
        r"while scanning a quoted scalar|while scanning a (single|double)-quoted scalar",
        "a quote is opened and never closed",
        "close it, or put a text that holds quotes in quotes of the other kind",
    ),
    (
        r"while parsing a flow (sequence|mapping)",
        "a bracket is opened and never closed",
        "separate the values by commas and close the bracket",
    ),
    (
        r"did not find expected '-' indicator|while parsing a block collection",
        "a line that does not fit the list it stands in",
        f"begin each item with '- '; {_INDENTED}",
    ),
    (
        r"did not find expected key|while parsing a block mapping|<document start>",
        "a line that does not fit the block it stands in",
        f"write 'key: value'; {_INDENTED}; look for a quote or bracket left open above",
    ),
    (
        r"could not find expected ':'",
        "a line without ': '",
        f"write 'key: value'; {_INDENTED}",
    ),
    (
        r"sequence entries are not allowed",
        "a list item on the line of its key",
        "begin the list on the next line, or write [one, two]",
    ),
    (
        r"expected (the )?node content",
        "a bracket or comma where a value belongs",
        "write the value, or put a text that begins so in quotes",
    ),
    (
        r"undefined alias",
        "an alias of something that has no name",
        "write '&' and the name before what the alias stands for, above this line",
    ),
    (
        r"expected a single document",
        "a second document begins here",
        "keep one document in a file: remove the line '---'",
    ),
)
_RANGE_IN_BRACES = (
    "a bracket in the middle of a value",
    'put a value with a range in quotes, as in {fixed: "45 min [30 to 60]"}',
)
_OTHERWISE = "check the indentation, quotes and brackets of this line and the one above"


@dataclass(slots=True, eq=False)
class _Placed:
    """What stands at a line and column; `meant` is what its reader made of it, which an alias gives
    again."""

    line: int
    column: int
    meant: Any = None


@dataclass(slots=True, eq=False)
class Scalar(_Placed):
    """A text."""

    value: str = ""


@dataclass(slots=True, eq=False)
class Listed(_Placed):
    """A list."""

    items: list[Node] = field(default_factory=list)


@dataclass(slots=True, eq=False)
class Mapped(_Placed):
    """Keys with their values."""

    pairs: list[tuple[Node, Node]] = field(default_factory=list)


Node = Scalar | Listed | Mapped


def compose(text: str) -> Node | None:
    """The root node of a YAML text, None for an empty one; its scalars are all text.

    Raises:
        MalformedError: when it can't be read, nests too deeply or grows too large by aliases.
    """
    try:
        return _Composer(text).root()
    except yaml.MarkedYAMLError as fault:
        raise _told(fault, text) from fault


class _Composer:
    """Nodes from the parser's events, in one pass; what would exhaust the machine is refused: deep
    nesting, aliases of aliases of aliases."""

    def __init__(self, text: str) -> None:
        """Nothing is read yet."""
        self._events = self._counted(text)
        self._total = 0
        self._sizes: dict[str, int] = {}
        self._named: dict[str, Node] = {}
        self._open: list[str | None] = []
        self._faults: list[ComposerError] = []  # told where the parser finds none after them

    def root(self) -> Node | None:
        """The node of the one document."""
        roots: list[Node] = []
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                if roots:
                    self._fault("expected a single document", "but found another", event)
                roots.append(self._node(next(self._events)))
        if self._faults:
            raise self._faults[0]
        return roots[0] if roots else None

    def _counted(self, text: str) -> Iterator[Any]:
        for event in yaml.parse(text, Loader=LOADER):
            yield event
            self._total += 1
            if self._total > MOST_NODES:
                hint = "aliases of aliases multiply; write the values out"
                raise MalformedError(
                    "too-much", *_at(event), f"more than {MOST_NODES} values", hint
                )

    def _node(self, event: Any) -> Node:
        if isinstance(event, yaml.AliasEvent):
            return self._aliased(event)
        line, column = _at(event)
        if isinstance(event, yaml.ScalarEvent):
            scalar = Scalar(line, column, value=event.value)
            self._name(event, scalar)
            return scalar
        node: Listed | Mapped = (
            Listed(line, column)
            if isinstance(event, yaml.SequenceStartEvent)
            else Mapped(line, column)
        )
        self._name(event, node)
        before = self._total
        self._open.append(event.anchor)
        if len(self._open) > DEEPEST:
            raise MalformedError(
                "bad-yaml", line, column, f"more than {DEEPEST} levels", "close some brackets"
            )
        self._fill(node)
        self._open.pop()
        if event.anchor is not None:
            self._sizes[event.anchor] = self._total - before + 1
        return node

    def _fill(self, node: Listed | Mapped) -> None:
        """Read what is within a list or mapping, up to its end."""
        while not isinstance(event := next(self._events), yaml.CollectionEndEvent):
            inner = self._node(event)
            if isinstance(node, Mapped):
                node.pairs.append((inner, self._node(next(self._events))))
            else:
                node.items.append(inner)

    def _name(self, event: Any, node: Node) -> None:
        """Remember what an alias may stand for."""
        if event.anchor in self._named:
            self._fault("found duplicate anchor; first occurrence", "second occurrence", event)
        if event.anchor is not None:
            self._named.setdefault(event.anchor, node)

    def _aliased(self, event: Any) -> Node:
        if event.anchor in self._open:
            what = f"the alias '*{event.anchor}' stands within what it names"
            raise MalformedError("bad-yaml", *_at(event), what, "write the values out")
        self._total += self._sizes.get(event.anchor, 1)
        if event.anchor not in self._named:
            self._fault("", "found undefined alias", event)
        return self._named.get(event.anchor) or Scalar(*_at(event))

    def _fault(self, context: str, problem: str, event: Any) -> None:
        self._faults.append(ComposerError(context, None, problem, event.start_mark))


def _at(event: Any) -> tuple[int, int]:
    """The line and column where an event begins."""
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def _told(fault: yaml.MarkedYAMLError, text: str) -> MalformedError:
    said = f"{fault.problem or ''} {fault.context or ''}"
    known = (row for row in _SAID if re.search(row[0], said))
    _, what, hint = next(known, ("", f"can't be read as YAML: {said.strip()}", _OTHERWISE))
    # Where something was begun and not ended, its beginning is the place to look at.
    begun = "never closed" in what or "without ': '" in what
    mark = fault.context_mark if begun and fault.context_mark else fault.problem_mark
    if mark is None:
        return MalformedError("bad-yaml", 1, 1, what, hint)
    stop = fault.problem_mark
    if begun and stop is not None and _from(text, stop).startswith("["):
        return MalformedError("bad-yaml", stop.line + 1, stop.column + 1, *_RANGE_IN_BRACES)
    if _from(text, mark).startswith("\t"):
        what, hint = "a tab, which YAML does not take", "indent with spaces"
    return MalformedError("bad-yaml", mark.line + 1, mark.column + 1, what, hint)


def _from(text: str, mark: yaml.Mark) -> str:
    """The rest of the line from a mark on."""
    return "".join(text.split("\n")[mark.line : mark.line + 1])[mark.column :]
