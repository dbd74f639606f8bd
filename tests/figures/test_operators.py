"""What arithmetic on figures gives: value, unit, and what it was made of."""

from __future__ import annotations

import math

import numpy as np
import pytest

from quoter.figures import (
    Figure,
    at_least,
    at_most,
    constant,
    dot,
    ln,
    power_sum,
    total,
    where,
)
from quoter.figures.ops import absolute, both, equal, less, less_or_equal
from quoter.units import NONE, unit
from tests.figures.made import an_input, written

MASS, AREA, RATIO = constant(6.0, "kg"), constant(1.5, "m2"), constant(0.25)

OPERATORS = [
    ("sum", MASS + MASS, 12.0, "kg", "add"),
    ("difference", MASS - constant(1.0, "kg"), 5.0, "kg", "sub"),
    ("product", MASS * AREA, 9.0, "kg m2", "mul"),
    ("quotient", MASS / AREA, 4.0, "kg/m2", "div"),
    ("quotient of like", MASS / MASS, 1.0, "", "div"),
    ("power", AREA**2, 2.25, "m4", "pow"),
    ("negative power", AREA**-1, 1 / 1.5, "1/m2", "pow"),
    ("power of a plain number", RATIO**0.5, 0.5, "", "pow"),
    ("root of a square", (MASS * MASS / AREA**2) ** 0.5, 4.0, "kg/m2", "pow"),
    ("half power", AREA**0.5 * AREA**1.5, 2.25, "m4", "mul"),
    ("negative", -MASS, -6.0, "kg", "neg"),
    ("number plus figure", 1 + RATIO, 1.25, "", "add"),
    ("number minus figure", 1 - RATIO, 0.75, "", "sub"),
    ("number times figure", 2 * MASS, 12.0, "kg", "mul"),
    ("number over figure", 3 / AREA, 2.0, "1/m2", "div"),
    ("number to the power of a figure", 16**RATIO, 2.0, "", "pow"),
    ("figure plus number", RATIO + 1, 1.25, "", "add"),
    ("figure minus number", RATIO - 1, -0.75, "", "sub"),
    ("figure times number", MASS * 2, 12.0, "kg", "mul"),
    ("figure over number", MASS / 4, 1.5, "kg", "div"),
    ("larger", at_least(MASS, constant(7.0, "kg")), 7.0, "kg", "max"),
    ("smaller", at_most(MASS, constant(7.0, "kg")), 6.0, "kg", "min"),
    ("magnitude", absolute(-MASS), 6.0, "kg", "abs"),
    ("logarithm", ln(constant(math.e)), 1.0, "", "ln"),
    ("sum of powers", power_sum(constant(2.0), constant(4.0), constant(2.0)), 29.0, "", "powers"),
    ("less or equal", less_or_equal(MASS, MASS), 1.0, "", "le"),
    ("less", less(MASS, MASS), 0.0, "", "lt"),
    ("equal", equal(MASS, MASS), 1.0, "", "eq"),
    ("both", both(constant(1.0), constant(0.0)), 0.0, "", "and"),
]


@pytest.mark.parametrize(
    ("figure", "value", "in_unit", "op"),
    [row[1:] for row in OPERATORS],
    ids=[r[0] for r in OPERATORS],
)
def test_value_unit_and_operation(figure: Figure, value: float, in_unit: str, op: str) -> None:
    assert figure.value == pytest.approx(value)
    assert (figure.unit, figure.op) == (unit(in_unit), op)
    assert figure.args


def test_a_result_knows_its_arguments_in_order() -> None:
    quotient = MASS / AREA
    assert quotient.args == (MASS, AREA)


def test_a_bare_number_becomes_a_constant_without_unit() -> None:
    one, ratio = (1 - RATIO).args
    assert (one.op, one.value, one.unit) == ("const", 1.0, NONE)
    assert ratio is RATIO


def test_figures_of_one_value_are_still_two_figures() -> None:
    one, other = constant(1.0), constant(1.0)
    assert one != other
    assert len({one, other, one}) == 2


@pytest.mark.parametrize(
    ("a", "b", "relation"),
    [
        (0.1 + 0.2, 0.3, "equal"),
        (0.3, 0.1 + 0.2, "equal"),
        (0.3, 0.3 + 1e-12, "less"),
        (2.0, 1.0, "more"),
        (-1.0, 1.0, "less"),
        (0.0, 0.0, "equal"),
    ],
)
def test_comparisons_are_by_fifteen_digits_as_sheets_compare(
    a: float, b: float, relation: str
) -> None:
    found = [less(a, b), less_or_equal(a, b), equal(a, b)]
    assert found == {"less": [1, 1, 0], "equal": [0, 1, 1], "more": [0, 0, 0]}[relation]
    figures = constant(a), constant(b)
    assert [op(*figures).value for op in (less, less_or_equal, equal)] == found
    arrays = np.array([a]), np.array([b])
    assert [op(*arrays)[0] for op in (less, less_or_equal, equal)] == found


