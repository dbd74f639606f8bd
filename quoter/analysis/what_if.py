"""What if prices, currencies and wages move: every cost as terms that a few factors multiply.

    cost = rest + sum of amount * product of the term's factors

Factors are 1 as it is today. That of a material class multiplies all prices of the class, that of
wages all wages; that of a currency says how much dearer it is in home money, so that the rate as
exchange.csv writes it is divided by it. An announced rise is 0 today and 1 once it holds; it adds
to the price of today, and a move of the class comes on top, as a percentage that is set does. What
a boat states as an amount of money has no price and stays in the rest, as in a comparison.

The amounts come from slopes, which say all of a formula that is linear in each factor. So every
output is also worked out anew for combined moves, and `error` is how far the terms were from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Literal

from quoter.catalogue.prices import Catalogue
from quoter.catalogue.rises import AnnouncedRise, announced_rises
from quoter.catalogue.volumes import boats_planned, units_planned
from quoter.figures import Figure, money_in
from quoter.figures.graph import aside_of, evaluate, slopes_by
from quoter.pricing.markets import currency_of
from quoter.pricing.price import BOAT, Pricing

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

LOWEST, HIGHEST = 0.7, 1.5  # factors of the check, and of what asks with them
SPREAD = 8  # mixed moves of the check, besides all low, all high and the two that alternate
GOLDEN = 0.6180339887498949  # its multiples spread evenly over 0 to 1
NOISE = 1e-11  # of the terms' sizes; what floating numbers add


@dataclass(frozen=True, slots=True)
class Factor:
    """Something that moves: the prices of a class, a currency, wages (id "") or a rise, by id."""

    kind: Literal["class", "currency", "wages", "rise"]
    id: str = ""

    @property
    def today(self) -> float:
        """What it is as long as nothing moves."""
        return 0.0 if self.kind == "rise" else 1.0


WAGES = Factor("wages")
Moves = Mapping[Factor, Any]  # numbers, or arrays of one shape; what is not named is as today


@dataclass(frozen=True, slots=True)
class Term:
    """An amount of home money at today's prices, in proportion to each of its factors."""

    factors: tuple[Factor, ...]
    amount: float


@dataclass(frozen=True, slots=True)
class CostTerms:
    """A cost in home money as a rest and terms.

    `error` is the largest absolute difference, in home money, from the costing worked out anew
    with factors between 0.7 and 1.5, all at once.
    """

    rest: float
    terms: tuple[Term, ...]
    error: float

    @property
    def exact(self) -> bool:
        """Whether the terms gave what the costing gives, but for rounding of floating numbers."""
        size = abs(self.rest) + sum(abs(term.amount) for term in self.terms)
        return self.error <= NOISE * size

    def at(self, moves: Moves) -> Any:
        """The cost after moves; an array where they are arrays."""
        cost: Any = self.rest
        for term in self.terms:
            part: Any = term.amount
            for factor in term.factors:
                part = part * moves.get(factor, factor.today)
            cost = cost + part
        return cost


