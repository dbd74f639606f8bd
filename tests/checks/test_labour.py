"""Labour and learning curves against published and derived values."""

from __future__ import annotations

from operator import mul

from quoter.engineering.labour import (
    crew_hours,
    hours_above,
    labour_cost,
    labour_rate,
    paid_hours,
    premium_cost,
    run_time,
    setup_per_unit,
    standard_on_shift,
    standard_on_work,
)
from quoter.engineering.learning import (
    cumulative_lot_average,
    cumulative_total_time,
    first_unit_time,
    learning_exponent,
    unit_lot_average,
)
from tests.checks import table
from tests.checks.table import Check

DEFINITION = "definition, by hand"
ALLOWANCES = (
    "Handbook of Industrial Engineering; personal 5 %, basic fatigue 4 % and standing 2 %"
    " after ILO, Introduction to Work Study"
)
COST_CARD = "OpenStax, Principles of Accounting vol. 2, 8.1"
JOB_SHEET = "OpenStax, Principles of Accounting vol. 2, 4.5"
VARIANCES = "OpenStax, Principles of Accounting vol. 2, 8.3: 11,000 at 1.5 h took 16,000 h"

# "A rate of $12 an hour, 46 hours: 46 hours at $12, and 6 hours at $6 on top, $588" (the sum).
OVERTIME = "29 CFR 778.110(a), 12 an hour, 46 hours, half the rate on top above 40 (from memory)"

LABOUR_CHECKS = (
    Check((hours_above, "46 h", "40 h"), "6 h", OVERTIME, "from memory", exact=True),
    Check((hours_above, "38 h", "40 h"), "0 h", DEFINITION, "derived", exact=True),
    Check(
        (premium_cost, (hours_above, "46 h", "40 h"), "12 USD/h", "50 %"),
        "36 USD",
        OVERTIME,
        "from memory",
        exact=True,
    ),
    Check((standard_on_work, "1 h", "11 %"), "1.1100 h", ALLOWANCES, "derived", exact=True),
    Check((standard_on_shift, "1 h", "11 %"), "1.1236 h", ALLOWANCES, "derived"),
    Check(
        (run_time, "30 min", ["12 min/m2", "4 min/m"], ["2 m2", "6 m"]),
        "78 min",
        DEFINITION,
        "derived",
        exact=True,
    ),
    Check((run_time, "30 min", [], []), "30 min", DEFINITION, "derived", exact=True),
    Check((setup_per_unit, "2 h", "8 boats"), "0.25 h", DEFINITION, "derived", exact=True),
    Check((crew_hours, "1.5 h", "2"), "3 h", DEFINITION, "derived", exact=True),
    Check((paid_hours, "3.4 h", "85 %"), "4 h", DEFINITION, "derived", exact=True),
    Check((paid_hours, "16500 h", "103.125 %"), "16000 h", VARIANCES, "derived", exact=True),
    Check((labour_rate, "24 EUR/h", "50 %"), "36 EUR/h", DEFINITION, "derived", exact=True),
    Check((labour_cost, "2.75 h", "11 USD/h"), "30.25 USD", COST_CARD, "published", exact=True),
    Check((labour_cost, "4 h", "15 USD/h"), "60.00 USD", COST_CARD, "published", exact=True),
    Check((labour_cost, "1 h", "15 USD/h"), "15.00 USD", JOB_SHEET, "published", exact=True),
    Check((labour_cost, "2 h", "18 USD/h"), "36.00 USD", JOB_SHEET, "published", exact=True),
)

WORK_STUDY = "80 % curve: 50, 40 and 32 minutes at cycles 1, 2 and 4; an industrial handbook"
PRACTICE_PAPER = "a professional accountancy body's paper on learning curves"
EXAMINATION = "an accountancy examination, June 2013: Y = 45 x 100^-0.152"
OPERATIONS = "Stevenson, Operations Management, table 7S-1"
HOMEWORK = "operations-management homework: 85 %, first unit 125,000 h; recomputed"
DOUBLINGS = "90 % curve at doublings: 1000, 900, 810, 729 h"
CUMULATIVE = "sum of n^b over the units, by hand"


