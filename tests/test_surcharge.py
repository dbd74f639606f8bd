"""`quoter surcharge`: what it prints, and when it refuses."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from tests.catalogues.clauses import INDICES, with_clauses
from tests.catalogues.written import COST_CARD

ASKED = ("--price", "4350 USD", "--quoted", "2025-06-05")


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["surcharge", *(str(word) for word in words)])


@pytest.fixture
def catalogue(tmp_path: Path) -> Path:
    return with_clauses(tmp_path / "c", {"cap": "6 %", "leave_above": "4 %"})


def test_every_step_is_told_with_its_number_and_where_it_stands(catalogue: Path) -> None:
    result = quoter(catalogue, "resin", *ASKED)
    assert (result.exit_code, result.stderr) == (0, "")
    told = result.stdout.splitlines()
    assert told[0] == "Prices of 2026-01-01"
    assert told[1] == "Resin <surcharge>: a price of 4,350.00 USD quoted on 2025-06-05,"
    for line in (
        "index 'resin_index' on 2025-06-05: 100  [indices.csv:2 value], since 2025-06-01 (first)",
        "index 'resin_index' on 2026-01-01: 112.5  [indices.csv:4 value], since 2026-01-01 "
        "(dearer <b>styrene</b>)",
        "index now to index then: 1.125  = resin_index, 2026-01-01, value ÷ "
        "resin_index, 2025-06-01, value",
        "To be paid: 4,567.50 USD without tax.",
        "The customer may leave: the clause says above 4 % of the price.",
    ):
        assert line in told
    starts = ("move that counts: 12.5 %", "surcharge as part of the price: 5 %")
    for start in (*starts, "surcharge: 217.50 USD", "price with surcharge: 4,567.50 USD"):
        assert any(line.startswith(f"{start}  = ") for line in told), start
    assert any(line.startswith("9. A draft wording") for line in told)


def test_a_day_before_the_newest_list_has_its_own_value(catalogue: Path) -> None:
    result = quoter(catalogue, "resin", *ASKED, "--on", "2026-01-15", "--json")
    assert json.loads(result.stdout)["on"] == "2026-01-15"


def test_a_day_before_the_first_price_list_needs_no_prices(catalogue: Path) -> None:
    result = quoter(catalogue, "resin", *ASKED, "--on", "2025-12-01", "--json")
    assert (result.exit_code, result.stderr) == (0, "Prices of 2025-12-01\n")
    assert json.loads(result.stdout)["now"]["value"] == 104


def test_json_has_every_number_and_place(catalogue: Path) -> None:
    found = json.loads(quoter(catalogue, "resin", *ASKED, "--json").stdout)
    assert found["base"] == {"value": 100, "date": "2025-06-01", "file": "indices.csv", "line": 2}
    assert found["now"] == {"value": 112.5, "date": "2026-01-01", "file": "indices.csv", "line": 4}
    assert (found["ratio"], found["counted"]) == (1.125, 0.125)
    assert (found["surcharge"], found["adjusted"]) == (217.5, 4567.5)
    assert (found["open"], found["may_leave"]) == (False, True)
    assert len(found["text"]) == 9


def test_an_open_quote_is_said_to_stand(catalogue: Path) -> None:
    words = ("--price", "4350 USD", "--quoted", "2025-12-20")
    told = quoter(catalogue, "resin", *words).stdout
    assert "The quote stands without a surcharge for 30 days." in told
    assert "To be paid: 4,350.00 USD without tax." in told
    assert json.loads(quoter(catalogue, "resin", *words, "--json").stdout)["surcharge"] == 0


def test_an_old_value_warns(tmp_path: Path) -> None:
    old = "".join(INDICES.splitlines(keepends=True)[:2])
    folder = with_clauses(tmp_path / "c", {}, indices=old)
    result = quoter(folder, "resin", *ASKED)
    assert result.exit_code == 0
    assert "indices.csv:2:1: warning: the index 'resin_index' is of 2025-06-01" in result.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["resim", *ASKED], "unknown surcharge clause 'resim': did you mean 'resin'?"),
        (["resin", "--price", "4350", "--quoted", "2025-06-05"], "'4350' is no price"),
        (["resin", "--price", "4350 kg", "--quoted", "2025-06-05"], "'4350 kg' is no price"),
        (["resin", "--price", "-5 USD", "--quoted", "2025-06-05"], "'-5 USD' is no price"),
        (["resin", "--price", "4.350,00 USD", "--quoted", "2025-06-05"], "Invalid value for"),
        (["resin", "--price", "4350 USD"], "Missing option '--quoted'"),
        (
            ["resin", "--price", "1 USD", "--quoted", "2026-02-01"],
            "the quote is of 2026-02-01, after 2026-01-01",
        ),
        (
            ["resin", *ASKED, "--on", "2025-06-04"],
            "the quote is of 2025-06-05, after 2025-06-04, the day asked about",
        ),
    ],
    ids=["clause", "bare", "mass", "negative", "comma", "no day", "later", "before"],
)
def test_wrong_words_are_wrong_usage(catalogue: Path, words: list[str], told: str) -> None:
    result = quoter(catalogue, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert told in " ".join(result.stderr.replace("│", " ").split())


def test_a_catalogue_without_clauses_says_so() -> None:
    result = quoter(COST_CARD, "resin", *ASKED)
    assert result.exit_code == 2
    assert "yard.yaml lists none under 'surcharges:'" in result.stderr


def test_a_quote_from_before_the_series_is_a_problem(catalogue: Path) -> None:
    result = quoter(catalogue, "resin", "--price", "1 USD", "--quoted", "2025-01-01")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "indices.csv:2:1: the index 'resin_index' has no value in force" in result.stderr
