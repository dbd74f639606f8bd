"""Rules of parts and of the work on them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_processes import is_sprayed
from quoter.catalogue.examples import example, thickness
from quoter.catalogue.materials import counted_in, said
from quoter.catalogue.operations import DRIVERS, Learning, Operation
from quoter.catalogue.options import BaseBoat, Credit, Option, PartUse
from quoter.catalogue.parts import (
    AnyPart,
    ClosedMouldPart,
    CorePart,
    Face,
    Goods,
    InfusedPart,
    MouldedPart,
    OpenMouldPart,
    Shape,
    Zone,
)
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Problem
from quoter.units import unit

STANDARD_ATMOSPHERE_KPA = 101.325
_RECTANGLE = ("width", "height", "corner_radius")


def gives_area(shape: Shape) -> bool:
    """Whether a part's own shape says its area."""
    return _any(shape.area, shape.width, shape.diameter)


def gives_perimeter(shape: Shape) -> bool:
    """Whether a part's own shape says the length of its edge."""
    return _any(shape.perimeter, shape.width, shape.diameter)


def _any(*figures: Figure | None) -> bool:
    return any(figure is not None for figure in figures)


def check_shapes(records: Records) -> Iterator[Problem]:
    """A shape is a rectangle, a circle or numbers written by hand, and never two of them."""
    for part in records.parts.values():
        yield from shape_faults(part.shape)
        if isinstance(part, CorePart) and not _gives_volume(part.shape):
            yield _no_volume(part, part.shape)
    uses: list[PartUse | Credit] = [
        use for model in records.models.values() for use in model.base.parts
    ]
    for option in records.options.values():
        uses += [*option.parts, *option.credits]
    for use in uses:
        found = records.parts.get(str(use.part))
        for override in (use.shape, *use.per_model.values()):
            if override is not None and found is not None:
                yield from _override_faults(override, found)


def _gives_volume(shape: Shape) -> bool:
    return _any(shape.volume) or (gives_area(shape) and _any(shape.thickness))


def _no_volume(part: AnyPart, shape: Shape) -> Problem:
    hint = "give 'volume:', or the dimensions and 'thickness:'"
    return Problem(
        shape.place, "no-dimension", f"the shape of core '{part.id}' has no volume", hint
    )


def shape_faults(shape: Shape) -> Iterator[Problem]:
    """What is wrong with a shape that says all of it."""
    given = {name for name in type(shape).model_fields if getattr(shape, name) is not None}
    if not given:
        hint = "give width and height, diameter, area, or volume"
        yield Problem(shape.place, "bad-shape", "the shape is empty", hint)
    yield from _two_ways(shape)
    if given & set(_RECTANGLE) and not {"width", "height"} <= given:
        lacks = " and ".join(name for name in ("width", "height") if name not in given)
        what = f"the shape has a {min(given & set(_RECTANGLE)).replace('_', ' ')} but no {lacks}"
        yield Problem(shape.place, "bad-shape", what, "a rectangle needs width and height")
    yield from _radius_fault(shape, shape.width, shape.height, shape.corner_radius)


def _two_ways(shape: Shape) -> Iterator[Problem]:
    if _any(*(getattr(shape, name) for name in _RECTANGLE)) and shape.diameter is not None:
        what = "the shape is a rectangle and a circle at once"
        yield Problem(shape.place, "bad-shape", what, "give width and height, or diameter")


def _radius_fault(
    shape: Shape, width: Figure | None, height: Figure | None, radius: Figure | None
) -> Iterator[Problem]:
    sides = [side.value for side in (width, height) if side is not None]
    if radius is not None and sides and radius.value * 2 > min(sides):
        what = f"the corner radius of {thickness(radius.value)} is more than half the shorter side"
        place = figure_place(radius) if shape.corner_radius is radius else shape.place
        yield Problem(place, "bad-shape", what, f"expected at most {thickness(min(sides) / 2)}")


