"""What lines of one quote are priced by: its currency, its taxes, and whether prices hold them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from quoter.catalogue.markets import Market
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.source import Text
from quoter.figures import Figure, money_in, plain_number
from quoter.pricing.markets import rates_of
from quoter.pricing.price import rounded_amount
from quoter.pricing.public import PublicPrice, public_price, stated_price
from quoter.quotes.kept.amounts import Quantity
from quoter.quotes.kept.inside import Exchanged, Fixed
from quoter.quotes.kept.record import QuoteLine
from quoter.quotes.language import Language

STANDARD = "standard"  # the id of a market's own tax
UNTAXED = "none"  # in a request, a line that bears no tax
NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True)
class TaxRate:
    """A rate of tax: 0.24 is 24 %."""

    id: str
    name: str
    rate: Decimal


def tax_rates(market: Market, words: Callable[[Text], str]) -> dict[str, TaxRate]:
    """The market's taxes by id."""
    own = TaxRate(STANDARD, words(market.tax_name), plain_number(market.tax))
    others = [TaxRate(str(t.id), words(t.name), plain_number(t.rate)) for t in market.other_taxes]
    return {rate.id: rate for rate in (own, *others)}


@dataclass(frozen=True, slots=True)
class LinePrices:
    """How amounts become those of lines; `rates` are empty where no tax is charged."""

    catalogue: Catalogue
    language: Language
    currency: str
    rates: Mapping[str, TaxRate]
    with_tax: bool

    def rate(self, tax: Text | None) -> str:
        """The id of a thing's tax here: its own where the market has it, else the market's."""
        if not self.rates or tax == UNTAXED:
            return ""
        return str(tax) if tax is not None and tax in self.rates else STANDARD

    def shown(self, price: PublicPrice, rate: str) -> Decimal:
        """A price without tax as the quote shows it, as a plain amount."""
        taxed = price.with_tax(self.rates[rate].rate) if self.with_tax and rate else price
        return public_price(taxed, self.currency).amount

    def stated(self, price: Figure) -> PublicPrice:
        """What somebody wrote, in the quote's currency."""
        return stated_price(self.catalogue, price, self.currency)

    def told(self, price: Figure) -> str:
        """What a price was exchanged from, if it was in a currency that the quote says nothing of.

        The rate between home and the quote's currency is told for all of the quote.
        """
        given = exchanged_from(self.catalogue, price, self.currency)
        foreign = given is not None and given.currency != given.home
        return self.language.exchanged(given) if given is not None and foreign else ""

    def of_rate(self, name: str, rate: str) -> str:
        """A name with the tax that it is of."""
        tax = self.rates[rate]
        return f"{name} ({tax.name} {self.language.percent(tax.rate)})"


def exchanged_from(catalogue: Catalogue, price: Figure, currency: str) -> Exchanged | None:
    """What a price was given as, and at which rates it changes; None in the currency itself."""
    rates, given = rates_of(catalogue), str(price.unit)
    if given == currency:
        return None
    fixed = tuple(
        Fixed(currency=str(row.currency), rate=rates.exact(row), day=row.date)
        for row in rates.between(price, currency)
    )
    return Exchanged(amount=money_in(price, given), currency=given, home=rates.home, rates=fixed)


def summed(lines: Iterable[QuoteLine]) -> Decimal:
    """What the amounts of lines come to; those without one count for nothing."""
    return sum((line.amount for line in lines if line.amount is not None), NOTHING)


def counted(quantity: Figure | None) -> Quantity:
    """How many, or how many hours: one if nothing is said; a whole number as such."""
    if quantity is None:
        return 1
    number = plain_number(quantity)
    return int(number) if number == number.to_integral_value() else number


def extended(price: Decimal, quantity: Quantity, currency: str) -> Decimal:
    """What so many of something come to, in whole smallest units.

        amount = price * quantity, rounded half up

    Args:
        price: of one, in whole smallest units of the currency
        quantity: how many, or how many hours
        currency: of the price
    Returns:
        the amount; exact where the quantity is whole
    Source: definition

    >>> extended(Decimal("68.30"), Decimal("12.25"), "EUR"), extended(Decimal("9.95"), 3, "EUR")
    (Decimal('836.68'), Decimal('29.85'))
    """
    return rounded_amount(price * quantity, currency)


def split_in_proportion(
    amount: Decimal, weights: Mapping[str, Decimal], currency: str
) -> dict[str, Decimal]:
    """An amount in parts as weights are to each other, which add up to it exactly.

        part = round(amount * weights so far / all weights) - the parts before

    Args:
        amount: in whole smallest units of the currency
        weights: by name, in their order; what is not above zero gets nothing
        currency: of the amount
    Returns:
        the parts by name, in whole smallest units
    Limits: the weights make up more than zero
    Source: common practice, no source: running totals are rounded, so nothing is lost between them

    >>> split_in_proportion(Decimal(100), {"a": Decimal(1), "b": Decimal(2)}, "EUR")
    {'a': Decimal('33.33'), 'b': Decimal('66.67')}
    """
    kept = {name: weight for name, weight in weights.items() if weight > 0}
    whole, so_far, given = sum(kept.values(), NOTHING), NOTHING, NOTHING
    parts = {}
    for name, weight in kept.items():
        so_far += weight
        until = rounded_amount(amount * so_far / whole, currency)
        parts[name], given = until - given, until
    return parts


def without_tax(amount: Decimal, rate: Decimal) -> Decimal:
    """What an amount that holds its tax is without it; not rounded.

        net = amount / (1 + rate)

    Args:
        amount: with tax
        rate: 0.24 is 24 %
    Source: EU Directive 2006/112, art. 78 (a): the tax is no part of what it is taken of

    >>> without_tax(Decimal("124.00"), Decimal("0.24"))
    Decimal('100')
    """
    return amount / (1 + rate)
