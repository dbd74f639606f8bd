"""How prices, costs and margins moved: on every day on which something took effect, in one pass.

Recipes are those of the catalogue as it stands, but for values that were accepted since, so each
day's numbers are what a build as of that day gives.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from quoter.catalogue.materials import counted_in
from quoter.catalogue.prices import (
    Catalogue,
    book_key,
    newest,
    published,
    quotes,
    rate_key,
    wage_key,
)
from quoter.catalogue.tables import BookRow, PriceRow
from quoter.costing.replay import Replay, Values, give_accepted, replayed
from quoter.figures import money_in
from quoter.pricing.price import (
    RECOMMENDED,
    Priced,
    PricedModel,
    Pricing,
    book_basis,
    home_market,
    outputs_of,
)
from quoter.units import Unit

MOST_DAYS = 24
# What a list price rests on that is not in the price book.
STATED = "models.yaml"


@dataclass(frozen=True, slots=True)
class MaterialHistory:
    """A material's price by day: the supplier's line in force, and landed in home currency per
    `counted`. None before it is known; also where two suppliers' lines left it open."""

    id: str
    name: str
    material_class: str
    counted: Unit
    rows: tuple[PriceRow | None, ...]
    landed: Values


@dataclass(frozen=True, slots=True)
class Crossing:
    """A day on which a margin fell below the floor or came back, as fractions of the net price."""

    day: date
    below: bool
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Sold:
    """Sold to the first class of buyer, by day: list price and what it rests on, margin, margin of
    the net price, and whether that is below the floor."""

    list_price: Values
    basis: tuple[str, ...]
    margin: Values
    margin_fraction: Values
    below: tuple[bool | None, ...]


@dataclass(frozen=True, slots=True)
class LineHistory:
    """A boat, option or package by day; `sold` is None for what is standard on the model.

    A day on which something needed has no price, wage or rate yet is None.
    """

    id: str
    name: str
    days: tuple[date, ...]
    cost: Values
    sold: Sold | None = None

    @property
    def crossings(self) -> tuple[Crossing, ...]:
        """Where the margin crossed the floor."""
        if self.sold is None:
            return ()
        known = [
            (day, fraction, below)
            for day, fraction, below in zip(
                self.days, self.sold.margin_fraction, self.sold.below, strict=True
            )
            if fraction is not None and below is not None
        ]
        return tuple(
            Crossing(day, below, before, after)
            for (_, before, was), (day, after, below) in pairwise(known)
            if below != was
        )


@dataclass(frozen=True, slots=True)
class ModelHistory:
    """A model's boat, and its options and packages by id; `extras` are those not standard."""

    id: str
    name: str
    boat: LineHistory
    options: dict[str, LineHistory]
    extras: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class History:
    """The days, oldest first, how many older ones are left out, and what each line did."""

    days: tuple[date, ...]
    left_out: int
    materials: dict[str, MaterialHistory]
    models: dict[str, ModelHistory]


def history_of(pricing: Pricing) -> History:
    """What every material, boat and option did over the days up to the pricing's own.

    The days are those on which a price list, exchange rate, wage, accepted value or published price
    of the home market took effect, from the first price list on, the newest 24 of them.
    """
    every = days_of(pricing.catalogue)
    days = tuple(every[-MOST_DAYS:])
    past = [_on(pricing.catalogue, day) for day in days]
    replay = replayed(pricing.costing, past)
    give_accepted(replay, pricing.costing, days, outputs_of(pricing))
    materials = _materials(pricing, past, replay)
    _give_list_prices(pricing, past, replay)
    models = {id: _model(id, model, past, replay) for id, model in pricing.models.items()}
    return History(days, len(every) - len(days), materials, models)


def days_of(catalogue: Catalogue) -> list[date]:
    """The days on which something took effect, oldest first, from the first price list on."""
    records, home = catalogue.records, home_market(catalogue)
    book = [row for row in records.book if row.market in ("", home)]
    tables = (records.exchange, records.wages, book, records.accepted)
    dated = [row.date for rows in tables for row in rows]
    first = min(records.price_lists)
    return sorted(d for d in {*dated, *records.price_lists} if first <= d <= catalogue.as_of)


