"""`quoter why --figure actual.…`: down to rows of the tables and lines of the catalogue."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from tests.catalogues.written import FOLDER
from tests.demo import DEMO

# The demonstration's job of which two days of assembly were booked at laminating.
WRONG = "actual.2026-09.labour.laminating.job.2026-0082.efficiency"


def why(*words: str, catalogue: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["why", str(catalogue), *words])


def walk(step: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield step
    for inner in step.get("from", ()):
        yield from walk(inner)


@pytest.fixture(scope="module")
def variance() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(why("--figure", WRONG, "--json").stdout)
    return found


def test_a_variance_goes_down_to_every_row_that_it_rests_on(variance: dict[str, Any]) -> None:
    """As a person finds them: all rows of hours with the job and the station, by line number."""
    with (DEMO / "actuals" / "hours.csv").open(encoding="utf-8", newline="") as file:
        rows = {
            line: row["hours"]
            for line, row in enumerate(csv.DictReader(file), 2)
            if (row["job"], row["station"]) == ("2026-0082", "laminating")
        }
    found = {
        step["line"]: step["written"]
        for step in walk(variance)
        if step.get("file") == "actuals/hours.csv"
    }
    assert found == rows
    assert len(rows) == 6


def test_and_down_to_lines_of_the_catalogue(variance: dict[str, Any]) -> None:
    """Rates of the operations, crew, allowance, efficiency, on-costs, and the wage of the day."""
    steps = list(walk(variance))
    assert all("formula" in step or "file" in step for step in steps)
    files = {step["file"] for step in steps if "file" in step}
    assert files >= {"parts.yaml", "stations.yaml", "wages.csv", "models.yaml"}
    wage = next(step for step in steps if step.get("file") == "wages.csv")
    assert (wage["written"], wage["since"]) == ("24.20 EUR/h", "2026-01-01")


def test_a_variance_is_its_rows_less_standard_at_the_wage_of_the_day(
    variance: dict[str, Any],
) -> None:
    """(AH - SH) x SR, with what is 24.20 EUR/h and 40 % on-costs by the tables."""
    hours = sum(
        float(step["written"].removesuffix(" h"))
        for step in walk(variance)
        if step.get("file") == "actuals/hours.csv"
    )
    standard = next(step for step in variance["from"] if "standard" in step["label"])
    amount = (hours - standard["value"]) * 24.20 * 1.40
    assert variance["value"] == pytest.approx(amount, rel=1e-12)


def test_a_job_is_told_by_its_account() -> None:
    result = why("--figure", "actual.job.2026-0082", "--depth", "1")
    assert result.exit_code == 0, result.output
    labels = [line.partition(": ")[2] for line in result.stdout.splitlines()[1:]]
    for words in ("net price: ", "actual cost: ", "margin planned: ", "margin left: "):
        assert any(label.startswith(words) for label in labels), words


def test_a_row_is_told_by_its_reference() -> None:
    with (DEMO / "actuals" / "hours.csv").open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["hours"].endswith(" h"))
    result = why("--figure", f"actuals.hours.{row['reference']}.hours")
    assert f"{row['reference']}, hours: {row['hours']}  [actuals/hours.csv:" in result.stdout


@pytest.mark.parametrize(
    ("words", "catalogue", "told"),
    [
        (
            ["--figure", "cost"],
            DEMO,
            "name a model, or a day with --since; or by --figure one of what",
        ),
        (
            ["--figure", f"{WRONG}y"],
            DEMO,
            f"no figure is called '{WRONG}y': did you mean '{WRONG}'",
        ),
        (["--figure", "actual.job"], FOLDER / "small", "nothing is booked in"),
    ],
    ids=["no model", "misspelt", "no tables"],
)
def test_what_is_not_known_is_told(words: list[str], catalogue: Path, told: str) -> None:
    result = why(*words, catalogue=catalogue)
    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr
