"""The margin review in figures that stay live: over costs as stated numbers, all else as it is.

List prices, discounts, provisions, the policy, exchange rates and volumes keep what they are made
of, so a change of one gives what a new build with it would give; a changed cost does not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.analysis.live_prices import Live, Proposed
from quoter.analysis.margins import Line, Year, margin_lines, sold_in, year_of
from quoter.catalogue.factory import DealerClass, Market
from quoter.figures import Figure, constant, stated, total, where
from quoter.figures.graph import in_order
from quoter.figures.ops import less
from quoter.pricing.margin import fraction_of_price
from quoter.pricing.markets import BOAT, currency_of
from quoter.pricing.price import Pricing

POINTS = constant(100.0)  # percentage points of a whole
NONE = constant(0.0)
Key = tuple[str, str]  # model and option, no option for the boat
Place = tuple[str, str]  # market and class of buyer


@dataclass(frozen=True, slots=True)
class Was:
    """What was so at the last price list; `list_price` and `cost` in home currency."""

    list_price: Figure
    cost: Figure
    fractions: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A line with what the review adds, by class of buyer where they differ.

    `shown` is the list price in the market's own currency, None where that is the home currency.
    `yearly` is the margin a year, empty where none are planned; `lost` the percentage points of
    margin since the last list and `moved` the change in cost, without any where it was not sold
    then.
    """

    line: Line
    shown: Figure | None
    yearly: Mapping[str, Figure]
    was: Was | None
    moved: Figure | None
    lost: Mapping[str, Figure]

    @property
    def key(self) -> Key:
        """Model and option."""
        return self.line.model, self.line.option

    @property
    def last_price(self) -> Figure | None:
        """List price at the last list, in home currency."""
        return None if self.was is None else self.was.list_price

    @property
    def last_cost(self) -> Figure | None:
        """Full cost at the last list."""
        return None if self.was is None else self.was.cost

    def last_fraction(self, buyer: str) -> Figure | None:
        """Margin of net at the last list."""
        return None if self.was is None else self.was.fractions.get(buyer)


@dataclass(frozen=True, slots=True)
class Planned:
    """A planned year, `last` its margin fraction with prices and costs of the last list."""

    year: Year
    last: Figure | None


@dataclass(frozen=True, slots=True)
class Review:
    """Lines by market; the year of all models by market and class, and of each by model.

    `models` and all that says "last" are of the home market and the first class of buyer.
    `below` counts the prices below the floor, `rates` are units of a market's currency.
    """

    pricing: Pricing
    lines: Mapping[str, Sequence[Reviewed]]
    below: Mapping[Place, Figure]
    years: Mapping[Place, Planned]
    models: Mapping[str, Planned]
    rates: Mapping[str, Figure]
    proposals: Sequence[Proposed]
    last_list: str

    @property
    def home(self) -> Market:
        """The home market."""
        return self.pricing.catalogue.yard.markets[0]

    @property
    def buyer(self) -> DealerClass:
        """The first class of buyer."""
        return self.pricing.terms.buyers[0]

    @property
    def first(self) -> Place:
        """The home market and the first class of buyer."""
        return str(self.home.id), str(self.buyer.id)


def margin_review(pricing: Pricing, before: Pricing | None = None) -> Review:
    """The review of a pricing, and what it was at the last price list.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
    """
    live = Live(pricing)
    lines: dict[str, list[Reviewed]] = {str(m.id): [] for m in pricing.catalogue.yard.markets}
    was = {} if before is None else _was(pricing, before)
    for line in margin_lines(pricing, before, live.given):
        lines[line.market].append(_reviewed(pricing, line, was))
    years, models = _years(pricing, lines, before)
    return Review(
        pricing,
        lines,
        {place: _below(lines, place) for place in places_of(pricing)},
        years,
        models,
        _rates(pricing),
        live.proposals(),
        "" if before is None else str(before.catalogue.price_list),
    )


def places_of(pricing: Pricing) -> list[Place]:
    """Every market with every class of buyer."""
    markets, buyers = pricing.catalogue.yard.markets, pricing.terms.buyers
    return [(str(market.id), str(buyer.id)) for market in markets for buyer in buyers]


def _was(pricing: Pricing, before: Pricing) -> dict[tuple[str, Key], Was]:
    """By market and line what was so at the last list; costs are the same in all markets."""
    costs: dict[Key, Figure] = {}
    found: dict[tuple[str, Key], Was] = {}
    there = {str(market.id) for market in pricing.catalogue.yard.markets}
    for price, id, option, item in sold_in(before):
        market = str(price.market.id)
        if market not in there:
            continue
        own = f"review.{id}.{option or 'boat'}.last"
        key = f"review.{market}.{id}.{option or 'boat'}.last"
        label = f"{before.models[id].model.name}: {item.assembly.name}, at the last list"
        cost = costs.setdefault(
            (id, option), stated(item.assembly.cost, f"{own}.cost", f"{label}: full cost")
        )
        fractions = {
            buyer: stated(sale.margin_fraction, f"{key}.{buyer}", f"{label}: margin of net")
            for buyer, sale in price.sales.items()
        }
        listed = stated(price.list_price, f"{key}.list_price", f"{label}: list price")
        found[market, (id, option)] = Was(listed, cost, fractions)
    return found