def _override_faults(other: Shape, part: AnyPart) -> Iterator[Problem]:
    """What goes wrong when a shape replaces some of a part's own dimensions."""
    yield from _two_ways(other)
    if other.diameter is None:
        own = part.shape
        width = other.width if other.width is not None else own.width
        height = other.height if other.height is not None else own.height
        radius = other.corner_radius if other.corner_radius is not None else own.corner_radius
        if _any(*(getattr(other, name) for name in _RECTANGLE)) and None in (width, height):
            what = f"with this, '{part.id}' has no {'width' if width is None else 'height'}"
            yield Problem(
                other.place, "bad-shape", what, "a rectangle needs width and height: give both here"
            )
        yield from _radius_fault(other, width, height, radius)
    new_sides = _any(other.width, other.height, other.diameter)
    thick = _any(other.volume, other.thickness, part.shape.thickness)
    if isinstance(part, CorePart) and new_sides and not thick:
        yield _no_volume(part, other)


def check_zones(records: Records) -> Iterator[Problem]:
    """A zone is one area; a closed mould also needs the gap its cavity leaves."""
    for part in records.parts.values():
        if isinstance(part, CorePart):
            continue
        regions: tuple[Zone | Face, ...] = (*part.zones, *part.gelcoat)
        for region in regions:
            yield from _region_faults(region, part)
        for zone in part.zones:
            yield from _cavity_faults(zone, part)
        yield from _rest_faults(part)
        if isinstance(part, ClosedMouldPart | InfusedPart) and not part.zones:
            what = f"part '{part.id}' has no zones"
            yield Problem(part.place, "empty", what, "list at least one under 'zones:'")
        if isinstance(part, OpenMouldPart) and part.zones and part.resin is None:
            yield Problem(
                part.place,
                "missing-key",
                f"part '{part.id}' has zones but no resin",
                "add 'resin:'",
            )
        if not (part.zones or part.gelcoat) and isinstance(part, OpenMouldPart):
            what = f"part '{part.id}' has neither zones nor gelcoat"
            yield Problem(part.place, "empty", what, "add 'zones:' or 'gelcoat:'")


def _region_faults(region: Zone | Face, part: AnyPart) -> Iterator[Problem]:
    called = f"zone '{region.name}'" if isinstance(region, Zone) else f"face '{region.colour}'"
    given = [name for name in ("area", "strip", "share") if getattr(region, name) is not None]
    if len(given) > 1:
        what = f"{called} has {' and '.join(given)} together"
        yield Problem(
            region.place, "choose-one", what, "give one: area, strip along the edge, or share"
        )
    if region.lies is not None and region.strip is None:
        what = f"{called} says where its strip lies, and has no strip"
        yield Problem(region.place, "no-effect", what, "add 'strip:', or remove 'lies:'")
    if "strip" in given and not gives_perimeter(part.shape):
        what = f"{called} is a strip along an edge, and the shape of '{part.id}' has none"
        yield Problem(
            region.place,
            "no-dimension",
            what,
            "add 'perimeter:' to the shape, or write an area here",
        )
    if given in ([], ["share"]) and not gives_area(part.shape):
        what = f"{called} takes the area of the part, and the shape of '{part.id}' has none"
        yield Problem(
            region.place, "no-dimension", what, "add 'area:' to the shape, or write an area here"
        )


def _rest_faults(part: MouldedPart) -> Iterator[Problem]:
    """One zone at most is the rest, and what the others take of the part's area is known."""
    rests = [zone for zone in part.zones if zone.is_rest]
    others = [zone for zone in part.zones if zone.within and not zone.is_rest]
    for again in rests[1:]:
        what = f"zone '{again.name}' is the rest, and zone '{rests[0].name}' is that already"
        yield Problem(again.place, "choose-one", what, "give one of them an area, strip or share")
    if not rests:
        return
    one = rests[0]
    if len(rests) == 1 and not others:
        what = f"zone '{one.name}' is the rest, and no other zone takes of '{part.id}'"
        yield Problem(one.place, "no-effect", what, "remove the share: it is the whole part then")
    for zone in others:
        if not _any(zone.area, zone.strip) and zone.share is None:
            what = f"zone '{zone.name}' is all of '{part.id}', and '{one.name}' the rest of it"
            hint = "give it an area, strip or share, or the other an area of its own"
            yield Problem(zone.place, "does-not-fit", what, hint)
    strips = [zone for zone in others if zone.strip is not None]
    for zone in strips[1:]:
        what = f"strips '{strips[0].name}' and '{zone.name}' lie on each other along one edge"
        hint = f"write an area for one of them, or for '{one.name}': its rest is not known"
        yield Problem(zone.place, "values-disagree", what, hint)


