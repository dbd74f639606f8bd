"""How far each kind of input may be from what is written, and what moves together: the policy's
records, and what holds where a yard says nothing.

The house's numbers are common practice, no source. The estimate classes of AACE International's
18R-97 are of capital projects: a scale of how mature an estimate is, not of boats, and not used.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.figures import Figure
from quoter.phrases import phrase

DRAWING, SIMILAR, TIMED = BASES = ("drawing", "similar", "timed")
Basis = Annotated[str, f.choice(*BASES)]
BASIS_WORDS = {
    DRAWING: phrase("from a drawing"),
    SIMILAR: phrase("from a similar part"),
    TIMED: phrase("timed and measured on the floor"),
}
Range = tuple[float, float]  # how far below and above the likely value, as fractions of it


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of input: the house's range, by basis where it has one, and with what it moves.

    One of `sign` -1 falls where the others of its group rise: a station that is slow takes more
    minutes at a lower efficiency.
    """

    house: Range | dict[str, Range]
    together: str = ""
    sign: int = 1

    @property
    def by_basis(self) -> bool:
        """Whether its range depends on what the numbers of a part rest on."""
        return isinstance(self.house, dict)

    def house_range(self, basis: str) -> Range:
        """The range where the yard states none."""
        return self.house[basis] if isinstance(self.house, dict) else self.house


TIMES, PRICES, RATES, WAGES = "time", "price", "exchange", "wage"
# How strongly each two of a group move together where the policy says nothing; from no source.
TOGETHER = {TIMES: 0.5, PRICES: 0.6, RATES: 0.5, WAGES: 0.8}

KINDS: dict[str, Kind] = {
    TIMES: Kind({DRAWING: (0.20, 0.40), SIMILAR: (0.15, 0.25), TIMED: (0.05, 0.08)}, TIMES),
    "efficiency": Kind((0.08, 0.05), TIMES, -1),
    "allowance": Kind((0.15, 0.25), TIMES),
    "learning": Kind((0.03, 0.04)),
    PRICES: Kind((0.06, 0.10), PRICES),
    RATES: Kind((0.05, 0.05), RATES),
    WAGES: Kind((0.01, 0.03), WAGES),
    "freight": Kind((0.15, 0.30)),
    "stated cost": Kind((0.10, 0.15)),
    "dimension": Kind({DRAWING: (0.02, 0.03), SIMILAR: (0.01, 0.015), TIMED: (0.005, 0.005)}),
    "quantity": Kind({DRAWING: (0.10, 0.15), SIMILAR: (0.05, 0.08), TIMED: (0.03, 0.04)}),
    "density": Kind((0.03, 0.03)),
    "glass content": Kind((0.08, 0.08)),
    "film": Kind((0.10, 0.20)),
    "loss": Kind((0.25, 0.40)),
    "use": Kind((0.08, 0.05)),
    "yield": Kind((0.015, 0.01)),
    "rework": Kind((0.40, 0.80)),
    "overhead": Kind((0.07, 0.10)),
    "capacity": Kind((0.07, 0.05)),
    "mould cost": Kind((0.12, 0.20)),
    "pulls": Kind((0.20, 0.15)),
}


class UsualRange(CatalogueRecord):
    """How far inputs of one kind may be from what is written, where they have no range of their
    own."""

    of: Annotated[str, f.choice(*KINDS)]
    """The kind. Which key of the catalogue is of which kind, the risk sheet of a workbook says
    beside each input.
    Example: `time`"""
    basis: Basis | None = None
    """Of times, dimensions and quantities: the basis that the range is for. A line for each basis
    may be written, and one without for the others.
    Unless given: every basis.
    Example: `drawing`"""
    low: Annotated[Figure, f.measure("15 %", "", low=0.0, high=1.0, below_high=True)]
    """How far below the likely value the low one lies, as a part of it.
    Example: `15 %`"""
    high: Annotated[Figure, f.measure("30 %", "", low=0.0)]
    """How far above it the high one lies. A fraction never gets beyond its own limits: an
    efficiency of 98 % with 5 % to rise may be 100 % where 100 % is the most.
    Example: `30 %`"""
    note: f.Note | None = None


class Together(CatalogueRecord):
    """How strongly inputs move together that have one cause."""

    of: Annotated[str, f.choice(*TOGETHER)]
    """What moves together: the times of one station (with its allowance, and its efficiency the
    other way), the prices of one class of material, all rates of exchange, all wages with their
    on-costs.
    Example: `price`"""
    correlation: f.Fraction
    """The correlation of each two of them: 0 % if each moves by itself, 100 % if all move as one.
    Example: `60 %`"""
    note: f.Note | None = None


class Certainty(CatalogueRecord):
    """How sure inputs are that have no range of their own, and what moves together.

    A range written beside a value comes first, then the range of its kind stated here, then what
    its own history shows, and at last a range of the house, from common practice.
    """

    ranges: Many[UsualRange] = ()
    """Ranges by kind."""
    together: Many[Together] = ()
    """Correlations of what moves together.
    Unless given: 50 % of a station's times, 60 % of a class's prices, 50 % of rates of exchange,
    80 % of wages; from no source."""


def repeated(policy: Certainty) -> Iterator[tuple[CatalogueRecord, str, CatalogueRecord]]:
    """Each line of a policy that says again what another said: it, in words, and the first."""
    lines: list[tuple[CatalogueRecord, tuple[str, str, str]]] = [
        (line, ("range", line.of, line.basis or "")) for line in policy.ranges
    ]
    lines += [(line, ("together", line.of, "")) for line in policy.together]
    first: dict[tuple[str, str, str], CatalogueRecord] = {}
    for line, key in lines:
        if key in first:
            yield line, ", ".join(word for word in key[1:] if word), first[key]
        first.setdefault(key, line)
