"""Numbers of other countries are read exactly, or refused where they have two meanings."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.importing.cells import CellFault, SheetCell, amount_in, is_mark_of, number_in
from quoter.problems import Place

# One number as the Unicode CLDR writes it in English, German, Norwegian, French and Swiss German:
# thousands parted by comma, point, no-break space, narrow no-break space, apostrophe.
WRITTEN = [
    ("point", "1,234,567.89"),
    ("comma", "1.234.567,89"),
    ("comma", "1\u00a0234\u00a0567,89"),
    ("comma", "1\u202f234\u202f567,89"),
    ("point", "1\u2019234\u2019567.89"),
    ("point", "1234567.89"),
    ("comma", "1234567,89"),
]


@pytest.mark.parametrize(("decimal", "words"), WRITTEN)
def test_a_number_is_read_as_its_country_writes_it(decimal: str, words: str) -> None:
    assert number_in(words, decimal) == Decimal("1234567.89")


@pytest.mark.parametrize(
    ("decimal", "words", "what"),
    [
        ("point", "1,234", "'1,234' can be read in two ways"),
        ("comma", "1.234", "'1.234' can be read in two ways"),
        ("point", "2,14", "'2,14' has a comma for its decimals"),
        ("comma", "2.14", "'2.14' has a point for its decimals"),
        ("point", "1,23,456", "'1,23,456' is no number"),
        ("point", "2 628,80", "'2 628,80' has a comma for its decimals"),
        ("point", "2.628,80", "'2.628,80' has a comma for its decimals"),
        ("comma", "2'628.80", "'2'628.80' has a point for its decimals"),
        ("point", "12 34,80", "'12 34,80' is no number"),
        ("point", "2.14.2", "'2.14.2' is no number"),
        ("point", "(2.14)", "'(2.14)' is no number"),
        ("point", "1e3", "'1e3' is no number"),
        ("point", "٣", "'٣' is no number"),
        ("point", "", "'' is no number"),
        ("point", "-", "'-' is no number"),
    ],
)
def test_what_is_no_number_or_has_two_meanings_is_refused(
    decimal: str, words: str, what: str
) -> None:
    with pytest.raises(CellFault) as told:
        number_in(words, decimal)
    assert told.value.what == what


@given(
    number=st.decimals("-999999", "999999", places=3), decimal=st.sampled_from(["point", "comma"])
)
def test_a_number_with_decimals_is_read_back_whatever_parts_its_thousands(
    number: Decimal, decimal: str
) -> None:
    mark, other = (".", ",") if decimal == "point" else (",", ".")
    for between in ("", other, " ", "'"):
        plain = f"{number:,f}".replace(",", "_").replace(".", mark).replace("_", between)
        assert number_in(plain, decimal) == number


@pytest.mark.parametrize(
    ("text", "number", "mark"),
    [
        ("2.14 USD", "2.14", "USD"),
        ("USD 2.14", "2.14", "USD"),
        ("$2.14", "2.14", "$"),
        ("US$ 2.14", "2.14", "US$"),
        ("€ 2.14", "2.14", "€"),
        ("kr 58", "58", "kr"),
        ("58 kr.", "58", "kr."),
        ("2.14", "2.14", ""),
    ],
)
def test_a_currency_may_stand_beside_a_number(text: str, number: str, mark: str) -> None:
    assert amount_in(SheetCell(text, Place("p.csv", 1, 1)), "point", "a price") == (
        Decimal(number),
        mark,
    )


@pytest.mark.parametrize("text", ["USD 2.14 EUR", "2.14 USD/lb", "two", "2.14 / 2.20"])
def test_more_than_a_number_and_a_currency_is_refused(text: str) -> None:
    with pytest.raises(CellFault, match="is no number"):
        amount_in(SheetCell(text, Place("p.csv", 1, 1)), "point", "a price")


@pytest.mark.parametrize(
    ("text", "per"),
    [("4,64 EUR/kg", "/kg"), ("2.14/ LB", "/ LB"), ("$ 48.50 per US gal", "per US gal")],
)
def test_a_unit_behind_a_number_is_to_be_left_out(text: str, per: str) -> None:
    with pytest.raises(CellFault) as told:
        amount_in(SheetCell(text, Place("p.csv", 1, 1)), "point", "a price")
    assert told.value.what == f"'{text}' is no number alone"
    assert told.value.hint == f"leave out '{per}': the catalogue says what it is per"


def test_a_sign_may_be_that_of_several_currencies() -> None:
    """ISO 4217's codes stand for themselves; $ and kr are signs of several."""
    assert all(is_mark_of("$", currency) for currency in ("USD", "CAD", "AUD"))
    assert all(is_mark_of("kr", currency) for currency in ("NOK", "SEK", "DKK"))
    assert is_mark_of("usd", "USD")
    assert not is_mark_of("$", "EUR")
    assert not is_mark_of("US$", "CAD")
    assert not is_mark_of("€", "USD")
