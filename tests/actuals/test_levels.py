"""At which level rows are compared, what is left out and told, and what of a standard is shared.

All numbers are round, so that what is expected is worked out by hand in the test.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.actuals.compare import compare
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError
from tests.actuals.cases import (
    Row,
    actuals_of,
    amounts,
    booked_in,
    made,
    one_of,
    textbook,
    worked,
)
from tests.catalogues.written import FOLDER

CLOSE = 1e-9
YEAR_DAY = date(2026, 6, 30)


def pulled(good: int, scrapped: int, job: str = "J-1") -> dict[str, list[Row]]:
    row = {"reference": "P-1", "date": "2026-03-20", "part": "unit", "job": job}
    return {"pulls": [{**row, "good": good, "scrapped": scrapped}]}


def hours(*rows: Row) -> dict[str, list[Row]]:
    base = {"date": "2026-03-16", "job": "J-1"}
    return {"hours": [{"reference": f"H-{n}", **base, **row} for n, row in enumerate(rows)]}


def test_rework_that_every_row_tells_apart_is_held_against_planned_rework(tmp_path: Path) -> None:
    """Half are mended for 30 min each: 2.5 h of 10 units, beside 10 h of work."""
    folder = textbook(tmp_path / "c", more=", rework: {share: 50 %, time: 30 min}")
    station = {"station": "assembly"}
    told = hours(
        {**station, "hours": "10.4 h", "rework": "no"},
        {**station, "hours": "2.3 h", "rework": "yes"},
    )
    labour = one_of(actuals_of(folder, made(10), told), "labour.assembly")
    assert amounts(labour) == pytest.approx({"efficiency": 4.0, "rework": -2.0}, rel=CLOSE)
    untold = hours({**station, "hours": "10.4 h", "rework": "no"}, {**station, "hours": "2.3 h"})
    labour = one_of(actuals_of(folder, made(10), untold), "labour.assembly")
    assert amounts(labour) == pytest.approx({"efficiency": 2.0}, rel=CLOSE)


def test_pieces_scrapped_above_plan_flex_the_standard(tmp_path: Path) -> None:
    """Of 10 begun 8 pass: 10 are planned for 8 good, 12 were begun, and 13 h worked."""
    folder = textbook(tmp_path / "c", more=", passes: 80 %")
    rows = hours({"station": "assembly", "hours": "13 h"})
    labour = one_of(actuals_of(folder, made(8), rows, pulled(8, 4)), "labour.assembly")
    assert amounts(labour) == pytest.approx({"efficiency": 10.0, "scrap": 20.0}, rel=CLOSE)
    assert {p.file for line in labour.lines if line.kind == "scrap" for p in line.rows} == {
        "actuals/hours.csv",
        "actuals/pulls.csv",
    }
    without = one_of(actuals_of(folder, made(8), rows), "labour.assembly")
    assert amounts(without) == pytest.approx({"efficiency": 30.0}, rel=CLOSE)


@pytest.mark.parametrize(("scrapped", "lost"), [(4, 20.0), (0, -20.0)])
def test_work_behind_the_last_planned_loss_is_held_against_good_pieces(
    tmp_path: Path, scrapped: int, lost: float
) -> None:
    """Of 10 begun 8 are planned to pass the first operation, so that 8 h are due at the second,
    whether 12 or 8 were begun."""
    finishing = ", passes: 80 %}\n      - {name: Finishing, station: finishing, fixed: 1 h"
    folder = textbook(tmp_path / "c", more=finishing)
    rows = hours(
        {"station": "assembly", "hours": f"{8 + scrapped} h"},
        {"station": "finishing", "hours": "9 h"},
    )
    actuals = actuals_of(folder, made(8), rows, pulled(8, scrapped))
    first, second = one_of(actuals, "labour.assembly"), one_of(actuals, "labour.finishing")
    told = {"efficiency": 0.0, "scrap": lost}
    assert amounts(first) == pytest.approx(told, rel=CLOSE, abs=CLOSE)
    told = {"efficiency": 10.0, "scrap": 0.0}
    assert amounts(second) == pytest.approx(told, rel=CLOSE, abs=CLOSE)


def test_a_job_at_work_counts_at_what_was_booked_but_for_its_rates(tmp_path: Path) -> None:
    folder = textbook(tmp_path / "c")
    rows = worked(40, wage="11 USD/h")
    actuals = actuals_of(folder, made(10, finished=""), rows)
    labour = one_of(actuals, "labour.assembly")
    assert amounts(labour) == pytest.approx({"rate": 40.0}, rel=CLOSE)
    assert actuals.jobs["J-1"].open
    assert any("J-1" in note and "Not finished" in note for note in actuals.notes)


def test_a_job_without_hours_at_a_station_that_it_needs_is_named_and_left_out(
    tmp_path: Path,
) -> None:
    actuals = actuals_of(textbook(tmp_path / "c"), made(10))
    assert [one for one in actuals.compared if one.scope.resource == "labour.assembly"] == []
    (unbooked,) = (u for u in actuals.unbooked if u.scope.resource == "labour.assembly")
    assert (unbooked.scope.job, unbooked.scope.station) == ("J-1", "assembly")
    assert (unbooked.quantity.value, unbooked.standard.value) == (10.0, 100.0)


def test_hours_at_a_station_that_the_job_does_not_need_are_all_above_standard(
    tmp_path: Path,
) -> None:
    rows = worked(10, station="finishing")
    actuals = actuals_of(textbook(tmp_path / "c"), made(10), rows)
    labour = one_of(actuals, "labour.finishing")
    assert amounts(labour) == pytest.approx({"efficiency": 100.0}, rel=CLOSE)
    assert [u.scope.resource for u in actuals.unbooked if u.scope.station] == ["labour.assembly"]
    assert any("where it needs nothing" in note for note in actuals.notes)


def test_rows_on_days_of_two_wages_share_the_standard_by_what_was_booked(tmp_path: Path) -> None:
    """10 h by standard; 6 h worked at 10 and 6 h at 12: 5 h each, one hour too many of each."""
    folder = textbook(tmp_path / "c", wages="2026-03-10,assembly,12 USD/h,\n")
    rows = hours(
        {"date": "2026-03-09", "station": "assembly", "hours": "6 h"},
        {"date": "2026-03-10", "station": "assembly", "hours": "6 h"},
    )
    labour = one_of(actuals_of(folder, made(10), rows), "labour.assembly")
    assert amounts(labour) == pytest.approx({"efficiency": 10.0 + 12.0}, rel=CLOSE)
    assert labour.standard.value == pytest.approx(5 * 10 + 5 * 12, rel=CLOSE)


def test_each_month_has_its_own_rows_and_its_share_of_the_standard(tmp_path: Path) -> None:
    rows = hours(
        {"date": "2026-02-10", "station": "assembly", "hours": "3 h"},
        {"date": "2026-03-10", "station": "assembly", "hours": "9 h"},
    )
    job = made(10, started="2026-02-01")
    actuals = actuals_of(textbook(tmp_path / "c"), job, rows)
    by_month = {
        one.scope.month: (amounts(one), one.standard.value)
        for one in actuals.compared
        if one.scope.resource == "labour.assembly"
    }
    assert by_month["2026-02"][0] == pytest.approx({"efficiency": 5.0}, rel=CLOSE)
    assert by_month["2026-03"][0] == pytest.approx({"efficiency": 15.0}, rel=CLOSE)
    assert [by_month[month][1] for month in ("2026-02", "2026-03")] == pytest.approx([25, 75])


def test_hours_of_a_part_without_a_job_are_held_against_what_was_pulled(tmp_path: Path) -> None:
    """7 pulled in March; the job's own 10 units are then no standard of anything else."""
    rows = worked(20, job="", part="unit")
    actuals = actuals_of(textbook(tmp_path / "c"), made(10), rows, pulled(7, 0, job=""))
    labour = one_of(actuals, "labour.assembly")
    assert (labour.scope.level, labour.scope.job, labour.scope.part) == (
        "part",
        "",
        "option.card.unit",
    )
    assert amounts(labour) == pytest.approx(
        {"efficiency": 130.0, "scrap": 0.0}, rel=CLOSE, abs=CLOSE
    )
    assert [u for u in actuals.unbooked if u.scope.station] == []