@pytest.mark.parametrize(("first", "last"), [(2.0, 4.0), (1.9999999999, 4.0000000001)])
def test_the_ends_of_a_sum_of_powers_are_whole_even_when_computed(
    first: float, last: float
) -> None:
    assert power_sum(first, last, 2.0) == 29.0


@pytest.mark.parametrize(("condition", "expected"), [(1.0, 3.0), (0.0, 4.0), (-2.0, 3.0)])
def test_where_takes_the_first_unless_the_condition_is_nought(
    condition: float, expected: float
) -> None:
    chosen = where(constant(condition), constant(3.0, "kg"), constant(4.0, "kg"))
    assert (chosen.value, chosen.unit) == (expected, unit("kg"))


def test_a_total_is_one_node_however_many_terms_it_has() -> None:
    terms = [constant(float(n), "h") for n in range(50)]
    whole = total(terms, constant(0.0, "h"))
    assert (whole.op, whole.value, whole.args) == ("sum", 1225.0, tuple(terms))


def test_a_total_of_one_is_that_one_and_of_none_the_given_nothing() -> None:
    nothing, one = constant(0.0, "h"), constant(2.0, "h")
    assert total([one], nothing) is one
    assert total([], nothing) is nothing
    assert total([], 0.0) == 0.0


def test_dot_is_one_node_with_the_unit_of_the_products() -> None:
    rates = [constant(0.5, "h/m2"), constant(0.25, "h/m2")]
    areas = [constant(2.0, "m2"), constant(4.0, "m2")]
    time = dot(rates, areas)
    assert (time.op, time.value, time.unit) == ("dot", 2.0, unit("h"))
    assert time.args == (*rates, *areas)
    assert dot([0.5, 0.25], [2.0, 4.0]) == time.value


def test_operations_on_floats_give_floats() -> None:
    assert at_least(2.0, 3.0) == 3.0
    assert at_most(2.0, 3.0) == 2.0
    assert where(0.0, 1.0, 2.0) == 2.0
    assert total([1.0, 2.0], 0.0) == 3.0
    assert ln(1.0) == 0.0
    assert power_sum(1.0, 3.0, 2.0) == 14.0
    assert (less(1.0, 1.0), less_or_equal(1.0, 1.0), equal(1.0, 1.0)) == (0.0, 1.0, 1.0)
    assert (both(1.0, 1.0), absolute(-2.0)) == (1.0, 2.0)


def test_an_unnamed_result_takes_a_name_without_a_node_of_its_own() -> None:
    named = (MASS / AREA).named("load", "load on the area")
    assert (named.op, named.key, named.label) == ("div", "load", "load on the area")


@pytest.mark.parametrize(
    "known", [MASS, (MASS * 2).named("double", "double"), an_input("450 g/m2")]
)
def test_what_has_a_name_or_stands_in_the_catalogue_gets_an_alias(known: Figure) -> None:
    alias = known.named("again", "the same again")
    assert (alias.op, alias.args, alias.value, alias.unit) == (
        "ref",
        (known,),
        known.value,
        known.unit,
    )
    assert (alias.key, alias.label) == ("again", "the same again")


def test_an_alias_keeps_reading_as_a_percentage() -> None:
    loss = an_input("8 %", "loss")
    assert loss.form == "percent"
    assert loss.named("other", "other").form == "percent"
    assert (1 - loss).named("kept", "kept", "percent").form == "percent"


def test_an_input_is_as_written_and_works_in_base_units() -> None:
    working = an_input("450 g/m2", "mat.weight")
    assert (working.value, str(working.unit), working.key) == (0.45, "kg/m2", "mat.weight.working")
    as_written = written(working)
    assert (as_written.value, str(as_written.unit)) == (450.0, "g/m2")
    assert as_written.origin is not None
    assert as_written.origin.text == "450 g/m2"
    assert str(as_written.origin.place) == "parts.yaml:7"


def test_an_input_in_base_units_is_its_own_working_figure() -> None:
    assert an_input("1.2 kg").op == "input"


@pytest.mark.parametrize(
    ("metres", "shown", "expected"),
    [("26 ft", "ft", 26.0), ("720 mm", "mm", 720.0), ("1 m", "in", 1 / 0.0254), ("2 m", "m", 2.0)],
)
def test_a_figure_can_be_shown_in_a_unit_people_read(
    metres: str, shown: str, expected: float
) -> None:
    figure = an_input(metres).shown_in(shown)
    assert figure.value == pytest.approx(expected, rel=1e-12)
    assert figure.unit == unit(shown)


def test_a_figure_of_a_large_graph_prints_on_one_line() -> None:
    figure = constant(1.0)
    for _ in range(200):
        figure = figure + figure
    assert repr(figure).startswith("Figure(value=")
    assert len(repr(figure)) < 200
