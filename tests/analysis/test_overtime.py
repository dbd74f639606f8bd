"""Hours above a station's normal ones, priced on paper for the year in round numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.overtime import OvertimeLoad
from quoter.analysis.plan import Plan, plan_of, year_of
from quoter.pricing.price import Pricing
from tests.analysis.planned import BENCHES, COVERS, LIDS, LOCKERS, changed, plan, station

CLOSE = 1e-12
# The fitters' year: the boats' own hours, covers, benches, lockers and lids; 30 an hour.
FITTING = 40 * 5 + 20 * 10 + COVERS * 0.5 + BENCHES * 1.25 + LOCKERS * 0.5 / 0.5 + LIDS * 0.5
RATE = 30.0


def with_terms(folder: Path, terms: str) -> Plan:
    old = "  - id: fitting\n"
    return changed(folder, "stations.yaml", old, f"{old}    overtime: {{{terms}}}\n")


def fitters(plan: Plan) -> OvertimeLoad:
    found = station(plan, "fitting").overtime
    assert found is not None
    return found


def test_hours_above_the_normal_ones_cost_a_premium(tmp_path: Path) -> None:
    plan = with_terms(tmp_path / "c", "normal: 400 h, premium: 50 %")
    load = fitters(plan)
    assert load.above.value == pytest.approx(FITTING - 400, rel=CLOSE)
    assert load.overtime.value == pytest.approx(FITTING - 400, rel=CLOSE)
    assert load.premium.value == pytest.approx((FITTING - 400) * RATE * 0.5, rel=CLOSE)
    assert (load.shift.value, load.left.value, load.short.value) == (0.0, 0.0, 0.0)
    nothing = station(plan, "fitting").budget * 0.0
    assert year_of(plan, nothing).premium.value == pytest.approx(load.premium.value, rel=CLOSE)


def test_a_second_shift_takes_what_overtime_does_not(tmp_path: Path) -> None:
    terms = "normal: 400 h, premium: 50 %, most: 20 h, second_shift: 10 %"
    load = fitters(with_terms(tmp_path / "c", terms))
    rest = FITTING - 420
    assert (load.overtime.value, load.left.value) == (20.0, 0.0)
    assert load.shift.value == pytest.approx(rest, rel=CLOSE)
    assert load.premium.value == pytest.approx(20 * RATE * 0.5 + rest * RATE * 0.1, rel=CLOSE)


def test_without_a_second_shift_the_rest_can_not_be_worked(tmp_path: Path) -> None:
    load = fitters(with_terms(tmp_path / "c", "normal: 400 h, premium: 50 %, most: 20 h"))
    assert load.left.value == pytest.approx(FITTING - 420, rel=CLOSE)
    assert (load.shift.value, load.short.value) == (0.0, 1.0)
    assert load.premium.value == pytest.approx(20 * RATE * 0.5, rel=CLOSE)


def test_within_normal_hours_nothing_is_paid_on_top(tmp_path: Path) -> None:
    load = fitters(with_terms(tmp_path / "c", "normal: 4000 h, premium: 50 %"))
    assert (load.above.value, load.premium.value) == (0.0, 0.0)


def test_options_that_cause_it_are_named_with_their_share(tmp_path: Path) -> None:
    """Benches, each with a cover, on two models; lids of launches. The standard locker is the
    boat's."""
    load = fitters(with_terms(tmp_path / "c", "normal: 400 h, premium: 50 %"))
    found = [(cause.owner.name, cause.model) for cause in load.causes]
    assert found == [
        ("Bench", "dinghy"),
        ("Bench", "launch"),
        ("Locker", "dinghy"),
        ("Lid in place of a tray", "launch"),
    ]
    benches = load.causes[0]
    assert benches.hours.value == pytest.approx(20 * 1.75, rel=CLOSE)
    assert benches.share.value == pytest.approx(20 * 1.75 / FITTING, rel=CLOSE)
    assert benches.premium.value == pytest.approx(
        load.premium.value * benches.share.value, rel=CLOSE
    )


def test_a_station_without_normal_hours_has_no_overtime() -> None:
    assert station(plan(), "fitting").overtime is None
    nothing = station(plan(), "fitting").budget * 0.0
    assert year_of(plan(), nothing).premium.value == 0.0


def test_the_demonstrations_busiest_station_shows_its_overtime(demo_pricing: Pricing) -> None:
    busiest = plan_of(demo_pricing).bottleneck
    assert busiest is not None
    assert busiest.station == "moulding"
    assert busiest.overtime is not None
    assert busiest.overtime.above.value == pytest.approx(busiest.hours.value - 1560, rel=CLOSE)
    assert busiest.overtime.premium.value > 0
    assert len(busiest.overtime.causes) > 5
