"""Robust lines and learning curves against published fits, other libraries, and their promise."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import stats

from quoter.actuals.fits import LOTS, huber, learned, trend
from tests.actuals.test_samples import TRIALS, band

# NIST Statistical Reference Datasets, linear regression, Norris: y, x.
NORRIS = (
    "0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3"
    " 449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0"
    " 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3"
    " 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3"
    " 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5"
)
# Brownlee's stack loss data (air flow, water temperature, acid; loss), in most books on regression.
STACK_LOSS = (
    (80, 27, 89, 42), (80, 27, 88, 37), (75, 25, 90, 37), (62, 24, 87, 28), (62, 22, 87, 18),
    (62, 23, 87, 18), (62, 24, 93, 19), (62, 24, 93, 20), (58, 23, 87, 15), (58, 18, 80, 14),
    (58, 18, 89, 14), (58, 17, 88, 13), (58, 18, 82, 11), (58, 19, 93, 12), (50, 18, 89, 8),
    (50, 18, 86, 7), (50, 19, 72, 8), (50, 19, 79, 8), (50, 20, 80, 9), (56, 20, 82, 15),
    (70, 20, 91, 15),
)  # fmt: skip
LEAST_SQUARES = 1e9  # a tuning constant that nothing is beyond


def test_with_a_huge_tuning_constant_the_fit_is_the_certified_least_squares() -> None:
    """NIST StRD Norris, certified values and their standard deviations."""
    numbers = [float(each) for each in NORRIS.split()]
    y, x = numbers[::2], numbers[1::2]
    found = huber([(1.0, each) for each in x], y, LEAST_SQUARES)
    assert found.values == pytest.approx((-0.262323073774029, 1.00211681802045), rel=1e-11)
    assert found.errors == pytest.approx((0.232818234301152, 0.429796848199937e-3), rel=1e-11)
    assert found.freedom == 34


def stack_loss() -> tuple[list[list[float]], list[float]]:
    rows = [[1.0, *map(float, each[:3])] for each in STACK_LOSS]
    return rows, [float(each[3]) for each in STACK_LOSS]


def test_the_robust_fit_of_the_stack_loss_data_is_the_published_one() -> None:
    """Huber's T with the median deviation: documentation of statsmodels, Robust Linear Models."""
    found = huber(*stack_loss())
    printed = [-41.026498, 0.829384, 0.926066, -0.127847]
    assert [round(value, 5) for value in found.values] == [round(value, 5) for value in printed]


def reference(
    rows: Sequence[Sequence[float]], values: Sequence[float], tuning: float
) -> tuple[list[float], list[float], list[float]]:
    """Coefficients, standard errors and weights of statsmodels' RLM, which shares no code."""
    model = sm.RLM(np.array(values), np.array(rows), M=sm.robust.norms.HuberT(t=tuning))
    fit = model.fit(maxiter=500, tol=1e-13, conv="coefs", cov="H1")
    return list(fit.params), list(fit.bse), list(fit.weights)


@pytest.mark.parametrize("tuning", [1.345, 2.0, 3.5])
def test_an_independent_library_agrees_with_the_robust_fit(tuning: float) -> None:
    random = np.random.default_rng(11)
    cases = [stack_loss()]
    for number, columns in ((12, 2), (30, 3), (80, 4)):
        table = random.uniform(0.2, 2.0, (number, columns))
        noise = 0.1 * random.standard_t(2.5, number)
        cases.append((table.tolist(), (table @ np.arange(1.0, columns + 1) + noise).tolist()))
    for rows, values in cases:
        found = huber(rows, values, tuning)
        params, errors, weights = reference(rows, values, tuning)
        assert found.values == pytest.approx(params, rel=1e-7)
        assert found.errors == pytest.approx(errors, rel=1e-6)
        assert found.weights == pytest.approx(weights, abs=1e-6)


def test_a_job_booked_to_the_wrong_station_hardly_moves_the_robust_fit() -> None:
    x = [0.4, 0.7, 1.1, 1.6, 2.0, 2.4, 2.9, 3.3, 3.8, 4.1]
    y = [0.2 + 0.5 * each + 0.01 * (-1) ** n for n, each in enumerate(x)]
    y[4] *= 6
    robust = huber([(1.0, each) for each in x], y)
    squares = huber([(1.0, each) for each in x], y, LEAST_SQUARES)
    assert robust.values == pytest.approx((0.2, 0.5), abs=0.02)
    assert abs(squares.values[0] - 0.2) > 0.3
    assert min(robust.weights) == robust.weights[4] < 0.02


def test_columns_that_rest_on_each_other_are_refused() -> None:
    with pytest.raises(ValueError, match="can't tell 2 coefficients apart"):
        huber([(1.0, 2.0), (2.0, 4.0), (3.0, 6.0)], [1.0, 2.0, 3.0])


