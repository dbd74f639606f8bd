"""Usual ranges of what is sold: the yard's policy, markets, options, boats and their volumes."""

from __future__ import annotations

from quoter.catalogue.certainty import UsualRange
from quoter.catalogue.markets import Approver, DealerClass, Market, OtherTax, Rounding, Surcharge
from quoter.catalogue.options import (
    BaseBoat,
    ColourSurcharge,
    Credit,
    HullMould,
    HullTime,
    Model,
    OneOff,
    Option,
    Package,
    PartUse,
    Position,
)
from quoter.catalogue.quoting import DeliveryTerm, Instalment, QuotePolicy
from quoter.catalogue.tables import BookRow, VolumeRow
from quoter.catalogue.yard import (
    Building,
    Disposal,
    MouldMaterial,
    Policy,
    Provision,
    Repricing,
    ShiftCalendar,
)
from quoter.plausibility.of_materials import E_GLASS, FIBRES, SHEETS, WHY_FIBRES
from quoter.plausibility.usual import PRACTICE, Usual, of

TAXES = "the highest standard rate in Europe is 27 % (from memory)"

SALES: tuple[Usual, ...] = (
    *of(
        Policy,
        PRACTICE,
        target_margin="5 to 60 %",
        floor_margin="at most 50 %",
        material_handling="at most 25 %",
        general_overhead="at most 100 %",
        mould_availability="at least 40 %",
        import_limit="2 to 40 %",
        prices_stale_after_days="7 to 400",
        holding_rate="2 to 40 %",
        months_held="0.1 to 12",
        ply_trim="at most 100 mm",
        ply_overlap="10 to 150 mm",
    ),
    *of(UsualRange, PRACTICE, low="at most 60 %", high="at most 200 %"),
    *of(ColourSurcharge, PRACTICE, list_price="at most 20000 EUR"),
    *of(Building, PRACTICE, months="at most 36", moves="-15 to 25 %"),
    *of(Disposal, PRACTICE, cost="0.02 to 5 EUR/kg"),
    *of(
        ShiftCalendar,
        PRACTICE,
        shifts="at most 3",
        hours="4 to 12 h",
        days="at least 4",
        closed_weeks="at most 16",
    ),
    *of(MouldMaterial, PRACTICE, mass="1 to 20000 kg"),
    *of(
        MouldMaterial,
        SHEETS,
        styrene="at most 60 %",
        methyl_methacrylate="at most 20 %",
        organic_hap="at most 60 %",
    ),
    Usual(Policy, "glass_density", "2.4 to 2.75 kg/L", E_GLASS),
    Usual(Policy, "infused_fibre_low", "10 to 55 %", PRACTICE, "", FIBRES, WHY_FIBRES),
    Usual(Policy, "infused_fibre_high", "30 to 75 %", PRACTICE, "", FIBRES, WHY_FIBRES),
    Usual(Policy, "bucket", "0.2 to 60 L", "what people stir and carry (common practice)"),
    Usual(Policy, "water_density", "990 to 1035 kg/m3", "fresh water to the sea's (from memory)"),
    Usual(Policy, "fibre_fraction_low", "3 to 30 %", PRACTICE, "", FIBRES, WHY_FIBRES),
    Usual(Policy, "fibre_fraction_high", "15 to 75 %", PRACTICE, "", FIBRES, WHY_FIBRES),
    *of(Provision, PRACTICE, fraction="0.05 to 20 %"),
    *of(Repricing, PRACTICE, hold_within="at most 20 %", largest_step="1 to 30 %"),
    *of(Rounding, PRACTICE, step="0.0005 to 5000 EUR", ending="-1000 to 1000 EUR"),
    *of(DealerClass, PRACTICE, discount="at most 45 %", most_extra="at most 15 %"),
    *of(
        Approver,
        PRACTICE,
        most_off="at most 60 %",
        floor="at most 40 %",
        most="1000 to 10000000 EUR",
    ),
    *of(Market, TAXES, tax="at most 30 %"),
    *of(OtherTax, TAXES, rate="at most 30 %"),
    *of(
        Surcharge,
        PRACTICE,
        threshold="at most 25 %",
        share="at least 2 %",
        cap="0.5 to 40 %",
        leave_above="at most 40 %",
        open_for="at most 400",
    ),
    *of(QuotePolicy, PRACTICE, valid_for="3 to 365"),
    *of(Instalment, PRACTICE, share="at least 2 %"),
    *of(DeliveryTerm, PRACTICE, price="at most 100000 EUR"),
    *of(
        Option,
        PRACTICE,
        minimum_length="2 to 35 m",
        most="at most 60",
        batch="at most 200",
        lead_weeks="0.2 to 40",
    ),
    *of(Package, PRACTICE, saving="at most 30 %"),
    *of(Position, PRACTICE, distance="at most 40 m", height="at most 4 m"),
    *of(PartUse, PRACTICE, quantity="0.05 to 60"),
    *of(Credit, PRACTICE, quantity="0.05 to 60", share="at least 5 %"),
    *of(OneOff, PRACTICE, cost="50 to 1000000 EUR", units="1 to 20000"),
    *of(HullTime, PRACTICE, work="0.25 to 100 h", cure="at most 120 h"),
    *of(HullMould, PRACTICE, work="2 to 1000 h", cure="at most 240 h", sets="at most 12"),
    *of(
        Model,
        PRACTICE,
        length="2 to 40 m",
        beam="0.6 to 12 m",
        list_price="500 to 20000000 EUR",
        lead_weeks="1 to 150",
    ),
    *of(
        BaseBoat,
        PRACTICE,
        materials={
            "each": "0.1 to 20000 each",
            "m": "0.1 to 20000 m",
            "m2": "0.05 to 5000 m2",
            "m3": "0.001 to 200 m3",
            "kg": "0.01 to 60000 kg",
        },
        material="at most 5000000 EUR",
        hours="at most 60000 h",
        tooling="at most 1000000 EUR",
        mass="1 to 100000 kg",
        batch="at most 50",
    ),
    *of(VolumeRow, PRACTICE, boats="at most 5000"),
    *of(
        BookRow,
        PRACTICE,
        list_price={"boat": "500 to 20000000 EUR", "option": "-500000 to 1000000 EUR"},
    ),
)
