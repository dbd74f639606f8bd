"""What the planned year comes to: totals over all models, and what is busiest or short."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from quoter.analysis.emission import Threshold, thresholds_of
from quoter.analysis.plan import NONE, MouldLoad, Plan
from quoter.figures import Figure, at_least, constant, total
from quoter.figures.ops import equal, less

NO_HOURS = constant(0.0, "h")
ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class MouldFlags:
    """1 where a mould gives more pulls than its cost is spread over, or one set is not enough."""

    over_planned: Figure
    more_sets: Figure | None


@dataclass(frozen=True, slots=True)
class Year:
    """Totals over all models and stations; `most_loaded` is 1 for the busiest station."""

    boats: Figure
    margin: Figure
    material: Figure
    hours: Figure
    budget: Figure
    absorbed: Figure
    under: Figure
    most_loaded: Mapping[str, Figure]
    moulds: Mapping[str, MouldFlags]
    thresholds: Sequence[Threshold]


def year_of(plan: Plan, money: Figure) -> Year:
    """The totals of a plan; `money` is nothing in home currency."""

    def all_of(figures: Iterable[Figure], zero: Figure, key: str, label: str) -> Figure:
        return total(list(figures), zero).named(f"plan.all.{key}", label)

    stations = plan.stations
    return Year(
        all_of(plan.boats.values(), NONE, "boats", "boats a year"),
        all_of(plan.margins.values(), money, "margin", "margin a year, all models"),
        all_of((need.cost for need in plan.materials), money, "material", "materials a month"),
        all_of((load.hours for load in stations), NO_HOURS, "hours", "paid hours a year"),
        all_of((load.budget for load in stations), money, "budget", "overhead budgets a year"),
        all_of((load.absorbed for load in stations), money, "absorbed", "overhead absorbed"),
        all_of((load.under for load in stations), money, "under", "overhead under-absorbed"),
        _most_loaded(plan),
        {str(load.mould.id): _flags(load) for load in plan.moulds},
        thresholds_of(plan),
    )


def _flags(load: MouldLoad) -> MouldFlags:
    more_sets = None if load.sets is None else less(ONE, load.sets)
    return MouldFlags(less(load.planned, load.pulls), more_sets)


def _most_loaded(plan: Plan) -> dict[str, Figure]:
    if not plan.stations:
        return {}
    highest = highest_of([load.utilisation for load in plan.stations])
    highest = highest.named("plan.utilisation.highest", "highest utilisation", "percent")
    return {load.station: equal(load.utilisation, highest) for load in plan.stations}


def highest_of(figures: Sequence[Figure]) -> Figure:
    """The largest of some figures, paired as in a tournament so that no formula nests deeply."""
    while len(figures) > 1:
        pairs = [figures[i : i + 2] for i in range(0, len(figures), 2)]
        figures = [at_least(*pair) if len(pair) == 2 else pair[0] for pair in pairs]
    return figures[0]
