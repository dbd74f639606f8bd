"""Rules within parts and operations: shapes, zones, quantities, pressures, drivers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.materials import counted_in, said
from quoter.catalogue.options import Credit, Option, PartUse
from quoter.catalogue.parts import (
    DRIVERS,
    ClosedMouldPart,
    CorePart,
    Goods,
    OpenMouldPart,
    Operation,
    Shape,
)
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Place, Problem

STANDARD_ATMOSPHERE_KPA = 101.325
_RECTANGLE = ("width", "height", "corner_radius")
_BY_HAND = ("area", "perimeter")


def check_shapes(records: Records) -> Iterator[Problem]:
    """A shape is a rectangle, a circle or numbers written by hand, and never two of them."""
    for part in records.parts.values():
        yield from _shape_faults(part.shape, whole=True)
        shape = part.shape
        flat = _any(shape.area, shape.width, shape.diameter) and _any(shape.thickness)
        if isinstance(part, CorePart) and not (_any(shape.volume) or flat):
            what = f"core '{part.id}' has no volume"
            yield Problem(shape.place, what, "give 'volume:', or dimensions and 'thickness:'")
    for option in records.options.values():
        uses: tuple[PartUse | Credit, ...] = (*option.parts, *option.credits)
        for use in uses:
            for override in (use.shape, *use.per_model.values()):
                if override is not None:
                    yield from _shape_faults(override, whole=False)


def _any(*figures: Figure | None) -> bool:
    return any(figure is not None for figure in figures)


def _shape_faults(shape: Shape, *, whole: bool) -> Iterator[Problem]:
    given = {name for name in type(shape).model_fields if getattr(shape, name) is not None}
    ways = [bool(given & set(_RECTANGLE)), "diameter" in given]
    if sum(ways) > 1:
        what = "a shape can't be a rectangle and a circle at once"
        yield Problem(shape.place, what, "give width and height, or diameter")
    if ways[0] and whole and not {"width", "height"} <= given:
        yield Problem(shape.place, "a rectangle needs width and height", "add the other one")
    sides = [side.value for side in (shape.width, shape.height) if side is not None]
    if shape.corner_radius is not None and sides:
        least = min(sides)
        if shape.corner_radius.value * 2 > least:
            what = "the corner radius is more than half the shorter side"
            yield Problem(shape.place, what, f"expected at most {least * 500:g} mm")
    if whole and not given:
        hint = "give width and height, diameter, area, or volume"
        yield Problem(shape.place, "the shape is empty", hint)


def check_zones(records: Records) -> Iterator[Problem]:
    """A zone is one area; a closed mould also needs the gap its cavity leaves."""
    for part in records.parts.values():
        if isinstance(part, CorePart):
            continue
        closed = isinstance(part, ClosedMouldPart)
        for zone in (*part.zones, *part.gelcoat):
            given = [name for name in ("area", "strip", "share") if getattr(zone, name) is not None]
            if len(given) > 1:
                what = f"{' and '.join(given)} are given together"
                yield Problem(zone.place, what, "give one: area, strip along the edge, or share")
        for zone in part.zones:
            if closed and zone.gap is None:
                what = f"zone '{zone.name}' has no gap"
                yield Problem(zone.place, what, "add the cavity thickness, for example 'gap: 6 mm'")
            if not closed and (zone.gap is not None or zone.core is not None):
                what = f"zone '{zone.name}' of an open mould has a gap or core"
                yield Problem(zone.place, what, "only closed_mould parts have a cavity")
        if isinstance(part, OpenMouldPart) and part.zones and part.resin is None:
            yield Problem(part.place, f"part '{part.id}' has zones but no resin", "add 'resin:'")
        if not (part.zones or part.gelcoat):
            yield Problem(part.place, f"part '{part.id}' has neither zones nor gelcoat", "add one")


def check_goods_quantities(records: Records) -> Iterator[Problem]:
    """Bought goods are counted the way they are bought: pieces, metres, areas or masses."""
    for owner in (*records.parts.values(), *records.options.values()):
        for goods in owner.goods:
            yield from _goods_faults(records, goods, owner)


def _goods_faults(records: Records, goods: Goods, owner: Any) -> Iterator[Problem]:
    ways = (goods.quantity, goods.per_perimeter, goods.per_area)
    given = [figure for figure in ways if figure is not None]
    if len(given) != 1:
        hint = "give one of quantity, per_perimeter and per_area"
        yield Problem(goods.place, f"found {len(given)} amounts of '{goods.item}'", hint)
    if isinstance(owner, Option) and goods.quantity is None:
        what = f"'{goods.item}' of an option has no quantity"
        yield Problem(goods.place, what, "an option has no edge or area of its own")
    item = records.of("bought").get(str(goods.item))
    if item is None or goods.quantity is None:
        return
    wanted = counted_in(item)
    if goods.quantity.unit != wanted:
        what = f"'{goods.item}' is counted in {said(wanted)}, found {said(goods.quantity.unit)}"
        yield Problem(goods.place, what, f"its mass is given in {str(item.mass.unit) or 'kg/kg'}")


def check_moulding_pressure(records: Records) -> Iterator[Problem]:
    """A vacuum can pull no harder than the atmosphere pushes."""
    for part in records.of("closed_mould").values():
        for name in ("flange_pressure", "cavity_pressure"):
            found = getattr(part.vacuum, name).value / 1000
            if found > STANDARD_ATMOSPHERE_KPA:
                what = (
                    f"{name.replace('_', ' ')} of {found:g} kPa is more than the atmosphere gives"
                )
                place = _place(getattr(part.vacuum, name), part.vacuum.place)
                yield Problem(place, what, f"at most {STANDARD_ATMOSPHERE_KPA} kPa (14.7 psi)")


def _place(figure: Any, otherwise: Place) -> Place:
    while figure.origin is None and figure.args:
        figure = figure.args[0]
    return figure.origin.place if figure.origin else otherwise


def check_operation_drivers(records: Records) -> Iterator[Problem]:
    """A rate needs its amount, and a station on machine hours needs them from every operation."""
    for owner in (*records.parts.values(), *records.options.values()):
        for operation in owner.operations:
            yield from _operation_faults(records, operation, owner)
        stages = [stage for operation in owner.operations for stage in operation.uses]
        for stage in sorted({stage for stage in stages if stages.count(stage) > 1}):
            what = f"two operations of '{owner.id}' use the {stage} lines"
            yield Problem(owner.place, what, "material enters once; name the first of them")


def _operation_faults(records: Records, operation: Operation, owner: Any) -> Iterator[Problem]:
    known = _known_drivers(owner)
    for driver in DRIVERS:
        name = driver.replace(" ", "_")
        rated = operation.rates is not None and getattr(operation.rates, name) is not None
        given = operation.drivers is not None and getattr(operation.drivers, name) is not None
        if rated and not given and driver not in known:
            what = f"operation '{operation.name}' has a rate per {driver} but no {driver}"
            yield Problem(operation.place, what, f"add it, 'drivers: {{{name}: ...}}'")
    station = records.stations.get(str(operation.station))
    if station and station.overhead.base == "machine hours" and operation.machine is None:
        what = f"station '{station.id}' absorbs on machine hours, '{operation.name}' has none"
        yield Problem(operation.place, what, "add for example 'machine: 30 min'")
    if operation.rates is None and not _any(operation.fixed, operation.setup):
        what = f"operation '{operation.name}' takes no time"
        yield Problem(operation.place, what, "add fixed, setup or rates")


def _known_drivers(owner: Any) -> set[str]:
    """What the geometry and take-off of a part give without being written."""
    if isinstance(owner, Option):
        return set()
    shape = owner.shape
    known = {"count"}
    if _any(shape.area, shape.width, shape.diameter):
        known.add("area")
    if _any(shape.perimeter, shape.width, shape.diameter):
        known.add("perimeter")
    if isinstance(owner, OpenMouldPart | ClosedMouldPart):
        known |= {"plies", "glass mass", "gelcoat faces"}
    return known
