"""Tooling, yield, overhead and purchasing against published and derived values."""

from __future__ import annotations

import pytest

from quoter.engineering.losses import per_unit_of_batch, waste_mass
from quoter.engineering.overhead import (
    overhead_cost,
    overhead_rate,
    spread_over_units,
    under_absorbed,
)
from quoter.engineering.purchasing import (
    average_price,
    disposal_cost,
    freight_fraction,
    handling_cost,
    holding_cost,
    landed_price,
    material_cost,
    moved_price,
    ordering_cost,
    ordering_rate,
)
from quoter.engineering.tooling import (
    cost_per_pull,
    crossing_volume,
    outlay,
    payback_months,
    pulls_per_year,
    pulls_to_write_off,
    sets_needed,
    units_to_bear,
    yearly_charge,
)
from quoter.engineering.yields import (
    per_good_unit,
    rework_time,
    rolled_yield,
)
from quoter.figures import round_up
from tests.checks import table
from tests.checks.table import Check

DEFINITION = "definition, by hand"
BOOK = "OpenStax, Principles of Accounting"
BREAK_EVEN = f"{BOOK} vol. 2, 3.2, price 100, variable 20, fixed 18,000, target 16,000"
SENSITIVITY = f"{BOOK} vol. 2, 3.5, price 3.75, variable 1.50, fixed 2,475, each changed in turn"
DEPRECIATION = f"{BOOK} vol. 1, 11.3, units of production"
COST_CARD = f"{BOOK} vol. 2, 8.1"
LABOUR_DOLLAR = f"{BOOK} vol. 2, 4.4"
JOB_SHEET = f"{BOOK} vol. 2, 4.5: 12 at 10 and 40 at 1.50, by hand"
APPLIED = f"{BOOK} vol. 2, 4.6"
DEPARTMENTS = "departmental overhead rates, a university's homework page"
MANAGERIAL = "Lumen, Managerial Accounting, departmental rates"
THROUGHPUT = "rolled throughput yield, quality-engineering handbooks"
START = "start quantity for 1,000 good at 3, 5 and 7 % scrap, quality-engineering handbooks"
REJECTS = "effective volume V / (1 - reject), process-based cost modelling (from memory)"
LAYUPS = "a mould is good for about 200 lay-ups (from memory, common practice)"

AVERAGED = f"{BOOK} vol. 1, 10.2: 150 at 21, 225 at 27, 210 at 33 (from memory)"
CARRYING = "Stevenson, Operations Management, holding cost as a rate of unit cost (from memory)"

