"""What a boat was sold for comes from its quote's frozen record, and from no changed one."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.booked import JobRow
from quoter.catalogue.source import Text
from quoter.figures import Figure, money_in
from quoter.problems import Place
from quoter.quotes import QuoteError
from quoter.quotes.booked import quoted_jobs, quoted_of
from quoter.quotes.kept.store import settle
from tests.quotes.made import ISSUED, item, made, put, put_revision

WHOLE = "Quote {0} keeps its cost as a whole: elements are held against standard alone"


def job(number: str, quote: str | None) -> JobRow:
    place = Place("actuals/jobs.csv", 2, 30, "quote")
    text = None if quote is None else Text.at(quote, place, "quote")
    row = JobRow.model_construct(
        job=number, model="punt", options=None, boats=None, quote=text, started=ISSUED,
        finished=None, note=None,
    )  # fmt: skip
    return row


def euros(number: Figure) -> int:
    amount = money_in(number, "EUR")
    assert amount == int(amount)
    return int(amount)


@pytest.fixture
def quotes(tmp_path: Path) -> Path:
    """A quote that is won in its revision, and another that nobody decided."""
    folder = tmp_path / "quotes"
    put(folder)
    put_revision(folder, "2026-0001", options=[item("oars", 500, 200)])
    put(folder)
    settle(folder, "2026-0001", "won", date(2026, 11, 20))
    return folder


def test_price_cost_and_margin_are_those_of_the_record_in_home_currency() -> None:
    found = quoted_of(made(net=99, currency="GBP", options=[item("oars", 500, 200, 2)]))
    assert euros(found.price) == 9000
    assert euros(found.cost) == 6400
    assert found.margin is not None
    assert euros(found.margin) == 2150  # 9000 less 5 % less 6400, by hand
    assert (found.name, found.by, found.elements) == ("2026-0001", "Ilsabet Harrow", {})
    assert found.doubts == (WHOLE.format("2026-0001"),)


def test_a_figure_of_a_quote_knows_where_it_stands() -> None:
    origin = quoted_of(made(revision=2)).price.origin
    assert origin is not None
    assert origin.place == Place("2026-0001-R2/record.json", key="inside.net")


def test_each_job_finds_its_quote_by_number_and_revision(quotes: Path) -> None:
    jobs = [job("A", "2026-0001-R1"), job("B", "2026-0001-R0"), job("C", None)]
    found, problems = quoted_jobs(quotes, jobs)
    assert {number: euros(each.price) for number, each in found.items()} == {
        "A": 8500,
        "B": 8000,
    }
    assert problems == ()
    assert found["A"].doubts == (WHOLE.format("2026-0001-R1"),)
    stands = "Quote 2026-0001 was changed: 2026-0001-R1 is the order that stands"
    assert found["B"].doubts == (WHOLE.format("2026-0001"), stands)


def test_a_quote_that_is_not_won_is_a_doubt(quotes: Path) -> None:
    found, _ = quoted_jobs(quotes, [job("A", "2026-0002")])
    assert "Quote 2026-0002 is not won" in found["A"].doubts


def test_lines_of_a_quotes_own_are_a_doubt() -> None:
    own = item("line.1", 900, 700).model_copy(update={"own": True, "name": "Berth in the shed"})
    (_, doubt) = quoted_of(made(options=[own])).doubts
    assert "lines of its own" in doubt
    assert "'Berth in the shed'" in doubt


def test_what_is_wrong_is_told_of_every_job_at_its_own_line(quotes: Path) -> None:
    path = quotes / "2026-0002" / "record.json"
    path.write_text(json.dumps(json.loads(path.read_bytes()) | {"total": "1"}), encoding="utf-8")
    jobs = [job("A", "2026-0001-R1"), job("B", "2026-0002"), job("C", "2026-0077")]
    found, problems = quoted_jobs(quotes, jobs)
    assert [*found] == ["A"]
    changed, missing = problems
    assert changed.place == Place("actuals/jobs.csv", 2, 30, "quote")
    assert "was changed after the quote was issued: 'total'" in changed.what
    assert "no quote '2026-0077'" in missing.what


def test_without_a_quote_no_folder_is_needed_and_else_it_is(tmp_path: Path) -> None:
    assert quoted_jobs(tmp_path / "none", [job("A", None)]) == ({}, ())
    with pytest.raises(QuoteError, match="there is no folder of quotes"):
        quoted_jobs(tmp_path / "none", [job("A", "2026-0001")])
