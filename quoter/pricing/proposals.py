"""What the policy would publish next, against what is published: one proposal a line of the book.

Nothing here changes a price: someone accepts a proposal, and then a new dated line is in force.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from quoter.catalogue.markets import DealerClass, Market, Repricing
from quoter.catalogue.prices import book_key, published
from quoter.catalogue.tables import BookRow
from quoter.catalogue.volumes import units_planned
from quoter.figures import Figure, constant, dot, total
from quoter.figures.ops import less
from quoter.phrases import phrase, together
from quoter.pricing.margin import (
    ROUNDING,
    fraction_of_price,
    left_after,
    net_price,
    price_for_margin,
    rounded_down,
    rounded_up,
)
from quoter.pricing.markets import currency_of, price_at_home, rates_of, rounding_of
from quoter.pricing.price import BOAT, RECOMMENDED, Priced, Pricing, book_basis, home_market
from quoter.pricing.repricing import furthest, moved, proposed_price
from quoter.pricing.sale import Terms

UP, DOWN = constant(1.0), constant(-1.0)
Line = tuple[str, str, str]  # market, model and option, each empty for all; no option is the boat


@dataclass(frozen=True, slots=True)
class Margins:
    """What a price leaves on one model, as fractions of the net price.

    `first` is at the first class of buyer; `least` at the one with the deepest discount, which
    `breach` compares with the floor.
    """

    first: Figure
    least: Figure
    breach: Figure


@dataclass(frozen=True, slots=True)
class Covered:
    """A model a line holds for: margins at the published price, if there is one, and proposed."""

    model: str
    before: Margins | None
    after: Margins


@dataclass(frozen=True, slots=True)
class Proposal:
    """A line of the price book as it stands, and as the policy would have it.

    Prices are list prices without tax in the market's currency. `published` is None for what has
    no published price, and so follows its cost. `wanted` leaves the target margin at the first
    class of buyer, over the models the line holds for, weighted by planned units; it is `moved`
    away from the published price.
    """

    line: Line
    name: str
    basis: str
    currency: str
    published: Figure | None
    wanted: Figure
    proposed: Figure
    moved: Figure | None
    covered: tuple[Covered, ...]

    @property
    def changes(self) -> bool:
        """Whether accepting it would write a line."""
        return self.published is None or self.proposed.value != self.published.value

    @property
    def breach(self) -> bool:
        """Whether some class of buyer of some model is below the floor even then."""
        return any(on.after.breach.value for on in self.covered)

    @property
    def breached(self) -> bool:
        """Whether some class of buyer of some model is below the floor as it stands."""
        return any(on.before is not None and on.before.breach.value for on in self.covered)


def proposals_of(pricing: Pricing, rule: Repricing) -> list[Proposal]:
    """A proposal for every line: those of the home market, then those other markets have alone.

    Args:
        pricing: the finished costing with prices
        rule: when a published price is held, and how far it may move at once
    """
    markets = {str(market.id): market for market in pricing.catalogue.yard.markets}
    home = markets[home_market(pricing.catalogue)]
    lines: dict[Line, dict[str, Priced]] = {}
    for market in markets.values():
        _add_lines(pricing, market, lines)
    return [
        _proposal(pricing, rule, markets.get(line[0], home), line, models)
        for line, models in lines.items()
    ]


def _add_lines(pricing: Pricing, market: Market, lines: dict[Line, dict[str, Priced]]) -> None:
    """The lines that set a market's prices, each with what it holds for by model."""
    catalogue, at_home = pricing.catalogue, market.id == home_market(pricing.catalogue)
    for id, model in pricing.models.items():
        sold = {BOAT: model.boat} | {o: i for o, i in model.options.items() if o in model.extras}
        for option, item in sold.items():
            row = published(catalogue, str(market.id), id, option)
            if row is not None or at_home:
                line = ("", id, option) if row is None else book_key(row)
                lines.setdefault(line, {})[id] = item


