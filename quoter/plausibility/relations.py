"""Values held against each other: areas of a part, the masses and hours of a boat, pulls, volumes.

Each has its range in `of_relations`, where it is written with its source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import median

from quoter.catalogue.checks import offered
from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.markets import Rounding
from quoter.catalogue.materials import Gelcoat, Glass, Resin
from quoter.catalogue.options import BaseBoat, Model
from quoter.catalogue.parts import (
    Face,
    MouldedPart,
    Shape,
    Vacuum,
    Zone,
)
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.engineering import geometry
from quoter.figures import Figure
from quoter.plausibility import of_relations as usual
from quoter.plausibility.cases import Cases
from quoter.plausibility.drawn import planned, pulls_drawn
from quoter.plausibility.meant import Doubts, how_to_say
from quoter.plausibility.usual import Usual, shown
from quoter.problems import Place, Problem

SISTERS = 6  # the boats of nearest length that say what one more is like
LEAST_SISTERS = 3


@dataclass(frozen=True, slots=True)
class Ratio:
    """What a relation came to: of which records, at which place, about what, and its size."""

    usual: Usual
    records: tuple[CatalogueRecord, ...]
    place: Place
    about: str
    size: float


def related(catalogue: Catalogue, doubts: Doubts) -> None:
    """Tell of values that do not fit to each other."""
    records = catalogue.records
    told: set[tuple[Place, str]] = set()
    for found in _ratios(records):
        if found.usual.bounds.hold(found.size):
            continue
        first = (found.place, found.about) not in told
        told.add((found.place, found.about))
        name = found.usual.field
        if first:
            size = shown(found.usual, found.size)
            what = f"{found.about} is {size}, and {found.usual.within} is usual"
            hint = f"{found.usual.relation}: {found.usual.source}; "
            hint += how_to_say(found.records[0], name)
            problem = Problem(found.place, "unusual", what, hint, warning=True)
            doubts.add(found.records, name, problem)
        else:
            any(doubts.means(record, name) for record in found.records)
    _without_take_rate(records, doubts)


def _ratios(records: Records) -> Iterator[Ratio]:
    cases = Cases(records)
    for part in records.parts.values():
        if isinstance(part, MouldedPart):
            yield from _areas(part)
    for record in every_record(records):
        if isinstance(record, Vacuum):
            yield from _cavity(record)
        elif isinstance(record, Rounding) and record.ending is not None:
            size = abs(record.ending.value) / record.step.value
            place = figure_place(record.ending)
            yield Ratio(usual.ENDING, (record,), place, "the ending, of its step,", size)
    yield from _overheads(records, cases)
    for foam in records.of("foam").values():
        size = foam.parts_a.value / foam.parts_b.value
        place = figure_place(foam.parts_a)
        yield Ratio(usual.MIX, (foam,), place, "one component, of the other,", size)
    for model in records.models.values():
        size = model.beam.value / model.length.value
        about = f"the beam of '{model.id}', of its length,"
        yield Ratio(usual.BEAM, (model,), figure_place(model.beam), about, size)
        yield from _laminate(records, model)
    yield from _sisters(records)
    for mould, pulls in pulls_drawn(records).items():
        record = records.moulds[mould]
        size = record.pulls_per_year.value / pulls
        about = f"what '{mould}' plans of the {pulls:.4g} pulls a year that the volumes draw"
        yield Ratio(usual.PULLS, (record,), figure_place(record.pulls_per_year), about, size)


def _cavity(vacuum: Vacuum) -> Iterator[Ratio]:
    if vacuum.flange_pressure.value:
        size = vacuum.cavity_pressure.value / vacuum.flange_pressure.value
        place = figure_place(vacuum.cavity_pressure)
        yield Ratio(usual.CAVITY, (vacuum,), place, "the cavity's vacuum, of the flange's,", size)


def _overheads(records: Records, cases: Cases) -> Iterator[Ratio]:
    for station in records.stations.values():
        overhead = station.overhead
        budget = overhead.variable.value + overhead.fixed.value
        in_euros = cases.euros(budget, records.home or "")
        if overhead.capacity.unit.currencies or not budget or in_euros is None:
            continue
        place = figure_place(overhead.capacity)
        about = f"the overhead of '{station.id}' over an hour"
        size = in_euros / overhead.capacity.value
        yield Ratio(usual.OVERHEAD, (overhead,), place, about, size)


@dataclass(frozen=True, slots=True)
class Size:
    """What regions of a part are measured by, where its shape says it."""

    area: float | None
    edge: float | None
    half_side: float | None


def size_of(shape: Shape) -> Size:
    """Area, edge and half the shorter side of a shape; of hand-written numbers, of the rectangle
    that has them."""
    area = None if shape.area is None else shape.area.value
    edge = None if shape.perimeter is None else shape.perimeter.value
    half = None
    if shape.diameter is not None:
        across = shape.diameter.value
        area = area or geometry.circle_area(across)
        edge, half = edge or geometry.circle_perimeter(across), across / 2
    elif shape.width is not None and shape.height is not None:
        radius = 0.0 if shape.corner_radius is None else shape.corner_radius.value
        sides = shape.width.value, shape.height.value, radius
        area = area or geometry.rectangle_area(*sides)
        edge, half = edge or geometry.rectangle_perimeter(*sides), min(sides[:2]) / 2
    elif area is not None and edge is not None:
        half = (edge / 4 - sqrt(max(edge**2 / 16 - area, 0.0))) / 2
    return Size(area, edge, half)


def _areas(part: MouldedPart) -> Iterator[Ratio]:
    size = size_of(part.shape)
    zones = usual.ZONES[type(part)]
    found: tuple[tuple[tuple[Usual, ...], tuple[Zone | Face, ...], str], ...] = (
        ((usual.ZONE, usual.ZONE_STRIP, zones), part.zones, "zone"),
        ((usual.FACE, usual.FACE_STRIP, usual.FACES), part.gelcoat, "face"),
    )
    for ranges, regions, called in found:
        one, strip, together = ranges
        areas = [_area(region, size) for region in regions]
        for region, area in zip(regions, areas, strict=True):
            about = f"{called} '{region.name if isinstance(region, Zone) else region.colour}'"
            if region.area is not None and area is not None and size.area:
                place = figure_place(region.area)
                about = f"{about} of '{part.id}', of its area,"
                yield Ratio(one, (region,), place, about, area / size.area)
            if region.strip is not None and size.half_side:
                place, ratio = figure_place(region.strip), region.strip.value / size.half_side
                about = f"the strip of {about}, of half the part's shorter side,"
                yield Ratio(strip, (region,), place, about, ratio)
        known = [area for area in areas if area is not None]
        written = [region.area.value for region in regions if region.area is not None]
        alone = [one.bounds.hold(area / size.area) for area in written if size.area]
        if known and len(known) == len(areas) and size.area and all(alone):
            about = f"all {called}s of '{part.id}', of its area,"
            where = regions[0].place
            yield Ratio(together, (part, *regions), where, about, sum(known) / size.area)


def _area(region: Zone | Face, size: Size) -> float | None:
    if region.area is not None:
        return region.area.value
    if region.strip is not None:
        return None if size.edge is None else size.edge * region.strip.value
    share = 1.0 if region.share is None else region.share.value
    return None if size.area is None else share * size.area


def _laminate(records: Records, model: Model) -> Iterator[Ratio]:
    """Of what a boat states: resin against what its glass needs, laminate against its mass."""
    base, materials = model.base, records.materials
    glass, resin, gelcoat, needed = 0.0, 0.0, 0.0, 0.0
    place = None
    for id, amount in base.materials.items():
        material = materials.get(id)
        if isinstance(material, Glass):
            glass += amount.value
            needed += amount.value * (1 / material.glass_content.value - 1)
        elif isinstance(material, Resin):
            resin += amount.value
            place = figure_place(amount)
        elif isinstance(material, Gelcoat):
            gelcoat += amount.value
    if needed:
        about = f"the resin of '{model.id}', of the {needed:.4g} kg that its glass needs,"
        yield Ratio(usual.RESIN, (base,), place or base.place, about, resin / needed)
    if base.mass.value:
        about = f"the stated laminate of '{model.id}', of its mass,"
        size = (glass + resin + gelcoat) / base.mass.value
        yield Ratio(usual.LAMINATE, (base,), figure_place(base.mass), about, size)


def _sisters(records: Records) -> Iterator[Ratio]:
    """A boat's hours and mass against those of the boats of nearest length."""
    for usual_one, of in ((usual.HOURS, _hours), (usual.MASS, _mass)):
        known = {
            id: (log(model.length.value), log(size))
            for id, model in records.models.items()
            if (size := of(model.base)) > 0
        }
        for id, (long, size) in known.items():
            near = _nearest([each for other, each in known.items() if other != id], long)
            if len(near) < LEAST_SISTERS:
                continue
            base: BaseBoat = records.models[id].base
            most = base.mass if of is _mass else max(base.hours.values(), key=_value)
            about = f"the {usual_one.field} of '{id}', of what sisters say for its length,"
            size_told = exp(size - _by_sisters(near, long))
            yield Ratio(usual_one, (base,), figure_place(most), about, size_told)