@dataclass(frozen=True, slots=True)
class Answer:
    """Full and variable cost of a boat, an extra option or a package.

    What a sale leaves follows: `net * (1 - provisions) - cost` for the margin, with the variable
    cost for the contribution.
    """

    cost: CostTerms
    variable: CostTerms


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The factors in use, the announced rises among them by id, and the answers by model and
    option (of the boat itself, option ""). Currencies that only markets sell in count."""

    factors: tuple[Factor, ...]
    rises: Mapping[str, AnnouncedRise]
    answers: Mapping[tuple[str, str], Answer]

    @property
    def error(self) -> float:
        """The largest absolute difference of all answers, in home money."""
        return max((terms.error for terms in self._terms), default=0.0)

    @property
    def exact(self) -> bool:
        """Whether every answer is exact but for rounding."""
        return all(terms.exact for terms in self._terms)

    @property
    def _terms(self) -> list[CostTerms]:
        return [terms for each in self.answers.values() for terms in (each.cost, each.variable)]


@dataclass(frozen=True, slots=True)
class Movable:
    """The figures that factors move.

    `landed` are material prices in home currency, each with the sets of factors it is a sum over
    and the fraction of today's price that each is; `prices` are the suppliers' own with their
    class and with what each rise adds; `rates` are by currency.
    """

    landed: Mapping[Figure, Sequence[tuple[tuple[Factor, ...], float]]]
    prices: Mapping[Figure, tuple[Factor, Mapping[Factor, float]]]
    rates: Mapping[Figure, Factor] = field(default_factory=dict)
    wages: tuple[Figure, ...] = ()

    @property
    def factors(self) -> list[Factor]:
        """Everything that moves, in a fixed order."""
        classes = [factor for factor, _ in self.prices.values()]
        rises = [rise for _, added in self.prices.values() for rise in added]
        return list(dict.fromkeys([*classes, *self.rates.values(), WAGES, *rises]))


def what_if_of(pricing: Pricing) -> WhatIf:
    """Every boat's and extra's costs as terms that factors multiply, checked.

    Args:
        pricing: the finished costing with prices
    """
    catalogue, models = pricing.catalogue, pricing.models
    rises = {str(number): rise for number, rise in enumerate(announced_rises(catalogue), 1)}
    movable = movable_in(pricing, rises)
    sold = {
        (id, option): item.assembly
        for id, model in models.items()
        for option, item in {BOAT: model.boat, **model.extras}.items()
    }
    outputs = [assembly.cost for assembly in sold.values()]
    outputs += [assembly.variable for assembly in sold.values()]
    terms = terms_of(outputs, movable)
    costs, variable = terms[: len(sold)], terms[len(sold) :]
    answers = {
        key: Answer(*pair)
        for key, pair in zip(sold, zip(costs, variable, strict=True), strict=True)
    }
    used = {factor for terms in costs for term in terms.terms for factor in term.factors}
    used |= {Factor("currency", currency_of(catalogue, each)) for each in catalogue.yard.markets}
    return WhatIf(tuple(f for f in movable.factors if f in used), rises, answers)


def movable_in(pricing: Pricing, rises: Mapping[str, AnnouncedRise]) -> Movable:
    """The prices, rates and wages of a costing, and what announced rises would add by their id."""
    catalogue, rates = pricing.catalogue, pricing.costing.rates
    landed, prices = {}, {}
    for id, row in catalogue.prices.items():
        by_class, price = Factor("class", rates.classes[id]), row.price.value
        added = {
            Factor("rise", number): rise.prices[id].value - price
            for number, rise in rises.items()
            if id in rise.prices
        }
        prices[row.price] = (by_class, added)
        abroad = _currency(catalogue, str(row.supplier))
        landed[rates.prices[id]] = [((by_class, *abroad), 1.0)] + [
            ((by_class, *abroad, rise), amount / price) for rise, amount in added.items() if price
        ]
    return Movable(
        landed,
        prices,
        {row.rate: Factor("currency", code) for code, row in catalogue.exchange.items()},
        tuple(row.wage for row in catalogue.wages.values()),
    )


def _currency(catalogue: Catalogue, supplier: str) -> tuple[Factor, ...]:
    """The factor of a supplier's currency; none at home."""
    code = str(catalogue.records.suppliers[supplier].currency)
    return () if code == catalogue.currency else (Factor("currency", code),)


def terms_of(outputs: Sequence[Figure], movable: Movable) -> list[CostTerms]:
    """Each output as terms that factors multiply, with how far combined moves are from them.

    Args:
        outputs: amounts of home money
        movable: what moves
    """
    aside = aside_of(outputs, [*movable.landed, *movable.wages])
    made = [_terms(output, movable, aside) for output in outputs]
    errors = _errors(outputs, made, movable)
    return [replace(terms, error=error) for terms, error in zip(made, errors, strict=True)]


