"""Usual ranges of what is bought: densities, contents, films, packs, losses and prices.

Money is told in euros; another home currency is held against it at the usual rates of exchange.
"""

from __future__ import annotations

from quoter.catalogue.factory import Supplier
from quoter.catalogue.materials import (
    Bought,
    Catalyst,
    Foam,
    FoamComponent,
    Gelcoat,
    Glass,
    Material,
    Resin,
)
from quoter.catalogue.tables import ExchangeRow, PriceRow, RiseRow
from quoter.plausibility.usual import ISO, MEMORY, PRACTICE, Usual, of

SHEETS = "makers' data sheets (from memory)"
FILM = "15 to 35 mil is the usual applied range (a trade association's magazine, 2016), widened"
PEROXIDE = "1 to 2 % of resin, 2 to 3 % of gelcoat (common practice), widened"
POT_LIFE = "10 to 45 min at 20 to 25 degrees for most polyesters (from memory), widened"
OVERLAP = "at least 50 mm (a class society's rules for FRP, 2014), less where seams are butted"
E_GLASS = "2.54 to 2.56 kg/L for E-glass (published), other glasses beside it (from memory)"
CURED = "1.1 to 1.25 kg/L for polyester (from memory), widened"
SHRINKS = "cure and evaporation leave 80 to 90 % of a wet film (common practice), widened"
NO_TEXT = "no text found: common practice"
RATES = "yearly averages since 1999, widened (from memory)"
# Parallel fibres packed as closely as can be take pi / (2 sqrt 3) = 90.7 % of the volume; with
# densities of 2.56 and 1.20 kg/L that is 95.4 % by mass.
DENSEST = "0 to 95.4 %"
FIBRES = "0 to 90.7 %"
WHY_FIBRES = "round fibres packed as closely as they can be take 90.7 % of a volume"
WHY_DENSEST = "round fibres packed as closely as they can be leave 4.6 % of the mass to resin"