def _cavity_faults(zone: Zone, part: MouldedPart) -> Iterator[Problem]:
    closed = isinstance(part, ClosedMouldPart)
    if closed and zone.gap is None:
        hint = f"add the cavity's thickness, for example 'gap: {example('6 mm')}'"
        yield Problem(zone.place, "missing-key", f"zone '{zone.name}' has no gap", hint)
    if not closed and _any(zone.gap, zone.core):
        whose = "an infused part" if isinstance(part, InfusedPart) else "an open mould"
        what = f"zone '{zone.name}' of {whose} has a gap or core"
        yield Problem(zone.place, "no-effect", what, "remove it: only closed moulds have a cavity")
    if zone.gap is not None and zone.core is not None and zone.core.value >= zone.gap.value:
        what = f"the core of zone '{zone.name}' fills its gap or more, so no resin gets in"
        hint = f"expected less than {thickness(zone.gap.value)}"
        yield Problem(figure_place(zone.core), "does-not-fit", what, hint)


def check_goods(records: Records) -> Iterator[Problem]:
    """Bought goods are counted the way they are bought: pieces, metres, areas or masses."""
    for owner in records.owners:
        for goods in owner.goods:
            yield from _amount_faults(goods, owner)
            yield from _goods_unit_faults(records, goods)


def _amount_faults(goods: Goods, owner: Any) -> Iterator[Problem]:
    ways = ("quantity", "per_perimeter", "per_area")
    given = [name for name in ways if getattr(goods, name) is not None]
    if isinstance(owner, Option | BaseBoat):
        one, kind = "a base boat", "a boat"
        if isinstance(owner, Option):
            one, kind = f"option '{owner.id}'", "an option"
        if given != ["quantity"]:
            what = f"'{goods.item}' of {one} needs a quantity"
            hint = f"write 'quantity:' alone: {kind} has no edge or area of its own"
            yield Problem(goods.place, "choose-one", what, hint)
        return
    if not given or (len(given) > 1 and "quantity" in given):
        what = f"'{goods.item}' has {' and '.join(given) or 'no amount'}"
        hint = "give a quantity, or an amount per_perimeter, per_area or both"
        yield Problem(goods.place, "choose-one", what, hint)
    for name, known in (
        ("perimeter", gives_perimeter(owner.shape)),
        ("area", gives_area(owner.shape)),
    ):
        if f"per_{name}" in given and not known:
            what = f"'{goods.item}' goes by the {name}, and the shape of '{owner.id}' has none"
            yield Problem(
                goods.place,
                "no-dimension",
                what,
                f"add '{name}:' to the shape, or write a quantity",
            )


def _goods_unit_faults(records: Records, goods: Goods) -> Iterator[Problem]:
    item = records.of("bought").get(goods.item)
    if item is None:
        return
    wanted = counted_in(item)
    for amount, per in (
        (goods.quantity, unit("")),
        (goods.per_perimeter, unit("m")),
        (goods.per_area, unit("m2")),
    ):
        if amount is None:
            continue
        if amount.unit * per != wanted:
            what = f"'{goods.item}' is counted in {said(wanted)}, found {said(amount.unit * per)}"
            hint = f"write it in {said(wanted)}, as its mass is per {said(wanted)}"
            yield Problem(figure_place(amount), "wrong-unit", what, hint)
        elif amount.value <= 0:
            what = f"'{goods.item}' has an amount of {amount.value:g}"
            yield Problem(figure_place(amount), "zero-amount", what, "expected more than 0")


def check_moulding(records: Records) -> Iterator[Problem]:
    """A vacuum can pull no harder than the atmosphere pushes."""
    vacuums: tuple[tuple[Any, tuple[str, ...]], ...] = (
        *(
            (p.vacuum, ("flange_pressure", "cavity_pressure"))
            for p in records.of("closed_mould").values()
        ),
        *((part, ("bag_pressure",)) for part in records.of("infused").values()),
    )
    for record, names in vacuums:
        for name in names:
            pressure: Figure = getattr(record, name)
            found = pressure.value / 1000
            if found > STANDARD_ATMOSPHERE_KPA:
                what = f"a {name.replace('_', ' ')} of {found:.4g} kPa below the atmosphere"
                hint = f"a vacuum pulls {STANDARD_ATMOSPHERE_KPA} kPa (14.7 psi) at most"
                yield Problem(figure_place(pressure), "out-of-range", what, hint)


