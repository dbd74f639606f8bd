"""Laws of labour, learning, tooling, yield, overhead and purchasing."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.engineering import calendar, labour, learning, overhead, purchasing, tooling, yields
from tests.laws.closeness import same

hours = st.floats(0.01, 500.0)
money = st.floats(0.01, 1e6)
slopes = st.floats(0.55, 0.99)
units = st.integers(1, 400).map(float)
passes = st.floats(0.5, 1.0)
routes = st.lists(passes, min_size=1, max_size=10)


@given(hours, st.lists(st.tuples(hours, st.floats(0.0, 50.0)), max_size=6))
def test_drivers(fixed: float, pairs: list[tuple[float, float]]) -> None:
    """Run time never falls below the fixed time, and no driver means the fixed time."""
    rates, drivers = [rate for rate, _ in pairs], [driver for _, driver in pairs]
    assert labour.run_time(fixed, rates, drivers) >= fixed
    assert labour.run_time(fixed, rates, [0.0] * len(pairs)) == fixed


@pytest.mark.parametrize(("rates", "drivers"), [([0.1], []), ([], [2.0]), ([0.1, 0.2], [2.0])])
def test_lists_of_two_lengths(rates: list[float], drivers: list[float]) -> None:
    """A rate without its driver, or a driver without its rate, is refused."""
    with pytest.raises(ValueError, match="dot needs two lists of one length"):
        labour.run_time(1.0, rates, drivers)


@given(hours, st.integers(1, 200).map(float))
def test_setup(setup: float, batch: float) -> None:
    """The units of a batch together bear its set-up."""
    assert same(labour.setup_per_unit(setup, batch) * batch, setup)


@given(hours, st.floats(0.0, 0.5))
def test_allowance(normal: float, allowance: float) -> None:
    """An allowance on the shift never gives less than the same figure on work."""
    on_work = labour.standard_on_work(normal, allowance)
    on_shift = labour.standard_on_shift(normal, allowance)
    assert normal <= on_work <= on_shift * (1 + 1e-15)
    assert same(labour.standard_on_work(normal, allowance / (1 - allowance)), on_shift)


@given(hours, st.floats(0.4, 1.2), st.floats(10.0, 60.0), st.floats(0.0, 1.0))
def test_labour_cost(expected: float, efficiency: float, wage: float, on_costs: float) -> None:
    """Halving the efficiency doubles the cost of the same work."""
    rate = labour.labour_rate(wage, on_costs)
    assert rate >= wage
    cost = labour.labour_cost(labour.paid_hours(expected, efficiency), rate)
    assert same(labour.labour_cost(labour.paid_hours(expected, efficiency / 2), rate), 2 * cost)


@given(hours, st.integers(1, 6).map(float))
def test_crew(time: float, crew: float) -> None:
    """A crew's hours are those of its people."""
    assert same(labour.crew_hours(time, crew), sum([time] * int(crew)))


@given(hours, slopes, units)
def test_doubling(first: float, slope: float, unit: float) -> None:
    """A doubling takes the slope: of the unit's time in one model, of the average in the other."""
    b = learning.learning_exponent(slope)
    assert -1 < b < 0
    once, twice = (learning.unit_lot_average(first, n, n, b) for n in (unit, 2 * unit))
    assert same(twice, slope * once)
    once, twice = (learning.cumulative_lot_average(first, 1.0, n, b) for n in (unit, 2 * unit))
    assert same(twice, slope * once)


@given(hours, slopes, units)
def test_reference(first: float, slope: float, unit: float) -> None:
    """A standard set at a later unit gives that unit its own time back."""
    b = learning.learning_exponent(slope)
    own = learning.unit_lot_average(first, unit, unit, b)
    assert same(learning.first_unit_time(own, unit, b), first)


@given(hours, slopes, units)
def test_models_differ(first: float, slope: float, more: float) -> None:
    """Of one slope and first unit, Wright's total is the smaller from the second unit on."""
    b, last = learning.learning_exponent(slope), more + 1
    crawford = learning.unit_lot_average(first, 1.0, last, b) * last
    assert learning.cumulative_total_time(first, last, b) < crawford
    alone = learning.unit_lot_average(first, 1.0, 1.0, b)
    assert same(learning.cumulative_lot_average(first, 1.0, 1.0, b), alone)
    assert same(alone, first)


@given(hours, slopes, units, units)
def test_lots(first: float, slope: float, one: float, two: float) -> None:
    """Cutting a run into two lots neither adds nor loses an hour, in either model."""
    b, last = learning.learning_exponent(slope), one + two
    for average in (learning.unit_lot_average, learning.cumulative_lot_average):
        whole = average(first, 1.0, last, b) * last
        parts = average(first, 1.0, one, b) * one + average(first, one + 1, last, b) * two
        assert same(whole, parts)
    assert same(
        learning.cumulative_lot_average(first, 1.0, last, b) * last,
        learning.cumulative_total_time(first, last, b),
    )


@given(hours, slopes, units)
def test_lot_of_one(first: float, slope: float, unit: float) -> None:
    """A lot of one unit takes that unit's time; later ones never take longer."""
    b = learning.learning_exponent(slope)
    assert same(learning.unit_lot_average(first, unit, unit, b), first * unit**b)
    for average in (learning.unit_lot_average, learning.cumulative_lot_average):
        times = [average(first, n, n, b) for n in (unit, unit + 1, unit + 2)]
        assert all(later < earlier for earlier, later in pairwise(times))


@given(hours, units, units)
def test_no_learning(time: float, one: float, two: float) -> None:
    """At a slope of one every unit takes the first one's time."""
    b, start, end = learning.learning_exponent(1.0), min(one, two), max(one, two)
    assert same(learning.unit_lot_average(time, start, end, b), time)
    assert same(learning.cumulative_lot_average(time, start, end, b), time)


