"""Pulls a year against a day-by-day simulation of shifts, for every mould of the demonstration.

The simulation is code of its own: it walks from day to day, lets people work while a shift lasts
and a cure run until its hour, and counts pulls. It shares no formula with the program.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.analysis.plan import plan_of
from quoter.costing.occupation import pull_to_pull, stints_of
from quoter.engineering.calendar import after_work, hours_worked, time_worked, working_day
from quoter.engineering.tooling import pulls_displaced, pulls_per_year
from quoter.pricing.price import Pricing
from tests.checks import table
from tests.checks.table import Check

DEFINITION = "definition, by hand"
SOON = 1e-9  # hours
SHIFT = ("8 h", "5", "24 h")

CHECKS = (
    # Tuesday three hours into the shift; Saturday; Monday of the second week an hour into it.
    Check((hours_worked, "27 h", *SHIFT), "11 h", DEFINITION, "derived", exact=True),
    Check((hours_worked, "130 h", *SHIFT), "40 h", DEFINITION, "derived", exact=True),
    Check((hours_worked, "169 h", *SHIFT), "41 h", DEFINITION, "derived", exact=True),
    Check((time_worked, "11 h", *SHIFT), "27 h", DEFINITION, "derived", exact=True),
    Check((time_worked, "40 h", *SHIFT), "104 h", DEFINITION, "derived", exact=True),
    Check((time_worked, "41 h", *SHIFT), "169 h", DEFINITION, "derived", exact=True),
    # Begun two hours before the shift ends, in the night, and on Friday before the weekend.
    Check((after_work, "6 h", "3 h", *SHIFT), "25 h", DEFINITION, "derived", exact=True),
    Check((after_work, "20 h", "3 h", *SHIFT), "27 h", DEFINITION, "derived", exact=True),
    Check((after_work, "102 h", "3 h", *SHIFT), "169 h", DEFINITION, "derived", exact=True),
    Check((after_work, "20 h", "0 h", *SHIFT), "20 h", DEFINITION, "derived", exact=True),
    Check((after_work, "5 h", "20 h", "16 h", "7", "24 h"), "33 h", DEFINITION, "derived", True),
    # An hour before the shift ends, at its end, and on the third day.
    Check((working_day, "7 h", "8 h"), "1", DEFINITION, "derived", exact=True),
    Check((working_day, "8 h", "8 h"), "2", DEFINITION, "derived", exact=True),
    Check((working_day, "33 h", "16 h"), "3", DEFINITION, "derived", exact=True),
    Check(
        (pulls_displaced, "30 pcs", "42 h/pcs", "84 h/pull"),
        "15 pulls",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check(
        (pulls_per_year, "46", "168 h", "84 h/pull", "85 %"), "78.2 pulls", DEFINITION, "derived"
    ),
)


@table.each(CHECKS)
def test_calendar(check: Check) -> None:
    table.verify(check)


def simulated(
    stints: Sequence[tuple[float, float]], weeks: int, shift: float = 8.0, days: int = 5
) -> int:
    """Pulls that are out of one mould when the last of the weeks ends, day by day."""
    pulls, at, left, free_from = 0, 0, stints[0][0], 0.0
    for day in range(weeks * 7):
        if day % 7 >= days:
            continue
        now, evening = 24.0 * day, 24.0 * day + shift
        while (now := max(now, free_from)) < evening - SOON:
            done = min(left, evening - now)
            now, left = now + done, left - done
            if left > SOON:
                break
            free_from = now + stints[at][1]
            at += 1
            if at == len(stints):
                at = 0
                pulls += free_from <= weeks * 7 * 24 + SOON
            left = stints[at][0]
    return pulls


def by_the_minute(stints: Sequence[tuple[int, int]], weeks: int) -> int:
    """The same of an 8-hour shift on five days, minute by minute, of stints in whole minutes."""
    pulls, at, left, free_from = 0, 0, stints[0][0], 0
    for minute in range(weeks * 7 * 24 * 60):
        in_shift = minute // 1440 % 7 < 5 and minute % 1440 < 480
        if not in_shift or minute < free_from:
            continue
        left -= 1
        if left == 0:
            free_from = minute + 1 + stints[at][1]
            at = (at + 1) % len(stints)
            pulls += at == 0 and free_from <= weeks * 7 * 24 * 60
            left = stints[at][0]
    return pulls


def test_the_simulation_counts_what_a_person_counts() -> None:
    """An hour's work and a night of cure: five a week. Six hours and 30 of cure: Monday to
    Wednesday morning, to Friday morning, to Monday. Two hours, four of cure: two on a day whose
    second one cures into the evening, in which nobody begins a third."""
    for pull, a_week in (((1, 14), 5), ((6, 30), 3), ((2, 4), 10)):
        assert simulated([pull], 10) == 10 * a_week
        assert by_the_minute([(pull[0] * 60, pull[1] * 60)], 10) == 10 * a_week
        assert pull_to_pull((pull,), 8.0, 5.0) == pytest.approx(168 / a_week)


def test_a_mould_of_45_hours_gives_two_pulls_a_week() -> None:
    """Most of it cures at night. Hours of shifts by hours of cure gave 34.7 pulls a year of 1,840
    hours at 85 %; begun on Monday it is out on Wednesday, and the second one over the weekend."""
    stints = ((2.3, 3.0), (0.8, 12.0), (3.0, 24.0))
    assert simulated(stints, 46) == 46 * 2
    clock = pull_to_pull(stints, 8.0, 5.0)
    assert pulls_per_year(46.0, 168.0, clock, 0.85) == pytest.approx(46 * 2 * 0.85)
    assert round(1840 / 45.1 * 0.85, 1) == 34.7


def test_every_mould_of_the_demonstration_gives_what_the_simulation_counts(
    demo_pricing: Pricing,
) -> None:
    """Each part alone in its mould in a year of 47 weeks: to the one pull still under way."""
    tried = 0
    for part in demo_pricing.costing.parts.values():
        if part.tooling:
            stints = tuple((s.work.value, s.cure.value) for s in stints_of(part))
            counted = simulated(stints, 47)
            by_formula = pulls_per_year(47.0, 168.0, pull_to_pull(stints, 8.0, 5.0), 1.0)
            assert abs(counted - by_formula) <= 1 + SOON, part.name
            tried += 1
    assert tried >= 20


def test_the_plan_of_the_demonstration_uses_it_throughout(demo_pricing: Pricing) -> None:
    """A mould of one part gives the open weeks' pulls, 85 % of them; its sets follow, and its cost
    is spread over no more pulls than its sets give."""
    plan = plan_of(demo_pricing)
    assert plan.moulds
    for load in plan.moulds:
        assert load.clock is not None
        assert load.capacity is not None
        assert load.sets is not None
        assert load.capacity.value == pytest.approx(47 * 168 / load.clock.value * 0.85)
        assert (load.sets.value - 1) * load.capacity.value < load.pulls.value
        assert load.pulls.value <= load.sets.value * load.capacity.value
        assert load.planned.value <= load.sets.value * load.capacity.value
    (single,) = (load for load in plan.moulds if load.mould.id == "return_single")
    assert single.work.value + single.cure.value == pytest.approx(45.1, abs=0.05)
    assert single.capacity is not None
    assert single.capacity.value == pytest.approx(47 * 2 * 0.85)


work = st.one_of(st.floats(0.05, 4.0), st.floats(0.05, 20.0))
cure = st.one_of(st.just(0.0), st.floats(0.1, 8.0), st.floats(0.1, 60.0))
sequences = st.lists(st.tuples(work, cure), min_size=1, max_size=4)


@settings(deadline=None)
@given(sequences, st.integers(20, 52), st.sampled_from((6.0, 7.5, 8.0, 16.0)), st.integers(3, 7))
def test_any_pull_agrees_to_the_one_under_way(
    stints: list[tuple[float, float]], weeks: int, shift: float, days: int
) -> None:
    counted = simulated(stints, weeks, shift, days)
    clock = pull_to_pull(tuple(stints), shift, float(days))
    assert abs(counted - pulls_per_year(float(weeks), 168.0, clock, 1.0)) <= 1 + 1e-6


@settings(max_examples=5, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 600), st.integers(0, 3000)), min_size=1, max_size=3))
def test_minute_by_minute_it_is_the_same(stints: list[tuple[int, int]]) -> None:
    clock = pull_to_pull(tuple((work / 60, cure / 60) for work, cure in stints), 8.0, 5.0)
    assert abs(by_the_minute(stints, 46) - 46 * 168 / clock) <= 1 + 1e-6
