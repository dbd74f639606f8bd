"""Units at the door: "450 g/m2", "1.5 oz/ft2", "62 USD/gal" become a number, a unit and a factor.

A unit is a product of symbols with whole exponents. Inside, only the base symbols occur: kg, m, h,
pack, Pa and currency codes (each currency a dimension of its own, so that a price in dollars
can't be added to one in euros).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache

from quoter.intake import LONGEST_QUANTITY, counted
from quoter.numerals import UnitError as UnitError
from quoter.numerals import decimal_text, numeral
from quoter.problems import quoted
from quoter.spellings import AMBIGUOUS, MEANT

BASE_SYMBOLS = ("kg", "m", "h", "pack", "Pa")

_POUND, _INCH, _GRAVITY = Decimal("0.45359237"), Decimal("0.0254"), Decimal("9.80665")
# The symbol people write -> (the base unit it converts to, how many of those it is). Exact by
# definition: the SI Brochure for metric units, NIST Handbook 44, Appendix C, for those of the US;
# a column of mercury has its conventional density. The tests hold all of them against pint.
CONVERTED: dict[str, tuple[str, Decimal]] = {
    "g": ("kg", Decimal("0.001")),
    "t": ("kg", Decimal(1000)),
    "lb": ("kg", _POUND),
    "oz": ("kg", _POUND / 16),
    "cwt": ("kg", _POUND * 100),  # the hundredweight of the US; the British has 112 lb
    "um": ("m", Decimal("0.000001")),
    "mm": ("m", Decimal("0.001")),
    "cm": ("m", Decimal("0.01")),
    "mil": ("m", _INCH / 1000),  # a thousandth of an inch
    "in": ("m", _INCH),
    "ft": ("m", _INCH * 12),
    "yd": ("m", _INCH * 36),
    "mL": ("m3", Decimal("0.000001")),
    "L": ("m3", Decimal("0.001")),
    "gal": ("m3", 231 * _INCH**3),  # of the US, and so its quart, pint and fluid ounce
    "qt": ("m3", 231 * _INCH**3 / 4),
    "pt": ("m3", 231 * _INCH**3 / 8),
    "floz": ("m3", 231 * _INCH**3 / 128),
    "s": ("h", Decimal(1) / 3600),
    "min": ("h", Decimal(1) / 60),
    "N": ("Pa m2", Decimal(1)),
    "kN": ("Pa m2", Decimal(1000)),
    "lbf": ("Pa m2", _POUND * _GRAVITY),
    "kPa": ("Pa", Decimal(1000)),
    "bar": ("Pa", Decimal(100_000)),
    "psi": ("Pa", _POUND * _GRAVITY / _INCH**2),
    "inHg": ("Pa", _INCH * Decimal("13595.1") * _GRAVITY),
}
# What is counted one by one, under the names a yard uses for it: a plain number inside.
_COUNTED = (
    "each",
    "pull",
    "pulls",
    "ply",
    "plies",
    "boat",
    "boats",
    "face",
    "faces",
    "pcs",
    "screws",
)
# Counted goods by the pair or the hundred: plain numbers, too.
_BY_NUMBER = {"pair": 2, "dozen": 12, "hundred": 100, "thousand": 1000}
# A price may be for any number of something: per 100, per 25 kg, per 12 x 310 mL. Such a number is
# a symbol of its own.
_IN_DIGITS = {"100": "hundred", "1000": "thousand"}
_IN_WORDS = {word: digits for digits, word in _IN_DIGITS.items()}
_NUMBERED = re.compile(
    r"(?:(?P<times>[1-9]\d{0,5}) ?[x×] ?)?(?P<number>\d{1,6}(?:\.\d{1,6})?)(?: (?P<rest>.*))?\Z",
    re.ASCII,
)
_DIGITS = re.compile(r"\d[\d.]*\Z", re.ASCII)
# What a supplier packs in; the material says how much one holds.
PACKED = (
    *("drum", "pail", "can", "roll", "box", "bag", "kit", "sheet", "carton", "case", "tube"),
    *("cartridge", "bottle", "jug", "bucket", "tote", "tin", "spool", "reel"),
)
_FLUID_OUNCE = re.compile(r"\bfl\.? ?oz\b")
_SYMBOL = re.compile(r"([A-Za-z]+)(-?[1-9])?\Z")
_MOST = 10.0**12  # in base units; beyond it, up or down, nobody means it
_CURRENCY = re.compile(r"[A-Z]{3}\Z")
_MONEY_TOO = ("KGS",)  # the som of Kyrgyzstan, which in small letters is many kilograms

# Units that people write a quantity in, by its dimension, for the reference of keys: metric ones
# and those of the US by turns, the most usual first. Any unit of the dimension is read. The euro
# stands for any currency, a drum for any pack.
WRITTEN_IN = {
    "kg": "kg lb g oz t cwt",
    "m": "m ft mm in cm mil yd",
    "m2": "m2 ft2 cm2 in2 yd2",
    "m3": "L gal m3 ft3 mL qt pt floz",
    "h": "h min s",
    "Pa": "kPa psi bar inHg Pa",
    "kg/m": "kg/m lb/ft",
    "kg/m2": "g/m2 oz/ft2 kg/m2 oz/yd2",
    "kg/m3": "kg/L lb/gal kg/m3 lb/ft3",
    "1/m": "each/m each/ft",
    "1/m2": "each/m2 each/ft2",
    "h/m": "min/m min/ft h/m",
    "h/m2": "min/m2 min/ft2 h/m2",
    "h/kg": "min/kg min/lb h/kg",
    "money": "EUR",
    "money/h": "EUR/h",
    "money/kg": "EUR/kg EUR/lb",
    "money/m": "EUR/m EUR/ft EUR/yd",
    "money/m2": "EUR/m2 EUR/ft2 EUR/yd2",
    "money/m3": "EUR/L EUR/gal EUR/m3",
    "money/pack": "EUR/drum EUR/pack",
}
FEW = 2  # units of each dimension, where a quantity may be of more dimensions than that


@dataclass(frozen=True, slots=True, eq=False, init=False)
class Unit:
    """A product of symbols with whole exponents, sorted by symbol; `NONE` has no symbols.

    The same product is the same object: a costing compares and multiplies units as often as
    numbers, and they are few.
    """

    parts: tuple[tuple[str, int], ...]

    def __new__(cls, parts: tuple[tuple[str, int], ...] = ()) -> Unit:
        """The one unit of these parts."""
        known = _UNITS.get(parts)
        if known is None:
            made = object.__new__(cls)
            object.__setattr__(made, "parts", parts)
            known = _UNITS.setdefault(parts, made)
        return known

    def __reduce__(self) -> tuple[type[Unit], tuple[tuple[tuple[str, int], ...]]]:
        """A copy is the unit itself."""
        return Unit, (self.parts,)

    def __mul__(self, other: Unit) -> Unit:
        """Exponents add; what cancels disappears."""
        return _product(self, other)

    def __pow__(self, exponent: int) -> Unit:
        """Exponents multiply."""
        return _power(self, exponent)

    def __truediv__(self, other: Unit) -> Unit:
        """Exponents subtract."""
        return _product(self, _power(other, -1))

    @property
    def currencies(self) -> tuple[str, ...]:
        """The codes of the currencies in it."""
        return _currencies(self)

    def __str__(self) -> str:
        """As people write it: ``kg/m2``, ``EUR/h``, ``1/m``; nothing for a plain number."""
        return _written(self)


_UNITS: dict[tuple[tuple[str, int], ...], Unit] = {}


@cache
def _product(one: Unit, other: Unit) -> Unit:
    exponents = dict(one.parts)
    for symbol, exponent in other.parts:
        exponents[symbol] = exponents.get(symbol, 0) + exponent
    return Unit(tuple(sorted((s, e) for s, e in exponents.items() if e)))


@cache
def _power(unit: Unit, exponent: int) -> Unit:
    return Unit(tuple((s, e * exponent) for s, e in unit.parts)) if exponent else NONE


@cache
def _currencies(unit: Unit) -> tuple[str, ...]:
    return tuple(symbol for symbol, _ in unit.parts if _CURRENCY.match(symbol))


@cache
def _written(unit: Unit) -> str:
    if unit == NEWTON:
        return "N"
    parts = sorted(unit.parts, key=lambda part: not _is_number(part[0]))
    above = [_raised(s, e) for s, e in parts if e > 0]
    below = "".join("/" + _raised(s, -e) for s, e in parts if e < 0)
    over = re.sub(r"(/\d[\d.]*)/", r"\1 ", below)
    return " ".join(above) + over if above else f"1{over}" if below else ""


def _is_number(symbol: str) -> bool:
    return symbol in _IN_WORDS or bool(_DIGITS.match(symbol))


def _raised(symbol: str, exponent: int) -> str:
    shown = _IN_WORDS.get(symbol, symbol)
    return shown if exponent == 1 else f"{shown}{exponent}"


NONE = Unit()
NEWTON = Unit((("Pa", 1), ("m", 2)))


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a text says: `number` in `unit` as written; times `factor` it is in `base` symbols.

    A percentage has `percent` set, its number already divided by 100 and no unit.
    """

    number: float
    unit: Unit
    base: Unit
    factor: Decimal
    percent: bool = False


