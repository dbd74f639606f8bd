"""How a quantity of the catalogue is read: of the dimensions that fit, within limits, with a note.

A reading stands in the `Annotated` type of a record's field, as those of `values` do.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from quoter.catalogue.examples import example
from quoter.catalogue.faults import fault
from quoter.catalogue.source import Text
from quoter.catalogue.spread import ranged, spread_in
from quoter.catalogue.values import ReadAs, need_short, text_of
from quoter.figures import Bounds, Figure, Origin, entered
from quoter.problems import quoted
from quoter.units import FEW, NONE, WRITTEN_IN, Quantity, Unit, UnitError, quantity, to_base, unit

_NOTE = re.compile(r"(?P<text>[^()]*+)\((?P<note>[^()]*+)\)\s*\Z")
_MANY = re.compile(r"(?P<number>[1-9]\d{0,5}) ?[x×] ?(?P<one>\S.*)\Z", re.ASCII)
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
        return self._known(text_of(raw), self, _of_many if self.per_pack else quantity)

    def _known(self, text: Text, meaning: object, reading: Callable[[str], Quantity]) -> Figure:
        if text.meanings is None:
            text.meanings = {}
        if meaning not in text.meanings:
            text.meanings[meaning] = self._figure(text, reading)
        found: Figure = text.meanings[meaning]
        return found

    def _figure(self, text: Text, reading: Callable[[str], Quantity]) -> Figure:
        need_short(text)
        words, note = self._parted(text)
        words, spread = spread_in(words)
        try:
            found = reading(words)
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
        pattern = _BARE_PATTERN if bare else _UNIT_PATTERN
        if self.per_pack:
            pattern = pattern.replace("^ *", "^ *([1-9][0-9]* ?[x×] ?)?")
        return {
            "type": ["string", "number"] if bare else "string",
            "pattern": pattern,
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
        return f"for example '{example(self.example)}'"

    def _parted(self, text: Text) -> tuple[str, str]:
        """The quantity and the note that may follow it in parentheses."""
        if not text.strip():
            raise fault("no-value", "has no value", f"write one, {self._as_in}")
        match = _NOTE.match(text)
        if match:
            return match["text"].strip(), match["note"]
        if "(" in text or ")" in text:
            hint = f"one note in parentheses may follow: '{example(self.example)} (note)'"
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
        hint = f"write {self._as_in}"
        if found.unit == unit("oz"):
            meant = [each for area, each in OUNCES.items() if to_base(area)[0] in self.dimensions]
            hint = f"an ounce is a mass; {meant[0]}" if meant else hint
        raise fault("wrong-unit", f"{told} has the wrong kind of unit", hint)

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


def _of_many(words: str) -> Quantity:
    """What a pack holds, also as a number of smaller ones: ``12 x 300 mL``."""
    many = _MANY.match(words)
    if many is None:
        return quantity(words)
    one = quantity(many["one"])
    return replace(one, number=float(Fraction(repr(one.number)) * int(many["number"])))


# What ounces may be short for -> what to write.
OUNCES = {
    unit("oz/ft2"): "write 'oz/ft2' or 'oz/yd2', whichever is meant",
    unit("floz"): "a fluid ounce is written 'floz'",
}
# The area that a glass named in ounces is by, by its form (common practice, no source).
NAMED_BY = {"mat": unit("oz/ft2"), "woven": unit("oz/yd2"), "stitched": unit("oz/yd2")}


class GlassMeasure(Measure):
    """Reads the areal mass of a glass, which people name in ounces by its form: a mat of 1.5 oz
    is of 1.5 oz/ft2, a woven roving of 24 oz of 24 oz/yd2."""

    __slots__ = ()

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with the form, which stands before."""
        return core_schema.with_info_plain_validator_function(self._of_form)

    def _of_form(self, raw: object, info: ValidationInfo) -> Figure:
        form = (info.data or {}).get("form", "mat")  # where it can't be read, that alone is told

        def reading(words: str) -> Quantity:
            return _by_area(quantity(words), words, form)

        return self._known(text_of(raw), (self, form), reading)


def _by_area(found: Quantity, words: str, form: str) -> Quantity:
    """Ounces alone by the area that the form is named by."""
    if found.unit != unit("oz"):
        return found
    if form not in NAMED_BY:
        what = f"{quoted(words)} of a {form} does not say of which area"
        raise UnitError("wrong-unit", what, OUNCES[unit("oz/ft2")])
    by_area = NAMED_BY[form]
    return Quantity(found.number, by_area, *to_base(by_area))


REST = "the rest"


class ShareMeasure(Measure):
    """Reads a share of an area, or `the rest` of it, which stays the words."""

    __slots__ = ()

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read as the words or as a quantity."""
        return core_schema.no_info_plain_validator_function(self._or_rest)

    def _or_rest(self, raw: object) -> Figure | Text:
        text = text_of(raw)
        return text if text == REST else self(text)

    def schema(self) -> dict[str, Any]:
        """As a quantity, or the words."""
        quantity, words = super().schema(), {"const": REST}
        return {"anyOf": [quantity, words], "examples": [self.example, REST]}

    @property
    def in_words(self) -> str:
        """What kind of number it is, and the words."""
        return f"{super().in_words}, or `{REST}`"


def measure(example: str, *dimensions: str, **limits: Any) -> Measure:
    """How to read a quantity, such as ``measure("450 g/m2", "kg/m2")``."""
    return Measure(example, _expected(dimensions), **limits)


def glass_measure(example: str, *dimensions: str, **limits: Any) -> GlassMeasure:
    """How to read the areal mass of a glass, which may be named in ounces."""
    return GlassMeasure(example, _expected(dimensions), **limits)


def share_measure(example: str, **limits: Any) -> ShareMeasure:
    """How to read a share of an area, or the rest of it."""
    return ShareMeasure(example, _expected(("",)), **limits)
