"""What may leave the yard as a price or a measure: types that only this module can make.

To the program a cost is a figure as a price is. So pages, price data and the lines of quotes hold
no figures but a `PublicPrice`, which is made here alone: from the list price that stands under the
key of the very thing that is sold, after a look at what it was made of, or from a price that
somebody wrote for delivery or a line of a request's own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from functools import total_ordering
from typing import NoReturn, final

from quoter.catalogue.markets import Market, OtherTax
from quoter.catalogue.options import Option
from quoter.catalogue.prices import Catalogue
from quoter.costing.replay import Replay
from quoter.figures import Figure, money_in, plain_number
from quoter.figures.kernel import PLACES_BEFORE_ROUNDING
from quoter.pricing.markets import currency_of, market_prices, rates_of
from quoter.pricing.price import (
    BOAT,
    Key,
    Priced,
    PricedModel,
    Pricing,
    public_amount,
    rounded_amount,
    smallest_unit,
)

TEN_GRAMS = Decimal("0.01")  # of a kilogram: as fine as a boat's parts are weighed, no recipe
# What a list price may be made of, by the last word of its key. A cost is under one of these only:
# a recommendation before it is rounded, which is a cost with margin and provisions.
_WITH_MARGIN = "before_rounding"
_RATE = "rate"
_ROUNDING = ("step", "ending")
_PRICES = ("list_price", "shown", "apart", "saving", "recommended", _WITH_MARGIN, _RATE, *_ROUNDING)
# What somebody writes as a price: of delivery, and of the lines of a request's own.
_WRITTEN = re.compile(
    r"(?:.*\.)?(?:delivery\.price|delivery_terms\.\d+\.price|extra_lines\.\d+\.price"
    r"|offered\.\d+\.price|amounts_off\.\d+\.amount)(?:\.working)?\Z"
)
_DRAWN = ("width", "height", "corner_radius", "diameter", "thickness", "gap", "core")
_PLACED = re.compile(r"\.(form|at)\.")  # of a boat's form, or of a position on it
_UNITS = {"mass": "kg", "length": "m", "beam": "m", "minimum_length": "m"}


@final
@total_ordering
@dataclass(frozen=True, slots=True, init=False)
class PublicPrice:
    """A price that customers may see, in whole smallest units of its currency.

    Sums and differences of public prices are public prices; nothing else becomes one.
    """

    amount: Decimal
    currency: str

    def __init__(self) -> None:
        """Refuse: what is made by hand could be a cost."""
        raise TypeError("a public price is made from a list price by quoter.pricing.public alone")

    def __init_subclass__(cls) -> NoReturn:
        """Refuse: a class below this one could be made otherwise."""
        raise TypeError("PublicPrice has no classes below it")

    def __add__(self, other: PublicPrice) -> PublicPrice:
        """Both together."""
        return _price(self.amount + self._amount_of(other), self.currency)

    def __sub__(self, other: PublicPrice) -> PublicPrice:
        """What this one is more than the other; below zero where it is less."""
        return _price(self.amount - self._amount_of(other), self.currency)

    def __lt__(self, other: PublicPrice) -> bool:
        """Whether this one is less."""
        return self.amount < self._amount_of(other)

    def with_tax(self, rate: Decimal) -> PublicPrice:
        """A price without tax as one that holds it, rounded half up: a rate of 0.24 is 24 %."""
        return _price(rounded_amount(self.amount * (1 + rate), self.currency), self.currency)

    def _amount_of(self, other: object) -> Decimal:
        return public_price(other, self.currency).amount


@final
@total_ordering
@dataclass(frozen=True, slots=True, init=False)
class PublicMeasure:
    """A mass [kg] or a length [m; mm if drawn] that customers may see; masses with two decimals.

    All that is shown of a mass, on a page, in data, in a list that a browser adds up and in a
    quote, is rounded or added up from these ten grams, never from a finer one.
    """

    amount: Decimal
    unit: str

    def __init__(self) -> None:
        """Refuse: what is made by hand could be anything."""
        raise TypeError("a public measure is made from a figure by quoter.pricing.public alone")

    def __init_subclass__(cls) -> NoReturn:
        """Refuse: a class below this one could be made otherwise."""
        raise TypeError("PublicMeasure has no classes below it")

    def __add__(self, other: PublicMeasure) -> PublicMeasure:
        """Both together."""
        return _measure(self.amount + self._amount_of(other), self.unit)

    def __mul__(self, count: int) -> PublicMeasure:
        """So many of it."""
        return _measure(self.amount * count, self.unit)

    def __neg__(self) -> PublicMeasure:
        """As much less as this is more."""
        return _measure(-self.amount, self.unit)

    def __lt__(self, other: PublicMeasure) -> bool:
        """Whether this one is less."""
        return self.amount < self._amount_of(other)

    def _amount_of(self, other: object) -> Decimal:
        return measured_in(other, self.unit).amount


def public_price(value: object, currency: str) -> PublicPrice:
    """A value as the public price in a currency that it must be.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(value, PublicPrice):
        raise TypeError(f"a public price in {currency} was expected, not {_kind(value)}")
    if value.currency != currency:
        raise TypeError(f"a public price in {currency} was expected, not in {value.currency}")
    return value


