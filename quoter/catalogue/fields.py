"""What a text of the catalogue may mean: the annotated types that the records' fields have."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from typing import Annotated
from urllib.parse import urlsplit

from pydantic_core import PydanticCustomError

from quoter.catalogue.faults import fault as fault
from quoter.catalogue.measures import Measure as Measure
from quoter.catalogue.measures import glass_measure
from quoter.catalogue.measures import measure as measure
from quoter.catalogue.measures import share_measure as share_measure
from quoter.catalogue.source import Items, Text
from quoter.catalogue.values import Maybe as Maybe
from quoter.catalogue.values import Plain, Worded, need_short
from quoter.catalogue.values import choice as choice
from quoter.catalogue.values import ref as ref
from quoter.figures import Figure
from quoter.problems import UNPRINTABLE, quoted
from quoter.units import Unit, UnitError, to_base, unit

_IDENTIFIER = re.compile(r"[a-z][a-z0-9_]*\Z")
# Unicode's marks that make what follows run the other way, an amount beside a name included.
_TURNS_AROUND = re.compile("[\u202a-\u202e\u2066-\u2069]")
_DAY = re.compile(r"\d{4}-\d\d-\d\d\Z", re.ASCII)
# Other days are slips; near the calendar's ends, none could be counted from them.
FIRST_DAY, LAST_DAY = date(1900, 1, 1), date(2199, 12, 31)
MEANT_DAYS = f"write a day of the years {FIRST_DAY.year} to {LAST_DAY.year}"
# A colour of sRGB as CSS Color Module Level 4 writes it in hexadecimal digits, without its alpha.
_HEX = re.compile(r"#[0-9A-Fa-f]{6}\Z")
_FORMAT = re.compile(r"[1-9][0-9]{0,5}\Z")
LONGEST_LINE = 200  # characters; more is no name, and no address on an envelope


def one_line(text: Text) -> Text:
    """Words on one line, with single blanks: strangers write them into forms.

    What the command line says for a quote keeps the same rule.

    Raises:
        PydanticCustomError: there are none or too many, or a letter is none that people see.
    """
    words = " ".join(text.split())
    if not words:
        raise fault("no-value", "has no value", "write a text")
    if len(words) > LONGEST_LINE:
        hint = f"at most {LONGEST_LINE} characters fit on its line"
        raise fault("too-much", f"{quoted(words)} has {len(words)} characters", hint)
    if found := _TURNS_AROUND.search(words) or UNPRINTABLE.search(words):
        kind = "turns the direction of writing" if found.re is _TURNS_AROUND else "has no print"
        raise fault("unprintable", f"holds a mark that {kind}, #x{ord(found[0]):04x}", "remove it")
    return Text.at(words, text.place, text.key, text.label)


def _refused(text: Text, code: str, what: str, hint: str) -> PydanticCustomError:
    """What is wrong with a text that is not what belongs here, or with none at all."""
    if not text:
        return fault("no-value", "has no value", hint)
    return fault(code, f"{quoted(text)} {what}", hint)


def _words(text: Text) -> Text:
    if not text.strip():
        raise fault("no-value", "has no value", "write a text")
    return _note(text)


def _note(text: Text) -> Text:
    need_short(text)
    return text


def is_identifier(raw: object) -> bool:
    """Whether a raw value can serve as an id."""
    return isinstance(raw, Text) and len(raw) <= 40 and bool(_IDENTIFIER.match(raw))


def _identifier(text: Text) -> Text:
    if not is_identifier(text):
        hint = "use small letters, digits and '_', a letter first, at most 40 characters"
        raise _refused(text, "bad-id", "can't serve as an id", hint)
    return text


def is_currency(text: str) -> bool:
    """Whether a text is a currency code of ISO 4217."""
    return text in _currencies()


def _currency(text: Text) -> Text:
    if not is_currency(text):
        hint = "write the three letters of a currency, for example 'EUR'"
        raise _refused(text, "bad-currency", "is no currency code", hint)
    return text


@cache
def _currencies() -> frozenset[str]:
    """The codes of ISO 4217, those of the past included."""
    from babel.numbers import list_currencies

    return frozenset(list_currencies())


def day_of(text: str) -> date | None:
    """The day a text such as ``2026-11-01`` names, None when it is none that can be meant."""
    return None if day_fault(text) else date.fromisoformat(text)


def day_fault(text: str) -> str:
    """Why a text names no day that can be meant; nothing where it does."""
    if not _DAY.match(text):
        return "is not a date"
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return "is a day that does not exist"
    return "" if is_meant(day) else "is a day that nobody means"


def is_meant(day: date) -> bool:
    """Whether a day can be that of a price or a quote, and have others around it."""
    return FIRST_DAY <= day <= LAST_DAY


def _date(text: Text) -> date:
    if what := day_fault(text):
        hint = "write an existing day as year-month-day, for example '2026-11-01'"
        if what.endswith("means"):
            hint = MEANT_DAYS
        raise _refused(text, "not-a-date", what, hint)
    return date.fromisoformat(text)


def _day_words(text: Text) -> Text:
    """A day that keeps its place, where a fault may be told of it."""
    _date(text)
    return text


_PRICED_PER = tuple(to_base(unit(word))[0] for word in ("kg", "m3", "m2", "m", "each", "pack"))


def _per(text: Text) -> Text:
    try:
        priced_per(text)
    except UnitError as bad:
        raise fault(bad.code, bad.what, bad.hint) from bad
    return text


def priced_per(text: str) -> Unit:
    """The unit that a price is for, such as ``lb`` or ``drum``, in base symbols.

    Raises:
        UnitError: it is none, or none that a price can be for.
    """
    hint = "write for example 'kg', 'lb', 'gal', 'm', 'drum' or 'each'"
    if not text.strip():
        raise UnitError("no-value", "has no value", hint)
    try:
        base, _ = to_base(unit(text))
    except UnitError as bad:
        raise UnitError(bad.code, f"is an {bad.what}", bad.hint if bad.likely else hint) from bad
    if base not in _PRICED_PER:
        raise UnitError("wrong-unit", f"{quoted(text)} is nothing that a price is for", hint)
    return base


def is_web_address(text: str) -> bool:
    """Whether a text may be linked to: an http or https address with a host, nothing to escape.

    >>> is_web_address("https://yard.example.com/boats"), is_web_address("javascript:alert(1)")
    (True, False)
    """
    if re.search(r"[\s\\\"'<>]", text):
        return False
    try:
        parts = urlsplit(text)
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and bool(parts.hostname)


def _web_folder(text: Text) -> Text:
    if not is_web_address(text) or urlsplit(text).query or "#" in text:
        hint = "write the folder's, for example 'https://www.yard.example.com/prices/'"
        raise _refused(text, "bad-address", "is no web address", hint)
    return text


def _swatch(text: Text) -> Text:
    if not _HEX.match(text):
        hint = "write six hexadecimal digits after a '#', in quotes, for example \"#1f3a5f\""
        raise _refused(text, "bad-colour", "is no colour", hint)
    return Text.at(text.lower(), text.place, text.key, text.label)


def _format(text: Text) -> int:
    if not _FORMAT.match(text):
        hint = "write the number of the file's format, for example '1'"
        raise _refused(text, "unknown-word", "is no format", hint)
    return int(text)


def format_of(raw: object) -> int:
    """The format that a raw value states; the first where it states none."""
    return int(raw) if isinstance(raw, Text) and _FORMAT.match(raw) else 1


def _truth(text: Text) -> bool:
    if text not in ("yes", "no", "true", "false"):
        raise fault("unknown-word", f"{quoted(text)} is neither yes nor no", "write 'yes' or 'no'")
    return text in ("yes", "true")


def list_of_one(raw: object) -> object:
    """Lists must be written as lists: a single value there is a common slip."""
    if not isinstance(raw, Items | tuple):
        hint = "begin each item with '- ', or write [one, two]"
        if isinstance(raw, Text):
            raise _refused(raw, "wrong-structure", "is not a list", hint)
        raise fault("wrong-structure", "holds keys where a list belongs", hint)
    return raw


def _string(example: str, **more: str) -> tuple[tuple[str, object], ...]:
    """A JSON Schema of a text, as pairs so that it can be hashed."""
    return (("type", "string"), ("examples", (example,)), *more.items())


_ID_SCHEMA = _string("deck_hatch", pattern="^" + _IDENTIFIER.pattern.replace(r"\Z", "$"))
Words = Annotated[Text, Plain(_words)]
Translated = Annotated[Text, Worded(_words)]
TranslatedName = Annotated[Text, Worded(_words, keeps=True)]
TranslatedAlike = Annotated[Text, Worded(_words, joins=True)]
Note = Annotated[Text, Plain(_note)]
Identifier = Annotated[Text, Plain(_identifier, _ID_SCHEMA, "an id")]
Currency = Annotated[
    Text,
    Plain(_currency, _string("EUR", pattern="^[A-Z]{3}$"), "the three letters of a currency"),
]
Day = Annotated[date, Plain(_date, _string("2026-11-01", format="date"), "a day")]
DayWords = Annotated[Text, Plain(_day_words, _string("2026-11-01", format="date"), "a day")]
Per = Annotated[Text, Plain(_per, _string("lb"), "a unit that prices are for")]
_SWATCH = _string("#1f3a5f", pattern="^" + _HEX.pattern.replace(r"\Z", "$"))
Swatch = Annotated[Text, Plain(_swatch, _SWATCH, "a colour of six hexadecimal digits after a `#`")]
_ADDRESS = _string("https://www.yard.example.com/prices/")
WebFolder = Annotated[Text, Plain(_web_folder, _ADDRESS, "the web address of a folder")]
Format = Annotated[int, Plain(_format, (("type", "integer"), ("minimum", 1)), "a whole number")]
Truth = Annotated[bool, Plain(_truth, (("enum", ("yes", "no", True, False)),), "`yes` or `no`")]

Fraction = Annotated[Figure, measure("12 %", "", low=0.0, high=1.0)]
Loss = Annotated[Figure, measure("8 %", "", low=0.0, high=1.0, below_high=True)]
Passed = Annotated[Figure, measure("98 %", "", low=0.0, high=1.0, above_low=True)]
Number = Annotated[Figure, measure("1.5", "", low=0.0)]
Positive = Annotated[Figure, measure("1.5", "", low=0.0, above_low=True)]
Some = Annotated[Figure, measure("4", "each", low=0.0, above_low=True)]
Whole = Annotated[Figure, measure("4", "each", low=1.0, whole=True)]
Count = Annotated[Figure, measure("2", "each", low=0.0, whole=True)]
Length = Annotated[Figure, measure("720 mm", "m", low=0.0, above_low=True)]
Extent = Annotated[Figure, measure("40 mm", "m", low=0.0)]
Area = Annotated[Figure, measure("0.6 m2", "m2", low=0.0, above_low=True)]
Volume = Annotated[Figure, measure("18 L", "m3", low=0.0, above_low=True)]
Mass = Annotated[Figure, measure("1.2 kg", "kg", low=0.0)]
ArealMass = Annotated[Figure, glass_measure("450 g/m2", "kg/m2", low=0.0, above_low=True)]
Density = Annotated[Figure, measure("1.20 kg/L", "kg/m3", low=0.0, above_low=True)]
Duration = Annotated[Figure, measure("45 min", "h", low=0.0)]
Pressure = Annotated[Figure, measure("50 kPa", "Pa", low=0.0)]
Money = Annotated[Figure, measure("1500 EUR", "money", low=0.0)]
ListPrice = Annotated[Figure, measure("1500 EUR", "money")]  # a credit is negative
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
Rise = Annotated[
    Figure,
    measure(
        "0.10 EUR/kg",
        *("money/kg", "money/m3", "money/m2", "money/m", "money/each", "money/pack", ""),
    ),
]
Pack = Annotated[
    Figure, measure("220 kg", "kg", "m3", "m2", "m", "each", low=0.0, above_low=True, per_pack=True)
]
Amount = Annotated[Figure, measure("2.5 m", "each", "m", "m2", "m3", "kg", low=0.0, above_low=True)]
Rate = Annotated[Figure, measure("1.08 USD/EUR", "", low=0.0, above_low=True, rate=True)]