@lru_cache(1000)  # a yard's texts name the same few again and again
def unit(text: str) -> Unit:
    """The unit a text such as ``kg/m2`` names, its symbols as written.

    Raises:
        UnitError: when a symbol is unknown, naming the one that is likely meant.
    """
    if not text:
        return NONE
    _need_short(text)
    above, *below = text.split("/")
    result = NONE
    for index, group in enumerate([above, *below]):
        rest = _FLUID_OUNCE.sub("floz", group.strip())
        number, after = _number_before(rest)
        if index and not result.currencies and number not in _IN_WORDS:
            number = ""  # a slip of the keyboard is likelier than a measure per 25 kg
        rest = after if number else rest
        words = re.split(r"[ *·.]+", rest)
        if number:
            result = result * Unit(((number, -1 if index else 1),))
            words = [word for word in words if word and word not in _COUNTED]
        for word in words:
            if word == "1":
                continue
            result = result * _one(word, text) ** (-1 if index else 1)
    return result


def _number_before(group: str) -> tuple[str, str]:
    """The symbol of the number of them that a price is for, if there is one, and the rest."""
    found = _NUMBERED.match(group)
    if found is None:
        return "", group
    number = Decimal(found["number"]) * int(found["times"] or 1)
    digits = decimal_text(Fraction(number))
    if digits in ("0", "1") or (found["rest"] is None and "." in digits):
        return "", group
    return _IN_DIGITS.get(digits, digits), found["rest"] or ""


