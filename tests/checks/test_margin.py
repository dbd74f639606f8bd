"""Net price, contribution, margin, markup and the rounding rule against published examples."""

from __future__ import annotations

from quoter.pricing.margin import (
    cost_for_price,
    fraction_of_price,
    largest_discount,
    left_after,
    net_of_trade_in,
    net_price,
    price_for_margin,
    rounded_down,
    rounded_nearest,
    rounded_up,
)
from tests.checks import table
from tests.checks.table import Check

BOOK = "OpenStax, Principles of Accounting vol. 2"
BREAK_EVEN = f"{BOOK}, 3.2, price 100, variable cost 20"
SENSITIVITY = f"{BOOK}, 3.5, price 3.75, variable cost 1.50"
DEFINITION = "definitions of margin and markup, by hand"
FAIR_VALUE = "IFRS 15, 66: what is taken in counts at fair value (from memory)"

CHECKS = (
    Check((left_after, "100 USD", "0", "20 USD"), "80 USD", BREAK_EVEN, "published", True),
    Check((left_after, "3.75 USD", "0", "1.50 USD"), "2.25 USD", SENSITIVITY, "published", True),
    Check((left_after, "4000 EUR", "5 %", "2000 EUR"), "1800 EUR", DEFINITION, "derived", True),
    Check((fraction_of_price, "80 USD", "100 USD"), "80 %", BREAK_EVEN, "published", True),
    Check((net_price, "5000 EUR", "20 %"), "4000 EUR", DEFINITION, "derived", True),
    # A margin of 20 % is a markup of 25 %; with provisions and a discount by hand.
    Check((price_for_margin, "100 USD", "0", "20 %", "0"), "125 USD", DEFINITION, "derived", True),
    Check((price_for_margin, "1300 EUR", "5 %", "30 %", "20 %"), "2500 EUR", DEFINITION, "derived"),
    # A net of 100 (2000) is needed, 20 (400) of it from what no discount comes off.
    Check(
        (largest_discount, "100 USD", "20 USD", "80 USD", "0", "20 %", "0"),
        "20 %",
        DEFINITION,
        "derived",
        True,
    ),
    Check(
        (largest_discount, "2500 EUR", "400 EUR", "1300 EUR", "5 %", "30 %", "20 %"),
        "20 %",
        DEFINITION,
        "derived",
    ),
    Check(
        (net_of_trade_in, "18000 EUR", "16500 EUR"), "-1500 EUR", FAIR_VALUE, "from memory", True
    ),
    Check((cost_for_price, "125 USD", "0", "20 %"), "100 USD", DEFINITION, "derived", True),
    Check((cost_for_price, "2000 EUR", "5 %", "30 %"), "1300 EUR", DEFINITION, "derived", True),
    Check((rounded_up, "4321 EUR", "100 EUR", "90 EUR"), "4390 EUR", DEFINITION, "derived", True),
    Check((rounded_down, "4321 EUR", "100 EUR", "90 EUR"), "4290 EUR", DEFINITION, "derived", True),
    Check(
        (rounded_nearest, "4345 EUR", "10 EUR", "0 EUR"), "4350 EUR", DEFINITION, "derived", True
    ),
)


@table.each(CHECKS)
def test_margin(check: Check) -> None:
    table.verify(check)
