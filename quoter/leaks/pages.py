"""Pages and what they are made with, read piece by piece: every byte belongs to a piece.

Nothing is left out because a browser would: a comment is no piece that any template writes, and a
tag that is not written as the templates write them is told as a whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

from quoter.leaks.allowed import Allowed
from quoter.leaks.data import json_rests
from quoter.leaks.drawings import Drawings
from quoter.leaks.reduction import BLANK, Rest
from quoter.pages.environment import asset

_PIECE = re.compile(r"(<[^<>]*>)")
_TAG = re.compile(
    r'<(/?)([a-z][a-z0-9]*)((?:\s+[a-zA-Z][\w:-]*(?:="[^"<>]*")?)*)\s*/?>\Z', re.ASCII
)
_ATTRIBUTE = re.compile(r'\s+([a-zA-Z][\w:-]*)(?:="([^"<>]*)")?', re.ASCII)
_LINKED_DATA, _STYLE = '<script type="application/ld+json">', "<style>"
_FOOT = re.compile(
    r"\s*(?:@media print \{\s*)?@page \{\s*(?:size: (?:a4|letter); )?@bottom-left "
    r'\{ content: "((?:[a-zA-Z0-9]|\\[0-9a-f]+ )*)"; '
    r"font: 8pt sans-serif; \}\s*\}\s*(?:\}\s*)?\Z"
)
_ESCAPE = re.compile(r"\\([0-9a-f]+) ")
# What a reader takes for one number though tags stand within; a cell, a line or a box parts it.
_PARTS = "td|th|tr|li|p|dt|dd|div|h[1-6]|br|option|ul|dl|table|section|article|svg|g|path|rect"
_WITHIN = re.compile(rf"<(?!/?(?:{_PARTS})\b)", re.IGNORECASE)
_POINTS = ".,"
_DIGITS = "0123456789.,"  # those of other scripts are in no text of the program
_DOCTYPE = "<!DOCTYPE html>"
_PLACING = frozenset(("d", "x", "y", "width", "height", "viewBox", "transform"))
_COUNTED = ("colspan", "width", "height")  # attributes that are a count of what a view has
_STYLES = ("shared/base.css", "quote/quote.css")
# Where a line ends behind one tag and the next begins with another: no piece reaches across, and no
# number does, so that lines may be read apart, in any order.
_HEAD, _BREAK, _TAIL = "<", ">\n<", ">\n"
_LONGEST_KEPT = 1000  # lines that stand on many pages are short


class Pages:
    """Reads the pages of a price sheet or quote; what is known of one is known of the next."""

    def __init__(self, allowed: Allowed, drawings: Drawings | None = None) -> None:
        """Begin with nothing read; where parts are drawn, with what each drawing tells."""
        self.allowed, self._drawings = allowed, drawings
        self._known: set[str] = {_DOCTYPE, ""}
        self._values: set[tuple[str, str]] = set()
        self._lines: set[str] = set()

    def rests(self, text: str) -> Iterator[Rest]:
        """What of a page nobody accounts for.

        Most of its lines stand on other pages as well, so only the others are read; where there is
        a rest, the page is read as a whole, to tell its place.
        """
        if self._drawings is not None:
            yield from self._drawings.rests(text)
        if text.startswith(_HEAD) and text.endswith(_TAIL):
            lines = text.removeprefix(_HEAD).removesuffix(_TAIL).split(_BREAK)
            fresh = [line for line in dict.fromkeys(lines) if line not in self._lines]
            if not any(True for _ in self._rests(f"{_HEAD}{_BREAK.join(fresh)}{_TAIL}")):
                self._lines.update(line for line in fresh if len(line) <= _LONGEST_KEPT)
                return
        yield from self._rests(text)

    def _rests(self, text: str) -> Iterator[Rest]:
        pieces = _PIECE.split(text)
        for element, read in ((_LINKED_DATA, json_rests), (_STYLE, style_rests)):
            for place in _places(pieces, element):
                at = sum(map(len, pieces[:place]))
                inside = pieces[place]
                yield from (Rest(each.text, at + each.start) for each in read(inside, self.allowed))
                pieces[place] = " " * len(inside)
        yield from _through(pieces)
        unknown = {piece for piece in set(pieces) - self._known if not self._is_known(piece)}
        self._known.update(set(pieces) - unknown)
        if unknown:
            yield from self._told(pieces, unknown)

    def _told(self, pieces: list[str], unknown: set[str]) -> Iterator[Rest]:
        at, told = 0, set()
        for piece in pieces:
            if piece in unknown and piece not in told:
                told.add(piece)
                for rest in self._piece_rests(piece):
                    yield Rest(rest.text, at + rest.start)
            at += len(piece)

    def _is_known(self, piece: str) -> bool:
        if piece.startswith("<"):
            return self._is_tag(piece)
        text = unescape(piece) if "&" in piece else piece
        return self.allowed.knows(text.strip(BLANK))

    def _is_tag(self, piece: str) -> bool:
        tag = _TAG.match(piece)
        if tag is None or tag[2] not in self.allowed.own.elements:
            return False
        return all(self._is_attribute(name, value) for name, value in _ATTRIBUTE.findall(tag[3]))

    def _is_attribute(self, name: str, value: str) -> bool:
        own = self.allowed.own
        if name not in own.names:
            return False
        if (name, value) in self._values or f'{name}="{value}"' in own.attributes:
            return True
        if name in _PLACING and value in self.allowed.coordinates:
            return True
        known = self.allowed.knows(unescape(value) if "&" in value else value)
        if name in _COUNTED and value.isdecimal():
            known = int(value) in self.allowed.counts
        if known:
            self._values.add((name, value))
        return known

    def _piece_rests(self, piece: str) -> Iterator[Rest]:
        """What of an unknown piece is unknown: of a tag that is one, only some values may be."""
        tag = _TAG.match(piece)
        if not piece.startswith("<"):
            yield from self._text_rests(piece)
            return
        if tag is None or tag[2] not in self.allowed.own.elements:
            yield Rest(piece, 0)
            return
        for found in _ATTRIBUTE.finditer(tag[3]):
            name, value = found[1], found[2] or ""
            if self._is_attribute(name, value):
                continue
            start = tag.start(3) + found.start(1)
            if name not in self.allowed.own.names:
                yield Rest(found[0].strip(), start)
                continue
            told = [*self._text_rests(value)] or [Rest(value, 0)]
            yield from (Rest(rest.text, start + len(name) + 2 + rest.start) for rest in told)

    def _text_rests(self, written: str) -> Iterator[Rest]:
        """What of a text that may be written in entities; the place is about where it begins."""
        text = unescape(written)
        for rest in self.allowed.rests(text):
            found = written.find(rest.text)
            yield Rest(rest.text, max(found, 0) if text != written else rest.start)


def style_rests(text: str, allowed: Allowed) -> Iterator[Rest]:
    """What of a quote's styles is neither the program's own nor what stands at a page's foot."""
    left = text
    for name in _STYLES:
        left = left.replace(asset(name).decode(), "", 1)
    for rest in foot_rests(left, allowed):
        yield Rest(rest.text, max(text.find(rest.text), 0))


