"""A request priced: the lines of the quote, its taxes, totals and instalments.

A package bears the market's own tax. Discounts are split by rate of tax. Consumers see prices with
tax where their market shows it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from quoter.catalogue.options import Option
from quoter.catalogue.source import Text
from quoter.figures import Figure, plain_number
from quoter.pricing.configured import configure
from quoter.pricing.markets import currency_of
from quoter.pricing.pairs import PairCount
from quoter.pricing.price import BOAT, Priced, Pricing, rounded_amount
from quoter.pricing.public import PublicPrice, untaxed_prices
from quoter.pricing.rules import boarded
from quoter.quotes.kept.record import Deposit, LineKind, QuoteLine
from quoter.quotes.language import Language
from quoter.quotes.line_prices import (
    NOTHING,
    STANDARD,
    LinePrices,
    TaxRate,
    counted,
    summed,
    tax_rates,
)
from quoter.quotes.offered import conditions
from quoter.quotes.own_lines import extra_lines, lines_off, offered_line, trade_ins
from quoter.quotes.request import Wish, charged_pairs
from quoter.quotes.totals import Totals, instalments, totals_of


@dataclass(frozen=True, slots=True)
class Offer:
    """The priced lines of a quote in its currency, and what they come to."""

    currency: str
    with_tax: bool
    lines: tuple[QuoteLine, ...]
    subtotal: Decimal | None
    offered: tuple[QuoteLine, ...]
    totals: Totals
    deposits: tuple[Deposit, ...]


def offer_of(pricing: Pricing, wish: Wish, language: Language) -> Offer:
    """Price a request: boat, what is standard, what is chosen, discounts, lines of its own.

    Raises:
        QuoteError: more comes off than there is.
    """
    with_tax = wish.scheme.charged and wish.buyer.consumer and wish.market.prices == "with tax"
    rates = tax_rates(wish.market, language.words) if wish.scheme.charged else {}
    maker = _QuoteLines(pricing, wish, language, rates, with_tax)
    sold = maker.sold()
    besides = tuple(maker.besides(sold))
    lines = (*sold, *besides)
    totals = totals_of(
        lines,
        rates,
        maker.currency,
        with_tax=with_tax,
        per_line=wish.policy.tax_rounding == "per line",
    )
    parts = [(language.words(part.due), plain_number(part.share)) for part in wish.policy.deposits]
    return Offer(
        currency=maker.currency,
        with_tax=with_tax,
        lines=lines,
        subtotal=summed(sold) if besides else None,
        offered=tuple(maker.offered()),
        totals=totals,
        deposits=instalments(totals.total, parts, maker.currency),
    )


def list_total(pricing: Pricing, wish: Wish, language: Language) -> Decimal:
    """What the boat as chosen comes to on its market's price sheet, before any discount.

    With the market's tax or without as its lists show prices, whoever buys and whatever the
    scheme; with what the policy charges for delivery, whatever the request says of it.
    """
    rates = tax_rates(wish.market, language.words)
    with_tax = wish.market.prices == "with tax"
    return _QuoteLines(pricing, wish, language, rates, with_tax).listed()


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
        self._wish = wish
        self._language = language
        self.currency = currency_of(pricing.catalogue, wish.market)
        self._line_prices = LinePrices(
            catalogue=pricing.catalogue,
            language=language,
            currency=self.currency,
            rates=rates,
            with_tax=with_tax,
        )
        self._prices = untaxed_prices(pricing, wish.market)
        self._terms = pricing.terms

    def sold(self) -> list[QuoteLine]:
        """What is sold, all that discounts come off; everything if none do."""
        request, prices = self._wish.request, self._line_prices
        lines = [self._boat(), *self._chosen(self._wish.chosen), *self._surcharges()]
        lines += extra_lines(request, prices, discounted=True)
        if not self._less:
            lines += extra_lines(request, prices, discounted=False)
        return [lines[0], *self._standard(), *lines[1:]]

    def besides(self, sold: list[QuoteLine]) -> Iterator[QuoteLine]:
        """What comes off what is sold, what no discount is for, what is taken in, delivery."""
        request, prices = self._wish.request, self._line_prices
        if self._less:
            left = dict.fromkeys((line.rate for line in sold if line.amount is not None), NOTHING)
            for line in sold:
                if line.amount is not None:
                    left[line.rate] += line.amount
            yield from self._discounts(left)
            yield from lines_off(request, left, prices)
            yield from extra_lines(request, prices, discounted=False)
        yield from trade_ins(request, prices)
        if self._wish.delivery.price is not None:
            yield self._delivery(self._wish.delivery.price)

    @property
    def _less(self) -> bool:
        """Whether anything comes off what is sold."""
        extra = self._wish.request.discount
        shares = (self._wish.buyer.discount, extra)
        there = any(share is not None and share.value for share in shares)
        return there or bool(self._wish.request.amounts_off)

    def offered(self) -> Iterator[QuoteLine]:
        """What can be added, each with what it needs or can't be had with."""
        for place, beside in enumerate(self._wish.request.offered, 1):
            if beside.option is None:
                yield self._named_where_other(
                    offered_line(beside, f"offered.{place}", self._line_prices)
                )
                continue
            id, quantity = str(beside.option), int(counted(beside.quantity))
            whole = {**self._wish.chosen, id: quantity}
            boat = configure(self._terms, self._wish.model, whole)
            said = ". ".join(conditions(self._wish.model, boat, id, self._language))
            for line in self._chosen({id: quantity}):
                yield self._named_where_other(line.model_copy(update={"condition": said}))
            before = {pair.of.id: pair.count.value for pair in self._wish.surcharged}
            more = [(p, int(p.count.value - before.get(p.of.id, 0.0))) for p in charged_pairs(boat)]
            yield from (self._surcharge(pair, count) for pair, count in more if count > 0)

    def _named_where_other(self, line: QuoteLine) -> QuoteLine:
        """A line that stands beside, with its tax in its name where that is not the usual one."""
        if line.rate in ("", STANDARD):
            return line
        named = self._line_prices.of_rate(line.name, line.rate)
        return line.model_copy(update={"name": named})

    def listed(self) -> Decimal:
        """What is sold of the catalogue and the usual delivery, added up."""
        lines = [self._boat(), *self._chosen(self._wish.chosen), *self._surcharges()]
        if self._wish.policy.delivery.price is not None:
            lines.append(self._delivery(self._wish.policy.delivery.price))
        return summed(lines)

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

    def _chosen(self, chosen: Mapping[str, int]) -> Iterator[QuoteLine]:
        model, words = self._wish.model, self._language.words
        for id, item in model.extras.items():
            quantity = chosen.get(id, 0)
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
        return (self._surcharge(pair, int(pair.count.value)) for pair in self._wish.surcharged)

    def _surcharge(self, pair: PairCount, quantity: int) -> QuoteLine:
        model, words = self._wish.model, self._language.words
        option, colour = (model.options[id].option for id in (pair.of.option, pair.of.colour))
        if option is None or colour is None:
            raise ValueError(f"{pair.of.id} is of something that is no option")
        name = self._language.say(
            "Extra charge: {option} with {colour}",
            option=words(option.name),
            colour=words(colour.name),
        )
        return self._priced(
            kind="option",
            id=pair.of.id,
            name=name,
            text="",
            inside=(),
            quantity=quantity,
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
        rate = self._line_prices.rate(tax)
        price = self._line_prices.shown(self._price(id), rate)
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

    def _discounts(self, left: dict[str, Decimal]) -> Iterator[QuoteLine]:
        """The class's discount on all that is sold, then the customer's; `left` is what remains."""
        say, percent = self._language.say, self._language.percent
        extra = self._wish.request.discount
        for id, discount, words in (
            ("class", self._wish.buyer.discount, say("Dealer discount of {rate}")),
            ("extra", extra, say("Discount of {rate}")),
        ):
            if discount is None or not discount.value:
                continue
            share = plain_number(discount)
            for rate in left:
                amount = -rounded_amount(left[rate] * share, self.currency)
                left[rate] += amount
                name = words.format(rate=percent(share))
                if len(left) > 1 and rate:
                    name = self._line_prices.of_rate(name, rate)
                yield QuoteLine(
                    kind="discount", id=id, name=name, price=amount, amount=amount, rate=rate
                )

    def _delivery(self, price: Figure) -> QuoteLine:
        """What delivery is charged at, in the quote's currency."""
        prices, delivery = self._line_prices, self._wish.delivery
        rate = prices.rate(None)
        shown = prices.shown(prices.stated(price), rate)
        place = f"{delivery.term} {self._language.words(delivery.named_place)}"
        name = self._language.say("Delivery: {place}").format(place=place)
        return QuoteLine(
            kind="delivery",
            id="",
            name=name,
            text=prices.told(price),
            price=shown,
            amount=shown,
            rate=rate,
        )
