"""The chance of an order and what it is worth, against published examples."""

from __future__ import annotations

from quoter.pricing.chance import chance_of_order, expected_amount
from tests.checks import table
from tests.checks.table import Check

# After 1,826,213 days on which the sun rose, he bets 1,826,214 to one that it will rise again.
LAPLACE = "Laplace, Essai philosophique sur les probabilités, 1814"
DEFINITION = "definition, by hand"

CHECKS = (
    Check((chance_of_order, "1826213", "1826213"), "0.999999452419", LAPLACE, "from memory"),
    Check((chance_of_order, "3", "8"), "40 %", DEFINITION, "derived", True),
    Check((chance_of_order, "0", "5"), "0.142857142857", DEFINITION, "derived"),
    Check((expected_amount, "40 %", "50000 EUR"), "20000 EUR", DEFINITION, "derived", True),
)


@table.each(CHECKS)
def test_chance(check: Check) -> None:
    table.verify(check)
