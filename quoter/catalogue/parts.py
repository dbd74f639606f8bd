"""Records of parts: open-mould laminates, closed-mould panels, cores, and their operations."""

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


class Shape(CatalogueRecord):
    """Dimensions of a part: a rectangle, a circle, or area and perimeter written by hand."""

    width: f.Length | None = None
    height: f.Length | None = None
    corner_radius: f.Extent | None = None
    diameter: f.Length | None = None
    area: f.Area | None = None
    perimeter: f.Length | None = None
    thickness: f.Length | None = None
    volume: f.Volume | None = None


class Zone(CatalogueRecord):
    """A region with its own stack: an area, a strip along the edge, or a share of the part's area.

    In a closed mould `gap` is the cavity between the mould faces and `core` what the core fills.
    """

    name: f.Words
    laminate: Annotated[Text, f.ref("laminate")]
    area: f.Area | None = None
    strip: f.Length | None = None
    share: Annotated[Figure, f.measure("100 %", "", low=0.0, above_low=True)] | None = None
    gap: f.Length | None = None
    core: f.Extent | None = None


class Face(CatalogueRecord):
    """A gelcoated face: a gelcoat's id, or `hull` for the model's hull colour."""

    colour: Annotated[Text, f.ref("gelcoat", "hull colour")]
    area: f.Area | None = None
    strip: f.Length | None = None
    share: Annotated[Figure, f.measure("100 %", "", low=0.0, above_low=True)] | None = None


class Goods(CatalogueRecord):
    """A bought item consumed or built in: a quantity, or an amount per edge or area."""

    item: Annotated[Text, f.ref("bought")]
    quantity: f.Amount | None = None
    per_perimeter: Annotated[Figure, f.measure("0.1 kg/m", "", "each/m", "kg/m")] | None = None
    per_area: Annotated[Figure, f.measure("0.2 kg/m2", "", "each/m2", "kg/m2")] | None = None
    stage: Annotated[str, f.choice(*STAGES)] = "goods"
    built_in: f.Truth = True


class Part(CatalogueRecord):
    """What every part has; `batch` is how many share one set-up."""

    id: f.Identifier
    name: f.Words
    shape: Shape
    batch: f.Whole | None = None
    moulds: Many[Annotated[Text, f.ref("mould")]] = ()
    goods: Many[Goods] = ()
    operations: Many[Operation] = ()
    note: f.Note | None = None


class OpenMouldPart(Part):
    """A laminate laid by hand in an open mould, or into a hull side against a return mould.

    `alternative_to` names the closed-mould panel that does the same job, to compare costs with.
    """

    gelcoat: Many[Face] = ()
    resin: Annotated[Text, f.ref("resin")] | None = None
    zones: Many[Zone] = ()
    nest_utilisation: f.Passed | None = None
    alternative_to: Annotated[Text, f.ref("closed_mould")] | None = None


class CoreUse(CatalogueRecord):
    """Cores placed in a panel's cavity."""

    part: Annotated[Text, f.ref("core")]
    quantity: f.Whole | None = None


class Vacuum(CatalogueRecord):
    """Pressure below the atmosphere at flange and in the cavity, with the areas they act on."""

    flange_pressure: f.Pressure
    flange_area: f.Area
    cavity_pressure: f.Pressure
    cavity_area: f.Area


class ClosedMouldPart(Part):
    """A panel by light resin transfer moulding: gelcoat on both faces, dry kit, core, injection."""

    gelcoat: Many[Face] = ()
    resin: Annotated[Text, f.ref("resin")]
    zones: Many[Zone]
    cores: Many[CoreUse] = ()
    gallery_and_catch_pot: f.Mass | None = None
    nest_utilisation: f.Passed | None = None
    vacuum: Vacuum


class CorePart(Part):
    """A block foamed in its own closed mould, or in a closed space of the boat; no gelcoat."""

    foam: Annotated[Text, f.ref("foam")]
    buoyancy: f.Truth = False


class Parts(CatalogueRecord):
    """The file parts.yaml."""

    open_mould: Many[OpenMouldPart] = ()
    closed_mould: Many[ClosedMouldPart] = ()
    core: Many[CorePart] = ()
