"""When moulds pay for themselves at today's price, and the volume at which a closed mould takes
over from laying by hand, tooling included."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from quoter.analysis.plan import Plan
from quoter.catalogue.factory import Mould
from quoter.costing.assembly import Assembly
from quoter.costing.draws import Draw, Draws
from quoter.costing.rates import CostRates
from quoter.engineering.tooling import (
    crossing_volume,
    outlay,
    payback_months,
    units_to_bear,
    yearly_charge,
)
from quoter.figures import Figure, constant, stated, total
from quoter.phrases import phrase
from quoter.pricing.price import Priced

NONE = constant(0.0)
TAKES_OVER = "takes_over"
PAYBACK = "payback"  # begins the names of its figures, after the option's own key


@dataclass(frozen=True, slots=True)
class Payback:
    """When a mould, or all of an option's, has come back out of what the option brings.

    `contribution` is that of one option before it bears these moulds, at the first class of buyer.
    `units` and `months` are None where it brings nothing, or nothing is planned. `yearly` is what
    is planned a year, `beyond` the part of it that one set can't make; `next_months` are those
    until another set has come back out of that part.
    """

    name: str
    invested: Figure
    contribution: Figure
    units: Figure | None
    yearly: Figure | None
    months: Figure | None
    beyond: Figure | None = None
    next_months: Figure | None = None

    @property
    def figures(self) -> list[Figure]:
        """All that is known of it."""
        found = (self.invested, self.contribution, self.units, self.months, self.next_months)
        return [figure for figure in found if figure is not None]


@dataclass(frozen=True, slots=True)
class Crossing:
    """A part by hand and in a closed mould or infused: charge a year of a set of moulds, and cost
    of one part without it, each way; the good parts a year from which the other costs no more.

    `volume` is None where it never does; at or below 0 it does from the first part on.
    """

    charges: tuple[Figure, Figure]
    each: tuple[Figure, Figure]
    volume: Figure | None

    @property
    def figures(self) -> list[Figure]:
        """What is known of it, where it takes over at all."""
        return [] if self.volume is None else [*self.charges, *self.each, self.volume]


def paybacks_of(
    priced: Priced,
    draws: Draws,
    moulds: Sequence[Mould],
    rates: CostRates,
    plan: Plan,
) -> tuple[Payback, ...]:
    """When the moulds of a priced option pay: all together where it has several, then each.

    Args:
        priced: the option on a model, with a sale to at least one class of buyer
        draws: of one good unit of it
        moulds: those it is pulled from; one whose pulls it credits in full is left out
        rates: of the costing
        plan: how many are planned on all models
    """
    moulds = [mould for mould in moulds if draws[Draw("pulls", str(mould.id))].value > 0]
    if not moulds:
        return ()
    made = priced.assembly
    key = f"{made.recipe.key}.{PAYBACK}"
    planned = [demand.units for demand in plan.options if demand.option == made.recipe.id]
    yearly = None
    if planned:
        amount = total(planned, NONE)
        yearly = stated(
            amount, f"{key}.yearly", phrase("{name}: planned a year, all models", name=made.name)
        )
    gained = next(iter(priced.sales.values())).contribution
    borne = {str(mould.id): _borne(mould, draws, rates) for mould in moulds}
    found = []
    if len(moulds) > 1:
        invested = total([outlay_of(mould) for mould in moulds], rates.nothing)
        before = gained + total(list(borne.values()), rates.nothing)
        found.append(
            _payback(f"{key}.all", phrase("all its moulds"), made.name, invested, before, yearly)
        )
    for mould in moulds:
        before = gained + borne[str(mould.id)]
        one = _payback(
            f"{key}.{mould.id}", str(mould.name), made.name, outlay_of(mould), before, yearly
        )
        found.append(_with_next(one, f"{key}.{mould.id}", mould, draws, plan))
    return tuple(found)


def _payback(
    key: str, name: str, option: str, invested: Figure, before: Figure, yearly: Figure | None
) -> Payback:
    label = f"{option}, {name}"
    invested = invested.named(f"{key}.invested", phrase("{label}: outlay", label=label))
    before = before.named(
        f"{key}.contribution", phrase("{label}: contribution before they are borne", label=label)
    )
    units = months = None
    if before.value > 0:
        units = units_to_bear(invested, before).named(
            f"{key}.units", phrase("{label}: units to pay back", label=label)
        )
        if yearly is not None and yearly.value > 0:
            months = payback_months(invested, before, yearly)
            months = months.named(
                f"{key}.months", phrase("{label}: months to pay back", label=label)
            )
    return Payback(name, invested, before, units, yearly, months)


def _with_next(one: Payback, key: str, mould: Mould, draws: Draws, plan: Plan) -> Payback:
    """The same with when another set pays: out of the units that one set can't make."""
    load = next((load for load in plan.moulds if load.mould.id == mould.id), None)
    if load is None or load.capacity is None:
        return one
    label = phrase("{name}: pulls a year beyond one set", name=mould.name)
    over = max(load.pulls.value - load.capacity.value, 0.0)
    beyond = stated(Figure(over, load.pulls.unit), f"{key}.beyond", label)
    months = None
    if over > 0 and one.contribution.value > 0:
        extra = beyond / draws[Draw("pulls", str(mould.id))]
        months = payback_months(one.invested, one.contribution, extra)
        months = months.named(
            f"{key}.next_months", phrase("{name}: months for another set", name=mould.name)
        )
    return replace(one, beyond=beyond, next_months=months)


