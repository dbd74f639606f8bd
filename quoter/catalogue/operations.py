"""Records of the work on parts and options: operations, with their times, yield and hazards."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure

DRIVERS = (
    "area",
    "perimeter",
    "plies",
    "glass mass",
    "gelcoat faces",
    "count",
    "fasteners",
    "length",
    "foam mass",
)
HAZARDS = ("styrene", "peroxide", "isocyanate", "dust", "vacuum", "opening")
STAGES = ("gelcoat", "skin", "bulk", "resin", "core", "foam", "goods")


class Learning(CatalogueRecord):
    """How the time falls with experience; the operation's times are those of unit `reference`."""

    model: Annotated[str, f.choice("unit", "cumulative average")]
    slope: Annotated[Figure, f.measure("90 %", "", low=0.5, high=1.0, above_low=True)]
    reference: f.Whole
    first: f.Whole
    last: f.Whole


class RunTimes(CatalogueRecord):
    """Run time per unit of a driver."""

    area: Annotated[Figure, f.measure("12 min/m2", "h/m2", low=0.0)] | None = None
    perimeter: Annotated[Figure, f.measure("4 min/m", "h/m", low=0.0)] | None = None
    plies: Annotated[Figure, f.measure("6 min/ply", "h/each", low=0.0)] | None = None
    glass_mass: Annotated[Figure, f.measure("9 min/kg", "h/kg", low=0.0)] | None = None
    gelcoat_faces: Annotated[Figure, f.measure("15 min/face", "h/each", low=0.0)] | None = None
    count: Annotated[Figure, f.measure("5 min/each", "h/each", low=0.0)] | None = None
    fasteners: Annotated[Figure, f.measure("2 min/each", "h/each", low=0.0)] | None = None
    length: Annotated[Figure, f.measure("3 min/m", "h/m", low=0.0)] | None = None
    foam_mass: Annotated[Figure, f.measure("4 min/kg", "h/kg", low=0.0)] | None = None


class Drivers(CatalogueRecord):
    """Amounts the rates apply to where the geometry does not give them."""

    area: f.Area | None = None
    perimeter: f.Length | None = None
    plies: f.Some | None = None
    glass_mass: f.Mass | None = None
    gelcoat_faces: f.Some | None = None
    count: f.Some | None = None
    fasteners: f.Some | None = None
    length: f.Length | None = None
    foam_mass: f.Mass | None = None


class Rework(CatalogueRecord):
    """The share of units sent back for mending, and the time each takes at the same station."""

    share: f.Fraction
    time: f.Duration


class Operation(CatalogueRecord):
    """Work at one station: set-up per batch, run time by drivers, cure, machine time and yield.

    Unless `in_mould` says otherwise, the part stays in its mould up to the last operation with a
    cure time.
    """

    name: f.Words
    station: Annotated[Text, f.ref("station")]
    uses: Many[Annotated[str, f.choice(*STAGES)]] = ()
    crew: f.Positive | None = None
    setup: f.Duration | None = None
    fixed: f.Duration | None = None
    rates: RunTimes | None = None
    drivers: Drivers | None = None
    allowance: f.Loss | None = None
    learning: Learning | None = None
    rework: Rework | None = None
    cure: f.Duration | None = None
    in_mould: f.Truth | None = None
    machine: f.Duration | None = None
    passes: f.Passed | None = None
    hazards: Many[Annotated[str, f.choice(*HAZARDS)]] = ()
    note: f.Note | None = None