def foot_rests(text: str, allowed: Allowed) -> Iterator[Rest]:
    """What of the style of a printed page's foot nobody accounts for."""
    found = _FOOT.match(text)
    if found is None:
        yield Rest(text.strip(), 0)
        return
    said = _ESCAPE.sub(lambda code: chr(int(code[1], 16)), found[1])
    yield from (Rest(rest.text, found.start(1)) for rest in allowed.rests(said))


def _places(pieces: list[str], element: str) -> Iterator[int]:
    """Where the text of each element stands that begins with this tag."""
    place = 0
    while element in pieces[place:]:
        place = pieces.index(element, place) + 1
        yield place


def _through(pieces: list[str]) -> Iterator[Rest]:
    """Digits that only tags within a line keep apart, which a reader takes for one number."""
    ends = [2 * at for at, text in enumerate(pieces[::2]) if text and text[-1] in _DIGITS]
    for place in ends:
        end = place + 1
        while end < len(pieces) and (not pieces[end] or _WITHIN.match(pieces[end])):
            end += 1
        after = pieces[end].lstrip(_POINTS) if end < len(pieces) else ""
        if after[:1].isdecimal() and pieces[place].rstrip(_POINTS)[-1:].isdecimal():
            told = "".join(pieces[place + 1 : end])
            at = sum(map(len, pieces[:place])) + len(pieces[place]) - 1
            yield Rest(f"{pieces[place][-1]}{told}{after[0]}", at)
