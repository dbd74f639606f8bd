"""How a text of the catalogue is read: as a quantity, a word, an id, or by a check of its own.

Each reading stands in the `Annotated` type of a record's field: it turns a `Text` into a Figure or
a checked text, or says what was found and what would be right. Each also describes itself for the
JSON Schema that editors use.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from quoter.catalogue.faults import fault
from quoter.catalogue.source import Items, Text
from quoter.catalogue.spread import ranged, spread_in
from quoter.figures import Bounds, Figure, Origin, entered
from quoter.intake import LONGEST_TEXT
from quoter.problems import nearest, quoted
from quoter.units import FEW, NONE, WRITTEN_IN, Quantity, Unit, UnitError, quantity, to_base, unit

_NOTE = re.compile(r"(?P<text>[^()]*+)\((?P<note>[^()]*+)\)\s*\Z")
# What an editor checks of a quantity: a number, then its unit where it needs one.
_UNIT_PATTERN = r"^ *[+-]?([0-9]+[.]?[0-9]*|[.][0-9]+) +[^ (]"
_BARE_PATTERN = r"^ *[+-]?([0-9]+[.]?[0-9]*|[.][0-9]+)( |$)"
MONEY = Unit((("money", 1),))


def text_of(raw: object) -> Text:
    """The scalar itself, refusing a block or a list where a single value is expected."""
    if isinstance(raw, Text):
        return raw
    kind = "a list" if isinstance(raw, Items) else "keys"
    raise fault(
        "wrong-structure",
        f"holds {kind} where one value belongs",
        "write a single value after the key",
    )


def need_short(text: str) -> None:
    """Refuse a text that nobody would read to its end."""
    if len(text) > LONGEST_TEXT:
        hint = f"at most {LONGEST_TEXT} characters fit"
        raise fault("too-much", f"{quoted(text)} has {len(text)} characters", hint)


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


class ReadAs:
    """How a text is read: stands in `Annotated[...]`, for pydantic and for the JSON Schema."""

    __slots__ = ()

    def __call__(self, raw: object) -> object:
        """The meaning of a raw value, or a fault."""
        raise TypeError(f"{type(self).__name__} does not say how to read {raw!r}")

    def schema(self) -> dict[str, Any]:
        """What an editor should know of the value."""
        return {"type": "string"}

    @property
    def in_words(self) -> str:
        """What is to be written, as the reference of keys says it."""
        return "a text"

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with this object and nothing else."""
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Describe with this object."""
        return self.schema()


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


@dataclass(frozen=True, slots=True)
class Maybe(ReadAs):
    """Reads a cell that may be left empty."""

    inner: ReadAs

    def __call__(self, raw: object) -> object:
        """None for an empty cell, else what the inner reading makes of it."""
        return self.inner(raw) if text_of(raw).strip() else None

    def schema(self) -> dict[str, Any]:
        """As the inner reading."""
        return self.inner.schema()

    @property
    def in_words(self) -> str:
        """As the inner reading."""
        return self.inner.in_words


def measure(example: str, *dimensions: str, **limits: Any) -> Measure:
    """How to read a quantity, such as ``measure("450 g/m2", "kg/m2")``."""
    return Measure(example, _expected(dimensions), **limits)


@dataclass(frozen=True, slots=True)
class OneOf(ReadAs):
    """Reads one of a few words."""

    words: tuple[str, ...]

    def __call__(self, raw: object) -> str:
        """The word itself, or a fault that names the nearest."""
        text = text_of(raw)
        if not text.strip():
            raise fault("no-value", "has no value", nearest("", self.words))
        if text not in self.words:
            raise fault(
                "unknown-word",
                f"{quoted(text)} is no word that fits here",
                nearest(text, self.words),
            )
        return str(text)

    def schema(self) -> dict[str, Any]:
        """The words to choose from."""
        return {"type": "string", "enum": list(self.words)}

    @property
    def in_words(self) -> str:
        """The words to choose from, one after the other."""
        return "one of " + ", ".join(f"`{word}`" for word in self.words)


def choice(*words: str) -> OneOf:
    """How to read one of a few words."""
    return OneOf(words)


@dataclass(frozen=True, slots=True)
class Plain(ReadAs):
    """Reads a text by a function that checks it."""

    check: Callable[[Text], Any]
    described: tuple[tuple[str, Any], ...] = (("type", ("string", "number", "boolean")),)
    called: str = "a text"

    def __call__(self, raw: object) -> Any:
        """The checked text, or a fault."""
        return self.check(text_of(raw))

    def schema(self) -> dict[str, Any]:
        """As described."""
        return dict(self.described)

    @property
    def in_words(self) -> str:
        """What such a text is called."""
        return self.called


@dataclass(frozen=True, slots=True)
class Worded(Plain):
    """Reads a text that customers read, each in their own language.

    One that `keeps` may stay as it is, as a proper name may; where a text `joins` records that
    have the same words, all of them are translated alike.
    """

    called: str = "a text for customers, which is translated"
    keeps: bool = False
    joins: bool = False


@dataclass(frozen=True, slots=True)
class Ref(ReadAs):
    """Reads an identifier that must be the id of a record of one of these kinds."""

    kinds: tuple[str, ...]

    def __call__(self, raw: object) -> Text:
        """The identifier; that the record exists is checked when all are read."""
        text = text_of(raw)
        if not text.strip():
            raise fault("no-value", "has no value", f"write the id of a {self.named}")
        return text

    def schema(self) -> dict[str, Any]:
        """What it names."""
        return {"type": "string", "description": self.in_words}

    @property
    def in_words(self) -> str:
        """Whose id is to be written."""
        return f"the id of {'an' if self.named[0] in 'aeiou' else 'a'} {self.named}"

    @property
    def named(self) -> str:
        """What people call a record of these kinds."""
        for kind, together in (("core", "part"), ("resin", "material")):
            if len(self.kinds) > 1 and kind in self.kinds:
                return together
        return "bought item" if self.kinds == ("bought",) else self.kinds[0].replace("_", " ")


def ref(*kinds: str) -> Ref:
    """How to read the id of another record."""
    return Ref(kinds)
