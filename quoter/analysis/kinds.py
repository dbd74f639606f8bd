"""Of which kind each number of the catalogue is: which of them vary, and which are exact and why.

The kind follows from the record's key that a number stands under, and from nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from quoter.catalogue import materials as m
from quoter.catalogue.certainty import KINDS, PRICES, RATES, SIMILAR, TIMES, WAGES
from quoter.catalogue.factory import MixedContent, Mould, Overhead, Ply, Station, Supplier
from quoter.catalogue.operations import (
    BatchMaterial,
    Check,
    Drivers,
    Learning,
    Operation,
    Rework,
    RunTimes,
)
from quoter.catalogue.options import BaseBoat, Credit, Model, OneOff, Option, Package, PartUse
from quoter.catalogue.parts import (
    ClosedMouldPart,
    CoreUse,
    Face,
    Goods,
    InfusedPart,
    OpenMouldPart,
    Part,
    Shape,
    Vacuum,
    Zone,
)
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.tables import ExchangeRow, PriceRow, WageRow
from quoter.catalogue.yard import Policy
from quoter.costing.rates import class_of
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.phrases import phrase
from quoter.units import NONE, Unit, unit

# Why a number does not vary.
COUNT, DECIDED = phrase("a count"), phrase("decided, not estimated")
SOLD, LAW = phrase("as sold or mixed"), phrase("set by law")
TERM, BARE = phrase("a term of sale"), phrase("a bare number of no kind")

# What each kind that varies is called.
KIND_WORDS: Mapping[str, str] = {
    TIMES: phrase("time"),
    "efficiency": phrase("efficiency"),
    "allowance": phrase("allowance"),
    "learning": phrase("learning"),
    PRICES: phrase("price"),
    RATES: phrase("exchange"),
    WAGES: phrase("wage"),
    "freight": phrase("freight"),
    "stated cost": phrase("stated cost"),
    "dimension": phrase("dimension"),
    "quantity": phrase("quantity"),
    "density": phrase("density"),
    "glass content": phrase("glass content"),
    "film": phrase("film"),
    "loss": phrase("loss"),
    "use": phrase("use"),
    "yield": phrase("yield"),
    "rework": phrase("rework"),
    "overhead": phrase("overhead"),
    "capacity": phrase("capacity"),
    "mould cost": phrase("mould cost"),
    "pulls": phrase("pulls"),
}

QUANTITY, DIMENSION, DENSITY = "quantity", "dimension", "density"
STATED = "stated cost"

# Key of a record -> the kind of its number, or why it is exact. Records inherit those above them.
FIELDS: Mapping[type[CatalogueRecord], Mapping[str, str]] = {
    PriceRow: {"price": PRICES},
    ExchangeRow: {"rate": RATES},
    WageRow: {"wage": WAGES},
    Station: {"on_costs": WAGES, "efficiency": "efficiency", "allowance": "allowance"},
    Overhead: {
        "capacity": "capacity",
        "variable": "overhead",
        "fixed": "overhead",
    },
    Supplier: {
        "freight": "freight",
        "duty": LAW,
        "order_freight": "freight",
        "minimum_order": TERM,
        "order_value": QUANTITY,
    },
    Mould: {
        "cost": "mould cost",
        "refurbishment": "mould cost",
        "salvage": "mould cost",
        "life": "pulls",
        "pulls_per_year": "pulls",
        "write_off_years": DECIDED,
        "upkeep": "mould cost",
    },
    Ply: {"layers": COUNT, "glass_content": "glass content"},
    MixedContent: {"all_woven": "glass content", "mat_slope": "glass content"},
    m.Material: {"pack": SOLD, "loss": "loss", "waste_on_net": "loss"},
    m.Glass: {
        "areal_mass": DENSITY,
        "glass_content": "glass content",
        "infused_content": "glass content",
        "roll_width": SOLD,
        "overlap": DIMENSION,
    },
    m.Resin: {"catalyst_fraction": QUANTITY, "styrene": SOLD, "pot_life": SOLD},
    m.Gelcoat: {
        "wet_thickness": "film",
        "transfer": "use",
        "catalyst_fraction": QUANTITY,
        "styrene": SOLD,
        "cured_share": "film",
        "pot_life": SOLD,
    },
    m.Foam: {"parts_a": SOLD, "parts_b": SOLD, "packing_factor": DENSITY, "loss": "loss",
             "waste_on_net": "loss"},
    m.Bought: {"mass": QUANTITY, "roll_width": SOLD, "density": SOLD},
    Zone: {"share": DIMENSION},
    Face: {"share": DIMENSION},
    Goods: {"per_perimeter": QUANTITY, "per_area": QUANTITY, "lasts": "pulls"},
    Part: {"batch": DECIDED},
    OpenMouldPart: {"nest_utilisation": "use"},
    InfusedPart: {"nest_utilisation": "use", "fibre_volume": "glass content",
                  "glass_content": "glass content", "bag_pressure": DECIDED},
    ClosedMouldPart: {"nest_utilisation": "use"},
    CoreUse: {"quantity": COUNT},
    Vacuum: {"flange_pressure": DECIDED, "cavity_pressure": DECIDED},
    PartUse: {"quantity": COUNT},
    Credit: {"quantity": COUNT, "share": DECIDED},
    Option: {"minimum_length": DECIDED, "batch": DECIDED, "most": DECIDED, "lead_weeks": DECIDED},
    Package: {"saving": TERM},
    Model: {"list_price": TERM, "lead_weeks": DECIDED},
    BaseBoat: {"material": STATED, "tooling": STATED},
    Operation: {"crew": DECIDED, "allowance": "allowance", "passes": "yield",
                "overspray": "use"},
    OneOff: {"units": QUANTITY},
    BatchMaterial: {"quantity": QUANTITY},
    Rework: {"share": "rework"},
    Check: {"least": DECIDED, "most": DECIDED},
    Learning: {"slope": "learning", "reference": DECIDED, "first": DECIDED, "last": DECIDED},
    RunTimes: {},
    Drivers: {"plies": COUNT, "gelcoat_faces": COUNT, "count": COUNT, "fasteners": COUNT},
    Shape: {},
    Policy: {
        "material_handling": "overhead",
        "general_overhead": "overhead",
        "target_margin": TERM,
        "floor_margin": TERM,
        "holding_rate": "overhead",
        "months_held": QUANTITY,
        "ply_trim": DECIDED,
        "ply_overlap": DECIDED,
        "bucket": DECIDED,
    },
}  # fmt: skip

# What no key is listed for goes by its unit: minutes are a time wherever they stand.
BY_UNIT: Mapping[Unit, str] = {
    unit("h"): TIMES,
    unit("h") / unit("m"): TIMES,
    unit("h") / unit("m2"): TIMES,
    unit("h") / unit("kg"): TIMES,
    unit("m"): DIMENSION,
    unit("m2"): DIMENSION,
    unit("m3"): DIMENSION,
    unit("kg"): QUANTITY,
    unit("kg/m"): QUANTITY,
    unit("kg/m2"): QUANTITY,
    unit("kg/m3"): DENSITY,
}


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a number: its kind or why it is exact, what it rests on, what it moves with.

    `among` names its station or class, where its kind moves together with others of it.
    """

    kind: str
    basis: str = SIMILAR
    among: str = ""

    @property
    def varies(self) -> bool:
        """Whether it is of a kind that varies."""
        return self.kind in KINDS


