"""Hours above normal ones at a station: overtime, a second shift, their premium, their causes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from quoter.catalogue.factory import Overtime
from quoter.costing.assembly import Assembly
from quoter.costing.rates import StationRates
from quoter.engineering.labour import hours_above, premium_cost
from quoter.figures import Figure, at_most, constant, total
from quoter.figures.ops import less
from quoter.phrases import phrase

NO_HOURS = constant(0.0, "h")


@dataclass(frozen=True, slots=True)
class Cause:
    """A planned option or package on a model: its hours a year at the station, and of all hours
    there the share that is its own; it bears as much of the premium."""

    owner: Assembly
    model: str
    hours: Figure
    share: Figure
    premium: Figure


@dataclass(frozen=True, slots=True)
class OvertimeLoad:
    """A station's year above its normal hours.

    `above` are worked as `overtime` up to the most there may be, the rest in a second `shift` if
    the station has a premium for it; `premium` is what they cost on top of normal pay. `short` is
    1 where neither can take what is `left`.
    """

    terms: Overtime
    above: Figure
    overtime: Figure
    shift: Figure
    left: Figure
    premium: Figure
    short: Figure
    causes: tuple[Cause, ...]


def overtime_of(
    rate: StationRates, hours: Figure, drawn: Sequence[tuple[Assembly, str, Figure]]
) -> OvertimeLoad | None:
    """A station's overtime in the planned year; None where it states no normal hours.

    Args:
        rate: the station and what an hour of it costs
        hours: paid hours a year
        drawn: who draws how many of them, on which model; boats themselves cause no overtime
    """
    station, terms = rate.station, rate.station.overtime
    if terms is None:
        return None
    key, name = f"plan.station.{station.id}", station.name
    above = hours_above(hours, terms.normal).named(
        f"{key}.above", phrase("{name}: hours above normal", name=name)
    )
    overtime = above if terms.most is None else at_most(above, terms.most)
    overtime = overtime.named(f"{key}.overtime", phrase("{name}: hours of overtime", name=name))
    rest = above - overtime
    second = terms.second_shift
    shift = (NO_HOURS if second is None else rest).named(
        f"{key}.shift", phrase("{name}: hours of a second shift", name=name)
    )
    left = (rest if second is None else NO_HOURS).named(
        f"{key}.left", phrase("{name}: hours that nobody can work", name=name)
    )
    premium = premium_cost(overtime, rate.labour, terms.premium)
    if second is not None:
        premium = premium + premium_cost(shift, rate.labour, second)
    premium = premium.named(f"{key}.premium", phrase("{name}: premium a year", name=name))
    causes = _causes(key, hours, premium, drawn)
    return OvertimeLoad(terms, above, overtime, shift, left, premium, less(NO_HOURS, left), causes)


def _causes(
    key: str,
    hours: Figure,
    premium: Figure,
    drawn: Sequence[tuple[Assembly, str, Figure]],
) -> tuple[Cause, ...]:
    """Options that draw on the station, the one with most hours first."""
    found = []
    for owner, model, taken in drawn:
        if owner.recipe.key.startswith("boat.") or not taken.value > 0:
            continue
        of = f"{key}.{owner.recipe.key}"
        share = (taken / hours).named(
            f"{of}.share", phrase("{name}: share of hours", name=owner.name), "percent"
        )
        part = (premium * share).named(
            f"{of}.premium", phrase("{name}: share of the premium", name=owner.name)
        )
        found.append(Cause(owner, model, taken, share, part))
    return tuple(sorted(found, key=lambda cause: -cause.hours.value))


def all_premiums(loads: Sequence[OvertimeLoad | None], money: Figure) -> Figure:
    """The premium of all stations; `money` is nothing in home currency."""
    return total([load.premium for load in loads if load is not None], money)
