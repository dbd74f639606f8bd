"""What a text of the catalogue may mean: quantities with units, identifiers, dates, choices.

Each is an annotated type for the pydantic records: it turns a `Text` into a Figure (or date, or
checked text), or says what was found and what would be right. Each also describes itself for the
JSON Schema that editors use.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from quoter.catalogue.source import Block, Items, Text
from quoter.figures import Figure, Origin, entered
from quoter.problems import nearest, quoted
from quoter.units import NONE, Quantity, Unit, UnitError, quantity, to_base, unit

_NOTE = re.compile(r"(?P<text>[^()]*?)\s*\((?P<note>[^()]*)\)\s*\Z")
_IDENTIFIER = re.compile(r"[a-z][a-z0-9_]*\Z")
_CURRENCY = re.compile(r"[A-Z]{3}\Z")
_DAY = re.compile(r"\d{4}-\d\d-\d\d\Z")
LONGEST_TEXT = 2000  # characters; a spreadsheet's cell would take 32767, a reader would not
MONEY = Unit((("money", 1),))


def fault(what: str, hint: str) -> PydanticCustomError:
    """A fault of one value, for `reading` to turn into a Problem at its place.

    `what` goes on from the value's name: "'12' needs a unit", "is empty".
    """
    return PydanticCustomError("catalogue", "{what}", {"what": what, "hint": hint})


def text_of(raw: object) -> Text:
    """The scalar itself, refusing a block or a list where a single value is expected."""
    if isinstance(raw, Text):
        return raw
    kind = "a list" if isinstance(raw, Items) else "keys"
    raise fault(f"holds {kind} where one value belongs", "write a single value after the key")


def dimension(base: Unit) -> Unit:
    """The unit with every currency written as `money`, so that dimensions can be compared."""
    parts = Unit()
    for symbol, exponent in base.parts:
        one = MONEY if _CURRENCY.match(symbol) else Unit(((symbol, 1),))
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


class Reading:
    """How a text is read: stands in `Annotated[...]`, for pydantic and for the JSON Schema."""

    __slots__ = ()

    def __call__(self, raw: object) -> object:
        """The meaning of a raw value, or a fault."""
        raise TypeError(f"{type(self).__name__} does not say how to read {raw!r}")

    def schema(self) -> dict[str, Any]:
        """What an editor should know of the value."""
        return {"type": "string"}

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with this object and nothing else."""
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Describe with this object."""
        return self.schema()


@dataclass(frozen=True, slots=True)
class Measure(Reading):
    """Reads a quantity of given dimensions within limits; counts may be bare numbers."""

    example: str
    dimensions: tuple[Unit, ...]
    low: float | None = None
    high: float | None = None
    above_low: bool = False
    below_high: bool = False
    whole: bool = False
    per_pack: bool = False

    def __call__(self, raw: object) -> Figure:
        """The working Figure of a text, in base units, or a fault."""
        text = text_of(raw)
        words, note = self._parted(text)
        try:
            found = quantity(words)
        except UnitError as bad:
            raise fault(bad.what, f"{bad.hint}; {self._as_in}") from bad
        found = self._fitting(words, found)
        self._within(words, found)
        origin = Origin(text.place, words, text.effective, note)
        return entered(found, text.key, text.label, origin)

    def schema(self) -> dict[str, Any]:
        """An example, and that a note may follow."""
        described = f"a quantity such as '{self.example}'; a note may follow in parentheses"
        return {"type": ["string", "number"], "examples": [self.example], "description": described}

    @property
    def _as_in(self) -> str:
        return f"for example '{self.example}'"

    def _parted(self, text: Text) -> tuple[str, str]:
        """The quantity and the note that may follow it in parentheses."""
        if not text.strip():
            raise fault("has no value", f"write one, {self._as_in}")
        match = _NOTE.match(text)
        if match:
            return match["text"].strip(), match["note"]
        if "(" in text or ")" in text:
            hint = f"one note in parentheses may follow: '{self.example} (note)'"
            raise fault(f"{quoted(text)} has parentheses within each other or apart", hint)
        return str(text), ""

    def _fitting(self, words: str, found: Quantity) -> Quantity:
        if dimension(found.base) in self.dimensions:
            return self._per_pack(found) if self.per_pack else found
        told = quoted(words)
        if found.base == NONE and not found.percent:
            raise fault(f"{told} needs a unit", f"write {self._as_in}")
        if self.dimensions == (NONE,):
            raise fault(f"{told} has a unit where a plain number belongs", f"write {self._as_in}")
        raise fault(f"{told} has the wrong kind of unit", f"write {self._as_in}")

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
            hint = f"expected {self._range()}"
            if self._percent and not found.percent and 1 < number <= 100:
                hint += f"; is '{number:g} %' meant?"
            raise fault(f"{quoted(words)} is out of range", hint)
        if self.whole and number != int(number):
            raise fault(f"{quoted(words)} is not a whole number", f"write {self._as_in}")

    @property
    def _percent(self) -> bool:
        return self.dimensions == (NONE,) and self.high is not None and self.high <= 1

    def _range(self) -> str:
        words = []
        for limit, word in (
            (self.low, "more than" if self.above_low else "at least"),
            (self.high, "less than" if self.below_high else "at most"),
        ):
            if limit is not None:
                words.append(f"{word} {limit * 100:g} %" if self._percent else f"{word} {limit:g}")
        return " and ".join(words)


@dataclass(frozen=True, slots=True)
class Maybe(Reading):
    """Reads a cell that may be left empty."""

    inner: Reading

    def __call__(self, raw: object) -> object:
        """None for an empty cell, else what the inner reading makes of it."""
        return self.inner(raw) if text_of(raw).strip() else None

    def schema(self) -> dict[str, Any]:
        """As the inner reading."""
        return self.inner.schema()


def measure(example: str, *dimensions: str, **limits: Any) -> Measure:
    """How to read a quantity, such as ``measure("450 g/m2", "kg/m2")``."""
    return Measure(example, _expected(dimensions), **limits)


@dataclass(frozen=True, slots=True)
class Choice(Reading):
    """Reads one of a few words."""

    words: tuple[str, ...]

    def __call__(self, raw: object) -> str:
        """The word itself, or a fault that names the nearest."""
        text = text_of(raw)
        if not text.strip():
            raise fault("has no value", nearest("", self.words))
        if text not in self.words:
            raise fault(f"{quoted(text)} is no word that fits here", nearest(text, self.words))
        return str(text)

    def schema(self) -> dict[str, Any]:
        """The words to choose from."""
        return {"type": "string", "enum": list(self.words)}


def choice(*words: str) -> Choice:
    """How to read one of a few words."""
    return Choice(words)


@dataclass(frozen=True, slots=True)
class Plain(Reading):
    """Reads a text by a function that checks it."""

    check: Callable[[Text], Any]
    described: tuple[tuple[str, Any], ...] = (("type", "string"),)

    def __call__(self, raw: object) -> Any:
        """The checked text, or a fault."""
        return self.check(text_of(raw))

    def schema(self) -> dict[str, Any]:
        """As described."""
        return dict(self.described)


@dataclass(frozen=True, slots=True)
class Ref(Reading):
    """Reads an identifier that must be the id of a record of one of these kinds."""

    kinds: tuple[str, ...]

    def __call__(self, raw: object) -> Text:
        """The identifier; that the record exists is checked when all are read."""
        text = text_of(raw)
        if not text.strip():
            raise fault("has no value", f"write the id of a {self.named}")
        return text

    @property
    def named(self) -> str:
        """What people call a record of these kinds."""
        if len(self.kinds) > 1 and "core" in self.kinds:
            return "part"
        return self.kinds[0].replace("_", " ")


def ref(*kinds: str) -> Ref:
    """How to read the id of another record."""
    return Ref(kinds)


def _words(text: Text) -> Text:
    if not text.strip():
        raise fault("has no value", "write a text")
    return _note(text)


def _note(text: Text) -> Text:
    if len(text) > LONGEST_TEXT:
        hint = f"at most {LONGEST_TEXT} characters fit"
        raise fault(f"{quoted(text)} has {len(text)} characters", hint)
    return text


def _identifier(text: Text) -> Text:
    if not _IDENTIFIER.match(text) or len(text) > 40:
        hint = "use small letters, digits and '_', a letter first, at most 40 characters"
        raise fault(f"{quoted(text)} can't serve as an id" if text else "has no value", hint)
    return text


def _currency(text: Text) -> Text:
    if text not in _currencies():
        hint = "write the three letters of a currency, for example 'EUR'"
        raise fault(f"{quoted(text)} is no currency code" if text else "has no value", hint)
    return text


@cache
def _currencies() -> frozenset[str]:
    """The codes of ISO 4217, those of the past included."""
    from babel.numbers import list_currencies

    return frozenset(list_currencies())


def day_of(text: str) -> date | None:
    """The day a text such as ``2026-11-01`` names, None when it is none."""
    try:
        return date.fromisoformat(text) if _DAY.match(text) else None
    except ValueError:
        return None


def _date(text: Text) -> date:
    day = day_of(text)
    if day is None:
        what = "is a day that does not exist" if _DAY.match(text) else "is not a date"
        hint = "write an existing day as year-month-day, for example '2026-11-01'"
        raise fault(f"{quoted(text)} {what}" if text else "has no value", hint)
    return day


def _truth(text: Text) -> bool:
    if text not in ("yes", "no", "true", "false"):
        raise fault(f"{quoted(text)} is neither yes nor no", "write 'yes' or 'no'")
    return text in ("yes", "true")


def list_of_one(raw: object) -> object:
    """Lists must be written as lists: a single value there is a common slip."""
    if not isinstance(raw, Items | tuple):
        hint = "begin each item with '- ', or write [one, two]"
        if isinstance(raw, Text):
            raise fault(f"{quoted(raw)} is not a list" if raw else "has no value", hint)
        raise fault("holds keys where a list belongs", hint)
    return raw


_ID_SCHEMA = (("type", "string"), ("pattern", _IDENTIFIER.pattern.replace(r"\Z", "$")))
Words = Annotated[Text, Plain(_words)]
Note = Annotated[Text, Plain(_note)]
Identifier = Annotated[Text, Plain(_identifier, _ID_SCHEMA)]
Currency = Annotated[Text, Plain(_currency, (("type", "string"), ("pattern", "^[A-Z]{3}$")))]
Day = Annotated[date, Plain(_date, (("type", "string"), ("format", "date")))]
Truth = Annotated[bool, Plain(_truth, (("enum", ("yes", "no", True, False)),))]

Fraction = Annotated[Figure, measure("12 %", "", low=0.0, high=1.0)]
Loss = Annotated[Figure, measure("8 %", "", low=0.0, high=1.0, below_high=True)]
Passed = Annotated[Figure, measure("98 %", "", low=0.0, high=1.0, above_low=True)]
Number = Annotated[Figure, measure("1.5", "", low=0.0)]
Positive = Annotated[Figure, measure("1.5", "", low=0.0, above_low=True)]
Some = Annotated[Figure, measure("4", "each", low=0.0, above_low=True)]
Whole = Annotated[Figure, measure("4", "each", low=1.0, whole=True)]
Length = Annotated[Figure, measure("720 mm", "m", low=0.0, above_low=True)]
Extent = Annotated[Figure, measure("40 mm", "m", low=0.0)]
Area = Annotated[Figure, measure("0.6 m2", "m2", low=0.0, above_low=True)]
Volume = Annotated[Figure, measure("18 L", "m3", low=0.0, above_low=True)]
Mass = Annotated[Figure, measure("1.2 kg", "kg", low=0.0)]
ArealMass = Annotated[Figure, measure("450 g/m2", "kg/m2", low=0.0, above_low=True)]
Density = Annotated[Figure, measure("1.20 kg/L", "kg/m3", low=0.0, above_low=True)]
Duration = Annotated[Figure, measure("45 min", "h", low=0.0)]
Pressure = Annotated[Figure, measure("50 kPa", "Pa", low=0.0)]
Money = Annotated[Figure, measure("1500 EUR", "money", low=0.0)]
Wage = Annotated[Figure, measure("26 EUR/h", "money/h", low=0.0, above_low=True)]
Capacity = Annotated[Figure, measure("3200 h", "h", "money", low=0.0, above_low=True)]
MoneyEach = Annotated[Figure, measure("4 EUR/pull", "money/each", low=0.0)]
Price = Annotated[
    Figure,
    measure(
        "4.10 EUR/kg",
        *("money/kg", "money/m3", "money/m2", "money/m", "money/each", "money/pack"),
        low=0.0,
    ),
]
Pack = Annotated[
    Figure, measure("220 kg", "kg", "m3", "m2", "m", "each", low=0.0, above_low=True, per_pack=True)
]
Amount = Annotated[Figure, measure("2.5 m", "each", "m", "m2", "m3", "kg", low=0.0, above_low=True)]
Rate = Annotated[Figure, measure("1.08 USD/EUR", "", low=0.0, above_low=True)]