def _hours(base: BaseBoat) -> float:
    """All that a boat states; nothing of one that is built up, which states the rest alone."""
    if any(getattr(base, name, ()) for name in ("parts", "operations")):
        return 0.0
    return sum(hours.value for hours in base.hours.values())


def _mass(base: BaseBoat) -> float:
    return base.mass.value


def _nearest(sisters: list[tuple[float, float]], long: float) -> list[tuple[float, float]]:
    return sorted(sisters, key=lambda each: (abs(each[0] - long), each))[:SISTERS]


def _value(figure: Figure) -> float:
    return figure.value


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


def _without_take_rate(records: Records, doubts: Doubts) -> None:
    """An option that no plan knows of, although the boats that have it are planned."""
    if not any(row.take_rate is not None for row in records.volumes):
        return
    years = planned(records)
    standard = {id: set(map(str, records.models[id].standard)) for id in years}
    for option in records.options.values():
        lacking = [
            id
            for id, year in years.items()
            if option.id not in year.takes
            and option.id not in standard[id]
            and offered(option, records.models[id])
        ]
        if not lacking:
            continue
        names = ", ".join(lacking)
        what = f"option '{option.id}' has no take rate on {names}"
        hint = f"add lines to volumes.csv; {how_to_say(option, usual.TAKE_RATE.field)}"
        place = option.id.place
        problem = Problem(place, "unusual", what, hint, warning=True)
        doubts.add((option,), usual.TAKE_RATE.field, problem)
