"""What every price leaves now, beside what it left at the last price list; and the year's sums.

Volumes are planned by boat and option, not by buyer or market: the sums say what the planned year
would leave if all of it were sold to one class of buyer in one market.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from quoter.catalogue.volumes import boats_planned, take_rates, units_planned
from quoter.figures import Figure, constant, dot, stated, where
from quoter.figures.graph import Cut
from quoter.figures.ops import less
from quoter.phrases import phrase, together
from quoter.pricing.margin import fraction_of_price
from quoter.pricing.markets import currency_of, market_prices
from quoter.pricing.price import BOAT, MarketPrice, Priced, Pricing
from quoter.pricing.sale import Sale, sales

BOAT_WORDS = phrase("Boat with standard equipment")
POINTS = constant(100.0)  # percentage points of a whole
MOST = 10  # lines in a list of the worst
LEAST = 1e-10  # points of the net price; a smaller erosion is rounding
Key = tuple[str, str]  # model and option, no option for the boat


@dataclass(frozen=True, slots=True)
class Was:
    """What was so at the last price list; `list_price` and `cost` in home currency.

    `fractions` are margins of the net price by class of buyer.
    """

    list_price: Figure
    cost: Figure
    fractions: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class MarginLine:
    """What is sold in one market: the boat itself (option ""), an extra option or a package.

    Money is in home currency without tax; `shown` is the list price in the market's own currency,
    None where that is the home currency. `units` are those planned a year, None where there is no
    plan, and `yearly` their margin by class of buyer. `was` is None where it was not sold at the
    last list; else `moved` is the change in cost since, and `lost` the percentage points of margin
    by class of buyer.
    """

    market: str
    model: str
    option: str
    model_name: str
    name: str
    basis: str
    shown: Figure | None
    list_price: Figure
    cost: Figure
    variable: Figure
    sales: Mapping[str, Sale]
    units: Figure | None = None
    yearly: Mapping[str, Figure] = field(default_factory=dict)
    was: Was | None = None
    moved: Figure | None = None
    lost: Mapping[str, Figure] = field(default_factory=dict)

    @property
    def key(self) -> Key:
        """Model and option."""
        return self.model, self.option

    @property
    def words(self) -> str:
        """What is sold, on its model."""
        return self.name if self.option else BOAT_WORDS

    @property
    def below(self) -> list[str]:
        """The names of the classes of buyer at which the margin is below the floor."""
        return [str(sale.buyer.name) for sale in self.sales.values() if sale.breach.value]

    def last_fraction(self, buyer: str) -> Figure | None:
        """Margin of net at the last list."""
        return None if self.was is None else self.was.fractions.get(buyer)


@dataclass(frozen=True, slots=True)
class SalesYear:
    """A planned year's sales to one class of buyer in one market, in home currency.

    `last` is the margin fraction with prices and costs of the last list, where there is one.
    """

    net: Figure
    contribution: Figure
    margin: Figure
    fraction: Figure
    last: Figure | None = None


class StatedCosts(Cut):
    """Costs become stated numbers; each list price has a cell that all other prices rest on."""

    def __init__(self, pricing: Pricing) -> None:
        """State every cost of a pricing."""
        super().__init__({})
        self._listed: set[Figure] = set()
        for id, model in pricing.models.items():
            for option, item in {BOAT: model.boat, **model.extras}.items():
                made, key = item.assembly, f"review.{id}.{option or 'boat'}"
                label = f"{model.model.name}: {made.name}"
                for cost, what, words in (
                    (made.cost, "cost", phrase("full cost")),
                    (made.variable, "variable_cost", phrase("variable cost")),
                ):
                    told = together(", ", (label, words))
                    given = stated(cost, f"{key}.{what}", told, made.recipe.place)
                    self.put(cost, given)

    def listed(self, price: Figure, key: str, label: str) -> Figure:
        """A list price with a name of its own, the first it is asked for by."""
        if price not in self._listed:
            self.put(price, replace(self.of(price), key=key, label=label))
            self._listed.add(price)
        return self.of(price)


def margin_lines(
    pricing: Pricing, before: Pricing | None = None, given: StatedCosts | None = None
) -> list[MarginLine]:
    """Every line of every market, in the catalogue's order; what has no price is left out.

    Args:
        pricing: the finished costing with prices
        before: the same at the last price list, if there is one
        given: makes the costs stated numbers, for a book that rests on them as they are
    """
    units = {id: _units(pricing, id) for id in pricing.models}
    was = {} if before is None else _was(before)
    found = []
    for price, id, option, item in sold_in(pricing):
        line = _line(pricing, price, id, option, item, given)
        line = replace(line, units=units[id].get(option))
        found.append(_followed(line, was.get((line.market, *line.key))))
    return found


def _line(
    pricing: Pricing,
    price: MarketPrice,
    model: str,
    option: str,
    item: Priced,
    given: StatedCosts | None,
) -> MarginLine:
    name, market = item.assembly.name, str(price.market.id)
    cost, variable = item.assembly.cost, item.assembly.variable
    listed, shown, left = price.list_price, price.shown, price.sales
    if given is not None:
        key = f"review.{market}.{model}.{option or 'boat'}"
        listed = given.listed(listed, f"{key}.list_price", f"{name}: list price")
        cost, variable, shown = map(given.of, (cost, variable, shown))
        left = sales(pricing.terms, listed, cost, variable, key, name)
    at_home = currency_of(pricing.catalogue, price.market) == pricing.catalogue.currency
    return MarginLine(
        market=market,
        model=model,
        option=option,
        model_name=str(pricing.models[model].model.name),
        name=name,
        basis=price.basis,
        shown=None if at_home else shown,
        list_price=listed,
        cost=cost,
        variable=variable,
        sales=left,
    )


def _followed(line: MarginLine, was: Was | None) -> MarginLine:
    """A line with its year, and what became of it since the last list."""
    key = f"review.{line.market}.{line.model}.{line.option or 'boat'}"
    name = f"{line.model_name}: {line.name}"
    yearly, lost = {}, {}
    for buyer, sale in line.sales.items():
        label = f"{name}, {sale.buyer.name}"
        if line.units is not None:
            margin = sale.margin * line.units
            yearly[buyer] = margin.named(
                f"{key}.{buyer}.yearly", phrase("{label}: margin a year", label=label)
            )
        if was is not None and buyer in was.fractions:
            points = (was.fractions[buyer] - sale.margin_fraction) * POINTS
            lost[buyer] = points.named(
                f"{key}.{buyer}.lost", phrase("{label}: points lost", label=label)
            )
    moved = None
    if was is not None:
        moved = (line.cost - was.cost).named(
            f"{key}.moved", phrase("{name}: change in cost", name=name)
        )
    return replace(line, yearly=yearly, was=was, moved=moved, lost=lost)


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
            label = phrase("{name}: {option}, a year", name=name, option=option)
            found[option] = units.named(f"review.units.{model}.{option}", label)
    return found


def _was(before: Pricing) -> dict[tuple[str, str, str], Was]:
    """(market, model, option) -> what was so then; costs are the same in all markets."""
    costs: dict[Key, Figure] = {}
    found = {}
    for price, id, option, item in sold_in(before):
        market = str(price.market.id)
        own = f"review.{id}.{option or 'boat'}.last"
        key = f"review.{market}.{id}.{option or 'boat'}.last"
        label = phrase(
            "{name}: {option}, at the last list",
            name=before.models[id].model.name,
            option=item.assembly.name,
        )
        cost = costs.setdefault(
            (id, option),
            stated(item.assembly.cost, f"{own}.cost", phrase("{label}: full cost", label=label)),
        )
        fractions = {
            buyer: stated(
                sale.margin_fraction,
                f"{key}.{buyer}",
                phrase("{label}: margin of net", label=label),
            )
            for buyer, sale in price.sales.items()
        }
        listed = stated(
            price.list_price, f"{key}.list_price", phrase("{label}: list price", label=label)
        )
        found[market, id, option] = Was(listed, cost, fractions)
    return found


def sold_in(pricing: Pricing) -> Iterator[tuple[MarketPrice, str, str, Priced]]:
    """What is sold in each market, by model and option, at a price."""
    for market in pricing.catalogue.yard.markets:
        prices = market_prices(pricing, market)
        for id, model in pricing.models.items():
            for option, item in {BOAT: model.boat, **model.extras}.items():
                if prices[id, option].sales:
                    yield prices[id, option], id, option, item


def sales_year(lines: Sequence[MarginLine], buyer: str, key: str, name: str) -> SalesYear | None:
    """The planned year's sum over lines of one market, sold to one class of buyer.

    Its margin fraction is nothing where nothing is sold.

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

    def summed(what: str, amount: Callable[[Sale], Figure]) -> Figure:
        amounts = [amount(line.sales[buyer]) for line in planned]
        return dot(amounts, units).named(
            f"{key}.{what}", phrase("{name}: {what} a year", name=name, what=what)
        )

    net = summed(phrase("net"), lambda sale: sale.net)
    contribution = summed(phrase("contribution"), lambda sale: sale.contribution)
    margin = summed(phrase("margin"), lambda sale: sale.margin)
    sold = less(Figure(0.0, net.unit), net)
    fraction = where(sold, fraction_of_price(margin, net), 0.0)
    label = phrase("{name}: margin of net", name=name)
    fraction = fraction.named(f"{key}.margin_fraction", label, "percent")
    return SalesYear(net, contribution, margin, fraction)


def worst(lines: Iterable[MarginLine], buyer: str, most: int = MOST) -> list[MarginLine]:
    """The lines with the lowest margin fraction at a class of buyer, the lowest first."""
    sold = [line for line in lines if buyer in line.sales]
    return sorted(sold, key=lambda line: line.sales[buyer].margin_fraction.value)[:most]


def most_eroded(lines: Iterable[MarginLine], buyer: str, most: int = MOST) -> list[MarginLine]:
    """The lines whose margin fraction has fallen most since the last list, the largest first."""
    fallen = [line for line in lines if buyer in line.lost and line.lost[buyer].value > LEAST]
    return sorted(fallen, key=lambda line: -line.lost[buyer].value)[:most]