def test_a_pool_of_a_station_leaves_out_jobs_with_rows_of_their_own(tmp_path: Path) -> None:
    """Two jobs of 10 units; one has 11 h of its own, the pool's 8 h are held against the other."""
    second = {**made(10)["jobs"][0], "job": "J-2"}
    jobs = {"jobs": [*made(10)["jobs"], second]}
    rows = hours(
        {"station": "assembly", "hours": "11 h"}, {"job": "", "station": "assembly", "hours": "8 h"}
    )
    actuals = actuals_of(textbook(tmp_path / "c"), jobs, rows)
    found = {
        one.scope.level: amounts(one)["efficiency"]
        for one in actuals.compared
        if one.scope.resource == "labour.assembly"
    }
    assert found == pytest.approx({"job": 10.0, "station": -20.0}, rel=CLOSE)


def test_a_part_that_no_row_names_is_not_booked_and_never_taken_for_zero() -> None:
    """A dinghy's own 2 h at machining have no rows, where those of the bench's trays have."""
    jobs = {
        "jobs": [
            {
                "job": "J-1",
                "model": "dinghy",
                "options": "bench",
                "started": "2026-03-02",
                "finished": "2026-03-31",
            }
        ]
    }
    station = {"station": "machining", "hours": "1 h"}
    one = actuals_of(FOLDER / "year", jobs, hours({**station, "part": "tray"}), day=YEAR_DAY)
    labour = one_of(one, "labour.machining")
    assert (labour.scope.level, labour.scope.part) == ("part", "part.tray")
    left = next(each for each in one.unbooked if each.scope.resource == "labour.machining")
    assert (left.scope.part, left.scope.job) == ("boat.dinghy", "J-1")
    assert left.quantity.value == pytest.approx(2.0, rel=CLOSE)
    some = actuals_of(
        FOLDER / "year", jobs, hours({**station, "part": "tray"}, station), day=YEAR_DAY
    )
    assert one_of(some, "labour.machining").scope.level == "job"
    assert any("rows name no part" in note for note in some.notes)
    both = hours({**station, "part": "tray"}, {**station, "part": "dinghy"})
    fine = actuals_of(FOLDER / "year", jobs, both, day=YEAR_DAY)
    levels = {o.scope.part: o.scope.level for o in fine.compared if o.scope.station == "machining"}
    assert levels == {"part.tray": "part", "boat.dinghy": "part", "": "station"}
    # Two trays: 12 min at 100 % and 10 % of 12 min again, divided by what passes Trim.
    tray = next(o for o in fine.compared if o.scope.part == "part.tray")
    assert tray.standard_quantity is not None
    assert tray.standard_quantity.value == pytest.approx(2 * 0.22 / 0.95, rel=CLOSE)
    assert dict(tray.lines[0].owners) == {"bench": 1.0}


