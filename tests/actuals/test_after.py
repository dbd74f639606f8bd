"""The account of a job: what it was sold for, should have cost, and left; and sums of its causes.

One unit takes 1 lb at 1.00 and 1 h at 10.00; all expectations are worked out by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.actuals.after import AfterCalculation, Quoted, after_calculation, after_calculations
from quoter.actuals.compared import Actuals
from quoter.actuals.summaries import in_month, summary_of, trace_of
from quoter.figures import constant
from tests.actuals.cases import Row, actuals_of, made, textbook, worked

MATERIAL, LABOUR = "material.other", "labour.assembly"
# Two boats: 22.00 by standard; 3 lb and 2.5 h are 28.00. The list has a unit at 11.00 / (1 - 20 %)
# and a boat at 1.00.
STANDARD, COST, LISTED = 22.0, 28.0, 2 * (13.75 + 1.0)


def issued(*amounts: str, **more: object) -> dict[str, list[Row]]:
    row: Row = {"kind": "issue", "job": "J-1", "material": "direct_material", **more}
    return {
        "issues": [
            {"reference": f"S-{n}", "date": "2026-03-16", **row, "quantity": amount}
            for n, amount in enumerate(amounts)
        ]
    }


def two_boats(folder: Path, **more: object) -> Actuals:
    return actuals_of(folder, made(2, **more), worked(2.5), issued("2 lb", "1 lb"))


def quoted(price: float, cost: float, margin: float | None = None, **more: object) -> Quoted:
    def money(amount: float) -> object:
        return constant(amount, "USD")

    told = None if margin is None else money(margin)
    return Quoted("2026-0001-R1", money(price), money(cost), {}, margin=told, **more)  # type: ignore[arg-type]


def row_of(after: AfterCalculation, element: str) -> tuple[float, float, bool]:
    (found,) = (row for row in after.rows if row.element == element)
    return found.standard.value, found.actual.value, found.at_standard


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return textbook(tmp_path / "c", hours="1 h", wage="10 USD/h", material="1 lb")


def test_a_job_without_a_quote_is_held_against_the_list(folder: Path) -> None:
    after = after_calculation(two_boats(folder), "J-1")
    assert after.standard.value == pytest.approx(STANDARD)
    assert after.cost.value == pytest.approx(COST)
    assert after.price.value == pytest.approx(LISTED)
    assert after.planned.value == pytest.approx(LISTED - STANDARD)
    assert after.left.value == pytest.approx(LISTED - COST)
    assert after.left_fraction.value == pytest.approx((LISTED - COST) / LISTED)
    assert after.doubts == ("It is held against the list price of 2026-03-02",)


def test_each_element_has_its_standard_and_what_it_came_to(folder: Path) -> None:
    after = after_calculation(two_boats(folder), "J-1")
    assert row_of(after, MATERIAL) == pytest.approx((2.0, 3.0, False))
    assert row_of(after, LABOUR) == pytest.approx((20.0, 25.0, False))
    assert [line.kind for line in after.causes][:2] == ["efficiency", "usage"]
    assert sum(line.amount.value for line in after.causes) == pytest.approx(COST - STANDARD)


def test_of_what_nobody_booked_the_standard_stands_and_says_so(folder: Path) -> None:
    yard = folder / "yard.yaml"
    yard.write_text(yard.read_text().replace("general_overhead: 0 %", "general_overhead: 10 %"))
    actuals = actuals_of(folder, made(2), worked(2.5))
    after = after_calculation(actuals, "J-1")
    assert row_of(after, MATERIAL) == pytest.approx((2.0, 2.0, True))
    assert row_of(after, "general_overhead") == pytest.approx((2.0, 2.0, True))
    assert after.cost.value == pytest.approx(22.0 + 2.0 + 5.0)


def test_a_quote_of_one_boat_is_that_of_each_boat_of_a_job(folder: Path) -> None:
    said = quoted(20.0, 12.0, 7.0, doubts=("told",))
    actuals = two_boats(folder, quote="2026-0001-R1")
    after = after_calculations(actuals, {"J-1": said})["J-1"]
    assert after.price.value == pytest.approx(40.0)
    assert after.planned.value == pytest.approx(14.0)
    assert after.left.value == pytest.approx(40.0 - COST)
    assert after.doubts == ("told", "Quote 2026-0001-R1 reckoned with other provisions")


def test_a_job_whose_quote_is_gone_says_so(folder: Path) -> None:
    after = after_calculation(two_boats(folder, quote="2026-0009"), "J-1")
    told = "Quote 2026-0009 was not found: it is held against the list price of 2026-03-02"
    assert after.doubts == (told,)


def test_provisions_come_off_the_price_as_in_the_price_review(folder: Path) -> None:
    yard = folder / "yard.yaml"
    provision = "  provisions: [{name: Commission, fraction: 5 %}]\n"
    yard.write_text(yard.read_text().replace("  rounding", f"{provision}  rounding"))
    after = after_calculation(two_boats(folder), "J-1", quoted(20.0, 12.0, 7.0))
    assert after.left.value == pytest.approx(40.0 * 0.95 - COST)
    assert after.doubts == ()


def test_the_list_price_is_that_of_the_day_work_began(folder: Path) -> None:
    book = "date,market,model,option,list_price,note\n"
    book += "2026-01-01,,card,unit,20 USD,\n2026-03-20,,card,unit,30 USD,\n"
    (folder / "price_book.csv").write_text(book)
    after = after_calculation(two_boats(folder), "J-1")
    assert after.price.value == pytest.approx(2 * (20.0 + 1.0))


def test_a_job_at_work_counts_at_par_and_says_so(folder: Path) -> None:
    after = after_calculation(two_boats(folder, finished=""), "J-1")
    assert after.cost.value == pytest.approx(after.standard.value)
    assert "Job J-1 is still at work: its quantities count at par" in after.doubts


def test_what_belongs_to_no_job_part_or_operation_has_a_name_of_its_own(folder: Path) -> None:
    loose = [{**row, "job": "", "reference": "X"} for row in issued("5 lb")["issues"]]
    rows = [*issued("2 lb", "1 lb")["issues"], *loose]
    actuals = actuals_of(folder, made(2), worked(2.5, part="unit", operation=1), {"issues": rows})
    told = {
        of: {each.name: round(each.amount.value, 9) for each in summary_of(actuals, of).sums}
        for of in ("job", "part", "operation", "station", "option")
    }
    assert told["job"] == {"J-1": 6.0, "not booked on a job": 5.0}
    assert told["part"] == {"One unit": 5.0, "not booked by part": 6.0}
    assert told["operation"] == {
        "One unit: Assembling": 5.0,
        "not booked by operation": 6.0,
    }
    assert told["station"]["Assembly"] == 5.0
    assert told["option"] == {"One unit": 6.0, "not of a job": 5.0}


def test_a_summary_of_a_month_holds_that_month_alone(folder: Path) -> None:
    rows = issued("2 lb", "1 lb")["issues"]
    rows[1] = {**rows[1], "date": "2026-03-30"}
    early = [{**row, "date": "2026-02-20", "job": "", "reference": "E"} for row in rows[:1]]
    actuals = actuals_of(folder, made(2), worked(2.5), {"issues": [*rows, *early]})
    march = in_month(actuals.lines, "2026-03")
    summary = summary_of(actuals, "kind", march, "2026-03")
    assert summary.total.value == pytest.approx(6.0)
    assert {each.amount.key for each in summary.sums} >= {"actual.sum.2026-03.kind.usage"}
    own = actuals.lines_of_jobs["J-1"]
    assert [line for line in march if line.scope.job] == own
    assert sum(line.amount.value for line in own) == pytest.approx(6.0)


def test_a_line_is_traced_to_its_rows_and_to_lines_of_the_catalogue(folder: Path) -> None:
    actuals = two_boats(folder)
    (usage,) = (line for line in actuals.lines if line.kind == "usage")
    trace = trace_of(usage)
    assert [(place.file, place.line) for place in trace.rows] == [
        ("actuals/issues.csv", 2),
        ("actuals/issues.csv", 3),
    ]
    files = {place.file for place in trace.standards}
    assert files >= {"prices/2026-01-01.csv", "options.yaml"}
    assert not any(file.startswith("actuals/") for file in files)