@given(st.floats(1.0, 2000.0), st.floats(1.0, 500.0), st.floats(1.0, 10.0))
def test_write_off(life: float, yearly: float, years: float) -> None:
    """A mould's cost is spread over no more pulls than it lasts or than are planned."""
    pulls = tooling.pulls_to_write_off(life, yearly, years)
    assert pulls in (life, yearly * years)
    assert pulls <= min(life, yearly * years)


@given(money, money, st.floats(0.0, 1.0), st.floats(1.0, 2000.0), st.floats(0.0, 100.0))
def test_pulls(cost: float, repairs: float, rest: float, pulls: float, upkeep: float) -> None:
    """All pulls together pay for mould and refurbishments less salvage, and for their upkeep."""
    each = tooling.cost_per_pull(cost, repairs, rest * cost, pulls, upkeep)
    assert same(each * pulls, cost * (1 - rest) + repairs + pulls * upkeep)


@given(st.integers(1, 3000).map(float), st.floats(1.0, 500.0))
def test_sets(demand: float, pulls: float) -> None:
    """The sets needed meet the demand, and one fewer would not."""
    sets = tooling.sets_needed(demand, pulls)
    assert sets == int(sets)
    assert (sets - 1) * pulls < demand <= sets * pulls * (1 + 1e-8)


@given(st.floats(20.0, 52.0), st.floats(0.5, 400.0), st.floats(0.3, 1.0))
def test_occupation(weeks: float, taken: float, availability: float) -> None:
    """The pulls of a year never keep the mould longer than the year has hours."""
    pulls = tooling.pulls_per_year(weeks, 168.0, taken, availability)
    assert pulls * taken <= weeks * 168.0 * (1 + 1e-12)


shifts = st.floats(1.0, 24.0)
workdays = st.integers(1, 7).map(float)


@given(st.floats(0.0, 2000.0), st.floats(0.01, 100.0), shifts, workdays)
def test_work_waits_for_shifts(time: float, work: float, shift: float, days: float) -> None:
    """Until work is done so many hours are worked, and no fewer hours go by; inverse of each
    other are the hours worked until a time and the time at which so many are worked."""
    end = calendar.after_work(time, work, shift, days, 24.0)
    worked = [calendar.hours_worked(when, shift, days, 24.0) for when in (time, end)]
    assert abs(worked[1] - worked[0] - work) < 1e-6
    assert end - time >= work - 1e-6
    assert abs(calendar.time_worked(worked[1], shift, days, 24.0) - end) < 1e-6


@given(st.floats(0.0, 2000.0), st.floats(0.0, 100.0))
def test_work_round_the_clock(time: float, work: float) -> None:
    """Where shifts never end, work takes its own hours."""
    assert abs(calendar.after_work(time, work, 24.0, 7.0, 24.0) - time - work) < 1e-6


@given(routes, money)
def test_yield(route: list[float], cost: float) -> None:
    """A route passes no more than its worst operation, and more yield never costs more."""
    passed = yields.rolled_yield(route)
    assert passed <= min(route)
    assert yields.per_good_unit(cost, passed) >= cost
    better = [min(1.0, one * 1.05) for one in route]
    assert yields.per_good_unit(cost, yields.rolled_yield(better)) <= yields.per_good_unit(
        cost, passed
    )


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), hours)
def test_rework(one: float, other: float, time: float) -> None:
    """Rework found at two checks bears the time of both."""
    both = yields.rework_time(one + other, time)
    apart = yields.rework_time(one, time) + yields.rework_time(other, time)
    assert math.isclose(both, apart, rel_tol=1e-12, abs_tol=1e-12)


@given(money, st.floats(1.0, 1e5), st.lists(st.floats(0.0, 1.0), min_size=1, max_size=6))
def test_absorption(budget: float, capacity: float, jobs: list[float]) -> None:
    """A station busy to its capacity absorbs its budget; idle capacity is what is left over."""
    rate = overhead.overhead_rate(budget, capacity)
    used = [capacity * job / len(jobs) for job in jobs]
    absorbed = sum(overhead.overhead_cost(rate, base) for base in used)
    idle = overhead.overhead_cost(rate, capacity - sum(used))
    assert math.isclose(
        overhead.under_absorbed(budget, absorbed), idle, rel_tol=1e-9, abs_tol=budget * 1e-12
    )


@given(money, st.floats(0.2, 5.0), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_landed(price: float, rate: float, freight: float, duty: float) -> None:
    """Landing never makes a price cheaper; duty is due on the freight too."""
    landed = purchasing.landed_price(price, rate, freight, duty)
    exchanged = price / rate
    assert landed >= exchanged * (1 - 1e-12)
    on_both = exchanged + exchanged * freight + duty * (exchanged + exchanged * freight)
    assert same(landed, on_both)


@given(money, money, st.floats(0.0, 0.3))
def test_handling(one: float, other: float, fraction: float) -> None:
    """Handling of two materials is that of both together."""
    apart = purchasing.handling_cost(one, fraction) + purchasing.handling_cost(other, fraction)
    assert same(purchasing.handling_cost(one + other, fraction), apart)


@given(st.floats(0.01, 1000.0), st.floats(0.01, 500.0), st.floats(1.0, 3.0))
def test_dearer_material(issued: float, price: float, factor: float) -> None:
    """Dearer material never costs less, and a price that rises by a factor takes the cost along."""
    cost = purchasing.material_cost(issued, price)
    assert purchasing.material_cost(issued, price * factor) >= cost
    assert same(purchasing.material_cost(issued, price * factor), cost * factor)