def test_a_closed_month_is_the_same_whenever_it_is_asked_about(tmp_path: Path) -> None:
    folder = textbook(tmp_path / "c", wages="2026-04-15,assembly,12 USD/h,\n", variable="24000 USD")
    rows = hours(
        {"station": "assembly", "hours": "11 h"},
        {"date": "2026-05-05", "job": "", "station": "assembly", "hours": "9 h"},
    )
    then = actuals_of(folder, made(10), rows)
    later = actuals_of(folder, made(10), rows, day=date(2026, 5, 31))
    assert later.months == ("2026-03", "2026-05")
    of_march = [
        (one.scope, one.actual.value, one.standard.value, amounts(one))
        for one in later.compared
        if one.scope.month == "2026-03"
    ]
    assert of_march == [
        (one.scope, one.actual.value, one.standard.value, amounts(one)) for one in then.compared
    ]
    assert later.jobs["J-1"].standard.value == then.jobs["J-1"].standard.value


def test_a_job_keeps_the_recipes_of_the_day_it_was_begun(tmp_path: Path) -> None:
    """An hour a unit until 10 March, two since: what was accepted then holds for jobs after it."""
    folder = textbook(tmp_path / "c", hours="2 h")
    key = "options.options.unit.operations.1.fixed"
    (folder / "accepted.csv").write_text(
        "date,key,was,becomes,samples,median,low,high,by,note\n"
        f"2026-03-10,{key},1 h,2 h,9,2 h,1.9 h,2.1 h,,\n"
    )
    second = {**made(10)["jobs"][0], "job": "J-2", "started": "2026-03-11"}
    jobs = {"jobs": [*made(10)["jobs"], second]}
    rows = hours(
        {"station": "assembly", "hours": "15 h"},
        {"station": "assembly", "hours": "15 h", "job": "J-2"},
    )
    actuals = actuals_of(folder, jobs, rows)
    found = {
        one.scope.job: amounts(one)["efficiency"]
        for one in actuals.compared
        if one.scope.station == "assembly" and one.scope.job
    }
    assert found == pytest.approx({"J-1": 50.0, "J-2": -50.0}, rel=CLOSE)
    costs = {number: job.standard.value for number, job in actuals.jobs.items()}
    assert costs["J-2"] - costs["J-1"] == pytest.approx(100.0, rel=CLOSE)