def _need_short(text: str) -> None:
    if len(text) > LONGEST_QUANTITY:
        what = f"{quoted(text)} has {counted(len(text))} characters"
        raise UnitError(
            "too-much", what, f"at most {LONGEST_QUANTITY} can be a number with its unit"
        )


def _one(word: str, text: str) -> Unit:
    superscripts = word.replace("²", "2").replace("³", "3")
    match = _SYMBOL.match(superscripts)
    if not match or not _known(match[1]):
        meant = _meant(superscripts)
        hint = meant or f"write for example {_EXAMPLES}"
        raise UnitError(
            "unknown-unit", f"unknown unit {quoted(word or text)}", hint, likely=bool(meant)
        )
    return Unit(((match[1], int(match[2] or 1)),))


def _known(symbol: str) -> bool:
    if symbol in SYMBOLS.values():
        return True
    if not _CURRENCY.match(symbol):
        return False
    return symbol in _MONEY_TOO or symbol.lower() not in (*MEANT, *SYMBOLS)


SYMBOLS = {
    symbol.lower(): symbol
    for symbol in (*BASE_SYMBOLS, *CONVERTED, *_COUNTED, *_BY_NUMBER, *PACKED)
}


def _meant(word: str) -> str:
    symbol = word.rstrip("0123456789")
    if clear := AMBIGUOUS.get(word.lower()):
        return clear
    meant = MEANT.get(symbol.lower()) or SYMBOLS.get(symbol.lower())
    if meant and not word.endswith("0"):
        return f"did you mean '{meant}{word[len(symbol) :]}'?"
    if len(symbol) == 3 and symbol.isalpha() and symbol.islower():
        return f"a currency is written in capitals; units are {_EXAMPLES}"
    return ""


_EXAMPLES = "kg, g/m2, oz/ft2, m, mm, ft, min, h, kg/m3, EUR/kg, USD/gal, kPa, each or %"


@lru_cache(5000)  # thousands of rows of hours say the same few
def quantity(text: str) -> Quantity:
    """A number and its unit from a text: decimals with a point, fractions, feet with inches.

    Raises:
        UnitError: when the number or the unit can't be read, saying what would be right.
    """
    _need_short(text)
    read = numeral(text)
    if read.unit == "%":
        value = float(read.number / 100)
        _check_size(text, value)
        return Quantity(value, NONE, NONE, Decimal(1), percent=True)
    try:
        written = unit(read.unit)
    except UnitError as bad:
        raise UnitError(
            bad.code, f"{quoted(text)} has an {bad.what}", bad.hint, likely=bad.likely
        ) from bad
    if read.broken and written.currencies:
        hint = f"write decimals: '{decimal_text(read.number)} {read.unit}'"
        raise UnitError("not-a-number", f"{quoted(text)} has a fraction of money", hint)
    base, factor = to_base(written)
    number = float(read.number)
    _check_size(text, number)
    _check_size(text, number * float(factor))
    return Quantity(number, written, base, factor)


def _check_size(text: str, value: float) -> None:
    if value and not 1 / _MOST < abs(value) < _MOST:
        what = f"{quoted(text)} is too {'large' if abs(value) > 1 else 'small'} to be meant"
        raise UnitError("out-of-range", what, "check its digits and its unit")


@cache
def to_base(written: Unit) -> tuple[Unit, Decimal]:
    """The same dimension in base symbols, and the exact factor from the one to the other."""
    base, factor = NONE, Decimal(1)
    for symbol, exponent in written.parts:
        one, size = _symbol_to_base(symbol)
        base, factor = base * one**exponent, factor * size**exponent
    return base, factor


@cache
def _symbol_to_base(symbol: str) -> tuple[Unit, Decimal]:
    if symbol in _COUNTED:
        return NONE, Decimal(1)
    if symbol in _BY_NUMBER:
        return NONE, Decimal(_BY_NUMBER[symbol])
    if _DIGITS.match(symbol):
        return NONE, Decimal(symbol)
    if symbol in PACKED:
        return unit("pack"), Decimal(1)
    if symbol not in CONVERTED:
        return Unit(((symbol, 1),)), Decimal(1)
    base, factor = CONVERTED[symbol]
    return unit(base), factor
