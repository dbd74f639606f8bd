"""Single values of a YAML file written otherwise, each at its own place; all else keeps its bytes.

A value keeps its quotes, and gets some where it needs them. Nothing is done by pattern: the file is
parted into the marks that YAML reads it by, and read again afterwards, when only the values that
were written may be others.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import yaml

from quoter.catalogue.yaml_nodes import LOADER
from quoter.problems import UNPRINTABLE, Place, quoted

_LINE_ENDS = re.compile("\r\n?|[\n\x85\u2028\u2029]")  # as the reading of a catalogue has them
_BOM = b"\xef\xbb\xbf"
_NAMES = re.compile(r"(?:[&!]\S*\s+)*\Z")  # an anchor or a tag, which stands before its value
_BEGINS = "-?:,[]{}#&*!|>'\"%@`"  # with these a plain value can't begin, or not everywhere
_IN_FLOW = re.compile(r"[,\[\]{}]")


class RewriteError(ValueError):
    """Raised where a value can't be written otherwise at its place; says what would help."""

    code = "not-rewritten"

    def __init__(self, place: Place, what: str, hint: str) -> None:
        """Keep them apart for the message."""
        super().__init__(f"{place.clickable}: {what}; {hint}")
        self.place, self.what, self.hint = place, what, hint


@dataclass(frozen=True, slots=True)
class _Scalar:
    """Where a value's own letters begin and end, quotes included: lines and columns from 0."""

    start: tuple[int, int]
    end: tuple[int, int]
    style: str
    in_flow: bool


@dataclass(slots=True)
class WrittenFile:
    """A YAML file of the catalogue, by name, as bytes in which values have their places.

    It is sound UTF-8, since the catalogue was read.
    """

    name: str
    content: bytes
    _text: str = field(init=False)
    _starts: list[int] = field(init=False)
    _scalars: list[_Scalar] = field(init=False)

    def __post_init__(self) -> None:
        """Find every value."""
        self._text = self.content.decode("utf-8-sig")
        self._starts = [0, *(end.end() for end in _LINE_ENDS.finditer(self._text))]
        self._scalars = list(_scalars_in(_plain(self._text)))

    def token(self, place: Place) -> str:
        """The value at a place as it is written, in its quotes if it has some.

        Raises:
            RewriteError: it stands on several lines, or is none.
        """
        scalar = self._at(place)
        return self._text[self._offset(scalar.start) : self._offset(scalar.end)]

    def rewritten(self, values: Mapping[Place, str], *, tokens: bool = False) -> bytes:
        """The file's bytes with other values at some places.

        Args:
            values: by the place that reading gives a value; each is the text that is meant or,
                with `tokens`, that text as `token` gives it
            tokens: whether values stand in their own quotes where they need some
        Raises:
            RewriteError: a value stands on several lines, or the text can't stand there.
        """
        text, meant = self._text, dict[_Scalar, str]()
        found = {self._at(place): (place, words) for place, words in values.items()}
        for scalar in sorted(found, key=lambda scalar: scalar.start, reverse=True):
            place, words = found[scalar]
            token, meant[scalar] = _token(scalar, words, place, tokens=tokens)
            text = text[: self._offset(scalar.start)] + token + text[self._offset(scalar.end) :]
        self._need_the_rest_alike(text, found, meant)
        begins = _BOM if self.content.startswith(_BOM) else b""
        return begins + text.encode("utf-8")

    def _at(self, place: Place) -> _Scalar:
        here = (place.line - 1, place.column - 1)
        at = bisect_left(self._scalars, here, key=lambda scalar: scalar.start)
        scalar = self._scalars[at] if at < len(self._scalars) else None
        if (
            scalar is None
            or here[0] >= len(self._starts)
            or not _NAMES.match(self._text[self._offset(here) : self._offset(scalar.start)])
        ):
            what = "no value stands there"
            raise RewriteError(place, what, "write the value by hand")
        if scalar.style in ("|", ">") or scalar.start[0] != scalar.end[0]:
            what = "the value stands on several lines"
            raise RewriteError(place, what, "write it on the line of its key, then try again")
        return scalar

    def _offset(self, at: tuple[int, int]) -> int:
        return self._starts[at[0]] + at[1]

    def _need_the_rest_alike(
        self, text: str, found: Mapping[_Scalar, tuple[Place, str]], meant: Mapping[_Scalar, str]
    ) -> None:
        """Read both texts, in which only what is meant may differ.

        Raises:
            RewriteError: something else is read otherwise.
        """
        new = {(scalar.start): words for scalar, words in meant.items()}
        before = [
            (kind, new.get(at, value) if kind == "value" else value)
            for kind, at, value in _read(_plain(self._text))
        ]
        try:
            after = [(kind, value) for kind, _, value in _read(_plain(text))]
        except yaml.YAMLError:
            after = []
        if before != after:
            place, words = next(iter(found.values()))
            what = f"with {quoted(words)} the file would be read otherwise"
            raise RewriteError(place, what, "write the value by hand")


