"""One table of what a figure's operations are: how to compute, the unit rule, the derivatives.

`compute` takes floats or numpy arrays, `unit` the arguments themselves. `slopes` gives the partial
derivatives by the arguments.
A figure's value, its re-evaluation and its gradient all come from here, so they can't disagree.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from quoter.units import NONE, Unit


class Measured(Protocol):
    """What has a value in a unit, as a figure has."""

    @property
    def value(self) -> float:
        """The number."""

    @property
    def unit(self) -> Unit:
        """What it is in."""


Args = Sequence[Measured]

# Before rounding to a whole, here and in the sheet: 0.1 * 3 / 0.1 counts as 3, not 3 and a bit.
PLACES_BEFORE_ROUNDING = 9
_SCALARS = frozenset((float, bool))
NEARLY = 2.0**-48  # relative; what differs by less is equal in a sheet


@dataclass(frozen=True, slots=True)
class Kernel:
    """An operation: `compute(*values)`, `unit(arguments)` and `slopes(result, values)`."""

    compute: Callable[..., Any]
    unit: Callable[[Args], Unit]
    slopes: Callable[[Any, Sequence[Any]], Sequence[Any]]


def _is_array(*values: object) -> bool:
    if _SCALARS.issuperset(map(type, values)):  # as in a costing, where this is asked most
        return False
    return any(hasattr(value, "shape") for value in values)


def choose(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` where the condition holds (is not 0), else `no`; elementwise for arrays."""
    if _is_array(condition, yes, no):
        import numpy as np

        return np.where(condition, yes, no)
    return yes if condition else no


def larger(a: Any, b: Any) -> Any:
    """The larger of two, elementwise for arrays."""
    return choose(a >= b, a, b)


def smaller(a: Any, b: Any) -> Any:
    """The smaller of two, elementwise for arrays."""
    return choose(a <= b, a, b)


def _rounded(value: Any, whole: str, shift: float) -> Any:
    """Round the magnitude by floor or ceil after a shift, keeping the sign."""
    if _is_array(value):
        import numpy as np

        # One by one, since numpy rounds otherwise where the tenth place is a 5.
        places = [round(each, PLACES_BEFORE_ROUNDING) for each in value.ravel().tolist()]
        many = np.array(places).reshape(value.shape)
        return np.sign(many) * getattr(np, whole)(np.abs(many) + shift) + 0.0
    tidy = round(float(value), PLACES_BEFORE_ROUNDING)
    return math.copysign(getattr(math, whole)(abs(tidy) + shift), tidy) + 0.0


def nearest_whole(value: Any) -> Any:
    """The nearest whole number, halves away from zero, as spreadsheets round."""
    return _rounded(value, "floor", 0.5)


def next_whole(value: Any) -> Any:
    """The next whole number away from zero."""
    return _rounded(value, "ceil", 0.0)


def last_whole(value: Any) -> Any:
    """The next whole number towards zero."""
    return _rounded(value, "floor", 0.0)


def logarithm(value: Any) -> Any:
    """Natural logarithm."""
    if _is_array(value):
        import numpy as np

        return np.log(value)
    return math.log(value)


def sum_of_powers(first: Any, last: Any, exponent: Any) -> Any:
    """Sum of n ** exponent for n = first .. last, both whole numbers of at least 1."""
    if _is_array(first, last, exponent):
        import numpy as np

        if not _is_array(first, last):  # as where a slope of learning is drawn many times
            ends = range(round(float(first)), round(float(last)) + 1)
            return sum((float(n) ** exponent for n in ends), np.zeros_like(exponent, dtype=float))
        return np.vectorize(sum_of_powers, otypes=[float])(first, last, exponent)
    return math.fsum(n**exponent for n in range(round(float(first)), round(float(last)) + 1))


def _slopes_of_powers(_: Any, values: Sequence[Any]) -> Sequence[Any]:
    """By the ends as if the sum were the integral from first - 1/2 to last + 1/2, which is near."""
    first, last, exponent = values
    slope = math.fsum(
        n**exponent * math.log(n) for n in range(round(float(first)), round(float(last)) + 1)
    )
    return -((first - 0.5) ** exponent), (last + 0.5) ** exponent, slope


def _same(args: Args) -> Unit:
    first = args[0].unit
    for arg in args:
        if arg.unit is not first:
            raise TypeError("units differ: " + ", ".join(f"[{arg.unit}]" for arg in args))
    return first


def _plain(args: Args) -> Unit:
    if any(arg.unit is not NONE for arg in args):
        raise TypeError("expects plain numbers, not " + ", ".join(f"[{a.unit}]" for a in args))
    return NONE


