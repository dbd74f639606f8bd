"""Drawings of parts, read once more, each by what its own view tells and nothing else.

Elsewhere a number is accounted for if any view has it. In a drawing that would let a stack pass: as
many layers as another option has hinges, the thickness of another door. So what a drawing says is
held against its own views alone; a label that says what a number is must be of a measure that this
drawing tells; a mass is in none.

Coordinates are no words. They stand in attributes that place something, where they are known as a
whole and as nothing else, so they neither excuse a number of a text nor are taken for one. Nor can
they hold a secret: `quoter.pages.public.drawn_parts` draws from public measures alone, and a
section is to scale only as far as its measures are told.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html import unescape

from quoter.leaks.allowed import Allowed, drawn_readings
from quoter.leaks.reduction import BLANK, Rest
from quoter.pages.public.drawn_views import DrawingView, SectionView
from quoter.pages.public.views import OptionView, SheetView, StandardView
from quoter.pricing.public import PublicMeasure
from quoter.wording import wording

_DRAWING = re.compile(
    r'<svg class="drawing parts"(?: id="drawn-([\w-]*)")?.*?(?:</svg>|\Z)', re.DOTALL
)
_BETWEEN = re.compile(r">([^<]+)<")
_NUMBER = re.compile(r"\s*(?:×\s*)?(\d[\d.,'\u2019\u00a0\u202f]*\d|\d)")
# What labels of a section are called, as the template has them, by what they are of.
THICK, CORE = ("Thickness", "thickness"), ("Core", "core")
LAYERS = {
    "Layers of glass mat": "mat",
    "Layers of woven glass": "woven",
    "Layers of stitched glass": "stitched",
    "Layers of glass veil": "veil",
    "Layers of flow mat": "flow core",
    "Layers of sprayed glass": "gun roving",
}


@dataclass(slots=True)
class _Told:
    """What the drawings of one option on any model tell: its names, views, and labels' measures."""

    names: set[str] = field(default_factory=set)
    views: list[DrawingView] = field(default_factory=list)
    allowed: Allowed | None = None

    def labels(self) -> Iterator[tuple[str, PublicMeasure | int]]:
        """Each label that may stand here with its number."""
        for view in self.views:
            for part in view.parts:
                yield from () if part.section is None else _labels(part.section)

    def counts(self) -> Iterator[int]:
        """How many copies, fittings and layers they have."""
        for part in (part for view in self.views for part in view.parts):
            yield part.count
            yield from (each.count for each in part.fitted)
            yield from () if part.section is None else (n.count for n in part.section.layers)


def _labels(cut: SectionView) -> Iterator[tuple[str, PublicMeasure | int]]:
    for words, measure in ((THICK, cut.thickness), (CORE, cut.core_thickness)):
        if measure is not None:
            yield from ((word, measure) for word in words)
    for layers in cut.layers:
        yield from ((word, layers.count) for word, form in LAYERS.items() if form == layers.form)


class Drawings:
    """Reads the drawings of a sheet's pages; one that was read is known."""

    def __init__(self, sheet: SheetView, allowed: Allowed) -> None:
        """Find what each drawing tells; nothing is read yet.

        Args:
            sheet: whose pages have the drawings
            allowed: what its pages may say elsewhere, for how they write it
        """
        self._elsewhere = allowed
        self._known: set[str] = set()
        self._told: dict[str, _Told] = {}
        for model in sheet.models:
            items: list[OptionView | StandardView] = [*model.standard, *model.options]
            for item in items:
                if item.drawing is not None:
                    told = self._told.setdefault(item.drawing.id, _Told())
                    told.names.add(item.name)
                    if item.drawing not in told.views:
                        told.views.append(item.drawing)
        say = wording(allowed.locale)
        self._words = {word: str(say(word)) for word in (*THICK, *CORE, *LAYERS)}
        longest = sorted({*self._words.values()}, key=len, reverse=True)
        self._labels = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest))})(?!\w)")

    def rests(self, page: str) -> Iterator[Rest]:
        """What of a page's drawings their own views don't tell."""
        for found in _DRAWING.finditer(page):
            if found[0] in self._known:
                continue
            rests = [Rest(rest.text, found.start() + rest.start) for rest in self._rests(found)]
            if not rests:
                self._known.add(found[0])
            yield from rests

    def _rests(self, found: re.Match[str]) -> Iterator[Rest]:
        told = self._told.get(found[1] or "")
        if told is None:
            yield Rest(found[0].partition(">")[0] + ">", 0)
            return
        allowed = self._allowed(told)
        for text in _BETWEEN.finditer(found[0]):
            words = unescape(text[1]).strip(BLANK)
            for rest in (*allowed.rests(words), *self._mislabelled(words, told, allowed)):
                yield Rest(rest.text, text.start(1))

    def _allowed(self, told: _Told) -> Allowed:
        if told.allowed is None:
            like = self._elsewhere
            told.allowed = Allowed(told.views, like.locale, like.currency, like.own)
            told.allowed.add_texts(*told.names)
            told.allowed.counts = set(told.counts())  # how long a tuple is means nothing here
        return told.allowed

    def _mislabelled(self, text: str, told: _Told, allowed: Allowed) -> Iterator[Rest]:
        """A label of what this drawing doesn't tell, or with another number than it tells of it."""
        for at in self._labels.finditer(text):
            number = _NUMBER.match(text, at.end())
            values = [value for label, value in told.labels() if self._words[label] == at[0]]
            if not values or (number and not any(_is(number[1], v, allowed) for v in values)):
                yield Rest(text[at.start() : number.end() if number else at.end()], at.start())


def _is(number: str, value: PublicMeasure | int, allowed: Allowed) -> bool:
    """Whether a number as it is written is a value: a count, or millimetres or inches of it."""
    wanted = {value} if isinstance(value, int) else drawn_readings(value.amount)
    return any(read in wanted for read in allowed.values(number))