def test_pieces_pulled_before_a_value_was_accepted_are_held_against_the_one_before(
    tmp_path: Path,
) -> None:
    """Ten pieces at an hour, then ten at two, are thirty hours whenever it is asked about."""
    folder = textbook(tmp_path / "c", hours="2 h")
    (folder / "accepted.csv").write_text(
        "date,key,was,becomes,samples,median,low,high,by,note\n"
        "2026-03-10,options.options.unit.operations.1.fixed,1 h,2 h,9,2 h,1.9 h,2.1 h,,\n"
    )
    row = {"part": "unit", "good": 10, "scrapped": 0}
    days = [("P-1", "2026-03-05"), ("P-2", "2026-03-20")]
    pulls = {"pulls": [{**row, "reference": number, "date": day} for number, day in days]}
    rows = hours({"job": "", "station": "assembly", "part": "unit", "hours": "24 h"})
    actuals = actuals_of(folder, made(20), pulls, rows)
    labour = one_of(actuals, "labour.assembly")
    assert labour.standard_quantity is not None
    assert labour.standard_quantity.value == pytest.approx(30.0, rel=CLOSE)
    assert amounts(labour)["efficiency"] == pytest.approx(-60.0, rel=CLOSE)


def test_what_is_set_holds_for_jobs_by_older_recipes_too(tmp_path: Path) -> None:
    """Ten units at 10 USD/h, an hour each until 10 March; three hours are set instead."""
    folder = textbook(tmp_path / "c", hours="2 h")
    key = "options.options.unit.operations.1.fixed"
    (folder / "accepted.csv").write_text(
        "date,key,was,becomes,samples,median,low,high,by,note\n"
        f"2026-03-10,{key},1 h,2 h,9,2 h,1.9 h,2.1 h,,\n"
    )
    costs = []
    for settings in ([], [f"{key}=3 h"]):
        pricing, _ = price_catalogue(folder, date(2026, 3, 31), settings=settings)
        actuals = compare(pricing, booked_in(pricing, folder, made(10)), folder)
        costs.append(actuals.jobs["J-1"].standard.value)
    assert costs[1] - costs[0] == pytest.approx(10 * 2 * 10.0, rel=CLOSE)


def test_jobs_whose_options_break_a_rule_are_told_all_at_once() -> None:
    base = {"model": "dinghy", "started": "2026-03-02"}
    jobs = {
        "jobs": [
            {**base, "job": "J-1", "options": "bench x 2"},
            {**base, "job": "J-2", "options": "bench"},
            {**base, "job": "J-3", "options": "locker x 3"},
        ]
    }
    with pytest.raises(CatalogueError) as caught:
        actuals_of(FOLDER / "year", jobs, day=YEAR_DAY)
    told = [f"{problem.place.line}: {problem.what}" for problem in caught.value.problems]
    assert told == [
        "2: the options of job 'J-1' break a rule: at most 1 of Bench can be fitted",
        "4: the options of job 'J-3' break a rule: at most 1 of Locker can be fitted",
    ]


def test_hours_of_a_month_before_any_job_is_finished_count_at_standard(tmp_path: Path) -> None:
    """Whose they were is not known before one is finished; then they are held against it."""
    folder = textbook(tmp_path / "c")
    rows = hours({"station": "assembly", "hours": "12 h", "job": "", "date": "2026-03-16"})
    still = actuals_of(folder, made(10, finished=""), rows)
    assert amounts(one_of(still, "labour.assembly")) == {}
    assert any("no job was finished in that month or later" in note for note in still.notes)
    none = actuals_of(folder, {"jobs": []}, rows)
    assert amounts(one_of(none, "labour.assembly")) == {}
    done = actuals_of(folder, made(10), rows)
    assert amounts(one_of(done, "labour.assembly")) == pytest.approx({"efficiency": 20.0})
    later = actuals_of(folder, made(10, finished="2026-04-10"), rows, day=date(2026, 4, 30))
    assert amounts(one_of(later, "labour.assembly")) == pytest.approx({"efficiency": 120.0})
