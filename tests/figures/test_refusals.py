"""What a figure refuses, and how it says so."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from quoter.figures import Figure, at_least, constant, dot, ln, round_up, total, where
from quoter.figures.figure import make

MASS, AREA, RATIO = constant(6.0, "kg", "glass"), constant(1.5, "m2", "area"), constant(0.25)
ADVICE = "a Figure may be a spreadsheet formula; use where(condition, a, b)"

ANY: Any = MASS  # what a type checker would refuse is refused at run time too

BRANCHES: list[tuple[str, Callable[[], object]]] = [
    ("if", lambda: 1 if ANY else 2),
    ("not", lambda: not ANY),
    ("and", lambda: ANY and AREA),
    ("bool", lambda: bool(ANY)),
    ("<", lambda: ANY < 3),
    ("<=", lambda: ANY <= MASS),
    (">", lambda: ANY > 3),
    (">=", lambda: ANY >= MASS),
    ("number < figure", lambda: 3 < ANY),  # noqa: SIM300 - the order is what is tried
    ("max", lambda: max(ANY, RATIO)),
    ("sorted", lambda: sorted([ANY, RATIO])),
    ("float", lambda: float(ANY)),
    ("math", lambda: math.sqrt(ANY)),
]


@pytest.mark.parametrize("branch", [row[1] for row in BRANCHES], ids=[row[0] for row in BRANCHES])
def test_a_figure_takes_no_branch_and_says_what_to_use(branch: Callable[[], object]) -> None:
    with pytest.raises(TypeError, match=f"^{re.escape(ADVICE)}$"):
        branch()


MISMATCHES: list[tuple[str, Callable[[], object], str]] = [
    ("sum", lambda: MASS + AREA, "add: units differ: [kg], [m2] (glass = 6 [kg], area = 1.5 [m2])"),
    (
        "difference",
        lambda: MASS - AREA,
        "sub: units differ: [kg], [m2] (glass = 6 [kg], area = 1.5 [m2])",
    ),
    (
        "plus a number",
        lambda: MASS + 1,
        "add: units differ: [kg], [] (glass = 6 [kg], const = 1 [])",
    ),
    ("1 - figure", lambda: 1 - MASS, "sub: units differ: [], [kg] (const = 1 [], glass = 6 [kg])"),
    (
        "larger",
        lambda: at_least(MASS, AREA),
        "max: units differ: [kg], [m2] (glass = 6 [kg], area = 1.5 [m2])",
    ),
    (
        "total",
        lambda: total([MASS, AREA], MASS),
        "sum: units differ: [kg], [m2] (glass = 6 [kg], area = 1.5 [m2])",
    ),
    (
        "two currencies",
        lambda: constant(1.0, "EUR") + constant(1.0, "USD"),
        "add: units differ: [EUR], [USD] (const = 1 [EUR], const = 1 [USD])",
    ),
    ("logarithm", lambda: ln(MASS), "ln: expects plain numbers, not [kg] (glass = 6 [kg])"),
    ("rounding", lambda: round_up(MASS), "up: expects plain numbers, not [kg] (glass = 6 [kg])"),
    (
        "choice",
        lambda: where(RATIO, MASS, AREA),
        "where: units differ: [kg], [m2] (const = 0.25 [], glass = 6 [kg], area = 1.5 [m2])",
    ),
    (
        "condition with a unit",
        lambda: where(MASS, RATIO, RATIO),
        "where: expects plain numbers, not [kg] (glass = 6 [kg], const = 0.25 [], const = 0.25 [])",
    ),
    (
        "exponent with a unit",
        lambda: RATIO**MASS,
        "pow: an exponent can't have a unit, found [kg] (const = 0.25 [], glass = 6 [kg])",
    ),
    (
        "root of a mass",
        lambda: MASS**0.5,
        "pow: [kg] to the power of 0.5 has no unit (glass = 6 [kg], const = 0.5 [])",
    ),
    (
        "root of an odd power beside an even one",
        lambda: (AREA * MASS) ** 0.5,
        "pow: [kg m2] to the power of 0.5 has no unit (mul = 9 [kg m2], const = 0.5 [])",
    ),
    (
        "third root of a volume",
        lambda: (AREA * constant(2.0, "m")) ** (1 / 3),
        "pow: [m3] to the power of 0.333333 has no unit (mul = 3 [m3], const = 0.333333 [])",
    ),
    (
        "sum of unlike products",
        lambda: dot([MASS, AREA], [RATIO, RATIO]),
        "dot: units differ: [kg], [m2] "
        "(glass = 6 [kg], area = 1.5 [m2], const = 0.25 [], const = 0.25 [])",
    ),
]


@pytest.mark.parametrize(
    ("mixture", "message"), [row[1:] for row in MISMATCHES], ids=[row[0] for row in MISMATCHES]
)
def test_units_that_do_not_go_together_are_named(
    mixture: Callable[[], object], message: str
) -> None:
    with pytest.raises(TypeError) as caught:
        mixture()
    assert str(caught.value) == message


def test_arithmetic_that_has_no_answer_names_the_figures() -> None:
    told = r"^div: .*division by zero \(glass = 6 \[kg\], area of nothing = 0 \[m2\]\)$"
    with pytest.raises(ZeroDivisionError, match=told):
        MASS / constant(0.0, "m2", "area of nothing")
    with pytest.raises(ValueError, match=r"^ln: .* \(const = 0 \[\]\)$"):
        ln(constant(0.0))


def test_a_figure_in_another_kind_of_unit_is_not_shown() -> None:
    with pytest.raises(TypeError, match=r"^can't show \[kg\] in mm$"):
        MASS.shown_in("mm")


@pytest.mark.parametrize("lengths", [(1, 2), (2, 1), (0, 0)])
def test_dot_needs_as_many_on_both_sides(lengths: tuple[int, int]) -> None:
    left, right = ([RATIO] * length for length in lengths)
    with pytest.raises(ValueError, match=f"found {lengths[0]} and {lengths[1]}$"):
        dot(left, right)


@pytest.mark.parametrize(
    "mixture",
    [
        lambda array: array * MASS,
        lambda array: array + MASS,
        lambda array: MASS * array,
        lambda array: at_least(MASS, array),
        lambda array: total([MASS, array], MASS),
    ],
    ids=["array * figure", "array + figure", "figure * array", "larger", "total"],
)
@pytest.mark.parametrize("length", [1, 2])
def test_an_array_does_not_mix_with_a_figure(
    mixture: Callable[[object], object], length: int
) -> None:
    told = "^a Figure and ndarray don't mix; evaluate the Figure's graph with it instead$"
    with pytest.raises(TypeError, match=told):
        mixture(np.full(length, 2.0))


def test_a_figure_can_not_be_changed() -> None:
    with pytest.raises(AttributeError):
        ANY.value = 7.0


def test_an_unknown_operation_is_refused() -> None:
    with pytest.raises(KeyError, match="cube"):
        make("cube", MASS)


def test_equality_is_identity_not_a_comparison_of_values() -> None:
    assert ANY != 6.0
    assert Figure(1.0) != Figure(1.0)
