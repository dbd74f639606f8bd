"""The margin review: every line by market, the year, what the policy would publish, in words too.

Costs are stated numbers. List prices, discounts, provisions, the policy, exchange rates and volumes
keep what they are made of, so in a workbook a change of one gives what a new build with it would
give; a changed cost does not. The pricing is cut off at its costs for that (`figures.graph.Cut`).
Page, script and workbook read this one review.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.analysis.bridge import Bridge, Change
from quoter.analysis.margins import (
    BOAT_WORDS,
    Key,
    MarginLine,
    SalesYear,
    StatedCosts,
    margin_lines,
    sales_year,
    worst,
)
from quoter.analysis.plan import highest_of
from quoter.catalogue.markets import DealerClass, Market
from quoter.figures import Figure, constant, stated, total
from quoter.phrases import phrase, together
from quoter.pricing.markets import currency_of
from quoter.pricing.price import BOAT, Pricing
from quoter.pricing.proposals import Covered, Margins, Proposal, proposals_of, reason
from quoter.pricing.repricing import moved

NONE = constant(0.0)
MOST = 2  # causes told of one cost
LEAST = 0.005  # of the currency; less is not told
Place = tuple[str, str]  # market and class of buyer


@dataclass(frozen=True, slots=True)
class Proposed:
    """A proposal in the review: what it is of, in which models and market, and why, in words.

    `change` is a fraction of the published price; `before` and `after` are the lowest margins of
    net at the first class of buyer, of the models it holds for; `below` counts those with some
    class of buyer below the floor at the proposed price.
    """

    proposal: Proposal
    words: str
    models: str
    market: str
    change: Figure | None
    before: Figure | None
    after: Figure
    below: Figure
    why: str


@dataclass(frozen=True, slots=True)
class Review:
    """Lines by market; the year of all models by market and class, and of each by model.

    `models` and all that says "last" are of the home market and the first class of buyer.
    `below` counts the prices below the floor, `rates` are units of a market's currency. `told`
    says what moved each cost most since the last list, of `last_list` (nothing if there is none).
    """

    pricing: Pricing
    lines: Mapping[str, Sequence[MarginLine]]
    below: Mapping[Place, Figure]
    years: Mapping[Place, SalesYear]
    models: Mapping[str, SalesYear]
    rates: Mapping[str, Figure]
    proposals: Sequence[Proposed]
    told: Mapping[Key, str]
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

    @property
    def at_home(self) -> Sequence[MarginLine]:
        """The lines of the home market."""
        return self.lines[self.home.id]


def margin_review(pricing: Pricing, before: Pricing | None, bridge: Bridge | None) -> Review:
    """The review of a pricing, and what it was at the last price list.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
        bridge: what moved the costs since
    """
    given = StatedCosts(pricing)
    lines: dict[str, list[MarginLine]] = {str(m.id): [] for m in pricing.catalogue.yard.markets}
    for line in margin_lines(pricing, before, given):
        lines[line.market].append(line)
    years, models = _years(pricing, lines, before)
    return Review(
        pricing=pricing,
        lines=lines,
        below={place: _below_floor(lines, place) for place in places_of(pricing)},
        years=years,
        models=models,
        rates=_rates(pricing),
        proposals=_proposals(pricing, given),
        told={} if bridge is None else what_moved(pricing, bridge),
        last_list="" if before is None else str(before.catalogue.price_list),
    )


def places_of(pricing: Pricing) -> list[Place]:
    """Every market with every class of buyer."""
    markets, buyers = pricing.catalogue.yard.markets, pricing.terms.buyers
    return [(str(market.id), str(buyer.id)) for market in markets for buyer in buyers]


def _rates(pricing: Pricing) -> dict[str, Figure]:
    """Market -> the exchange rate of its currency, where it has one of its own."""
    catalogue, found = pricing.catalogue, {}
    for market in catalogue.yard.markets:
        currency = currency_of(catalogue, market)
        if currency != catalogue.currency:
            rate = catalogue.exchange[currency].rate
            found[str(market.id)] = rate.named(
                f"review.{market.id}.rate", phrase("{name}: rate", name=market.name)
            )
    return found


def _below_floor(lines: Mapping[str, Sequence[MarginLine]], place: Place) -> Figure:
    market, buyer = place
    count = total([line.sales[buyer].breach for line in lines[market]], NONE)
    return count.named(f"review.{market}.{buyer}.below", "prices below the floor")


def _years(
    pricing: Pricing, lines: Mapping[str, Sequence[MarginLine]], before: Pricing | None
) -> tuple[dict[Place, SalesYear], dict[str, SalesYear]]:
    """The year by market and class of buyer; and by model, at home to the first class."""
    home, buyer = places_of(pricing)[0]
    then = [] if before is None else margin_lines(before)
    then = [line for line in then if line.market == home and buyer in line.sales]
    years = {}
    for market, to in places_of(pricing):
        last = then if (market, to) == (home, buyer) else []
        year = _year(lines[market], last, to, f"review.year.{market}.{to}", phrase("All models"))
        if year is not None:
            years[market, to] = year
    models = {}
    for id, model in pricing.models.items():
        own = [line for line in lines[home] if line.model == id]
        last = [line for line in then if line.model == id]
        year = _year(own, last, buyer, f"review.year.{id}", str(model.model.name))
        if year is not None:
            models[id] = year
    return years, models


def _year(
    lines: Sequence[MarginLine], then: Sequence[MarginLine], buyer: str, key: str, name: str
) -> SalesYear | None:
    year, last = (sales_year(each, buyer, key, name) for each in (lines, then))
    if year is None or last is None:
        return year
    label = phrase("{name}: margin of net at the last list", name=name)
    return replace(year, last=stated(last.fraction, f"{key}.last", label))


def _proposals(pricing: Pricing, given: StatedCosts) -> list[Proposed]:
    """The policy's proposals over the same costs; none where it does not say when to move."""
    rule = pricing.catalogue.yard.policy.repricing
    if rule is None:
        return []
    found = proposals_of(pricing, rule)
    return [_proposed(pricing, _over(given, each), reason(each, rule)) for each in found]


