"""Statistics of small samples against published numbers, reference libraries, and their promise.

Coverage is counted over 1,000 seeded trials; the band is two standard deviations of the binomial
distribution to either side, 936 to 964 at a level of 95 %.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from quoter.actuals.samples import (
    FEWEST,
    SMALL,
    Interval,
    data_weight,
    deviation,
    error_of,
    median_error,
    median_interval,
    modified_scores,
    normal_quantile,
    ratio_of_totals,
    rounding_deviation,
    share_interval,
    sign_level,
    step_of,
    t_chance,
    t_quantile,
    widened,
)

TRIALS = 1000
CLOSE = 1e-9


def band(level: float) -> tuple[float, float]:
    """How many of the trials hold, give or take two standard deviations."""
    reach = 2 * math.sqrt(TRIALS * level * (1 - level))
    return TRIALS * level - reach, TRIALS * level + reach


def test_the_band_of_the_trials_is_that_of_the_binomial_distribution() -> None:
    low, high = band(0.95)
    assert (math.ceil(low), math.floor(high)) == (937, 963)
    assert stats.binom.cdf(963, TRIALS, 0.95) - stats.binom.cdf(936, TRIALS, 0.95) > 0.94


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 17, 30, 101, 400])
def test_quantiles_of_t_are_those_of_a_reference_library(freedom: int) -> None:
    for chance in (0.6, 0.9, 0.95, 0.975, 0.995, 0.02):
        assert t_quantile(chance, freedom) == pytest.approx(
            float(stats.t.ppf(chance, freedom)), rel=CLOSE
        )
    for t in (-3.0, -0.4, 0.0, 1.3, 6.0):
        assert t_chance(t, freedom) == pytest.approx(float(stats.t.cdf(t, freedom)), abs=1e-12)


def test_quantiles_of_t_are_those_of_the_printed_table() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values (read)."""
    printed = {(0.95, 5): 2.015, (0.975, 5): 2.571, (0.975, 10): 2.228, (0.99, 20): 2.528}
    assert {key: round(t_quantile(*key), 3) for key in printed} == printed
    assert round(normal_quantile(0.975), 3) == 1.96


def test_two_order_statistics_hold_the_median_as_surely_as_the_published_table_says() -> None:
    """Table of confidence intervals for the population median, levels in per cent (read)."""
    printed = {
        (5, 1): 93.8, (6, 1): 96.9, (7, 1): 98.4, (8, 2): 93.0, (9, 2): 96.1, (10, 2): 97.9,
        (12, 3): 96.1, (14, 4): 94.3, (15, 4): 96.5, (17, 5): 95.1, (19, 6): 93.6, (20, 6): 95.9,
    }  # fmt: skip
    assert {key: round(sign_level(*key) * 100, 1) for key in printed} == printed


def test_the_median_s_interval_lies_between_the_pairs_that_a_reference_library_takes() -> None:
    values = list(np.random.default_rng(3).lognormal(0.1, 0.3, 25))
    found = median_interval(values)
    wide = stats.quantile_test(values, q=0, p=0.5).confidence_interval(0.95)
    narrow = stats.quantile_test(values, q=0, p=0.5).confidence_interval(0.80)
    assert wide.low <= found.low < narrow.low < found.likely < narrow.high < found.high <= wide.high
    assert found.likely == float(np.median(values))


@pytest.mark.parametrize("number", [FEWEST, 6, 9, 16, 40])
def test_the_interval_of_a_ratio_holds_the_true_one_as_often_as_it_says(number: int) -> None:
    random = np.random.default_rng(20 + number)
    held = 0
    for _ in range(TRIALS):
        told = median_interval(list(1.18 * np.exp(0.15 * random.standard_normal(number))))
        held += told.holds(1.18)
    low, high = band(told.level)
    assert low <= held <= high


def test_one_stray_value_among_few_hardly_moves_the_median() -> None:
    plain = [1.02, 0.97, 1.05, 1.00, 0.99, 1.03, 0.96]
    stray = [*plain, 4.2]
    assert abs(median_interval(stray).likely - median_interval(plain).likely) < 0.02
    assert [abs(score) > 3.5 for score in modified_scores(stray)] == [False] * 7 + [True]


def test_the_robust_deviation_is_that_of_a_reference_library_with_the_published_factors() -> None:
    """Factors of Croux and Rousseeuw 1992 (from memory), against scaled median deviations."""
    random = np.random.default_rng(4)
    for number in (5, 8, 12, 31):
        values = list(random.normal(3.0, 0.7, number))
        factor = SMALL.get(number, number / (number - 0.8))
        expected = factor * stats.median_abs_deviation(values, scale="normal")
        assert deviation(values) == pytest.approx(float(expected), rel=1e-7)