@pytest.mark.parametrize("ties", [False, True])
def test_a_trend_is_that_of_a_reference_library(ties: bool) -> None:
    random = np.random.default_rng(12)
    for number in (5, 8, 13, 40):
        times = random.uniform(0, 3, number)
        values = 1 + 0.2 * times + 0.1 * random.standard_normal(number)
        if ties:
            times, values = np.round(times * 2) / 2, np.round(values, 1)
        found = trend(times.tolist(), values.tolist())
        expected = stats.theilslopes(values, times, 0.95)
        assert found is not None
        assert (found.likely, found.low, found.high) == pytest.approx(
            (expected.slope, expected.low_slope, expected.high_slope), abs=1e-12
        )


def test_no_trend_is_told_of_one_day() -> None:
    assert trend([2.0, 2.0, 2.0], [1.0, 1.1, 0.9]) is None


def test_a_published_eighty_per_cent_curve_comes_back() -> None:
    """50, 40 and 32 minutes at cycles 1, 2 and 4 (published example of an 80 % curve)."""
    found = learned([50.0, 40.0, 32.0], [(1, 1), (2, 2), (4, 4)])
    assert found.slope.likely == pytest.approx(0.80)
    assert found.reached.likely == pytest.approx(50.0)


def test_published_cumulative_averages_come_back_from_the_lots_they_are_of() -> None:
    """Y = 45 n^-0.152 (accountancy examination, June 2013): the average of 100 is 22.3467."""
    totals = [45 * n ** (1 - 0.152) for n in (1, 10, 40, 100)]
    lots = [(1, 1), (2, 10), (11, 40), (41, 100)]
    times = [totals[0], *((b - a) / (end - start + 1) for a, b, (start, end) in
                          zip(totals, totals[1:], lots[1:], strict=False))]  # fmt: skip
    found = learned(times, lots, "cumulative average", at=100)
    assert found.slope.likely == pytest.approx(2**-0.152)
    assert found.reached.likely == pytest.approx(22.3467, abs=5e-5)


def test_the_two_models_give_other_slopes_to_the_same_lots() -> None:
    lots = [(1, 1), (2, 3), (4, 8), (9, 20)]
    times = [100.0, 75.0, 60.0, 45.0]
    unit, average = (learned(times, lots, model).slope.likely for model in LOTS)
    assert abs(unit - average) > 0.005


def unit_times(model: str, slope: float, lots: Sequence[tuple[int, int]]) -> list[float]:
    """Average times of lots of a curve that begins at 40 hours, summed unit by unit."""
    b = math.log2(slope)
    if model == "unit":
        return [sum(40 * n**b for n in range(s, e + 1)) / (e - s + 1) for s, e in lots]
    return [(40 * e ** (1 + b) - 40 * (s - 1) ** (1 + b)) / (e - s + 1) for s, e in lots]


@pytest.mark.parametrize(
    ("model", "lots", "size"),
    [("unit", 12, 1), ("unit", 25, 2), ("cumulative average", 16, 1)],
)
def test_a_learning_slope_comes_back_within_its_interval_as_often_as_it_says(
    model: str, lots: int, size: int
) -> None:
    """1,000 trials of a known 88 % curve with log-normal noise of 12 %: 937 to 963 at 95 %."""
    random = np.random.default_rng(2026)
    numbers = [(1 + n * size, (n + 1) * size) for n in range(lots)]
    true = np.array(unit_times(model, 0.88, numbers))
    held = sum(
        learned(list(true * np.exp(0.12 * noise)), numbers, model).slope.holds(0.88)
        for noise in random.standard_normal((TRIALS, lots))
    )
    low, high = band(0.95)
    assert low <= held <= high


def test_weighing_stray_lots_less_holds_as_often_as_least_squares_does() -> None:
    """Trial by trial beside the closed form of a reference library, which is exact for normals."""
    random = np.random.default_rng(33)
    numbers = [(n, n) for n in range(1, 11)]
    x, robust, squares = np.log(np.arange(1, 11)), 0, 0
    reach = float(stats.t.ppf(0.975, 8))
    for noise in random.standard_normal((TRIALS // 2, 10)):
        times = 40 * np.arange(1, 11) ** math.log2(0.88) * np.exp(0.12 * noise)
        robust += learned(list(times), numbers).slope.holds(0.88)
        line = stats.linregress(x, np.log(times))
        squares += abs(line.slope - math.log2(0.88)) <= reach * line.stderr
    assert abs(robust - squares) <= 0.01 * TRIALS // 2


def test_a_stray_lot_moves_a_robust_slope_less_than_least_squares() -> None:
    lots = [(n, n) for n in range(1, 21)]
    times = [40 * n ** math.log2(0.85) * 1.03 ** (-1) ** n for n in range(1, 21)]
    times[15] *= 3
    line = stats.linregress(np.log(np.arange(1, 21)), np.log(times))
    robust = learned(times, lots).slope.likely
    assert 3 * abs(robust - 0.85) < abs(2**line.slope - 0.85)


def test_a_coefficient_comes_back_within_its_interval_as_often_as_it_says() -> None:
    random = np.random.default_rng(32)
    table = random.uniform(0.2, 1.0, (24, 2))
    true = table @ [1.3, 0.8]
    held = sum(
        huber(table.tolist(), list(true + 0.1 * noise)).interval(0).holds(1.3)
        for noise in random.standard_normal((TRIALS, 24))
    )
    low, high = band(0.95)
    assert low <= held <= high
