"""A request priced: the lines of the quote, its taxes, totals and instalments.

A package bears the market's own tax. Discounts are split by rate of tax. Consumers see prices with
tax where their market shows it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.catalogue.markets import Market
from quoter.catalogue.options import Option
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.source import Text
from quoter.figures import Figure, money_in, plain_number
from quoter.pricing.markets import currency_of, rates_of
from quoter.pricing.price import BOAT, Priced, Pricing, rounded_amount
from quoter.pricing.public import PublicPrice, delivery_charge, public_price, untaxed_prices
from quoter.pricing.rules import boarded
from quoter.quotes.language import Language
from quoter.quotes.record import Deposit, Exchanged, Fixed, LineKind, QuoteLine, Tax
from quoter.quotes.request import Wish

STANDARD = "standard"  # the id of a market's own tax


@dataclass(frozen=True, slots=True)
class Offer:
    """The priced lines of a quote in its currency, and what they come to."""

    currency: str
    with_tax: bool
    lines: tuple[QuoteLine, ...]
    totals: Totals
    deposits: tuple[Deposit, ...]


def offer_of(pricing: Pricing, wish: Wish, language: Language) -> Offer:
    """Price a request: boat, what is standard, what is chosen, discounts, delivery."""
    currency = currency_of(pricing.catalogue, wish.market)
    with_tax = wish.scheme.charged and wish.buyer.consumer and wish.market.prices == "with tax"
    rates = tax_rates(wish.market, language.words) if wish.scheme.charged else {}
    maker = _QuoteLines(pricing, wish, language, rates, with_tax)
    lines = tuple(maker.every())
    totals = totals_of(
        lines,
        rates,
        currency,
        with_tax=with_tax,
        per_line=wish.policy.tax_rounding == "per line",
    )
    parts = [(language.words(part.due), plain_number(part.share)) for part in wish.policy.deposits]
    return Offer(currency, with_tax, lines, totals, instalments(totals.total, parts, currency))


def delivery_given(catalogue: Catalogue, price: Figure, currency: str) -> Exchanged | None:
    """What delivery is charged at as it was given, and at which rates; None in the currency."""
    rates, given = rates_of(catalogue), str(price.unit)
    if given == currency:
        return None
    fixed = tuple(
        Fixed(currency=str(row.currency), rate=rates.exact(row), day=row.date)
        for row in rates.between(price, currency)
    )
    return Exchanged(amount=money_in(price, given), currency=given, home=rates.home, rates=fixed)


def list_total(pricing: Pricing, wish: Wish, language: Language) -> Decimal:
    """What the boat as chosen comes to on its market's price sheet, before any discount.

    With the market's tax or without as its lists show prices, whoever buys and whatever the
    scheme; with what the policy charges for delivery, whatever the request says of it.
    """
    rates = tax_rates(wish.market, language.words)
    return _QuoteLines(pricing, wish, language, rates, wish.market.prices == "with tax").listed()


def tax_rates(market: Market, words: Callable[[Text], str]) -> dict[str, TaxRate]:
    """The market's taxes by id."""
    own = TaxRate(STANDARD, words(market.tax_name), plain_number(market.tax))
    others = [TaxRate(str(t.id), words(t.name), plain_number(t.rate)) for t in market.other_taxes]
    return {rate.id: rate for rate in (own, *others)}


