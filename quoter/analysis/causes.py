"""What may move a cost, as causes: which figures of a costing belong to which of them, and what
each is worth on both sides of a comparison.

Figures are matched by what they mean, never by key, since keys hold the date of a price list.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from quoter.catalogue.factory import Policy, Station
from quoter.catalogue.materials import Foam, Gelcoat, Material
from quoter.catalogue.options import BaseBoat, Option
from quoter.catalogue.parts import (
    ClosedMouldPart,
    Learning,
    OpenMouldPart,
    Operation,
    Part,
    Rework,
)
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import Record
from quoter.catalogue.records import MATERIAL_KINDS
from quoter.costing.rates import landed_prices
from quoter.costing.rollup import Costing
from quoter.engineering.labour import labour_rate
from quoter.figures import Figure

EXCHANGE, WAGES, OVERHEAD = "exchange", "wages", "overhead"
RECIPES, VOLUMES, YIELDS = "recipes", "volumes", "yields"
WORDS = {
    EXCHANGE: "Exchange rates",
    WAGES: "Wages",
    OVERHEAD: "Overhead",
    RECIPES: "Recipes",
    VOLUMES: "Volumes and moulds",
    YIELDS: "Yields",
}
PRICES = "prices."

# Which cause a catalogue record's number belongs to; all others are part of the recipe.
FIELDS: Mapping[str, tuple[tuple[type[Record], tuple[str, ...]], ...]] = {
    YIELDS: (
        (Operation, ("passes",)),
        (Rework, ("share", "time")),
        (Material, ("loss", "waste_on_net")),
        (Foam, ("loss", "waste_on_net")),
        (Gelcoat, ("transfer",)),
        (OpenMouldPart, ("nest_utilisation",)),
        (ClosedMouldPart, ("nest_utilisation",)),
    ),
    VOLUMES: (
        (Part, ("batch",)),
        (Option, ("batch",)),
        (Learning, ("first", "last")),
        (BaseBoat, ("tooling",)),
    ),
    OVERHEAD: (
        (Station, ("efficiency",)),
        (Policy, ("material_handling", "general_overhead")),
    ),
}


@dataclass(frozen=True, slots=True)
class Swap:
    """A figure of one side's graph and its value by which of its causes are new.

    The keys of `values` hold a truth value for each of `causes`, in their order.
    """

    figure: Figure
    causes: tuple[str, ...]
    values: Mapping[tuple[bool, ...], float]

    def by(self, cause: str) -> bool:
        """Whether the value depends on this cause at all."""
        at = self.causes.index(cause)
        return any(
            value != self.values[(*which[:at], not which[at], *which[at + 1 :])]
            for which, value in self.values.items()
        )


def words_of(cause: str) -> str:
    """What people call a cause.

    >>> words_of("prices.resin"), words_of("volumes")
    ('Resin prices', 'Volumes and moulds')
    """
    if cause.startswith(PRICES):
        return f"{cause.removeprefix(PRICES).replace('_', ' ').capitalize()} prices"
    return WORDS[cause]


def swaps_of(before: Costing, after: Costing, new: bool) -> list[Swap]:
    """Every figure of one side's graph that has a counterpart of another value on the other.

    Args:
        before: the old costing
        after: the new one
        new: whose graph; the other side gives only numbers
    Returns:
        the figures that differ; whatever has no counterpart keeps its own value, and so counts
        as recipe, with all that the two graphs don't share
    """
    found = [
        *_prices(before, after, new),
        *_stations(before, after, new),
        *_moulds(before, after, new),
        *_fields(before, after, new),
    ]
    return [swap for swap in found if len(set(swap.values.values())) > 1]


def _single(figure: Figure, cause: str, other: float, new: bool) -> Swap:
    return Swap(figure, (cause,), {(new,): figure.value, (not new,): other})


def _prices(before: Costing, after: Costing, new: bool) -> Iterator[Swap]:
    """Landed prices by price and by rate of exchange.

    A supplier's price goes with its currency, freight and duty; it is exchanged at the old or new
    rate of that currency and counted with the recipe's own densities and packs. So a change of
    supplier, unit or currency is a change of price, and what the rate does to it is exchange.
    """
    sides = {False: before, True: after}
    own = sides[new]
    for id, figure in own.rates.prices.items():
        both = id in before.rates.prices and id in after.rates.prices
        values: dict[tuple[bool, ...], float] = {}
        for price, rate in product((False, True), repeat=2):
            source = sides[price] if both else own
            landed = _landed(own.catalogue, source.catalogue, sides[rate].catalogue, id)
            if landed.unit != figure.unit:  # counted otherwise: no price of this recipe
                landed = _landed(own.catalogue, own.catalogue, sides[rate].catalogue, id)
            values[price, rate] = landed.value
        values[new, new] = figure.value
        material_class = after.rates.classes.get(id) or before.rates.classes[id]
        yield Swap(figure, (f"{PRICES}{material_class}", EXCHANGE), values)


def _landed(own: Catalogue, source: Catalogue, rates: Catalogue, id: str) -> Figure:
    """A landed price: the material of one catalogue, its price of another, exchanged by a third.

    Where the material itself can't be counted in what that price is for, it comes from the
    price's own side.
    """
    exchange = source.exchange | rates.exchange
    for catalogue in (own, source):
        kinds: dict[str, dict[str, Any]] = {
            MATERIAL_KINDS[0]: {id: catalogue.records.materials[id]},
            "supplier": source.records.suppliers,
        }
        mixed = replace(source, records=replace(source.records, by_kind=kinds), exchange=exchange)
        try:
            return landed_prices(mixed)[id]
        except ValueError:  # no density or pack for the unit of this price
            continue
    raise ValueError(f"{id} can't be priced on its own side")


def _stations(before: Costing, after: Costing, new: bool) -> Iterator[Swap]:
    """Labour rates by wage and on-costs; overhead rates where both sides absorb on one base."""
    sides = {False: before, True: after}
    for id, rates in sides[new].rates.stations.items():
        if id not in sides[not new].rates.stations:
            continue
        wages, on_costs = {}, {}
        for side, costing in sides.items():
            station = costing.rates.stations[id].station
            wages[side] = costing.catalogue.wages[str(station.wage_group)].wage.value
            on_costs[side] = station.on_costs.value
        values: dict[tuple[bool, ...], float] = {
            (wage, load): labour_rate(wages[wage], on_costs[load])
            for wage, load in product((False, True), repeat=2)
        }
        values[new, new] = rates.labour.value
        yield Swap(rates.labour, (WAGES, OVERHEAD), values)
        other = sides[not new].rates.stations[id]
        if other.station.overhead.base == rates.station.overhead.base:
            yield _single(rates.variable, OVERHEAD, other.variable.value, new)
            yield _single(rates.fixed, OVERHEAD, other.fixed.value, new)


def _moulds(before: Costing, after: Costing, new: bool) -> Iterator[Swap]:
    own, other = (after, before) if new else (before, after)
    for id, per_pull in own.rates.pulls.items():
        if id in other.rates.pulls:
            yield _single(per_pull, VOLUMES, other.rates.pulls[id].value, new)


def _fields(before: Costing, after: Costing, new: bool) -> Iterator[Swap]:
    """Numbers of records that stand in the same place on both sides."""
    own, other = (after, before) if new else (before, after)
    pairs = [(own.catalogue.yard.policy, other.catalogue.yard.policy)]
    for kind, records in own.catalogue.records.by_kind.items():
        others = other.catalogue.records.of(kind)
        pairs += [(record, others[id]) for id, record in records.items() if id in others]
    for record, twin in pairs:
        for cause, figure, value in _twins(record, twin):
            yield _single(figure, cause, value, new)


def _twins(own: Record, other: Record) -> Iterator[tuple[str, Figure, float]]:
    for name in type(own).model_fields:
        mine, theirs = getattr(own, name), getattr(other, name, None)
        if isinstance(mine, Figure) and isinstance(theirs, Figure):
            cause = _cause(own, name)
            if cause is not None and mine.unit == theirs.unit:
                yield cause, mine, theirs.value
        elif isinstance(mine, Record) and isinstance(theirs, Record):
            yield from _twins(mine, theirs)
        elif isinstance(mine, tuple) and isinstance(theirs, tuple):
            named = dict(_called(theirs))
            for call, item in _called(mine):
                if call in named:
                    yield from _twins(item, named[call])


def _cause(record: Record, name: str) -> str | None:
    for cause, fields in FIELDS.items():
        if any(isinstance(record, kind) and name in names for kind, names in fields):
            return cause
    return None


def _called(items: tuple[object, ...]) -> Iterator[tuple[tuple[str, int], Record]]:
    """Records of a list by name, the second of a name apart from the first."""
    count: dict[str, int] = {}
    for item in items:
        if isinstance(item, Record):
            name = str(getattr(item, "id", None) or getattr(item, "name", ""))
            count[name] = count.get(name, 0) + 1
            yield (name, count[name]), item