def _over(given: StatedCosts, each: Proposal) -> Proposal:
    """A proposal over the costs as they are given."""

    def maybe(figure: Figure | None) -> Figure | None:
        return None if figure is None else given.of(figure)

    def margins(found: Margins) -> Margins:
        return Margins(*map(given.of, (found.first, found.least, found.breach)))

    return replace(
        each,
        wanted=given.of(each.wanted),
        proposed=given.of(each.proposed),
        moved=maybe(each.moved),
        published=maybe(each.published),
        covered=tuple(
            Covered(on.model, None if on.before is None else margins(on.before), margins(on.after))
            for on in each.covered
        ),
    )


def _proposed(pricing: Pricing, each: Proposal, why: str) -> Proposed:
    market, model, option = each.line
    key, name = f"review.proposed.{market or 'all'}.{model or 'all'}.{option or 'boat'}", each.name
    change = None
    if each.published is not None:
        change = moved(each.published, each.proposed)
        change = change.named(
            f"{key}.change", phrase("{name}: change of the list price", name=name), "percent"
        )
    then = [on.before.first for on in each.covered if on.before is not None]
    below = total([on.after.breach for on in each.covered], NONE)
    after = [on.after.first for on in each.covered]
    markets = {str(m.id): str(m.name) for m in pricing.catalogue.yard.markets}
    return Proposed(
        proposal=each,
        words=name if option else BOAT_WORDS,
        models=str(pricing.models[model].model.name) if model else phrase("all models"),
        market=markets[market] if market else phrase("all"),
        change=change,
        before=_lowest(then, f"{key}.before", phrase("{name}: lowest margin now", name=name))
        if then
        else None,
        after=_lowest(after, f"{key}.after", phrase("{name}: lowest then", name=name)),
        below=below.named(f"{key}.below", phrase("{name}: models below the floor", name=name)),
        why=why,
    )


