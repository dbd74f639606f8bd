"""How a quantity of the catalogue is read: of the dimensions that fit, within limits, with a note.

A reading stands in the `Annotated` type of a record's field, as those of `values` do.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any

from quoter.catalogue.faults import fault
from quoter.catalogue.source import Text
from quoter.catalogue.spread import ranged, spread_in
from quoter.catalogue.values import ReadAs, need_short, text_of
from quoter.figures import Bounds, Figure, Origin, entered
from quoter.problems import quoted
from quoter.units import FEW, NONE, WRITTEN_IN, Quantity, Unit, UnitError, quantity, to_base, unit

_NOTE = re.compile(r"(?P<text>[^()]*+)\((?P<note>[^()]*+)\)\s*\Z")
# What an editor checks of a quantity: a number, then its unit where it needs one.
_MARKS = "'\"\u2019\u201d\u2032\u2033"
_NUMBER = "[+-]?(([0-9]+[.]?[0-9]*|[.][0-9]+)([ -][0-9]+/[0-9]+|/[0-9]+)?|[0-9]*[¼-¾⅐-⅞])"
_UNIT_PATTERN = rf"^ *{_NUMBER}( +[^ (]| ?[{_MARKS}])"
_BARE_PATTERN = rf"^ *{_NUMBER}( |$|[{_MARKS}])"
MONEY = Unit((("money", 1),))


def dimension(base: Unit) -> Unit:
    """The unit with every currency written as `money`, so that dimensions can be compared."""
    parts = Unit()
    for symbol, exponent in base.parts:
        one = MONEY if symbol in base.currencies else Unit(((symbol, 1),))
        parts = parts * one**exponent
    return parts


def _expected(names: tuple[str, ...]) -> tuple[Unit, ...]:
    found = []
    for name in names:
        above, _, below = name.partition("/")
        top = MONEY if above == "money" else to_base(unit(above))[0]
        bottom = to_base(unit(below))[0]
        found.append(top / bottom)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Measure(ReadAs):
    """Reads a quantity of given dimensions within limits; counts may be bare numbers.

    Only a `rate` may hold one currency per another: elsewhere the two would cancel unseen.
    """

    example: str
    dimensions: tuple[Unit, ...]
    low: float | None = None
    high: float | None = None
    above_low: bool = False
    below_high: bool = False
    whole: bool = False
    per_pack: bool = False
    rate: bool = False

    def __call__(self, raw: object) -> Figure:
        """The working Figure of a text, in base units, or a fault; the same text is one input."""
        text = text_of(raw)
        if text.meanings is None:
            text.meanings = {}
        if self not in text.meanings:
            text.meanings[self] = self._figure(text)
        found: Figure = text.meanings[self]
        return found

    def _figure(self, text: Text) -> Figure:
        need_short(text)
        words, note = self._parted(text)
        words, spread = spread_in(words)
        try:
            found = quantity(words)
        except UnitError as bad:
            raise fault(
                bad.code, bad.what, bad.hint if bad.likely else f"write {self._as_in}"
            ) from bad
        found = self._fitting(words, found)
        self._within(words, found)
        note = note or (f"was {text.was}" if text.was else "")
        origin = Origin(text.place, words, text.effective, note, bounds=self.bounds)
        if spread is not None:
            origin = ranged(origin, found, spread)
            for end in (origin.low, origin.high):
                if end is not None:
                    self._within(spread["range"], replace(found, number=end))
        return entered(found, text.key, text.label, origin)

    @property
    def bounds(self) -> Bounds:
        """The limits of what may be written."""
        return Bounds(self.low, self.high, self.above_low, self.below_high)

    def schema(self) -> dict[str, Any]:
        """An example, and that a note may follow."""
        bare = NONE in self.dimensions
        return {
            "type": ["string", "number"] if bare else "string",
            "pattern": _BARE_PATTERN if bare else _UNIT_PATTERN,
            "examples": [self.example],
            "description": f"such as '{self.example}'; [low to high] and (a note) may follow",
        }

    @property
    def in_words(self) -> str:
        """What kind of number it is, with its units and limits."""
        units = ", ".join(f"`{each}`" for each in self.units)
        told = f"{self._kind} in {units}" if self.units and not self._in_percent else self._kind
        return f"{told}; {self.limits}" if self.limits else told

    @property
    def units(self) -> tuple[str, ...]:
        """Units that it may be written in, the usual one first; none of a bare number."""
        usual = self.example.partition(" ")[2]
        found = [usual] if usual else []
        most = FEW if len(self.dimensions) > FEW else None
        for kind in self.dimensions if not self.rate else ():
            found += WRITTEN_IN[str(kind)].split()[:most] if kind != NONE else ()
        return tuple(dict.fromkeys(found))

    @property
    def _kind(self) -> str:
        if self.rate:
            return "a rate of exchange"
        if self.dimensions == (NONE,):
            number = "a whole number" if self.whole else "a number"
            return "a percentage" if self._in_percent else number
        money = all("money" in str(kind) for kind in self.dimensions)
        quantity = "an amount of money" if money else "a quantity"
        bare = NONE in self.dimensions
        return f"a bare number or percentage, or {quantity}" if bare else quantity

    @property
    def _in_percent(self) -> bool:
        return self.example.endswith("%")

    @property
    def _as_in(self) -> str:
        return f"for example '{self.example}'"

    def _parted(self, text: Text) -> tuple[str, str]:
        """The quantity and the note that may follow it in parentheses."""
        if not text.strip():
            raise fault("no-value", "has no value", f"write one, {self._as_in}")
        match = _NOTE.match(text)
        if match:
            return match["text"].strip(), match["note"]
        if "(" in text or ")" in text:
            hint = f"one note in parentheses may follow: '{self.example} (note)'"
            raise fault(
                "bad-note", f"{quoted(text)} has parentheses within each other or apart", hint
            )
        return str(text), ""

    def _fitting(self, words: str, found: Quantity) -> Quantity:
        one_money = self.rate or len(found.base.currencies) <= 1
        if one_money and dimension(found.base) in self.dimensions:
            return self._per_pack(found) if self.per_pack else found
        told = quoted(words)
        if found.base == NONE and not found.percent:
            raise fault("no-unit", f"{told} needs a unit", f"write {self._as_in}")
        if self.dimensions == (NONE,):
            raise fault(
                "plain-number",
                f"{told} has a unit where a plain number belongs",
                f"write {self._as_in}",
            )
        raise fault("wrong-unit", f"{told} has the wrong kind of unit", f"write {self._as_in}")

    @staticmethod
    def _per_pack(found: Quantity) -> Quantity:
        pack = unit("pack")
        return Quantity(found.number, found.unit / pack, found.base / pack, found.factor)

    def _within(self, words: str, found: Quantity) -> None:
        number = found.number
        too_low = self.low is not None and (
            number < self.low or (self.above_low and number == self.low)
        )
        too_high = self.high is not None and (
            number > self.high or (self.below_high and number == self.high)
        )
        if too_low or too_high:
            hint = f"expected {self.limits}"
            if self._percent and not found.percent and 1 < number <= 100:
                hint += f"; is '{number:g} %' meant?"
            raise fault("out-of-range", f"{quoted(words)} is out of range", hint)
        if self.whole and number != int(number):
            raise fault(
                "out-of-range", f"{quoted(words)} is not a whole number", f"write {self._as_in}"
            )

    @property
    def _percent(self) -> bool:
        return self.dimensions == (NONE,) and self.high is not None and self.high <= 1

    @property
    def limits(self) -> str:
        """The limits in words, such as ``more than 0``; nothing where there are none."""
        words = []
        for limit, word in (
            (self.low, "more than" if self.above_low else "at least"),
            (self.high, "less than" if self.below_high else "at most"),
        ):
            if limit is not None:
                words.append(f"{word} {limit * 100:g} %" if self._percent else f"{word} {limit:g}")
        return " and ".join(words)


def measure(example: str, *dimensions: str, **limits: Any) -> Measure:
    """How to read a quantity, such as ``measure("450 g/m2", "kg/m2")``."""
    return Measure(example, _expected(dimensions), **limits)
