"""Distributions between a low and a high value, against those of scipy; and samples of them."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import stats

from quoter.analysis.spreads import Asked, Draws, Shape, Spread, mean_and_variance, quantile

CHANCES = np.array([0.001, 0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99, 0.999])
# Low, likely, high: in the middle, skewed either way, at an end, below zero, far from zero.
EDGES = [
    (4.0, 8.0, 13.0),
    (1.0, 10.0, 17.0),
    (5.0, 5.0, 7.0),
    (3.30, 3.48, 3.95),
    (-2.0, 1.0, 1.0),
    (0.026, 0.034, 0.060),
    (1000.0, 1000.5, 1001.0),
]
SHAPES: tuple[Shape, ...] = ("three-point", "triangular")
SPREADS = [Spread(*edges, shape) for shape in SHAPES for edges in EDGES]
each_spread = pytest.mark.parametrize(
    "spread", SPREADS, ids=lambda s: f"{s.shape} {s.low:g} {s.likely:g} {s.high:g}"
)


def sample(spread: Spread, size: int, name: str) -> Any:
    """Values of an input that moves by itself."""
    return Draws(size).of([Asked(name, spread)])[0]


def reference(spread: Spread) -> Any:
    """The distribution of scipy.

    A three-point estimate has mean (a + 4 m + b) / 6 and standard deviation (b - a) / 6; the beta
    distribution on a .. b with these two has the shape numbers computed here from its moments.
    """
    low, likely, width = spread.low, spread.likely, spread.high - spread.low
    if spread.shape == "triangular":
        return stats.triang((likely - low) / width, low, width)
    mean, variance = (low + 4 * likely + spread.high) / 6, (width / 6) ** 2
    common = (mean - low) * (spread.high - mean) / variance - 1
    return stats.beta(
        (mean - low) / width * common, (spread.high - mean) / width * common, low, width
    )


@each_spread
def test_mean_and_variance_are_those_of_scipy(spread: Spread) -> None:
    mean, variance = mean_and_variance(spread)
    assert mean == pytest.approx(reference(spread).mean(), rel=1e-12)
    assert variance == pytest.approx(reference(spread).var(), rel=1e-9)


@each_spread
def test_quantiles_are_those_of_scipy(spread: Spread) -> None:
    off = np.abs(quantile(spread, CHANCES) - reference(spread).ppf(CHANCES))
    exact = 1e-12 if spread.shape == "triangular" else 1e-5
    assert off.max() < exact * (spread.high - spread.low)


@each_spread
def test_quantiles_begin_at_the_low_value_and_end_at_the_high_one(spread: Spread) -> None:
    ends = quantile(spread, np.array([0.0, 1.0]))
    assert ends == pytest.approx([spread.low, spread.high], rel=1e-12)


@each_spread
def test_of_a_sample_one_value_lies_in_each_equally_likely_slice(spread: Spread) -> None:
    chances = reference(spread).cdf(np.sort(sample(spread, 500, "x")))
    assert list(np.floor(chances * 500)) == list(range(500))


@each_spread
def test_a_sample_has_the_mean_and_the_deviation(spread: Spread) -> None:
    values, (mean, variance) = sample(spread, 2000, "x"), mean_and_variance(spread)
    width = spread.high - spread.low
    assert values.mean() == pytest.approx(mean, abs=1e-5 * width)
    assert values.std() == pytest.approx(variance**0.5, abs=1e-4 * width)


def test_a_value_that_can_be_only_one_is_that_one() -> None:
    for shape in SHAPES:
        assert list(quantile(Spread(3.0, 3.0, 3.0, shape), CHANCES)) == [3.0] * len(CHANCES)


def test_a_sample_depends_on_its_name_and_nothing_else() -> None:
    spread = Spread(1.0, 2.0, 4.0)
    one = sample(spread, 400, "resin.price")
    assert np.array_equal(one, sample(spread, 400, "resin.price"))
    other = sample(spread, 400, "glass.price")
    assert not np.array_equal(one, other)
    assert np.array_equal(np.sort(one), np.sort(other))


def test_samples_of_different_inputs_do_not_move_together() -> None:
    """Of 2000 pairs in random order the correlation has a standard deviation of 0.022."""
    spread = Spread(0.0, 1.0, 3.0, "triangular")
    values = np.array([sample(spread, 2000, f"input{n}") for n in range(12)])
    together = np.corrcoef(values) - np.eye(12)
    assert np.abs(together).max() < 4 * 0.022
