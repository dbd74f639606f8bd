"""A year in round numbers, worked out on paper: demand, pulls, sets, hours and absorption."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from quoter.analysis.plan import Plan, plan_of
from quoter.figures.graph import evaluate
from quoter.pricing.price import Pricing
from tests.analysis.planned import (
    BENCHES,
    COVER,
    COVERS,
    LIDS,
    LOCKERS,
    TRAY,
    TRAYS,
    YEAR,
    changed,
    mould,
    plan,
    station,
    value,
)
from tests.catalogues.written import priced, write_catalogue
from tests.figures.made import written

CLOSE = 1e-12
CALENDAR = "  shift_calendar: {shifts: 1, hours: 8 h, days: 5, closed_weeks: 7}\n"


def test_boats_times_take_rates_are_the_options_of_a_year() -> None:
    assert {id: boats.value for id, boats in plan().boats.items()} == {"dinghy": 40, "launch": 20}
    units = {(demand.model, demand.option): demand.units.value for demand in plan().options}
    assert units == pytest.approx(
        {
            ("dinghy", "bench"): 20,
            ("dinghy", "locker"): 10,
            ("launch", "bench"): 6,
            ("launch", "lid"): 2,
        },
        rel=CLOSE,
    )


def test_a_model_without_a_volume_is_not_built() -> None:
    assert "dream" not in plan().boats
    assert not [units for units in plan().draws.values() if any(u.model == "dream" for u in units)]


def test_demand_of_parts_counts_every_use_and_takes_off_what_is_deleted() -> None:
    parts = {id: demand.value for id, demand in plan().parts.items()}
    assert parts == pytest.approx({"part.tray": TRAYS, "part.cover": COVERS}, rel=CLOSE)


def test_moulds_are_pulled_for_the_scrapped_ones_too() -> None:
    assert mould(plan(), "tray_mould").pulls.value == pytest.approx(TRAYS / TRAY, rel=CLOSE)
    assert mould(plan(), "cover_moulds").pulls.value == pytest.approx(COVERS / COVER, rel=CLOSE)
    assert mould(plan(), "tray_mould").planned.value == 60.0


def test_a_pull_takes_the_mould_from_the_first_work_to_the_end_of_the_last_cure() -> None:
    """Half an hour, 2 h, 45 min by two people, 10 h; trimming is done out of the mould."""
    trays, covers = mould(plan(), "tray_mould"), mould(plan(), "cover_moulds")
    assert trays.work.value == pytest.approx(0.5 + 0.75, rel=CLOSE)
    assert trays.cure.value == pytest.approx(2.0 + 10.0, rel=CLOSE)
    assert covers.work.value == pytest.approx(1.0, rel=CLOSE)
    assert covers.cure.value == pytest.approx(5.0, rel=CLOSE)


def test_a_pull_waits_for_shifts_and_its_cure_does_not() -> None:
    """A tray cures at night and comes out in the morning: one a day, five a week of 168 h. Of two
    covers a day the second cures at night."""
    assert value(mould(plan(), "tray_mould").clock) == pytest.approx(168 / 5, rel=CLOSE)
    assert value(mould(plan(), "cover_moulds").clock) == pytest.approx(168 / 10, rel=CLOSE)


def test_sets_meet_the_pulls_of_the_year() -> None:
    """45 weeks of five trays at 75 % are 168.75, so one set gives the 129.8; 337.5 covers."""
    trays, covers = mould(plan(), "tray_mould"), mould(plan(), "cover_moulds")
    assert value(trays.capacity) == pytest.approx(45 * 5 * 0.75, rel=CLOSE)
    assert value(covers.capacity) == pytest.approx(337.5, rel=CLOSE)
    assert (value(trays.sets), value(covers.sets)) == (1.0, 1.0)


def test_another_shift_gives_more_pulls(tmp_path: Path) -> None:
    """By hand for 16 h a day: three trays in two days, since the second one's work of 45 min is
    cut by the night; so six until Thursday and two begun on Friday, then seven in the next week.
    """
    more = changed(tmp_path / "c", "yard.yaml", "shifts: 1,", "shifts: 2,")
    assert value(mould(more, "tray_mould").clock) == pytest.approx(2 * 168 / 15, rel=CLOSE)


def test_a_trim_in_the_mould_keeps_it_longer_and_a_cure_outside_does_not(tmp_path: Path) -> None:
    """12 min of trimming more; or without the spraying and its cure."""
    trim = "fixed: 12 min"
    longer = changed(tmp_path / "a", "parts.yaml", trim, f"{trim}\n        in_mould: yes")
    assert mould(longer, "tray_mould").work.value == pytest.approx(1.45, rel=CLOSE)
    spray = "fixed: 24 min"
    shorter = changed(tmp_path / "b", "parts.yaml", spray, f"{spray}\n        in_mould: no")
    assert mould(shorter, "tray_mould").work.value == pytest.approx(0.75, rel=CLOSE)
    assert mould(shorter, "tray_mould").cure.value == pytest.approx(10.0, rel=CLOSE)


def test_without_a_calendar_no_sets_are_told(tmp_path: Path) -> None:
    plan = changed(tmp_path / "c", "yard.yaml", CALENDAR, "")
    load = mould(plan, "tray_mould")
    assert (load.clock, load.capacity, load.sets) == (None, None, None)
    assert load.pulls.value == pytest.approx(TRAYS / TRAY, rel=CLOSE)


def test_without_an_availability_moulds_are_always_fit(tmp_path: Path) -> None:
    plan = changed(tmp_path / "c", "yard.yaml", "  mould_availability: 75 %\n", "")
    assert value(mould(plan, "cover_moulds").capacity) == pytest.approx(450.0, rel=CLOSE)


def test_hours_by_station() -> None:
    """The boats' own, and those of trays, covers, benches, lockers and lids, scrap and all."""
    moulding = 40 * 10 + 20 * 20 + TRAYS * 2.125 / TRAY + COVERS * 1.0 / COVER
    machining = 40 * 2 + TRAYS * 0.22 / 0.95
    fitting = 40 * 5 + 20 * 10 + COVERS * 0.5 + BENCHES * 1.25 + LOCKERS * 0.5 / 0.5 + LIDS * 0.5
    assert {load.station: load.hours.value for load in plan().stations} == pytest.approx(
        {"moulding": moulding, "machining": machining, "fitting": fitting}, rel=CLOSE
    )
    # The base overhead is absorbed on: hours; machine hours, of a boat its hours; labour cost.
    machine = 40 * 2 + TRAYS * 0.52 / 0.95
    assert {load.station: load.load.value for load in plan().stations} == pytest.approx(
        {"moulding": moulding, "machining": machine, "fitting": fitting * 30}, rel=CLOSE
    )


