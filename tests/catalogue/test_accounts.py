"""Account numbers and codes of banks: published examples pass, and each slip of a digit is found.

Sources: the examples of the registry of ISO 13616 (SWIFT, *IBAN Registry*), from memory; the check
is modulo 97 of ISO 7064, which finds every single wrong digit and every swap of neighbours that
differ. ISO 9362 for codes of banks.
"""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from quoter.catalogue.accounts import Bic, Country, Iban
from quoter.catalogue.source import Text
from quoter.problems import Place

EXAMPLES = (
    "GB29 NWBK 6016 1331 9268 19",
    "DE89 3704 0044 0532 0130 00",
    "NO93 8601 1117 947",
    "FR14 2004 1010 0505 0001 3M02 606",
    "ES91 2100 0418 4502 0005 1332",
    "NL91 ABNA 0417 1643 00",
    "FI21 1234 5600 0007 85",
    "SE45 5000 0000 0583 9825 7466",
    "DK50 0040 0440 1162 43",
    "MT84 MALT 0110 0001 2345 MTLC AST0 01S",
)


def read(kind: Any, text: str) -> str:
    return str(TypeAdapter(kind).validate_python(Text.at(text, Place("yard.yaml"))))


def fault(kind: Any, text: str) -> str:
    with pytest.raises(ValidationError) as caught:
        read(kind, text)
    return str(caught.value.errors()[0]["ctx"]["what"])


@pytest.mark.parametrize("number", EXAMPLES)
def test_a_published_example_passes_however_it_is_written(number: str) -> None:
    plain = number.replace(" ", "")
    for written in (number, plain, plain.lower(), number.replace(" ", "-")):
        assert read(Iban, written) == number


@pytest.mark.parametrize("number", EXAMPLES)
def test_each_wrong_digit_and_each_swap_is_found(number: str) -> None:
    plain = number.replace(" ", "")
    tried = 0
    for place in range(2, len(plain)):
        if plain[place].isdigit():
            other = str((int(plain[place]) + 1) % 10)
            assert "'" in fault(Iban, plain[:place] + other + plain[place + 1 :])
            tried += 1
        one, two = plain[place - 1], plain[place]
        if place > 2 and one != two:
            assert "'" in fault(Iban, plain[: place - 1] + two + one + plain[place + 1 :])
            tried += 1
    assert tried > 15


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("DE89 3704 0044 0532 0130", "has 20 letters and digits; an IBAN of DE has 22"),
        ("DE89 3704 0044 0532 0130 01", "fails its own check: a digit is wrong, or two are"),
        ("US89 3704 0044 0532 0130 00", "begins with US, a country that has no IBAN"),
        ("3704 0044 0532", "is no IBAN: two letters of a country, two digits, then the account"),
        ("DE47 3704 0044 0532 013A 00", "is not built as an IBAN of DE is: a letter stands"),
    ],
)
def test_what_is_wrong_with_a_number_is_said(number: str, told: str) -> None:
    assert fault(Iban, number).startswith(f"'{number}' {told}")


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("QSBKDE", "has 6 letters and digits; a BIC has 8 or 11"),
        ("Q5BKDEM0", "is no BIC: four letters of the bank, two of its country, then letters or"),
        ("QSBKQQM0", "names QQ, which is no country"),
    ],
)
def test_what_is_wrong_with_a_code_is_said(code: str, told: str) -> None:
    assert fault(Bic, code).startswith(f"'{code}' {told}")


def test_a_code_of_a_bank_is_written_without_blanks() -> None:
    assert read(Bic, "qsbk de m0 xxx") == "QSBKDEM0XXX"


def test_a_country_is_one_of_the_standard_or_one_that_it_leaves_to_its_users() -> None:
    assert [read(Country, code) for code in ("NO", "US", "XO", "ZZ")] == ["NO", "US", "XO", "ZZ"]
    for code in ("no", "NOR", "YY", "Q"):
        assert fault(Country, code) == f"'{code}' is no code of a country"
