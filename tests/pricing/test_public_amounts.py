"""Amounts as customers see them: the currency's own digits, halves up, tax rounded once."""

from __future__ import annotations

from decimal import Decimal

import pytest

from quoter.figures import constant
from quoter.pricing.price import public_amount
from tests.pricing.public_prices import public

# Minor units by ISO 4217: none for the yen, three digits for the Kuwaiti dinar.
AMOUNTS = [
    (2.345, "EUR", "2.35"),
    (2.335, "EUR", "2.34"),
    (1.005, "EUR", "1.01"),
    (2.5, "JPY", "3"),
    (3.5, "JPY", "4"),
    (1234.4, "JPY", "1234"),
    (2.0005, "KWD", "2.001"),
    (2.0, "KWD", "2.000"),
    (4350.0, "EUR", "4350.00"),
    (-2.5, "JPY", "-3"),
    (1e-9, "EUR", "0.00"),
    (1e16, "EUR", "10000000000000000.00"),
]


@pytest.mark.parametrize(("value", "currency", "expected"), AMOUNTS)
def test_public_amount(value: float, currency: str, expected: str) -> None:
    found = public_amount(constant(value, currency), currency)
    assert (found, str(found)) == (Decimal(expected), expected)


TAXED = [
    (100.0, 0.24, "EUR", "124.00"),
    (4350.0, 0.24, "EUR", "5394.00"),
    (0.125, 0.0, "EUR", "0.13"),
    # 19.99 x 1.255 = 25.08745: tax comes on what customers without tax see.
    (19.994, 0.255, "EUR", "25.09"),
    (1234.0, 0.10, "JPY", "1357"),
    (1235.0, 0.10, "JPY", "1359"),
    (10.0005, 0.05, "KWD", "10.501"),
    (8.5, 0.081, "CHF", "9.19"),
]


@pytest.mark.parametrize(("value", "tax", "currency", "expected"), TAXED)
def test_with_tax(value: float, tax: float, currency: str, expected: str) -> None:
    found = public(value, currency).with_tax(Decimal(repr(tax)))
    assert (str(found.amount), found.currency) == (expected, currency)