def _plain(text: str) -> str:
    """A text with the line ends that its reading gives it."""
    return _LINE_ENDS.sub("\n", text)


def _scalars_in(text: str) -> list[_Scalar]:
    found, depth = [], 0
    for token in yaml.scan(text, Loader=LOADER):
        if isinstance(token, yaml.FlowMappingStartToken | yaml.FlowSequenceStartToken):
            depth += 1
        elif isinstance(token, yaml.FlowMappingEndToken | yaml.FlowSequenceEndToken):
            depth -= 1
        elif isinstance(token, yaml.ScalarToken):
            start, end = token.start_mark, token.end_mark
            style = "" if token.plain else str(token.style)
            ends = (start.line, start.column), (end.line, end.column)
            found.append(_Scalar(*ends, style, depth > 0))
    return found


def _read(text: str) -> list[tuple[str, tuple[int, int], Any]]:
    """All that a YAML text says, in order: of values where their letters begin, and the words."""
    starts = iter(scalar.start for scalar in _scalars_in(text))
    found: list[tuple[str, tuple[int, int], Any]] = []
    for event in yaml.parse(text, Loader=LOADER):
        anchor = getattr(event, "anchor", None)
        if not isinstance(event, yaml.ScalarEvent):
            found.append((type(event).__name__, (0, 0), anchor))
            continue
        found.append(("anchor", (0, 0), anchor))
        left_out = not event.value and not event.style  # it has no letters
        at = (-1, -1) if left_out else next(starts, (-1, -1))
        found.append(("value", at, event.value))
    return found


def _token(scalar: _Scalar, words: str, place: Place, *, tokens: bool) -> tuple[str, str]:
    """A value as it is written at a place, and what is read there then.

    Raises:
        RewriteError: it holds a line end or what no file may hold, or is nothing.
    """
    if not words.strip() or UNPRINTABLE.search(words) or _LINE_ENDS.search(words):
        what = f"{quoted(words)} is no value on one line"
        raise RewriteError(place, what, "write a number with its unit")
    meant = words
    if tokens and len(words) > 1 and words[0] == words[-1] and words[0] in "'\"":
        within = [token.value for token in _tokens_of(words)]
        if len(within) == 1:
            return words, within[0]
    if tokens or not scalar.style:
        if _stands_plain(words, in_flow=scalar.in_flow):
            return words, meant
        single = '"' in words or "\\" in words
        return _in_quotes(words, "'" if single else '"'), meant
    return _in_quotes(words, scalar.style), meant


def _tokens_of(words: str) -> list[Any]:
    try:
        return [t for t in yaml.scan(words, Loader=LOADER) if isinstance(t, yaml.ScalarToken)]
    except yaml.YAMLError:
        return []


def _in_quotes(words: str, quote: str) -> str:
    if quote == "'":
        return "'" + words.replace("'", "''") + "'"
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _stands_plain(words: str, *, in_flow: bool) -> bool:
    """Whether a text is read as it is without quotes."""
    if words != words.strip() or words[0] in _BEGINS or words.startswith(("---", "...")):
        return False
    if ": " in words or " #" in words or words.endswith(":") or "\t" in words:
        return False
    return not (in_flow and _IN_FLOW.search(words))
