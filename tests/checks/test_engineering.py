"""The tables of checks as a whole: no formula is left out, and a wrong value is caught."""

from __future__ import annotations

from dataclasses import replace

import pytest

from quoter.engineering.geometry import circle_area
from quoter.engineering.laminate import glass_mass
from tests.checks import (
    test_chance,
    test_closed_mould,
    test_cutting,
    test_emissions,
    test_labour,
    test_laminate,
    test_margin,
    test_mixing,
    test_mould_calendar,
    test_processes,
    test_published_prices,
    test_rates,
    test_surcharge,
    test_uncertainty,
    test_variances,
)
from tests.checks.formulas import FORMULAS
from tests.checks.table import Check, functions_in, verify

TABLES = (
    test_chance,
    test_closed_mould,
    test_cutting,
    test_mixing,
    test_emissions,
    test_labour,
    test_laminate,
    test_margin,
    test_mould_calendar,
    test_processes,
    test_published_prices,
    test_rates,
    test_surcharge,
    test_uncertainty,
    test_variances,
)
CHECKS = [check for module in TABLES for check in module.CHECKS]


def test_every_formula_is_the_subject_of_a_check() -> None:
    checked = {function for check in CHECKS for function in functions_in(check.expression)}
    assert [formula.name for formula in FORMULAS if formula.function not in checked] == []


def test_every_check_names_its_source() -> None:
    assert [check.name for check in CHECKS if len(check.source) < 10] == []


def test_what_is_from_memory_says_so_in_its_source() -> None:
    remembered = [check for check in CHECKS if check.how == "from memory"]
    assert remembered
    assert [check.name for check in remembered if "from memory" not in check.source] == []


GOOD = Check((circle_area, "2 m"), "3.1416 m2", "definition", "derived")


@pytest.mark.parametrize(
    "wrong",
    [replace(GOOD, expected="3.1417 m2"), replace(GOOD, exact=True)],
    ids=["digit", "exact"],
)
def test_a_value_that_is_off_in_its_last_place_is_caught(wrong: Check) -> None:
    verify(GOOD)
    with pytest.raises(AssertionError, match=r"circle_area = 3\.141. m2: got 3\.14159265"):
        verify(wrong)


def test_a_value_of_another_unit_is_caught() -> None:
    with pytest.raises(AssertionError):
        verify(Check((glass_mass, "10 m2", "1", "1 kg/m2"), "10 m", "definition", "derived"))