def test_the_bottleneck_is_the_station_most_used() -> None:
    used = {load.station: load.utilisation.value for load in plan().stations}
    moulding = station(plan(), "moulding")
    assert used["moulding"] == pytest.approx(moulding.load.value / 1000, rel=CLOSE)
    assert used["machining"] == pytest.approx(
        station(plan(), "machining").load.value / 500, rel=CLOSE
    )
    assert used["fitting"] == pytest.approx(
        station(plan(), "fitting").load.value / 40000, rel=CLOSE
    )
    assert max(used.values()) == used["moulding"] > 1.0
    assert plan().bottleneck is moulding


def test_another_station_becomes_the_bottleneck_when_it_can_do_less(tmp_path: Path) -> None:
    plan = changed(tmp_path / "c", "stations.yaml", "capacity: 500 h", "capacity: 100 h")
    assert plan.bottleneck is station(plan, "machining")


def test_absorbed_and_under_absorbed_overhead_are_the_budget() -> None:
    budgets = {"moulding": 10000.0, "machining": 5000.0, "fitting": 12000.0}
    rates = {"moulding": 4.0 + 6.0, "machining": 2.0 + 8.0, "fitting": 0.1 + 0.2}
    for load in plan().stations:
        assert load.budget.value == pytest.approx(budgets[load.station], rel=CLOSE)
        absorbed = rates[load.station] * load.load.value
        assert load.absorbed.value == pytest.approx(absorbed, rel=CLOSE)
        both = load.absorbed.value + load.under.value
        assert both == pytest.approx(budgets[load.station], rel=CLOSE)
    assert station(plan(), "moulding").under.value < 0 < station(plan(), "machining").under.value


