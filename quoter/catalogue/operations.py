"""Records of the work on parts and options: operations, with their times, yield and hazards."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.certainty import Basis
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
    "sprayed mass",
)
HAZARDS = ("styrene", "peroxide", "isocyanate", "dust", "vacuum", "opening")
INFUSION, CLOSED_MOULD = "infusion", "closed mould"
SPRAYS = ("non-atomised spray", "atomised spray")
APPLIED = ("by hand", *SPRAYS, INFUSION, CLOSED_MOULD)
BAGGED = ("after roll-out", "without roll-out")
Limit = Annotated[Figure, f.measure("0.5 mm", "m", "Pa", "kg", "m3", "h", "", low=0.0)]
STAGES = ("gelcoat", "skin", "bulk", "resin", "core", "foam", "goods")


class Learning(CatalogueRecord):
    """How the time falls with experience: expected time is the average over the planned units."""

    model: Annotated[str, f.choice("unit", "cumulative average")]
    """Which learning model the slope is of. The two are not interchangeable: one falls by unit
    (Crawford), the other by the average of all units so far (Wright).
    Example: `unit`"""
    slope: Annotated[Figure, f.measure("90 %", "", low=0.5, high=1.0, above_low=True)]
    """What is left of the time at each doubling of units.
    Example: `90 %`"""
    reference: f.Whole
    """The unit that the operation's written times are of.
    Example: `10`"""
    first: f.Whole
    """The first of the planned units.
    Example: `21`"""
    last: f.Whole
    """The last of the planned units; at most 10,000 of them are planned.
    Example: `60`"""


class RunTimes(CatalogueRecord):
    """Run time per unit of a driver, multiplied by what the part or the `drivers` give."""

    area: Annotated[Figure, f.measure("12 min/m2", "h/m2", low=0.0)] | None = None
    """Time by the part's area.
    Example: `12 min/m2`"""
    perimeter: Annotated[Figure, f.measure("4 min/m", "h/m", low=0.0)] | None = None
    """Time by the length of the part's edge.
    Example: `4 min/m`"""
    plies: Annotated[Figure, f.measure("6 min/ply", "h/each", low=0.0)] | None = None
    """Time for each ply laid, all zones together.
    Example: `6 min/ply`"""
    glass_mass: Annotated[Figure, f.measure("9 min/kg", "h/kg", low=0.0)] | None = None
    """Time by the net mass of glass laid.
    Example: `21 min/kg`"""
    gelcoat_faces: Annotated[Figure, f.measure("15 min/face", "h/each", low=0.0)] | None = None
    """Time for each gelcoated face.
    Example: `7 min/face`"""
    count: Annotated[Figure, f.measure("5 min/each", "h/each", low=0.0)] | None = None
    """Time for each piece; a part or option counts as one unless `drivers` say how many.
    Example: `11 min/each`"""
    fasteners: Annotated[Figure, f.measure("2 min/each", "h/each", low=0.0)] | None = None
    """Time for each bolt or screw; `drivers` say how many.
    Example: `1.2 min/each`"""
    length: Annotated[Figure, f.measure("3 min/m", "h/m", low=0.0)] | None = None
    """Time by a length, such as that of a seal; `drivers` say how long.
    Example: `4 min/m`"""
    foam_mass: Annotated[Figure, f.measure("4 min/kg", "h/kg", low=0.0)] | None = None
    """Time by the net mass of a core's foam.
    Example: `4 min/kg`"""
    sprayed_mass: Annotated[Figure, f.measure("1 min/kg", "h/kg", low=0.0)] | None = None
    """Time by the mass of laminate that leaves the gun, overspray included: what its output is
    told in. Roll-out has a rate of its own, by area, by plies or by glass mass.
    Example: `0.4 min/kg`"""


class Drivers(CatalogueRecord):
    """Amounts the rates apply to where the part does not give them, or in place of what it gives.

    An option gives none but a count of one.
    """

    area: f.Area | None = None
    """The area that the rate by area applies to.
    Example: `0.6 m2`"""
    perimeter: f.Length | None = None
    """The edge that the rate by perimeter applies to.
    Example: `2.97 m`"""
    plies: f.Some | None = None
    """How many plies the rate by ply applies to.
    Example: `6`"""
    glass_mass: f.Mass | None = None
    """The mass that the rate by glass mass applies to.
    Example: `3.5 kg`"""
    gelcoat_faces: f.Some | None = None
    """How many faces the rate by gelcoated face applies to.
    Example: `2`"""
    count: f.Some | None = None
    """How many pieces the rate by count applies to, such as latches to fit.
    Example: `2`"""
    fasteners: f.Some | None = None
    """How many bolts or screws the rate by fastener applies to.
    Example: `16`"""
    length: f.Length | None = None
    """The length that the rate by length applies to.
    Example: `3.1 m`"""
    foam_mass: f.Mass | None = None
    """The mass that the rate by foam mass applies to.
    Example: `1.8 kg`"""
    sprayed_mass: f.Mass | None = None
    """The mass that the rate by sprayed mass applies to.
    Example: `14 kg`"""


class Rework(CatalogueRecord):
    """Units sent back for mending; an element of cost of its own."""

    share: f.Fraction
    """The part of all units that is mended.
    Example: `6 %`"""
    time: f.Duration
    """Work on each unit that is mended, at the same station: normal time, which takes the allowance
    of the operation and the efficiency of the station like its other work.
    Example: `40 min`"""


class BatchMaterial(CatalogueRecord):
    """Material that a batch takes once, such as what purges a gun at a colour change.

    None of it stays in a part; an element of cost of its own.
    """

    item: Annotated[
        Text, f.ref("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")
    ]
    """The material that is used up.
    Example: `gun_solvent`"""
    quantity: f.Amount
    """How much of it one batch takes, in what the material is counted in; shared by the units of
    the part's or option's `batch`.
    Example: `1.2 kg`"""
    note: f.Note | None = None


class Check(CatalogueRecord):
    """What is measured or looked at before the work goes on; the route card has a field for it.

    It costs nothing; the time that it takes is the operation's.
    """

    what: f.Words
    """What is measured or looked at, as the route card says it; without limits, what is right.
    Example: `Wet film of the gelcoat`"""
    least: Limit | None = None
    """The least that is right, in a unit or as a bare number, such as a Barcol hardness.
    Unless given: no lower limit.
    Example: `0.5 mm`"""
    most: Limit | None = None
    """The most that is right, of the same kind as the least.
    Unless given: no upper limit.
    Example: `0.6 mm`"""


class Operation(CatalogueRecord):
    """Work at one station: set-up per batch, run time by drivers, cure, machine time and yield.

    Normal time = fixed + rates x drivers + set-up / batch, times the crew; the allowance makes it
    standard, learning expected, the station's efficiency paid.
    """

    name: f.Words
    """What the operation is called on route cards, in reviews and workbooks.
    Example: `Skin coat`"""
    station: Annotated[Text, f.ref("station")]
    """Where the work is done; its wage and overhead rates make the cost.
    Example: `laminating`"""
    uses: Many[Annotated[str, f.choice(*STAGES)]] = ()
    """Which material enters at this operation, so that a scrapped unit takes with it all it holds
    by then. What no operation uses enters at the first; each stage is named once.
    Example: `[skin, bulk]`"""
    per_batch: Many[BatchMaterial] = ()
    """What the operation uses up once for each batch, however many units are in it."""
    applied: Annotated[str, f.choice(*APPLIED)] | None = None
    """How the resin that enters here is applied, for the estimate of organic vapour: brush, roller
    and flow coater are by hand; an infusion and a closed mould give off nothing. Gelcoat gives off
    the same however it is applied.
    Unless given: by hand; in a closed-mould part, in the closed mould; under the bag of an infused
    part, by infusion.
    Example: `atomised spray`"""
    overspray: f.Loss | None = None
    """The fraction of gun roving and resin sprayed here that misses the part: issued = net /
    (1 - overspray), before any `loss` of the material. Gelcoat has its `transfer`.
    Unless given: none.
    Example: `10 %`"""
    bagged: Annotated[str, f.choice(*BAGGED)] | None = None
    """Whether the wet laminate is put under a vacuum bag, rolled out before that or not; less
    vapour gets away.
    Unless given: no bag.
    Example: `after roll-out`"""
    crew: f.Positive | None = None
    """How many people do it together; multiplies the time.
    Unless given: 1.
    Example: `2`"""
    setup: f.Duration | None = None
    """Set-up of a batch, shared by the units of the part's or option's `batch`.
    Unless given: none.
    Example: `12 min`"""
    fixed: f.Duration | None = None
    """Time of each unit whatever its size.
    Unless given: none.
    Example: `30 min`"""
    rates: RunTimes | None = None
    """Times that grow with area, edge, plies and so on."""
    drivers: Drivers | None = None
    """What the rates apply to, where it is not the part's own."""
    allowance: f.Loss | None = None
    """Personal needs and rest for this operation, on the station's basis.
    Unless given: that of the station.
    Example: `15 %`"""
    learning: Learning | None = None
    """How the time falls with experience."""
    rework: Rework | None = None
    """Units that are sent back here for mending."""
    cure: f.Duration | None = None
    """Time to cure: nobody works, but the mould is taken. The pulls a year that a mould can make
    follow; no cost does.
    Example: `12 h`"""
    in_mould: f.Truth | None = None
    """Whether the part is in its mould during this operation, for the hours a pull takes.
    Unless given: yes, up to the last operation with a cure time.
    Example: `no`"""
    machine: f.Duration | None = None
    """Machine time of one unit; overhead of a station that absorbs on machine hours is charged by
    it.
    Example: `12 min`"""
    passes: f.Passed | None = None
    """The fraction of units that is good here, at once or after mending; the rest is scrapped with
    all it holds. Yield loss, an element of its own, follows.
    Unless given: 100 %.
    Example: `97 %`"""
    basis: Basis | None = None
    """What its times rest on: `drawing`, a `similar` part, or `timed` on the floor. How far they
    may be out follows.
    Unless given: the basis of its part or option.
    Example: `timed`"""
    hazards: Many[Annotated[str, f.choice(*HAZARDS)]] = ()
    """What the route card warns of; the safety data sheets and local law say what to do.
    Example: `[styrene, peroxide]`"""
    checks: Many[Check] = ()
    """What is measured or looked at here, with its limits, before the next step begins."""
    note: f.Note | None = None
