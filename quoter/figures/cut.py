"""A graph cut off at some of its figures, so that results rest on given numbers instead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from quoter.figures.figure import Figure


class Cut:
    """Figures made anew over others; what rests on none of them stays itself."""

    def __init__(self, others: Mapping[Figure, Figure]) -> None:
        """`others` says what stands in for a figure wherever it is used."""
        self._found = dict(others)

    def put(self, figure: Figure, other: Figure) -> None:
        """Let another figure stand in for one, in what is asked for from now on."""
        self._found[figure] = other

    def of(self, figure: Figure) -> Figure:
        """The figure over the others; the same one every time it is asked for.

        Iterative, so that a long chain of formulas can't exhaust the stack.
        """
        waiting = [figure]
        while waiting:
            last = waiting[-1]
            missing = [arg for arg in last.args if arg not in self._found]
            if last not in self._found and missing:
                waiting.extend(reversed(missing))
                continue
            waiting.pop()
            if last not in self._found:
                args = tuple(self._found[arg] for arg in last.args)
                self._found[last] = last if args == last.args else replace(last, args=args)
        return self._found[figure]