def listed_on(past: Catalogue, model: str, option: str) -> BookRow | None:
    """The published home price in force of an option, or of the boat (option ""), if any."""
    return published(past, home_market(past), model, option)


def _on(catalogue: Catalogue, day: date) -> Catalogue:
    """The catalogue with the rows in force on an earlier day, of which some may be missing."""
    records = catalogue.records
    told = quotes(records, day).items()
    return replace(
        catalogue,
        as_of=day,
        prices={id: rows[0] for id, rows in told if len({str(r.supplier) for r in rows}) == 1},
        exchange=newest(records.exchange, day, rate_key),
        wages=newest(records.wages, day, wage_key),
        book=newest(records.book, day, book_key),
    )


def _materials(
    pricing: Pricing, past: Sequence[Catalogue], replay: Replay
) -> dict[str, MaterialHistory]:
    rates, materials = pricing.costing.rates, pricing.catalogue.records.materials
    landed = replay.values([rates.prices[id] for id in materials])
    return {
        id: MaterialHistory(
            id,
            rates.names[id],
            rates.classes[id],
            counted_in(material),
            tuple(day.prices.get(id) for day in past),
            by_day,
        )
        for (id, material), by_day in zip(materials.items(), landed, strict=True)
    }


def _give_list_prices(pricing: Pricing, past: Sequence[Catalogue], replay: Replay) -> None:
    """List prices by day: as published then, as stated for the boat, else as recommended then."""
    items = [
        (id, model, item) for id, model in pricing.models.items() for item in model.boat_and_options
    ]
    home = pricing.catalogue.currency
    recommended = replay.values([item.recommended for _, _, item in items])
    for (id, model, item), by_cost in zip(items, recommended, strict=True):
        option = _option_of(model, item)
        own = by_cost if option else [float(money_in(model.model.list_price, home))] * len(past)
        rows = [listed_on(day, id, option) for day in past]
        prices = [
            value if row is None else float(money_in(row.list_price, home))
            for row, value in zip(rows, own, strict=True)
        ]
        replay.give(item.list_price, prices)


def _model(id: str, model: PricedModel, past: Sequence[Catalogue], replay: Replay) -> ModelHistory:
    boat = _line(id, model, model.boat, past, replay)
    items = (model.options | model.packages).items()
    options = {name: _line(id, model, item, past, replay) for name, item in items}
    return ModelHistory(id, str(model.model.name), boat, options, tuple(model.extras))


def _line(
    id: str, model: PricedModel, item: Priced, past: Sequence[Catalogue], replay: Replay
) -> LineHistory:
    days = tuple(day.as_of for day in past)
    name, assembly = item.assembly.recipe.id, item.assembly
    if item is not model.boat and name not in model.extras:
        (cost,) = replay.values([assembly.cost])
        return LineHistory(name, assembly.name, days, cost)
    sale = next(iter(item.sales.values()))
    cost, price, margin, fraction, breach = replay.values(
        [assembly.cost, item.list_price, sale.margin, sale.margin_fraction, sale.breach]
    )
    below = tuple(
        None if part is None or breached is None else bool(breached)
        for part, breached in zip(fraction, breach, strict=True)
    )
    bases = tuple(_basis(id, model, item, day) for day in past)
    return LineHistory(name, assembly.name, days, cost, Sold(price, bases, margin, fraction, below))


def _basis(id: str, model: PricedModel, item: Priced, past: Catalogue) -> str:
    """What a list price rested on then."""
    option = _option_of(model, item)
    if option in model.packages:
        return item.basis
    row = listed_on(past, id, option)
    if row is not None:
        return book_basis(row)
    return RECOMMENDED if option else STATED


def _option_of(model: PricedModel, item: Priced) -> str:
    """The option's id; nothing for the boat."""
    return "" if item is model.boat else item.assembly.recipe.id
