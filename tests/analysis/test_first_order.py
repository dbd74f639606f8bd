"""Risk to first order: published three-point numbers, sums of variances, and the simulation."""

from __future__ import annotations

import math

import pytest

from quoter.analysis.live_risk import LiveRisk, live_risk, live_spreads
from quoter.analysis.risk import risks_of
from quoter.analysis.spreads import Shape
from quoter.figures import Figure, Origin
from quoter.figures.graph import evaluate
from quoter.problems import Place
from quoter.units import unit


def ranged(
    low: float, likely: float, high: float, name: str, of: str = "", shape: Shape = "three-point"
) -> Figure:
    place = Place("prices/2031-01-01.csv", 4, 1, name)
    origin = Origin(place, f"{likely} {of}", low=low, high=high, spread=shape)
    return Figure(likely, unit(of), "input", (), name, name, origin=origin)


def risk_of(result: Figure) -> LiveRisk:
    (simulated,) = risks_of([result])
    risk = live_risk(result, simulated, live_spreads([simulated]), "result", "the result")
    assert risk is not None
    return risk


@pytest.mark.parametrize(
    ("low", "likely", "high", "mean", "deviation"),
    [
        # Project scheduling handbook: activities with optimistic, likely and pessimistic times.
        (5.0, 5.0, 7.0, 5.33, 0.33),
        (4.0, 8.0, 13.0, 8.17, 1.50),
        (1.0, 10.0, 17.0, 9.67, 2.67),
        (6.0, 10.0, 13.0, 9.83, 1.17),
    ],
)
def test_published_three_point_estimates(
    low: float, likely: float, high: float, mean: float, deviation: float
) -> None:
    given = ranged(low, likely, high, "time", "h")
    spread = live_spreads(risks_of([given * 2.0]))[given]
    assert spread.mean.value == pytest.approx(mean, abs=0.005)
    assert spread.deviation.value == pytest.approx(deviation, abs=0.005)
    assert str(spread.deviation.unit) == "h"
    assert spread.shift.value == pytest.approx(mean - likely, abs=0.005)


def test_the_deviation_of_a_triangular_input_is_the_root_of_its_variance() -> None:
    given = ranged(0.0, 0.0, 6.0, "price", "EUR/kg", "triangular")
    spread = live_spreads(risks_of([given]))[given]
    assert spread.deviation.value == pytest.approx(math.sqrt(2.0))
    assert spread.deviation.unit == given.unit


def test_variances_add_up_and_their_shares_are_of_the_sum() -> None:
    price, mass = ranged(4.0, 8.0, 13.0, "price", "EUR/kg"), 3.0
    hours = ranged(6.0, 10.0, 13.0, "hours", "h")
    rate = Figure(20.0, unit("EUR/h"))
    result = price * Figure(mass, unit("kg")) + hours * rate
    risk = risk_of(result)
    by_price, by_hours = mass * 1.5, 20.0 * 7 / 6
    assert risk.deviation.value == pytest.approx(math.hypot(by_price, by_hours))
    assert str(risk.deviation.unit) == "EUR"
    shares = {share.spread.figure.key: share.share.value for share in risk.shares}
    assert shares == pytest.approx(
        {
            "hours": by_hours**2 / (by_price**2 + by_hours**2),
            "price": by_price**2 / (by_price**2 + by_hours**2),
        }
    )
    assert list(shares) == ["hours", "price"]  # the larger one first


def test_of_a_linear_result_the_simulation_says_the_same() -> None:
    result = ranged(1.0, 2.0, 5.0, "a") * 3.0 + ranged(2.0, 4.0, 5.0, "b", shape="triangular")
    risk = risk_of(result)
    assert risk.simulated["mean"].value == pytest.approx(risk.mean.value, rel=1e-3)
    assert risk.simulated["standard deviation"].value == pytest.approx(
        risk.deviation.value, rel=0.02
    )
    low, middle, high = (risk.simulated[p].value for p in ("P10", "P50", "P90"))
    assert low < middle < high


def test_mean_and_shares_follow_a_changed_likely_value() -> None:
    given = ranged(4.0, 8.0, 13.0, "price")
    risk = risk_of(given * 2.0)
    mean, deviation = evaluate([risk.mean, risk.deviation], {given: 9.0})
    assert mean == pytest.approx(2 * (4 + 4 * 9 + 13) / 6)
    assert deviation == pytest.approx(2 * 1.5)


def test_simulated_numbers_are_given_ones_that_say_so() -> None:
    risk = risk_of(ranged(4.0, 8.0, 13.0, "price"))
    for figure in risk.simulated.values():
        assert figure.op == "const"
        assert figure.label.endswith("simulated")


def test_a_result_without_uncertain_inputs_has_no_risk() -> None:
    sure = Figure(3.0, op="input", key="sure", label="sure")
    (simulated,) = risks_of([sure * 2.0])
    assert live_spreads([simulated]) == {}
    assert live_risk(sure * 2.0, simulated, {}, "sure", "sure") is None
