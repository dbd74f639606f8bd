"""Where customers pay: bank accounts, their numbers checked; and the country the yard is in."""

from __future__ import annotations

import re
from functools import cache
from typing import Annotated

from stdnum import bic, iban, numdb
from stdnum.exceptions import InvalidChecksum, ValidationError

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.catalogue.values import Plain
from quoter.problems import quoted

_LENGTHS = re.compile(r"(\d+)!")  # of the pieces of a country's account numbers
_IBAN = re.compile(r"[A-Z]{2}[0-9]{2}[A-Z0-9]+\Z")
_BIC = re.compile(r"[A-Z]{6}[A-Z0-9]{2}(?:[A-Z0-9]{3})?\Z")
# Codes that ISO 3166-1 leaves to its users, for places that have none; reserved for ever.
_OWN_CODES = re.compile(r"AA|Q[M-Z]|X[A-Z]|ZZ")
_BANKS = "compare it with what the bank wrote"
OneLine = Annotated[
    Text, Plain(f.one_line, called=f"a text on one line, at most {f.LONGEST_LINE} characters")
]


def _country(text: Text) -> Text:
    hint = "write its two letters of ISO 3166, for example 'NO'"
    if not text:
        raise f.fault("no-value", "has no value", hint)
    if text not in _countries() and not _OWN_CODES.fullmatch(text):
        raise f.fault("bad-country", f"{quoted(text)} is no code of a country", hint)
    return text


@cache
def _countries() -> frozenset[str]:
    from babel import Locale

    codes = map(str, Locale("en").territories)
    return frozenset(code for code in codes if re.fullmatch("[A-Z]{2}", code))


def _iban(text: Text) -> Text:
    """An international account number in groups of four, as it is shown (ISO 13616).

    Raises:
        PydanticCustomError: with what is wrong: the country, the length, the letters, the check.
    """
    found = iban.compact(text)
    if not found:
        raise f.fault("no-value", "has no value", "write the account's number")
    if what := _iban_fault(found):
        raise f.fault("bad-iban", f"{quoted(text)} {what}", _BANKS)
    return Text.at(iban.format(found), text.place, text.key, text.label)


def _iban_fault(found: str) -> str:
    """What is wrong with an account number without blanks; nothing if it is sound."""
    if not _IBAN.match(found):
        return "is no IBAN: two letters of a country, two digits, then the account"
    country = found[:2]
    structure = numdb.get("iban").info(found)[0][1].get("bban")
    if structure is None:
        return f"begins with {country}, a country that has no IBAN"
    length = 4 + sum(map(int, _LENGTHS.findall(structure)))
    if len(found) != length:
        return f"has {len(found)} letters and digits; an IBAN of {country} has {length}"
    try:
        iban.validate(found, check_country=False)
    except InvalidChecksum:
        return "fails its own check: a digit is wrong, or two are swapped"
    except ValidationError:
        return f"is not built as an IBAN of {country} is: a letter stands where a digit belongs"
    return "" if iban.is_valid(found) else f"fails the check that banks of {country} have within"


def _bic(text: Text) -> Text:
    """The code of a bank (ISO 9362).

    Raises:
        PydanticCustomError: with what is wrong: the length, the letters, the country.
    """
    found = bic.compact(text)
    if not found:
        raise f.fault("no-value", "has no value", "write the code of the bank")
    if len(found) not in (8, 11):
        what = f"has {len(found)} letters and digits; a BIC has 8 or 11"
    elif not _BIC.match(found):
        what = "is no BIC: four letters of the bank, two of its country, then letters or digits"
    elif not bic.is_valid(found):
        what = f"names {found[4:6]}, which is no country"
    else:
        return Text.at(found, text.place, text.key, text.label)
    raise f.fault("bad-bic", f"{quoted(text)} {what}", _BANKS)


Country = Annotated[Text, Plain(_country, called="the two letters of a country")]
Iban = Annotated[Text, Plain(_iban, called="an account number with its check digits")]
Bic = Annotated[Text, Plain(_bic, called="the code of a bank, 8 or 11 letters and digits")]


class BankAccount(CatalogueRecord):
    """An account that customers pay into; on quotes, never on the price sheet."""

    bank: OneLine
    """The name of the bank.
    Example: `Bank of Orvesund`"""
    iban: Iban | None = None
    """The international number of the account; its check digits, length and letters are tested.
    Example: `DE98 0000 0000 0001 2345 67`"""
    bic: Bic | None = None
    """The code of the bank.
    Example: `ORVSDEM0`"""
    account: OneLine | None = None
    """The account's number where there is no IBAN.
    Example: `000 123 456`"""
    routing: OneLine | None = None
    """The bank's number beside `account`, in the country's own way.
    Example: `Routing number 021 000 021`"""
    currency: f.Currency | None = None
    """The currency that the account is kept in; a quote in it names this account.
    Unless given: the account is for quotes in any currency that has none of its own.
    Example: `NOK`"""
