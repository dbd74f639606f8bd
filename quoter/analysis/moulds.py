"""A planned year of the moulds: pulls, what one set can give by the shift calendar, sets needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from quoter.catalogue.factory import Mould
from quoter.catalogue.yard import Policy
from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draw
from quoter.costing.occupation import WEEK, taken_by
from quoter.costing.rollup import Costing
from quoter.engineering.tooling import pulls_per_year, sets_needed
from quoter.figures import Figure, at_least, constant, total
from quoter.figures.ops import less
from quoter.phrases import phrase
from quoter.problems import Place

NONE, ONE = constant(0.0), constant(1.0)
NO_HOURS = constant(0.0, "h")
WEEKS_A_YEAR = constant(52.0)
A_WEEK = constant(WEEK, "h")
# So little that nothing depends on it, where a plan without demand would divide by nothing.
TRACE, TRACE_HOURS = constant(1e-9), constant(1e-9, "h")

Given = Callable[[Figure, str, str, Place], Figure]


@dataclass(frozen=True, slots=True)
class MouldLoad:
    """A mould's pulls a year against what one set can make.

    `work`, `cure` and `clock` are hours of an average pull: worked in the mould, cured in it, and
    by the clock from one pull to the next, nights and weekends included. `clock`, `capacity` and
    `sets` are None without a calendar.
    """

    mould: Mould
    pulls: Figure
    planned: Figure
    work: Figure
    cure: Figure
    clock: Figure | None
    capacity: Figure | None
    sets: Figure | None


@dataclass(frozen=True, slots=True)
class MouldFlags:
    """1 where a mould gives more pulls than its cost is spread over, where its cost is spread over
    more than one set can give, or where one set is not enough."""

    over_planned: Figure
    over_spread: Figure | None
    more_sets: Figure | None


def flags_of(load: MouldLoad) -> MouldFlags:
    """What a mould's load has to be told of."""
    return MouldFlags(
        less(load.planned, load.pulls),
        None if load.capacity is None else less(load.capacity, load.planned),
        None if load.sets is None else less(ONE, load.sets),
    )


def mould_loads(
    costing: Costing, parts: Mapping[str, Figure], yearly: Mapping[Draw, Figure], given: Given
) -> list[MouldLoad]:
    """The load of each mould that the year pulls.

    Args:
        costing: the finished costing
        parts: good parts needed a year, by the part's key
        yearly: what the year draws on each resource
        given: what becomes of each amount per unit
    """
    return [
        _load(costing, draw.id, parts, yearly, given) for draw in yearly if draw.kind == "pulls"
    ]


def _load(
    costing: Costing,
    id: str,
    parts: Mapping[str, Figure],
    yearly: Mapping[Draw, Figure],
    given: Given,
) -> MouldLoad:
    mould, policy = costing.catalogue.records.moulds[id], costing.catalogue.yard.policy
    key, name, pulls = f"plan.mould.{id}", mould.name, yearly[Draw("pulls", id)]
    some = at_least(pulls, TRACE)
    work = yearly[Draw("work", id)] / some
    work = work.named(f"{key}.work", phrase("{name}: hours of work of a pull", name=name))
    cure = yearly[Draw("cure", id)] / some
    cure = cure.named(f"{key}.cure", phrase("{name}: hours of cure of a pull", name=name))
    planned = mould.pulls_per_year
    if policy.shift_calendar is None or not work.value + cure.value:
        return MouldLoad(mould, pulls, planned, work, cure, None, None, None)
    clock = work + cure + _waiting(costing, id, parts, given) / some
    clock = clock.named(
        f"{key}.clock", phrase("{name}: hours by the clock from pull to pull", name=name)
    )
    gives = one_set_gives(policy, at_least(clock, TRACE_HOURS))
    gives = gives.named(
        f"{key}.capacity", phrase("{name}: pulls a year one set can make", name=name)
    )
    sets = sets_needed(pulls, gives).named(f"{key}.sets", phrase("{name}: sets needed", name=name))
    return MouldLoad(mould, pulls, planned, work, cure, clock, gives, sets)


def _waiting(costing: Costing, id: str, parts: Mapping[str, Figure], given: Given) -> Figure:
    """Hours a year that pulls of a mould wait for shifts, each as if its part came over and over.

    How long one waits is found by following pulls through the week, so it is a number of its own.
    """
    calendar, waits = costing.catalogue.yard.policy.shift_calendar, []
    for part, started in started_in(costing, id, parts, given):
        waiting = taken_by(part, calendar).waiting
        if waiting is not None:
            key = f"plan.mould.{id}.{part.recipe.key}.waiting"
            label = f"{part.name}: nights and weekends that a pull waits"
            waits.append(started * given(waiting, key, label, part.recipe.place))
    return total(waits, NO_HOURS)


def started_in(
    costing: Costing, id: str, parts: Mapping[str, Figure], given: Given
) -> list[tuple[Assembly, Figure]]:
    """Parts that are pulled from a mould, each with how many are started a year, scrap included."""
    found = []
    for key, good in parts.items():
        part = costing.parts[key]
        count = sum(mould == id for mould, _ in part.tooling)
        if not count:
            continue
        started = good
        if part.passed is not None:
            label = f"{part.name}: fraction that passes"
            passed = given(part.passed, f"plan.passed.{key}", label, part.recipe.place)
            started = good / passed
        found.append((part, started * float(count)))
    return found


def one_set_gives(policy: Policy, clock: Figure) -> Figure:
    """Pulls a year that one set of a mould can make.

    Args:
        policy: the yard's, with a calendar
        clock: hours by the clock from one pull to the next, above 0
    """
    calendar = policy.shift_calendar
    closed = None if calendar is None else calendar.closed_weeks
    weeks = WEEKS_A_YEAR if closed is None else WEEKS_A_YEAR - closed
    available = ONE if policy.mould_availability is None else policy.mould_availability
    return pulls_per_year(weeks, A_WEEK, clock, available)
