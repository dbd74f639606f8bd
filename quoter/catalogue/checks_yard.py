"""Rules of the yard: one currency, a policy that leaves room for cost, sound stations, moulds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.factory import Policy, Yard
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Problem, nearest, quoted
from quoter.units import unit


def check_home_currency(records: Records) -> Iterator[Problem]:
    """Only a supplier's price, or one in a market of its own currency, may be foreign: all else
    adds up without a rate."""
    if records.home is None:
        return
    priced = {id(row) for rows in records.price_lists.values() for row in rows}
    priced |= {id(row) for row in (*records.exchange, *records.book, *records.rises)}
    for market in records.yard.markets if records.yard is not None else ():
        priced.add(id(market.rounding))
    for record in every_record(records):
        if id(record) in priced:
            continue
        for name in type(record).model_fields:
            for figure in _figures(getattr(record, name)):
                foreign = {*figure.unit.currencies} - {records.home}
                if foreign:
                    what = f"{sorted(foreign)[0]} where the home currency {records.home} belongs"
                    hint = f"write it in {records.home}; only price lists may be in others"
                    yield Problem(figure_place(figure), what, hint)


def _figures(value: Any) -> Iterator[Figure]:
    if isinstance(value, Figure):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _figures(inner)


def check_policy(records: Records) -> Iterator[Problem]:
    """Provisions and target margin must leave something of the price to carry the cost."""
    if records.yard is None:
        return
    yield from _policy_faults(records.yard.policy)
    yield from _yard_lists(records.yard)


def _policy_faults(policy: Policy) -> Iterator[Problem]:
    taken = sum(p.fraction.value for p in policy.provisions) + policy.target_margin.value
    if taken >= 1:
        what = f"provisions and target margin take {taken * 100:g} % of the price"
        hint = "expected less than 100 % together, so that something is left to carry the cost"
        yield Problem(figure_place(policy.target_margin), what, hint)
    if policy.floor_margin.value > policy.target_margin.value:
        what = f"the floor margin of {policy.floor_margin.value * 100:g} % is above the target"
        hint = f"expected at most the target margin of {policy.target_margin.value * 100:g} %"
        yield Problem(figure_place(policy.floor_margin), what, hint)
    if policy.fibre_fraction_low.value >= policy.fibre_fraction_high.value:
        what = "the lower fibre fraction is not below the upper one"
        yield Problem(figure_place(policy.fibre_fraction_low), what, "for example 10 % and 30 %")


def _yard_lists(yard: Yard) -> Iterator[Problem]:
    for name, found in (("dealer_classes", yard.dealer_classes), ("markets", yard.markets)):
        if not found:
            what = f"the list of {name.replace('_', ' ')} is empty"
            yield Problem(yard.place, what, f"give at least one under '{name}:'")
        first: dict[str, Any] = {}
        for record in found:
            if record.id in first:
                hint = f"the first is at {first[record.id].clickable}; every id must differ"
                yield Problem(record.id.place, f"id {quoted(record.id)} is used twice", hint)
            first.setdefault(str(record.id), record.id.place)


def check_stations(records: Records) -> Iterator[Problem]:
    """A station's overhead is divided by its capacity, so both must be on one base."""
    for station in records.stations.values():
        base, capacity = station.overhead.base, station.overhead.capacity
        by_cost = base == "labour cost"
        if (capacity.unit == unit("h")) == by_cost:
            what = f"station '{station.id}' absorbs on {base}, its capacity is in {capacity.unit}"
            money = records.home or "EUR"
            hint = f"write it in {money} of labour cost" if by_cost else "write it in h"
            yield Problem(figure_place(capacity), what, f"{hint} a year")


def check_wages(records: Records) -> Iterator[Problem]:
    """A wage of a group that no station has is never paid: a rise may be lost by a slip."""
    groups = {str(station.wage_group) for station in records.stations.values()}
    all_read = records.stations.keys() == records.named(("station",))
    if "station" in records.unread.kinds or not all_read:
        return
    for row in records.wages:
        if row.group not in groups:
            what = f"no station has the wage group {quoted(row.group)}"
            yield Problem(row.group.place, what, nearest(row.group, groups), warning=True)


def check_moulds(records: Records) -> Iterator[Problem]:
    """A mould that fetches more than it cost would pay for its parts."""
    for mould in records.moulds.values():
        if mould.salvage is None:
            continue
        spent = mould.cost.value
        if mould.refurbishment is not None:
            spent += mould.refurbishment.value
        if mould.salvage.value > spent:
            what = f"mould '{mould.id}' fetches more than was spent on it"
            hint = f"expected at most {spent:g} {mould.cost.unit}"
            yield Problem(figure_place(mould.salvage), what, hint)
