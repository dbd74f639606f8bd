"""What may move a cost, as causes: which figures of a costing belong to which of them, and what
each is worth on both sides of a comparison; and a change split over them by Shapley's shares, so
that no order of the causes matters.

Figures are matched by what they mean, never by key, since keys hold the date of a price list.

What stands on one side only counts as recipe, since no set of causes without recipes reaches it. So
does a boat's stated cost by class; its stated tooling counts with the moulds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import comb
from typing import TYPE_CHECKING, Any

from quoter.catalogue.factory import Station
from quoter.catalogue.materials import Foam, Gelcoat, Material
from quoter.catalogue.operations import Learning, Operation, Rework
from quoter.catalogue.options import BaseBoat, OneOff, Option
from quoter.catalogue.parts import ClosedMouldPart, InfusedPart, OpenMouldPart, Part
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import MATERIAL_KINDS
from quoter.catalogue.yard import Disposal, Policy
from quoter.costing.elements import in_words
from quoter.costing.rates import landed_prices
from quoter.costing.rollup import Costing
from quoter.engineering.labour import labour_rate
from quoter.figures import Figure
from quoter.figures.graph import evaluate, in_order
from quoter.phrases import Phrase, capital, phrase

EXCHANGE, WAGES, OVERHEAD = "exchange", "wages", "overhead"
RECIPES, VOLUMES, YIELDS = "recipes", "volumes", "yields"
CHUNK = 1024  # sets of causes evaluated at once; more would hold too many numbers at a time
WORDS = {
    EXCHANGE: phrase("Exchange rates"),
    WAGES: phrase("Wages"),
    OVERHEAD: phrase("Overhead"),
    RECIPES: phrase("Recipes"),
    VOLUMES: phrase("Volumes and moulds"),
    YIELDS: phrase("Yields"),
}
PRICES = "prices."

# Which cause a catalogue record's number belongs to; all others are part of the recipe.
FIELDS: Mapping[str, tuple[tuple[type[CatalogueRecord], tuple[str, ...]], ...]] = {
    YIELDS: (
        (Operation, ("passes", "overspray")),
        (Rework, ("share", "time")),
        (Material, ("loss", "waste_on_net")),
        (Foam, ("loss", "waste_on_net")),
        (Gelcoat, ("transfer",)),
        (OpenMouldPart, ("nest_utilisation",)),
        (InfusedPart, ("nest_utilisation", "lines_and_pot")),
        (ClosedMouldPart, ("nest_utilisation",)),
    ),
    VOLUMES: (
        (Part, ("batch",)),
        (Option, ("batch",)),
        (Learning, ("first", "last")),
        (BaseBoat, ("tooling", "batch")),
        (OneOff, ("units",)),
    ),
    OVERHEAD: (
        (Station, ("efficiency",)),
        (Policy, ("material_handling", "general_overhead", "holding_rate", "months_held")),
        (Disposal, ("cost",)),
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
        return prices_of(cause.removeprefix(PRICES))
    return WORDS[cause]


def prices_of(material_class: str) -> Phrase:
    """The prices of a class of material, in words."""
    return capital(phrase("{cause} prices", cause=in_words(material_class)))


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
    supplier, unit or currency is a change of price, at the old rate of the currency that the price
    is in; what the move of the rate does to it is exchange.
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
            wages[side] = costing.catalogue.wages[station.wage_group].wage.value
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
        if record is twin:
            continue  # of one reading, priced on two days
        for cause, figure, value in _twins(record, twin):
            yield _single(figure, cause, value, new)


def _twins(own: CatalogueRecord, other: CatalogueRecord) -> Iterator[tuple[str, Figure, float]]:
    for name in type(own).model_fields:
        mine, theirs = getattr(own, name), getattr(other, name, None)
        if isinstance(mine, Figure) and isinstance(theirs, Figure):
            cause = _cause(own, name)
            if cause is not None and mine.unit == theirs.unit:
                yield cause, mine, theirs.value
        elif isinstance(mine, CatalogueRecord) and isinstance(theirs, CatalogueRecord):
            yield from _twins(mine, theirs)
        elif isinstance(mine, tuple) and isinstance(theirs, tuple):
            named = dict(_called(theirs))
            for call, item in _called(mine):
                if call in named:
                    yield from _twins(item, named[call])


def _cause(record: CatalogueRecord, name: str) -> str | None:
    for cause, fields in FIELDS.items():
        if any(isinstance(record, kind) and name in names for kind, names in fields):
            return cause
    return None


def _called(items: tuple[object, ...]) -> Iterator[tuple[tuple[str, int], CatalogueRecord]]:
    """Records of a list by name, the second of a name apart from the first."""
    count: dict[str, int] = {}
    for item in items:
        if isinstance(item, CatalogueRecord):
            name = str(getattr(item, "id", None) or getattr(item, "name", ""))
            count[name] = count.get(name, 0) + 1
            yield (name, count[name]), item


if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from quoter.figures.figure import FloatArray

    IntArray = npt.NDArray[np.int64]
    BoolArray = npt.NDArray[np.bool_]


def shapley_weights(count: int, sets: IntArray) -> FloatArray:
    """What each set's worth counts for in each cause's share.

        share(i) = sum over sets S without i of |S|! (n - |S| - 1)! / n! * (worth(S + i) - worth(S))

    Args:
        count: number of causes, n
        sets: sets of causes, bit i standing for cause i
    Returns:
        array of shape (count, len(sets)); over all sets each row sums to 0
    Source: L. S. Shapley, "A Value for n-Person Games", Contributions to the Theory of Games II,
        Princeton 1953 (from memory)
    """
    import numpy as np

    within = (sets[None, :] >> np.arange(count)[:, None]) & 1
    size = within.sum(axis=0)
    # |S|! (n - |S| - 1)! / n! = 1 / (n * C(n - 1, |S|)), of S without the cause
    weight = np.array([1 / (count * comb(count - 1, k)) for k in range(count)])
    joined, alone = weight[np.maximum(size - 1, 0)], weight[np.minimum(size, count - 1)]
    result: FloatArray = np.where(within == 1, joined[None, :], -alone[None, :])
    return result


def shares_of(
    old: Sequence[Figure],
    new: Sequence[Figure],
    swaps: Mapping[bool, Sequence[Swap]],
    causes: Sequence[str],
) -> list[dict[str, float]]:
    """Each output's change from the old to the new graph, by cause.

    The worth of a set of causes is the output with those causes new and the rest old: of the new
    graph when recipes are among them, else of the old graph. Shares add up to new less old.

    Args:
        old: outputs of the old graph
        new: the same of the new graph
        swaps: figures to replace in the old (False) and the new (True) graph
        causes: all causes, recipes among them, in any order
    """
    if not old:
        return []
    import numpy as np

    at = causes.index(RECIPES)
    base = np.array([figure.value for figure in old])
    moves = _touched(old, swaps[False], causes) | _touched(new, swaps[True], causes)
    found = np.zeros((len(causes), len(old)))
    for others in _chunks(2 ** (len(causes) - 1)):
        # The sets without recipes, then with: the bits below and above that of recipes.
        without = (others & ((1 << at) - 1)) | ((others >> at) << (at + 1))
        sides = []
        for renewed, outputs in ((False, old), (True, new)):
            sets = without | (renewed << at)
            replaced = {swap.figure: _values(swap, sets, causes) for swap in swaps[renewed]}
            worth = evaluate(outputs, replaced)
            sides.append(np.stack([np.broadcast_to(one, sets.shape) for one in worth], axis=1))
            found += shapley_weights(len(causes), sets) @ (sides[-1] - base)
        moves[at] |= (sides[0] != sides[1]).any(axis=0)
    # What can't move an output gets nothing, not a rest of rounding.
    return [dict(zip(causes, each, strict=True)) for each in np.where(moves, found, 0.0).T.tolist()]


def _chunks(count: int) -> Iterator[IntArray]:
    import numpy as np

    for start in range(0, count, CHUNK):
        yield np.arange(start, min(start + CHUNK, count))


def _touched(outputs: Sequence[Figure], swaps: Sequence[Swap], causes: Sequence[str]) -> BoolArray:
    """Which causes reach which outputs through the graph: array (causes, outputs)."""
    import numpy as np

    own = {
        swap.figure: sum(1 << causes.index(c) for c in swap.causes if c in causes and swap.by(c))
        for swap in swaps
    }
    reach: dict[Figure, int] = {}
    for figure in in_order(outputs):
        mask = own.get(figure, 0)
        if figure not in own:
            for arg in figure.args:
                mask |= reach[arg]
        reach[figure] = mask
    bits = [[bool(reach[output] >> n & 1) for output in outputs] for n in range(len(causes))]
    return np.array(bits, dtype=bool).reshape(len(causes), len(outputs))


def _values(swap: Swap, sets: IntArray, causes: Sequence[str]) -> FloatArray:
    """A figure's value in each set of causes; a cause that is not asked about stays as it is."""
    import numpy as np

    code = np.zeros(len(sets), dtype=int)
    for place, cause in enumerate(swap.causes):
        if cause in causes:
            code |= ((sets >> causes.index(cause)) & 1) << place
    count = len(swap.causes)
    table = [
        swap.values[tuple(bool(number >> place & 1) for place in range(count))]
        for number in range(2**count)
    ]
    result: FloatArray = np.array(table)[code]
    return result
