"""Whom a quote is from and for, where it is paid and when the boat can be there, as it is kept."""

from __future__ import annotations

from quoter.quotes.amounts import Count, Frozen


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