def _compared(args: Args) -> Unit:
    _same(args)
    return NONE


def _power(args: Args) -> Unit:
    base, exponent = args
    if exponent.unit is not NONE:
        raise TypeError(f"an exponent can't have a unit, found [{exponent.unit}]")
    if base.unit is NONE:
        return NONE
    number = exponent.value
    powers = [(symbol, power * number) for symbol, power in base.unit.parts]
    if 2 * number != int(2 * number) or any(power != int(power) for _, power in powers):
        raise TypeError(f"[{base.unit}] to the power of {number:g} has no unit")
    return Unit(tuple((symbol, int(power)) for symbol, power in powers if power))


def _chosen(args: Args) -> Unit:
    _plain(args[:1])
    return _same(args[1:])


def _dotted(args: Args) -> Unit:
    half = len(args) // 2
    products = [a.unit * b.unit for a, b in zip(args[:half], args[half:], strict=True)]
    if any(product is not products[0] for product in products):
        raise TypeError("units differ: " + ", ".join(f"[{product}]" for product in products))
    return products[0]


def _dot(*values: Any) -> Any:
    half = len(values) // 2
    return sum(a * b for a, b in zip(values[:half], values[half:], strict=True))


def _power_slopes(result: Any, v: Sequence[Any]) -> Sequence[Any]:
    base, exponent = v
    by_exponent = result * math.log(base) if base > 0 else 0.0
    by_base = exponent * base ** (exponent - 1) if base or exponent >= 1 else 0.0
    return by_base, by_exponent


def _flat(_: Any, values: Sequence[Any]) -> Sequence[Any]:
    return [0.0] * len(values)


def _halves(values: Sequence[Any]) -> Sequence[Any]:
    half = len(values) // 2
    return [*values[half:], *values[:half]]


def same(a: Any, b: Any) -> Any:
    """Whether two numbers are equal to the fifteen digits spreadsheets compare by."""
    return abs(a - b) <= NEARLY * larger(abs(a), abs(b))


def _compare(test: Callable[[Any, Any], Any]) -> Kernel:
    return Kernel(lambda a, b: choose(test(a, b), 1.0, 0.0), _compared, _flat)


KERNEL: dict[str, Kernel] = {
    "ref": Kernel(lambda a: a, _same, lambda _, v: [1.0]),
    "add": Kernel(operator.add, _same, lambda _, v: [1.0, 1.0]),
    "sub": Kernel(operator.sub, _same, lambda _, v: [1.0, -1.0]),
    "neg": Kernel(operator.neg, _same, lambda _, v: [-1.0]),
    "mul": Kernel(operator.mul, lambda a: a[0].unit * a[1].unit, lambda _, v: [v[1], v[0]]),
    "div": Kernel(
        operator.truediv,
        lambda a: a[0].unit / a[1].unit,
        lambda r, v: [1 / v[1], -r / v[1]],
    ),
    "pow": Kernel(operator.pow, _power, _power_slopes),
    "ln": Kernel(logarithm, _plain, lambda _, v: [1 / v[0]]),
    "sum": Kernel(lambda *v: sum(v), _same, lambda _, v: [1.0] * len(v)),
    "dot": Kernel(_dot, _dotted, lambda _, v: _halves(v)),
    "where": Kernel(
        choose, _chosen, lambda _, v: [0.0, choose(v[0], 1.0, 0.0), choose(v[0], 0.0, 1.0)]
    ),
    "max": Kernel(
        larger,
        _same,
        lambda _, v: [choose(v[0] >= v[1], 1.0, 0.0), choose(v[0] >= v[1], 0.0, 1.0)],
    ),
    "min": Kernel(
        smaller,
        _same,
        lambda _, v: [choose(v[0] <= v[1], 1.0, 0.0), choose(v[0] <= v[1], 0.0, 1.0)],
    ),
    "abs": Kernel(abs, _same, lambda _, v: [choose(v[0] >= 0, 1.0, -1.0)]),
    "nearest": Kernel(nearest_whole, _plain, _flat),
    "up": Kernel(next_whole, _plain, _flat),
    "down": Kernel(last_whole, _plain, _flat),
    "powers": Kernel(sum_of_powers, _plain, _slopes_of_powers),
    "le": _compare(lambda a, b: (a <= b) | same(a, b)),
    "lt": _compare(lambda a, b: (a < b) & (same(a, b) == 0)),
    "eq": _compare(same),
    "and": Kernel(lambda *v: smaller(v[0], v[1]), _plain, _flat),
}
