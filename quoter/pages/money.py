"""Numbers as people of a locale read them. Decimals are rounded half up first, then formatted.

Babel itself rounds halves to even, which is not what a price list does.
"""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from functools import cache, lru_cache

from babel import Locale
from babel.core import get_global
from babel.numbers import (
    format_currency,
    format_decimal,
    format_percent,
    get_currency_precision,
    get_currency_symbol,
    get_group_symbol,
)
from babel.units import format_unit

from quoter.figures.exact import half_up
from quoter.units import to_base, unit

INCH = to_base(unit("in"))[1]
POUND = to_base(unit("lb"))[1]
INCHES_IN_A_FOOT = 12
# With so many whole digits, decimals of kilograms and of pounds are finer than a boat is weighed.
KG_DIGITS, LB_DIGITS = 4, 2
HARD_SPACE = "\N{NO-BREAK SPACE}"
APOSTROPHE = "'"
MOST_KEPT = 50_000  # numbers as they are written: of those on a page, most stand on others too


@lru_cache(maxsize=MOST_KEPT)
def money(amount: Decimal, currency: str, locale: Locale) -> str:
    """An amount with its currency, to the currency's own smallest unit.

    >>> money(Decimal("2.345"), "EUR", Locale("en")), money(Decimal("2.5"), "JPY", Locale("en"))
    ('€2.35', '¥3')
    """
    rounded = half_up(amount, get_currency_precision(currency))
    grouped = _grouped(rounded, locale)
    written = format_currency(rounded, currency, locale=locale, group_separator=grouped)
    symbols = locale.number_symbols["latn"]
    if "currencyDecimal" in symbols:
        written = written.replace(symbols["decimal"], symbols["currencyDecimal"])
    symbol = get_currency_symbol(currency, locale)
    return _finished(_apart(written, symbol), locale)


@lru_cache(maxsize=MOST_KEPT)
def number(amount: Decimal, locale: Locale, digits: int = 0) -> str:
    """A plain number with that many decimals.

    >>> number(Decimal("12345.65"), Locale("en"), 1)
    '12,345.7'
    """
    pattern = _with_decimals(locale.decimal_formats[None].pattern.partition(".")[0], digits)
    return _finished(_decimal(half_up(amount, digits), pattern, locale), locale)


def exact(amount: Decimal | int, locale: Locale) -> str:
    """A number with the decimals it was stated with.

    >>> exact(Decimal("11.6180"), Locale("de"))
    '11,618'
    """
    stated = Decimal(amount).normalize()
    return number(stated, locale, max(0, -int(stated.as_tuple().exponent)))


@lru_cache(maxsize=MOST_KEPT)
def percent(fraction: Decimal, locale: Locale, digits: int = 1) -> str:
    """A fraction as a percentage with that many decimals.

    >>> percent(Decimal("0.18250"), Locale("en"))
    '18.3%'
    """
    pattern = _with_decimals(locale.percent_formats[None].pattern, digits)
    rounded = half_up(fraction, digits + 2)
    grouped = _grouped(rounded * 100, locale)
    return _finished(format_percent(rounded, pattern, locale, group_separator=grouped), locale)


def rate(fraction: Decimal, locale: Locale) -> str:
    """A rate such as that of a tax, as a percentage with the decimals it was stated with.

    >>> rate(Decimal("0.24"), Locale("en")), rate(Decimal("0.081"), Locale("en"))
    ('24%', '8.1%')
    """
    stated = (fraction * 100).normalize().as_tuple().exponent
    return percent(fraction, locale, max(0, -int(stated)))


def length(metres: Decimal, locale: Locale, us: bool = True) -> str:
    """A length in metres, with feet and inches beside it where US units are wanted.

    >>> length(Decimal("7.9248"), Locale("en")).replace(HARD_SPACE, " ")
    '7.92 m (26 ft)'
    """
    metric = _measure(metres, "length-meter", locale, 2)
    if not us:
        return metric
    feet, inches = feet_and_inches(metres)
    beside = [_measure(Decimal(feet), "length-foot", locale, 0)]
    if inches:
        beside.append(_measure(Decimal(inches), "length-inch", locale, 0))
    return f"{metric} ({HARD_SPACE.join(beside)})"


