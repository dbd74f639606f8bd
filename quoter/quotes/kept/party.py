"""Whom a quote is from and for, where it is paid and when the boat can be there, as it is kept."""

from __future__ import annotations

from collections.abc import Callable

from quoter.quotes.kept.amounts import Count, Frozen

Say = Callable[[str], str]


class Bank(Frozen):
    """An account to pay into; what it does not have is empty."""

    name: str
    """The bank."""
    iban: str = ""
    """The international number, in groups of four."""
    bic: str = ""
    """The code of the bank."""
    account: str = ""
    """The number, where there is no international one."""
    routing: str = ""
    """The bank's number beside it."""


class Party(Frozen):
    """Whom a quote is from or for; what was not given is empty."""

    name: str
    """Who it is."""
    company: str = ""
    """The company, if it is one."""
    address: tuple[str, ...] = ()
    """Lines of the address."""
    country: str = ""
    """The country."""
    email: str = ""
    """Address for mail."""
    phone: str = ""
    """Telephone number."""
    website: str = ""
    """Address of the site."""
    tax_number: str = ""
    """Number for tax."""
    country_code: str = ""
    """The country by its two letters."""
    registration: str = ""
    """Where it is registered, and under which number."""
    banks: tuple[Bank, ...] = ()
    """Accounts to pay into."""


class LeadTime(Frozen):
    """How long after the order the boat can be there."""

    weeks: Count
    """Whole weeks."""
    of: str = ""
    """What takes longest; nothing for the boat itself."""


def party_rows(who: Party, say: Say) -> list[str]:
    """A party line by line, as it stands on a letter.

    Args:
        who: the party
        say: the wording of templates in the quote's language
    """
    number = {"number": who.tax_number}
    told = (
        who.company or who.name,
        who.name if who.company else "",
        *who.address,
        who.country,
        say("Tax number %(number)s") % number if who.tax_number else "",
        who.registration,
        who.phone,
        who.email,
        who.website,
    )
    return [text for text in told if text]


def bank_rows(bank: Bank, say: Say) -> list[tuple[str, str]]:
    """What is known of an account, each with what it is called.

    Args:
        bank: the account
        say: the wording of templates in the quote's language
    """
    told = (
        (say("Bank"), bank.name),
        (say("IBAN"), bank.iban),
        (say("Account"), bank.account),
        (say("Bank code"), bank.routing),
        (say("BIC"), bank.bic),
    )
    return [(what, value) for what, value in told if value]
