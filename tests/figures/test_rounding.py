"""Rounding is the spreadsheet's: halves away from zero, and what is nearly whole is whole."""

from __future__ import annotations

from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.figures import constant, round_down, round_to, round_up

# What LibreOffice Calc gives for ROUND(value, digits), tried.
ROUNDED = [
    (2.345, 0.01, 2.35),
    (-2.345, 0.01, -2.35),
    (1.005, 0.01, 1.01),
    (2.675, 0.01, 2.68),
    (2.5, 1.0, 3.0),
    (-2.5, 1.0, -3.0),
    (0.5, 1.0, 1.0),
    (-0.5, 1.0, -1.0),
    (0.49, 1.0, 0.0),
    (1234.5, 10.0, 1230.0),
    (1235.0, 10.0, 1240.0),
    (0.0, 0.01, 0.0),
]
# What it gives for ROUNDUP(ROUND(value, 9), 0) and ROUNDDOWN(ROUND(value, 9), 0), tried.
WHOLE = [
    (0.1 * 3 / 0.1, 3.0, 3.0),
    (3.01, 4.0, 3.0),
    (-1.2, -2.0, -1.0),
    (2.9999999999, 3.0, 3.0),
    (3.0000000001, 3.0, 3.0),
    (2.99, 3.0, 2.0),
    (0.0, 0.0, 0.0),
    (-0.4, -1.0, 0.0),
]


@pytest.mark.parametrize(("value", "step", "expected"), ROUNDED)
def test_nearest(value: float, step: float, expected: float) -> None:
    assert round_to(value, step) == pytest.approx(expected, rel=1e-15)
    assert round_to(constant(value), constant(step)).value == round_to(value, step)
    assert round_to(np.array([value]), np.array([step]))[0] == round_to(value, step)


@pytest.mark.parametrize(("value", "up", "down"), WHOLE)
def test_whole(value: float, up: float, down: float) -> None:
    assert (round_up(value), round_down(value)) == (up, down)
    assert (round_up(constant(value)).value, round_down(constant(value)).value) == (up, down)
    array = np.array([value, value])
    assert (round_up(array)[1], round_down(array)[1]) == (up, down)


@given(
    st.integers(-4000, 4000),
    st.sampled_from([-5e-10, 5e-10, -1.5e-9, 1.5e-9]),
    st.sampled_from([1.0, 0.3, 5.0]),
)
def test_many_at_once_round_as_one_by_one(halves: int, off: float, step: float) -> None:
    """Also where the tenth place is a 5, on which numpy's rounding and Python's part."""
    value, array = halves / 2 + off, np.array([[halves / 2 + off]])
    assert str(round_up(array)[0, 0]) == str(round_up(value))
    assert str(round_down(array)[0, 0]) == str(round_down(value))
    assert str(round_to(array, np.array(step))[0, 0]) == str(round_to(value, step))


def test_nothing_rounds_to_minus_zero() -> None:
    """A sheet has no minus zero, and a page would print it."""
    for rounded in (round_down(-0.4), round_to(-0.4, 1.0), round_up(-0.0)):
        assert str(rounded) == "0.0"
    assert str(round_down(np.array([-0.4]))[0]) == "0.0"


def test_a_step_has_the_value_s_unit() -> None:
    price = round_to(constant(4321.0, "EUR"), constant(10.0, "EUR"))
    assert (price.value, str(price.unit)) == (4320.0, "EUR")
    with pytest.raises(TypeError, match=r"^nearest: expects plain numbers, not \[EUR\]"):
        round_to(constant(4321.0, "EUR"), constant(10.0))


@settings(deadline=None, derandomize=True, database=None)
@given(st.decimals(-(10**6), 10**6, places=6))
def test_decimals_round_as_on_paper(number: Decimal) -> None:
    """Decimal arithmetic, which has no binary fractions, gives the same whole numbers."""
    value = float(number)
    assert round_to(value, 1.0) == number.quantize(Decimal(1), ROUND_HALF_UP)
    assert round_up(value) == number.quantize(Decimal(1), ROUND_UP)
    assert round_down(value) == number.quantize(Decimal(1), ROUND_DOWN)
