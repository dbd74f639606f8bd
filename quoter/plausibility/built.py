"""Relations of what was costed: a boat's resin, mass and hours, and what keeps its hull mould.

A boat that is built up counts with its parts, and each boat with its standard options.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, log
from statistics import median

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.materials import Gelcoat, Glass, Resin
from quoter.catalogue.options import BaseBoat, Option
from quoter.catalogue.records import Records
from quoter.costing.assembly import Assembly, in_building_order
from quoter.costing.occupation import taken_by
from quoter.costing.quantities import STATED
from quoter.costing.rollup import Costing, ModelCost
from quoter.plausibility import of_relations as usual
from quoter.plausibility.meant import Doubts
from quoter.plausibility.relations import Ratio, tell
from quoter.problems import Place

SISTERS = 6  # the boats of nearest length that say what one more is like
LEAST_SISTERS = 3
LAMINATE = ("glass", "resin", "gelcoat")


def built(costing: Costing, doubts: Doubts) -> None:
    """Tell of boats and options whose costed masses and hours do not fit to each other.

    Sisters are compared where all models were costed.
    """
    tell(_ratios(costing), doubts)


def _ratios(costing: Costing) -> Iterator[Ratio]:
    records = costing.catalogue.records
    if len(costing.models) == len(records.models):
        yield from _sisters(costing)
    for model in costing.models.values():
        yield from _laminate(records, model)
    compared: set[str] = set()
    for model in costing.models.values():
        for id, option in model.options.items():
            if id not in compared:
                compared.add(id)
                yield from _hull_mould(records, records.options[id], option)


@dataclass(slots=True)
class Laid:
    """What a boat holds of each [kg]: stated amounts, and what stays of what is built up.

    `needed` is the resin of the stated glass by its glass content; that of a part is what its
    take-off says.
    """

    glass: float = 0.0
    resin: float = 0.0
    gelcoat: float = 0.0
    needed: float = 0.0
    place: Place | None = None


def _laid(records: Records, model: ModelCost) -> Laid:
    found = Laid()
    for made in in_building_order(model.base):
        for each in made.assembly.materials:
            line, material = each.line, records.materials.get(each.line.material)
            stated = line.stage == STATED
            mass = (line.net if stated else line.mass).value * made.quantity.value
            if isinstance(material, Glass):
                found.glass += mass
                found.needed += mass * (1 / material.glass_content.value - 1) if stated else 0.0
            elif isinstance(material, Resin):
                found.resin += mass
                found.needed += 0.0 if stated else mass
                found.place = line.place if stated else found.place
            elif isinstance(material, Gelcoat):
                found.gelcoat += mass
    return found


def _laminate(records: Records, model: ModelCost) -> Iterator[Ratio]:
    """Resin against what the glass needs, and laminate against the mass of the boat.

    Nothing of a boat that states any of these by cost: how much that is, nobody knows.
    """
    base, id = model.model.base, model.model.id
    if any(name in base.material for name in LAMINATE):
        return
    laid = _laid(records, model)
    if not laid.glass or not laid.resin:
        return
    if laid.needed:
        about = f"the resin of '{id}', of the {laid.needed:.4g} kg that its glass needs,"
        size = laid.resin / laid.needed
        yield Ratio(usual.RESIN, (base,), laid.place or base.place, about, size)
    if model.base.mass.value > 0:
        about = f"the laminate of '{id}', of its mass,"
        size = (laid.glass + laid.resin + laid.gelcoat) / model.base.mass.value
        yield Ratio(usual.LAMINATE, (base,), _mass_place(base), about, size)


def _mass_place(base: BaseBoat) -> Place:
    return base.place if base.mass is None else figure_place(base.mass)


def _hours_place(base: BaseBoat) -> Place:
    if not base.hours:
        return base.place
    return figure_place(max(base.hours.values(), key=lambda hours: hours.value))


def _sisters(costing: Costing) -> Iterator[Ratio]:
    """A boat's hours and mass against those of the boats of nearest length."""
    for usual_one in (usual.HOURS, usual.MASS):
        by_hours = usual_one is usual.HOURS
        known: dict[str, tuple[float, float]] = {}
        for id, model in costing.models.items():
            size = (model.base.all_hours if by_hours else model.base.mass).value
            if size > 0:
                known[id] = log(model.model.length.value), log(size)
        for id, (long, size) in known.items():
            near = _nearest([each for other, each in known.items() if other != id], long)
            if len(near) < LEAST_SISTERS:
                continue
            base = costing.models[id].model.base
            place = _hours_place(base) if by_hours else _mass_place(base)
            about = f"the {usual_one.field} of '{id}', of what sisters say for its length,"
            yield Ratio(usual_one, (base,), place, about, exp(size - _by_sisters(near, long)))


def _nearest(sisters: list[tuple[float, float]], long: float) -> list[tuple[float, float]]:
    return sorted(sisters, key=lambda each: (abs(each[0] - long), each))[:SISTERS]


def _by_sisters(near: list[tuple[float, float]], long: float) -> float:
    """The logarithm of a size at a length, by the power law through sisters (Theil and Sen)."""
    slopes = [
        (two[1] - one[1]) / (two[0] - one[0])
        for number, one in enumerate(near)
        for two in near[number + 1 :]
        if abs(two[0] - one[0]) > 1e-6
    ]
    slope = median(slopes) if slopes else 3.0
    return median(size - slope * at for at, size in near) + slope * long


def _hull_mould(records: Records, option: Option, costed: Assembly) -> Iterator[Ratio]:
    """The hours that an option keeps the hull mould, against those of the part that takes longest.

    Several that are bolted in are laid up and cure side by side.
    """
    kept = option.hull_mould
    if kept is None:
        return
    open_parts = records.of("open_mould")
    taken = [
        taken_by(use.assembly, None)
        for use in costed.recipe.uses
        if not use.credit and use.assembly.recipe.id in open_parts and use.assembly.recipe.moulds
    ]
    longest = max((one.work.value + one.cure.value for one in taken), default=0.0)
    if longest > 0:
        size = kept.work.value + (0.0 if kept.cure is None else kept.cure.value)
        about = (
            f"what '{option.id}' keeps the hull mould, of the {longest:.4g} h of its open mould,"
        )
        yield Ratio(usual.HULL_MOULD, (kept,), figure_place(kept.work), about, size / longest)