class _QuoteLines:
    """The lines of one quote, in their order."""

    def __init__(
        self,
        pricing: Pricing,
        wish: Wish,
        language: Language,
        rates: Mapping[str, TaxRate],
        with_tax: bool,
    ) -> None:
        self._pricing = pricing
        self._wish = wish
        self._language = language
        self._rates = rates
        self._with_tax = with_tax
        self._currency = currency_of(pricing.catalogue, wish.market)
        self._prices = untaxed_prices(pricing, wish.market)

    def every(self) -> Iterator[QuoteLine]:
        """All lines: what is sold, then discounts on it, then delivery."""
        sold = [self._boat(), *self._chosen(), *self._surcharges()]
        yield sold[0]
        yield from self._standard()
        yield from sold[1:]
        yield from self._discounts(sold)
        if self._wish.delivery.price is not None:
            yield self._delivery(self._wish.delivery.price)

    def listed(self) -> Decimal:
        """What is sold and the usual delivery, added up."""
        lines = [self._boat(), *self._chosen(), *self._surcharges()]
        if self._wish.policy.delivery.price is not None:
            lines.append(self._delivery(self._wish.policy.delivery.price))
        return sum((line.amount for line in lines if line.amount is not None), NOTHING)

    def _boat(self) -> QuoteLine:
        model = self._wish.model.model
        words = self._language.words
        return self._priced(
            kind="boat",
            id=BOAT,
            name=words(model.name),
            text=words(model.text),
            inside=(),
            quantity=1,
            tax=None,
        )

    def _standard(self) -> Iterator[QuoteLine]:
        model, words = self._wish.model, self._language.words
        aboard = boarded(model, self._wish.boat.quantities)
        for name in model.model.standard:
            option = model.options[name].option
            if option is not None and aboard[name].value:
                yield QuoteLine(
                    kind="standard",
                    id=str(name),
                    name=words(option.name),
                    inside=tuple(words(text) for text in option.includes),
                )

    def _chosen(self) -> Iterator[QuoteLine]:
        model, words = self._wish.model, self._language.words
        for id, item in model.extras.items():
            quantity = self._wish.chosen.get(id, 0)
            if not quantity:
                continue
            if item.option is not None:
                yield self._option(id, item, item.option, quantity)
                continue
            package = next(each for each in model.offered_packages if each.id == id)
            inside = [model.options[name].option for name in package.options]
            names = tuple(words(option.name) for option in inside if option is not None)
            name, text = words(package.name), words(package.text)
            yield self._priced(
                kind="package",
                id=id,
                name=name,
                text=text,
                inside=names,
                quantity=quantity,
                tax=None,
            )

    def _option(self, id: str, item: Priced, option: Option, quantity: int) -> QuoteLine:
        words = self._language.words
        kind: LineKind = "credit" if self._price(id).amount < 0 else "option"
        inside = tuple(words(text) for text in option.includes)
        line = self._priced(
            kind=kind,
            id=id,
            name=words(option.name),
            text=words(option.text),
            inside=inside,
            quantity=quantity,
            tax=option.tax,
        )
        return line.model_copy(update={"lead_time": words(option.lead_time)})

    def _surcharges(self) -> Iterator[QuoteLine]:
        """What is charged for options that are in the colour of this boat."""
        model, words = self._wish.model, self._language.words
        for pair in self._wish.surcharged:
            option, colour = (model.options[id].option for id in (pair.of.option, pair.of.colour))
            if option is None or colour is None:
                raise ValueError(f"{pair.of.id} is of something that is no option")
            name = self._language.say(
                "Extra charge: {option} with {colour}",
                option=words(option.name),
                colour=words(colour.name),
            )
            yield self._priced(
                kind="option",
                id=pair.of.id,
                name=name,
                text="",
                inside=(),
                quantity=int(pair.count.value),
                tax=option.tax,
            )

    def _price(self, id: str) -> PublicPrice:
        return self._prices[self._wish.model.model.id, id]

    def _priced(
        self,
        kind: LineKind,
        id: str,
        name: str,
        text: str,
        inside: tuple[str, ...],
        quantity: int,
        tax: Text | None,
    ) -> QuoteLine:
        rate = self._rate(tax)
        price = self._amount(self._shown(self._price(id), rate))
        return QuoteLine(
            kind=kind,
            id=id,
            name=name,
            text=text,
            inside=inside,
            quantity=quantity,
            price=price,
            amount=price * quantity,
            rate=rate,
        )

    def _rate(self, tax: Text | None) -> str:
        """The id of a thing's tax here: its own where the market has it, else the market's."""
        if not self._rates:
            return ""
        return str(tax) if tax is not None and tax in self._rates else STANDARD

    def _shown(self, price: PublicPrice, rate: str) -> PublicPrice:
        """A price without tax as the quote shows it."""
        return price.with_tax(self._rates[rate].rate) if self._with_tax else price

    def _amount(self, price: PublicPrice) -> Decimal:
        """A price as a record has it, which is of plain amounts."""
        return public_price(price, self._currency).amount

    def _discounts(self, sold: list[QuoteLine]) -> Iterator[QuoteLine]:
        """The class's discount on all that is sold, then the customer's on what is left."""
        say, percent = self._language.say, self._language.percent
        left = dict.fromkeys(dict.fromkeys(line.rate for line in sold), NOTHING)
        for line in sold:
            left[line.rate] += line.amount or NOTHING
        extra = self._wish.request.discount
        for id, discount, words in (
            ("class", self._wish.buyer.discount, say("Dealer discount of {rate}")),
            ("extra", extra, say("Discount of {rate}")),
        ):
            if discount is None or not discount.value:
                continue
            share = plain_number(discount)
            for rate in left:
                amount = -rounded_amount(left[rate] * share, self._currency)
                left[rate] += amount
                name = words.format(rate=percent(share))
                if len(left) > 1 and rate:
                    name = f"{name} ({self._rates[rate].name} {percent(self._rates[rate].rate)})"
                yield QuoteLine(
                    kind="discount", id=id, name=name, price=amount, amount=amount, rate=rate
                )

    def _delivery(self, price: Figure) -> QuoteLine:
        """What delivery is charged at, in the quote's currency."""
        rate, catalogue = self._rate(None), self._pricing.catalogue
        charge = delivery_charge(catalogue, price, self._currency)
        shown = self._amount(self._shown(charge, rate))
        given = delivery_given(catalogue, price, self._currency)
        # The rate between home and the quote's currency is told for all of the quote.
        foreign = given is not None and given.currency != given.home
        text = self._language.exchanged(given) if given is not None and foreign else ""
        delivery = self._wish.delivery
        place = f"{delivery.term} {self._language.words(delivery.named_place)}"
        name = self._language.say("Delivery: {place}").format(place=place)
        return QuoteLine(
            kind="delivery", id="", name=name, text=text, price=shown, amount=shown, rate=rate
        )


NOTHING = Decimal(0)


@dataclass(frozen=True, slots=True)
class TaxRate:
    """A rate of tax: 0.24 is 24 %."""

    id: str
    name: str
    rate: Decimal


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
    return rounded_amount(amount - amount / (1 + rate) if within else amount * rate, currency)


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
