"""What formulas may do besides + - * / **: each works on floats, arrays and Figures alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from quoter.figures import kernel
from quoter.figures.figure import Figure, N, lift, make


def _apply(op: str, *args: Any) -> Any:
    """Trace the operation when a Figure takes part, else just compute."""
    kinds = {*map(type, args)}
    if Figure in kinds:
        return make(op, *(args if len(kinds) == 1 else map(lift, args)))
    return kernel.KERNEL[op].compute(*args)


def total(terms: Sequence[N], zero: N) -> N:
    """Sum as one node (a spreadsheet SUM); `zero` is what an empty sum gives."""
    if len(terms) < 2:
        return terms[0] if terms else zero
    result: N = _apply("sum", *terms)
    return result


def dot(left: Sequence[N], right: Sequence[N]) -> N:
    """Sum of products as one node; both of the same length of at least 1."""
    if len(left) != len(right) or not left:
        raise ValueError(f"dot needs two lists of one length, found {len(left)} and {len(right)}")
    result: N = _apply("dot", *left, *right)
    return result


def where(condition: N, yes: N | float, no: N | float) -> N:
    """`yes` where the condition is not 0, else `no`."""
    result: N = _apply("where", condition, yes, no)
    return result


def at_least(value: N, floor: N | float) -> N:
    """The larger of the two."""
    result: N = _apply("max", value, floor)
    return result


def at_most(value: N, ceiling: N | float) -> N:
    """The smaller of the two."""
    result: N = _apply("min", value, ceiling)
    return result


def absolute(value: N) -> N:
    """The magnitude."""
    result: N = _apply("abs", value)
    return result


def less_or_equal(a: N, b: N | float) -> N:
    """1 where a <= b, else 0."""
    result: N = _apply("le", a, b)
    return result


def less(a: N, b: N | float) -> N:
    """1 where a < b, else 0."""
    result: N = _apply("lt", a, b)
    return result


def equal(a: N, b: N | float) -> N:
    """1 where a == b exactly, else 0."""
    result: N = _apply("eq", a, b)
    return result


def both(a: N, b: N) -> N:
    """1 where both conditions hold, else 0."""
    result: N = _apply("and", a, b)
    return result


def round_to(value: N, step: N) -> N:
    """The nearest multiple of `step` (of the same unit), halves away from zero.

    >>> round_to(2.5, 1.0), round_to(-2.5, 1.0), round_to(2.345, 0.01)
    (3.0, -3.0, 2.35)
    """
    result: N = _apply("nearest", value / step) * step
    return result


def round_up(value: N) -> N:
    """The next whole number away from zero; what is whole to nine places stays.

    >>> round_up(0.1 * 3 / 0.1), round_up(3.01)
    (3.0, 4.0)
    """
    result: N = _apply("up", value)
    return result


def round_down(value: N) -> N:
    """The next whole number towards zero; what is whole to nine places stays.

    >>> round_down(2.9999999999), round_down(2.99)
    (3.0, 2.0)
    """
    result: N = _apply("down", value)
    return result


def ln(value: N) -> N:
    """Natural logarithm of a plain number."""
    result: N = _apply("ln", value)
    return result


def power_sum(first: N, last: N, exponent: N) -> N:
    """Sum of n ** exponent over the whole numbers first .. last.

    >>> round(power_sum(1.0, 4.0, -1.0), 6)
    2.083333
    """
    result: N = _apply("powers", first, last, exponent)
    return result
