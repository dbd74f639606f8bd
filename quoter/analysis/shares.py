"""How much of a result's variance each group of inputs brings, where the result bends.

Groups are independent of each other. A group's first share is what would go if it alone were known,
its total share what would stay if it alone were not; they differ by what it does together with
others. Half of both is its Shapley share where no more than two groups act together; normed, such
shares add up.

Source: I. M. Sobol, "Global sensitivity indices for nonlinear mathematical models", 2001, with the
estimators of Saltelli et al. 2010 (first) and Jansen 1999 (total); A. B. Owen, "Sobol' indices and
Shapley value", 2014 (all from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from quoter.figures.figure import FloatArray

Drawn = TypeVar("Drawn")


@dataclass(frozen=True, slots=True)
class GroupEffect:
    """A group's first and total share of a result's variance."""

    first: float
    total: float

    @property
    def middle(self) -> float:
        """Half of both, and never less than nothing, which only the draws could make it."""
        return max((self.first + self.total) / 2, 0.0)


def group_effects(
    run: Callable[[Sequence[Drawn]], Sequence[FloatArray]],
    one: Sequence[Drawn],
    other: Sequence[Drawn],
) -> list[list[GroupEffect]]:
    """First and total shares of each group, by result.

    Args:
        run: the results for what is drawn of each group
        one: what is drawn of each group
        other: the same, drawn anew
    Returns:
        for each result a list with each group, in their order
    """
    import numpy as np

    first, again = (np.array(run(drawn)) for drawn in (one, other))
    middle = np.concatenate([first, again], axis=1).mean(axis=1, keepdims=True)
    variance = np.concatenate([first, again], axis=1).var(axis=1)
    found: list[list[GroupEffect]] = [[] for _ in first]
    for place in range(len(one)):
        mixed = np.array(run([*one[:place], other[place], *one[place + 1 :]]))
        alone = ((again - middle) * (mixed - first)).mean(axis=1)
        total = ((first - mixed) ** 2).mean(axis=1) / 2
        for effects, a, t, v in zip(found, alone, total, variance, strict=True):
            effects.append(GroupEffect(float(a / v), float(t / v)) if v else GroupEffect(0.0, 0.0))
    return found


def shapley_shares(effects: Sequence[GroupEffect]) -> list[float]:
    """Shares of groups that add up to 1; none where nothing varies."""
    whole = sum(effect.middle for effect in effects)
    return [effect.middle / whole if whole else 0.0 for effect in effects]
