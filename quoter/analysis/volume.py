"""Cost against volume: what a part costs by pulls a year, and from how many a closed mould costs no
more than an open one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from quoter.catalogue.factory import Mould
from quoter.costing.assembly import Assembly
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
