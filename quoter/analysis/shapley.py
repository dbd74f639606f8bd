"""Shapley shares: a change split over its causes so that no order of the causes matters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import comb
from typing import TYPE_CHECKING

from quoter.analysis.causes import RECIPES, Swap
from quoter.figures import Figure
from quoter.figures.graph import evaluate, in_order

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from quoter.figures.figure import FloatArray

    IntArray = npt.NDArray[np.int64]
    BoolArray = npt.NDArray[np.bool_]

CHUNK = 1024  # sets of causes evaluated at once; more would hold too many numbers at a time


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
