"""The newest graph evaluated over many days at once, some of its figures being given by day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from quoter.figures import Figure
from quoter.figures.graph import evaluate, in_order

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Values = tuple[float | None, ...]


@dataclass(slots=True)
class Replay:
    """The newest graph with some of its figures given by day.

    Where one is not known on a day, its newest value stands in, and what rests on it is blank.
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