def test_the_small_sample_factors_make_the_deviation_right_on_average() -> None:
    random = np.random.default_rng(5)
    for number in (5, 6, 9, 15):
        found = [deviation(list(each)) for each in random.standard_normal((4000, number))]
        assert float(np.mean(found)) == pytest.approx(1.0, abs=0.03)


def test_values_that_are_mostly_alike_are_scored_by_the_mean_deviation() -> None:
    """Iglewicz and Hoaglin 1993: the median deviation is nothing, 1.2533 times the mean isn't."""
    values = [1.0] * 9 + [2.0]
    mean = 0.1
    expected = 1.0 / (math.sqrt(math.pi / 2) * mean)
    assert modified_scores(values)[-1] == pytest.approx(expected)
    assert modified_scores([1.0] * 6) == [0.0] * 6
    assert deviation([1.0] * 6, least=0.02) == 0.02


@pytest.mark.parametrize(("good", "number"), [(16, 20), (97, 100), (5, 5), (0, 7), (411, 420)])
def test_the_interval_of_a_share_is_that_of_a_reference_library(good: int, number: int) -> None:
    found = share_interval(good, number)
    low, high = proportion_confint(good, number, alpha=0.05, method="wilson")
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-12)


def test_a_ratio_of_totals_has_the_error_of_a_regression_weighed_by_the_standard() -> None:
    """Equal standards make it a mean, whose t interval the reference library has."""
    actual = [0.0, 3.0, 0.0, 1.0, 2.5]
    found = ratio_of_totals(actual, [2.0] * 5)
    mean, error = np.mean(actual) / 2, stats.sem(actual) / 2
    low, high = stats.t.interval(0.95, 4, mean, error)
    assert (found.likely, found.high) == pytest.approx((mean, high))
    assert found.low == max(low, 0.0)


def test_the_error_of_a_median_is_that_of_many_medians() -> None:
    medians = np.median(np.random.default_rng(6).standard_normal((20000, 101)), axis=1)
    assert median_error(1.0, 101) == pytest.approx(float(medians.std()), rel=0.02)


def test_rounding_adds_the_deviation_that_rounded_numbers_show() -> None:
    exact = np.random.default_rng(7).uniform(1.0, 9.0, (20000, 4))
    off = (np.round(exact * 4) / 4 - exact).sum(axis=1)
    assert rounding_deviation(0.25, 4) == pytest.approx(float(off.std()), rel=0.02)
    assert step_of([0.5, 1.25, 4.0]) == 0.25
    assert step_of([0.1, 0.35]) == pytest.approx(0.05)


def test_a_prior_and_data_of_equal_errors_count_alike() -> None:
    """Gelman et al., Bayesian Data Analysis, 2.5: precisions add up."""
    assert data_weight(0.2, 0.2) == 0.5
    prior, spread, number = 0.05, 0.15, 9
    precision = number / spread**2
    expected = precision / (precision + 1 / prior**2)
    assert data_weight(prior, spread / math.sqrt(number)) == pytest.approx(expected)


def test_drawing_toward_the_present_value_misses_less_than_data_or_present_value_alone() -> None:
    """True values that differ from the standard by the prior's deviation, told by few samples."""
    random, prior, spread, number = np.random.default_rng(8), 0.10, 0.25, 6
    true = prior * random.standard_normal(TRIALS)
    data = np.array([np.mean(t + spread * random.standard_normal(number)) for t in true])
    weight = data_weight(prior, spread / math.sqrt(number))
    missed = {share: float(np.mean((share * data - true) ** 2)) for share in (0.0, weight, 1.0)}
    assert missed[weight] < 0.75 * min(missed[0.0], missed[1.0])
    expected = prior**2 * (1 - weight)  # variance of the posterior
    assert missed[weight] == pytest.approx(expected, rel=0.1)


def test_data_far_beyond_prior_and_error_count_nearly_alone() -> None:
    """Positive part of Stein's rule, of one mean: 1 - error^2 / distance^2 (Efron, Morris 1975)."""
    assert data_weight(0.01, 0.1, apart=0.5) == pytest.approx(1 - 0.04)
    assert data_weight(0.01, 0.1, apart=0.05) == pytest.approx(1 / 101)


def test_an_interval_stands_for_an_error_and_is_widened_by_another() -> None:
    told = Interval(1.0, 1.0 - 1.959964 * 0.3, 1.0 + 1.959964 * 0.3, 0.95)
    assert error_of(told) == pytest.approx(0.3, rel=1e-6)
    assert error_of(widened(told, 0.4)) == pytest.approx(0.5, rel=1e-6)
