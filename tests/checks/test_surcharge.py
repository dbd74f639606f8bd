"""Surcharges by an index against published worked examples of price adjustment clauses."""

from __future__ import annotations

from quoter.pricing.surcharge import (
    beyond_threshold,
    capped_fraction,
    charged_fraction,
    excess_move,
    index_ratio,
    may_leave,
    only_rises,
    surcharge_amount,
    whole_move,
)
from tests.checks import table
from tests.checks.table import Check

# A price of 2.10 USD a mile, 10 % of it fuel; gasoline at 1.559 USD, then 2.129, then 1.449.
PROPORTIONAL = "48 CFR 852.216-72 (MAR 2018), worked example of a price per mile"
RISE = (whole_move, (index_ratio, "2.129", "1.559"), "0")
FALL = (whole_move, (index_ratio, "1.449", "1.559"), "0")
MILE = "0.0001 USD"
# Anchorage, 2015 over 2014 and 2011 over 2010.
PERCENT = "Alaska Department of Labor and Workforce Development, how a percent change is calculated"
# Above 105 % of the base: price less 1.05 times the base; likewise below 95 %. Numbers are ours.
EXCESS = "Oregon special provision 00195.10, asphalt cement escalation, by hand"
DEFINITION = "definition of the clause, by hand"

CHECKS = (
    Check(RISE, "36.56 %", PROPORTIONAL, "published"),
    Check(FALL, "-7.06 %", PROPORTIONAL, "published"),
    Check(
        (surcharge_amount, "2.10 USD", (charged_fraction, RISE, "10 %"), MILE),
        *("0.0768 USD", PROPORTIONAL, "published", True),
    ),
    Check(
        (surcharge_amount, "2.10 USD", (charged_fraction, FALL, "10 %"), MILE),
        *("-0.0148 USD", PROPORTIONAL, "published", True),
    ),
    Check(
        (whole_move, (index_ratio, "216.909", "215.805"), "0"), "0.51157 %", PERCENT, "published"
    ),
    Check((whole_move, (index_ratio, "201.427", "195.144"), "0"), "3.2197 %", PERCENT, "published"),
    # 550 against a base of 500: 550 - 525 = 25, or 5 % of the base; 450: 450 - 475 = -25.
    Check((excess_move, (index_ratio, "550", "500"), "5 %"), "5 %", EXCESS, "derived", True),
    Check((excess_move, (index_ratio, "450", "500"), "5 %"), "-5 %", EXCESS, "derived", True),
    Check((excess_move, (index_ratio, "520", "500"), "5 %"), "0 %", EXCESS, "derived", True),
    # Exactly the threshold is not beyond it, whatever the binary fractions are.
    Check((beyond_threshold, (index_ratio, "105", "100"), "5 %"), "0", DEFINITION, "derived", True),
    Check((beyond_threshold, (index_ratio, "99", "100"), "1 %"), "0", DEFINITION, "derived", True),
    Check((beyond_threshold, (index_ratio, "98.9", "100"), "1 %"), "1", DEFINITION, "derived"),
    Check((whole_move, (index_ratio, "105", "100"), "5 %"), "0 %", DEFINITION, "derived", True),
    Check((whole_move, (index_ratio, "106", "100"), "5 %"), "6 %", DEFINITION, "derived", True),
    Check((only_rises, "-3 %"), "0 %", DEFINITION, "derived", True),
    Check((capped_fraction, "12 %", "8 %"), "8 %", DEFINITION, "derived", True),
    Check((capped_fraction, "-12 %", "8 %"), "-12 %", DEFINITION, "derived", True),
    Check((may_leave, "6 %", "6 %"), "0", DEFINITION, "derived", True),
    Check((may_leave, "6.1 %", "6 %"), "1", DEFINITION, "derived", True),
    # A cent's half goes away from zero, either way.
    Check(
        (surcharge_amount, "100.50 EUR", "1 %", "0.01 EUR"), "1.01 EUR", DEFINITION, "derived", True
    ),
    Check(
        (surcharge_amount, "100.50 EUR", "-1 %", "0.01 EUR"),
        *("-1.01 EUR", DEFINITION, "derived", True),
    ),
)


@table.each(CHECKS)
def test_surcharge(check: Check) -> None:
    table.verify(check)
