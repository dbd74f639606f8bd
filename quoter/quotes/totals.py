"""What lines come to: their taxes, within them or on top, the total, and its instalments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.pricing.price import rounded_amount
from quoter.quotes.kept.record import Deposit, QuoteLine, Tax
from quoter.quotes.line_prices import NOTHING, TaxRate, without_tax


@dataclass(frozen=True, slots=True)
class Totals:
    """What a quote comes to: `net` without tax, the taxes, and `total` with them."""

    net: Decimal
    taxes: tuple[Tax, ...]
    total: Decimal


def totals_of(
    lines: Sequence[QuoteLine],
    rates: Mapping[str, TaxRate],
    currency: str,
    *,
    with_tax: bool,
    per_line: bool,
) -> Totals:
    """What lines come to, with the tax within them or on top.

    Args:
        lines: with amounts in the currency; those without one count for nothing
        rates: by id, those that lines name
        currency: of all amounts
        with_tax: whether amounts hold their tax
        per_line: whether tax is rounded for each line, and not for each rate
    """
    priced = [line for line in lines if line.amount is not None]
    whole = sum((line.amount for line in priced if line.amount is not None), NOTHING)
    taxes = []
    for id, rate in rates.items():
        amounts = [line.amount for line in priced if line.rate == id and line.amount is not None]
        if not amounts:
            continue
        pieces = amounts if per_line else [sum(amounts, NOTHING)]
        tax = sum((_tax_of(piece, rate.rate, currency, with_tax) for piece in pieces), NOTHING)
        base = sum(amounts, NOTHING) - (tax if with_tax else NOTHING)
        taxes.append(Tax(id=id, name=rate.name, rate=rate.rate, base=base, amount=tax))
    charged = sum((tax.amount for tax in taxes), NOTHING)
    if with_tax:
        return Totals(whole - charged, tuple(taxes), whole)
    return Totals(whole, tuple(taxes), whole + charged)


def _tax_of(amount: Decimal, rate: Decimal, currency: str, within: bool) -> Decimal:
    """The tax within an amount, or on top of it."""
    return rounded_amount(amount - without_tax(amount, rate) if within else amount * rate, currency)


def instalments(
    total: Decimal, parts: Sequence[tuple[str, Decimal]], currency: str
) -> tuple[Deposit, ...]:
    """A total in parts by share; the last takes what rounding leaves, so that they add up.

    Args:
        total: what is to be paid
        parts: when each is due, and its share of the whole; shares make up 1
        currency: of the total
    """
    found: list[Deposit] = []
    left = total
    for place, (due, share) in enumerate(parts, 1):
        amount = left if place == len(parts) else rounded_amount(total * share, currency)
        found.append(Deposit(due=due, share=share, amount=amount))
        left -= amount
    return tuple(found)
