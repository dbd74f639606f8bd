"""Organic HAP of a unit, and of the planned year against the thresholds of a major source.

An estimate by point values, not a compliance record.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from quoter.costing.draws import ORGANIC_HAP, Draw, Draws, draws_of
from quoter.engineering.emissions import MAJOR_COMBINED_HAP, MAJOR_SINGLE_HAP
from quoter.figures import Figure, constant
from quoter.figures.ops import less
from quoter.pricing.price import Priced, PricedModel

NO_EMISSION = constant(0.0, "kg")
ALL_HAP = Draw("emission", ORGANIC_HAP)
# Classes of material that give off organic HAP; what a boat states of them as cost tells no mass.
EMITTING = ("resin", "gelcoat")


@dataclass(frozen=True, slots=True)
class Threshold:
    """A yearly amount that makes a yard a major source, what is given off of it, how much of it is
    used, 1 if below it."""

    what: str
    given_off: Figure
    limit: Figure
    used: Figure
    below: Figure


@dataclass(frozen=True, slots=True)
class YearEmissions:
    """What a year gives off of organic HAP [kg], in all and by substance.

    `left_out` says in words what a headline of it must not pass over.
    """

    total: Figure = NO_EMISSION
    substances: Mapping[str, Figure] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()

    @property
    def scope(self) -> str:
        """What the total is of, as a headline says it."""
        words = "from resin and gelcoat"
        return f"{words}, without {', '.join(self.left_out)}" if self.left_out else words


def emissions_of(priced: PricedModel) -> list[tuple[Priced, Figure]]:
    """The boat, its options and packages, each with the organic HAP of one good unit [kg]."""
    known: dict[str, Draws] = {}
    return [
        (item, draws_of(item.assembly, known).get(ALL_HAP, NO_EMISSION))
        for item in (priced.boat, *priced.options.values(), *priced.packages.values())
    ]


def year_emissions(yearly: Mapping[Draw, Figure], names: Mapping[str, str]) -> YearEmissions:
    """What the draws of a year give off.

    Args:
        yearly: what all units draw in a year
        names: of the materials, by id
    """
    of_kind = {draw.id: figure for draw, figure in yearly.items() if draw.kind == "emission"}
    whole = of_kind.pop(ORGANIC_HAP, NO_EMISSION)
    untold = [f"{names[draw.id]} (HAP not told)" for draw in yearly if draw.kind == "untold"]
    stated = [draw.id for draw in yearly if draw.kind == "stated" and draw.id in EMITTING]
    left_out = (*untold, *(f"{id} stated as cost" for id in stated))
    return YearEmissions(whole, of_kind, left_out)


def thresholds_of(given_off: YearEmissions) -> list[Threshold]:
    """A year against the thresholds of a major source: each substance alone, and all together."""
    single = {f"a single organic HAP, {name}": gas for name, gas in given_off.substances.items()}
    single = single or {"a single organic HAP": given_off.total}
    found = [_threshold(what, gas, MAJOR_SINGLE_HAP) for what, gas in single.items()]
    return [*found, _threshold("all organic HAP together", given_off.total, MAJOR_COMBINED_HAP)]


def _threshold(what: str, gas: Figure, most: float) -> Threshold:
    key = f"plan.emission.{what.replace(', ', ' ').replace(' ', '_')}"
    limit = constant(most, "kg", f"threshold for {what}")
    used = (gas / limit).named(f"{key}.used", f"{what}: of the threshold", "percent")
    return Threshold(what, gas, limit, used, less(gas, limit))