def feet_and_inches(metres: Decimal) -> tuple[int, int]:
    """Metres to the nearest inch.

    >>> feet_and_inches(Decimal("8.2"))
    (26, 11)
    """
    return divmod(int(half_up(metres / INCH, 0)), INCHES_IN_A_FOOT)


def mass(kilograms: Decimal, locale: Locale, us: bool = False) -> str:
    """A mass in kilograms, with pounds beside it where US units are wanted.

    From 1000 kg on whole ones are finer than a boat is weighed, and so are pounds from 10 on.

    >>> mass(Decimal("37.25"), Locale("en"), us=True).replace(HARD_SPACE, " ")
    '37.3 kg (82 lb)'
    """
    metric = _measure(kilograms, "mass-kilogram", locale, _decimals(kilograms, KG_DIGITS))
    if not us:
        return metric
    pounds = kilograms / POUND
    beside = _measure(pounds, "mass-pound", locale, _decimals(pounds, LB_DIGITS))
    return f"{metric} ({beside})"


def _decimals(mass: Decimal, whole_digits: int) -> int:
    return 0 if abs(mass) >= 10 ** (whole_digits - 1) else 1


def unit_mass(amount: Decimal, unit_name: str, locale: Locale, digits: int) -> str:
    """An amount of kilograms or pounds with its unit and so many decimals.

    >>> unit_mass(Decimal("37.25"), "pound", Locale("en"), 1).replace(HARD_SPACE, " ")
    '37.3 lb'
    """
    return _measure(amount, f"mass-{unit_name}", locale, digits)


def _measure(amount: Decimal, name: str, locale: Locale, digits: int) -> str:
    return _finished(_two(name, locale).replace("2", number(amount, locale, digits)), locale)


@cache
def _two(name: str, locale: Locale) -> str:
    """Two of a unit: its symbol is the same for one and for many, and Babel lacks some for one."""
    return str(format_unit(Decimal(2), name, "short", "#0", locale))


def _decimal(rounded: Decimal, pattern: str, locale: Locale) -> str:
    return format_decimal(rounded, pattern, locale, group_separator=_grouped(rounded, locale))


def _grouped(rounded: Decimal, locale: Locale) -> bool:
    """Whether Babel parts an amount's thousands; in Spain's Spanish from five digits on only.

    The rule is CLDR's minimum of grouping digits (Unicode Technical Standard 35, part 3), which
    Babel leaves out; Latin America has another. Apostrophes follow in `_finished`.
    """
    return not _by_apostrophes(locale) and abs(rounded) >= _grouped_from(locale)


@cache
def _by_apostrophes(locale: Locale) -> bool:
    return bool(get_group_symbol(locale) == APOSTROPHE)


@cache
def _grouped_from(locale: Locale) -> int:
    latin = get_global("parent_exceptions").get(str(locale)) == "es_419"
    return 10_000 if locale.language == "es" and not latin else 0


def _apart(written: str, symbol: str) -> str:
    """A space between a currency's letters and a digit next to them, where the pattern has none.

    The rule is CLDR's currency spacing (Unicode Technical Standard 35, part 3), which Babel leaves
    out.
    """
    before, found, after = written.partition(symbol)
    if after[:1].isdigit() and unicodedata.category(found[-1])[0] not in "SZ":
        found += " "
    if before[-1:].isdigit() and unicodedata.category(found[0])[0] not in "SZ":
        found = " " + found
    return before + found + after


def _with_decimals(pattern: str, digits: int) -> str:
    """The pattern with exactly `digits` decimals after its last whole place."""
    at = pattern.rindex("0") + 1
    return pattern[:at] + ("." + "0" * digits if digits else "") + pattern[at:]


def _finished(written: str, locale: Locale) -> str:
    """With the locale's own minus, which Babel leaves out, and spaces that don't end a line.

    Thousands parted by apostrophes are parted here: Babel takes two of them for quotes and drops
    them, so that a million has none.
    """
    if _by_apostrophes(locale):
        written = re.sub(
            r"\d+", lambda run: f"{int(run[0]):,}".replace(",", APOSTROPHE), written, count=1
        )
    minus = locale.number_symbols["latn"].get("minusSign", "-")
    return written.replace("-", minus).replace(" ", HARD_SPACE)