def kind_of(record: type[CatalogueRecord], name: str, number: Figure) -> str:
    """The kind of a record's number, or why it is exact."""
    for above in record.__mro__:
        if name in FIELDS.get(above, {}):
            return FIELDS[above][name]
    if record is Goods and number.unit == NONE:
        return COUNT
    if number.unit.currencies:
        return STATED
    return BY_UNIT.get(number.unit, BARE)


def known_inputs(catalogue: Catalogue) -> dict[Figure, Known]:
    """Each number of the catalogue in force, as written -> what is known of it."""
    found: dict[Figure, Known] = {}
    for record, known in _roots(catalogue):
        for number, told in _within(record, known):
            found.setdefault(input_behind(number), told)
    return found


def _roots(catalogue: Catalogue) -> Iterator[tuple[CatalogueRecord, Known]]:
    nothing = Known("")
    yield catalogue.yard.policy, nothing
    for id, row in catalogue.prices.items():
        yield row, replace(nothing, among=class_of(catalogue, id))
    for dated in (*catalogue.exchange.values(), *catalogue.wages.values()):
        yield dated, nothing
    for records in catalogue.records.by_kind.values():
        for record in records.values():
            yield record, nothing


def _within(record: CatalogueRecord, known: Known) -> Iterator[tuple[Figure, Known]]:
    """The numbers of a record and of those it holds; what these state of themselves holds there."""
    basis = getattr(record, "basis", None)
    known = replace(known, basis=basis) if basis else known
    if isinstance(record, Station | Operation):
        known = replace(
            known, among=str(record.id if isinstance(record, Station) else record.station)
        )
    for name in type(record).model_fields:
        for key, value in _values(getattr(record, name)):
            if isinstance(value, CatalogueRecord):
                yield from _within(value, known)
            elif isinstance(value, Figure):
                among = key if key and name == "hours" else known.among
                yield value, replace(known, kind=kind_of(type(record), name, value), among=among)


def _values(value: Any) -> Iterator[tuple[str, Any]]:
    """What a key holds: itself, each of a list, or each by its id."""
    if isinstance(value, tuple):
        for item in value:
            yield "", item
    elif isinstance(value, dict):
        for id, item in value.items():
            yield str(id), item
    else:
        yield "", value
