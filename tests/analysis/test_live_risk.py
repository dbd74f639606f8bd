"""Risk to first order of a catalogue's cost: by hand from its slopes, and beside the simulation."""

from __future__ import annotations

import pytest
from scipy import stats

from quoter.analysis.live_risk import LiveRisk, live_risk, live_spreads
from quoter.analysis.risk import risks_of
from quoter.figures import Figure
from quoter.figures.graph import evaluate
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.figures.made import an_input, written

CLOSE = 1e-12
PRICE = "5.25 USD/lb [4.60 to 7.10 triangular]"
EFFICIENCY = "80 % [70 to 86]"
FINISHING = "    wage_group: finishing\n    on_costs: 0 %\n    efficiency: "


@pytest.fixture(scope="module")
def cost(tmp_path_factory: pytest.TempPathFactory) -> Figure:
    """The cost card with two uncertain inputs: straight in one, bent in the other."""
    changes = {
        "prices/2026-01-01.csv": ("5.25 USD/lb", PRICE),
        "stations.yaml": (f"{FINISHING}100 %", f"{FINISHING}{EFFICIENCY}"),
    }
    folder = write_catalogue(tmp_path_factory.mktemp("risk") / "c", {}, changes)
    return priced(folder).models[MODEL].options[OPTION].assembly.cost


@pytest.fixture(scope="module")
def risk(cost: Figure) -> LiveRisk:
    (simulated,) = risks_of([cost])
    found = live_risk(cost, simulated, live_spreads([simulated]), "asked", "Asked")
    assert found is not None
    return found


# By likely value: of the price, 4 lb; of the efficiency, 4 h at 15 + 5 + 3 an hour over 80 %.
SLOPES = {5.25: 4.0, 0.80: -4 * 23 / 0.80**2}
TRIANGLE = stats.triang((5.25 - 4.60) / 2.50, 4.60, 2.50)
MEANS = {5.25: TRIANGLE.mean(), 0.80: (0.70 + 4 * 0.80 + 0.86) / 6}
DEVIATIONS = {5.25: TRIANGLE.std(), 0.80: 0.16 / 6}


def test_each_input_has_the_mean_and_deviation_of_its_shape(risk: LiveRisk) -> None:
    for share in risk.shares:
        spread, likely = share.spread, share.spread.figure.value
        assert spread.mean.value == pytest.approx(MEANS[likely], rel=CLOSE)
        assert spread.shift.value == pytest.approx(MEANS[likely] - likely, rel=1e-9)
        assert spread.deviation.value == pytest.approx(DEVIATIONS[likely], rel=CLOSE)
        assert spread.low.value < likely < spread.high.value


def test_means_move_by_slope_times_shift_and_variances_add(risk: LiveRisk, cost: Figure) -> None:
    shift = sum(slope * (MEANS[likely] - likely) for likely, slope in SLOPES.items())
    assert risk.mean.value == pytest.approx(cost.value + shift, rel=CLOSE)
    variances = {likely: (slope * DEVIATIONS[likely]) ** 2 for likely, slope in SLOPES.items()}
    whole = sum(variances.values())
    assert risk.deviation.value == pytest.approx(whole**0.5, rel=CLOSE)
    shares = {share.spread.figure.value: share.share.value for share in risk.shares}
    assert shares == pytest.approx({k: v / whole for k, v in variances.items()}, rel=1e-9)
    assert sum(shares.values()) == pytest.approx(1.0, rel=CLOSE)
    assert [*shares] == [0.80, 5.25]  # the larger first


def test_each_cause_is_its_slope_times_its_deviation(risk: LiveRisk) -> None:
    for share in risk.shares:
        likely = share.spread.figure.value
        assert share.slope.value == pytest.approx(SLOPES[likely], rel=1e-9)
        caused = abs(SLOPES[likely]) * DEVIATIONS[likely]
        assert share.deviation.value == pytest.approx(caused, rel=1e-9)


def test_the_simulated_numbers_stand_beside_to_nine_digits(risk: LiveRisk, cost: Figure) -> None:
    (simulated,) = risks_of([cost])
    shown = {what: figure.value for what, figure in risk.simulated.items()}
    assert shown == pytest.approx(
        {
            "mean": simulated.mean,
            "standard deviation": simulated.deviation,
            "P10": simulated.p10,
            "P50": simulated.p50,
            "P80": simulated.p80,
            "P90": simulated.p90,
        },
        rel=1e-8,
    )
    # To first order the bend is left out: near, and not the same.
    assert risk.mean.value == pytest.approx(shown["mean"], rel=2e-3)
    assert risk.deviation.value == pytest.approx(shown["standard deviation"], rel=0.05)


def test_a_range_or_a_likely_value_may_move(risk: LiveRisk) -> None:
    """With a price known to the cent, all of the variance is that of the efficiency."""
    (spread,) = (s.spread for s in risk.shares if s.spread.figure.value == 5.25)
    known = {spread.low: 5.25, spread.high: 5.25}
    deviation, *shares = evaluate([risk.deviation, *(s.share for s in risk.shares)], known)
    assert deviation == pytest.approx(abs(SLOPES[0.80]) * DEVIATIONS[0.80], rel=1e-9)
    assert shares == pytest.approx([1.0, 0.0], abs=1e-12)
    # A likely price higher by 1 is a mean price higher by a third; 4 lb of it.
    (mean,) = evaluate([risk.mean], {written(spread.figure): 6.25})
    assert mean == pytest.approx(risk.mean.value + 4.0 / 3, rel=1e-9)


def test_a_result_that_rests_on_nothing_uncertain_has_no_risk(cost: Figure) -> None:
    sure = an_input("3 EUR", "sure")
    assert live_spreads(risks_of([sure])) == {}
    both = risks_of([sure, cost])
    spreads = live_spreads(both)
    pairs = zip((sure, cost), both, strict=True)
    found = [live_risk(result, simulated, spreads, "a", "A") for result, simulated in pairs]
    assert found[0] is None
    assert found[1] is not None
