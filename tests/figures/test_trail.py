"""The explanation of a figure: named steps down to the catalogue, formulas in words."""

from __future__ import annotations

import pytest

from quoter.figures import (
    Figure,
    at_least,
    at_most,
    constant,
    dot,
    ln,
    power_sum,
    round_to,
    total,
    where,
)
from quoter.figures.ops import absolute, both, equal, less, less_or_equal
from quoter.figures.trail import Step, explain, expression, named_parts
from tests.demo import demo
from tests.figures.made import an_input

AREA, GLASS = an_input("1.5 m2", "area", "area"), an_input("0.45 kg/m2", "glass", "glass weight")
LOSS, COUNT = an_input("8 %", "loss", "loss"), an_input("3", "count", "count")

WORDS = [
    (AREA * GLASS, "area × glass weight"),
    (AREA * GLASS / (1 - LOSS), "(area × glass weight) ÷ (1 - loss)"),
    ((AREA * GLASS) * 2, "(area × glass weight) × 2"),
    (AREA * constant(2.0, "kg/m2"), "area × 2 kg/m2"),
    (COUNT**2, "count ^ 2"),
    (-AREA, "-area"),
    ((LOSS + COUNT) * (LOSS - COUNT), "(loss + count) × (loss - count)"),
    (total([LOSS, COUNT, COUNT], LOSS), "loss + count + count"),
    (dot([LOSS, COUNT], [COUNT, LOSS]), "loss × count + count × loss"),
    (at_least(LOSS, COUNT), "larger of (loss, count)"),
    (at_most(LOSS, COUNT), "smaller of (loss, count)"),
    (absolute(LOSS - COUNT), "magnitude of (loss - count)"),
    (ln(COUNT), "ln (count)"),
    (power_sum(COUNT, COUNT, LOSS), "sum of powers of (count, count, loss)"),
    (round_to(COUNT, constant(2.0)), "nearest whole of (count ÷ 2) × 2"),
    (where(less(LOSS, COUNT), LOSS, COUNT), "loss if loss < count, else count"),
    (less_or_equal(LOSS, COUNT), "loss ≤ count"),
    (equal(LOSS, COUNT), "loss = count"),
    (both(less(LOSS, 1.0), less(COUNT, 9.0)), "(loss < 1) and (count < 9)"),
    (LOSS.named("alias", "other name"), "loss"),
    (AREA, ""),
    (constant(2.0), ""),
]


@pytest.mark.parametrize(("figure", "words"), WORDS, ids=[words or "-" for _, words in WORDS])
def test_an_expression_reads_like_the_formula(figure: Figure, words: str) -> None:
    assert expression(figure) == words


def test_an_expression_stops_at_named_figures() -> None:
    net = (AREA * GLASS).named("net", "glass net")
    issued = (net / (1 - LOSS)).named("issued", "glass issued")
    assert expression(issued) == "glass net ÷ (1 - loss)"
    assert named_parts(issued) == [net, LOSS]


def test_an_explanation_goes_down_to_the_inputs() -> None:
    net = (AREA * GLASS).named("net", "glass net")
    issued = (net / (1 - LOSS)).named("issued", "glass issued")
    tree = explain(issued)
    assert tree.figure is issued
    assert [step.figure for step in tree.steps] == [net, LOSS]
    assert [step.figure for step in tree.steps[0].steps] == [AREA, GLASS]
    assert all(not step.steps and step.expression == "" for step in tree.steps[0].steps)


def test_a_figure_met_again_is_not_explained_twice() -> None:
    net = (AREA * GLASS).named("net", "glass net")
    once, twice = (net * 2).named("once", "once"), (net * 3).named("twice", "twice")
    tree = explain(total([once, twice], once).named("all", "all"))
    first, second = (step.steps[0] for step in tree.steps)
    assert (first.figure, first.again, bool(first.steps)) == (net, False, True)
    assert (second.figure, second.again, second.steps) == (net, True, ())


def test_an_input_met_again_is_told_again_since_it_is_a_single_line() -> None:
    a, b = (LOSS * 2).named("a", "a"), (LOSS * 3).named("b", "b")
    tree = explain((a + b).named("c", "c"))
    assert [step.steps[0].again for step in tree.steps] == [False, False]


def test_depth_limits_the_levels_below() -> None:
    net = (AREA * GLASS).named("net", "glass net")
    tree = explain((net * 2).named("double", "double"), depth=1)
    assert [step.figure for step in tree.steps] == [net]
    assert tree.steps[0].steps == ()


def test_shared_unnamed_steps_are_visited_once() -> None:
    """A figure squared fifty times over has 2^50 roads to its input."""
    figure: Figure = COUNT * 1e-9
    for _ in range(50):
        figure = figure * figure
    assert named_parts(figure) == [COUNT]


def test_a_long_unnamed_chain_does_not_exhaust_the_stack() -> None:
    figure: Figure = COUNT
    for _ in range(3000):
        figure = figure + 1
    assert expression(figure) == "(" * 2999 + "count + 1" + ") + 1" * 2999


def leaves(step: Step) -> list[Figure]:
    if not step.steps:
        return [] if step.again else [step.figure]
    return [leaf for inner in step.steps for leaf in leaves(inner)]


def test_every_road_of_a_demo_price_ends_at_a_catalogue_line() -> None:
    priced = demo().models["weekender_86"].options["side_single"]
    ends = leaves(explain(priced.recommended))
    assert len(ends) > 100
    for figure in ends:
        assert figure.origin is not None, f"{figure.key} comes from nowhere"
        assert figure.origin.place.line > 0
    files = {figure.origin.place.file for figure in ends if figure.origin}
    assert {"materials.yaml", "stations.yaml", "wages.csv", "exchange.csv", "yard.yaml"} <= files
    assert any(name.startswith("prices/") for name in files)
