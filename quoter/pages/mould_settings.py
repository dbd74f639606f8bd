"""What a route card says of settings: gaps and cores, vacuum and its force, and what is checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from quoter.catalogue.operations import Operation
from quoter.catalogue.parts import ClosedMouldPart, InfusedPart, Shape
from quoter.catalogue.prices import Catalogue
from quoter.engineering.closed_mould import STANDARD_ATMOSPHERE_PA, clamp_force
from quoter.figures import Figure, constant
from quoter.figures.readers import SUCTION, Reader, in_words
from quoter.pages.amounts import amount, as_written
from quoter.pages.paper_views import Bag, Cavity, CheckRow, Clamp
from quoter.pages.picture_views import Amount
from quoter.units import to_base, unit

ATMOSPHERE = constant(STANDARD_ATMOSPHERE_PA, "Pa", "one standard atmosphere")
ON_A_GAUGE = replace(ATMOSPHERE, form=SUCTION)
GRAVITY = constant(9.80665, "Pa m2/kg", "standard gravity")


def atmosphere(reader: Reader) -> Amount:
    """The most that a vacuum presses with."""
    return amount(reader, ATMOSPHERE, "kPa")


def _perfect(reader: Reader) -> Amount:
    """A perfect vacuum, as the gauge would show it that shows what is drawn."""
    return amount(reader, ON_A_GAUGE, "kPa")


def atmosphere_as_load(reader: Reader) -> Amount:
    """What weighs on an area as much as the atmosphere presses."""
    return amount(reader, ATMOSPHERE / GRAVITY, "t/m2")


def cavities_of(catalogue: Catalogue, part: str) -> Iterator[Cavity]:
    """The zones of a closed mould, with gap and core as written."""
    found = catalogue.records.of("closed_mould").get(part)
    if isinstance(found, ClosedMouldPart):
        for zone in found.zones:
            if zone.gap is not None:
                core = zone.core if zone.core is not None and zone.core.value > 0 else None
                gap = as_written(catalogue.reader, zone.gap)
                yield Cavity(str(zone.name), gap, _maybe(catalogue.reader, core))


def clamp_of(catalogue: Catalogue, part: str) -> Clamp | None:
    """What holds a closed mould shut, and the force that it makes."""
    found = catalogue.records.of("closed_mould").get(part)
    if not isinstance(found, ClosedMouldPart):
        return None
    reader, vacuum = catalogue.reader, found.vacuum
    flange, cavity = vacuum.flange_area, vacuum.cavity_area
    force = clamp_force(vacuum.flange_pressure, flange, vacuum.cavity_pressure, cavity)
    return Clamp(
        flange=as_written(reader, vacuum.flange_pressure, SUCTION),
        flange_area=as_written(reader, flange),
        cavity=as_written(reader, vacuum.cavity_pressure, SUCTION),
        cavity_area=as_written(reader, cavity),
        force=amount(reader, force, "kN"),
        most=amount(reader, clamp_force(ATMOSPHERE, flange, ATMOSPHERE, cavity), "kN"),
        atmosphere=_perfect(reader),
    )


def bag_of(catalogue: Catalogue, part: str) -> Bag | None:
    """How far a bag is drawn down."""
    found = catalogue.records.of("infused").get(part)
    if not isinstance(found, InfusedPart):
        return None
    reader = catalogue.reader
    return Bag(as_written(reader, found.bag_pressure, SUCTION), _perfect(reader))


def core_thickness(catalogue: Catalogue, part: str, shape: Shape | None) -> Amount | None:
    """How thick a block is foamed; None for what is no block, or has only a volume."""
    if part not in catalogue.records.of("core") or shape is None or shape.thickness is None:
        return None
    return as_written(catalogue.reader, shape.thickness)


def checks_of(reader: Reader, operation: Operation) -> Iterator[CheckRow]:
    """What is measured or looked at in a step, with limits as written.

    A pressure in a step that draws a vacuum is what the gauge shows. What the yard wrote in metric
    words is told in those of a reader who asked for others.
    """
    for check in operation.checks:
        what = str(check.what)
        least, most = (_limit(reader, each, operation) for each in (check.least, check.most))
        yield CheckRow(what if reader.as_written else in_words(what, reader.first), least, most)


def _limit(reader: Reader, limit: Figure | None, operation: Operation) -> Amount | None:
    drawn = limit is not None and to_base(limit.unit)[0] == unit("Pa")
    suction = drawn and "vacuum" in operation.hazards
    return None if limit is None else as_written(reader, limit, SUCTION if suction else "")


def _maybe(reader: Reader, limit: Figure | None) -> Amount | None:
    return None if limit is None else as_written(reader, limit)
