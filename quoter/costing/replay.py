"""A finished costing on other days: the same recipes at the prices, wages and rates of each day.

Only dated rows differ between the days, and values that were accepted meanwhile. So each day's
numbers are what costing the catalogue anew as of that day gives, to the last digit, without doing
so: the finished graph is evaluated over many days in one pass, some of its figures being given by
day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING

from quoter.catalogue.accepted import later_rows
from quoter.catalogue.prices import Catalogue
from quoter.costing.rates import landed_price_of
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import evaluate_into, inputs_of
from quoter.units import quantity, to_base

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Values = tuple[float | None, ...]  # by day; None where something is not known


@dataclass(slots=True)
class Replay:
    """A finished graph with some of its figures given by day; what was worked out is kept.

    Where one is not known on a day, its finished value stands in, and what rests on it is blank.
    """

    days: int
    given: dict[Figure, FloatArray] = field(default_factory=dict)
    unknown: dict[Figure, int] = field(default_factory=dict)  # days, as bits
    _values: dict[Figure, FloatArray | float] = field(default_factory=dict)
    _blank: dict[Figure, int] = field(default_factory=dict)

    def give(self, figure: Figure, values: Sequence[float | None]) -> None:
        """State a figure by day."""
        import numpy as np

        self.given[figure] = np.array([figure.value if v is None else v for v in values])
        self.unknown[figure] = sum(1 << at for at, value in enumerate(values) if value is None)
        self._values, self._blank = {}, {}

    def values(self, outputs: Sequence[Figure]) -> list[Values]:
        """The outputs by day."""
        import numpy as np

        if not self._values:
            self._values, self._blank = dict(self.given), dict(self.unknown)
        with np.errstate(divide="ignore", invalid="ignore"):  # a margin of a price of nothing
            added = evaluate_into(self._values, outputs)
        for figure in added:
            self._blank[figure] = reduce(or_, (self._blank[arg] for arg in figure.args), 0)
        return [self._by_day(output) for output in outputs]

    def _by_day(self, output: Figure) -> Values:
        import numpy as np

        values, blank = np.broadcast_to(self._values[output], (self.days,)), self._blank[output]
        known = np.isfinite(values)
        return tuple(
            value if known[at] and not blank >> at & 1 else None
            for at, value in enumerate(values.tolist())
        )


def replayed(costing: Costing, past: Sequence[Catalogue]) -> Replay:
    """A costing with every landed price, wage and rate of exchange given by day.

    Args:
        costing: the finished one
        past: its catalogue with the rows in force on each of the days, of which some may be missing
    """
    replay = Replay(len(past))
    for id, landed in costing.rates.prices.items():
        replay.give(landed, [_landed(day, id) for day in past])
    for group, wage in costing.catalogue.wages.items():
        wages = [day.wages.get(group) for day in past]
        replay.give(wage.wage, [None if then is None else then.wage.value for then in wages])
    for currency, rate in costing.catalogue.exchange.items():
        rates = [day.exchange.get(currency) for day in past]
        replay.give(rate.rate, [None if then is None else then.rate.value for then in rates])
    return replay


def give_accepted(
    replay: Replay, costing: Costing, days: Sequence[date], outputs: Sequence[Figure]
) -> None:
    """State by day what stood in YAML files before another value of it was accepted.

    Args:
        replay: of the days
        costing: the finished one
        days: of the replay
        outputs: what will be asked for, whose inputs are looked through
    """
    then = [later_rows(costing.catalogue.records.accepted, day) for day in days]
    keys = {key for rows in then for key in rows} - costing.catalogue.settings.keys()
    if not keys:
        return
    inputs = inputs_of(outputs)
    key_at = {one.origin.place: one.key for one in inputs if one.key in keys and one.origin}
    for figure in inputs:  # what an alias repeats has the same place and another key
        if figure.origin is not None and figure.origin.place in key_at:
            rows = [by_key.get(key_at[figure.origin.place]) for by_key in then]
            values = [figure.value if row is None else _was(row.was, figure) for row in rows]
            replay.give(figure, values)


def _was(text: str, figure: Figure) -> float | None:
    """The amount of a value's earlier text, in the unit that it is written in now."""
    was = quantity(text.partition("[")[0].partition("(")[0].strip())
    base, factor = to_base(figure.unit)
    return float(Decimal(repr(was.number)) * was.factor / factor) if was.base == base else None


def _landed(past: Catalogue, id: str) -> float | None:
    """A material's landed price, if its line in force and the rate for that are known."""
    row = past.prices.get(id)
    if row is None:
        return None
    currency = str(past.records.suppliers[str(row.supplier)].currency)
    if currency not in (past.currency, *past.exchange):
        return None
    return landed_price_of(past, id, past.records.materials[id]).value