def _proposal(
    pricing: Pricing, rule: Repricing, market: Market, line: Line, models: Mapping[str, Priced]
) -> Proposal:
    catalogue, name = pricing.catalogue, next(iter(models.values())).assembly.name
    key = f"reprice.{'.'.join(word or 'all' for word in line[:2])}.{line[2] or 'boat'}"
    rounding, currency = rounding_of(catalogue, market), currency_of(catalogue, market)
    ending = rounding.ending if rounding.ending is not None else constant(0.0, currency)
    wanted = _wanted(pricing, market, line[2], models)
    wanted = wanted.named(
        f"{key}.wanted", phrase("{name}: list price at the target, before rounding", name=name)
    )
    next_price: Figure = ROUNDING[rounding.direction](wanted, rounding.step, ending)
    row = catalogue.book.get(line)
    old, basis = _published(row, line, models)
    by = None
    if old is not None:
        by = moved(old, wanted).named(
            f"{key}.moved", phrase("{name}: wanted price is off by", name=name), "percent"
        )
        low = old
        if rule.may_fall:
            low = rounded_up(furthest(old, rule.largest_step, DOWN), rounding.step, ending)
        high = rounded_down(furthest(old, rule.largest_step, UP), rounding.step, ending)
        next_price = proposed_price(old, by, rule.hold_within, next_price, low, high)
    proposed = next_price.named(
        f"{key}.proposed", phrase("{name}: list price to publish", name=name)
    )
    covered = tuple(
        Covered(
            model,
            None if old is None else _margins(pricing, item, old, f"{key}.{model}.before"),
            _margins(pricing, item, proposed, f"{key}.{model}.after"),
        )
        for model, item in models.items()
    )
    return Proposal(
        line=line,
        name=name,
        basis=basis,
        currency=currency,
        published=old,
        wanted=wanted,
        proposed=proposed,
        moved=by,
        covered=covered,
    )


def _published(
    row: BookRow | None, line: Line, models: Mapping[str, Priced]
) -> tuple[Figure | None, str]:
    """What is published, and where: in the book, or for a boat in its model."""
    if row is not None:
        return row.list_price, book_basis(row)
    if line[2] != BOAT:
        return None, RECOMMENDED
    return next(iter(models.values())).list_price, "models.yaml"


def _wanted(pricing: Pricing, market: Market, option: str, models: Mapping[str, Priced]) -> Figure:
    """The list price that leaves the target margin, in the market's currency."""
    terms, catalogue = pricing.terms, pricing.catalogue
    cost = _mean_cost(pricing, option, models)
    price = price_for_margin(cost, terms.provisions, terms.target, terms.buyers[0].discount)
    return rates_of(catalogue).exchange(price, currency_of(catalogue, market))


def _mean_cost(pricing: Pricing, option: str, models: Mapping[str, Priced]) -> Figure:
    """The cost of one, over models weighted by planned units; plainly where none is planned."""
    if len(models) == 1:
        return next(iter(models.values())).assembly.cost
    costs = [item.assembly.cost for item in models.values()]
    planned = [units_planned(pricing.catalogue.records, model, option) for model in models]
    units = [constant(0.0) if each is None else each for each in planned]
    weights = total(units, units[0])
    if not weights.value:
        return total(costs, costs[0]) / constant(float(len(costs)))
    return dot(costs, units) / weights


def _margins(pricing: Pricing, item: Priced, price: Figure, key: str) -> Margins:
    terms, catalogue, name = pricing.terms, pricing.catalogue, item.assembly.name
    price = price_at_home(catalogue, price)
    deepest = deepest_discount(terms)
    found = []
    for buyer, what in ((terms.buyers[0], "first"), (deepest, "least")):
        net = net_price(price, buyer.discount)
        left = fraction_of_price(left_after(net, terms.provisions, item.assembly.cost), net)
        label = phrase("{name}, {buyer}: margin of net", name=name, buyer=buyer.name)
        found.append(left.named(f"{key}.{what}", label, "percent"))
    breach = less(found[1], terms.floor).named(
        f"{key}.breach", phrase("{name}: below the floor", name=name)
    )
    return Margins(found[0], found[1], breach)


def deepest_discount(terms: Terms) -> DealerClass:
    """The class of buyer with the deepest discount."""
    return max(terms.buyers, key=lambda buyer: buyer.discount.value)


def reason(proposal: Proposal, rule: Repricing) -> str:
    """The policy's reason, and what becomes of a margin below the floor."""
    return together("", (_moved(proposal, rule), _floor(proposal)))


def _moved(proposal: Proposal, rule: Repricing) -> str:
    if proposal.published is None or proposal.moved is None:
        return phrase("not published yet, so it follows its cost")
    away = abs(proposal.moved.value)
    if away <= rule.hold_within.value:
        return phrase("held: within {value} of the target", value=_percent(rule.hold_within.value))
    if proposal.moved.value < 0 and not rule.may_fall:
        return phrase("held: leaves more than the target")
    if not proposal.changes:
        return phrase("held: no rounded price lies between")
    if away > rule.largest_step.value:
        return phrase("moves by one step, at most {value}", value=_percent(rule.largest_step.value))
    return phrase("moves to the target")


def _floor(proposal: Proposal) -> str:
    if proposal.breach:
        return (
            phrase("; still below the floor") if proposal.changes else phrase("; below the floor")
        )
    return phrase("; above the floor again") if proposal.breached else ""


def _percent(fraction: float) -> str:
    return f"{fraction * 100:g} %"
