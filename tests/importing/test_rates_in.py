"""Exchange rates as a central bank publishes them become lines of the catalogue's table."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from quoter.catalogue.load import load_catalogue
from quoter.importing.rates import import_rates
from quoter.problems import CatalogueError
from tests.catalogue.broken import SOUND
from tests.catalogues.written import write_catalogue
from tests.importing.sheets import bytes_in, quoter, workbook

# The European Central Bank's euro foreign exchange reference rates of these days, as its file
# eurofxref-hist.csv has them (currencies left out, its comma at the end of lines kept). Nothing
# was published from Good Friday, 29 March 2024, to Easter Monday, 1 April.
PUBLISHED = """\
Date,USD,JPY,CYP,GBP,NOK,TRY,
2024-04-03,1.0783,163.66,N/A,0.85713,11.658,34.4418,
2024-04-02,1.0749,163.01,N/A,0.8551,11.708,34.6033,
2024-03-28,1.0811,163.45,N/A,0.8551,11.699,34.9487,
2024-03-27,1.0816,163.52,N/A,0.85768,11.6825,34.9005,
2024-03-26,1.0855,164.4,N/A,0.85846,11.626,34.9542,
"""
WIDE = "rate_file:\n  headings: {date: Date}\n  quoted: foreign per home\n"
LONG = "rate_file:\n  headings: {currency: Currency, rate: Rate}\n  quoted: foreign per home\n"
BRITISH = (
    "  - {id: uk, name: Britain, language: en, tax_name: VAT, tax: 20 %, prices: with tax,"
    " currency: GBP, rounding: {step: 10 GBP, direction: up}}\n"
)
RATES = {"exchange.csv": "date,currency,rate,note\n2024-03-01,USD,1.08 USD/EUR,\n"
         "2024-03-01,GBP,0.8546 GBP/EUR,\n"}  # fmt: skip


def yard(folder: Path, rate_file: str = WIDE, files: dict[str, str] | None = None) -> Path:
    """The sound catalogue with a market in pounds, and its file of rates described."""
    text = (SOUND / "yard.yaml").read_text("utf-8")
    lists = {"yard.yaml": text + BRITISH + rate_file, **RATES}
    return write_catalogue(folder, lists | (files or {}), base=SOUND)


def published(folder: Path, text: str = PUBLISHED) -> Path:
    (folder / "rates.csv").write_text(text, "utf-8")
    return folder / "rates.csv"


def test_the_published_rates_of_a_day_are_added(tmp_path: Path) -> None:
    """100 EUR were 85.51 GBP on 28 March 2024 by those rates."""
    catalogue = yard(tmp_path / "yard")
    before = bytes_in(catalogue)
    words = ("import-rates", catalogue, published(tmp_path), "--effective", "2024-03-28")
    result = quoter(*words)
    assert (result.exit_code, result.stderr) == (
        0,
        f"2 rates from 2024-03-28 on added to {catalogue / 'exchange.csv'}\n",
    )
    assert result.stdout == (
        "currency             old             new   change\n"
        "GBP       0.8546 GBP/EUR  0.8551 GBP/EUR  +0.06 %\n"
        "USD         1.08 USD/EUR  1.0811 USD/EUR  +0.10 %\n"
    )
    after = bytes_in(catalogue)
    assert after.pop("exchange.csv") == before.pop("exchange.csv") + (
        b'2024-03-28,GBP,0.8551 GBP/EUR,"imported from rates.csv, published 2024-03-28"\n'
        b'2024-03-28,USD,1.0811 USD/EUR,"imported from rates.csv, published 2024-03-28"\n'
    )
    assert after == before
    rates = load_catalogue(catalogue)[0].exchange
    assert 100 * rates["GBP"].rate.value == pytest.approx(85.51, abs=1e-12)
    again = quoter(*words)
    assert (again.exit_code, again.stderr) == (0, "nothing moved: nothing was written\n")


@pytest.mark.parametrize("day", ["2024-03-29", "2024-03-30", "2024-03-31", "2024-04-01"])
def test_on_a_holiday_the_newest_rates_before_it_are_taken_and_named(
    tmp_path: Path, day: str
) -> None:
    made = import_rates(yard(tmp_path / "yard"), published(tmp_path), date.fromisoformat(day))
    assert made.faults == []
    assert made.shown[-1] == f"None were published on {day}: these are of 2024-03-28."
    last = made.files["exchange.csv"].decode().splitlines()[-1]
    assert last == (f'{day},USD,1.0811 USD/EUR,"imported from rates.csv, published 2024-03-28"')


@pytest.mark.parametrize(
    ("day", "hint"),
    [
        ("2024-04-11", "the newest before it are of 2024-04-03: get a newer file"),
        ("2024-03-25", "all are of later days: get a newer file"),
    ],
)
def test_rates_more_than_a_week_old_are_refused(tmp_path: Path, day: str, hint: str) -> None:
    catalogue, file = yard(tmp_path / "yard"), published(tmp_path)
    assert import_rates(catalogue, file, date(2024, 4, 10)).faults == []
    (fault,) = import_rates(catalogue, file, date.fromisoformat(day)).faults
    assert (fault.place.line, fault.place.column) == (1, 1)
    assert fault.what == f"no rates of {day} or the 7 days before it"
    assert fault.hint == hint
    shown = quoter("import-rates", catalogue, file, "--effective", day)
    assert (shown.exit_code, shown.stdout) == (1, "")


def test_what_was_not_published_on_a_day_is_taken_from_a_day_before_and_named(
    tmp_path: Path,
) -> None:
    catalogue = yard(tmp_path / "yard")
    older = PUBLISHED.replace("28,1.0811,", "28,N/A,").replace("27,1.0816,", "27,,")
    made = import_rates(catalogue, published(tmp_path, older), date(2024, 3, 29))
    assert made.faults == []
    assert made.shown[-2:] == [
        "None were published on 2024-03-29: these are of 2024-03-28.",
        "USD has none of 2024-03-28: this is of 2024-03-26.",
    ]
    assert made.files["exchange.csv"].decode().splitlines()[-2:] == [
        '2024-03-29,GBP,0.8551 GBP/EUR,"imported from rates.csv, published 2024-03-28"',
        '2024-03-29,USD,1.0855 USD/EUR,"imported from rates.csv, published 2024-03-26"',
    ]


def test_a_rate_that_no_near_day_has_is_told_at_the_newest(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    none = PUBLISHED
    for rate in ("1.0811", "1.0816", "1.0855"):
        none = none.replace(f",{rate},", ",N/A,")
    made = import_rates(catalogue, published(tmp_path, none), date(2024, 3, 28))
    (fault,) = made.faults
    assert (fault.place.line, fault.place.column) == (4, 12)
    assert fault.what == "no rate of USD on 2024-03-28 or the 7 days before it"


def test_rates_after_the_newest_list_say_how_they_are_used(tmp_path: Path) -> None:
    """The sound catalogue's newest list is of 1 November 2026."""
    catalogue = yard(tmp_path / "yard", LONG)
    file = published(tmp_path, "Currency,Rate\nUSD,1.0811\nGBP,0.8551\n")
    at_the_list = import_rates(catalogue, file, date(2026, 11, 1)).done
    assert at_the_list == f"2 rates from 2026-11-01 on added to {catalogue / 'exchange.csv'}"
    assert import_rates(catalogue, file, date(2026, 11, 2)).done == (
        f"2 rates from 2026-11-02 on added to {catalogue / 'exchange.csv'}; build with "
        "--as-of 2026-11-02 to use them: the newest price list is of 2026-11-01"
    )
    (fault,) = import_rates(catalogue, file, date(2029, 11, 2)).faults
    assert fault.what.startswith("2029-11-02 is 1097 days after 2026-11-01")
    assert import_rates(catalogue, file, date(2029, 11, 2), accepted=True).faults == []