def _reviewed(pricing: Pricing, line: Line, was: Mapping[tuple[str, Key], Was]) -> Reviewed:
    key = f"review.{line.market}.{line.model}.{line.option or 'boat'}"
    name = f"{line.model_name}: {line.name}"
    then = was.get((line.market, (line.model, line.option)))
    yearly, lost = {}, {}
    for buyer, sale in line.sales.items():
        label = f"{name}, {sale.buyer.name}"
        margin = line.yearly(buyer)
        if margin is not None:
            yearly[buyer] = margin.named(f"{key}.{buyer}.yearly", f"{label}: margin a year")
        if then is not None and buyer in then.fractions:
            points = (then.fractions[buyer] - sale.margin_fraction) * POINTS
            lost[buyer] = points.named(f"{key}.{buyer}.lost", f"{label}: points lost")
    moved = None
    if then is not None:
        moved = (line.cost - then.cost).named(f"{key}.moved", f"{name}: change in cost")
    return Reviewed(line, _shown(pricing, line), yearly, then, moved, lost)


def _shown(pricing: Pricing, line: Line) -> Figure | None:
    """The price in the market's currency that a list price was made from."""
    market = next(m for m in pricing.catalogue.yard.markets if m.id == line.market)
    if currency_of(pricing.catalogue, market) == pricing.catalogue.currency:
        return None
    item = {BOAT: pricing.models[line.model].boat, **pricing.models[line.model].extras}[line.option]
    key = f"{item.assembly.recipe.key}.market.{line.market}.shown"
    return next(figure for figure in in_order([line.list_price]) if figure.key == key)


def _rates(pricing: Pricing) -> dict[str, Figure]:
    """Market -> the exchange rate of its currency, where it has one of its own."""
    catalogue, found = pricing.catalogue, {}
    for market in catalogue.yard.markets:
        currency = currency_of(catalogue, market)
        if currency != catalogue.currency:
            rate = catalogue.exchange[currency].rate
            found[str(market.id)] = rate.named(f"review.{market.id}.rate", f"{market.name}: rate")
    return found


def _below(lines: Mapping[str, Sequence[Reviewed]], place: Place) -> Figure:
    market, buyer = place
    breaches = [each.line.sales[buyer].breach for each in lines[market]]
    count = total(breaches, NONE)
    return count.named(f"review.{market}.{buyer}.below", "prices below the floor")


def _years(
    pricing: Pricing, lines: Mapping[str, Sequence[Reviewed]], before: Pricing | None
) -> tuple[dict[Place, Planned], dict[str, Planned]]:
    """The year by market and class of buyer; and by model, at home to the first class."""
    home, buyer = places_of(pricing)[0]
    then = [] if before is None else margin_lines(before)
    then = [line for line in then if line.market == home and buyer in line.sales]
    years = {}
    for market, to in places_of(pricing):
        own = [each.line for each in lines[market]]
        last = then if (market, to) == (home, buyer) else []
        planned = _planned(own, last, to, f"review.year.{market}.{to}", "All models")
        if planned is not None:
            years[market, to] = planned
    models = {}
    for id, model in pricing.models.items():
        own = [each.line for each in lines[home] if each.line.model == id]
        last = [line for line in then if line.model == id]
        planned = _planned(own, last, buyer, f"review.year.{id}", str(model.model.name))
        if planned is not None:
            models[id] = planned
    return years, models


def _planned(
    lines: Sequence[Line], then: Sequence[Line], buyer: str, key: str, name: str
) -> Planned | None:
    year = year_of(lines, buyer, key, name)
    if year is None:
        return None
    last = year_of(then, buyer, key, name)
    was = None
    if last is not None:
        label = f"{name}: margin of net at the last list"
        was = stated(last.fraction, f"{key}.last", label)
    return Planned(_guarded(year, key, name), was)


def _guarded(year: Year, key: str, name: str) -> Year:
    """A year whose margin fraction is nothing where nothing is sold."""
    sold = less(Figure(0.0, year.net.unit), year.net)
    fraction = where(sold, fraction_of_price(year.margin, year.net), 0.0)
    label = f"{name}: margin of net"
    return replace(year, fraction=fraction.named(f"{key}.margin_fraction", label, "percent"))
