"""Surcharge clauses: which index values count, what is charged when, and the words of each."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.markets import Surcharge
from quoter.figures import constant
from quoter.pricing.clauses import DRAFT, Applied, apply_clause, clause_text
from quoter.problems import CatalogueError
from tests.catalogues.clauses import with_clauses

NONE: Mapping[str, str] = {}
JUNE, NOVEMBER, JANUARY = date(2025, 6, 1), date(2025, 11, 1), date(2026, 1, 1)


def applied(
    folder: Path,
    quoted: date = JUNE,
    on: date = JANUARY,
    price: tuple[float, str] = (4350.0, "USD"),
    keys: Mapping[str, str] = NONE,
) -> Applied:
    catalogue, _ = load_catalogue(with_clauses(folder / "c", keys))
    (clause,) = catalogue.yard.surcharges
    return apply_clause(catalogue.records, clause, constant(*price), quoted, on)


def test_the_newest_value_on_or_before_each_day_counts(tmp_path: Path) -> None:
    found = applied(tmp_path, date(2025, 10, 31), date(2025, 12, 31))
    assert (found.base.date, found.now.date) == (JUNE, NOVEMBER)
    assert found.steps.ratio.value == 1.04
    assert found.adjusted.value == 4350


@pytest.mark.parametrize(
    ("keys", "surcharge"),
    [
        ({}, 217.50),  # 12.5 % of 40 % of 4350
        ({"only_excess": "yes"}, 130.50),  # 7.5 %
        ({"threshold": "12.5 %"}, 0.0),
        ({"cap": "3 %"}, 130.50),
        ({"cap": "6 %"}, 217.50),
        ({"share": "100 %"}, 543.75),
    ],
)
def test_what_a_rise_of_an_eighth_adds(
    tmp_path: Path, keys: Mapping[str, str], surcharge: float
) -> None:
    found = applied(tmp_path, keys=keys)
    assert found.steps.surcharge.value == pytest.approx(surcharge, abs=1e-9)
    assert found.adjusted.value == pytest.approx(4350 + surcharge, abs=1e-9)


@pytest.mark.parametrize(("downward", "adjusted"), [("no", 4350.0), ("yes", 4156.67)])
def test_a_fall_lowers_the_price_only_if_the_clause_says_so(
    tmp_path: Path, downward: str, adjusted: float
) -> None:
    """From 112.5 to 100 is less by 1/9; of 40 % of 4350 that is 193.33."""
    fallen = "date,index,value,note\n2025-06-01,resin_index,112.5,\n2025-12-01,resin_index,100,\n"
    folder = with_clauses(tmp_path / "c", {"downward": downward}, indices=fallen)
    catalogue, _ = load_catalogue(folder)
    (clause,) = catalogue.yard.surcharges
    price = constant(4350.0, "USD")
    found = apply_clause(catalogue.records, clause, price, JUNE, JANUARY)
    assert found.adjusted.value == pytest.approx(adjusted)


def test_an_open_quote_stands_to_its_last_day(tmp_path: Path) -> None:
    last = applied(tmp_path / "a", date(2025, 12, 2), JANUARY)
    assert (last.days, last.open, last.adjusted.value) == (30, True, 4350)
    assert last.steps.surcharge.value > 0
    after = applied(tmp_path / "b", date(2025, 12, 1), JANUARY)
    assert (after.days, after.open) == (31, False)
    assert after.adjusted.value == 4350 + after.steps.surcharge.value


@pytest.mark.parametrize(("above", "may"), [("4.9 %", True), ("5 %", False), (None, False)])
def test_leaving_takes_more_than_the_clause_says(
    tmp_path: Path, above: str | None, may: bool
) -> None:
    keys = {"leave_above": above} if above else {}
    assert applied(tmp_path / "a", keys=keys).may_leave is may
    young = applied(tmp_path / "b", date(2025, 12, 20), keys=keys)
    assert not young.may_leave


def test_the_surcharge_is_rounded_to_the_currency_of_the_price(tmp_path: Path) -> None:
    assert applied(tmp_path / "a", price=(33333.0, "JPY")).steps.surcharge.value == 1667
    dinar = applied(tmp_path / "b", price=(333.333, "BHD")).steps.surcharge
    assert dinar.value == pytest.approx(16.667)
    assert str(dinar.unit) == "BHD"


def test_a_quote_from_before_the_series_is_refused_at_its_place(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError) as caught:
        applied(tmp_path, date(2025, 5, 1))
    (problem,) = caught.value.problems
    assert str(problem).startswith("indices.csv:2:1: the index 'resin_index' has no value in force")


def test_a_month_before_the_series_can_still_be_rebuilt(tmp_path: Path) -> None:
    """Costs need no index; only the newest day must have a value."""
    late = "date,index,value,note\n2026-02-01,resin_index,100,\n"
    folder = with_clauses(tmp_path / "c", {}, indices=late)
    told = "the index 'resin_index' has no value in force on 2026-01-01"
    with pytest.raises(CatalogueError, match=told):
        load_catalogue(folder)
    newer = (folder / "prices" / "2026-01-01.csv").read_text("utf-8")
    (folder / "prices" / "2026-03-01.csv").write_text(newer, encoding="utf-8")
    assert load_catalogue(folder)[1] == []
    (warning,) = load_catalogue(folder, JANUARY)[1]
    assert warning.what == told


def clause(folder: Path, **keys: str) -> Surcharge:
    catalogue, _ = load_catalogue(with_clauses(folder, keys))
    return catalogue.yard.surcharges[0]


def test_the_words_hold_every_number_of_the_clause(tmp_path: Path) -> None:
    keys = {"threshold": "7 %", "share": "37.5 %", "cap": "9 %", "leave_above": "8 %"}
    text = clause_text(clause(tmp_path / "c", **keys, open_for="21"))
    whole = " ".join(text)
    for told in ("'resin_index'", "7 %", "37.5 %", "9 %", "8 %", "21 days", "successor"):
        assert told in whole
    assert DRAFT not in text


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ({"only_excess": "yes"}, "Then only what lies beyond these 5 % counts."),
        ({"only_excess": "no"}, "Then the whole move counts."),
        (
            {"downward": "yes", "cap": "6 %"},
            "The surcharge is at most 6 % of the price. A fall in the index lowers the price in "
            "the same way, without a limit.",
        ),
        ({"threshold": "0 %"}, "Every move of the index counts, however small."),
        ({"downward": "no"}, "A fall in the index does not lower the price."),
        ({}, "There is no limit to a rise."),
        ({}, "gives no right to leave the contract beyond what the law gives"),
        ({"open_for": "0"}, "The clause holds from the day after the quote."),
        ({"open_for": "1"}, "For the first day after the quote the price stands"),
    ],
)
def test_each_choice_has_its_words(tmp_path: Path, keys: Mapping[str, str], told: str) -> None:
    assert told in " ".join(clause_text(clause(tmp_path / "c", **keys)))


def test_the_words_say_what_a_deep_fall_does(tmp_path: Path) -> None:
    """From 112.5 to 45 is less by 60 %; of 40 % of 4350 that is 1044, far beyond a cap of 6 %."""
    fallen = "date,index,value,note\n2025-06-01,resin_index,112.5,\n2025-12-01,resin_index,45,\n"
    folder = with_clauses(tmp_path / "c", {"downward": "yes", "cap": "6 %"}, indices=fallen)
    catalogue, _ = load_catalogue(folder)
    (clause,) = catalogue.yard.surcharges
    found = apply_clause(catalogue.records, clause, constant(4350.0, "USD"), JUNE, JANUARY)
    assert found.adjusted.value == pytest.approx(4350 - 1044)
    assert "without a limit" in " ".join(clause_text(clause))


def test_without_a_threshold_no_move_is_too_small(tmp_path: Path) -> None:
    found = applied(tmp_path, keys={"threshold": "0 %"}, on=NOVEMBER)
    assert found.steps.counted.value == pytest.approx(0.04)
    assert "0 %" not in clause_text(found.clause)[3]


def test_the_words_keep_the_note_in_the_yard(tmp_path: Path) -> None:
    found = clause(tmp_path / "c", note="they will never notice")
    assert "notice" not in " ".join(clause_text(found))
