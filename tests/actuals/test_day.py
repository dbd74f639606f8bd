"""What is booked after the catalogue's own day counts for nothing yet, and everybody is told so."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from tests.actuals.cases import made, spent, table, textbook, worked


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A catalogue whose only price list is of January, and which booked in March."""
    folder = textbook(tmp_path_factory.mktemp("later") / "yard")
    (folder / "actuals").mkdir()
    for kind, rows in {**made(10), **worked(20.0, 10.0), **spent(variable="5 USD")}.items():
        (folder / "actuals" / f"{kind}.csv").write_bytes(table(kind, rows))
    return folder


def asked(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_check_says_how_many_rows_do_not_count_yet_and_what_to_do(yard: Path) -> None:
    told = asked("check", yard)
    assert told.exit_code == 0, told.output
    assert "hours.csv:2:" in told.output
    assert "this row and 2 more are of days after 2026-01-01" in told.output
    assert "the last is of 2026-03-16" in told.output


def test_nothing_is_told_to_who_asks_about_a_day(yard: Path) -> None:
    for day in ("2026-03-31", "2026-03-16", "2026-01-01"):
        assert "not-come-yet" not in asked("check", yard, "--as-of", day).output


def test_a_month_and_a_job_ahead_are_not_called_unknown_without_a_hint(yard: Path) -> None:
    month = asked("actuals", yard, "--month", "2026-03")
    assert month.exit_code != 0
    assert "rows to 2026-03-16 are after 2026-01-01; ask with --on" in month.output
    job = asked("actuals", yard, "--job", "J-1")
    assert job.exit_code != 0
    assert "it was started on 2026-03-02, after 2026-01-01; ask with --on" in job.output


def test_a_comparison_up_to_a_day_says_what_it_left_out(yard: Path) -> None:
    told = asked("actuals", yard, "--on", "2026-03-15")
    assert told.exit_code == 0, told.output
    assert "Booked after 2026-03-15 and so left out, rows: 2, the last of 2026-03-16" in told.output
    assert "left out, rows" not in asked("actuals", yard, "--on", "2026-03-16").output