def measured_in(value: object, unit: str) -> PublicMeasure:
    """A value as the public measure in a unit that it must be.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(value, PublicMeasure) or value.unit != unit:
        raise TypeError(f"a public measure in {unit} was expected, not {_kind(value)}")
    return value


def untaxed_prices(pricing: Pricing, market: Market) -> dict[Key, PublicPrice]:
    """(model, option) -> the list price without tax of everything that a market can buy.

    Args:
        pricing: the finished costing
        market: one of its yard's
    Raises:
        TypeError: what stands for a list price is none.
    """
    found = market_prices(pricing, market)
    return _untaxed(pricing, market, {key: price.shown for key, price in found.items()})


def price_list(pricing: Pricing, market: Market) -> dict[Key, PublicPrice]:
    """(model, option) -> the list price as a market's lists show it: with its tax, or without.

    Args:
        pricing: the finished costing
        market: one of its yard's
    Raises:
        TypeError: what stands for a list price is none.
    """
    return _listed(pricing, market, untaxed_prices(pricing, market))


def price_lists_by_day(
    pricing: Pricing, market: Market, replay: Replay, days: Iterable[int]
) -> dict[int, dict[Key, PublicPrice]]:
    """The price list on days of a replay, of those on which everything had a price.

    Args:
        pricing: with the published prices that were in force on all of these days
        market: one of its yard's
        replay: of its costing
        days: by their numbers in the replay
    Raises:
        TypeError: what stands for a list price is none, or is given by day.
    """
    shown = {key: price.shown for key, price in market_prices(pricing, market).items()}
    for figure in shown.values():
        _need_no_given_price(figure, replay)
    by_day = dict(zip(shown, replay.values([*shown.values()]), strict=True))
    found = {}
    for day in days:
        then = {
            key: replace(figure, value=value)
            for key, figure in shown.items()
            if (value := by_day[key][day]) is not None
        }
        if len(then) == len(shown):
            found[day] = _listed(pricing, market, _untaxed(pricing, market, then))
    return found


def listed_delivery(catalogue: Catalogue, market: Market) -> PublicPrice | None:
    """What is charged for delivery with every boat, as a market's lists show prices."""
    policy = catalogue.yard.quotes
    if policy is None or policy.delivery.price is None:
        return None
    currency = currency_of(catalogue, market)
    charge = stated_price(catalogue, policy.delivery.price, currency)
    return _as_listed(public_price(charge, currency), market, market.tax)


def stated_price(catalogue: Catalogue, price: Figure, currency: str) -> PublicPrice:
    """A price that the policy or a request says, in a currency; exchanged where it is another.

    Args:
        catalogue: with the rates of exchange
        price: of delivery, of a line of a request's own, or an amount off; without tax or as said
        currency: of whoever is charged
    Raises:
        TypeError: the price is not one that either says.
    """
    if type(price) is not Figure or not all(map(_WRITTEN.match, [price.key, *_named(price)])):
        raise TypeError(f"a price that somebody wrote is wanted, and {_kind(price)} is not that")
    there = rates_of(catalogue).exchange(price, currency)
    exact = round(money_in(there, currency), PLACES_BEFORE_ROUNDING)
    return _rounded(rounded_amount(exact, currency), there.value, currency)


def own_tax(market: Market, option: Option) -> OtherTax | None:
    """The tax that an option bears in a market in place of the usual one."""
    return next((tax for tax in market.other_taxes if tax.id == option.tax), None)


def public_measure(figure: Figure) -> PublicMeasure:
    """A mass or length by its key: a mass to the ten grams, a length as it was stated.

    Raises:
        TypeError: it is none.
    """
    word = _last_word(figure.key) if type(figure) is Figure else ""
    unit = _UNITS.get(word)
    if unit is None or str(figure.unit) != unit:
        raise TypeError(f"{_kind(figure)} is neither a mass nor a length")
    return _measure(_exact(figure), unit)


def drawn_length(figure: Figure) -> PublicMeasure:
    """A length that a drawing shows, in mm; asked by `seen` alone, which knows what is public.

    Raises TypeError where it is no length of an outline or section.
    """
    told = type(figure) is Figure and str(figure.unit) == "m"
    if not told or not (_last_word(figure.key) in _DRAWN or _PLACED.search(figure.key)):
        raise TypeError(f"{_kind(figure)} is no length that is drawn")
    return _measure(_exact(figure).scaleb(3).normalize(), "mm")


def mass_as_chosen(priced: PricedModel, chosen: Mapping[str, int]) -> PublicMeasure:
    """The mass of a boat with so many of each extra: the sum of what the price list shows.

    So a list that is added up in a browser and the quote of the same boat say the same.
    """
    mass = public_measure(priced.boat.assembly.mass)
    for id, count in chosen.items():
        mass += public_measure(priced.extras[id].assembly.mass) * count
    return mass