def overhead_borne(pricing: Pricing, plan: Plan) -> float:
    """Station overhead in the costs of all units, where nothing is scrapped or mended."""
    units = {(model, ""): boats.value for model, boats in plan.boats.items()}
    units |= {(demand.model, demand.option): demand.units.value for demand in plan.options}
    borne = 0.0
    for (model, option), count in units.items():
        item = pricing.models[model].options[option] if option else pricing.models[model].boat
        for element in ("overhead_variable", "overhead_fixed"):
            borne += count * item.assembly.elements[element].value
    return borne


def test_overhead_absorbed_is_what_the_units_bear(tmp_path: Path) -> None:
    """In a year without scrap and mending, whose overhead has names of its own."""

    def faultless(name: str) -> str:
        lines = (YEAR / name).read_text(encoding="utf-8").splitlines()
        kept = [line for line in lines if not line.strip().startswith(("passes:", "rework:"))]
        return "\n".join(kept).replace(", passes: 50 %", "") + "\n"

    files = {name: faultless(name) for name in ("parts.yaml", "options.yaml")}
    pricing = priced(write_catalogue(tmp_path / "c", files, base=YEAR))
    plan = plan_of(pricing)
    absorbed = sum(load.absorbed.value for load in plan.stations)
    assert absorbed == pytest.approx(overhead_borne(pricing, plan), rel=1e-9)
    assert mould(plan, "tray_mould").pulls.value == pytest.approx(2 * BENCHES + LOCKERS - 1)


def test_more_boats_need_another_set() -> None:
    """Worked out anew for 100 dinghies in place of 40: 60 trays more in benches, 30 in lockers."""
    load = mould(plan(), "tray_mould")
    assert load.sets is not None
    pulls, sets = evaluate([load.pulls, load.sets], {written(plan().boats["dinghy"]): 100.0})
    assert pulls == pytest.approx((TRAYS + 60 * (0.5 * 2 + 0.25 * 2)) / TRAY, rel=CLOSE)
    assert sets == math.ceil(pulls / (45 * 5 * 0.75)) == 2


def test_nothing_planned_is_an_empty_year(tmp_path: Path) -> None:
    folder = write_catalogue(tmp_path / "c", {}, base=YEAR)
    (folder / "volumes.csv").unlink()
    plan = plan_of(priced(folder))
    for part_of_it in (plan.boats, plan.options, plan.stations, plan.moulds, plan.materials):
        assert not part_of_it
    assert plan.bottleneck is None
    assert plan.emission.value == 0.0


def test_a_take_rate_of_nothing_divides_nothing(tmp_path: Path) -> None:
    """Boats that take no option: their mould is not pulled, and no set of it is told."""
    rows = "model,option,boats,take_rate,note\ndinghy,,40,,\ndinghy,bench,,0 %,\n"
    none = plan_of(priced(write_catalogue(tmp_path / "c", {"volumes.csv": rows}, base=YEAR)))
    load = mould(none, "tray_mould")
    assert (load.pulls.value, load.work.value, load.cure.value) == (0.0, 0.0, 0.0)
    assert (load.capacity, load.sets) == (None, None)


def test_take_rates_of_a_model_without_boats_count_for_nothing(tmp_path: Path) -> None:
    plan = changed(tmp_path / "c", "volumes.csv", "launch,,20,,invented\n", "")
    assert plan.boats.keys() == {"dinghy"}
    assert {demand.model for demand in plan.options} == {"dinghy"}
