"""What the price lists showed on days of the edition before, to tell what changed since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from quoter.catalogue.editions import earlier_edition
from quoter.catalogue.factory import Market
from quoter.catalogue.load import read_records
from quoter.catalogue.prices import Catalogue, resolve
from quoter.catalogue.records import Records
from quoter.costing.replay import replayed
from quoter.costing.rollup import roll_up
from quoter.pricing.markets import BOAT, Key, currency_of
from quoter.pricing.price import Pricing, prices_of, set_prices
from quoter.pricing.public import PublicPrice, listed_delivery, price_list, price_lists_by_day
from quoter.problems import CatalogueError, Place, Problems

DELIVERY: Key = ("", BOAT)  # of every boat, where its price does not hold it
DAY = timedelta(days=1)
# Directive 98/6/EC, Art. 6a(1) and (2), as inserted by Directive (EU) 2019/2161: whoever announces
# a reduction to consumers tells the prior price with it, which is the lowest price of a time of at
# least 30 days before it. Per cent are of that price: Court of Justice, C-330/23 (2024).
PRIOR = timedelta(days=30)


@dataclass(frozen=True, slots=True)
class EarlierLists:
    """What every market's list showed up to a day: its prices by the market's id, and the version
    of the edition that held."""

    until: date
    version: str
    prices: Mapping[str, Mapping[Key, PublicPrice]]


def earlier_lists(folder: Path, pricing: Pricing) -> list[EarlierLists]:
    """The lists of the same catalogue on the last day of the edition before, then on the days it
    takes to know every list price of the 30 days before; none where there is no edition before, or
    no prices.

    What was published was published: in a what-if these days are priced as the files have them,
    so that its page tells what buyers would see if the list in force were so.

    Args:
        folder: the catalogue's, read again where settings changed it
        pricing: of the day asked about
    """
    catalogue = pricing.catalogue
    if earlier_edition(catalogue.records, catalogue.as_of) is None:
        return []
    days, known = days_before(catalogue), pricing
    if catalogue.settings:
        there = priced_anew(read_records(folder, Problems())[0], days[0])
        if there is None or _markets(there.catalogue) != _markets(catalogue):
            return []  # prices in a currency that a setting took away compare with none
        known = there
    found = lists_on(known, days)
    return found if found and found[0].until == days[0] else []


def days_before(catalogue: Catalogue) -> list[date]:
    """The last day of the edition before, then every other day after which prices may have moved.

    They reach from 30 days before the edition in force to the catalogue's own day, for what moves
    within an edition has been at another price since.
    """
    begun = catalogue.edition.valid_from
    days = {
        moved - DAY
        for moved in _days_of_moves(catalogue.records)
        if begun - PRIOR < moved <= catalogue.as_of
    }
    return [begun - DAY, *sorted(days - {begun - DAY})]


def _days_of_moves(records: Records) -> Iterator[date]:
    """The days from which list prices may be others."""
    yield from records.price_lists
    for rows in (records.exchange, records.wages, records.book):
        yield from (row.date for row in rows)


def lists_on(pricing: Pricing, days: Sequence[date]) -> list[EarlierLists]:
    """What the markets' lists showed up to each of the days that had a price of everything.

    Nothing is costed anew. Days differ by dated rows alone, and of these only published prices say
    what a list price is made of. So the costing is replayed over all days on which the same ones
    held, and priced by them.

    Args:
        pricing: of any day, from the same files
        days: in any order, which is kept
    """
    books: dict[frozenset[Place], list[Catalogue]] = {}
    for day in days:
        catalogue = _on(pricing.catalogue.records, day, Problems())
        if catalogue is not None:
            books.setdefault(_book_lines(catalogue), []).append(catalogue)
    found = {lists.until: lists for alike in books.values() for lists in _lists(pricing, alike)}
    return [found[day] for day in days if day in found]


def _lists(pricing: Pricing, days: Sequence[Catalogue]) -> Iterator[EarlierLists]:
    """The lists of days with the same published prices."""
    replay, catalogue = replayed(pricing.costing, days), pricing.catalogue
    if _book_lines(days[0]) != _book_lines(catalogue):
        catalogue = replace(catalogue, book=days[0].book)
        pricing = prices_of(replace(pricing.costing, catalogue=catalogue))
    listed = [item.list_price for model in pricing.models.values() for item in model.everything]
    at_home = replay.values(listed)
    markets = {str(market.id): market for market in catalogue.yard.markets}
    by_day = {id: price_lists_by_day(pricing, market, replay) for id, market in markets.items()}
    for at, day in enumerate(days):
        lists = {id: found for id, each in by_day.items() if (found := each[at]) is not None}
        if len(lists) < len(markets) or not all(values[at] for values in at_home):
            continue  # something had no price, or one of nothing: nobody could build that day
        prices = {id: _shown(pricing, markets[id], lists[id], day) for id in markets}
        yield EarlierLists(day.as_of, str(day.edition.version), prices)


def priced_anew(records: Records, day: date) -> Pricing | None:
    """The records costed and priced on a day; None if not everything had a price yet."""
    problems = Problems()
    catalogue = _on(records, day, problems)
    try:
        if catalogue is None:
            return None
        costing = roll_up(catalogue, problems)
        problems.stop_if_any()
        return set_prices(costing)
    except CatalogueError:
        return None


def _on(records: Records, day: date, problems: Problems) -> Catalogue | None:
    """The rows in force on a day; None if something that is needed had none yet."""
    # No list price rests on the yard's own index, which may have begun later.
    catalogue = resolve(replace(records, indices=[]), day, problems)
    return None if problems.errors else catalogue


def shown_prices(
    pricing: Pricing, market: Market, prices: Mapping[Key, PublicPrice] | None = None
) -> dict[Key, PublicPrice]:
    """Every price of a market's list: of boats as they can be bought, of extras, of delivery.

    Args:
        pricing: the finished costing
        market: one of its yard's
        prices: the price list of the market, where it is known already
    """
    found = price_list(pricing, market) if prices is None else prices
    return _shown(pricing, market, found, pricing.catalogue)


def _shown(
    pricing: Pricing, market: Market, listed: Mapping[Key, PublicPrice], day: Catalogue
) -> dict[Key, PublicPrice]:
    """A list with what delivery was charged at on a day."""
    shown = {
        (str(model), str(id)): listed[model, id]
        for model, priced in pricing.models.items()
        for id in (BOAT, *priced.extras)
    }
    delivery = listed_delivery(day, market)
    if delivery is None:
        return shown
    if market.prices != "with tax":
        return shown | {DELIVERY: delivery}
    # Who sees prices with tax sees what can't be left out in one amount.
    return shown | {(model, BOAT): shown[model, BOAT] + delivery for model in pricing.models}


def _book_lines(catalogue: Catalogue) -> frozenset[Place]:
    """Where the published prices in force stand."""
    return frozenset(row.place for row in catalogue.book.values())


def _markets(catalogue: Catalogue) -> list[tuple[str, str]]:
    return [(str(market.id), currency_of(catalogue, market)) for market in catalogue.yard.markets]