def _untaxed(
    pricing: Pricing, market: Market, shown: Mapping[Key, Figure]
) -> dict[Key, PublicPrice]:
    currency = currency_of(pricing.catalogue, market)
    return {
        (str(model), str(id)): _list_price(
            figure, _priced(pricing.models[model], id), market, currency
        )
        for (model, id), figure in shown.items()
    }


def _listed(
    pricing: Pricing, market: Market, untaxed: Mapping[Key, PublicPrice]
) -> dict[Key, PublicPrice]:
    currency = currency_of(pricing.catalogue, market)
    return {
        (model, id): _as_listed(
            public_price(price, currency), market, _tax(market, _priced(pricing.models[model], id))
        )
        for (model, id), price in untaxed.items()
    }


def _priced(model: PricedModel, id: str) -> Priced:
    """The boat, an option or a package of a model, or what a pair of them is charged."""
    if id == BOAT:
        return model.boat
    if id in model.options:
        return model.options[id]
    return model.packages[id] if id in model.packages else model.surcharges[id]


def _tax(market: Market, item: Priced) -> Figure:
    own = None if item.option is None else own_tax(market, item.option)
    return market.tax if own is None else own.rate


def _as_listed(price: PublicPrice, market: Market, tax: Figure) -> PublicPrice:
    """A price without tax as the market's lists show it."""
    return price.with_tax(_exact(tax)) if market.prices == "with tax" else price


def _list_price(figure: Figure, item: Priced, market: Market, currency: str) -> PublicPrice:
    """The list price of one thing, from the figure that says by its key that it is that."""
    key = item.assembly.recipe.key
    own = (f"{key}.list_price", f"{key}.market.{market.id}.shown")
    if type(figure) is not Figure or figure.key not in own:
        raise TypeError(f"the list price of '{key}' is wanted, and {_kind(figure)} is not that")
    if str(figure.unit) != currency:
        raise TypeError(f"'{figure.key}' is in {figure.unit}, not in {currency}")
    for name in _named(figure):
        if _last_word(name) not in _PRICES:
            raise TypeError(f"'{figure.key}' is made of '{name}', which is no price")
    return _rounded(public_amount(figure, currency), figure.value, currency)


def _named(figure: Figure) -> Iterator[str]:
    """The keys of what a figure is made of, its own first, down to where margin meets a cost."""
    return (part.key for part in _made_of(figure) if part.key)


def _made_of(figure: Figure) -> Iterator[Figure]:
    waiting = [figure]
    while waiting:
        part = waiting.pop()
        yield part
        if part.args and (_last_word(part.key) != _WITH_MARGIN or part.op == "ref"):
            waiting += reversed(part.args)


def _need_no_given_price(figure: Figure, replay: Replay) -> None:
    """A list price of another day follows from that day's costs and rates: no one states it."""
    for part in _made_of(figure):
        if part in replay.given and _last_word(part.key) != _RATE:
            raise TypeError(f"'{figure.key}' is made of {_kind(part)}, which is given by day")


def _last_word(key: str) -> str:
    """What a figure is by its key; a working figure is what it was written as."""
    return key.removesuffix(".working").rpartition(".")[2]


def _rounded(amount: Decimal, value: float, currency: str) -> PublicPrice:
    """A rounded amount, held against what it was rounded from."""
    price = _price(amount, currency)
    if abs(float(amount) - value) >= smallest_unit(currency):
        raise TypeError(f"{amount} {currency} is not what {value} is rounded to")
    return price


def _price(amount: Decimal, currency: str) -> PublicPrice:
    if type(amount) is not Decimal or amount != rounded_amount(amount, currency):
        raise TypeError(f"{_kind(amount)} is no amount in whole smallest units of {currency}")
    made = object.__new__(PublicPrice)
    object.__setattr__(made, "amount", rounded_amount(amount, currency) + 0)  # never minus zero
    object.__setattr__(made, "currency", currency)
    return made


def _exact(figure: Figure) -> Decimal:
    """A plain number, held against the figure that it is of."""
    number = plain_number(figure)
    if type(number) is not Decimal or float(number) != figure.value:
        raise TypeError(f"{_kind(number)} is not the number of {_kind(figure)}")
    return number


def _measure(amount: Decimal, unit: str) -> PublicMeasure:
    rounded = amount.quantize(TEN_GRAMS, ROUND_HALF_UP) + 0 if unit == "kg" else amount
    made = object.__new__(PublicMeasure)
    object.__setattr__(made, "amount", rounded)
    object.__setattr__(made, "unit", unit)
    return made


def _kind(value: object) -> str:
    """What something is, for a fault: never its amount, since that could be the secret."""
    if isinstance(value, Figure):
        return f"the figure '{value.key}'"
    return f"a {type(value).__name__}"
