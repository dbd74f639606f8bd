"""The days of a job against a walk of its own, which goes from shift to shift."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import ceil

import pytest

from quoter.catalogue.yard import ShiftCalendar
from quoter.costing.assembly import Made, in_building_order
from quoter.costing.schedule import clock_of, last_day, schedule
from quoter.pricing.built import built
from quoter.pricing.price import Pricing

CHOSEN = {"side_pair": 1, "transom_door": 1, "seat_base": 3, "hull_grey": 1}
WEDNESDAY = date(2026, 12, 2)


def calendar_of(pricing: Pricing) -> ShiftCalendar:
    calendar = pricing.catalogue.yard.policy.shift_calendar
    assert calendar is not None
    return calendar


def made_for(pricing: Pricing, model: str, chosen: dict[str, int]) -> list[Made]:
    return in_building_order(built(pricing, pricing.models[model], chosen).whole)


class Shifts:
    """A week of five shifts of eight hours, walked one after the other, from Monday's start."""

    HOURS, DAYS = 8.0, 5

    def work_from(self, time: float) -> float:
        """When work may begin from a time on."""
        day, hour = divmod(time, 24.0)
        if hour >= self.HOURS - 1e-7:
            day, hour = day + 1, 0.0
        while day % 7 >= self.DAYS:
            day, hour = day + 1, 0.0
        return day * 24.0 + hour

    def done(self, time: float, hours: float) -> float:
        """When so much work is done that begins at a time."""
        while hours > 1e-9:
            time = self.work_from(time)
            today = min(hours, self.HOURS - time % 24.0)
            time, hours = time + today, hours - today
        return time

    def number(self, time: float) -> int:
        """Which working day since the first Monday a time of work is in."""
        day = int(time // 24.0)
        return day // 7 * self.DAYS + min(day % 7, self.DAYS - 1) + 1


@pytest.mark.parametrize(("boats", "start"), [(1, None), (3, WEDNESDAY)])
def test_every_operation_falls_on_the_days_of_a_walk_from_shift_to_shift(
    demo_pricing: Pricing, boats: int, start: date | None
) -> None:
    made, walk = made_for(demo_pricing, "weekender_86", CHOSEN), Shifts()
    found = schedule(made, boats, clock_of(calendar_of(demo_pricing), start))
    begin = 0.0 if start is None else 48.0
    first = walk.number(begin)
    ready: dict[str, float] = {}
    several = 0
    for one in made:
        key, done = one.assembly.recipe.key, begin
        taken = max(
            (ready[u.assembly.recipe.key] for u in one.assembly.recipe.uses if not u.credit),
            default=begin,
        )
        pieces = one.quantity.value * boats
        lots = [1.0] * ceil(pieces) if one.assembly.tooling else [pieces]
        free = begin
        uses = [n for n, o in enumerate(one.assembly.operations) if "core" in o.operation.uses]
        enters = uses[0] if uses else 0
        cures = [n for n, o in enumerate(one.assembly.operations) if o.operation.cure is not None]
        last = cures[-1] if cures else len(one.assembly.operations) - 1
        for which, lot in enumerate(lots):
            time = free
            for number, step in enumerate(one.assembly.operations):
                time = max(time, taken) if number >= enters else time
                crew = 1.0 if step.operation.crew is None else step.operation.crew.value
                hours = step.paid.value * lot / crew
                stop = found[key][number][which]
                begins = walk.work_from(time)
                time = walk.done(time, hours)
                days = [walk.number(begins) - first + 1, walk.number(time - 1e-7) - first + 1]
                assert [stop.begins, stop.ends] == days, (key, number, which)
                assert stop.pieces == pytest.approx(lot)
                time += 0.0 if step.operation.cure is None else step.operation.cure.value
                inside = step.operation.in_mould
                if number <= last if inside is None else inside:
                    free = time
            done = max(done, time)
            several += which > 0
        ready[key] = max(done, taken)
    assert several
    assert last_day(found) >= 3


@pytest.mark.parametrize(
    ("start", "days"),
    [
        (date(2026, 12, 4), (date(2026, 12, 4), date(2026, 12, 7), date(2026, 12, 8))),
        (date(2026, 12, 5), (date(2026, 12, 7), date(2026, 12, 8), date(2026, 12, 9))),
        (date(2026, 11, 30), (date(2026, 11, 30), date(2026, 12, 1), date(2026, 12, 2))),
    ],
    ids=["on a Friday", "on a Saturday", "on a Monday"],
)
def test_working_days_have_dates_past_the_weekend(
    demo_pricing: Pricing, start: date, days: tuple[date, ...]
) -> None:
    clock = clock_of(calendar_of(demo_pricing), start)
    assert tuple(map(clock.date_of, (1, 2, 3))) == days
    assert clock.day_of(clock.start) == 1


def test_a_job_without_a_start_has_days_and_no_dates(demo_pricing: Pricing) -> None:
    clock = clock_of(calendar_of(demo_pricing), None)
    assert clock.date_of(1) is None
    assert clock.day_of(24.0) == 2


def test_what_is_used_is_made_before_it_goes_in(demo_pricing: Pricing) -> None:
    made = made_for(demo_pricing, "coastal_98", {"side_ramp": 1, "ramp_hoist": 1})
    found = schedule(made, 2, clock_of(calendar_of(demo_pricing), None))
    held = 0
    for one in made:
        stops = found[one.assembly.recipe.key]
        for use in one.assembly.recipe.uses:
            inside = [lot for lots in found[use.assembly.recipe.key] for lot in lots]
            if stops and inside and one.assembly.recipe.id == "side_ramp":
                first = min(lot.begins for lots in stops for lot in lots)
                assert first >= max(lot.ends for lot in inside)
                held += 1
    assert held == 3


def test_a_longer_shift_needs_no_more_days(demo_pricing: Pricing) -> None:
    made, usual = made_for(demo_pricing, "weekender_86", CHOSEN), calendar_of(demo_pricing)
    one = clock_of(usual, None)
    two = replace(one, shift=16.0)
    assert last_day(schedule(made, 4, two)) <= last_day(schedule(made, 4, one))
