"""How numbers look: decimals by unit, currency by its code, percentages; and how wide that is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from babel.numbers import get_currency_precision

from quoter.figures import Figure
from quoter.units import BASE_SYMBOLS, NONE, Unit

_DECIMALS = {"kg": 3, "h": 2, "m": 3, "m2": 3, "m3": 4, "g": 0, "mm": 0, "min": 1, "g/m2": 0}
_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_MOST_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Look:
    """How a number is shown; `entry` ones show every digit that is typed into them."""

    decimals: int = 2
    currency: str = ""
    percent: bool = False
    entry: bool = False

    @property
    def code(self) -> str:
        """The number format a spreadsheet understands. It names the currency by its code, since
        the reader's region decides what a sign means, and puts it first, so that digits align."""
        digits = "#,##0"
        if self.decimals:
            spare = "#" * (_MOST_DECIMALS - self.decimals) if self.entry else ""
            digits += "." + "0" * self.decimals + spare
        elif self.entry:
            return "0.######%" if self.percent else "General"
        if self.percent:
            return digits.replace("#,##", "") + "%"
        if self.currency:
            return rf"[${self.currency}]\ {digits};[${self.currency}]\ \-{digits}"
        return digits

    def text(self, value: float) -> str:
        """About what the cell shows, to know how wide it is."""
        shown = f"{value * (100 if self.percent else 1):,.{self.decimals}f}"
        return f"{self.currency} {shown}".lstrip() + "%" * self.percent


def unit_text(unit: Unit) -> str:
    """A unit as people print it, with superscripts; nothing for a plain number."""
    text = str(unit)
    return "".join(
        letter.translate(_SUPERSCRIPTS) if before.isalpha() or before.isdigit() else letter
        for before, letter in zip(" " + text, text, strict=False)
    )


def unit_of(figure: Figure) -> str | None:
    """The unit to say beside a number; None where the number shows it itself or has none."""
    return None if says_unit(figure) else unit_text(figure.unit) or None


def says_unit(figure: Figure) -> bool:
    """Whether the number itself shows its unit: an amount of money or a percentage."""
    return figure.form == "percent" or bool(currency_of(figure.unit))


def currency_of(unit: Unit) -> str:
    """The currency's code when the unit is an amount of money, else nothing."""
    if len(unit.parts) != 1:
        return ""
    symbol, exponent = unit.parts[0]
    return symbol if exponent == 1 and _is_currency(symbol) else ""


def _is_currency(symbol: str) -> bool:
    return len(symbol) == 3 and symbol.isupper() and symbol not in BASE_SYMBOLS


def look_of(
    figure: Figure, alike: Sequence[Figure], form: str = "", decimals: int | None = None
) -> Look:
    """How a figure is shown among those of its column, so that decimals of one unit align."""
    if form == "percent" or figure.form == "percent":
        return Look(1 if decimals is None else decimals, percent=True)
    currency = currency_of(figure.unit)
    if decimals is None:
        values = [other.value for other in alike if other.unit == figure.unit]
        decimals = 0 if form == "whole" else _decimals(figure.unit, values, currency)
    return Look(decimals, "" if form == "bare" else currency)


def entry_look(figure: Figure) -> Look:
    """How an input is shown: at least the decimals it was written with, and all one types."""
    percent = figure.form == "percent"
    currency = currency_of(figure.unit)
    written = figure.origin.text.partition(" ")[0] if figure.origin else ""
    decimals = min(len(written.partition(".")[2]), _MOST_DECIMALS)
    if percent:
        decimals = max(decimals, 1)
    elif any(_is_currency(symbol) for symbol, exponent in figure.unit.parts if exponent > 0):
        decimals = max(decimals, 2)
    return Look(decimals, currency, percent, entry=True)


def _decimals(unit: Unit, values: Sequence[float], currency: str) -> int:
    if currency:
        return minor_digits(currency)
    whole = all(value == round(value) for value in values)
    fixed = _DECIMALS.get(str(unit))
    if fixed is not None:
        return fixed
    if unit == NONE or str(unit) in ("each", "pack"):
        return 0 if whole else _for_digits(values, 2)
    return _for_digits(values, 2)


def _for_digits(values: Sequence[float], least: int) -> int:
    """Decimals that show three digits of the smallest value, and at most nine of the largest."""
    sizes = [math.floor(math.log10(abs(value))) for value in values if value] or [0]
    return max(least, min(2 - min(sizes), 8 - max(sizes), _MOST_DECIMALS))


@cache
def minor_digits(currency: str) -> int:
    """Decimals of a currency's smallest coin: 2 for EUR, 0 for JPY, 3 for KWD."""
    return get_currency_precision(currency)
