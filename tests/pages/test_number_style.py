"""Amounts that the page's script writes are those of Babel, which the page's other prices are.

Babel follows the Unicode CLDR; what is written with it is held against Chromium's own Intl in
test_intl.py.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from typing import Any

import pytest
from babel import Locale
from babel.numbers import get_currency_precision
from playwright.sync_api import Page as Tab
from playwright.sync_api import sync_playwright

from quoter.figures.exact import half_up
from quoter.figures.readers import CHOICES
from quoter.pages.money import (
    babel_measure,
    babel_money,
    babel_number,
    babel_percent,
    mass,
    measure_style,
    money,
    money_style,
    number,
    number_style,
    percent,
    percent_style,
    true_minus,
)
from quoter.pages.number_style import StyleError, style_of
from quoter.pages.public.build_list import mass_styles
from quoter.resources import templates_folder

LOCALES = ("en", "de", "de-AT", "de-CH", "fr", "fr-CH", "nb", "es", "es-MX", "en-IN")
MILLIGRAMS = Decimal("0.000001")  # in kilograms, as the script counts
# Two, none and three decimals.
CURRENCIES = ("EUR", "NOK", "JPY", "KWD")
EDGES = (
    *("0", "-0", "0.004", "0.005", "-0.004", "-0.005", "0.01", "0.1", "1", "-1", "12.5", "100"),
    *("999.99", "999.994", "999.995", "999.9995", "1000", "1234.5", "-1234.5", "9999.99"),
    *("9999.994", "9999.995", "-9999.995", "10000", "12345.675", "99999.995", "100000"),
    *("999999.99", "1000000", "-1234567.895", "12345678.9", "123456789.01", "9007199254740.99"),
)
# One decimal below a tonne and below ten pounds (4.536 kg), none from there on; halves go up.
MASSES = (
    *("0", "0.05", "0.049999", "-0.05", "-0.04", "-0.000001", "0.15", "0.25", "0.35", "1.15"),
    *("4.513244", "4.513245", "4.535923", "4.535924", "4.55", "37.25", "37.35", "-37.25"),
    *("999.949999", "999.95", "999.999999", "1000", "-999.95", "-1000", "1000.5", "1001.5"),
    *("2150", "12345.5", "12344.499999", "-12345.5", "99999.5", "0.5", "2.5", "8.35", "16.35"),
)
WRITTEN = """([style, digits, texts]) => texts.map(text => {
    const count = amounts.units(text, digits);
    return [String(count), amounts.written(count, style)];
})"""
WEIGHED = "([masses, texts]) => texts.map(text => amounts.mass(amounts.units(text, 6), masses))"


@pytest.fixture(scope="module")
def tab() -> Iterator[Tab]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        page = chromium.new_page()
        page.add_script_tag(path=templates_folder() / "public" / "amounts.js")
        yield page
        chromium.close()


def some(digits: int) -> list[Decimal]:
    """Amounts of every size, with two decimals more than are written."""
    dice = random.Random(20261101)
    places = [dice.randrange(1, 13) for _ in range(300)]
    finest = Decimal(1).scaleb(-digits - 2)
    found = [dice.randrange(10 ** (place + 2)) * finest for place in places]
    return [*map(Decimal, EDGES), *found, *(-amount for amount in found[:60])]


@pytest.mark.slow
@pytest.mark.parametrize("name", LOCALES)
def test_money_is_written_as_babel_writes_it(tab: Tab, name: str) -> None:
    locale = Locale.parse(name, sep="-")
    for currency in CURRENCIES:
        digits = get_currency_precision(currency)
        style = style_of(partial(money, currency=currency, locale=locale), digits).as_data()
        amounts = [half_up(amount, digits) for amount in some(digits)]
        found = tab.evaluate(WRITTEN, [style, digits, list(map(str, amounts))])
        wanted = [
            [str(int(amount.scaleb(digits))), money(amount, currency, locale)] for amount in amounts
        ]
        assert found == wanted, currency


@pytest.mark.parametrize("name", LOCALES)
def test_styles_write_what_babel_writes(name: str) -> None:
    locale = Locale.parse(name, sep="-")
    for currency in CURRENCIES:
        for amount in some(digits := get_currency_precision(currency)):
            wanted = babel_money(half_up(amount, digits), currency, locale)
            assert money(amount, currency, locale) == wanted
    for digits in range(4):
        for amount in some(digits):
            rounded = half_up(amount, digits)
            assert number(amount, locale, digits) == babel_number(rounded, locale, digits)
            assert percent(amount / 100, locale, digits) == babel_percent(rounded, locale, digits)
            for unit in ("mass-kilogram", "mass-pound", "length-meter", "length-foot"):
                wanted = babel_measure(rounded, unit, locale, digits)
                assert measure_style(unit, locale, digits).written(rounded) == wanted


def test_a_style_is_learnt_once() -> None:
    locale = Locale("de", "AT")
    assert money_style("EUR", locale) is money_style("EUR", Locale("de", "AT"))
    assert number_style(locale, 1) is not number_style(locale, 2)
    assert percent_style(locale, 1) is percent_style(locale, 1)


@pytest.mark.slow
@pytest.mark.parametrize("units", CHOICES)
@pytest.mark.parametrize("name", LOCALES)
def test_masses_are_written_as_babel_writes_them(tab: Tab, name: str, units: str) -> None:
    locale = Locale.parse(name, sep="-")
    dice = random.Random(20261102)
    found = [Decimal(dice.randrange(10 ** dice.randrange(3, 11))) * MILLIGRAMS for _ in range(300)]
    # Halves of what is written, which a binary fraction is often just short of.
    halves = [Decimal(count) / 20 for count in range(1, 2000, 2)]
    masses = [*map(Decimal, MASSES), *found, *halves]
    texts = [str(each.quantize(MILLIGRAMS)) for each in masses]
    written = tab.evaluate(WEIGHED, [mass_styles(locale, units), texts])
    assert written == [true_minus(mass(each, locale, units)) for each in masses]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("text", "digits", "units"),
    [
        ("1234.50", 2, 123450),
        ("1234.5", 2, 123450),
        ("1234", 2, 123400),
        ("-0.07", 2, -7),
        ("-7.25", 2, -725),
        ("0.005", 3, 5),
        ("30", 0, 30),
        ("-3875.674670", 6, -3875674670),
        # 2 ** 53 - 1, up to which every whole number is exact (ECMA-262, Number.MAX_SAFE_INTEGER)
        ("90071992547409.91", 2, 9007199254740991),
    ],
)
def test_smallest_units_are_exact(tab: Tab, text: str, digits: int, units: int) -> None:
    assert tab.evaluate("([text, digits]) => amounts.units(text, digits)", [text, digits]) == units


def style(name: str, currency: str) -> dict[str, Any]:
    locale = Locale.parse(name, sep="-")
    write = partial(money, currency=currency, locale=locale)
    return style_of(write, get_currency_precision(currency)).as_data()


def test_a_style_says_how_numbers_are_grouped() -> None:
    """CLDR: groups of three, from five digits in Spain, of two after the first three in India."""
    assert (style("en", "EUR")["sizes"], style("en", "EUR")["grouped_from"]) == ((3, 3), 4)
    assert (style("es", "EUR")["sizes"], style("es", "EUR")["grouped_from"]) == ((3, 3), 5)
    assert (style("es-MX", "EUR")["sizes"], style("es-MX", "EUR")["grouped_from"]) == ((3, 3), 4)
    assert (style("en-IN", "JPY")["sizes"], style("en-IN", "JPY")["grouped_from"]) == ((3, 2), 4)
    assert (style("de", "KWD")["decimal"], style("de", "JPY")["decimal"]) == (",", "")


@pytest.mark.parametrize(
    "write",
    [
        lambda amount: "dear",
        lambda amount: "12'345,678,901.23",
        lambda amount: f"{amount:,.2f}" if amount > 0 else f"{-amount:.2f}",
    ],
    ids=["no digits", "two separators", "negative ones otherwise"],
)
def test_numbers_of_another_build_are_refused(write: Any) -> None:
    with pytest.raises(StyleError):
        style_of(write, 2)
