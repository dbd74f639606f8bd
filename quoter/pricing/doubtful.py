"""Prices that are worth a second look: below cost or floor, or above what the policy explains.

Each is a warning at the line that sets the price, one a line however many boats, markets and
classes of buyer it holds for. What follows its cost has no such line, and is not spoken of. Moves
from the price before are told by `plausibility/history.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.markets import Market
from quoter.catalogue.prices import published
from quoter.catalogue.record import CatalogueRecord
from quoter.figures import Figure, money_in
from quoter.plausibility.history import jumps
from quoter.plausibility.meant import Doubts, how_to_say
from quoter.plausibility.of_relations import POLICY
from quoter.pricing.markets import market_prices
from quoter.pricing.price import BOAT, MarketPrice, PricedModel, Pricing
from quoter.pricing.sale import Sale
from quoter.problems import Place, Problem

SAVING, LIST_PRICE = "saving", "list_price"
MANY = 3  # more are told in one line while an unusual value may be the cause of all


@dataclass(frozen=True, slots=True)
class _Line:
    """Where a price is set: the record, the name of its value there, and the value."""

    record: CatalogueRecord
    name: str

    @property
    def value(self) -> Figure:
        """What is written there."""
        value: Figure = getattr(self.record, self.name)
        return value

    @property
    def place(self) -> Place:
        """Where it stands."""
        return figure_place(self.value)


@dataclass(frozen=True, slots=True)
class _Poor:
    """A price with the sale that leaves the least of it."""

    name: str
    price: MarketPrice
    sale: Sale


def price_warnings(pricing: Pricing, doubts: Doubts | None = None) -> list[Problem]:
    """What to look at twice among the prices in force, and those already entered for later.

    Args:
        pricing: of the whole catalogue
        doubts: what was found of its values before, and is to be told with it
    """
    found = doubts
    if found is None:
        found = Doubts()
        jumps(pricing.catalogue, found)
    told = [*_poor_prices(pricing), *_rich_prices(pricing)]
    if found.unexplained and len(told) > MANY:
        kept = [told_of for told_of in told if not found.means(told_of[0].record, told_of[0].name)]
        told = [_together(kept)] if len(kept) > MANY else kept
    for line, problem in told:
        found.add((line.record,), line.name, problem)
    return sorted(found.found)


def _together(told: list[tuple[_Line, Problem]]) -> tuple[_Line, Problem]:
    """Many doubtful prices in one line: what is unusual is likely the cause of all of them."""
    line, first = min(told, key=lambda told_of: told_of[1])
    what = f"{first.what}; {len(told) - 1} prices more are doubtful"
    hint = "put right what is unusual first, or say that it is meant: then each is told"
    return line, replace(first, what=what, hint=hint)


def _poor_prices(pricing: Pricing) -> Iterator[tuple[_Line, Problem]]:
    """Each line that sells something at less than the floor: in the first market where it does."""
    told: dict[Place, tuple[_Line, Problem]] = {}
    for market in pricing.catalogue.yard.markets:
        poorest: dict[Place, tuple[_Line, _Poor]] = {}
        for line, poor in _sold(pricing, market):
            place = line.place
            if place in told or not _is_poor(poor.sale):
                continue
            if place not in poorest or _left(poor.sale) < _left(poorest[place][1].sale):
                poorest[place] = line, poor
        told |= {
            place: (line, _below_floor(pricing, place, poor))
            for place, (line, poor) in poorest.items()
        }
    yield from told.values()


def _rich_prices(pricing: Pricing) -> Iterator[tuple[_Line, Problem]]:
    """Each line whose price is far above what the policy recommends: a digit or unit too many."""
    most = POLICY.bounds.high
    assert most is not None
    told: dict[Place, tuple[float, _Line, str]] = {}
    home = pricing.catalogue.yard.markets[0]
    for model in pricing.models.values():
        for option, item in {BOAT: model.boat, **model.extras}.items():
            line = _line(pricing, home, model, option)
            wanted = item.recommended.value
            if line is None or line.name == SAVING or wanted <= 0:
                continue
            times = item.list_price.value / wanted
            if times > most and times > told.get(line.place, (0.0,))[0]:
                told[line.place] = times, line, item.assembly.name
    for times, line, name in told.values():
        what = f"{name} at {_money(line.value)}, {times * 100:.0f} % of what the policy recommends"
        hint = f"{POLICY.within} is usual: {POLICY.source}; {how_to_say(line.record, line.name)}"
        yield line, Problem(line.place, "unusual", what, hint, warning=True)


def _sold(pricing: Pricing, market: Market) -> Iterator[tuple[_Line, _Poor]]:
    """All that is sold in a market at a price that a line of the catalogue sets."""
    prices = market_prices(pricing, market)
    for id, model in pricing.models.items():
        for option, item in {BOAT: model.boat, **model.extras}.items():
            line, price = _line(pricing, market, model, option), prices[id, option]
            if line is not None and price.sales:
                worst = min(price.sales.values(), key=_left)
                yield line, _Poor(item.assembly.name, price, worst)


def _line(pricing: Pricing, market: Market, model: PricedModel, option: str) -> _Line | None:
    """Where the price of a thing in a market is set; None where it follows its cost."""
    package = next((each for each in model.offered_packages if each.id == option), None)
    if package is not None:
        return _Line(package, SAVING)
    row = published(pricing.catalogue, str(market.id), str(model.model.id), option)
    if row is not None:
        return _Line(row, LIST_PRICE)
    return None if option else _Line(model.model, LIST_PRICE)


def _is_poor(sale: Sale) -> bool:
    """Whether a sale leaves less than the floor; a credit, whether it gives more than it saves."""
    return bool(sale.breach.value) if sale.net.value > 0 else sale.margin.value < 0


def _left(sale: Sale) -> float:
    return sale.margin_fraction.value if sale.net.value > 0 else sale.margin.value


def _below_floor(pricing: Pricing, place: Place, poor: _Poor) -> Problem:
    sale, home = poor.sale, pricing.catalogue.currency
    where = (
        ""
        if poor.price.market is pricing.catalogue.yard.markets[0]
        else (f" in the market '{poor.price.market.id}'")
    )
    at = f"{poor.name} at {_money(poor.price.shown)}{where}"
    left = f"{money_in(sale.margin, home):,.2f} {home} at {sale.buyer.name}"
    if sale.net.value < 0:
        what = f"{at} gives back more than it saves: it leaves {left}"
        return Problem(place, "below-floor", what, "check the price", warning=True)
    floor, fraction = pricing.terms.floor.value * 100, sale.margin_fraction.value * 100
    below = "its cost" if fraction < 0 else f"the floor of {floor:g} %"
    what = f"{at} leaves {left}, {fraction:.1f} % of net: below {below}"
    hint = "check the price; 'quoter reprice' says what the policy would publish"
    return Problem(place, "below-floor", what, hint, warning=True)


def _money(price: Figure) -> str:
    currency = str(price.unit)
    return f"{money_in(price, currency).normalize():,f} {currency}"
