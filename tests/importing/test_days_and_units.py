"""When a price takes effect and is listed again, and what its unit may be called."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.importing.prices import import_prices
from tests.importing.sheets import mapped, one_line, quoter

DAY = date(2026, 12, 1)


@pytest.mark.parametrize(
    ("effective", "told", "written"),
    [
        ("2026-11-15", "unchanged", ""),  # 45 of 90 days old
        ("2026-11-16", "unchanged, listed again",
         "polyol,westpoly,2.90 USD/lb [2.7 to 3.25 triangular],imported from p.csv\n"),
    ],
)  # fmt: skip
def test_a_price_that_stays_is_listed_again_with_its_range_before_it_grows_stale(
    tmp_path: Path, effective: str, told: str, written: str
) -> None:
    """The line of 1 October would be older than 90 days from 31 December on."""
    old, ranged = "2.90 USD/lb", "2.90 USD/lb [2.70 to 3.25 triangular]"
    change = {"prices/2026-10-01.csv": (f"polyol,westpoly,{old}", f"polyol,westpoly,{ranged}")}
    catalogue = mapped(tmp_path / "yard", change)
    (tmp_path / "p.csv").write_text(one_line("WP-3101-A", "2.90", "LB"))
    words = ("--supplier", "westpoly", "--effective", effective)
    result = quoter("import-prices", catalogue, tmp_path / "p.csv", *words)
    assert result.exit_code == 0, result.output
    assert result.stdout.splitlines()[1].endswith(f"  +0.0 %  {told}")
    path = catalogue / f"prices/{effective}.csv"
    found = path.read_text() if path.exists() else ""
    assert found == (f"material,supplier,price,note\n{written}" if written else "")
    if written:
        warnings = load_catalogue(catalogue, date(2027, 1, 5))[1]
        assert not any("'polyol'" in warning.what for warning in warnings)


def test_a_list_between_two_says_which_holds_later(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    file = tmp_path / "p.csv"
    file.write_text(one_line("WP-1188", "1.95", "LB"))
    made = import_prices(catalogue, file, "westpoly", date(2026, 10, 15))
    assert made.faults == []
    assert "'resin_inj' has a price of 2026-11-01, which holds from then on." in made.shown


def test_a_list_before_the_first_is_refused_in_one_sentence(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(one_line("WP-1188", "2.10", "LB"))
    words = ("--supplier", "westpoly", "--effective", "2026-09-30")
    result = quoter("import-prices", catalogue, tmp_path / "p.csv", *words)
    assert (result.exit_code, result.stderr) == (
        1,
        "--effective: 2026-09-30 is before the first price list [past-day]\n"
        "    the first is of 2026-10-01: name that day or a later one\n"
        "1 problem; nothing was written\n",
    )


def test_a_day_far_ahead_is_refused_unless_it_is_meant(tmp_path: Path) -> None:
    """From 1 November 2026 it is 366 days to 2 November 2027."""
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(one_line("WP-1188", "2.10", "LB"))
    words = ("import-prices", catalogue, tmp_path / "p.csv", "--supplier", "westpoly", "--dry-run")
    assert quoter(*words, "--effective", "2027-11-02").exit_code == 0
    refused = quoter(*words, "--effective", "2027-11-03")
    assert (refused.exit_code, refused.stderr) == (
        1,
        "--effective: 2027-11-03 is 367 days after 2026-11-01, how far the catalogue has come "
        "[far-ahead]\n"
        "    check the year, and use --accept if it is meant\n"
        "1 problem; nothing was written\n",
    )
    assert quoter(*words, "--effective", "2027-11-03", "--accept").exit_code == 0


@pytest.mark.parametrize("limit", ["nan", "inf"])
def test_a_limit_that_nothing_is_beyond_is_wrong_usage(tmp_path: Path, limit: str) -> None:
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(one_line("WP-1188", "210", "LB"))
    words = ("--supplier", "westpoly", "--effective", str(DAY), "--limit", limit)
    result = quoter("import-prices", catalogue, tmp_path / "p.csv", *words)
    assert result.exit_code == 2
    assert f"{limit} is no limit" in result.stderr


@pytest.mark.parametrize("per", ["LB", "per LB", "/LB", "/ lb", "Per DR", "LBS", "per lbs", "KG"])
def test_a_word_for_a_unit_is_known_however_people_write_it(tmp_path: Path, per: str) -> None:
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(one_line("WP-1188", "2.10", per))
    made = import_prices(catalogue, tmp_path / "p.csv", "westpoly", DAY, 1000)
    assert made.faults == []
    means = {"D": "drum", "K": "kg"}.get(per.replace("Per ", "")[0], "lb")
    assert f"resin_inj,westpoly,2.10 USD/{means}," in made.files[f"prices/{DAY}.csv"].decode()


def test_a_letter_alone_may_mean_a_thousand_and_is_no_unit(tmp_path: Path) -> None:
    """M is a metre to some and a thousand to others: common practice, no source."""
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(one_line("WP-1188", "2.10", "G"))
    (fault,) = import_prices(catalogue, tmp_path / "p.csv", "westpoly", DAY).faults
    assert fault.what == "unknown unit 'G'"