def _lowest(margins: Sequence[Figure], key: str, label: str) -> Figure:
    lowest = margins[0] if len(margins) == 1 else -highest_of([-margin for margin in margins])
    return lowest.named(key, label, "percent")


def what_was_found(review: Review) -> tuple[str, ...]:
    """How many prices are below the floor, and what the planned year leaves now and did leave."""
    return (_below_words(review), *_year_words(review))


def _below_words(review: Review) -> str:
    market = review.home
    floor = phrase("the floor of {value:g} %", value=review.pricing.terms.floor.value * 100)
    counts = {
        str(buyer.name): round(review.below[market.id, buyer.id].value)
        for buyer in review.pricing.terms.buyers
    }
    if not any(counts.values()):
        return phrase(
            "No price of {name} is below {floor}, at any class of buyer.",
            name=market.name,
            floor=floor,
        )
    told = together(
        ", ",
        [
            phrase("{value} at {buyer}", value=count or phrase("none"), buyer=buyer)
            for buyer, count in counts.items()
        ],
    )
    prices = phrase("{at_home} prices of {name}", at_home=len(review.at_home), name=market.name)
    return phrase(
        "Below {floor}, of {prices}: {told}. {review}",
        floor=floor,
        prices=prices,
        told=told,
        review=_lowest_words(review),
    )


def _lowest_words(review: Review) -> str:
    buyer = str(review.buyer.id)
    (line,) = worst(review.at_home, buyer, 1)
    left = _percent(line.sales[buyer].margin_fraction.value)
    what = (
        phrase("{name} on {model_name}", name=line.name, model_name=line.model_name)
        if line.option
        else line.name
    )
    return phrase(
        "The lowest at {name} is {what}, with {left} of net.",
        name=review.buyer.name,
        what=what,
        left=left,
    )


def _year_words(review: Review) -> Iterator[str]:
    year, currency = review.years.get(review.first), review.pricing.catalogue.currency
    if year is None:
        return
    told = (
        "Sold to {buyer} in {market}, the planned year leaves a margin of {margin}, {fraction} of "
        "net."
    )
    if year.last is not None:
        told = (
            "Sold to {buyer} in {market}, the planned year leaves a margin of {margin}, {fraction} "
            "of net; with prices and costs of the last list, of {day}, it was {was}."
        )
    yield phrase(
        told,
        buyer=review.buyer.name,
        market=review.home.name,
        margin=f"{year.margin.value:,.0f} {currency}",
        fraction=_percent(year.fraction.value),
        day=review.last_list,
        was="" if year.last is None else _percent(year.last.value),
    )


def _percent(fraction: float) -> str:
    return f"{fraction * 100:.1f} %"


def what_moved(pricing: Pricing, bridge: Bridge) -> dict[Key, str]:
    """Model and option -> what moved its cost most since the last list, in words.

    Args:
        pricing: the finished costing
        bridge: from the last price list's costs to its own
    """
    found = {}
    for id, model in bridge.models.items():
        changes = {BOAT: model.boat, **model.options}
        for package in pricing.models[id].offered_packages:
            inside = [changes[o] for o in package.options if o in changes]
            if len(inside) == len(package.options):
                changes[str(package.id)] = _together(str(package.name), inside)
        for option, change in changes.items():
            found[id, option] = _words(change, bridge.causes, bridge.currency)
    return found


def _together(name: str, changes: list[Change]) -> Change:
    shares: dict[str, float] = {}
    for change in changes:
        for cause, share in change.shares.items():
            shares[cause] = shares.get(cause, 0.0) + share
    return Change(name, sum(c.old for c in changes), sum(c.new for c in changes), shares)


def _words(change: Change, causes: Mapping[str, str], currency: str) -> str:
    told = [
        together(" ", (causes[cause].lower(), f"{share:+,.2f}"))
        for cause, share in change.largest[:MOST]
        if abs(share) >= LEAST
    ]
    return together(" ", (together(", ", told), currency)) if told else phrase("cost unchanged")