def test_a_workbook_with_days_and_home_money_per_foreign_is_turned_round(tmp_path: Path) -> None:
    """The reciprocal of 0.8551 is 1.169453865... (ten digits are kept)."""
    turned = WIDE.replace("foreign per home", "home per foreign")
    catalogue = yard(tmp_path / "yard", turned)
    rows: list[tuple[Any, ...]] = [
        ("Reference rates", None, None, None),
        ("Date", "CHF", "GBP", "USD"),
        (datetime(2024, 3, 28), "#N/A", 1.169453865, "0.92498"),
        (datetime(2024, 3, 27), 1.0193, 1.165932, 0.92456),
    ]
    file = workbook(tmp_path / "r.xlsx", rows)
    made = import_rates(catalogue, file, date(2024, 3, 28))
    assert made.faults == []
    pounds, dollars = made.files["exchange.csv"].decode().splitlines()[-2:]
    assert pounds == (
        '2024-03-28,GBP,0.8551 GBP/EUR,"imported from r.xlsx, published 2024-03-28'
        ' as 1.169453865 EUR/GBP"'
    )
    assert dollars.startswith("2024-03-28,USD,1.081104456 USD/EUR,")


@pytest.mark.parametrize("day", ["2024-03-28", "28.03.2024", "28. 3. 2024", "28 March 2024"])
def test_a_file_of_a_line_for_each_currency_may_have_days(tmp_path: Path, day: str) -> None:
    described = LONG.replace("currency: Currency", "date: Tag, currency: Währung")
    catalogue = yard(tmp_path / "yard", described.replace("Rate}", "Kurs}") + "  decimal: comma\n")
    text = (
        f"Tag;Währung;Kurs\n{day};USD;1,0811\n{day};GBP;0,8551\n{day};JPY;\n"
        "27.03.2024;USD;1,0816\n27.03.2024;GBP;0,85768\n"
    )
    made = import_rates(catalogue, published(tmp_path, text), date(2024, 3, 28))
    assert made.faults == []
    assert "2024-03-28,USD,1.0811 USD/EUR," in made.files["exchange.csv"].decode()