BESIDES_CHECKS = (
    Check(
        (spread_over_units, "48000 USD", "960000 pcs"),
        "0.05 USD/each",
        DEPRECIATION,
        "published",
        exact=True,
    ),
    Check((per_unit_of_batch, "3 kg", "4"), "0.75 kg", DEFINITION, "derived", exact=True),
    Check((waste_mass, "5 lb", "4 lb"), "1 lb", DEFINITION, "derived", exact=True),
    Check(
        (disposal_cost, (waste_mass, "5 lb", "4 lb"), "0.50 EUR/lb"),
        "0.50 EUR",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check(
        (ordering_rate, "30 EUR", "500 EUR", "400 EUR"), "32.5 %", DEFINITION, "derived", exact=True
    ),
    Check((ordering_rate, "30 EUR", "500 EUR", "600 EUR"), "5 %", DEFINITION, "derived", True),
    Check((ordering_cost, "84 EUR", "32.5 %"), "27.30 EUR", DEFINITION, "derived", exact=True),
    Check((holding_cost, "1000 EUR", "20 %", "12"), "200 EUR", CARRYING, "from memory", True),
    Check((holding_cost, "184 EUR", "12 %", "3"), "5.52 EUR", DEFINITION, "derived", exact=True),
)
TOOLING_CHECKS = (
    Check((moved_price, "100 EUR/kg", "21 %", "0.5"), "110 EUR/kg", DEFINITION, "derived", True),
    Check((moved_price, "3.48 EUR/kg", "-10 %", "2"), "2.8188 EUR/kg", DEFINITION, "derived", True),
    Check(
        (cost_per_pull, "58000 USD", "0 USD", "10000 USD", "960000 pcs", "0 USD/each"),
        "0.05 USD/each",
        DEPRECIATION,
        "published",
        exact=True,
    ),
    Check(
        (cost_per_pull, "25000 USD", "0 USD", "6000 USD", "125000 pcs", "0 USD/each"),
        "0.152 USD/each",
        DEPRECIATION,
        "published",
        exact=True,
    ),
    Check(
        (cost_per_pull, "12000 EUR", "2000 EUR", "500 EUR", "300 pulls", "4 EUR/pull"),
        "49 EUR/pull",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check((units_to_bear, "18000 USD", "80 USD"), "225", BREAK_EVEN, "published", exact=True),
    Check((units_to_bear, "34000 USD", "80 USD"), "425", BREAK_EVEN, "published", exact=True),
    Check((units_to_bear, "2475 USD", "2.25 USD"), "1100", SENSITIVITY, "published", exact=True),
    Check((units_to_bear, "2475 USD", "2.75 USD"), "900", SENSITIVITY, "published", exact=True),
    Check((units_to_bear, "2475 USD", "2.20 USD"), "1125", SENSITIVITY, "published", exact=True),
    Check((units_to_bear, "2700 USD", "2.25 USD"), "1200", SENSITIVITY, "published", exact=True),
    Check(
        (payback_months, "80000 USD", "30000 USD", "1"),
        "32",
        "a worked exercise: 80,000 for 30,000 a year is 2.67 years (textbook answer site)",
        "published",
        exact=True,
    ),
    Check(
        (crossing_volume, "25000 USD", "18 USD", "50000 USD", "10 USD"),
        "3125",
        "a worked exercise in operations management: process A 50,000 and 10, B 25,000 and 18",
        "published",
        exact=True,
    ),
    Check((outlay, "12000 EUR", "2000 EUR", "500 EUR"), "13500 EUR", DEFINITION, "derived", True),
    Check(
        (yearly_charge, "12000 EUR", "1000 EUR", "1000 EUR", "5"),
        "2400 EUR",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check(
        (pulls_to_write_off, "200 pulls", "60 pulls", "5"), "200 pulls", LAYUPS, "from memory", True
    ),
    Check(
        (pulls_to_write_off, "200 pulls", "30 pulls", "5"), "150 pulls", DEFINITION, "derived", True
    ),
    Check(
        (pulls_per_year, "46", "168 h", "56 h/pull", "75 %"),
        "103.5 pulls",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check((sets_needed, "300 pcs", "150 pulls"), "2", DEFINITION, "derived", exact=True),
    Check((sets_needed, "301 pcs", "150 pulls"), "3", DEFINITION, "derived", exact=True),
)

BOUGHT_CHECKS = (
    Check(
        (average_price, ["21 USD", "27 USD", "33 USD"], ["150", "225", "210"]),
        "27.62 USD",
        AVERAGED,
        "from memory",
    ),
    Check((freight_fraction, "50 EUR", "4 EUR/kg", "250 kg"), "5 %", DEFINITION, "derived", True),
)

# Units to start, so that the good ones arrive after 3, 5 and 7 % are scrapped.
PASSED = (rolled_yield, ["97 %", "95 %", "93 %"])
YIELD_CHECKS = (
    Check(
        (rolled_yield, ["0.997", "0.995", "0.95", "0.89", "0.923", "0.94"]),
        "0.728",
        THROUGHPUT,
        "published",
    ),
    Check((rolled_yield, ["0.987", "0.958", "0.996"]), "0.942", THROUGHPUT, "published"),
    Check((per_good_unit, "1000 pcs", PASSED), "1167 pcs", START, "published"),
    Check((round_up, (per_good_unit, "1000", PASSED)), "1167", START, "published", exact=True),
    Check((per_good_unit, "900 pcs", "90 %"), "1000 pcs", REJECTS, "from memory", exact=True),
    Check((per_good_unit, "95 EUR", "95 %"), "100 EUR", DEFINITION, "derived", exact=True),
    Check((rework_time, "25 %", "2 h"), "30 min", DEFINITION, "derived", exact=True),
)

OVERHEAD_CHECKS = (
    Check((overhead_cost, "5 USD/h", "6.75 h"), "33.75 USD", COST_CARD, "published", exact=True),
    Check((overhead_cost, "3 USD/h", "6.75 h"), "20.25 USD", COST_CARD, "published", exact=True),
    Check(
        (overhead_rate, "250000 USD", "100000 USD"), "2.50", LABOUR_DOLLAR, "published", exact=True
    ),
    Check((overhead_cost, "2.50", "66 USD"), "165 USD", LABOUR_DOLLAR, "published", exact=True),
    Check(
        (overhead_rate, "450000 USD", "15000 h"), "30 USD/h", DEPARTMENTS, "published", exact=True
    ),
    Check(
        (overhead_rate, "150000 USD", "2000 h"), "75 USD/h", DEPARTMENTS, "published", exact=True
    ),
    Check(
        (overhead_rate, "600000 USD", "20000 h"), "30 USD/h", DEPARTMENTS, "published", exact=True
    ),
    Check(
        (overhead_rate, "600000 USD", "4000 h"), "150 USD/h", DEPARTMENTS, "published", exact=True
    ),
    Check(
        (overhead_rate, "141000 USD", "47000 h"), "3.00 USD/h", MANAGERIAL, "published", exact=True
    ),
    Check((overhead_rate, "47000 USD", "376000 USD"), "0.125", MANAGERIAL, "published", exact=True),
    Check((overhead_cost, "33.50 USD/h", "6240 h"), "209040 USD", APPLIED, "published", exact=True),
    Check(
        (under_absorbed, "209250 USD", (overhead_cost, "33.50 USD/h", "6240 h")),
        "210 USD",
        APPLIED,
        "published",
        exact=True,
    ),
)

PURCHASING_CHECKS = (
    Check((material_cost, "4 lb", "5.25 USD/lb"), "21.00 USD", COST_CARD, "published", exact=True),
    Check((material_cost, "12 pcs", "10 USD/each"), "120 USD", JOB_SHEET, "derived", exact=True),
    Check((material_cost, "40 pcs", "1.50 USD/each"), "60 USD", JOB_SHEET, "derived", exact=True),
    Check(
        (landed_price, "108 EUR/kg", "1.08", "5 %", "10 %"), "115.5 EUR/kg", DEFINITION, "derived"
    ),
    Check((handling_cost, "700 EUR", "5 %"), "35 EUR", DEFINITION, "derived", exact=True),
)
CHECKS = (
    BESIDES_CHECKS
    + TOOLING_CHECKS
    + BOUGHT_CHECKS
    + YIELD_CHECKS
    + OVERHEAD_CHECKS
    + PURCHASING_CHECKS
)


@table.each(BESIDES_CHECKS)
def test_besides(check: Check) -> None:
    table.verify(check)


@table.each(TOOLING_CHECKS)
def test_tooling(check: Check) -> None:
    table.verify(check)


@table.each(BOUGHT_CHECKS)
def test_bought(check: Check) -> None:
    table.verify(check)


@table.each(YIELD_CHECKS)
def test_yield(check: Check) -> None:
    table.verify(check)


@table.each(OVERHEAD_CHECKS)
def test_overhead(check: Check) -> None:
    table.verify(check)


@table.each(PURCHASING_CHECKS)
def test_purchasing(check: Check) -> None:
    table.verify(check)


def test_a_rolled_yield_of_no_operation_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a rolled yield needs at least one operation's yield$"):
        rolled_yield([])
