"""Finished figures evaluated again, with other inputs or with arrays in their place."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.figures import Figure, constant
from quoter.figures.graph import evaluate, in_order, inputs_of
from tests.demo import all_figures, demo, results
from tests.figures.made import an_input, written
from tests.figures.random_graphs import Graph, graphs

LONG = 20_000


def test_arguments_come_before_what_uses_them_and_each_once() -> None:
    a, b = an_input("2", "a"), an_input("3", "b")
    ab = a * b
    result = ab + ab
    assert in_order([result, ab]) == [a, b, ab, result]


def test_inputs_are_found_in_the_order_of_the_formula() -> None:
    a, b, c = (an_input(n, n) for n in "234")
    assert inputs_of([b + c * a, a]) == [b, c, a]


def test_evaluating_a_finished_costing_gives_the_values_it_has() -> None:
    assert evaluate(results()) == [figure.value for figure in results()]


def test_a_replaced_input_changes_what_depends_on_it_and_nothing_else() -> None:
    length, width = an_input("720 mm", "length"), an_input("500 mm", "width")
    area, other = length * width, width * 2
    again = evaluate([area, other, length], {written(length): 1440.0})
    assert again == [pytest.approx(0.72), 1.0, pytest.approx(1.44)]
    assert area.value == 0.36


def test_a_calculated_figure_may_be_given_too() -> None:
    a = an_input("2", "a")
    half = (a / 2).named("half", "half")
    assert evaluate([half * 3, a], {half: 10.0}) == [30.0, 2.0]


def test_a_dearer_resin_makes_the_demo_dearer_as_a_new_catalogue_would() -> None:
    catalogue, rates = demo().catalogue, demo().costing.rates
    price = written(catalogue.prices["resin_lam"].price)
    landed = rates.prices["resin_lam"]
    assert evaluate([landed], {price: 2 * price.value}) == [pytest.approx(2 * landed.value)]


@settings(deadline=None, derandomize=True, database=None, max_examples=60)
@given(graphs(), st.lists(st.floats(0.5, 2.0), min_size=1, max_size=4))
def test_arrays_give_what_a_loop_over_floats_gives(graph: Graph, values: list[float]) -> None:
    """One pass with arrays is the same as a pass for each element."""
    replaced = graph.inputs[0]
    together = evaluate([graph.output], {replaced: np.array(values)})[0]
    one_by_one = [evaluate([graph.output], {replaced: value})[0] for value in values]
    expected = np.array(one_by_one, dtype=float)
    assert np.allclose(np.broadcast_to(together, len(values)), expected, rtol=1e-12, atol=1e-12)


def test_arrays_give_what_floats_give_through_the_whole_demo() -> None:
    """Every operation the costing uses, rounding and comparisons included, takes arrays."""
    price = written(demo().catalogue.prices["resin_inj"].price)
    wage = written(demo().catalogue.wages["moulder"].wage)
    prices, wages = np.array([1.0, 2.14, 9.0]), np.array([20.0, 25.1, 30.0])
    together = evaluate(all_figures(), {price: prices, wage: wages})
    for column in range(3):
        alone = evaluate(all_figures(), {price: prices[column], wage: wages[column]})
        taken = [np.broadcast_to(row, 3)[column] for row in together]
        assert np.allclose(taken, alone, rtol=1e-12, atol=1e-12)


def test_a_long_chain_of_formulas_does_not_exhaust_the_stack() -> None:
    start = an_input("1", "start")
    figure: Figure = start
    for _ in range(LONG):
        figure = figure + constant(1.0)
    assert evaluate([figure], {start: 5.0}) == [LONG + 5.0]
    assert inputs_of([figure]) == [start]
