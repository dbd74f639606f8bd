"""What a take-off holds: material lines, drivers of labour, and limits of the process."""

from __future__ import annotations

from dataclasses import dataclass, field

from quoter.catalogue.factory import Ply
from quoter.catalogue.materials import Glass
from quoter.catalogue.parts import Zone
from quoter.catalogue.records import AnyPart
from quoter.figures import Figure, constant
from quoter.problems import Place, Problem

NO_MASS = constant(0.0, "kg")
ONE = constant(1.0)


@dataclass(frozen=True, slots=True)
class Line:
    """An amount of one material: net in the product, issued from stores, and mass it adds.

    `net` and `issued` are in the unit the material is counted in; `mass` in kg; `stage` says which
    operation it enters at. `area` is that of a gelcoated face or of one layer of a ply, which is
    laid `layers` times.
    """

    material: str
    use: str
    stage: str
    net: Figure
    issued: Figure
    mass: Figure
    place: Place
    emission: Figure | None = None
    area: Figure | None = None
    layers: Figure | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """A condition that must hold: 1 where it does, else 0."""

    what: str
    holds: Figure
    place: Place


@dataclass(frozen=True, slots=True)
class LaidPly:
    """A ply of a zone: its area and layers, their areal mass in all, glass content, net glass.

    `key` begins its figures' keys.
    """

    zone: Zone
    ply: Ply
    glass: Glass
    area: Figure
    layers: Figure
    areal_mass: Figure
    content: Figure
    net: Figure
    key: str
    label: str


@dataclass(slots=True)
class TakeOff:
    """The quantities of one part in one shape and hull colour."""

    part: AnyPart
    key: str
    name: str
    lines: list[Line] = field(default_factory=list)
    drivers: dict[str, Figure] = field(default_factory=dict)
    notable: list[Figure] = field(default_factory=list)
    limits: list[Limit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    regions: dict[str, Figure] = field(default_factory=dict)
