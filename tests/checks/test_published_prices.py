"""Exchange and the moves of a published price."""

from __future__ import annotations

from quoter.pricing.exchange import exchanged, in_home_currency
from quoter.pricing.repricing import furthest, moved, proposed_price
from tests.checks import table
from tests.checks.table import Check

REFERENCE = "European Central Bank, euro reference rates of 2024-03-28: 1 EUR = 0.85510 GBP"
DEFINITION = "definition of a relative change, by hand"
POLICY = "hold, target and largest step, by hand; common practice, no source"

CHECKS = (
    Check((exchanged, "100 EUR", "0.85510 GBP/EUR"), "85.51 GBP", REFERENCE, "published", True),
    Check((in_home_currency, "85.51 GBP", "0.85510 GBP/EUR"), "100 EUR", REFERENCE, "published"),
    Check((moved, "1000 EUR", "1050 EUR"), "5 %", DEFINITION, "derived", True),
    Check((moved, "80 EUR", "76 EUR"), "-5 %", DEFINITION, "derived", True),
    Check((furthest, "1000 EUR", "8 %", "1"), "1080 EUR", DEFINITION, "derived", True),
    Check((furthest, "-50 EUR", "10 %", "-1"), "-55 EUR", DEFINITION, "derived", True),
    Check(
        (proposed_price, "1000 EUR", "1.5 %", "2 %", "1020 EUR", "920 EUR", "1080 EUR"),
        "1000 EUR",
        POLICY,
        "derived",
        True,
    ),
    Check(
        (proposed_price, "1000 EUR", "4.2 %", "2 %", "1050 EUR", "920 EUR", "1080 EUR"),
        "1050 EUR",
        POLICY,
        "derived",
        True,
    ),
    Check(
        (proposed_price, "1000 EUR", "9.5 %", "2 %", "1100 EUR", "920 EUR", "1080 EUR"),
        "1080 EUR",
        POLICY,
        "derived",
        True,
    ),
    Check(
        (proposed_price, "1000 EUR", "-12 %", "2 %", "880 EUR", "920 EUR", "1080 EUR"),
        "920 EUR",
        POLICY,
        "derived",
        True,
    ),
)


@table.each(CHECKS)
def test_published_price(check: Check) -> None:
    table.verify(check)
