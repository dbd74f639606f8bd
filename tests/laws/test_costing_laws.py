"""Laws of the roll-up and the price, tried on the demo with other inputs in place of its own."""

from __future__ import annotations

import math
from functools import cache
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.figures import Figure
from quoter.figures.graph import evaluate, gradient, inputs_of
from quoter.pricing.price import Priced
from tests.demo import demo
from tests.figures.made import written
from tests.laws.closeness import CLOSE, same

EXAMPLES = settings(max_examples=25, deadline=None, derandomize=True, database=None)
MODEL = "weekender_86"
factors = st.floats(1.0, 4.0)
fractions = st.floats(0.0, 1.0)


@cache
def sold() -> tuple[Priced, ...]:
    """The boat and its options; a credit takes off what it deletes, so those go by laws apart."""
    model = demo().models[MODEL]
    options = [
        o for o in model.options.values() if not any(u.credit for u in o.assembly.recipe.uses)
    ]
    return (model.boat, *options)


@cache
def costs() -> tuple[Figure, ...]:
    return tuple(item.assembly.cost for item in sold())


@cache
def prices() -> tuple[Figure, ...]:
    """What the suppliers ask, as they write it."""
    used = set(inputs_of(costs()))
    rows = demo().catalogue.prices.values()
    return tuple(price for price in (written(row.price) for row in rows) if price in used)


@cache
def yields() -> tuple[Figure, ...]:
    """The fractions that operations pass."""
    used = set(inputs_of(costs()))
    parts = demo().catalogue.records.parts.values()
    passes = [operation.passes for part in parts for operation in part.operations]
    found = [written(passed) for passed in passes if passed is not None]
    return tuple(passed for passed in dict.fromkeys(found) if passed in used)


def no_dearer(before: Figure, after: float) -> bool:
    return after <= before.value + CLOSE * abs(before.value)


def test_there_is_something_to_try() -> None:
    assert len(sold()) > 10
    assert len(prices()) > 25
    assert len(yields()) > 5


@EXAMPLES
@given(st.data())
def test_dearer_material(data: st.DataObject) -> None:
    """A dearer material never makes a cheaper boat or option."""
    price = data.draw(st.sampled_from(prices()))
    after = evaluate(costs(), {price: price.value * data.draw(factors)})
    for before, cost in zip(costs(), after, strict=True):
        assert cost >= before.value - CLOSE * before.value


@EXAMPLES
@given(st.lists(factors, min_size=40, max_size=40))
def test_dearer_materials_together(raised: list[float]) -> None:
    """Nor do several dearer materials at once."""
    replaced = {price: price.value * by for price, by in zip(prices(), raised, strict=False)}
    for before, cost in zip(costs(), evaluate(costs(), replaced), strict=True):
        assert cost >= before.value - CLOSE * before.value


@EXAMPLES
@given(st.data())
def test_more_yield(data: st.DataObject) -> None:
    """More yield never costs more, whichever operation scraps less."""
    passed = data.draw(st.sampled_from(yields()))
    better = passed.value + data.draw(fractions) * (1 - passed.value)
    after = evaluate(costs(), {passed: better})
    assert all(no_dearer(before, cost) for before, cost in zip(costs(), after, strict=True))


def test_no_scrap_at_all_loses_nothing() -> None:
    """Where everything passes, the yield elements are nought and no hours are lost."""
    perfect = dict.fromkeys(yields(), 1.0)
    for item in sold():
        made = item.assembly
        lost = [f for e, f in made.elements.items() if e.startswith("yield")]
        for value in evaluate([*lost, made.yield_hours], perfect):
            assert value == pytest.approx(0.0, abs=1e-9)


@EXAMPLES
@given(st.floats(0.1, 10.0))
def test_prices_in_proportion(factor: float) -> None:
    """Doubling every price doubles the material of every option, credits included."""
    options = demo().models[MODEL].options.values()
    elements = [
        figure
        for option in options
        for element, figure in option.assembly.elements.items()
        if element.startswith("material.")
    ]
    rows = demo().catalogue.prices.values()
    asked = [written(row.price) for row in rows]
    after = evaluate(elements, {price: price.value * factor for price in asked})
    for before, value in zip(elements, after, strict=True):
        assert same(value, before.value * factor)


@EXAMPLES
@given(st.data())
def test_elements_still_add_up(data: st.DataObject) -> None:
    """Whatever the inputs, cost is the sum of the elements and hours that of the stations."""
    entries = inputs_of(costs())
    chosen = data.draw(st.lists(st.sampled_from(entries), min_size=1, max_size=8, unique=True))
    replaced = {entry: entry.value * data.draw(st.floats(0.8, 0.99)) for entry in chosen}
    for item in sold():
        made = item.assembly
        cost, *elements = evaluate([made.cost, *made.elements.values()], replaced)
        assert same(cost, sum(elements))
        others = [made.yield_hours, made.rework_hours]
        hours, *stations = evaluate([made.all_hours, *made.hours.values(), *others], replaced)
        assert same(hours, sum(stations))


@EXAMPLES
@given(st.integers(0, 2**32), st.integers(0, 10))
def test_bridge_of_sensitivities(seed: int, which: int) -> None:
    """For a small step, the sum of slope times move is what re-evaluation gives."""
    cost, size = costs()[which], 1e-7
    slopes = gradient(cost)
    counts = {"first", "last"}  # whole units of a learning curve: no small step
    moves = Random(seed)
    steps = {
        entry: entry.value * size * moves.uniform(-1.0, 1.0)
        for entry in slopes
        if entry.key.rpartition(".")[2] not in counts
    }
    predicted = sum(slopes[entry] * step for entry, step in steps.items())
    after = evaluate([cost], {entry: entry.value + step for entry, step in steps.items()})[0]
    # Of the second order in the step, and the last digits of the cost itself.
    assert math.isclose(after - cost.value, predicted, abs_tol=cost.value * 1e-11)


@EXAMPLES
@given(
    target=st.floats(0.0, 0.6),
    discount=st.floats(0.0, 0.5),
    step=st.floats(0.5, 500.0),
    raised=st.floats(0.2, 5.0),
)
def test_recommended_price(target: float, discount: float, step: float, raised: float) -> None:
    """Rounded up, a recommended price leaves the target, and so the floor that is no higher."""
    policy = demo().catalogue.yard.policy
    first = demo().terms.buyers[0]
    replaced = {
        written(policy.target_margin): target,
        written(first.discount): discount,
        written(policy.rounding.step): step,
        **{price: price.value * raised for price in prices()},
    }
    for item in sold():
        price, cost, provisions = evaluate(
            [item.recommended, item.assembly.cost, demo().terms.provisions], replaced
        )
        net = price * (1 - discount)
        assert net * (1 - provisions) - cost >= target * net - 1e-6
        assert price / step == pytest.approx(round(price / step), abs=1e-6)
