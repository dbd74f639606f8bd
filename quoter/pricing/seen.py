"""What customers see of an option's parts: public measures and counts, and nothing else.

A part is seen only where it has a `drawing`; that makes its outline public, and what `shows` names.
Drawings are made of these records alone, so that no number which the yard keeps is in them, not
even as a length to scale.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from quoter.catalogue.materials import Bought, Glass
from quoter.catalogue.options import Model, Option, PartUse
from quoter.catalogue.parts import AnyPart, Drawing, Goods, Shape, Zone
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.records import Records
from quoter.costing.quantities import overridden
from quoter.figures import Figure, plain_number
from quoter.figures.kernel import PLACES_BEFORE_ROUNDING
from quoter.pricing.public import PublicMeasure, drawn_length

MOST_DRAWN = 60  # of one kind of fitting, or of copies of a part; more is no drawing


@dataclass(frozen=True, slots=True)
class Outline:
    """A rectangle with its corner radius, None where they are square; or a circle."""

    width: PublicMeasure
    height: PublicMeasure
    radius: PublicMeasure | None
    round: bool


@dataclass(frozen=True, slots=True)
class Fitting:
    """So many hinges, latches, handles or legs on one part."""

    kind: str
    count: int


@dataclass(frozen=True, slots=True)
class Seen:
    """A part as it is seen: what it is, its outline, how often it is there, and what else is told.

    `hinged` is the edge of its hinges, empty without; `layers` how many of glass in each form.
    """

    what: str
    view: str
    hinged: str
    count: int
    outline: Outline
    clear: Outline | None
    thickness: PublicMeasure | None
    core: PublicMeasure | None
    layers: tuple[tuple[str, int], ...]
    fittings: tuple[Fitting, ...]


def seen_parts(catalogue: Catalogue, option: Option, model: str) -> tuple[Seen, ...]:
    """What customers see of an option on a model; nothing where any of it can't be drawn as it is.

    Args:
        catalogue: checked records
        option: one of its options
        model: the id of a boat that has it, whose own shapes count
    """
    records = catalogue.records
    drawn = [
        (records.parts[str(use.part)], use)
        for use in option.parts
        if records.parts[str(use.part)].drawing is not None
    ]
    shapes = [shape_seen(part, use, model) for part, use in drawn]
    counts = [_count(use.quantity) for _, use in drawn]
    if None in shapes or None in counts:
        return ()
    fitted = _fittings(records, option, drawn, [count or 1 for count in counts])
    return tuple(
        _seen(records, part, shape, count, fittings)
        for (part, _), shape, count, fittings in zip(drawn, shapes, counts, fitted, strict=True)
        if shape is not None and count is not None
    )


def form_seen(model: Model, length: Figure) -> PublicMeasure:
    """A length of a boat's form, which is public as a whole.

    Raises:
        TypeError: it is no length of that.
    """
    if f".{model.id}.form." not in length.key:
        raise TypeError("it is no length of the boat's form")
    return drawn_length(length)


def position_seen(option: Option, length: Figure) -> PublicMeasure:
    """A length of a position of an option whose positions the yard has made public.

    Raises:
        TypeError: they are the yard's own, or it is no length of one of them.
    """
    if option.positions != "public" or f".{option.id}.at." not in length.key:
        raise TypeError("it is the length of no position that customers see")
    return drawn_length(length)


def shape_seen(part: AnyPart, use: PartUse, model: str) -> Shape | None:
    """The shape that a part is seen in; None where only an area or volume of it is known there."""
    if part.drawing is None:
        return None
    own = part.shape if part.drawing.shape is None else part.drawing.shape
    other = use.per_model.get(model, use.shape)
    if other is None:
        return own if has_outline(own) else None
    stated = (other.area, other.perimeter, other.volume)
    sides = (other.width, other.height, other.diameter, other.corner_radius)
    if any(side is not None for side in sides) or not any(each is not None for each in stated):
        found = overridden(own, other)
        return found if has_outline(found) else None
    return None


def has_outline(shape: Shape) -> bool:
    """Whether a shape is a rectangle or circle, and not just an area."""
    return shape.diameter is not None or None not in (shape.width, shape.height)


def thickest(part: AnyPart) -> Zone | None:
    """The zone of a closed-mould part with the widest gap, which a section is drawn of."""
    zones = [zone for zone in getattr(part, "zones", ()) if zone.gap is not None]
    return max(zones, key=lambda zone: zone.gap.value, default=None)


def thickness_of(part: AnyPart, shape: Shape) -> Figure | None:
    """How thick a part is as its shape or its widest gap says."""
    zone = thickest(part)
    if shape.thickness is not None or zone is None:
        return shape.thickness
    return zone.gap


def _seen(
    records: Records, part: AnyPart, shape: Shape, count: int, fittings: tuple[Fitting, ...]
) -> Seen:
    drawing: Drawing = part.drawing  # type: ignore[assignment]  # only drawn ones get here
    zone, thick = thickest(part), thickness_of(part, shape)
    core = None if zone is None else zone.core
    told = drawing.shows
    return Seen(
        what=str(drawing.what),
        view=str(drawing.view),
        hinged=str(drawing.hinges or ""),
        count=count,
        outline=_outline(shape),
        clear=None if drawing.clear is None else _outline(drawing.clear),
        thickness=drawn_length(thick) if thick is not None and "thickness" in told else None,
        core=drawn_length(core) if core is not None and "core" in told else None,
        layers=_layers(records, part) if "laminate" in told else (),
        fittings=fittings,
    )


def _outline(shape: Shape) -> Outline:
    if shape.diameter is not None:
        across = drawn_length(shape.diameter)
        return Outline(across, across, None, round=True)
    if shape.width is None or shape.height is None:
        raise ValueError("a shape without sides is not drawn")
    radius = shape.corner_radius
    rounded = None if radius is None or radius.value <= 0 else drawn_length(radius)
    return Outline(drawn_length(shape.width), drawn_length(shape.height), rounded, round=False)


def _layers(records: Records, part: AnyPart) -> tuple[tuple[str, int], ...]:
    """How many layers of glass the thickest zone has, by their form, in the order they are laid."""
    zones: Sequence[Zone] = getattr(part, "zones", ())
    zone = thickest(part) or next(iter(zones), None)
    found: Counter[str] = Counter()
    for ply in () if zone is None else records.laminates[str(zone.laminate)].plies:
        glass: Glass = records.of("glass")[ply.glass]
        found[str(glass.form)] += 1 if ply.layers is None else int(ply.layers.value)
    return tuple(found.items())


def _count(quantity: Figure | None) -> int | None:
    """How many pieces; None for what is no whole number of them."""
    number = 1 if quantity is None else plain_number(quantity)
    return int(number) if number == int(number) and 0 < number <= MOST_DRAWN else None


def _fittings(
    records: Records,
    option: Option,
    drawn: Sequence[tuple[AnyPart, PartUse]],
    counts: Sequence[int],
) -> Iterator[tuple[Fitting, ...]]:
    """What is fitted to each part: its own goods, and its share of the option's.

    Hinges are on parts that say where, latches and handles too if there is one, legs on any. What
    doesn't divide between the parts is on none, since nobody said where.
    """
    shared = _drawn_as(records, option.goods)
    hinged = [part.drawing is not None and part.drawing.hinges is not None for part, _ in drawn]
    for (part, _), on_hinges in zip(drawn, hinged, strict=True):
        own = _drawn_as(records, part.goods)
        for kind, number in shared.items():
            apart = kind == "hinge" or (kind != "leg" and any(hinged))
            among = sum(count for count, on in zip(counts, hinged, strict=True) if on or not apart)
            if (on_hinges or not apart) and number % among == 0:
                own[kind] += number // among
        if not on_hinges:
            own.pop("hinge", None)
        yield tuple(Fitting(kind, count) for kind, count in own.items() if 0 < count <= MOST_DRAWN)


def _drawn_as(records: Records, goods: Sequence[Goods]) -> Counter[str]:
    """How many of each kind of fitting some goods are; not those in a number that is not whole."""
    found: Counter[str] = Counter()
    for each in goods:
        item: Bought = records.of("bought")[each.item]
        number = None if each.quantity is None else _count(each.quantity)
        if item.drawn_as is not None and number is not None and each.built_in:
            found[str(item.drawn_as)] += number
    return found


def whole_weeks(weeks: Figure) -> int:
    """A lead time as customers read it: begun weeks count whole."""
    return math.ceil(round(weeks.value, PLACES_BEFORE_ROUNDING))
