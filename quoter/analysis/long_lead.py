"""Cost at the day of building, where a boat is built long after its price is worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from quoter.catalogue.prices import Catalogue
from quoter.catalogue.rises import announced_rises
from quoter.catalogue.yard import Building
from quoter.costing.assembly import Assembly
from quoter.costing.elements import in_words
from quoter.engineering.purchasing import moved_price
from quoter.figures import Figure, stated, total
from quoter.figures.graph import evaluate, in_order
from quoter.phrases import phrase
from quoter.pricing.price import Pricing

MONTHS = 12
LAST_DAY = 28  # that every month has


@dataclass(frozen=True, slots=True)
class Dearer:
    """What a material class adds to a cost by then; `announced` of it is by suppliers' letters."""

    material_class: str
    announced: Figure
    expected: Figure

    @property
    def words(self) -> str:
        """What people call the class."""
        return in_words(self.material_class)


@dataclass(frozen=True, slots=True)
class Built:
    """A cost at the day of building: today's, and what each class of material adds to it."""

    day: date
    today: Figure
    added: tuple[Dearer, ...]
    cost: Figure


@dataclass(frozen=True, slots=True)
class Moved:
    """A supplier's price as it stands, as it will be, and whether a letter says so."""

    price: Figure
    material_class: str
    then: float
    announced: bool


def building_day(catalogue: Catalogue, building: Building) -> date:
    """The day of building: so many months after the day of the costs."""
    return later(catalogue.as_of, int(building.months.value))


def later(day: date, months: int) -> date:
    """A day so many months later, the 28th of the month at the latest, since every month has it.

    >>> later(date(2026, 11, 30), 3)
    datetime.date(2027, 2, 28)
    """
    years, month = divmod(day.month - 1 + months, MONTHS)
    return date(day.year + years, month + 1, min(day.day, LAST_DAY))


def prices_then(pricing: Pricing) -> list[Moved]:
    """Every supplier's price that is another at the day of building.

    One that a supplier has announced by then moves by that alone, since it is known; the others
    move by what the policy expects of their class in a year.
    """
    catalogue = pricing.catalogue
    building = catalogue.yard.policy.building
    if building is None:
        return []
    day, years = building_day(catalogue, building), building.months.value / MONTHS
    raised: dict[str, float] = {}
    for rise in announced_rises(catalogue):
        if rise.row.effective <= day:
            raised |= {id: price.value for id, price in rise.prices.items()}
    found = []
    for id, row in catalogue.prices.items():
        of = pricing.costing.rates.classes[id]
        move = building.moves.get(of)
        if id in raised:
            found.append(Moved(row.price, of, raised[id], True))
        elif move is not None:
            then = moved_price(row.price.value, move.value, years)
            found.append(Moved(row.price, of, then, False))
    return found


def built_cost(pricing: Pricing, assembly: Assembly, moved: list[Moved]) -> Built | None:
    """The cost of a boat or an option at the day of building; None without a policy for it.

    A cost is a straight line in each price, so what classes add adds up.

    Args:
        pricing: the finished costing with prices
        assembly: the boat or option
        moved: the prices that will be others
    """
    building = pricing.catalogue.yard.policy.building
    if building is None:
        return None
    key, name, place = assembly.recipe.key, assembly.name, assembly.recipe.place
    nothing, behind = assembly.cost * 0.0, set(in_order([assembly.cost]))
    added = []
    for of in dict.fromkeys(each.material_class for each in moved):
        parts = []
        for announced in (True, False):
            replaced = {
                each.price: each.then
                for each in moved
                if each.material_class == of
                and each.announced is announced
                and each.price in behind
            }
            more = _value(assembly.cost, replaced) - assembly.cost.value
            words = phrase("announced rises") if announced else phrase("expected moves")
            parts.append(
                stated(
                    Figure(more, nothing.unit),
                    f"{key}.building.{of}.{'announced' if announced else 'expected'}",
                    phrase(
                        "{name}: {of}, {words} until the day of building",
                        name=name,
                        of=of,
                        words=words,
                    ),
                    place,
                )
            )
        if any(part.value for part in parts):
            added.append(Dearer(of, *parts))
    parts = [part for one in added for part in (one.announced, one.expected) if part.value]
    terms = [assembly.cost, *parts]
    day = building_day(pricing.catalogue, building)
    cost = total(terms, nothing).named(
        f"{key}.cost_at_building", phrase("{name}: cost if built on {day}", name=name, day=day)
    )
    return Built(day, assembly.cost, tuple(added), cost)


def _value(cost: Figure, replaced: Mapping[Figure, float]) -> float:
    return float(evaluate([cost], replaced)[0]) if replaced else cost.value
