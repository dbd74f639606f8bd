"""Units at the door: "450 g/m2", "1.5 oz/ft2", "62 USD/gal" become a number, a unit and a factor.

A unit is a product of symbols with whole exponents. Inside, only the base symbols occur: kg, m, h,
pack, Pa and currency codes (each currency a dimension of its own, so that a price in dollars
can't be added to one in euros). Conversion factors come from pint, in exact decimals.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

BASE_SYMBOLS = ("kg", "m", "h", "pack", "Pa")

# The symbol people write -> (pint's name, our base unit it converts to).
_CONVERTED = {
    "g": ("gram", "kg"),
    "t": ("tonne", "kg"),
    "lb": ("pound", "kg"),
    "oz": ("ounce", "kg"),
    "um": ("micrometer", "m"),
    "mm": ("millimeter", "m"),
    "cm": ("centimeter", "m"),
    "mil": ("thou", "m"),  # a thousandth of an inch; pint's own `mil` is an angle
    "in": ("inch", "m"),
    "ft": ("foot", "m"),
    "yd": ("yard", "m"),
    "mL": ("milliliter", "m3"),
    "L": ("liter", "m3"),
    "gal": ("US_liquid_gallon", "m3"),
    "s": ("second", "h"),
    "min": ("minute", "h"),
    "N": ("newton", "Pa m2"),
    "kN": ("kilonewton", "Pa m2"),
    "kPa": ("kilopascal", "Pa"),
    "bar": ("bar", "Pa"),
    "psi": ("psi", "Pa"),
    "inHg": ("inch_Hg", "Pa"),
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
# What a supplier packs in; the material says how much one holds.
_PACKED = ("drum", "pail", "can", "roll", "box", "bag", "kit", "sheet")
_SYMBOL = re.compile(r"([A-Za-z]+)(-?\d)?\Z")
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)\Z")
_CURRENCY = re.compile(r"[A-Z]{3}\Z")


@dataclass(frozen=True, slots=True)
class Unit:
    """A product of symbols with whole exponents, sorted by symbol; `NONE` has no symbols."""

    parts: tuple[tuple[str, int], ...] = ()

    def __mul__(self, other: Unit) -> Unit:
        """Exponents add; what cancels disappears."""
        exponents = dict(self.parts)
        for symbol, exponent in other.parts:
            exponents[symbol] = exponents.get(symbol, 0) + exponent
        return Unit(tuple(sorted((s, e) for s, e in exponents.items() if e)))

    def __pow__(self, exponent: int) -> Unit:
        """Exponents multiply."""
        return Unit(tuple((s, e * exponent) for s, e in self.parts)) if exponent else NONE

    def __truediv__(self, other: Unit) -> Unit:
        """Exponents subtract."""
        return self * other**-1

    def __str__(self) -> str:
        """As people write it: ``kg/m2``, ``EUR/h``, ``1/m``; nothing for a plain number."""
        if self == NEWTON:
            return "N"
        above = [_power(s, e) for s, e in self.parts if e > 0]
        below = [_power(s, -e) for s, e in self.parts if e < 0]
        over = "".join("/" + symbol for symbol in below)
        return " ".join(above) + over if above else f"1{over}" if below else ""


def _power(symbol: str, exponent: int) -> str:
    return symbol if exponent == 1 else f"{symbol}{exponent}"


NONE = Unit()
NEWTON = Unit((("Pa", 1), ("m", 2)))


class UnitError(ValueError):
    """A text that is no quantity; its message says what would be right."""


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


def unit(text: str) -> Unit:
    """The unit a text such as ``kg/m2`` names, its symbols as written."""
    if not text:
        return NONE
    above, *below = text.split("/")
    result = NONE
    for index, group in enumerate([above, *below]):
        for word in re.split(r"[ *·.]+", group.strip()):
            if word == "1":
                continue
            result = result * _one(word) ** (-1 if index else 1)
    return result


def _one(word: str) -> Unit:
    superscripts = word.replace("²", "2").replace("³", "3")
    match = _SYMBOL.match(superscripts)
    if not match or not _known(match[1]):
        raise UnitError(f"unknown unit '{word}'; write for example {_examples()}")
    return Unit(((match[1], int(match[2] or 1)),))


def _known(symbol: str) -> bool:
    listed = symbol in _CONVERTED or symbol in BASE_SYMBOLS
    return listed or symbol in _COUNTED + _PACKED or bool(_CURRENCY.match(symbol))


def _examples() -> str:
    return "kg, g/m2, oz/ft2, m, mm, ft, min, h, kg/m3, EUR/kg, USD/gal, kPa, each or %"


def quantity(text: str) -> Quantity:
    """A number and its unit from a text; decimals with a point, no thousands separators.

    Raises:
        UnitError: when the number or the unit can't be read, saying what would be right.
    """
    number, _, rest = text.strip().partition(" ")
    if not _NUMBER.match(number):
        if glued := re.match(r"([+-]?[\d.]+)([A-Za-z%].*)\Z", text.strip()):
            raise UnitError(f"write a space before the unit: '{glued[1]} {glued[2]}'")
        hint = " with a point for decimals and no separators" if "," in number else ""
        raise UnitError(f"'{number}' is not a number{hint}")
    rest = rest.strip()
    if rest == "%":
        value = Decimal(number) / 100
        return Quantity(float(value), NONE, NONE, Decimal(1), percent=True)
    written = unit(rest)
    base, factor = to_base(written)
    return Quantity(float(number), written, base, factor)


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
    if symbol in _PACKED:
        return unit("pack"), Decimal(1)
    if symbol not in _CONVERTED:
        return Unit(((symbol, 1),)), Decimal(1)
    name, base = _CONVERTED[symbol]
    target = {"Pa m2": "newton", "m3": "meter**3", "kg": "kilogram", "m": "meter", "h": "hour"}
    converted = _registry().Quantity(Decimal(1), name).to(target.get(base, "pascal"))
    return unit(base), Decimal(converted.magnitude)


@cache
def _registry() -> pint.UnitRegistry[Decimal]:
    import pint

    return pint.UnitRegistry(non_int_type=Decimal)
