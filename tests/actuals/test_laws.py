"""What always holds of actual against standard, on random jobs and rows booked at random levels.

It holds of rows that the checks of the tables would refuse, too, such as those outside their job.
"""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals, Compared
from quoter.costing.assembly import in_building_order
from quoter.costing.draws import Draw, draws_of
from quoter.figures import constant
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from tests.actuals.by_chance import (
    CHOICES,
    DAY,
    STATIONS,
    Tables,
    booked_by_chance,
    held,
    yard_of_chance,
)
from tests.actuals.cases import booked_in, priced_on

CLOSE = 1e-9  # relative


@pytest.fixture(scope="session")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return yard_of_chance(tmp_path_factory.mktemp("laws") / "c")


def scale(compared: Compared) -> float:
    return max(1.0, abs(compared.actual.value), abs(compared.standard.value))


@given(seed=st.integers(0, 2**32))
@settings(max_examples=50, deadline=None)
def test_variances_add_up_to_actual_less_standard(yard: Path, seed: int) -> None:
    actuals = held(yard, booked_by_chance(seed))
    for one in actuals.compared:
        lines = sum(line.amount.value for line in one.lines)
        difference = one.actual.value - one.standard.value
        assert abs(lines - difference) <= CLOSE * scale(one), one.scope
    every = sum(one.actual.value - one.standard.value for one in actuals.compared)
    size = sum(map(scale, actuals.compared))
    assert abs(sum(line.amount.value for line in actuals.lines) - every) <= CLOSE * max(1.0, size)


@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_no_hour_is_lost_or_compared_twice(yard: Path, seed: int) -> None:
    """All hours that were booked on a station are compared, whatever level they are booked at."""
    tables = booked_by_chance(seed)
    pricing = priced_on(yard, DAY)
    booked = booked_in(pricing, yard, tables.rows, sound=False)
    actuals = compare(pricing, booked)
    compared = [one for one in actuals.compared if one.scope.resource.startswith("labour.")]
    places = Counter(place for one in compared for place in one.rows)
    began = {str(row.job) for row in booked.jobs if row.started <= DAY}
    expected = {
        row.place
        for row in booked.hours
        if row.date <= DAY and (row.job is None or str(row.job) in began)
    }
    assert set(places) == expected
    assert set(places.values()) <= {1}


def drawn(pricing: Pricing, model: str, chosen: tuple[str, ...]) -> dict[str, float]:
    """Hours of one boat by station, as the plan of a year draws on them."""
    priced = pricing.models[model]
    ids = [*chosen, *map(str, priced.model.standard)]
    boat = built(pricing, priced, dict.fromkeys(chosen, 1))
    bare = next(m.assembly for m in reversed(in_building_order(boat.whole)))
    stated = {str(station): hours.value for station, hours in bare.recipe.stated.hours.items()}
    for id in ids:
        draws = draws_of(priced.options[id].assembly, {})
        for station in STATIONS:
            amount = draws.get(Draw("hours", station), constant(0.0, "h")).value
            stated[station] = stated.get(station, 0.0) + amount
    return stated


@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_standards_compared_and_unbooked_are_all_that_finished_jobs_should_have_taken(
    yard: Path, seed: int
) -> None:
    """Each hour of a standard is held against rows once, or told as unbooked."""
    tables = booked_by_chance(seed, pulls=False)
    actuals = held(yard, tables)
    for station in STATIONS:
        resource = f"labour.{station}"
        finished = {number for number, job in actuals.jobs.items() if not job.open}
        last = max((str(actuals.jobs[number].row.finished)[:7] for number in finished), default="")
        compared = sum(
            one.standard_quantity.value
            for one in actuals.compared
            if one.scope.resource == resource
            and (one.scope.job in finished or not one.scope.job)
            # What was booked after the last was finished is for jobs at work, at standard.
            and (one.scope.level != "station" or one.scope.month <= last)
            and one.standard_quantity is not None
        )
        compared += sum(
            one.quantity.value for one in actuals.unbooked if one.scope.resource == resource
        )
        expected = 0.0
        for number in finished:
            row = actuals.jobs[number].row
            chosen = tuple(id for id in CHOICES[str(row.model)] if id in str(row.options or ""))
            of_boat = drawn(actuals.pricing, str(row.model), chosen)
            expected += of_boat.get(station, 0.0) * actuals.jobs[number].boats
        assert compared == pytest.approx(expected, rel=CLOSE, abs=1e-9), station


def numbers(actuals: Actuals) -> dict[object, list[float]]:
    """All that is compared, by its scope; variances by kind."""
    found: dict[object, list[float]] = {
        one.scope: [one.actual.value, one.standard.value]
        + [line.amount.value for line in sorted(one.lines, key=lambda line: line.kind)]
        for one in actuals.compared
    }
    found |= {
        ("unbooked", one.scope): [one.quantity.value, one.standard.value]
        for one in actuals.unbooked
    }
    return found


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_the_order_of_rows_moves_nothing(yard: Path, seed: int) -> None:
    tables = booked_by_chance(seed)
    before = held(yard, tables)
    shuffled = Tables({kind: [*rows] for kind, rows in tables.rows.items()})
    for rows in shuffled.rows.values():
        random.Random(seed).shuffle(rows)
    after = held(yard, shuffled)
    found = numbers(after)
    assert found.keys() == numbers(before).keys()
    for scope, told in numbers(before).items():
        assert found[scope] == pytest.approx(told, rel=1e-12, abs=1e-9), scope
    assert after.months == before.months


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_a_row_split_in_two_moves_no_total(yard: Path, seed: int) -> None:
    tables = booked_by_chance(seed)
    before = numbers(held(yard, tables))
    rows = tables.rows.get("hours", [])
    if not rows:
        return
    at = random.Random(seed).randrange(len(rows))
    hours = float(str(rows[at]["hours"]).removesuffix(" h"))
    split = [
        {**rows[at], "hours": f"{part!r} h", "reference": f"{rows[at]['reference']}-{n}"}
        for n, part in enumerate((hours * 0.25, hours * 0.75))
    ]
    after = numbers(
        held(yard, Tables({**tables.rows, "hours": [*rows[:at], *split, *rows[at + 1 :]]}))
    )
    assert after.keys() == before.keys()
    for scope, told in before.items():
        assert after[scope] == pytest.approx(told, rel=CLOSE, abs=1e-7), scope
