"""Inputs that move together: drawn so, told so to first order; and shares that add up anyway."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest
from SALib.analyze import sobol as salib_sobol  # type: ignore[import-untyped]
from SALib.sample import sobol as salib_sample  # type: ignore[import-untyped]
from scipy import stats

from quoter.analysis.live_risk import live_risk, live_spreads
from quoter.analysis.ranges import KIND, Varying
from quoter.analysis.risk import EXPLAINED, Risk, risks_of
from quoter.analysis.shares import group_effects, shapley_shares
from quoter.analysis.spreads import Asked, Draws, Group, Spread
from quoter.figures import Figure

Floats = npt.NDArray[np.float64]
TOGETHER = Group("time glue", "times at Glue", 0.6, "time")
SPREAD = Spread(8.0, 10.0, 15.0)
DEVIATION = 7 / 6


def given(name: str) -> Figure:
    return Figure(10.0, op="input", key=name, label=name)


def varying(
    figure: Figure, spread: Spread = SPREAD, group: Group | None = TOGETHER, sign: int = 1
) -> Varying:
    return Varying(figure, spread, KIND, "time", "time", group, sign)


def risk_of(result: Figure, every: Sequence[Varying], size: int = 20000) -> Risk:
    (risk,) = risks_of([result], size, varying={one.figure: one for one in every})
    return risk


def test_inputs_of_a_group_follow_its_correlation_and_keep_their_own_spread() -> None:
    names = [f"input{n}" for n in range(8)]
    drawn = np.array(Draws(20000).of([Asked(name, SPREAD, TOGETHER) for name in names]))
    found = np.asarray(np.corrcoef(drawn))[np.triu_indices(8, 1)]
    # A Gaussian copula on this beta loses some thousandths; the standard error is 0.006.
    assert found == pytest.approx(np.full(28, 0.6), abs=0.03)
    alone = Draws(20000).of([Asked("x", SPREAD)])[0]
    for one in drawn:
        assert np.array_equal(np.sort(one), np.sort(alone))


def test_the_ranks_are_those_of_a_gaussian_copula() -> None:
    """Spearman's coefficient of a normal pair is 6 / pi asin(r / 2), Kendall's 2 / pi asin(r).

    Pearson 1907 and Greiner 1909; from memory.
    """
    one, other = Draws(20000).of([Asked("a", SPREAD, TOGETHER), Asked("b", SPREAD, TOGETHER)])
    expected = 6 / np.pi * np.arcsin(0.6 / 2)
    assert stats.spearmanr(one, other).statistic == pytest.approx(expected, abs=0.02)
    assert stats.kendalltau(one, other).statistic == pytest.approx(
        2 / np.pi * np.arcsin(0.6), abs=0.02
    )


def test_one_of_the_other_sign_falls_where_the_others_rise() -> None:
    asked = [Asked("a", SPREAD, TOGETHER), Asked("b", SPREAD, TOGETHER, -1)]
    together = np.asarray(np.corrcoef(Draws(20000).of(asked)))
    assert together[0, 1] == pytest.approx(-0.6, abs=0.03)


def test_groups_and_inputs_of_none_are_independent() -> None:
    other = Group("time paint", "times at Paint", 0.9, "time")
    asked = [Asked("a", SPREAD, TOGETHER), Asked("b", SPREAD, other), Asked("c", SPREAD)]
    together = np.corrcoef(Draws(20000).of(asked)) - np.eye(3)
    assert np.abs(together).max() < 4 * 0.007


def test_what_is_drawn_does_not_depend_on_what_else_is_asked() -> None:
    a, b = Asked("a", SPREAD, TOGETHER), Asked("b", SPREAD)
    both = Draws(400)
    first = both.of([a, b])
    assert np.array_equal(Draws(400).of([b])[0], first[1])
    assert np.array_equal(Draws(400).of([a])[0], first[0])
    assert np.array_equal(both.of([b, a])[1], first[0])
    assert not np.array_equal(Draws(400, "anew ").of([a])[0], first[0])


def test_a_sum_of_times_of_one_station_is_wider_than_of_many() -> None:
    """Four alike, deviation d each: variance 4 d2 alone, 4 d2 + 12 r d2 with correlation r."""
    figures = [given(f"t{n}") for n in range(4)]
    result = figures[0] + figures[1] + figures[2] + figures[3]
    apart = risk_of(result, [varying(f, group=None) for f in figures])
    together = risk_of(result, [varying(f) for f in figures])
    assert apart.deviation == pytest.approx(2 * DEVIATION, rel=0.01)
    assert together.deviation == pytest.approx((4 + 12 * 0.6) ** 0.5 * DEVIATION, rel=0.02)
    assert together.mean == pytest.approx(apart.mean, rel=1e-6)
    assert together.p90 > apart.p90
    assert together.contingency == pytest.approx(together.p80 - 40.0)
    assert [share.share for share in together.shares] == pytest.approx([0.25] * 4)
    assert dict(together.groups) == pytest.approx({"times at Glue": 1.0})


def test_shares_add_up_though_one_input_makes_up_for_others() -> None:
    """s = d, 2 d and -d: an efficiency that moves against its minutes, yet with the same sign."""
    one, two, less = (given(name) for name in ("one", "two", "less"))
    result = one + two * 2.0 - less
    risk = risk_of(result, [varying(one), varying(two), varying(less)])
    variance = 0.6 * (1 + 2 - 1) ** 2 + 0.4 * (1 + 4 + 1)
    expected = {s: s * (0.4 * s + 0.6 * 2) / variance for s in (1, 2, -1)}
    shares = {share.figure.key: share.share for share in risk.shares}
    assert shares == pytest.approx({"one": expected[1], "two": expected[2], "less": expected[-1]})
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["less"] < 0
    assert risk.deviation == pytest.approx(variance**0.5 * DEVIATION, rel=0.03)


def test_the_chance_of_more_than_a_limit_is_counted() -> None:
    figure = given("x")
    one = varying(figure, group=None)
    (risk,) = risks_of([figure * 3.0], 2000, varying={figure: one}, limits={})
    assert risk.beyond is None
    result = figure * 3.0
    mean, common = (8 + 40 + 15) / 6, ((8 + 40 + 15) / 6 - 8) * (15 - (8 + 40 + 15) / 6)
    common = common / DEVIATION**2 - 1
    beta = stats.beta((mean - 8) / 7 * common, (15 - mean) / 7 * common, 8, 7)
    (risk,) = risks_of([result], 2000, varying={figure: one}, limits={result: 36.0})
    assert risk.beyond == pytest.approx(beta.sf(12.0), abs=1 / 2000)


def test_the_live_numbers_of_a_group_are_those_of_the_formula() -> None:
    figures = [given(f"t{n}") for n in range(12)]
    alone = given("alone")
    result = alone * 1.0
    for n, figure in enumerate(figures):
        result = result + figure * float(n + 1)
    every = [*(varying(f) for f in figures), varying(alone, group=None)]
    risk = risk_of(result, every, 4000)
    live = live_risk(result, risk, live_spreads([risk]), "k", "name")
    assert live is not None
    causes = [n + 1.0 for n in range(12)]
    variance = 0.6 * sum(causes) ** 2 + 0.4 * sum(c * c for c in causes) + 1.0
    assert live.deviation.value == pytest.approx(variance**0.5 * DEVIATION, rel=1e-8)
    assert len(live.shares) == 8, "the others are numbers of the build"
    assert sum(group.share.value for group in live.groups) == pytest.approx(1.0)
    assert live.mean.value == pytest.approx(result.value + 79 * (10.5 - 10), rel=1e-8)
    simulated = {share.figure.key: share.share for share in risk.shares}
    for share in live.shares:
        assert share.share.value == pytest.approx(simulated[share.spread.figure.key], rel=1e-7)


def test_where_a_result_bends_shares_are_those_of_shapley() -> None:
    """A product of two: each brings its own part and half of what both bring together.

    V = my2 vx + mx2 vy + vx vy, for independent x and y (definition).
    """
    wide, other = Spread(0.0, 1.0, 20.0), Spread(0.0, 2.0, 6.0)
    x = Figure(1.0, op="input", key="x", label="x")
    y = Figure(2.0, op="input", key="y", label="y")
    risk = risk_of(
        x * y,
        [
            Varying(x, wide, KIND, "", "time", None),
            Varying(y, other, KIND, "", "dimension", None),
        ],
        40000,
    )
    (mx, vx), (my, vy) = ((24 / 6, (20 / 6) ** 2), (14 / 6, 1.0))
    variance = my**2 * vx + mx**2 * vy + vx * vy
    assert risk.bent
    assert risk.explained < EXPLAINED
    assert risk.deviation == pytest.approx(variance**0.5, rel=0.02)
    expected = {
        "x": (my**2 * vx + vx * vy / 2) / variance,
        "y": (mx**2 * vy + vx * vy / 2) / variance,
    }
    shares = {share.figure.key: share.share for share in risk.shares}
    assert shares == pytest.approx(expected, abs=0.03)
    assert sum(shares.values()) == pytest.approx(1.0)


# The function of Ishigami and Homma, 1990, with a = 7 and b = 0.1; its first and total indices as
# published in many places, among them the documentation of SALib.
FIRST, TOTAL = (0.3139, 0.4424, 0.0), (0.5576, 0.4424, 0.2437)


def ishigami(inputs: Sequence[Floats]) -> Floats:
    x, y, z = inputs
    return np.asarray(np.sin(x) + 7 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x))


def test_first_and_total_shares_of_a_published_function() -> None:
    """Of 100,000 draws the estimators have standard errors of some 0.005."""
    angles = Spread(-np.pi, 0.0, np.pi, "triangular")
    uniform = [np.interp(one, np.sort(one), np.linspace(-np.pi, np.pi, 100000)) for name in "abc"
               for one in Draws(100000).of([Asked(name, angles)])]  # fmt: skip
    again = [np.interp(one, np.sort(one), np.linspace(-np.pi, np.pi, 100000)) for name in "abc"
             for one in Draws(100000, "anew ").of([Asked(name, angles)])]  # fmt: skip
    (effects,) = group_effects(lambda drawn: [ishigami(drawn)], uniform, again)
    assert [effect.first for effect in effects] == pytest.approx(FIRST, abs=0.02)
    assert [effect.total for effect in effects] == pytest.approx(TOTAL, abs=0.02)
    # No three act together, so half of both is Shapley's share, and they add up by themselves.
    halves = [(first + total) / 2 for first, total in zip(FIRST, TOTAL, strict=True)]
    assert sum(halves) == pytest.approx(1.0, abs=1e-3)
    assert shapley_shares(effects) == pytest.approx(halves, abs=0.02)


def test_another_library_finds_the_same_shares() -> None:
    problem = {"num_vars": 3, "names": ["x", "y", "z"], "bounds": [[-np.pi, np.pi]] * 3}
    drawn = salib_sample.sample(problem, 8192, calc_second_order=False, seed=7)
    found = salib_sobol.analyze(
        problem, ishigami([drawn[:, n] for n in range(3)]), calc_second_order=False, seed=7
    )
    rows = np.random.RandomState(11).uniform(-np.pi, np.pi, (2, 3, 100000))
    (effects,) = group_effects(lambda given: [ishigami(given)], list(rows[0]), list(rows[1]))
    assert [effect.first for effect in effects] == pytest.approx(list(found["S1"]), abs=0.03)
    assert [effect.total for effect in effects] == pytest.approx(list(found["ST"]), abs=0.03)
