"""Slopes by one backward pass against differences of re-evaluations."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import assume, given, settings

from quoter.figures import Figure, at_least, at_most, constant, power_sum
from quoter.figures.graph import evaluate, gradient, in_order, inputs_of, slopes_by
from tests.demo import demo, everything_priced
from tests.figures.made import an_input, written
from tests.figures.random_graphs import Graph, assume_no_kink, graphs

STEP = 1e-6
STEEPEST = 1e4  # a step then moves nothing across a corner further than DISTANCE away
DISTANCE = 0.05


def test_a_product_s_slopes_are_its_other_factors() -> None:
    a, b = an_input("2", "a"), an_input("3", "b")
    assert gradient(a * b) == {a: 3.0, b: 2.0}


def test_a_slope_is_by_the_unit_a_person_wrote() -> None:
    weight = an_input("450 g/m2", "weight")
    area = constant(2.0, "m2")
    assert gradient(weight * area) == {written(weight): pytest.approx(0.002)}


def test_every_road_from_an_input_counts() -> None:
    x = an_input("3", "x")
    assert gradient(x * x + 2 * x) == {x: 8.0}


def test_an_input_that_makes_no_difference_has_a_slope_of_nought() -> None:
    a, b = an_input("2", "a"), an_input("3", "b")
    assert gradient(at_least(a, b)) == {a: 0.0, b: 1.0}
    assert gradient(at_most(a, b)) == {a: 1.0, b: 0.0}
    assert gradient(a - a) == {a: 0.0}


def test_a_slope_by_a_calculated_figure_is_as_if_it_were_given() -> None:
    """Of figures that rest on each other, each slope is by that figure alone."""
    price, rate, amount = an_input("6 EUR", "p"), an_input("2", "r"), an_input("5", "n")
    landed = (price / rate).named("landed", "landed")
    cost = landed * amount + landed
    asked = [landed, price, amount, an_input("1", "elsewhere")]
    assert list(slopes_by(cost, asked).values()) == [6.0, 3.0, 3.0, 0.0]
    assert slopes_by(cost, [cost]) == {cost: 1.0}
    (given,) = evaluate([cost], {landed: landed.value + 1})
    assert given - cost.value == slopes_by(cost, [landed])[landed]


@pytest.mark.parametrize(("power", "slope"), [(1.0, 1.0), (2.0, 0.0), (0.5, 0.0)])
def test_a_power_of_nought(power: float, slope: float) -> None:
    """Where the slope is infinite it is told as 0: there is no step to either side."""
    assert list(gradient(an_input("0") ** power).values()) == [slope]


def test_the_ends_of_a_sum_of_powers_slope_as_its_smooth_extension() -> None:
    """One unit more or less is the smallest step; it differs from the slope by a curvature."""
    first, last, b = an_input("6", "first"), an_input("45", "last"), an_input("-0.2", "b")
    whole = power_sum(first, last, b)
    slopes = gradient(whole)
    for end in (first, last):
        up, down = (evaluate([whole], {end: end.value + step})[0] for step in (1.0, -1.0))
        assert slopes[end] == pytest.approx((up - down) / 2, rel=0.01)


@settings(deadline=None, derandomize=True, database=None)
@given(graphs())
def test_slopes_are_central_differences(graph: Graph) -> None:
    """On random formulas each slope is what a small step to either side gives."""
    assume_no_kink(graph.output, DISTANCE)
    slopes = gradient(graph.output)
    for figure in in_order([graph.output]):
        assume(all(abs(slope) < STEEPEST for slope in gradient(figure).values()))
    for entry, slope in slopes.items():
        up, down = (evaluate([graph.output], {entry: entry.value + s})[0] for s in (STEP, -STEP))
        assert math.isclose(slope, (up - down) / (2 * STEP), rel_tol=1e-5, abs_tol=1e-4)


def test_a_long_chain_of_formulas_does_not_exhaust_the_stack() -> None:
    start = an_input("1", "start")
    figure: Figure = start
    for _ in range(20_000):
        figure = figure * constant(1.0)
    assert gradient(figure) == {start: 1.0}


def unit_counts(output: Figure) -> set[Figure]:
    """Inputs that count the units of a learning curve: whole, so they take no small step."""
    ends = [figure.args[:2] for figure in in_order([output]) if figure.op == "powers"]
    return {figure for first, last in ends for figure in inputs_of([first, last])}


def steps(entry: Figure) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """A wide step and half of it to either side, relative to the input."""
    size = 1e-3 * (abs(entry.value) or 1.0)
    return size * np.array([1.0, -1.0, 0.5, -0.5])


def differences(output: Figure, entries: list[Figure]) -> Iterator[float]:
    """Central differences by each input, wide and half steps combined so that cubes cancel.

    All steps of all inputs go through the graph at once, as one long array.
    """
    width = 4 * len(entries)
    replaced = {}
    for number, entry in enumerate(entries):
        replaced[entry] = np.full(width, entry.value)
        replaced[entry][4 * number : 4 * number + 4] += steps(entry)
    values = np.broadcast_to(evaluate([output], replaced)[0], width).reshape(-1, 4)
    for entry, (up, down, half_up, half_down) in zip(entries, values, strict=True):
        size = steps(entry)[0]
        yield float(4 * (half_up - half_down) / size - (up - down) / (2 * size)) / 3


def test_slopes_of_every_option_s_cost_are_central_differences_on_every_input() -> None:
    seen: set[Figure] = set()
    for priced in everything_priced():
        cost = priced.assembly.cost
        slopes, counts = gradient(cost), unit_counts(cost)
        entries = [entry for entry in slopes if entry not in counts]
        seen.update(slopes)
        for entry, measured in zip(entries, differences(cost, entries), strict=True):
            # What the last binary digit of the cost leaves uncertain in a difference.
            noise = 1e-12 * abs(cost.value) / steps(entry)[0]
            assert math.isclose(slopes[entry], measured, rel_tol=1e-6, abs_tol=noise), (
                f"{priced.assembly.name} by {entry.key}: {slopes[entry]:g}, measured {measured:g}"
            )
    priced_inputs = {written(row.price) for row in demo().catalogue.prices.values()}
    unused = {figure.key for figure in priced_inputs - seen}
    assert not unused, f"bought, priced and never used: {unused}"
