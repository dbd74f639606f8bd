"""Numbers as people of a locale read them. Decimals are rounded half up first, then formatted.

Babel itself rounds halves to even, which is not what a price list does.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache, partial
from typing import Literal

from babel import Locale
from babel.core import get_global
from babel.dates import format_date
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
from quoter.figures.readers import BOTH, METRIC, US
from quoter.pages.number_style import NumberStyle, style_of
from quoter.units import to_base, unit

INCH = to_base(unit("in"))[1]
POUND = to_base(unit("lb"))[1]
INCHES_IN_A_FOOT = 12
# With so many whole digits, decimals of kilograms and of pounds are finer than a boat is weighed.
KG_DIGITS, LB_DIGITS = 4, 2
WHOLE_MM, SHORT_INCHES = 100, 10  # from which on a drawing tells fewer decimals
HARD_SPACE = "\N{NO-BREAK SPACE}"
APOSTROPHE = "'"
MINUS = "\N{MINUS SIGN}"
# Languages written as in one country where none is named: the program's own English is British.
_WRITTEN_AS = {"en": Locale("en", "GB")}
_TWO = Decimal(2)


def money(amount: Decimal, currency: str, locale: Locale, whole: bool = False) -> str:
    """An amount with its currency, to the currency's own smallest unit.

    Args:
        amount: of money
        currency: its code
        locale: of the reader
        whole: whether it stands among whole prices, where it has no decimals unless it needs them

    >>> money(Decimal("2.345"), "EUR", Locale("en")), money(Decimal("2.5"), "JPY", Locale("en"))
    ('€2.35', '¥3')
    >>> money(Decimal("4350.00"), "EUR", Locale("en"), whole=True)
    '€4,350'
    """
    style = money_style(currency, locale, whole)
    return style.written(half_up(amount, style.digits))


def true_minus(written: str) -> str:
    r"""A number with a true minus sign, which many of the CLDR's locales write as a hyphen.

    Customers read it so. What is calculated with or compared by programs keeps the locale's own.

    >>> true_minus("-€120.00") == "\N{MINUS SIGN}€120.00"
    True
    """
    return written.replace("-", MINUS)


def customers_style(style: NumberStyle) -> NumberStyle:
    """The same style with `true_minus`, for a script."""
    before, after = true_minus(style.before_negative), true_minus(style.after_negative)
    return replace(style, before_negative=before, after_negative=after)


def number(amount: Decimal, locale: Locale, digits: int = 0) -> str:
    """A plain number with that many decimals.

    >>> number(Decimal("12345.65"), Locale("en"), 1)
    '12,345.7'
    """
    return number_style(locale, digits).written(half_up(amount, digits))


def day(on: date, locale: Locale) -> str:
    """A day in full; French counts the first of a month as "1er", which babel does not know.

    English without a region is that of Britain, as its spelling is; the CLDR's is American.

    >>> day(date(2026, 12, 1), Locale("fr")), day(date(2026, 12, 11), Locale("fr"))
    ('1er décembre 2026', '11 décembre 2026')
    >>> day(date(2026, 12, 1), Locale("en")), day(date(2026, 12, 1), Locale("en", "US"))
    ('1 December 2026', 'December 1, 2026')
    """
    told = format_date(on, "long", locale=_WRITTEN_AS.get(str(locale), locale))
    return f"1er{told[1:]}" if locale.language == "fr" and told.startswith("1 ") else told


def exact(amount: Decimal | int, locale: Locale) -> str:
    """A number with the decimals it was stated with.

    >>> exact(Decimal("11.6180"), Locale("de"))
    '11,618'
    """
    stated = Decimal(amount).normalize()
    return number(stated, locale, max(0, -int(stated.as_tuple().exponent)))


def percent(fraction: Decimal, locale: Locale, digits: int = 1) -> str:
    """A fraction as a percentage with that many decimals.

    >>> percent(Decimal("0.18250"), Locale("en"))
    '18.3%'
    """
    return percent_style(locale, digits).written(half_up(fraction, digits + 2).scaleb(2))


def rate(fraction: Decimal, locale: Locale) -> str:
    """A rate such as that of a tax, as a percentage with the decimals it was stated with.

    >>> rate(Decimal("0.24"), Locale("en")), rate(Decimal("0.081"), Locale("en"))
    ('24%', '8.1%')
    """
    stated = (fraction * 100).normalize().as_tuple().exponent
    return percent(fraction, locale, max(0, -int(stated)))


def length(metres: Decimal, locale: Locale, units: str = BOTH) -> str:
    """A length in metres, in feet and inches, or in both, as `units` of `figures.readers` say.

    >>> length(Decimal("7.9248"), Locale("en")).replace(HARD_SPACE, " ")
    '7.92 m (26 ft)'
    >>> length(Decimal("8.2"), Locale("en"), "US").replace(HARD_SPACE, " ")
    '26 ft 11 in'
    """
    return _in_units(
        units, lambda: _measure(metres, "length-meter", locale, 2), lambda: _feet(metres, locale)
    )


@cache  # a drawing stands on many pages
def dimension(millimetres: Decimal, locale: Locale, units: str = METRIC.name) -> str:
    """A length of a drawing in millimetres, in decimal inches, or in both, as `units` say.

    Millimetres are whole from 100 on, inches have one decimal from 10 on and two below; decimals
    that are nothing are left out.

    >>> dimension(Decimal(720), Locale("en"), "metric and US").replace(HARD_SPACE, " ")
    '720 mm (28.3 in)'
    >>> dimension(Decimal("28.5"), Locale("de")).replace(HARD_SPACE, " ")
    '28,5 mm'
    """
    inches = millimetres / INCH / 1000
    return _in_units(
        units,
        lambda: _drawn(millimetres, "length-millimeter", locale, int(millimetres < WHOLE_MM)),
        lambda: _drawn(inches, "length-inch", locale, 1 if inches >= SHORT_INCHES else 2),
    )


def _drawn(amount: Decimal, name: str, locale: Locale, digits: int) -> str:
    rounded = half_up(amount, digits).normalize()
    return _measure(rounded, name, locale, max(0, -int(rounded.as_tuple().exponent)))


def _in_units(units: str, metric: Callable[[], str], us: Callable[[], str]) -> str:
    if units == BOTH:
        return f"{metric()} ({us()})"
    return us() if units == US.name else metric()


def _feet(metres: Decimal, locale: Locale) -> str:
    feet, inches = feet_and_inches(metres)
    written = [_measure(Decimal(feet), "length-foot", locale, 0)]
    if inches:
        written.append(_measure(Decimal(inches), "length-inch", locale, 0))
    return HARD_SPACE.join(written)


def feet_and_inches(metres: Decimal) -> tuple[int, int]:
    """Metres to the nearest inch.

    >>> feet_and_inches(Decimal("8.2"))
    (26, 11)
    """
    return divmod(int(half_up(metres / INCH, 0)), INCHES_IN_A_FOOT)


def mass(kilograms: Decimal, locale: Locale, units: str = METRIC.name) -> str:
    """A mass in kilograms, in pounds, or in both, as `units` of `figures.readers` say.

    From 1000 kg on whole ones are finer than a boat is weighed, and so are pounds from 10 on.

    >>> mass(Decimal("37.25"), Locale("en"), "metric and US").replace(HARD_SPACE, " ")
    '37.3 kg (82 lb)'
    """
    pounds = kilograms / POUND
    return _in_units(
        units,
        lambda: _measure(kilograms, "mass-kilogram", locale, mass_digits(kilograms)),
        lambda: _measure(pounds, "mass-pound", locale, pound_digits(pounds)),
    )


def mass_digits(kilograms: Decimal) -> int:
    """The decimals of kilograms that a mass is written with."""
    return _decimals(kilograms, KG_DIGITS)


def pound_digits(pounds: Decimal) -> int:
    """The decimals of pounds that a mass is written with."""
    return _decimals(pounds, LB_DIGITS)


def _decimals(mass: Decimal, whole_digits: int) -> int:
    return 0 if abs(mass) >= 10 ** (whole_digits - 1) else 1


def _measure(amount: Decimal, name: str, locale: Locale, digits: int) -> str:
    return measure_style(name, locale, digits).written(half_up(amount, digits))


@cache  # of the locales and currencies of one yard, as all of these
def money_style(currency: str, locale: Locale, whole: bool = False) -> NumberStyle:
    """How amounts of a currency are written; `whole` as in `NumberStyle`."""
    digits = get_currency_precision(currency)
    style = style_of(partial(babel_money, currency=currency, locale=locale), digits)
    return replace(style, whole=whole)


@cache
def number_style(locale: Locale, digits: int) -> NumberStyle:
    """How plain numbers of so many decimals are written."""
    return style_of(partial(babel_number, locale=locale, digits=digits), digits)


@cache
def percent_style(locale: Locale, digits: int) -> NumberStyle:
    """How per cent of so many decimals are written."""
    return style_of(partial(babel_percent, locale=locale, digits=digits), digits)


@cache
def measure_style(name: str, locale: Locale, digits: int) -> NumberStyle:
    """How amounts of a unit of Babel are written with so many decimals."""
    return style_of(partial(babel_measure, name=name, locale=locale, digits=digits), digits)


def babel_money(rounded: Decimal, currency: str, locale: Locale) -> str:
    """A rounded amount as Babel writes it, by the rules that it leaves out as well."""
    grouped = _grouped(rounded, locale)
    written = format_currency(rounded, currency, locale=locale, group_separator=grouped)
    symbols = locale.number_symbols["latn"]
    if "currencyDecimal" in symbols:
        written = written.replace(symbols["decimal"], symbols["currencyDecimal"])
    symbol = get_currency_symbol(currency, locale)
    return _finished(_apart(written, symbol), locale)


def babel_number(rounded: Decimal, locale: Locale, digits: int) -> str:
    """The same of a plain number with that many decimals."""
    pattern = _with_decimals(locale.decimal_formats[None].pattern.partition(".")[0], digits)
    grouped = _grouped(rounded, locale)
    return _finished(format_decimal(rounded, pattern, locale, group_separator=grouped), locale)


def babel_percent(rounded: Decimal, locale: Locale, digits: int) -> str:
    """The same of per cent."""
    pattern = _with_decimals(locale.percent_formats[None].pattern, digits)
    grouped, fraction = _grouped(rounded, locale), rounded.scaleb(-2)
    return _finished(format_percent(fraction, pattern, locale, group_separator=grouped), locale)


# Where the short name is a whole word, which no drawing has room for: the sign for inches.
_WIDTHS: dict[tuple[str, str], Literal["short", "narrow"]] = {("nb", "length-inch"): "narrow"}


def unit_written(amount: Decimal, name: str, locale: Locale) -> str:
    """A plain number with its unit: by its short name, or its sign."""
    width = _WIDTHS.get((locale.language, name), "short")
    return str(format_unit(amount, name, width, "#0", locale))


def babel_measure(rounded: Decimal, name: str, locale: Locale, digits: int) -> str:
    """The same of an amount with its unit.

    It is two of the unit with another number in their place: a symbol is the same for one and for
    many, and Babel lacks some for one.
    """
    two = unit_written(_TWO, name, locale)
    return _finished(two.replace(str(_TWO), babel_number(rounded, locale, digits)), locale)


def _grouped(rounded: Decimal, locale: Locale) -> bool:
    """Whether Babel parts an amount's thousands; in Spain's Spanish from five digits on only.

    The rule is CLDR's minimum of grouping digits (Unicode Technical Standard 35, part 3), which
    Babel leaves out; Latin America has another. Apostrophes follow in `_finished`.
    """
    return not _by_apostrophes(locale) and abs(rounded) >= _grouped_from(locale)


def _by_apostrophes(locale: Locale) -> bool:
    return bool(get_group_symbol(locale) == APOSTROPHE)


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
