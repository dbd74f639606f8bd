"""Rules of drawings for customers: what is drawn has an outline, what is told is known."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.checks_parts import shape_faults
from quoter.catalogue.parts import AnyPart, Drawing, Shape
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Problem

# What a shape may have that no outline does.
_OF_COSTS = ("area", "perimeter", "volume")


def check_drawings(records: Records) -> Iterator[Problem]:
    """A drawing shows what the catalogue says: without an outline or a measure there is none."""
    for part in records.parts.values():
        if part.drawing is not None:
            yield from _outline_faults(part, part.drawing)
            yield from _clear_faults(part, part.drawing)
            yield from _told_faults(part, part.drawing)


def _outline_faults(part: AnyPart, drawing: Drawing) -> Iterator[Problem]:
    shape = part.shape if drawing.shape is None else drawing.shape
    if drawing.shape is not None:
        yield from shape_faults(drawing.shape)
        yield from _no_outline(drawing.shape, (*_OF_COSTS,))
    if _sides(shape) is None:
        what = f"the drawing of '{part.id}' has no outline: its shape is no rectangle or circle"
        hint = "write 'shape: {width: …, height: …}' in it, as the part is seen"
        yield Problem(drawing.place, "bad-shape", what, hint)


def _clear_faults(part: AnyPart, drawing: Drawing) -> Iterator[Problem]:
    """A clear opening is an outline, and within that of its part."""
    if drawing.clear is None:
        return
    yield from shape_faults(drawing.clear)
    yield from _no_outline(drawing.clear, (*_OF_COSTS, "thickness"))
    around = _sides(part.shape if drawing.shape is None else drawing.shape)
    within = _sides(drawing.clear)
    if within is None:
        what = f"the clear opening of '{part.id}' is no rectangle or circle"
        yield Problem(drawing.clear.place, "bad-shape", what, "give width and height, or diameter")
    elif around is not None and any(a.value > b.value for a, b in zip(within, around, strict=True)):
        what = f"the clear opening of '{part.id}' is larger than its outline"
        hint = "write what stays open of it, inside of landings and seals"
        yield Problem(drawing.clear.place, "does-not-fit", what, hint)


def _no_outline(shape: Shape, names: tuple[str, ...]) -> Iterator[Problem]:
    for name in names:
        if getattr(shape, name) is not None:
            what = f"'{name}' changes nothing in a drawing"
            yield Problem(shape.place, "no-effect", what, f"remove '{name}:'")


def _told_faults(part: AnyPart, drawing: Drawing) -> Iterator[Problem]:
    """What a section is to tell is known: of closed moulds by their gaps, else where it is said."""
    zones = getattr(part, "zones", ())
    shape = part.shape if drawing.shape is None else drawing.shape
    known = {
        "thickness": shape.thickness is not None or any(zone.gap is not None for zone in zones),
        "core": any(zone.core is not None for zone in zones),
        "laminate": bool(zones),
    }
    hints = {
        "thickness": "write 'thickness:' in the drawing's shape, or leave it out",
        "core": "only zones of closed moulds have a core; leave it out",
        "laminate": "a part without zones has no laminate; leave it out",
    }
    for name in drawing.shows:
        if not known[name]:
            what = f"the drawing of '{part.id}' shows its {name}, of which nothing is known"
            yield Problem(drawing.place, "no-dimension", what, hints[name])


def _sides(shape: Shape) -> tuple[Figure, Figure] | None:
    if shape.diameter is not None:
        return shape.diameter, shape.diameter
    if shape.width is None or shape.height is None:
        return None
    return shape.width, shape.height
