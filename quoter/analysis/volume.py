"""Cost against volume: what a part costs by pulls a year, when a second mould set pays, and when
a closed mould pays instead of an open one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from quoter.catalogue.factory import Mould
from quoter.costing.assembly import Assembly
from quoter.engineering.tooling import units_to_bear, yearly_charge
from quoter.figures import Figure
from quoter.figures.graph import evaluate, input_behind

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

VOLUMES = (10, 20, 30, 50, 75, 100, 150, 200, 300, 400, 600)
MOST = 2000  # pulls a year beyond which no crossing is looked for


@dataclass(frozen=True, slots=True)
class Curve:
    """Cost of one good part by pulls a year of its moulds, with as many sets as they need."""

    name: str
    volumes: tuple[int, ...]
    costs: tuple[float, ...]
    sets: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SecondSet:
    """When a second set of a mould pays: beyond `capacity`, units enough to bear its charge."""

    mould: Mould
    capacity: Figure
    charge: Figure
    contribution: Figure
    pays_from: Figure


def curve_of(
    part: Assembly,
    moulds: Sequence[Mould],
    capacity: dict[str, float],
    volumes: Sequence[int] = VOLUMES,
) -> Curve:
    """The cost of a part by volume, all else as it is.

    Args:
        part: the costed part
        moulds: the moulds it is pulled from
        capacity: mould id -> pulls a year one set can make, where known
        volumes: pulls a year to look at
    """
    import numpy as np

    pulls = np.asarray(volumes, dtype=float)
    replaced: dict[Figure, FloatArray] = {}
    most = np.ones_like(pulls)
    for mould in moulds:
        sets = np.ones_like(pulls)
        if capacity.get(mould.id):
            sets = np.ceil(np.round(pulls / capacity[mould.id], 9))
        most = np.maximum(most, sets)
        replaced[input_behind(mould.pulls_per_year)] = pulls
        for figure in (mould.cost, mould.refurbishment, mould.salvage, mould.life):
            if figure is not None:
                replaced[input_behind(figure)] = sets * input_behind(figure).value
    values = np.broadcast_to(evaluate([part.cost], replaced)[0], pulls.shape)
    costs = tuple(float(value) for value in values)
    return Curve(part.name, tuple(volumes), costs, tuple(int(count) for count in most))


def pays_from(
    cheap_at_first: Assembly,
    first_moulds: Sequence[Mould],
    cheap_later: Assembly,
    later_moulds: Sequence[Mould],
    capacity: dict[str, float],
) -> int | None:
    """The fewest pulls a year from which the second way costs no more, or None up to `MOST`."""
    volumes = range(1, MOST + 1)
    first = curve_of(cheap_at_first, first_moulds, capacity, volumes)
    later = curve_of(cheap_later, later_moulds, capacity, volumes)
    for volume, one, other in zip(volumes, first.costs, later.costs, strict=True):
        if other <= one:
            return volume
    return None


def second_set(mould: Mould, capacity: Figure, contribution: Figure, name: str) -> SecondSet | None:
    """When a second set pays for parts that each bring a contribution; None if they bring none."""
    if contribution.value <= 0:
        return None
    key = f"plan.mould.{mould.id}.{name}"
    nothing = mould.cost * 0.0
    charge = yearly_charge(
        mould.cost,
        mould.refurbishment if mould.refurbishment is not None else nothing,
        mould.salvage if mould.salvage is not None else nothing,
        mould.write_off_years,
    ).named(f"{key}.charge", f"{mould.name}: charge a year of another set")
    extra = units_to_bear(charge, contribution)
    pays = (capacity + extra).named(
        f"{key}.pays_from", f"{mould.name}: pulls a year from which a second set pays"
    )
    return SecondSet(mould, capacity, charge, contribution, pays)