# The average over the planned units is summed unit by unit, in the sheet as well.
LONGEST_RUN = 10_000


def check_operations(records: Records) -> Iterator[Problem]:
    """A rate needs its amount, and a station on machine hours needs them from every operation."""
    for owner in records.owners:
        used: dict[str, str] = {}
        for operation in owner.operations:
            yield from _operation_faults(records, operation, owner)
            yield from _batch_faults(records, operation)
            for stage in operation.uses:
                if stage in used:
                    what = f"'{operation.name}' uses the {stage} lines, as '{used[stage]}' does"
                    hint = "material enters once: name its stage in the first operation only"
                    yield Problem(operation.place, "written-twice", what, hint)
                used.setdefault(stage, str(operation.name))


def _operation_faults(records: Records, operation: Operation, owner: Any) -> Iterator[Problem]:
    known = _known_drivers(records, owner)
    for driver in DRIVERS:
        name = driver.replace(" ", "_")
        rated = operation.rates is not None and getattr(operation.rates, name) is not None
        given = operation.drivers is not None and getattr(operation.drivers, name) is not None
        if rated and not given and driver not in known:
            what = (
                f"operation '{operation.name}' has a rate for {driver}, and nothing it applies to"
            )
            yield Problem(
                operation.place, "missing-key", what, f"add the amount: 'drivers: {{{name}: …}}'"
            )
        if given and not rated:
            what = f"operation '{operation.name}' has an amount of {driver}, and no rate for it"
            hint = f"add 'rates: {{{name}: …}}', or remove the amount"
            yield Problem(figure_place(getattr(operation.drivers, name)), "no-effect", what, hint)
    station = records.stations.get(operation.station)
    if station and station.overhead.base == "machine hours" and operation.machine is None:
        what = f"operation '{operation.name}' has no machine time, on which '{station.id}' absorbs"
        yield Problem(operation.place, "missing-key", what, "add for example 'machine: 30 min'")
    if operation.rates is None and operation.fixed is None and operation.setup is None:
        what = f"operation '{operation.name}' takes no time"
        yield Problem(operation.place, "empty", what, "add 'fixed:', 'setup:' or 'rates:'")
    if operation.learning is not None:
        yield from _learning_faults(operation, operation.learning)


def _batch_faults(records: Records, operation: Operation) -> Iterator[Problem]:
    """What a batch uses up is counted the way it is bought."""
    for used in operation.per_batch:
        material = records.materials.get(str(used.item))
        if material is not None and used.quantity.unit != counted_in(material):
            wanted = said(counted_in(material))
            what = f"'{used.item}' is counted in {wanted}, found {said(used.quantity.unit)}"
            yield Problem(figure_place(used.quantity), "wrong-unit", what, f"write it in {wanted}")


def _learning_faults(operation: Operation, curve: Learning) -> Iterator[Problem]:
    first, last = curve.first.value, curve.last.value
    if last < first:
        what = f"operation '{operation.name}' learns from unit {first:g} back to unit {last:g}"
        yield Problem(
            figure_place(curve.last), "values-disagree", what, f"expected at least {first:g}"
        )
    elif last - first >= LONGEST_RUN:
        what = f"operation '{operation.name}' learns over {last - first + 1:g} units"
        hint = f"expected at most {LONGEST_RUN}, the units planned ahead"
        yield Problem(figure_place(curve.last), "out-of-range", what, hint)


def _known_drivers(records: Records, owner: Any) -> set[str]:
    """What the geometry and take-off of a part give without being written."""
    if isinstance(owner, Option | BaseBoat):
        return set()
    known = {"count"}
    if gives_area(owner.shape):
        known.add("area")
    if gives_perimeter(owner.shape):
        known.add("perimeter")
    if isinstance(owner, CorePart):
        known.add("foam mass")
    if isinstance(owner, MouldedPart):
        known |= {"plies", "glass mass", "gelcoat faces"}
        if is_sprayed(records, owner):
            known.add("sprayed mass")
    return known
