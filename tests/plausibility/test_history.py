"""A price, wage, rate or index that moves far is told at its line, however it was written down."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.plausibility.test_meant import told

MEANT = "if it is meant, begin its note with 'expected: ' and why"
LIMIT = "more than 12 % is worth a look"  # the policy's import_limit


@pytest.mark.parametrize(
    ("file", "old", "new", "begins"),
    [
        (
            "prices/2026-11-01.csv",
            "gel_grey,quenmoor,45.10 USD/gal",
            "gel_grey,quenmoor,54.10 USD/gal",
            "54.10 USD/gal from 2026-11-01 on, 21.6 % more than the 44.50 USD/gal before it",
        ),
        (
            "prices/2026-11-01.csv",
            "gel_grey,quenmoor,45.10 USD/gal",
            "gel_grey,quenmoor,10.90 USD/kg",
            "10.90 USD/kg from 2026-11-01 on, 16.8 % more than the 44.50 USD/gal before it",
        ),
        (
            "wages.csv",
            "finisher,23.90",
            "finisher,32.90",
            "32.90 EUR/h from 2026-10-01 on, 38.2 % more than the 23.80 EUR/h before it",
        ),
        (
            "exchange.csv",
            "NOK,11.68",
            "NOK,8.11",
            "8.11 NOK/EUR from 2026-11-01 on, 30.9 % less than the 11.74 NOK/EUR before it",
        ),
        (
            "indices.csv",
            "116.8",
            "1168",
            "1168 from 2026-11-01 on, 967.6 % more than the 109.4 before it",
        ),
    ],
)
def test_a_move_beyond_the_limit_is_told(
    file: str, old: str, new: str, begins: str, tmp_path: Path
) -> None:
    (line,) = told(tmp_path, (file, old, new))
    assert line.startswith(f"{file}:")
    assert begins in line
    assert line.endswith(MEANT)


def test_a_price_in_another_unit_is_compared_by_what_it_is_for(tmp_path: Path) -> None:
    """45.10 USD/gal at 1.26 kg/L is 45.10 / (3.785411784 x 1.26) = 9.456 USD/kg (derived)."""
    same = "gel_grey,quenmoor,9.456 USD/kg"
    change = ("prices/2026-11-01.csv", "gel_grey,quenmoor,45.10 USD/gal", same)
    assert told(tmp_path, change) == []


def test_a_rate_upside_down_is_called_so(tmp_path: Path) -> None:
    """1 / 1.105 = 0.905, which a yard without a range of usual rates would see by its history."""
    (line,) = told(tmp_path, ("exchange.csv", "USD,1.075 USD/EUR", "USD,0.905 USD/EUR"))
    assert "it looks upside down: write how much USD one unit buys" in line


def test_a_move_of_the_limit_is_none_beyond_it(tmp_path: Path) -> None:
    assert told(tmp_path, ("wages.csv", "finisher,23.90", "finisher,26.656")) == []


def test_a_move_that_another_line_took_the_place_of_is_past(tmp_path: Path) -> None:
    jump = ("prices/2026-10-01.csv", "gel_white,dolvane,6.95", "gel_white,dolvane,8.95")
    later = ("prices/2026-11-01.csv", "gel_white,dolvane,7.05", "gel_white,dolvane,8.90")
    assert told(tmp_path, jump, later) == []


def test_a_move_is_told_on_a_day_that_it_was_in_force(tmp_path: Path) -> None:
    jump = ("prices/2026-10-01.csv", "gel_white,dolvane,6.95", "gel_white,dolvane,8.95")
    later = ("prices/2026-11-01.csv", "gel_white,dolvane,7.05", "gel_white,dolvane,8.90")
    (line,) = told(tmp_path, jump, later, as_of=date(2026, 10, 15))
    assert "29.7 % more than the 6.90 EUR/kg before it" in line
    assert LIMIT in line