def _terms(output: Figure, movable: Movable, aside: Set[Figure]) -> CostTerms:
    slopes = slopes_by(output, [*movable.landed, *movable.wages], aside)
    by_wages: tuple[Factor, ...] = (WAGES,)
    shares = [(wage, by_wages, 1.0) for wage in movable.wages]
    shares += [(price, *each) for price, found in movable.landed.items() for each in found]
    amounts: dict[tuple[Factor, ...], float] = {}
    for figure, factors, share in shares:
        if slopes[figure]:
            amount = slopes[figure] * figure.value * share
            amounts[factors] = amounts.get(factors, 0.0) + amount
    terms = tuple(Term(factors, amount) for factors, amount in amounts.items())
    moved: float = CostTerms(0.0, terms, 0.0).at({})
    return CostTerms(output.value - moved, terms, 0.0)


def _errors(outputs: Sequence[Figure], made: Sequence[CostTerms], movable: Movable) -> list[float]:
    """The largest difference of each output between its terms and its graph, over the moves."""
    import numpy as np

    moves = _moves(movable.factors)
    replaced: dict[Figure, Any] = {wage: wage.value * moves[WAGES] for wage in movable.wages}
    for price, (by_class, added) in movable.prices.items():
        raised = sum(amount * moves[rise] for rise, amount in added.items())
        replaced[price] = (price.value + raised) * moves[by_class]
    for rate, currency in movable.rates.items():
        replaced[rate] = rate.value / moves[currency]
    found = evaluate(outputs, replaced)
    return [
        float(np.max(np.abs(values - terms.at(moves))))
        for values, terms in zip(found, made, strict=True)
    ]


def _moves(factors: Iterable[Factor]) -> dict[Factor, FloatArray]:
    """Combined moves: all low, all high, alternating both ways, and some spread in between.

    Rises, which hold or not, stay between 0 and 1 there.
    """
    import numpy as np

    found = {}
    for number, factor in enumerate(factors):
        ends = [0.0, 1.0, float(number % 2), float((number + 1) % 2)]
        between = [(move * (number + 1) * GOLDEN) % 1.0 for move in range(1, SPREAD + 1)]
        part = np.array(ends + between)
        found[factor] = part if factor.kind == "rise" else LOWEST + (HIGHEST - LOWEST) * part
    return found


def moving_shares(pricing: Pricing) -> dict[str, float]:
    """Class of material -> the fraction of its cost that follows prices, where some does not.

    Over the boats and options of the planned year, or one boat of each model where none is
    planned. The rest is what boats state of the class as an amount of money. Material that yields
    take counts as yield loss, and so in neither.

    Args:
        pricing: the finished costing
    """
    home, spent = pricing.catalogue.currency, dict[str, float]()
    held: dict[str, float] = {}
    for model, option, units in _year(pricing):
        priced = pricing.models[model]
        assembly = (priced.extras[option] if option else priced.boat).assembly
        for element, cost in assembly.elements.items():
            group, _, of_class = element.partition(".")
            if group == "material":
                spent[of_class] = spent.get(of_class, 0.0) + units * float(money_in(cost, home))
        stated = {} if option else priced.model.base.material
        for of_class, cost in stated.items():
            held[str(of_class)] = held.get(str(of_class), 0.0) + units * float(money_in(cost, home))
    return {
        of_class: max(0.0, 1 - amount / spent[of_class])
        for of_class, amount in held.items()
        if amount and spent.get(of_class)
    }


def _year(pricing: Pricing) -> list[tuple[str, str, float]]:
    """Model, option (none is the boat) and units of the planned year; or one of each boat."""
    records, found = pricing.catalogue.records, []
    for id, model in pricing.models.items():
        boats = boats_planned(records, id)
        if boats is not None:
            found.append((id, "", boats.value))
            units = {option: units_planned(records, id, option) for option in model.extras}
            found += [
                (id, option, each.value) for option, each in units.items() if each is not None
            ]
    planned = [each for each in found if each[2]]
    return planned or [(id, "", 1.0) for id in pricing.models]
