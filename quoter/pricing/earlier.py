"""What the price lists showed on days of the edition before, to tell what changed since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from quoter.catalogue.editions import earlier_edition
from quoter.catalogue.load import read_as_of, read_records
from quoter.catalogue.markets import Market
from quoter.catalogue.prices import Catalogue, published, resolve
from quoter.catalogue.records import Records
from quoter.catalogue.settings import apply_settings, read_settings
from quoter.costing.replay import Replay, give_accepted, replayed
from quoter.costing.rollup import ModelCost, roll_up
from quoter.pricing.markets import currency_of, market_prices
from quoter.pricing.price import BOAT, Key, Pricing, outputs_of, prices_of, set_prices
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
        records, _ = read_records(folder, Problems())
        there = priced_anew(records, days[0])
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
    for rows in (records.exchange, records.wages, records.book, records.accepted):
        yield from (row.date for row in rows)


def lists_on(pricing: Pricing, days: Sequence[date]) -> list[EarlierLists]:
    """What the markets' lists showed up to each of the days that had a price of everything.

    Nothing is costed anew. Days differ by dated rows and by values accepted meanwhile, and of these
    only the published prices say what a list price is made of. So the costing is replayed over all
    days, and priced once for those with the same prices published.

    Args:
        pricing: of any day, from the same files
        days: in any order, which is kept
    """
    records, known = pricing.catalogue.records, pricing.catalogue.as_of
    there = [then for day in days if (then := _on(records, day, Problems())) is not None]
    replay = replayed(pricing.costing, there)
    dates = [then.as_of for then in there]
    give_accepted(replay, pricing.costing, dates, outputs_of(pricing))
    books: dict[frozenset[Place], list[int]] = {}
    # From the nearest day on, so that from one to the next little is published otherwise.
    for at in sorted(range(len(there)), key=lambda at: abs(there[at].as_of - known)):
        lines = frozenset(row.place for row in there[at].book.values())
        books.setdefault(lines, []).append(at)
    found: dict[int, EarlierLists] = {}
    for alike in books.values():
        pricing = _with_book(pricing, there[alike[0]])
        found |= _lists(pricing, replay, {at: there[at] for at in alike})
    return [found[at] for at in sorted(found)]


def _with_book(pricing: Pricing, day: Catalogue) -> Pricing:
    """The costing at the prices that are published on a day, made anew where they are others."""
    costing = replace(pricing.costing, catalogue=replace(pricing.catalogue, book=day.book))
    costs = (_republished(cost, pricing.catalogue, day) for cost in costing.models.values())
    some = {str(cost.model.id): cost for cost in costs if cost is not None}
    anew = prices_of(replace(costing, models=some))
    models = dict(pricing.models)
    for id, model in anew.models.items():
        options, packages = models[id].options | model.options, models[id].packages | model.packages
        models[id] = replace(models[id], boat=model.boat, options=options, packages=packages)
    made = Pricing(costing, pricing.terms, models)
    for market in costing.catalogue.yard.markets:
        prices = {**market_prices(pricing, market), **market_prices(anew, market)}
        made.in_markets[str(market.id)] = prices
    return made


def _republished(cost: ModelCost, then: Catalogue, day: Catalogue) -> ModelCost | None:
    """The boat with the options that another price is published of, and all of their packages."""
    id, markets = str(cost.model.id), [str(market.id) for market in day.yard.markets]
    names = {
        option
        for option in (BOAT, *cost.options)
        for market in markets
        if published(then, market, id, option) is not published(day, market, id, option)
    }
    packages = [{*map(str, package.options)} for package in day.records.packages.values()]
    names |= {name for inside in packages if inside & names for name in inside}
    options = {name: assembly for name, assembly in cost.options.items() if name in names}
    return replace(cost, options=options) if names else None


def _lists(
    pricing: Pricing, replay: Replay, days: Mapping[int, Catalogue]
) -> dict[int, EarlierLists]:
    """The lists by the replay's days, of those days that are given by their rows in force."""
    listed = [item.list_price for model in pricing.models.values() for item in model.everything]
    at_home = replay.values(listed)
    markets = {str(market.id): market for market in pricing.catalogue.yard.markets}
    lists = {
        id: price_lists_by_day(pricing, market, replay, days) for id, market in markets.items()
    }
    return {
        at: EarlierLists(
            day.as_of,
            str(day.edition.version),
            {id: _shown(pricing, market, lists[id][at], day) for id, market in markets.items()},
        )
        for at, day in days.items()
        # Where something had no price, or one of nothing, nobody could build.
        if all(at in each for each in lists.values()) and all(values[at] for values in at_home)
    }


def by_recipes_before(folder: Path, catalogue: Catalogue, day: date) -> Pricing | None:
    """The catalogue at the prices of its own day by the recipes of an earlier day; None if it can't
    be priced so. What settings changed is as they say, on that day too.

    Args:
        folder: the catalogue's, which is read again
        catalogue: of the day asked about
        day: of the recipes
    """
    problems = Problems()
    given = read_settings([f"{key}={text}" for key, text in catalogue.settings.items()], problems)
    records, sources = read_as_of(folder, day, problems, given)
    then = resolve(records, catalogue.as_of, problems)
    then = apply_settings(given, sources, records, then, catalogue.as_of, problems)
    return _priced(then, problems)


def priced_on(records: Records, day: date) -> Pricing | None:
    """The records costed and priced on a day; None if not everything was known yet.

    What has no date is one and the same figure in all that are priced from the same records.
    """
    problems = Problems()
    return _priced(resolve(records, day, problems), problems)


def _priced(catalogue: Catalogue | None, problems: Problems) -> Pricing | None:
    try:
        problems.stop_if_any()
        if catalogue is None:
            return None
        costing = roll_up(catalogue, problems)
        problems.stop_if_any()
        return set_prices(costing)
    except CatalogueError:
        return None


def priced_anew(records: Records, day: date) -> Pricing | None:
    """The same as far as list prices go; None if not everything had a price yet."""
    return priced_on(_listed_alone(records), day)


def _listed_alone(records: Records) -> Records:
    """Without the yard's own index, which may have begun later: no list price rests on it."""
    return replace(records, indices=[])


def _on(records: Records, day: date, problems: Problems) -> Catalogue | None:
    """The rows in force on a day; None if something that is needed had none yet."""
    catalogue = resolve(_listed_alone(records), day, problems)
    return None if problems.errors else catalogue


def shown_prices(pricing: Pricing, market: Market) -> dict[Key, PublicPrice]:
    """Every price of a market's list: of boats as they can be bought, of extras, of delivery."""
    return _shown(pricing, market, price_list(pricing, market), pricing.catalogue)


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


def _markets(catalogue: Catalogue) -> list[tuple[str, str]]:
    return [(str(market.id), currency_of(catalogue, market)) for market in catalogue.yard.markets]
