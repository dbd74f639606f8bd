"""The catalogue priced on days of the edition before, to tell what changed since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from quoter.catalogue.editions import earlier_edition
from quoter.catalogue.load import read_records
from quoter.catalogue.prices import Catalogue, resolve
from quoter.catalogue.records import Records
from quoter.costing.rollup import roll_up
from quoter.pricing.markets import currency_of
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problems

DAY = timedelta(days=1)
# Directive 98/6/EC, Art. 6a(1) and (2), as inserted by Directive (EU) 2019/2161: whoever announces
# a reduction to consumers tells the prior price with it, which is the lowest price of a time of at
# least 30 days before it. Per cent are of that price: Court of Justice, C-330/23 (2024).
PRIOR = timedelta(days=30)


def earlier_pricings(folder: Path, pricing: Pricing) -> list[Pricing]:
    """The same catalogue on the last day of the edition before, then on the days it takes to know
    every list price of the 30 days before; none where there is no edition before, or no prices.

    What was published was published: in a what-if these days are priced as the files have them,
    so that its page tells what buyers would see if the list in force were so.

    Args:
        folder: the catalogue's, read again where settings changed it
        pricing: of the day asked about
    """
    catalogue = pricing.catalogue
    if earlier_edition(catalogue.records, catalogue.as_of) is None:
        return []
    records = read_records(folder, Problems())[0] if catalogue.settings else catalogue.records
    found = [_priced(records, day) for day in days_before(catalogue)]
    last = found[0]
    if last is None or _markets(last.catalogue) != _markets(catalogue):
        return []  # prices in a currency that a setting took away compare with none
    return [each for each in found if each is not None]


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


def _priced(records: Records, day: date) -> Pricing | None:
    """The records priced on a day; None if not everything had a price yet."""
    problems = Problems()
    # No list price rests on the yard's own index, which may have begun later.
    catalogue = resolve(replace(records, indices=[]), day, problems)
    try:
        problems.stop_if_any()
        if catalogue is None:
            return None
        costing = roll_up(catalogue, problems)
        problems.stop_if_any()
        return set_prices(costing)
    except CatalogueError:
        return None


def _markets(catalogue: Catalogue) -> list[tuple[str, str]]:
    return [(str(market.id), currency_of(catalogue, market)) for market in catalogue.yard.markets]
