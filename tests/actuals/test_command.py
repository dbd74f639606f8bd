"""`quoter actuals`, and what a build writes of what was booked: the demonstration's four months."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from quoter.cli import main
from quoter.pages.actuals.data_schema import actuals_schema
from quoter.pricing.priced import price_catalogue
from quoter.tasks import ACTUALS, REVIEW, Task, Work
from tests.catalogues.written import FOLDER
from tests.demo import DEMO


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["actuals", *(str(word) for word in words)])


def asked(*words: str) -> dict[str, object]:
    result = quoter(DEMO, *words, "--json")
    assert result.exit_code == 0, result.output
    data: dict[str, object] = json.loads(result.stdout)
    assert [*Draft202012Validator(actuals_schema()).iter_errors(data)] == []
    return data


@pytest.fixture(scope="module")
def newest() -> dict[str, object]:
    return asked()


def test_the_newest_month_comes_first_and_its_kinds_add_up(newest: dict[str, object]) -> None:
    month = newest["month"]
    assert isinstance(month, dict)
    assert month["month"] == newest["months"][-1]  # type: ignore[index]
    variance = month["actual"] - month["standard"]
    assert sum(month["kinds"].values()) == pytest.approx(variance, abs=1e-6)
    assert sum(cause["amount"] for cause in month["causes"]) == pytest.approx(variance, abs=0.1)
    for groups in month["by"].values():
        assert sum(group["variance"] for group in groups) == pytest.approx(variance, abs=1e-6)


def test_months_add_up_to_what_the_tables_hold(newest: dict[str, object]) -> None:
    months = newest["months"]
    assert isinstance(months, list)
    assert months == sorted(months)
    assert len(months) == 4


def test_a_job_is_told_with_its_margin_and_rows() -> None:
    first = next(iter((DEMO / "actuals" / "jobs.csv").read_text("utf-8").splitlines()[1:]))
    number = first.split(",")[0]
    job = asked("--job", number)["job"]
    assert isinstance(job, dict)
    account = job["account"]
    lost = account["planned"] - account["left"]
    assert lost == pytest.approx(account["actual"] - account["standard"], abs=1e-6)
    assert all(":" in row for cause in job["causes"] for row in cause["rows"])


def test_a_terminal_reads_the_day_first() -> None:
    result = quoter(DEMO)
    told = result.stdout.splitlines()
    assert result.exit_code == 0
    assert told[0].startswith("Prices of ")
    assert "standard" in told[1]
    assert "By kind, EUR" in told


def test_what_is_not_there_names_what_is_near() -> None:
    result = quoter(DEMO, "--month", "2026-01")
    assert result.exit_code == 2
    assert "no rows in '2026-01'" in result.stderr
    result = quoter(DEMO, "--month", "2026-08", "--job", "x")
    assert "name one of --month, --job and --operation" in result.stderr


def test_a_catalogue_without_bookings_says_so() -> None:
    result = quoter(FOLDER / "small")
    assert result.exit_code == 1
    assert "nothing is booked in actuals/ of this catalogue" in result.stderr


def test_pages_are_written_where_asked(tmp_path: Path) -> None:
    result = quoter(DEMO, "--out", tmp_path / "pages")
    assert result.exit_code == 0
    assert (tmp_path / "pages" / "index.html").is_file()
    assert f"open {tmp_path / 'pages' / 'index.html'}" in result.stderr


def work_of(folder: Path) -> Work:
    pricing, warnings = price_catalogue(folder)
    return Work(folder, pricing, warnings, published=False)


def test_a_build_has_the_pages_only_where_anything_is_booked() -> None:
    assert Task(ACTUALS) in work_of(DEMO).tasks()
    assert Task(ACTUALS) not in work_of(FOLDER / "small").tasks()


def test_a_booked_row_makes_the_pages_and_the_review_anew_and_nothing_else(tmp_path: Path) -> None:
    folder = shutil.copytree(DEMO, tmp_path / "demo")
    work = work_of(folder)
    before = {task: work.key(task) for task in work.tasks()}
    table = folder / "actuals" / "hours.csv"
    *rows, _ = table.read_text("utf-8").splitlines()
    table.write_text("\n".join(rows) + "\n", "utf-8")
    work = work_of(folder)
    changed = {task for task, key in before.items() if work.key(task) != key}
    assert changed == {Task(ACTUALS), Task(REVIEW)}


def test_files_of_the_pages_are_those_of_their_task() -> None:
    work = work_of(DEMO)
    for path in ("actuals/index.html", "actuals/jobs/2026-0071.html", "actuals/2026-08.html"):
        assert work.owner(False, path) == Task(ACTUALS)
