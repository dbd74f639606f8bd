"""Who a quote is from and for, where it is paid, and when the boat can be there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from quoter.catalogue.accounts import BankAccount
from quoter.catalogue.quoting import Customer
from quoter.catalogue.source import Text
from quoter.catalogue.yard import Company
from quoter.figures import Figure
from quoter.pricing.seen import whole_weeks
from quoter.quotes.kept.party import Bank, LeadTime, Party
from quoter.quotes.language import Language
from quoter.quotes.request import Wish


def yard_of(company: Company, currency: str, language: Language) -> Party:
    """The yard as a quote names it.

    Args:
        company: the yard
        currency: of the quote; it has the accounts of that currency where there are any
        language: in which the country is named
    """
    code = str(company.country or "")
    return Party(
        name=str(company.name),
        address=(str(company.address),) if company.address else (),
        country=language.locale.territories.get(code, ""),
        country_code=code,
        email=str(company.email or ""),
        phone=str(company.phone or ""),
        website=str(company.website or ""),
        tax_number=str(company.tax_number or ""),
        registration=language.words(company.registration),
        banks=tuple(_bank(each) for each in accounts_for(company.bank, currency)),
    )


def accounts_for(accounts: Sequence[BankAccount], currency: str) -> Sequence[BankAccount]:
    """The accounts of a currency; else those of none; else all."""
    for wanted in (currency, None):
        found = [each for each in accounts if each.currency == wanted]
        if found:
            return found
    return accounts


def _bank(account: BankAccount) -> Bank:
    return Bank(
        name=str(account.bank),
        iban=str(account.iban or ""),
        bic=str(account.bic or ""),
        account=str(account.account or ""),
        routing=str(account.routing or ""),
    )


def customer_of(customer: Customer) -> Party:
    """The customer as the request has them."""
    return Party(
        name=str(customer.name),
        company=str(customer.company or ""),
        address=tuple(str(line) for line in customer.address),
        country=str(customer.country or ""),
        email=str(customer.email or ""),
        phone=str(customer.phone or ""),
        tax_number=str(customer.tax_number or ""),
    )


def longest_lead(wish: Wish, language: Language) -> LeadTime | None:
    """The longest lead time of the boat and of what is chosen; the boat's own if they are equal."""
    found = [(whole_weeks(weeks), name) for weeks, name in _leads(wish)]
    if not found:
        return None
    longest, name = max(found, key=lambda each: each[0])
    return LeadTime(weeks=longest, of=language.words(name))


def _leads(wish: Wish) -> Iterator[tuple[Figure, Text | None]]:
    """What is known to take time, and its name; none for the boat. A package is its options."""
    model = wish.model
    if model.model.lead_weeks is not None:
        yield model.model.lead_weeks, None
    packages = {str(each.id): each.options for each in model.offered_packages}
    for id, quantity in wish.chosen.items():
        for name in packages.get(id, (id,)) if quantity else ():
            option = model.options[name].option
            if option is not None and option.lead_weeks is not None:
                yield option.lead_weeks, option.name


def promised_too_soon(issued: date, promised: date | None, lead: LeadTime | None) -> str:
    """Why a promised day can't be kept as lead times have it; nothing if it can, or none is known.

    >>> promised_too_soon(date(2026, 11, 25), date(2026, 12, 9), LeadTime(weeks=3))
    'delivery is promised for 2026-12-09, 14 days after the quote; the boat needs 3 weeks'
    """
    if promised is None or lead is None:
        return ""
    ready = issued + timedelta(weeks=lead.weeks)
    if promised >= ready:
        return ""
    days, weeks = (promised - issued).days, f"{lead.weeks} week{'s' if lead.weeks > 1 else ''}"
    return (
        f"delivery is promised for {promised}, {days} day{'s' if days != 1 else ''} after the "
        f"quote; {lead.of or 'the boat'} needs {weeks}"
    )
