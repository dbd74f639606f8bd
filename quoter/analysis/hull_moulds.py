"""What options that are laid up in the hull mould cost in hulls: one unit, and a year of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from quoter.analysis.moulds import NONE, ONE, one_set_gives
from quoter.catalogue.options import HullTime, Model
from quoter.catalogue.yard import ShiftCalendar
from quoter.costing.occupation import pull_to_pull
from quoter.engineering.tooling import pulls_displaced, sets_needed
from quoter.figures import Figure, constant, stated, total
from quoter.figures.ops import less
from quoter.phrases import phrase
from quoter.pricing.price import Priced, PricedModel, Pricing

AN_HOUR = constant(1.0, "h")


@dataclass(frozen=True, slots=True)
class HullHold:
    """Hours that one unit of an option keeps the hull mould, by work and cure; `extra` is by how
    much later the next hull begins, by the clock, and `taken` the clock of a hull without it."""

    model: PricedModel
    item: Priced
    work: Figure
    cure: Figure
    extra: Figure
    taken: Figure

    @property
    def hulls(self) -> float:
        """How many hulls could be moulded in the time that one unit takes."""
        return self.extra.value / self.taken.value


@dataclass(frozen=True, slots=True)
class HullUse:
    """An option's year: units, and the pulls of the hull mould that they take."""

    hold: HullHold
    units: Figure
    pulls: Figure


@dataclass(frozen=True, slots=True)
class HullLoad:
    """A model's hull moulds in the planned year: hulls, what options take, and what there is."""

    model: PricedModel
    hulls: Figure
    taken: Figure
    uses: tuple[HullUse, ...]
    displaced: Figure
    all: Figure
    capacity: Figure
    sets: Figure
    there: Figure
    short: Figure


def hold_of(pricing: Pricing, model: PricedModel, id: str) -> HullHold | None:
    """How long an option or package keeps the hull mould; None where nothing says so."""
    calendar, item = pricing.catalogue.yard.policy.shift_calendar, model.extras.get(id)
    times = list(_times(pricing, id))
    if calendar is None or model.model.hull_mould is None or item is None or not times:
        return None
    bare = _bare(pricing, model.model)
    without, key = _clock(bare, calendar), f"hull_mould.{model.model.id}"
    extra = max(0.0, _clock([*bare, *times], calendar) - without)
    name, of, place = model.model.name, f"{key}.{id}", item.assembly.recipe.place
    label = f"{name}: {item.assembly.name}"

    def hours(value: float, key: str, what: str) -> Figure:
        return stated(AN_HOUR * value, key, what, place)

    return HullHold(
        model,
        item,
        hours(sum(work for work, _ in times), f"{of}.work", f"{label}, work in the hull mould"),
        hours(sum(cure for _, cure in times), f"{of}.cure", f"{label}, cure in the hull mould"),
        hours(extra, f"{of}.extra", f"{label}, hull mould kept longer by the clock"),
        _taken(without, key, model.model),
    )


def hull_loads(
    pricing: Pricing,
    boats: Mapping[str, Figure],
    units: Mapping[tuple[str, str], Figure],
) -> list[HullLoad]:
    """The planned year of every model that states how long a hull keeps its mould.

    Args:
        pricing: the finished costing with prices
        boats: model id -> boats a year
        units: (model id, option id) -> units a year
    """
    calendar = pricing.catalogue.yard.policy.shift_calendar
    return [
        _load(pricing, pricing.models[id], hulls, units, calendar)
        for id, hulls in boats.items()
        if calendar is not None and pricing.models[id].model.hull_mould is not None
    ]


def _load(
    pricing: Pricing,
    model: PricedModel,
    hulls: Figure,
    units: Mapping[tuple[str, str], Figure],
    calendar: ShiftCalendar,
) -> HullLoad:
    id, name, uses = str(model.model.id), model.model.name, []
    key, mould = f"hull_mould.{id}", model.model.hull_mould
    taken = _taken(_clock(_bare(pricing, model.model), calendar), key, model.model)
    for (of, option), count in units.items():
        hold = hold_of(pricing, model, option) if of == id else None
        if hold is not None:
            label = phrase(
                "{name}: {option}, pulls of the hull mould",
                name=name,
                option=hold.item.assembly.name,
            )
            pulls = pulls_displaced(count, hold.extra, taken)
            uses.append(HullUse(hold, count, pulls.named(f"{key}.{option}.pulls", label)))
    displaced = total([use.pulls for use in uses], NONE)
    displaced = displaced.named(
        f"{key}.displaced", phrase("{name}: pulls that options take", name=name)
    )
    needed = (hulls + displaced).named(
        f"{key}.all", phrase("{name}: pulls with options", name=name)
    )
    gives = one_set_gives(pricing.catalogue.yard.policy, taken)
    gives = gives.named(f"{key}.capacity", phrase("{name}: hulls a year of one mould", name=name))
    sets = sets_needed(needed, gives).named(
        f"{key}.sets", phrase("{name}: hull moulds needed", name=name)
    )
    there = ONE if mould is None or mould.sets is None else mould.sets
    return HullLoad(
        model, hulls, taken, tuple(uses), displaced, needed, gives, sets, there, less(there, sets)
    )


def _taken(clock: float, key: str, model: Model) -> Figure:
    label = phrase("{name}: hours by the clock from hull to hull", name=model.name)
    return stated(AN_HOUR * clock, f"{key}.clock", label, model.place)


def _bare(pricing: Pricing, model: Model) -> list[tuple[float, float]]:
    """The hull, with what is standard in it."""
    times = [] if model.hull_mould is None else [_hours(model.hull_mould)]
    for option in model.standard:
        times += _times(pricing, str(option))
    return times


def _times(pricing: Pricing, id: str) -> Iterator[tuple[float, float]]:
    """Work and cure of an option in the hull mould, or of all that a package holds."""
    records = pricing.catalogue.records
    package = records.packages.get(id)
    for each in (id,) if package is None else package.options:
        option = records.options.get(str(each))
        if option is not None and option.hull_mould is not None:
            yield _hours(option.hull_mould)


def _hours(time: HullTime) -> tuple[float, float]:
    return time.work.value, 0.0 if time.cure is None else time.cure.value


def _clock(times: list[tuple[float, float]], calendar: ShiftCalendar) -> float:
    shift = calendar.shifts.value * calendar.hours.value
    return pull_to_pull(tuple(times), shift, calendar.days.value)