def slope(percent: str) -> tuple[object, ...]:
    return (learning_exponent, percent)


def unit_time(first: str, unit: str, percent: str) -> tuple[object, ...]:
    """The time of one unit is that of a lot of one."""
    return (unit_lot_average, first, unit, unit, slope(percent))


def unit_total(units: str, percent: str) -> tuple[object, ...]:
    return (mul, (unit_lot_average, "1 h", "1", units, slope(percent)), units)


LEARNING_CHECKS = (
    Check(
        unit_time("50 min", "1", "80 %"),
        "50 min",
        WORK_STUDY,
        "published",
        True,
    ),
    Check(
        unit_time("50 min", "2", "80 %"),
        "40 min",
        WORK_STUDY,
        "published",
        True,
    ),
    Check(
        unit_time("50 min", "4", "80 %"),
        "32 min",
        WORK_STUDY,
        "published",
        True,
    ),
    Check((first_unit_time, "32 min", "4", slope("80 %")), "50 min", WORK_STUDY, "derived", True),
    Check(
        (cumulative_lot_average, "1000 h", "1", "4", slope("80 %")),
        "640 h",
        PRACTICE_PAPER,
        "published",
        exact=True,
    ),
    Check(
        (cumulative_lot_average, "1000 h", "1", "4", slope("81 %")),
        "656 h",
        PRACTICE_PAPER,
        "published",
    ),
    Check(slope("81 %"), "-0.304", PRACTICE_PAPER, "published"),
    Check(
        (cumulative_lot_average, "45 h", "1", "100", "-0.152"),
        "22.3467 h",
        EXAMINATION,
        "published",
    ),
    Check((cumulative_total_time, "45 h", "100", "-0.152"), "2234.67 h", EXAMINATION, "published"),
    Check(unit_time("1 h", "20", "90 %"), "0.634 h", OPERATIONS, "published"),
    Check(
        unit_time("125000 h", "4", "85 %"),
        "90312.5 h",
        HOMEWORK,
        "published",
        exact=True,
    ),
    Check(
        (cumulative_lot_average, "125000 h", "4", "4", slope("85 %")),
        "71407 h",
        HOMEWORK,
        "published",
    ),
    Check(unit_time("1000 h", "2", "90 %"), "900 h", DOUBLINGS, "published", True),
    Check(unit_time("1000 h", "4", "90 %"), "810 h", DOUBLINGS, "published", True),
    Check(unit_time("1000 h", "8", "90 %"), "729 h", DOUBLINGS, "published", True),
    Check(unit_total("10", "80 %"), "6.3154 h", CUMULATIVE, "derived"),
    Check(unit_total("100", "80 %"), "32.6508 h", CUMULATIVE, "derived"),
    Check(unit_total("10", "85 %"), "7.1161 h", CUMULATIVE, "derived"),
    Check(unit_total("100", "85 %"), "43.7539 h", CUMULATIVE, "derived"),
    Check(unit_total("10", "90 %"), "7.9945 h", CUMULATIVE, "derived"),
    Check(unit_total("100", "90 %"), "58.1410 h", CUMULATIVE, "derived"),
    # Wright's totals of 2 and 4 units are 1600 and 2560 h, so units 3 and 4 take 960 h.
    Check(
        (cumulative_lot_average, "1000 h", "3", "4", slope("80 %")),
        "480 h",
        DEFINITION,
        "derived",
        exact=True,
    ),
    # Wright's total where the unit curve has 32.6508 h.
    Check((cumulative_total_time, "1 h", "100", slope("80 %")), "22.7062 h", DEFINITION, "derived"),
)
CHECKS = LABOUR_CHECKS + LEARNING_CHECKS


@table.each(LABOUR_CHECKS)
def test_labour(check: Check) -> None:
    table.verify(check)


@table.each(LEARNING_CHECKS)
def test_learning(check: Check) -> None:
    table.verify(check)
