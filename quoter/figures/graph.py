"""Finished figures as a graph: re-evaluate with replaced inputs, differentiate by all inputs."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import repeat
from typing import Any

from quoter.figures.figure import Figure
from quoter.figures.kernel import KERNEL

LEAVES = ("input", "const")


def in_order(outputs: Iterable[Figure], known: Container[Figure] = ()) -> list[Figure]:
    """Every figure the outputs depend on, each once, arguments before what uses them.

    Known ones are left out, with what they alone depend on. Iterative, so that a long chain of
    formulas can't exhaust the stack.
    """
    done: dict[Figure, None] = {}
    for output in outputs:
        if output in done or output in known:
            continue
        figure, args = output, iter(output.args)
        waiting = []  # what uses it, each with its arguments that were not looked at yet
        while True:
            for arg in args:
                if arg in done or arg in known:
                    continue
                if arg.args:
                    waiting.append((figure, args))
                    figure, args = arg, iter(arg.args)
                    break
                done[arg] = None
            else:
                done[figure] = None
                if not waiting:
                    break
                figure, args = waiting.pop()
    return list(done)


def inputs_of(outputs: Iterable[Figure]) -> list[Figure]:
    """The catalogue values the outputs depend on, in a fixed order."""
    return [figure for figure in in_order(outputs) if figure.op == "input"]


def input_behind(figure: Figure) -> Figure:
    """The input of a catalogue value, which may be a conversion of it to base units."""
    while figure.op != "input":
        figure = figure.args[0]
    return figure


def evaluate(
    outputs: Sequence[Figure], replaced: Mapping[Figure, Any] | None = None, *, free: bool = False
) -> list[Any]:
    """The outputs' values with some inputs replaced by other numbers or by numpy arrays.

    `replaced` may also name calculated figures; these then count as given. What takes much room is
    let go of on the way, to `free` it as soon as nothing more is worked out from it.
    """
    values = dict(replaced or {})
    order = in_order(outputs, values)
    _work_out(values, order, _last_uses(order, outputs) if free else repeat(()))
    return [values[output] for output in outputs]


def evaluate_into(values: dict[Figure, Any], outputs: Iterable[Figure]) -> list[Figure]:
    """Add the outputs' values to the ones that are known, and those of all they depend on.

    Returns the figures it added, arguments before what uses them.
    """
    added = in_order(outputs, values)
    _work_out(values, added, repeat(()))
    return added


def _work_out(
    values: dict[Figure, Any], order: Iterable[Figure], over: Iterable[Iterable[Figure]]
) -> None:
    """Add the value of each figure, whose arguments' are known; then drop those that are over."""
    for figure, done in zip(order, over, strict=False):
        args = figure.args
        if len(args) == 2:  # as most are
            values[figure] = KERNEL[figure.op].compute(values[args[0]], values[args[1]])
        elif args:
            values[figure] = KERNEL[figure.op].compute(*[values[arg] for arg in args])
        else:
            values[figure] = figure.value
        for arg in done:
            values.pop(arg, None)


def _last_uses(order: Sequence[Figure], outputs: Iterable[Figure]) -> list[list[Figure]]:
    """By each figure of an order, the arguments that nothing after it uses."""
    needed, found = set(outputs), []
    for figure in reversed(order):
        found.append([arg for arg in figure.args if arg not in needed])
        needed.update(figure.args)
    return found[::-1]


def gradient(output: Figure) -> dict[Figure, float]:
    """d(output)/d(input) for every input, in the input's own written unit, by one backward pass."""
    return {figure: slope for figure, slope in _slopes(output).items() if figure.op == "input"}


def slopes_by(
    output: Figure, figures: Iterable[Figure], aside: Container[Figure] = ()
) -> dict[Figure, float]:
    """d(output)/d(figure) for chosen figures, calculated ones too, by one backward pass.

    Each slope is that of the figure as if it were given, 0 where the output does not rest on it.
    What stands `aside` need not be looked at.
    """
    slope = _slopes(output, aside)
    return {figure: slope.get(figure, 0.0) for figure in figures}


def aside_of(outputs: Iterable[Figure], figures: Iterable[Figure]) -> set[Figure]:
    """All that the outputs depend on and that itself rests on none of the figures."""
    order, resting = in_order(outputs), set(figures)
    for figure in order:
        if not resting.isdisjoint(figure.args):
            resting.add(figure)
    return set(order) - resting


def _slopes(output: Figure, aside: Container[Figure] = ()) -> dict[Figure, float]:
    """d(output)/d(figure) for every figure it depends on, arguments first."""
    order = in_order([output], aside)
    slope = dict.fromkeys(order, 0.0)
    slope[output] = 1.0
    for figure in reversed(order):
        steep, args = slope[figure], figure.args
        if steep == 0.0 or not args:
            continue
        partials = KERNEL[figure.op].slopes(figure.value, [arg.value for arg in args])
        for arg, partial in zip(args, partials, strict=True):
            if arg in slope:
                slope[arg] += steep * partial
    return slope


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
