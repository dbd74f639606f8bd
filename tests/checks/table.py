"""Tables of checks: an expression written with quantities, the published value, its source.

Everything is text as the source prints it and goes through the same door as a catalogue, so that a
row reads like the source: ``Check((ply_thickness, "450 g/m2", ...), "1.051 mm", ...)``. An argument
may be an expression itself. Each row is tried with floats, Figures and arrays.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import numpy.typing as npt
import pytest

from quoter.figures import Figure
from quoter.units import Quantity, quantity

ROUNDING = 1e-12  # relative; what binary fractions cost


@dataclass(frozen=True)
class Check:
    """One row. The tolerance is half a unit in the last place of `expected`, none if `exact`.

    `how` the value came: "published" as printed in the source, "derived" by hand from the source
    or from definitions, or "from memory" where the source's text was not at hand.
    """

    expression: tuple[Any, ...]
    expected: str
    source: str
    how: Literal["published", "derived", "from memory"]
    exact: bool = False

    @property
    def name(self) -> str:
        return f"{self.expression[0].__name__} = {self.expected}"

    @property
    def value(self) -> float:
        return base_value(quantity(self.expected))

    @property
    def tolerance(self) -> float:
        rounding = ROUNDING * abs(self.value)
        if self.exact:
            return rounding
        asked = quantity(self.expected)
        digits = self.expected.split()[0].partition(".")[2]
        percent = 100 if asked.percent else 1
        return 0.5 / percent * 10.0 ** -len(digits) * float(asked.factor) + rounding


def base_value(given: Quantity) -> float:
    return given.number * float(given.factor)


def evaluate(expression: Any, make: Callable[[Quantity], Any]) -> Any:
    """The value of an expression whose quantities are made into numbers of some kind."""
    if isinstance(expression, str):
        return make(quantity(expression))
    if isinstance(expression, list):
        return [evaluate(item, make) for item in expression]
    function, *arguments = expression
    return function(*(evaluate(argument, make) for argument in arguments))


def functions_in(expression: Any) -> Iterator[Callable[..., Any]]:
    """The functions an expression calls."""
    if isinstance(expression, list):
        for item in expression:
            yield from functions_in(item)
    elif isinstance(expression, tuple):
        yield expression[0]
        yield from functions_in(list(expression[1:]))


def as_figure(given: Quantity) -> Figure:
    return Figure(base_value(given), given.base)


def as_array(given: Quantity) -> npt.NDArray[np.float64]:
    return np.full(3, base_value(given))


def verify(check: Check) -> None:
    """Floats meet the published value; Figures and arrays give what floats give, and the unit."""
    got = evaluate(check.expression, base_value)
    assert abs(got - check.value) <= check.tolerance, (
        f"{check.name}: got {got:.9g}, expected {check.value:.9g} within {check.tolerance:.2g};"
        f" {check.source} ({check.how})"
    )
    figure = evaluate(check.expression, as_figure)
    assert math.isclose(figure.value, got, rel_tol=ROUNDING, abs_tol=1e-15)
    assert figure.unit == quantity(check.expected).base
    array = evaluate(check.expression, as_array)
    assert np.allclose(array, got, rtol=ROUNDING, atol=1e-15)
    assert array.shape == (3,)


def each(checks: tuple[Check, ...]) -> pytest.MarkDecorator:
    """Parametrize a test by the rows of a table."""
    return pytest.mark.parametrize("check", checks, ids=[check.name for check in checks])
