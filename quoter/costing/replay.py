"""A finished costing on other days: the same recipes at the prices, wages and rates of each day.

Only dated rows differ between the days. So each day's numbers are what costing the catalogue anew
as of that day gives, to the last digit, without doing so: the finished graph is evaluated over many
days in one pass, some of its figures being given by day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from quoter.catalogue.prices import Catalogue
from quoter.costing.rates import landed_price_of
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import evaluate, in_order

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Values = tuple[float | None, ...]  # by day; None where something is not known


@dataclass(slots=True)
class Replay:
    """A finished graph with some of its figures given by day.

    Where one is not known on a day, its finished value stands in, and what rests on it is blank.
    """

    days: int
    given: dict[Figure, FloatArray] = field(default_factory=dict)
    unknown: dict[Figure, int] = field(default_factory=dict)  # days, as bits

    def give(self, figure: Figure, values: Sequence[float | None]) -> None:
        """State a figure by day."""
        import numpy as np

        self.given[figure] = np.array([figure.value if v is None else v for v in values])
        self.unknown[figure] = sum(1 << at for at, value in enumerate(values) if value is None)

    def values(self, outputs: Sequence[Figure]) -> list[Values]:
        """The outputs by day."""
        import numpy as np

        with np.errstate(divide="ignore", invalid="ignore"):  # a margin of a price of nothing
            found = evaluate(outputs, self.given)
        blank = self._blank(outputs)
        return [
            tuple(
                float(value) if np.isfinite(value) and not blank[output] >> at & 1 else None
                for at, value in enumerate(np.broadcast_to(values, (self.days,)))
            )
            for output, values in zip(outputs, found, strict=True)
        ]

    def _blank(self, outputs: Sequence[Figure]) -> dict[Figure, int]:
        """Figure -> days on which something it rests on is not known, as bits."""
        found: dict[Figure, int] = {}
        for figure in in_order(outputs):
            found[figure] = self.unknown.get(figure, 0)
            if figure not in self.given:
                for arg in figure.args:
                    found[figure] |= found[arg]
        return found


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


def _landed(past: Catalogue, id: str) -> float | None:
    """A material's landed price, if its line in force and the rate for that are known."""
    row = past.prices.get(id)
    if row is None:
        return None
    currency = str(past.records.suppliers[str(row.supplier)].currency)
    if currency not in (past.currency, *past.exchange):
        return None
    return landed_price_of(past, id, past.records.materials[id]).value
