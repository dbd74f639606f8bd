"""Rules of markets and of the prices published in them."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_volumes import not_offered, unknown_names
from quoter.catalogue.factory import Market, Yard
from quoter.catalogue.records import Records
from quoter.catalogue.tables import BookRow
from quoter.problems import Problem, nearest, quoted


def check_markets(records: Records) -> Iterator[Problem]:
    """The home market sells in home currency; another currency needs a rounding of its own."""
    if records.yard is None or records.home is None:
        return
    markets = records.yard.markets
    if markets and not any(market.published for market in markets):
        what = "no market has a price sheet: every one is 'published: no'"
        yield Problem(markets[0].place, what, "leave 'published' out of one")
    for index, market in enumerate(markets):
        currency = str(market.currency or records.home)
        foreign = currency != records.home
        if foreign and index == 0 and market.currency is not None:
            what = f"the home market '{market.id}' sells in {currency}"
            hint = f"prices are kept in {records.home}: list the home market first"
            yield Problem(market.currency.place, what, hint)
        if foreign and market.rounding is None:
            what = f"market '{market.id}' does not say how it rounds prices in {currency}"
            hint = f"add for example 'rounding: {{step: 10 {currency}, direction: up}}'"
            yield Problem(market.place, what, hint)
        yield from _rounding_faults(market, currency)


def _rounding_faults(market: Market, currency: str) -> Iterator[Problem]:
    rule = market.rounding
    for figure in (rule.step, rule.ending) if rule is not None else ():
        if figure is not None and figure.unit.currencies != (currency,):
            found = " and ".join(figure.unit.currencies)
            what = f"market '{market.id}' rounds in {found}"
            yield Problem(figure_place(figure), what, f"write it in {currency}, its currency")


def check_price_book(records: Records) -> Iterator[Problem]:
    """A published price is of an option that exists, or of a boat, in the currency of its market.

    Of a boat it names the model, since no two boats are one price list line.
    """
    for row in records.book:
        yield from unknown_names(records, row.model, row.option)
        yield from not_offered(records, row.model, row.option)
        if not row.option and not row.model:
            what = "a price of neither a model nor an option"
            yield Problem(row.place, what, "name a model for the boat itself, or an option")
        if records.yard is not None and records.home is not None:
            yield from _currency_faults(records.yard, records.home, row)


def _currency_faults(yard: Yard, home: str, row: BookRow) -> Iterator[Problem]:
    markets = {str(market.id): market for market in yard.markets}
    if row.market and row.market not in markets:
        what = f"unknown market {quoted(row.market)}"
        yield Problem(row.market.place, what, nearest(row.market, markets))
        return
    allowed = {home}
    if row.market and (own := markets[str(row.market)].currency) is not None:
        allowed = {str(own)}
    for foreign in sorted({*row.list_price.unit.currencies} - allowed):
        if row.market:
            what = f"{foreign} in the market '{row.market}', which sells in {min(allowed)}"
            hint = f"write it in {min(allowed)}"
        else:
            what = f"{foreign} where the home currency {home} belongs"
            hint = f"write it in {home}; only price lists may be in others"
            if any(str(market.currency) == foreign for market in yard.markets):
                hint = f"write it in {home}, or name the market that sells in {foreign}"
        yield Problem(figure_place(row.list_price), what, hint)