def test_what_the_file_lacks_stays_and_what_the_yard_does_not_use_is_left_out(
    tmp_path: Path,
) -> None:
    text = "Currency,Rate\nUSD,1.0811\nJPY,x\n"
    made = import_rates(yard(tmp_path / "yard", LONG), published(tmp_path, text), date(2024, 3, 28))
    assert made.faults == []
    assert made.shown[-1] == "Not in the file, the old rate stays: GBP."
    assert made.files["exchange.csv"].decode().splitlines()[-1] == (
        "2024-03-28,USD,1.0811 USD/EUR,imported from rates.csv"
    )


FAULTY = """\
Currency,Rate
USD,"1,0811"
GBP,0
USD,1.08
GBP,0.86,per 1
"""
TOLD = """\
rates.csv:2:5: '1,0811' has a comma for its decimals [not-a-number]
    USD,"1,0811"
        ^
    write a point, or say 'decimal: comma' in the catalogue if all are like it
rates.csv:3:5: a rate of '0' [zero-amount]
    GBP,0
        ^
    a rate of GBP is more than nothing
rates.csv:4:1: a second rate of USD [written-twice]
    USD,1.08
    ^
    the first is at rates.csv:2:1: keep one of them
rates.csv:5:10: the line has 3 values for 2 headings [bad-csv]
    GBP,0.86,per 1
             ^
    put a value that holds the mark between the columns in double quotes
4 problems; nothing was written
"""


def test_every_fault_of_a_file_of_rates_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    catalogue = yard(Path("yard"), LONG)
    published(Path(), FAULTY)
    before = bytes_in(catalogue)
    result = quoter("import-rates", "yard", "rates.csv", "--effective", "2024-03-28")
    assert (result.exit_code, result.stderr) == (1, TOLD)
    assert bytes_in(catalogue) == before


def test_a_missing_rate_a_strange_day_and_a_jump_are_told_at_their_cells(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")

    def faults(old: str, new: str, day: str = "2024-03-28") -> list[tuple[str, str]]:
        file = published(tmp_path, PUBLISHED.replace(old, new))
        found = import_rates(catalogue, file, date.fromisoformat(day)).faults
        return [(f"{each.place.line}:{each.place.column}", each.what) for each in found]

    assert faults("2024-03-27", "03/27/2024") == [
        ("5:1", "'03/27/2024' is no day that can be read in one way")
    ]
    assert faults("28,1.0811", "28,1.2811") == [
        ("4:12", "USD would move from 1.08 USD/EUR by +18.6 %")
    ]
    assert faults("Date,USD,JPY,CYP,GBP", "Date,USA,JPY,CYP,GBB") == [
        ("1:1", "no rate of GBP or USD, which the yard uses")
    ]
    assert faults("nothing", "", "2024-03-01") == [
        ("1:1", "no rates of 2024-03-01 or the 7 days before it")
    ]


def test_a_rate_of_a_day_is_never_changed_and_a_jump_may_be_accepted(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    file = published(tmp_path, PUBLISHED.replace("2024-03-28,1.0811", "2024-03-28,1.2811"))
    words = ("import-rates", catalogue, file, "--effective", "2024-03-28")
    assert quoter(*words).exit_code == 1
    assert quoter(*words, "--accept", "--dry-run").exit_code == 0
    assert quoter(*words, "--accept").exit_code == 0
    held = bytes_in(catalogue)
    published(tmp_path)
    refused = quoter(*words, "--accept")
    assert refused.exit_code == 1
    assert "USD has a rate of 2024-03-28 already, 1.2811 USD/EUR [already-listed]" in refused.stderr
    assert "exchange.csv:5:1 stays as it is: name another day" in refused.stderr
    assert bytes_in(catalogue) == held


def test_a_yard_whose_file_of_rates_is_not_described_is_told(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match=r"^yard\.yaml:1:1: the yard has no rate_file"):
        import_rates(yard(tmp_path / "yard", ""), published(tmp_path), date(2024, 3, 28))


def test_a_workbook_without_any_row_is_empty(tmp_path: Path) -> None:
    Workbook().save(tmp_path / "e.xlsx")
    made = import_rates(yard(tmp_path / "yard"), tmp_path / "e.xlsx", date(2024, 3, 28))
    assert [fault.what for fault in made.faults] == ["the file is empty"]
