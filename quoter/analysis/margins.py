"""What every price leaves now, beside what it left at the last price list; and the year's sums.

Volumes are planned by boat and option, not by buyer or market: the sums say what the planned year
would leave if all of it were sold to one class of buyer in one market.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.catalogue.volumes import boats_planned, take_rates, units_planned
from quoter.figures import Figure, dot
from quoter.pricing.margin import fraction_of_price
from quoter.pricing.markets import BOAT, MarketPrice, market_prices
from quoter.pricing.price import Priced, Pricing
from quoter.pricing.sale import Sale, sales

MOST = 10  # lines in a list of the worst
LEAST = 1e-12  # of the net price; a smaller erosion is rounding
Given = Callable[[Figure, str, str], Figure]


@dataclass(frozen=True, slots=True)
class Last:
    """What was so at the last price list: cost in home currency, margin fraction by buyer."""

    cost: float
    margins: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Line:
    """What is sold in one market: the boat itself (option ""), an extra option or a package.

    Money is in home currency without tax. `units` are those planned a year, None where there is
    no plan; `last` is None where it was not sold, or not at a price.
    """

    market: str
    model: str
    option: str
    model_name: str
    name: str
    basis: str
    list_price: Figure
    cost: Figure
    variable: Figure
    sales: Mapping[str, Sale]
    units: Figure | None = None
    last: Last | None = None

    @property
    def breach(self) -> bool:
        """Whether some class of buyer is below the floor."""
        return any(sale.breach.value for sale in self.sales.values())

    def yearly(self, buyer: str) -> Figure | None:
        """Margin of the units planned a year, were all of them sold to a class of buyer."""
        return None if self.units is None else self.sales[buyer].margin * self.units

    def erosion(self, buyer: str) -> float | None:
        """How much of the net price the margin has lost since the last list; negative if gained."""
        if self.last is None or buyer not in self.last.margins:
            return None
        return self.last.margins[buyer] - self.sales[buyer].margin_fraction.value


@dataclass(frozen=True, slots=True)
class Year:
    """A planned year's sales to one class of buyer in one market, in home currency."""

    net: Figure
    contribution: Figure
    margin: Figure
    fraction: Figure


def traced(figure: Figure, _key: str, _label: str) -> Figure:
    """A figure with all that it was computed from."""
    return figure


def margin_lines(
    pricing: Pricing, before: Pricing | None = None, given: Given = traced
) -> list[Line]:
    """Every line of every market, in the catalogue's order; what has no price is left out.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
        given: what becomes of each cost and price (with key and label): itself, or a stated
            number for a book that rests on them as they are
    """
    units = {id: _units(pricing, id) for id in pricing.models}
    found: list[Line] = []
    last = {} if before is None else _last(before)
    for price, id, option, item in sold_in(pricing):
        line = _line(pricing, price, id, option, item, given)
        planned, was = units[id].get(option), last.get((line.market, id, option))
        found.append(replace(line, units=planned, last=was))
    return found


def _line(
    pricing: Pricing, price: MarketPrice, model: str, option: str, item: Priced, given: Given
) -> Line:
    name, market = item.assembly.name, str(price.market.id)
    key = f"review.{market}.{model}.{option or 'boat'}"
    listed = given(price.list_price, f"{key}.list_price", f"{name}: list price")
    cost = given(item.assembly.cost, f"{key}.cost", f"{name}: cost")
    variable = given(item.assembly.variable, f"{key}.variable_cost", f"{name}: variable cost")
    left = price.sales
    if listed is not price.list_price:
        left = sales(pricing.terms, listed, cost, variable, key, name)
    return Line(
        market=market,
        model=model,
        option=option,
        model_name=str(pricing.models[model].model.name),
        name=name,
        basis=price.basis,
        list_price=listed,
        cost=cost,
        variable=variable,
        sales=left,
    )


def _units(pricing: Pricing, model: str) -> dict[str, Figure]:
    """Units planned a year, by option and of the boat."""
    records = pricing.catalogue.records
    boats = boats_planned(records, model)
    if boats is None:
        return {}
    found, name = {BOAT: boats}, pricing.models[model].model.name
    for option in take_rates(records, model):
        units = units_planned(records, model, option)
        if units is not None:
            label = f"{name}: {option}, a year"
            found[option] = units.named(f"review.units.{model}.{option}", label)
    return found


def _last(before: Pricing) -> dict[tuple[str, str, str], Last]:
    """What each (market, model, option) cost and left then."""
    return {
        (str(price.market.id), id, option): Last(
            item.assembly.cost.value,
            {buyer: sale.margin_fraction.value for buyer, sale in price.sales.items()},
        )
        for price, id, option, item in sold_in(before)
    }


def sold_in(pricing: Pricing) -> Iterator[tuple[MarketPrice, str, str, Priced]]:
    """What is sold in each market, by model and option, at a price."""
    for market in pricing.catalogue.yard.markets:
        prices = market_prices(pricing, market)
        for id, model in pricing.models.items():
            for option, item in {BOAT: model.boat, **model.extras}.items():
                if prices[id, option].sales:
                    yield prices[id, option], id, option, item


def year_of(lines: Sequence[Line], buyer: str, key: str, name: str) -> Year | None:
    """The planned year's sum over lines of one market, sold to one class of buyer.

    Args:
        lines: of one market
        buyer: the class's id
        key: begins the figures' keys
        name: begins their labels
    Returns:
        None where none of the lines is planned
    """
    planned = [line for line in lines if line.units is not None]
    units = [line.units for line in planned if line.units is not None]
    if not any(each.value for each in units):
        return None

    def summed(what: str, amounts: Sequence[Figure]) -> Figure:
        return dot(amounts, units).named(f"{key}.{what}", f"{name}: {what} a year")

    sold = [line.sales[buyer] for line in planned]
    net = summed("net", [sale.net for sale in sold])
    margin = summed("margin", [sale.margin for sale in sold])
    fraction = fraction_of_price(margin, net)
    return Year(
        net,
        summed("contribution", [sale.contribution for sale in sold]),
        margin,
        fraction.named(f"{key}.margin_fraction", f"{name}: margin of net", "percent"),
    )


def worst(lines: Iterable[Line], buyer: str, most: int = MOST) -> list[Line]:
    """The lines with the lowest margin fraction at a class of buyer, the lowest first."""
    sold = [line for line in lines if buyer in line.sales]
    return sorted(sold, key=lambda line: line.sales[buyer].margin_fraction.value)[:most]


def most_eroded(lines: Iterable[Line], buyer: str, most: int = MOST) -> list[Line]:
    """The lines whose margin fraction has fallen most since the last list, the largest first."""
    fallen = [(line.erosion(buyer) or 0.0, line) for line in lines]
    ranked = sorted((pair for pair in fallen if pair[0] > LEAST), key=lambda pair: -pair[0])
    return [line for _, line in ranked[:most]]
