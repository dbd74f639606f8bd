"""How long a pull keeps its mould: work and cure in their order, and the nights between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from quoter.catalogue.yard import ShiftCalendar
from quoter.costing.assembly import Assembly
from quoter.costing.operations import OperationCost
from quoter.engineering.calendar import after_work, hours_worked
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase

NO_HOURS = constant(0.0, "h")
DAY, WEEK = 24.0, 168.0
# Weeks that pulls are followed one after the other where their rhythm does not repeat itself
# before. What a pull takes on average is then known to a week in as many.
FOLLOWED = 104
SAME = 6  # decimals of an hour to which two pulls begin at the same time of the week


@dataclass(frozen=True, slots=True)
class Stint:
    """Work without a break but for nights and weekends, and the cure that follows it, in hours."""

    work: Figure
    cure: Figure


def in_the_mould(assembly: Assembly) -> list[int]:
    """Which operations are done in the mould: as they say, else up to the last one with a cure."""
    asked = [done.operation for done in assembly.operations]
    cures = [n for n, operation in enumerate(asked) if operation.cure is not None]
    last = cures[-1] if cures else len(asked) - 1
    return [
        number
        for number, operation in enumerate(asked)
        if (number <= last if operation.in_mould is None else operation.in_mould)
    ]


def by_the_clock(done: OperationCost) -> Figure:
    """Hours of an operation by the clock: paid hours shared by the crew."""
    crew = done.operation.crew
    return done.paid if crew is None else done.paid / crew


def stints_of(assembly: Assembly) -> list[Stint]:
    """What one pull does in its mould, in order: paid hours shared by the crew, and cures."""
    stints: list[Stint] = []
    work: list[Figure] = []
    for number in in_the_mould(assembly):
        done = assembly.operations[number]
        operation = done.operation
        work.append(by_the_clock(done))
        if operation.cure is not None:
            stints.append(Stint(total(work, NO_HOURS), operation.cure))
            work = []
    if work:
        stints.append(Stint(total(work, NO_HOURS), NO_HOURS))
    return stints


@dataclass(frozen=True, slots=True)
class Taken:
    """Hours that one pull takes its mould: by work, by cure, and by the clock from one to the next.

    `waiting` are nights and weekends in which neither work nor cure goes on; `clock` is all three,
    None where the policy has no calendar.
    """

    work: Figure
    cure: Figure
    waiting: Figure | None
    clock: Figure | None


def taken_by(assembly: Assembly, calendar: ShiftCalendar | None) -> Taken:
    """How long a pull of a part keeps its mould, if it is pulled over and over."""
    key, name = assembly.recipe.key, assembly.name
    stints = stints_of(assembly)
    work = total([stint.work for stint in stints], NO_HOURS)
    work = work.named(f"{key}.mould_work", phrase("{name}: work in the mould per pull", name=name))
    cure = total([stint.cure for stint in stints], NO_HOURS)
    cure = cure.named(f"{key}.mould_cure", phrase("{name}: cure in the mould per pull", name=name))
    if calendar is None or not work.value + cure.value:
        return Taken(work, cure, None, None)
    lost = waiting([(s.work.value, s.cure.value) for s in stints], calendar)
    waits = Figure(lost, work.unit).named(
        f"{key}.mould_waiting", phrase("{name}: nights in the mould", name=name)
    )
    clock = work + cure + waits
    label = phrase("{name}: hours by the clock from pull to pull", name=name)
    return Taken(work, cure, waits, clock.named(f"{key}.mould_clock", label))


def waiting(stints: Sequence[tuple[float, float]], calendar: ShiftCalendar) -> float:
    """Hours a pull waits for shifts on average: nights and weekends that no cure fills.

    Args:
        stints: work and cure of each stint, in hours
        calendar: the yard's
    """
    shift = calendar.shifts.value * calendar.hours.value
    busy = sum(work + cure for work, cure in stints)
    return max(0.0, pull_to_pull(tuple(stints), shift, calendar.days.value) - busy)


@lru_cache(maxsize=1024)
def pull_to_pull(stints: tuple[tuple[float, float], ...], shift: float, days: float) -> float:
    """Hours by the clock from one pull to the next, if each begins as soon as the mould is free.

    Pulls are followed from the start of a week until one begins at the time of the week at which
    an earlier one did, since from there on all repeats itself; at most `FOLLOWED` weeks.
    """
    begun: dict[tuple[float, float], tuple[int, float]] = {}
    time, worked, pulls, week = 0.0, 0.0, 0, shift * days
    while worked < FOLLOWED * week:
        phase = _phase(time, worked, stints[0][0], week)
        if phase in begun:
            earlier, then = begun[phase]
            return round((worked - then) / week) * WEEK / (pulls - earlier)
        begun[phase] = pulls, worked
        for work, cure in stints:
            time = after_work(time, work, shift, days, DAY) + cure
        worked = hours_worked(time, shift, days, DAY)
        pulls += 1
    return worked / week * WEEK / pulls


def _phase(time: float, worked: float, work: float, week: float) -> tuple[float, float]:
    """Where in the week a pull begins; one that begins with work waits for the shift."""
    return round(worked % week, SAME) % week, 0.0 if work else round(time % WEEK, SAME)
