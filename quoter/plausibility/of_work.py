"""Usual ranges of what is made: stations, moulds, stacks, shapes, times and learning."""

from __future__ import annotations

from quoter.catalogue.factory import MixedContent, Mould, Overhead, Overtime, Ply, Station
from quoter.catalogue.operations import (
    BatchMaterial,
    Drivers,
    Learning,
    Operation,
    Rework,
    RunTimes,
)
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
from quoter.catalogue.tables import WageRow
from quoter.plausibility.of_materials import DENSEST, FIBRES, WHY_DENSEST, WHY_FIBRES
from quoter.plausibility.usual import ISO, MEMORY, PRACTICE, Usual, of

ATMOSPHERE = "one standard atmosphere is 101.325 kPa (exact); pumps reach 85 to 99 % of it (memory)"
REST = "personal needs, fatigue and standing are 11 % (after the ILO's Introduction to Work Study)"
FIBRE_FORMS = (
    "15 to 25 % for mat, 40 to 55 % for woven, 60 % for stitched, by volume (a university's "
    "lecture notes), widened"
)
SLOPES = "80 to 95 % (published tables of learning), widened"

WORK: tuple[Usual, ...] = (
    *of(
        Station,
        PRACTICE,
        on_costs="at most 120 %",
        efficiency="40 to 120 %",
    ),
    Usual(Station, "allowance", "2 to 35 %", REST),
    *of(
        Overhead,
        PRACTICE,
        capacity={"h": "50 to 500000 h", "money": "1000 to 50000000 EUR"},
        variable="at most 20000000 EUR",
        fixed="at most 20000000 EUR",
    ),
    *of(
        Overtime,
        PRACTICE,
        normal="50 to 500000 h",
        premium="at most 150 %",
        most="at most 100000 h",
        second_shift="at most 100 %",
    ),
    *of(WageRow, f"{MEMORY}, wages of the trade about 2024, widened", wage="4 to 100 EUR/h"),
    *of(
        Mould,
        PRACTICE,
        cost="50 to 1000000 EUR",
        refurbishment="at most 300000 EUR",
        salvage="at most 200000 EUR",
        life="5 to 20000 pulls",
        pulls_per_year="1 to 5000 pulls",
        write_off_years="1 to 15",
        upkeep="at most 500 EUR",
    ),
    *of(Ply, PRACTICE, layers="at most 30 plies"),
    *(
        Usual(Ply, "glass_content", within, ISO, case, DENSEST, WHY_DENSEST)
        for case, within in (
            ("mat, open mould", "20 to 36 %"),
            ("woven, open mould", "33 to 60 %"),
            ("stitched, open mould", "33 to 66 %"),
            ("veil, open mould", "5 to 25 %"),
            ("flow core, open mould", "12 to 40 %"),
            ("gun roving, open mould", "20 to 40 %"),
            ("mat, infused", "20 to 50 %"),
            ("woven, infused", "48 to 76 %"),
            ("stitched, infused", "48 to 78 %"),
            ("veil, infused", "5 to 30 %"),
            ("flow core, infused", "12 to 50 %"),
            ("gun roving, infused", "20 to 40 %"),
            ("mat, closed mould", "20 to 48 %"),
            ("woven, closed mould", "40 to 72 %"),
            ("stitched, closed mould", "40 to 76 %"),
            ("veil, closed mould", "5 to 30 %"),
            ("flow core, closed mould", "12 to 45 %"),
        )
    ),
    *of(Ply, PRACTICE, thickness="0.5 to 15 mm"),
    *of(MixedContent, ISO, all_woven="30 to 60 %", mat_slope="at most 30 %"),
    *of(Part, PRACTICE, batch="at most 500"),
    *of(OpenMouldPart, PRACTICE, nest_utilisation="at least 50 %"),
    *of(
        ClosedMouldPart,
        PRACTICE,
        nest_utilisation="at least 50 %",
        gallery_and_catch_pot="at most 30 kg",
    ),
    *of(
        InfusedPart,
        PRACTICE,
        nest_utilisation="at least 50 %",
        lines_and_pot="at most 40 kg",
    ),
    Usual(InfusedPart, "fibre_volume", "20 to 65 %", FIBRE_FORMS, "", FIBRES, WHY_FIBRES),
    Usual(InfusedPart, "glass_content", "33 to 80 %", FIBRE_FORMS, "", DENSEST, WHY_DENSEST),
    Usual(InfusedPart, "bag_pressure", "75 to 101 kPa", ATMOSPHERE),
    *of(
        Shape,
        "no part of a boat is larger than a boat (common practice)",
        width="0.01 to 25 m",
        height="0.01 to 25 m",
        corner_radius="at most 2 m",
        diameter="0.01 to 10 m",
        area="0.0005 to 300 m2",
        perimeter="0.04 to 120 m",
        thickness="1 to 400 mm",
        volume="0.005 to 20000 L",
    ),
    *of(
        Zone,
        PRACTICE,
        area="0.0005 to 300 m2",
        strip="5 to 2000 mm",
        share="1 to 250 %",
        gap="1 to 150 mm",
        core="at most 140 mm",
    ),
    *of(Face, PRACTICE, area="0.0005 to 300 m2", strip="5 to 2000 mm", share="1 to 250 %"),
    *of(CoreUse, PRACTICE, quantity="at most 60"),
    *of(
        Vacuum,
        ATMOSPHERE,
        flange_pressure="at least 25 kPa",
        cavity_pressure="5 to 100 kPa",
        flange_area="0.005 to 20 m2",
        cavity_area="0.005 to 80 m2",
    ),
    *of(
        Goods,
        PRACTICE,
        quantity={
            "each": "0.01 to 3000 each",
            "m": "0.01 to 1500 m",
            "m2": "0.001 to 400 m2",
            "m3": "0.00001 to 20 m3",
            "kg": "0.001 to 800 kg",
        },
        per_perimeter={
            "each": "0.01 to 20",
            "1/m": "0.05 to 100 each/m",
            "kg/m": "0.001 to 10 kg/m",
            "m": "0.02 to 2 m",
        },
        lasts="at most 1000",
        per_area={
            "each": "0.01 to 20",
            "1/m": "0.05 to 20 m/m2",
            "1/m2": "0.02 to 300 each/m2",
            "kg/m2": "0.001 to 25 kg/m2",
        },
    ),
    *of(
        BatchMaterial,
        PRACTICE,
        quantity={
            "each": "0.02 to 500 each",
            "m": "0.02 to 500 m",
            "m2": "0.01 to 500 m2",
            "m3": "0.00001 to 2 m3",
            "kg": "0.005 to 200 kg",
        },
    ),
    *of(
        Operation,
        PRACTICE,
        crew="0.2 to 12",
        setup="at most 80 h",
        fixed="at most 400 h",
        cure="at most 200 h",
        machine="at most 80 h",
        passes="at least 70 %",
        overspray="at most 30 %",
    ),
    Usual(Operation, "allowance", "at most 40 %", REST),
    *of(
        RunTimes,
        PRACTICE,
        area="0.3 to 600 min/m2",
        perimeter="0.2 to 240 min/m",
        plies="0.1 to 240 min/ply",
        glass_mass="0.5 to 180 min/kg",
        gelcoat_faces="0.5 to 480 min/face",
        count="0.05 to 2400 min/each",
        fasteners="0.05 to 60 min/each",
        length="0.1 to 240 min/m",
        foam_mass="0.1 to 180 min/kg",
        sprayed_mass="0.05 to 30 min/kg",
    ),
    *of(
        Drivers,
        PRACTICE,
        area="0.0005 to 1000 m2",
        perimeter="0.04 to 400 m",
        plies="1 to 600 plies",
        glass_mass="0.01 to 8000 kg",
        gelcoat_faces="1 to 60 faces",
        count="1 to 5000 each",
        fasteners="1 to 10000 each",
        length="0.02 to 3000 m",
        foam_mass="0.01 to 2000 kg",
        sprayed_mass="0.05 to 30000 kg",
    ),
    Usual(Learning, "slope", "at least 70 %", SLOPES),
    *of(Learning, PRACTICE, reference="at most 5000", first="at most 5000", last="at most 8000"),
    *of(Rework, PRACTICE, share="at most 40 %", time="at most 80 h"),
)
