"""Published learning curves through an operation of a catalogue: standard time to paid hours."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

STEVENSON = "Stevenson, Operations Management, table 7S-1"
CYCLES = "times of 50, 40, 32 minutes at cycles 1, 2, 4 of an 80 % curve (published)"
PRACTICE = "professional accountancy practice paper"
EXAMINATION = "accountancy examination, June 2013: 45 x 100^-0.152"
DERIVED = "derived, exact sums of n^b"
HOMEWORK = "operations-management homework, recomputed"

# model, slope, time of the first unit, first and last unit of the lot, average time, tolerance
CURVES = [
    ("unit", "90 %", "1 h", 20, 20, 0.634, 0.0005, STEVENSON),
    ("unit", "80 %", "50 min", 1, 1, 50 / 60, 1e-9, CYCLES),
    ("unit", "80 %", "50 min", 2, 2, 40 / 60, 1e-9, CYCLES),
    ("unit", "80 %", "50 min", 4, 4, 32 / 60, 1e-9, CYCLES),
    ("cumulative average", "80 %", "1000 h", 1, 4, 640.0, 1e-9, PRACTICE),
    # The paper rounds the exponent to -0.304 before it computes.
    ("cumulative average", "81 %", "1000 h", 1, 4, 656.0, 0.5, PRACTICE),
    # 90 % is b = -0.152003; the examination rounds it to -0.152.
    ("cumulative average", "90 %", "45 h", 1, 100, 22.3467, 0.0005, EXAMINATION),
    ("unit", "80 %", "1 h", 1, 10, 6.3154 / 10, 5e-6, DERIVED),
    ("unit", "80 %", "1 h", 1, 100, 32.6508 / 100, 5e-7, DERIVED),
    ("unit", "85 %", "1 h", 1, 10, 7.1161 / 10, 5e-6, DERIVED),
    ("unit", "85 %", "1 h", 1, 100, 43.7539 / 100, 5e-7, DERIVED),
    ("unit", "90 %", "1 h", 1, 10, 7.9945 / 10, 5e-6, DERIVED),
    ("unit", "90 %", "1 h", 1, 100, 58.1410 / 100, 5e-7, DERIVED),
    # The same slope in the other model: 22.7062, not 32.6508.
    ("cumulative average", "80 %", "1 h", 1, 100, 22.7062 / 100, 5e-7, DERIVED),
    ("unit", "85 %", "125000 h", 4, 4, 90312.5, 1e-6, HOMEWORK),
    ("cumulative average", "85 %", "125000 h", 4, 4, 71407.0, 0.5, HOMEWORK),
    ("unit", "90 %", "1000 h", 1, 1, 1000.0, 1e-9, HOMEWORK),
    ("unit", "90 %", "1000 h", 2, 2, 900.0, 1e-9, HOMEWORK),
    ("unit", "90 %", "1000 h", 4, 4, 810.0, 1e-9, HOMEWORK),
    ("unit", "90 %", "1000 h", 8, 8, 729.0, 1e-9, HOMEWORK),
]


def paid_hours(folder: Path, fixed: str, curve: str) -> float:
    changes = {"options.yaml": ("fixed: 4 h}", f"fixed: {fixed}, learning: {curve}}}")}
    option = priced(write_catalogue(folder, {}, changes)).models[MODEL].options[OPTION]
    return option.assembly.hours["finishing"].value


@pytest.mark.parametrize(
    ("model", "slope", "fixed", "first", "last", "expected", "tolerance", "source"), CURVES
)
def test_learning(
    tmp_path: Path,
    model: str,
    slope: str,
    fixed: str,
    first: int,
    last: int,
    expected: float,
    tolerance: float,
    source: str,
) -> None:
    curve = f"{{model: {model}, slope: {slope}, reference: 1, first: {first}, last: {last}}}"
    found = paid_hours(tmp_path / "c", fixed, curve)
    assert found == pytest.approx(expected, abs=tolerance, rel=1e-12), source


@pytest.mark.parametrize("model", ["unit", "cumulative average"])
def test_a_standard_set_at_a_later_unit_is_that_unit_s(tmp_path: Path, model: str) -> None:
    """A time of 32 minutes set at cycle 4 is 50 minutes at the first; as the source has it."""
    curve = f"{{model: {model}, slope: 80 %, reference: 4, first: 1, last: 1}}"
    assert paid_hours(tmp_path / "c", "32 min", curve) == pytest.approx(50 / 60, rel=1e-12)
