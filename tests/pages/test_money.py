"""Numbers are rounded half up, away from zero, and written as the locale writes them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from babel import Locale

from quoter.figures.exact import half_up
from quoter.pages.money import HARD_SPACE, length, mass, money, number, percent, rate

EN = Locale("en")


def spaced(text: str) -> str:
    return text.replace(HARD_SPACE, " ")


# Halves away from zero: what school arithmetic and spreadsheets do (ISO 80000-1 B.3, rule B).
@pytest.mark.parametrize(
    ("amount", "digits", "expected"),
    [
        ("2.345", 2, "2.35"),
        ("2.355", 2, "2.36"),
        ("-2.345", 2, "-2.35"),
        ("2.5", 0, "3"),
        ("-2.5", 0, "-3"),
        ("0.125", 2, "0.13"),
        ("2.3449999", 2, "2.34"),
        ("-0.004", 2, "0.00"),
    ],
)
def test_halves_are_rounded_away_from_zero(amount: str, digits: int, expected: str) -> None:
    assert str(half_up(Decimal(amount), digits)) == expected


# Minor units: ISO 4217, amendment list one: 2 digits for EUR, 0 for JPY, 3 for BHD.
@pytest.mark.parametrize(
    ("amount", "currency", "language", "expected"),
    [
        ("2.345", "EUR", "en", "€2.35"),
        ("2.5", "JPY", "en", "¥3"),
        ("1.2345", "BHD", "en", "BHD 1.235"),
        ("-120", "EUR", "en", "-€120.00"),
        ("1234567.895", "EUR", "en", "€1,234,567.90"),
        ("1234567.895", "EUR", "de", "1.234.567,90 €"),
    ],
)
def test_money_has_the_digits_of_its_currency(
    amount: str, currency: str, language: str, expected: str
) -> None:
    assert spaced(money(Decimal(amount), currency, Locale(language))) == expected


def test_a_number_never_parts_from_its_unit() -> None:
    written = [
        money(Decimal("1234.5"), "EUR", Locale("de")),
        mass(Decimal("37.25"), EN),
        length(Decimal("7.6"), EN).partition("(")[0].strip(" "),
        percent(Decimal("0.5"), Locale("de")),
    ]
    assert [" " in text for text in written] == [False] * 4
    assert all(HARD_SPACE in text for text in written)


# 1 ft = 0.3048 m exactly, 12 in = 1 ft (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("metres", "expected"),
    [
        ("7.9248", "7.92 m (26 ft)"),
        ("0.3048", "0.30 m (1 ft)"),
        ("3.048", "3.05 m (10 ft)"),
        ("7.6", "7.60 m (24 ft 11 in)"),
        ("6.083", "6.08 m (19 ft 11 in)"),
        ("6.09", "6.09 m (20 ft)"),
    ],
)
def test_lengths_have_feet_and_inches_beside_them(metres: str, expected: str) -> None:
    assert spaced(length(Decimal(metres), EN)) == expected


def test_masses_have_one_decimal_up_to_a_tonne() -> None:
    shown = [spaced(mass(Decimal(text), EN)) for text in ("37.25", "999.94", "-1.25", "1127.5")]
    assert shown == ["37.3 kg", "999.9 kg", "-1.3 kg", "1,128 kg"]


def test_fractions_are_shown_as_percentages() -> None:
    assert percent(Decimal("0.18250"), EN) == "18.3%"
    assert spaced(percent(Decimal("0.18250"), Locale("de"))) == "18,3 %"
    assert [rate(Decimal(text), EN) for text in ("0.24", "0.081", "0.0", "1.0")] == [
        "24%",
        "8.1%",
        "0%",
        "100%",
    ]


def test_plain_numbers_follow_the_locale() -> None:
    assert number(Decimal("12345.65"), EN, 1) == "12,345.7"
    assert number(Decimal("12345.5"), Locale("de")) == "12.346"
    assert number(Decimal("1234567"), Locale.parse("en_IN")) == "12,34,567"
