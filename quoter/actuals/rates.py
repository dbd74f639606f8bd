"""Rates in force on a day of work: standard prices, what an hour costs, the cost of a job.

Of the catalogue only prices, wages and exchange have days. So a month that is closed is held
against the same rates whenever it is asked about.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from quoter.actuals.compared import Job
from quoter.actuals.standards import JobStandard
from quoter.catalogue.prices import Catalogue, listed_on, resolve
from quoter.catalogue.tables import WageRow
from quoter.costing.assembly import Assembly, cost_assembly
from quoter.costing.rates import CostRates, landed_price_of
from quoter.costing.replay import replayed
from quoter.engineering.labour import labour_rate
from quoter.figures import Figure, stated
from quoter.phrases import phrase
from quoter.pricing.built import Built
from quoter.pricing.price import Pricing
from quoter.problems import Problems

WHOLE = ""  # among the elements of a cost: all of it


@dataclass(slots=True)
class Rates:
    """Rates in force on a day: standard prices of material and rates of an hour.

    What is in force on the catalogue's own day is the costing's own figure; on another day the
    figure's key ends with the day since when its row holds, so that the same row is one figure.
    What had no price or wage yet on a day has the costing's. `others` are costings by the recipes
    of other days, of which some figures may be.
    """

    pricing: Pricing
    others: tuple[Pricing, ...] = ()
    _days: dict[date, Catalogue] = field(default_factory=dict)
    _kept: dict[tuple[object, ...], Figure] = field(default_factory=dict)

    @property
    def costing(self) -> CostRates:
        """Those of the finished costing."""
        return self.pricing.costing.rates

    def on(self, day: date) -> Catalogue:
        """The catalogue with the rows in force on a day, and its own where there was none yet."""
        if day not in self._days:
            now = self.pricing.catalogue
            lists = now.records.price_lists
            found = resolve(now.records, max(day, min(lists)) if lists else day, Problems())
            if found is None:
                found = now
            self._days[day] = replace(
                found,
                prices=now.prices | found.prices,
                wages=now.wages | found.wages,
                exchange=now.exchange | found.exchange,
            )
        return self._days[day]

    def price(self, material: str, day: date) -> Figure:
        """The landed price of a material per what it is counted in."""
        then, now = self.on(day), self.pricing.catalogue
        row, records = then.prices[material], now.records
        currency = str(records.suppliers[str(row.supplier)].currency)
        rate, own = then.exchange.get(currency), now.exchange.get(currency)
        if row is now.prices[material] and rate is own:
            return self.costing.prices[material]
        key = "price", material, row.place, None if rate is None else rate.place
        if key not in self._kept:
            since = listed_on(row) if rate is None else max(listed_on(row), rate.date)
            landed = landed_price_of(then, material, records.materials[material])
            self._kept[key] = replace(landed, key=f"{landed.key}.{since}")
        return self._kept[key]

    def wage(self, group: str, day: date) -> WageRow:
        """The row of a wage group, its first one where none was in force by the catalogue's day.

        Raises:
            ValueError: there is no such group, which the rules of the tables exclude.
        """
        rows = self.pricing.catalogue.records.wages
        first = min((row for row in rows if row.group == group), key=lambda row: row.date)
        return self.on(day).wages.get(group, first)

    def labour(self, station: str, day: date, group: str = "") -> Figure:
        """What a paid hour of a wage group costs at a station; of the station's own group if none
        is named."""
        rates = self.costing.stations[station]
        own = str(rates.station.wage_group)
        group = group or own
        row = self.wage(group, day)
        if group == own and row is self.pricing.catalogue.wages[own]:
            return rates.labour
        key = "labour", station, row.place
        if key not in self._kept:
            label = phrase(
                "{name}: labour rate of {group} from {day}",
                name=rates.station.name,
                group=group,
                day=row.date,
            )
            rate = labour_rate(row.wage, rates.station.on_costs)
            named = f"station.{station}.labour_rate.{group}.{row.date}"
            self._kept[key] = rate.named(named, label)
        return self._kept[key]

    def all_in_force(self, day: date) -> bool:
        """Whether a day has the very rows that the costing was made with."""
        then, now = self.on(day), self.pricing.catalogue
        return (
            all(then.prices[id] is row for id, row in now.prices.items())
            and all(then.wages[id] is row for id, row in now.wages.items())
            and all(then.exchange[id] is row for id, row in now.exchange.items())
        )


def others_of(pricing: Pricing, jobs: Iterable[JobStandard | Job]) -> tuple[Pricing, ...]:
    """The costings that jobs were made by, without today's."""
    found = {id(job.pricing): job.pricing for job in jobs if job.pricing is not None}
    return tuple(other for other in found.values() if other is not pricing)


