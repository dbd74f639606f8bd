"""YAML as nodes with their line and column; what can't be read comes with advice."""

from __future__ import annotations

import re
from typing import Any

import yaml

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


def compose(text: str) -> Any:
    """The root node of a YAML text, None for an empty one; its scalars are all text.

    Raises:
        MalformedError: when it can't be read, nests too deeply or grows too large by aliases.
    """
    try:
        _measure(text)
        return yaml.compose(text, Loader=LOADER)
    except yaml.MarkedYAMLError as fault:
        raise _told(fault, text) from fault


def _measure(text: str) -> None:
    """Refuse what would exhaust the machine: deep nesting, aliases of aliases of aliases."""
    sizes: dict[str, int] = {}
    open_blocks: list[tuple[str | None, int]] = []
    total = 0
    for event in yaml.parse(text, Loader=LOADER):
        mark = event.start_mark
        here = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        if isinstance(event, yaml.CollectionStartEvent):
            open_blocks.append((event.anchor, total))
            if len(open_blocks) > DEEPEST:
                raise MalformedError(*here, f"more than {DEEPEST} levels", "close some brackets")
        elif isinstance(event, yaml.CollectionEndEvent):
            anchor, before = open_blocks.pop()
            if anchor is not None:
                sizes[anchor] = total - before + 1
        elif isinstance(event, yaml.AliasEvent):
            if any(anchor == event.anchor for anchor, _ in open_blocks):
                what = f"the alias '*{event.anchor}' stands within what it names"
                raise MalformedError(*here, what, "write the values out")
            total += sizes.get(event.anchor or "", 1)
        total += 1
        if total > MOST_NODES:
            what = f"more than {MOST_NODES} values"
            raise MalformedError(*here, what, "aliases of aliases multiply; write the values out")


def _told(fault: yaml.MarkedYAMLError, text: str) -> MalformedError:
    said = f"{fault.problem or ''} {fault.context or ''}"
    known = (row for row in _SAID if re.search(row[0], said))
    _, what, hint = next(known, ("", f"can't be read as YAML: {said.strip()}", _OTHERWISE))
    # Where something was begun and not ended, its beginning is the place to look at.
    begun = "never closed" in what or "without ': '" in what
    mark = fault.context_mark if begun and fault.context_mark else fault.problem_mark
    if mark is None:
        return MalformedError(1, 1, what, hint)
    stop = fault.problem_mark
    if begun and stop is not None and _from(text, stop).startswith("["):
        return MalformedError(stop.line + 1, stop.column + 1, *_RANGE_IN_BRACES)
    if _from(text, mark).startswith("\t"):
        what, hint = "a tab, which YAML does not take", "indent with spaces"
    return MalformedError(mark.line + 1, mark.column + 1, what, hint)


def _from(text: str, mark: yaml.Mark) -> str:
    """The rest of the line from a mark on."""
    return "".join(text.split("\n")[mark.line : mark.line + 1])[mark.column :]