def outlay_of(mould: Mould) -> Figure:
    """What a set of a mould takes over its life, less what it fetches at its end."""
    return outlay(mould.cost, *_later(mould))


def charge_of(mould: Mould) -> Figure:
    """What a set of a mould costs a year while it is written off."""
    return yearly_charge(mould.cost, *_later(mould), mould.write_off_years)


def _later(mould: Mould) -> tuple[Figure, Figure]:
    nothing = mould.cost * 0.0
    return (
        nothing if mould.refurbishment is None else mould.refurbishment,
        nothing if mould.salvage is None else mould.salvage,
    )


def _borne(mould: Mould, draws: Draws, rates: CostRates) -> Figure:
    """What one good unit bears of a mould's outlay; upkeep is spent anew at each pull."""
    per_pull = rates.pulls[str(mould.id)]
    if mould.upkeep is not None:
        per_pull = per_pull - mould.upkeep
    return per_pull * draws[Draw("pulls", str(mould.id))]


@dataclass(frozen=True, slots=True)
class Way:
    """One way of making a part: the part costed, its moulds, and the draws of a good one."""

    part: Assembly
    moulds: Sequence[Mould]
    draws: Draws


def crossing_of(by_hand: Way, panel: Way, rates: CostRates) -> Crossing:
    """Where the closed mould takes over, with one set of moulds for each way."""
    charges, each = [], []
    for way in (by_hand, panel):
        key, name = f"{way.part.recipe.key}.without_moulds", way.part.name
        charge = total([charge_of(mould) for mould in way.moulds], rates.nothing)
        charges.append(
            charge.named(f"{key}.charge", phrase("{name}: charge a year of its moulds", name=name))
        )
        borne = [_borne(mould, way.draws, rates) for mould in way.moulds]
        cost = way.part.cost - total(borne, rates.nothing)
        each.append(
            cost.named(f"{key}.each", phrase("{name}: cost without that charge", name=name))
        )
    volume = None
    if each[0].value > each[1].value:
        volume = crossing_volume(charges[0], each[0], charges[1], each[1]).named(
            f"{panel.part.recipe.key}.{TAKES_OVER}",
            phrase("{name}: parts a year to take over", name=panel.part.name),
        )
    return Crossing((charges[0], charges[1]), (each[0], each[1]), volume)
