"""Figures over others: the same formulas, resting on given numbers."""

from __future__ import annotations

from quoter.figures import Figure, constant, stated
from quoter.figures.graph import Cut, evaluate, in_order


def entry(value: float, key: str) -> Figure:
    return Figure(value, op="input", key=key, label=key)


def test_what_rests_on_a_cut_figure_rests_on_the_other() -> None:
    wage, hours, share = entry(20.0, "wage"), entry(3.0, "hours"), entry(0.3, "share")
    cost = (wage * hours).named("cost", "cost")
    price = (cost / (1 - share)).named("price", "price")
    given = stated(cost, "given", "cost as it is")
    cut = Cut({cost: given})
    alone = cut.of(price)
    assert (alone.value, alone.key, alone.label) == (price.value, "price", "price")
    assert {wage, hours, cost}.isdisjoint(in_order([alone]))
    assert {given, share} <= set(in_order([alone]))
    assert evaluate([alone], {share: 0.5, given: 80.0}) == [160.0]
    assert evaluate([price], {share: 0.5, cost: 80.0}) == [160.0]


def test_what_rests_on_none_stays_itself_and_what_is_asked_twice_is_one() -> None:
    a, b = entry(2.0, "a"), entry(5.0, "b")
    both, other = a + b, b * 2
    cut = Cut({a: constant(2.0)})
    assert cut.of(other) is other
    assert cut.of(both) is cut.of(both)
    assert cut.of(both) is not both
    assert cut.of(both * other).args == (cut.of(both), other)


def test_a_figure_put_later_stands_in_from_then_on() -> None:
    a = entry(2.0, "a")
    cut, alias = Cut({}), a.named("alias", "alias")
    cut.put(a, alias)
    assert (cut.of(a + 1).args[0], cut.of(a)) == (alias, alias)


def test_a_long_chain_is_cut_without_exhausting_the_stack() -> None:
    start = entry(1.0, "start")
    figure = start
    for _ in range(5000):
        figure = figure + 1
    other = entry(11.0, "other")
    assert evaluate([Cut({start: other}).of(figure)]) == [5011.0]
