"""Usual ranges of what values make of each other: areas, masses, hours and prices held together."""

from __future__ import annotations

from quoter.catalogue.factory import Mould, Overhead
from quoter.catalogue.markets import Rounding
from quoter.catalogue.materials import Foam
from quoter.catalogue.options import BaseBoat, HullTime, Model, OneOff, Option
from quoter.catalogue.parts import (
    ClosedMouldPart,
    Face,
    InfusedPart,
    OpenMouldPart,
    Part,
    Vacuum,
    Zone,
)
from quoter.catalogue.tables import BookRow, ExchangeRow, IndexRow, PriceRow, WageRow
from quoter.catalogue.yard import MouldMaterial
from quoter.plausibility.usual import MEMORY, PRACTICE, Usual

LIMIT = "at most the policy's import_limit, else 15 %"
NEEDS = f"by layer, sum of w (1 - psi) / psi, a stack packed to 50 % included ({PRACTICE})"

CLOSED_ZONES = Usual(
    ClosedMouldPart,
    "zones",
    "90 to 110 %",
    "zones of a cavity lie side by side (definition), with room for rounding",
    relation="the area of all zones, of the part's area",
)
OPEN_ZONES = Usual(
    OpenMouldPart,
    "zones",
    "at most 400 %",
    PRACTICE,
    relation="the area of all zones, of the part's area",
)
INFUSED_ZONES = Usual(
    InfusedPart, "zones", OPEN_ZONES.within, PRACTICE, relation=OPEN_ZONES.relation
)
ZONES = {OpenMouldPart: OPEN_ZONES, InfusedPart: INFUSED_ZONES, ClosedMouldPart: CLOSED_ZONES}
ZONE = Usual(
    Zone,
    "area",
    "at most 125 %",
    PRACTICE,
    relation="a zone's area, of its part's area",
    case="part",
)
FACE = Usual(
    Face,
    "area",
    "at most 250 %",
    PRACTICE,
    relation="a face's area, of its part's area",
    case="part",
)
FACES = Usual(
    Part,
    "gelcoat",
    "at most 300 %",
    "two faces and their edges (definition)",
    relation="the area of all gelcoated faces, of the part's area",
)
ZONE_LAP = Usual(
    Zone,
    "strip",
    "at most 100 %",
    PRACTICE,
    relation="the width of a strip outside or upright on the edge, of its part's shorter side",
    case="lap",
)
FACE_LAP = Usual(
    Face,
    "strip",
    "at most 100 %",
    PRACTICE,
    relation="the width of a strip outside or upright on the edge, of its part's shorter side",
    case="lap",
)
CAVITY = Usual(
    Vacuum,
    "cavity_pressure",
    "at most 100 %",
    "the flange holds what the cavity pushes open (definition of the process)",
    relation="the vacuum of the cavity, of that of the flange",
    case="flange",
)
ENDING = Usual(
    Rounding,
    "ending",
    "at most 99.99 %",
    "definition: a step more is the next multiple",
    relation="the size of the ending, of the step",
    case="step",
)
OVERHEAD = Usual(
    Overhead,
    "capacity",
    "0.5 to 500 EUR/h",
    PRACTICE,
    relation="the budgets over an hour of capacity",
    case="rate",
)
MIX = Usual(
    Foam,
    "parts_a",
    "20 to 500 %",
    "1:1 by volume is a published system; makers' data sheets (from memory)",
    relation="parts of one component, of those of the other",
    case="mix",
)
BEAM = Usual(
    Model, "beam", "15 to 65 %", PRACTICE, relation="a boat's beam, of its length", case="length"
)
RESIN = Usual(
    BaseBoat,
    "materials",
    "85 to 140 %",
    NEEDS,
    relation="a boat's resin, of what its glass needs by the glass contents",
    case="resin",
)
LAMINATE = Usual(
    BaseBoat,
    "mass",
    "45 to 75 %",
    "without engine; the rest is core, hardware, joinery and systems (common practice, no source)",
    relation="a boat's glass, resin and gelcoat, of its mass",
    case="laminate",
)
MASS = Usual(
    BaseBoat,
    "mass",
    "50 to 200 %",
    "a power of the length through the boats of nearest length (definition)",
    relation="a boat's mass, of what its sisters' masses say for its length",
    case="sisters",
)
HOURS = Usual(
    BaseBoat,
    "hours",
    "50 to 200 %",
    "a power of the length through the boats of nearest length (definition)",
    relation="a boat's hours, of what its sisters' hours say for its length",
    case="sisters",
)
APPLIED = Usual(
    BaseBoat,
    "applied",
    "an open process or infusion",
    "hulls, decks and moulds are laid in open moulds (common practice, no source)",
    relation="how the resin that a boat states is applied",
)
APPLIED_MOULDS = Usual(
    MouldMaterial,
    "applied",
    APPLIED.within,
    APPLIED.source,
    relation="how the resin of moulds that are built is applied",
)
UNITS = Usual(
    OneOff,
    "units",
    "5 to 100 %",
    f"a boat is built for about ten years ({PRACTICE})",
    relation="the units that bear what is spent once, of those that ten years plan",
    case="planned",
)
HULL_MOULD = Usual(
    HullTime,
    "work",
    "50 to 200 %",
    "what is laid up in the hull mould keeps it as long (definition), several side by side",
    relation="the hours that an option keeps the hull mould, of those of its slowest open mould",
    case="parts",
)
PULLS = Usual(
    Mould,
    "pulls_per_year",
    "50 to 250 %",
    PRACTICE,
    relation="the pulls planned a year, of those that the planned volumes draw",
    case="drawn",
)
TAKE_RATE = Usual(
    Option,
    "take_rate",
    "stated in volumes.csv",
    "an option without one has no volume: no mould, hour or margin of the plan knows it",
    relation="an option's take rate, where the boats that have it have volumes",
)
POLICY = Usual(
    Model,
    "list_price",
    "at most 150 %",
    f"target, repricing steps and rounding explain less ({PRACTICE})",
    relation="a list price, of what the policy recommends",
    case="policy",
)
BOOK_POLICY = Usual(
    BookRow, "list_price", POLICY.within, POLICY.source, "policy", relation=POLICY.relation
)
JUMP = Usual(
    PriceRow, "price", LIMIT, "policy", relation="a move from the price before", case="before"
)
JUMPS: tuple[Usual, ...] = (
    JUMP,
    Usual(WageRow, "wage", LIMIT, "policy", relation="a move from the wage before", case="before"),
    Usual(
        ExchangeRow,
        "rate",
        LIMIT,
        "policy; a rate that is near 1 over the one before is upside down (definition)",
        relation="a move from the rate before",
        case="before",
    ),
    Usual(
        BookRow,
        "list_price",
        LIMIT,
        "policy",
        relation="a move from the price before",
        case="before",
    ),
    Usual(
        IndexRow,
        "value",
        "50 to 200 %",
        f"indices of materials at their wildest ({MEMORY})",
        relation="a value, of the one before",
        case="before",
    ),
)

RELATIONS: tuple[Usual, ...] = (
    *(CLOSED_ZONES, OPEN_ZONES, INFUSED_ZONES, ZONE, FACE, FACES, ZONE_LAP, FACE_LAP, CAVITY),
    *(ENDING, OVERHEAD, MIX, BEAM, RESIN, LAMINATE, MASS, HOURS, PULLS, TAKE_RATE),
    *(APPLIED, APPLIED_MOULDS, UNITS, HULL_MOULD),
    *(POLICY, BOOK_POLICY, *JUMPS),
)