MATERIALS: tuple[Usual, ...] = (
    *of(
        Material,
        PRACTICE,
        pack={
            "kg/pack": "0.1 to 30000 kg/pack",
            "m3/pack": "0.0001 to 30 m3/pack",
            "m2/pack": "0.1 to 3000 m2/pack",
            "m/pack": "0.5 to 10000 m/pack",
            "1/pack": "1 to 20000 each/pack",
        },
        loss="at most 40 %",
        waste_on_net="at most 70 %",
    ),
    *of(
        Glass,
        SHEETS,
        areal_mass={
            "mat": "100 to 1000 g/m2",
            "woven": "80 to 1300 g/m2",
            "stitched": "150 to 2600 g/m2",
            "veil": "15 to 120 g/m2",
            "flow core": "200 to 2500 g/m2",
            "gun roving": "100 to 4000 g/m2",
        },
        roll_width="0.05 to 3.5 m",
    ),
    Usual(Glass, "overlap", "at most 150 mm", OVERLAP),
    *(
        Usual(Glass, "glass_content", within, ISO, form, DENSEST, WHY_DENSEST)
        for form, within in (
            ("mat", "20 to 45 %"),
            ("woven", "33 to 70 %"),
            ("stitched", "33 to 76 %"),
            ("veil", "5 to 30 %"),
            ("flow core", "12 to 45 %"),
        )
    ),
    Usual(
        Glass,
        "glass_content",
        "20 to 40 %",
        "25 to 35 % (an equipment maker's guide to spray-up), widened",
        "gun roving",
        DENSEST,
        WHY_DENSEST,
    ),
    *(
        Usual(Glass, "infused_content", within, ISO, form, DENSEST, WHY_DENSEST)
        for form, within in (
            ("mat", "25 to 50 %"),
            ("woven", "48 to 76 %"),
            ("stitched", "48 to 78 %"),
            ("veil", "5 to 30 %"),
            ("flow core", "12 to 50 %"),
        )
    ),
    *of(
        Resin,
        SHEETS,
        liquid_density="1.0 to 1.3 kg/L",
        styrene="at most 55 %",
        methyl_methacrylate="at most 30 %",
        organic_hap="at most 60 %",
    ),
    Usual(Resin, "cured_density", "1.05 to 1.35 kg/L", CURED),
    Usual(Resin, "catalyst_fraction", "0.5 to 4 %", PEROXIDE),
    *of(Resin, POT_LIFE, pot_life="4 to 240 min"),
    *of(Gelcoat, POT_LIFE, pot_life="4 to 90 min"),
    Usual(Gelcoat, "wet_thickness", "0.3 to 1.5 mm", FILM),
    Usual(Gelcoat, "cured_share", "at least 70 %", SHRINKS),
    Usual(Gelcoat, "transfer", "at least 40 %", NO_TEXT),
    Usual(Gelcoat, "catalyst_fraction", "1 to 4 %", PEROXIDE),
    *of(
        Gelcoat,
        SHEETS,
        density="1.05 to 1.6 kg/L",
        styrene="at most 60 %",
        methyl_methacrylate="at most 20 %",
        organic_hap="at most 60 %",
    ),
    *of(Catalyst, SHEETS, density="0.9 to 1.3 kg/L"),
    *of(FoamComponent, SHEETS, density="0.95 to 1.35 kg/L"),
    *of(
        Foam,
        SHEETS,
        parts_a="1 to 1000",
        parts_b="1 to 1000",
        free_rise_density="15 to 400 kg/m3",
        packing_factor="1 to 3",
        loss="at most 30 %",
        waste_on_net="at most 40 %",
    ),
    *of(
        Bought,
        PRACTICE,
        mass={
            "kg": "at most 500 kg/each",
            "kg/m": "at most 30 kg/m",
            "kg/m2": "at most 60 kg/m2",
            "kg/m3": "at most 8000 kg/m3",
            "each": "at most 100 %",
        },
        resin_uptake={
            "kg": "at most 100 kg/each",
            "kg/m": "at most 2 kg/m",
            "kg/m2": "0.02 to 4 kg/m2",
        },
        roll_width="0.05 to 6 m",
        density="0.2 to 3 kg/L",
    ),
    *of(
        Supplier,
        PRACTICE,
        freight="at most 35 %",
        duty="at most 30 %",
        order_freight="at most 5000 EUR",
        minimum_order="at most 25000 EUR",
        order_value="20 to 1000000 EUR",
    ),
    *of(
        PriceRow,
        f"{MEMORY}, prices in western Europe about 2024, widened",
        price={
            "glass mat": "0.8 to 12 EUR/kg",
            "glass woven": "1.2 to 20 EUR/kg",
            "glass stitched": "1.5 to 25 EUR/kg",
            "glass veil": "3 to 100 EUR/kg",
            "glass flow core": "1.5 to 30 EUR/kg",
            "glass gun roving": "0.7 to 8 EUR/kg",
            "resin": "1 to 20 EUR/kg",
            "gelcoat": "2 to 35 EUR/kg",
            "catalyst": "1.5 to 40 EUR/kg",
            "foam": "1.5 to 30 EUR/kg",
            "hardware, by its mass": "0.8 to 500 EUR/kg",
            "core, by its mass": "2 to 200 EUR/kg",
            "consumable, by its mass": "0.5 to 80 EUR/kg",
            "other, by its mass": "0.3 to 500 EUR/kg",
            "without mass, each": "0.005 to 200 EUR",
            "without mass, m": "0.01 to 60 EUR/m",
            "without mass, m2": "0.02 to 200 EUR/m2",
            "without mass, m3": "5 to 5000 EUR/m3",
        },
    ),
    *of(
        RiseRow,
        PRACTICE,
        by={"": "-40 to 50 %", "kg": "-5 to 5 EUR/kg", "m3": "-5000 to 5000 EUR/m3"},
    ),
    *of(
        ExchangeRow,
        RATES,
        rate={
            "USD": "0.95 to 1.6",
            "GBP": "0.55 to 1",
            "CHF": "0.85 to 1.7",
            "NOK": "7 to 13",
            "SEK": "8 to 13",
            "DKK": "7.3 to 7.6",
            "ISK": "70 to 300",
            "PLN": "3 to 5.2",
            "CZK": "21 to 40",
            "HUF": "220 to 450",
            "CAD": "1.2 to 1.8",
            "AUD": "1.1 to 2.2",
            "NZD": "1.3 to 2.8",
            "JPY": "85 to 200",
            "CNY": "6.2 to 12",
            "HKD": "7 to 13",
            "SGD": "1.2 to 2.3",
            "ZAR": "6 to 25",
        },
    ),
)
