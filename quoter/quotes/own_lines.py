"""Lines that no catalogue knows: what a request brings of its own, takes off and offers beside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.quoting import AmountOff, ExtraLine, OfferedBeside, Request
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.pricing.markets import rates_of
from quoter.problems import Problem, nearest, quoted
from quoter.quotes import QuoteError
from quoter.quotes.kept.record import QuoteLine
from quoter.quotes.line_prices import (
    NOTHING,
    UNTAXED,
    LinePrices,
    counted,
    extended,
    split_in_proportion,
)

HOURS = "h"


def extra_lines(request: Request, prices: LinePrices, *, discounted: bool) -> Iterator[QuoteLine]:
    """What a request adds of its own, that which discounts come off or the other."""
    for place, line in enumerate(request.extra_lines, 1):
        if line.discounted == discounted and not line.trade_in:
            yield _extra(line, f"line.{place}", prices)


def trade_ins(request: Request, prices: LinePrices) -> Iterator[QuoteLine]:
    """What the yard takes in from the customer."""
    for place, line in enumerate(request.extra_lines, 1):
        if line.trade_in:
            yield _extra(line, f"line.{place}", prices)


def _extra(line: ExtraLine, id: str, prices: LinePrices) -> QuoteLine:
    tax = line.tax
    if line.trade_in and tax is None:
        tax = Text.at(UNTAXED, line.place)
    return _priced(line, line.price, id, prices.rate(tax), prices, taken=bool(line.trade_in))


def _priced(
    line: ExtraLine | OfferedBeside,
    stated: Figure,
    id: str,
    rate: str,
    prices: LinePrices,
    *,
    taken: bool = False,
) -> QuoteLine:
    """A line at the price that a request states; what is taken in comes off."""
    price = prices.shown(prices.stated(stated), rate)
    if taken:
        price = -price
    quantity = counted(line.quantity)
    told = (str(line.text or ""), prices.told(stated))
    return QuoteLine(
        kind="trade_in" if taken else "extra",
        id=id,
        name=str(line.name),
        text=" ".join(filter(None, told)),
        quantity=quantity,
        price=price,
        amount=extended(price, quantity, prices.currency),
        rate=rate,
        hours=_in_hours(line.quantity),
    )


def lines_off(
    request: Request, left: Mapping[str, Decimal], prices: LinePrices
) -> Iterator[QuoteLine]:
    """Amounts off what is left after discounts, each split over the rates of tax.

    Args:
        request: which names them
        left: what there is to come off, by rate, as the quote shows it
        prices: of the quote
    Raises:
        QuoteError: they are more than what they come off.
    """
    rest = dict(left)
    for place, off in enumerate(request.amounts_off, 1):
        amount = prices.stated(off.amount).amount
        whole = sum((part for part in rest.values() if part > 0), NOTHING)
        if amount > whole:
            raise QuoteError(_too_much(off, amount, whole, prices.currency))
        parts = split_in_proportion(amount, rest, prices.currency)
        for rate, part in parts.items():
            rest[rate] -= part
            several = len(parts) > 1 and rate
            yield QuoteLine(
                kind="amount_off",
                id=f"off.{place}",
                name=prices.of_rate(str(off.name), rate) if several else str(off.name),
                text=prices.told(off.amount),
                price=-part,
                amount=-part,
                rate=rate,
            )


def _too_much(off: AmountOff, amount: Decimal, whole: Decimal, currency: str) -> str:
    return (
        f"{figure_place(off.amount).clickable}: {amount:,} {currency} can't come off: only "
        f"{whole:,} {currency} are left of what discounts are for"
    )


def offered_line(beside: OfferedBeside, id: str, prices: LinePrices) -> QuoteLine:
    """Something in no catalogue that can be added; its tax is named where it is another."""
    if beside.price is None:
        raise TypeError(f"'{beside.name}' is offered without a price")
    return _priced(beside, beside.price, id, prices.rate(beside.tax), prices)


def own_faults(
    request: Request, catalogue: Catalogue, currency: str, taxes: Mapping[str, object]
) -> Iterator[Problem]:
    """What is wrong with the lines of a request's own.

    Args:
        request: as it was read
        catalogue: with the rates of exchange of the day
        currency: of the quote
        taxes: the market's other taxes by id
    """
    yield from _written_twice(line.name for line in request.extra_lines)
    yield from _written_twice(off.name for off in request.amounts_off)
    for line in request.extra_lines:
        yield from _extra_faults(line)
        yield from _tax_faults(line.tax, taxes)
        amounts = (line.price, line.cost, line.worth)
        for amount in (each for each in amounts if each is not None):
            yield from no_rate(amount, currency, catalogue)
    for off in request.amounts_off:
        yield from no_rate(off.amount, currency, catalogue)
    for beside in request.offered:
        yield from _beside_faults(beside)
        yield from _tax_faults(beside.tax, taxes)
        if beside.price is not None:
            yield from no_rate(beside.price, currency, catalogue)


def _written_twice(names: Iterator[Text]) -> Iterator[Problem]:
    """Revisions find a line again by its name."""
    first: dict[str, Text] = {}
    for name in names:
        if name in first:
            what = f"{quoted(name)} is written twice"
            hint = (
                f"the first is at {first[name].place.clickable}; write its quantity, or name both"
            )
            yield Problem(name.place, "written-twice", what, f"{hint} differently")
        first.setdefault(str(name), name)


def _extra_faults(line: ExtraLine) -> Iterator[Problem]:
    if line.trade_in:
        if line.cost is not None:
            hint = "write what it is worth to the yard as 'worth'"
            yield Problem(line.place, "choose-one", "something taken in has no 'cost'", hint)
        if line.discounted:
            what = "no discount comes off something that is taken in"
            yield Problem(line.place, "choose-one", what, "leave 'discounted' out")
    else:
        if line.cost is None:
            what = f"nothing says what {quoted(line.name)} costs the yard"
            yield Problem(line.place, "missing-key", what, "add 'cost', for example '0 EUR'")
        if line.worth is not None:
            what = "'worth' is of something taken in alone"
            yield Problem(line.place, "choose-one", what, "add 'trade_in: yes', or leave it out")


def _beside_faults(beside: OfferedBeside) -> Iterator[Problem]:
    if (beside.option is None) == (beside.name is None):
        what = (
            "both an 'option' and a 'name'" if beside.name else "neither an 'option' nor a 'name'"
        )
        yield Problem(beside.place, "choose-one", what, "write one of them")
    elif beside.name is not None and beside.price is None:
        what = f"nothing says what {quoted(beside.name)} is offered at"
        yield Problem(beside.place, "missing-key", what, "add its 'price', without tax")
    elif beside.option is not None and (
        beside.price is not None or beside.text is not None or beside.tax is not None
    ):
        what = "an option is offered at its list price, with its own words and tax"
        hint = "leave 'price', 'text' and 'tax' out, or write a 'name' in place of 'option'"
        yield Problem(beside.place, "choose-one", what, hint)
    elif beside.option is not None and _in_hours(beside.quantity):
        yield Problem(beside.place, "wrong-unit", "an option is not had by the hour", "count it")


def _tax_faults(tax: Text | None, taxes: Mapping[str, object]) -> Iterator[Problem]:
    if tax is not None and tax not in (UNTAXED, *taxes):
        what = f"the market has no tax {quoted(tax)} in its other_taxes"
        yield Problem(tax.place, "unknown-id", what, nearest(tax, (UNTAXED, *taxes)))


def no_rate(price: Figure, currency: str, catalogue: Catalogue) -> Iterator[Problem]:
    """An amount in a currency that no rate brings to the quote's, or to the home currency."""
    rates, lacking = rates_of(catalogue), dict[str, None]()
    for there in (currency, catalogue.currency):
        lacking |= dict.fromkeys(rates.lacking(price, there))
    for code in lacking:
        what = f"no rate for {code} is in force on {catalogue.as_of}"
        hint = f"write the price in {currency}, the quote's currency, or add a rate of {code} to "
        yield Problem(figure_place(price), "not-in-force", what, f"{hint}exchange.csv")


def _in_hours(quantity: Figure | None) -> bool:
    return quantity is not None and str(quantity.unit) == HOURS