def standard_costs(
    jobs: Mapping[str, JobStandard], rates: Rates
) -> dict[str, tuple[Figure, dict[str, Figure]]]:
    """The full cost of all boats of each job by standard, at the rates of the day it was finished;
    and the elements of that of one boat.

    At those of the catalogue's day while it is open. What options credit is not made, so that
    nothing is taken off for it: it is the cost of what was built, not that of a price.
    """
    costs = {}
    for number, job in jobs.items():
        boat = boat_by_standard(number, job.boat, job.pricing, "boat")
        costs[number] = {WHOLE: boat.cost * job.boats, **boat.elements}
    found = {}
    for number, by_day in on_days(costs, jobs, rates).items():
        key, cost = f"actual.job.{number}.standard", by_day.pop(WHOLE)
        label = phrase("Job {number}: cost by standard", number=number)
        if cost is costs[number][WHOLE]:
            cost = cost.named(key, label)
        else:
            cost = stated(cost, key, label, jobs[number].row.place)
        found[number] = cost, by_day
    return found


def settled(figure: Figure, job: JobStandard | Job, today: Pricing) -> Figure:
    """A figure of a job as a mere number where its recipes are others than today's.

    What it was computed from has the keys of today's figures, and may have other values.
    """
    return (
        figure if job.pricing is None or job.pricing is today else Figure(figure.value, figure.unit)
    )


def on_days(
    figures: Mapping[str, Mapping[str, Figure]],
    jobs: Mapping[str, JobStandard | Job],
    rates: Rates,
) -> dict[str, dict[str, Figure]]:
    """Figures of jobs at the rates of the day each was finished, in one pass over the costing.

    What is asked of an open job, or of a day with the very rates of the costing, stays itself, as
    does all of a day that lacks a rate; any other is a number without what it was computed from,
    and so is all that rests on other recipes than today's.

    Args:
        figures: of each job, by what they are of
        jobs: by number, at least those
        rates: of days
    """
    days = {number: None if jobs[number].open else jobs[number].row.finished for number in figures}
    moved = {
        number: day
        for number, day in days.items()
        if day is not None and not rates.all_in_force(day)
    }
    found = {
        number: {what: settled(one, jobs[number], rates.pricing) for what, one in own.items()}
        for number, own in figures.items()
    }
    if not moved:
        return found
    past = sorted(set(moved.values()))
    asked = [figure for number in moved for figure in figures[number].values()]
    replay = replayed(rates.pricing.costing, [rates.on(day) for day in past])
    for other in rates.others:
        by_day = replayed(other.costing, [rates.on(day) for day in past])
        replay.given |= by_day.given
        replay.unknown |= by_day.unknown
    values = dict(zip(asked, replay.values(asked), strict=True))
    for number, day in moved.items():
        for what, figure in figures[number].items():
            then = values[figure][past.index(day)]
            if then is not None:
                found[number][what] = Figure(then, figure.unit)
    return found


def boat_by_standard(number: str, boat: Built, pricing: Pricing, what: str) -> Assembly:
    """A boat of a job as it was made, costed: nothing is taken off for what options credit.

    Args:
        number: the job's
        boat: as it was built
        pricing: with the recipes and stations that it was made by, those of the job's days
        what: it is costed for, which its figures' keys hold
    """
    recipe, rates = boat.whole.recipe, pricing.costing.rates
    key = f"actual.job.{number}.{what}"
    made = [
        replace(use, assembly=_without_credits(use.assembly, rates, key)) for use in recipe.uses
    ]
    lines = [material.line for material in boat.whole.materials]
    name = phrase("Job {number}", number=number)
    whole = replace(recipe, key=key, name=name, uses=made, lines=lines)
    return cost_assembly(whole, rates)


def _without_credits(assembly: Assembly, rates: CostRates, key: str) -> Assembly:
    """An option at the cost of what is made for it; `key` begins its figures' keys."""
    recipe = assembly.recipe
    made = [use for use in recipe.uses if not use.credit]
    if len(made) == len(recipe.uses):
        return assembly
    return cost_assembly(replace(recipe, key=f"{key}.{recipe.key}", uses=made), rates)
