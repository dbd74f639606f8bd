"""Published three-point estimates and the triangular distribution, from a range in a catalogue."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.live_risk import live_risk, live_spreads
from quoter.analysis.risk import risks_of
from quoter.engineering.uncertainty import (
    contingency,
    range_end,
    share_together,
    three_point_deviation,
    three_point_mean,
    triangular_mean,
    triangular_variance,
    variance_together,
)
from quoter.figures import Figure
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.checks import table
from tests.checks.table import Check

SCHEDULING = "three-point estimates of activities, project-scheduling handbooks: (a + 4 m + b) / 6"
# (a + m + b) / 3 and (a2 + m2 + b2 - a m - a b - m b) / 18.
TRIANGLE = "mean and variance of the triangular distribution (from memory)"
SUM = "variance of a sum, var(x + y) = var x + var y + 2 r sx sy (definition)"
CLASSES = "AACE International 18R-97, widest range of class 3, as summarised publicly"
# Low, likely, high, mean, standard deviation.
ESTIMATES = (
    ("5", "5", "7", "5.33", "0.33"),
    ("4", "8", "13", "8.17", "1.50"),
    ("1", "10", "17", "9.67", "2.67"),
    ("6", "10", "13", "9.83", "1.17"),
)

CHECKS = (
    *(
        Check((three_point_mean, a, m, b), mean, SCHEDULING, "published")
        for a, m, b, mean, _ in ESTIMATES
    ),
    *(
        Check((three_point_deviation, a, b), sd, SCHEDULING, "published")
        for a, _, b, _, sd in ESTIMATES
    ),
    Check(
        (triangular_mean, "3 EUR", "6 EUR", "9 EUR"), "6 EUR", TRIANGLE, "from memory", exact=True
    ),
    Check((triangular_mean, "4", "8", "13"), "8.3333", TRIANGLE, "from memory"),
    Check((triangular_variance, "0", "0", "6"), "2", TRIANGLE, "from memory", exact=True),
    # (16 + 64 + 169 - 32 - 52 - 104) / 18 = 61 / 18.
    Check((triangular_variance, "4", "8", "13"), "3.3889", TRIANGLE, "from memory"),
    # Two of 3 and 4 EUR: as one they are 7, apart the long side of the triangle.
    Check((variance_together, "7 EUR", "25 EUR2", "1"), "49 EUR2", SUM, "derived", exact=True),
    Check((variance_together, "7 EUR", "25 EUR2", "0"), "25 EUR2", SUM, "derived", exact=True),
    Check((variance_together, "7 EUR", "25 EUR2", "50 %"), "37 EUR2", SUM, "derived", exact=True),
    # cov(x, x + y) = 9 + r 12: at r = 1/2, 15 of 37; with the other's 16 + 6, 37 of 37.
    Check((share_together, "3 EUR", "7 EUR", "50 %", "37 EUR2"), "0.40541", SUM, "derived"),
    Check((share_together, "4 EUR", "7 EUR", "50 %", "37 EUR2"), "0.59459", SUM, "derived"),
    # An estimate of class 3 by AACE International 18R-97: 20 % below to 30 % above.
    Check((range_end, "100 EUR", "-20 %"), "80 EUR", CLASSES, "published", exact=True),
    Check((range_end, "100 EUR", "30 %"), "130 EUR", CLASSES, "published", exact=True),
    Check((contingency, "112 EUR", "100 EUR"), "12 EUR", "definition", "derived", exact=True),
)


@table.each(CHECKS)
def test_uncertainty(check: Check) -> None:
    table.verify(check)


def hours_of(folder: Path, low: str, likely: str, high: str, shape: str = "") -> Figure:
    """The hours of an operation whose time has a range."""
    fixed = f'fixed: "{likely} h [{low} to {high}{shape}]"'
    changes = {"options.yaml": ("fixed: 4 h", fixed)}
    made = priced(write_catalogue(folder, {}, changes)).models[MODEL].options[OPTION].assembly
    return made.hours["finishing"]


def moments_of(result: Figure) -> list[tuple[float, float]]:
    """Mean and standard deviation, to first order and simulated."""
    (simulated,) = risks_of([result])
    live = live_risk(result, simulated, live_spreads([simulated]), "asked", "Asked")
    assert live is not None
    return [(live.mean.value, live.deviation.value), (simulated.mean, simulated.deviation)]


@pytest.mark.parametrize(("low", "likely", "high", "mean", "deviation"), ESTIMATES)
def test_a_three_point_estimate_of_an_operation_s_time(
    tmp_path: Path, low: str, likely: str, high: str, mean: str, deviation: str
) -> None:
    """Published to two decimals by project-scheduling handbooks."""
    for found in moments_of(hours_of(tmp_path / "c", low, likely, high)):
        assert found == pytest.approx((float(mean), float(deviation)), abs=0.005)


@pytest.mark.parametrize(("low", "likely", "high", "_mean", "_deviation"), ESTIMATES)
def test_a_triangular_estimate_of_an_operation_s_time(
    tmp_path: Path, low: str, likely: str, high: str, _mean: str, _deviation: str
) -> None:
    """Mean and variance of the triangular distribution; from memory."""
    a, m, b = float(low), float(likely), float(high)
    variance = (a * a + m * m + b * b - a * m - a * b - m * b) / 18
    for found in moments_of(hours_of(tmp_path / "c", low, likely, high, " triangular")):
        assert found == pytest.approx(((a + m + b) / 3, variance**0.5), rel=1e-4)
