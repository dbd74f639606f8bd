"""Organic HAP of open moulding against 40 CFR 63 Subpart VVVV."""

from __future__ import annotations

from quoter.engineering.emissions import (
    emission_limit,
    emitted,
    gelcoat_any_method,
    of_substance,
    resin_atomised,
    resin_atomised_bagged,
    resin_atomised_bagged_rolled,
    resin_non_atomised,
    resin_non_atomised_bagged,
    resin_non_atomised_bagged_rolled,
)
from tests.checks import table
from tests.checks.table import Check

# The point values at the contents of Table 2 come near the coefficients of the limit (46, 46, 159,
# 291, 54, 54 and 214); the rule-maker rounded those, so the two don't agree to the last digit.
TABLES = "40 CFR 63 Subpart VVVV: formulas of Table 3 at the contents of Table 2, by hand"
COEFFICIENTS = "40 CFR 63 Subpart VVVV: coefficients of Table 3, at 1 percent"
LIMIT = "40 CFR 63.5698, equation 1"
NOTHING = "0 kg"

CHECKS = (
    Check((resin_atomised, "28"), "45.24", TABLES, "derived"),
    Check((resin_non_atomised, "35"), "45.59", TABLES, "derived"),
    Check((gelcoat_any_method, "33"), "155.55", TABLES, "derived"),
    Check((gelcoat_any_method, "48"), "291.37", TABLES, "derived"),
    Check((resin_atomised, "30"), "53.47", TABLES, "derived"),
    Check((resin_non_atomised, "39"), "58.32", TABLES, "derived"),
    Check((gelcoat_any_method, "40"), "214.69", TABLES, "derived"),
    Check((resin_atomised, "1"), "0.014", COEFFICIENTS, "published", exact=True),
    Check((resin_atomised_bagged_rolled, "1"), "0.01185", COEFFICIENTS, "published", exact=True),
    Check((resin_atomised_bagged, "1"), "0.00945", COEFFICIENTS, "published", exact=True),
    Check((resin_non_atomised, "1"), "0.014", COEFFICIENTS, "published", exact=True),
    Check((resin_non_atomised_bagged_rolled, "1"), "0.0110", COEFFICIENTS, "published", exact=True),
    Check((resin_non_atomised_bagged, "1"), "0.0076", COEFFICIENTS, "published", exact=True),
    Check((gelcoat_any_method, "1"), "0.445", COEFFICIENTS, "published", exact=True),
    # 10^2.425 = 266.0725 and 10^2.275 = 188.3649.
    Check((resin_atomised_bagged_rolled, "10"), "3.15296", TABLES, "derived"),
    Check((resin_atomised_bagged, "10"), "2.51439", TABLES, "derived"),
    Check((resin_non_atomised_bagged_rolled, "10"), "2.07201", TABLES, "derived"),
    Check((resin_non_atomised_bagged, "10"), "1.43157", TABLES, "derived"),
    Check((of_substance, "9 kg", "4 %", "36 %"), "1 kg", "4 parts of 36", "derived", exact=True),
    Check((emitted, "1 t", "46"), "46 kg", "40 CFR 63.5710, equation 1", "derived", exact=True),
    Check((emission_limit, "1 t", *[NOTHING] * 4), "46 kg", LIMIT, "published", exact=True),
    Check((emission_limit, NOTHING, "1 t", *[NOTHING] * 3), "159 kg", LIMIT, "published", True),
    Check(
        (emission_limit, *[NOTHING] * 2, "1 t", *[NOTHING] * 2), "291 kg", LIMIT, "published", True
    ),
    Check((emission_limit, *[NOTHING] * 3, "1 t", NOTHING), "54 kg", LIMIT, "published", True),
    Check((emission_limit, *[NOTHING] * 4, "1 t"), "214 kg", LIMIT, "published", exact=True),
)


@table.each(CHECKS)
def test_emissions(check: Check) -> None:
    table.verify(check)
