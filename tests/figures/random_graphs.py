"""Random formulas for laws: plain numbers through a dozen operations, values kept in bounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import assume
from hypothesis import strategies as st

from quoter.figures import Figure, at_least, at_most, constant, dot, ln, power_sum, total, where
from quoter.figures.graph import in_order
from quoter.figures.ops import absolute, less
from tests.figures.made import an_input

LARGEST = 1e4
Pick = Callable[[], Figure]


@dataclass(frozen=True)
class Graph:
    """A formula and the inputs it may depend on."""

    output: Figure
    inputs: tuple[Figure, ...]


def _positive(figure: Figure) -> Figure:
    return figure * figure + 0.5


# Divisors, bases and logarithms are kept away from 0, where a slope says nothing.
OPERATIONS: dict[str, Callable[[Pick], Figure]] = {
    "add": lambda pick: pick() + pick(),
    "sub": lambda pick: pick() - pick(),
    "mul": lambda pick: pick() * pick(),
    "div": lambda pick: pick() / _positive(pick()),
    "neg": lambda pick: -pick(),
    "pow": lambda pick: _positive(pick()) ** at_most(pick(), constant(2.0)),
    "square": lambda pick: pick() ** 2,
    "inverse": lambda pick: 1 / _positive(pick()),
    "ln": lambda pick: ln(_positive(pick())),
    "total": lambda pick: total([pick(), pick(), pick()], constant(0.0)),
    "dot": lambda pick: dot([pick(), pick()], [pick(), pick()]),
    "where": lambda pick: where(less(pick(), pick()), pick(), pick()),
    "larger": lambda pick: at_least(pick(), pick()),
    "smaller": lambda pick: at_most(pick(), pick()),
    "magnitude": lambda pick: absolute(pick()),
    "powers": lambda pick: power_sum(constant(2.0), constant(5.0), at_most(pick(), constant(2.0))),
    "alias": lambda pick: pick().named("alias", "alias").named("again", "again"),
}


@st.composite
def graphs(draw: st.DrawFn) -> Graph:
    """Up to four inputs between 0.5 and 2, and up to a dozen operations on what is there."""
    values = draw(st.lists(st.decimals("0.5", "2", places=3), min_size=1, max_size=4))
    inputs = tuple(an_input(str(value), f"x{n}") for n, value in enumerate(values))
    figures: list[Figure] = list(inputs)

    def pick() -> Figure:
        return figures[draw(st.integers(0, len(figures) - 1))]

    for name in draw(st.lists(st.sampled_from(sorted(OPERATIONS)), min_size=1, max_size=12)):
        figures.append(OPERATIONS[name](pick))
        assume(abs(figures[-1].value) < LARGEST)
    return Graph(figures[-1], inputs)


def assume_no_kink(output: Figure, distance: float) -> None:
    """Drop formulas that are near a corner or a jump, where two slopes meet."""
    for figure in in_order([output]):
        values = [arg.value for arg in figure.args]
        if figure.op in ("max", "min", "lt") and figure.args[0] is not figure.args[1]:
            assume(abs(values[0] - values[1]) > distance)
        if figure.op == "abs":
            assume(abs(values[0]) > distance)
