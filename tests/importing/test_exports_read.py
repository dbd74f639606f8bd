"""What sheets of clocks, stores and ledgers say: times, days, amounts, totals, rows unnumbered."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.worksheet import Worksheet

from quoter.importing.actuals import import_actuals
from quoter.importing.booked_amounts import time_told
from tests.importing.exported import HEADS, imported, sent, table, told, yard
from tests.importing.sheets import as_text, workbook

PLAIN = ("Day", "Job", "Station", "Paid")


def sheet() -> tuple[Workbook, Worksheet]:
    book = Workbook()
    found = book.active
    assert isinstance(found, Worksheet)
    return book, found


@given(st.integers(0, 999), st.integers(0, 59), st.integers(0, 59))
def test_a_time_of_a_clock_is_kept_exactly(hours: int, minutes: int, seconds: int) -> None:
    """Sixty minutes and 3,600 seconds are an hour: ISO 8601."""
    number, unit = time_told(f"{hours}:{minutes:02d}:{seconds:02d}").split()
    parts = {"h": 1, "min": 60, "s": 3600}
    wanted = hours + Fraction(minutes, 60) + Fraction(seconds, 3600)
    assert Fraction(number) / parts[unit] == wanted


def test_a_workbook_with_two_rows_of_headings_times_and_serial_days(tmp_path: Path) -> None:
    """A day's serial number is 39448 for 1 January 2008 by the help of Microsoft Excel on DATE."""
    exports = """\
    exports:
      - id: clock
        of: hours
        headings: {date: Day, job: Job, station: Work Station, hours: Work Paid}
        bare: {hours: h}
    """
    catalogue = yard(tmp_path / "yard", exports)
    path = catalogue / "actuals/jobs.csv"
    path.write_text(path.read_text().replace("2026-08-03", "2007-12-31"))
    book, rows = sheet()
    rows.append(["Clock of the yard"])
    rows.append([None, None, "Work", None])
    rows.append(["Day", "Job", "Station", "Paid"])
    rows.merge_cells("C2:D2")
    rows.append([39448, "2026-0007", "laminating", time(3, 30)])
    rows.append([datetime(2026, 8, 5, 7, 12), "2026-0007", "laminating", timedelta(hours=7.75)])
    rows.append([date(2026, 8, 6), "2026-0007", "laminating", 2.5])
    rows.append([])
    rows.append([None, "Total", None, timedelta(hours=13.75)])
    book.save(tmp_path / "clock.xlsx")
    made = imported(catalogue, tmp_path / "clock.xlsx", "clock")
    assert [(row["date"], row["hours"]) for row in table(catalogue, "hours")] == [
        ("2008-01-01", "3.5 h"),
        ("2026-08-05", "7.75 h"),
        ("2026-08-06", "2.5 h"),
    ]
    assert made.data["passed_over"] == [{"row": 8, "why": "a total"}]
    assert made.data["remarks"] == []


def test_a_workbook_that_counts_days_from_1904_is_read_so(tmp_path: Path) -> None:
    """The same day has a serial number less by 1,462: ECMA-376 Part 1, 18.17.4.1."""
    catalogue = yard(tmp_path / "yard")
    book, rows = sheet()
    book.epoch = CALENDAR_MAC_1904
    rows.append(PLAIN)
    rows.append([46239 - 1462, "2026-0007", "laminating", 1])
    book.save(tmp_path / "c.xlsx")
    imported(catalogue, tmp_path / "c.xlsx", "plain")
    assert table(catalogue, "hours")[0]["date"] == "2026-08-05"


def test_a_workbooks_faults_name_sheet_and_cell(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = [
        PLAIN,
        ("2026-08-05", "2026-0007", "laminating", datetime(2026, 8, 5)),
        ("2026-08-05", "2026-0099", "laminating", 3),
        ("2026-08-05", "2026-0007", "laminatin", "three"),
    ]
    file = workbook(tmp_path / "c.xlsx", rows, "Week 32")
    made = import_actuals(catalogue, file, "plain")
    assert told(made) == [
        f"{file}, 'Week 32'!D2: '2026-08-05' is a date where hours belong [unreadable-cell]",
        f"{file}, 'Week 32'!B3: unknown job '2026-0099' [unknown-id]",
        f"{file}, 'Week 32'!C4: unknown station 'laminatin' [unknown-code]",
        f"{file}, 'Week 32'!D4: 'three' is no number [not-a-number]",
    ]


def test_hidden_rows_are_left_out_and_named(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    book, rows = sheet()
    for row in (PLAIN, *(("2026-08-05", "2026-0007", "laminating", n) for n in (1, 2))):
        rows.append([*row])
    rows.row_dimensions[2].hidden = True
    book.save(tmp_path / "c.xlsx")
    made = imported(catalogue, tmp_path / "c.xlsx", "plain")
    assert "Hidden, and left out: row 2." in made.shown
    assert len(table(catalogue, "hours")) == 1


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("2026-08-05", "2026-08-05"),
        ("05/08/2026", "2026-08-05"),
        ("5.8.26", "2026-08-05"),
        ("5-8-2026 06:58", "2026-08-05"),
        ("2026-08-05T06:58:01+02:00", "2026-08-05"),
        ("5 August 2026", "2026-08-05"),
        ("20260805", "2026-08-05"),
    ],
)
def test_days_are_read_in_the_order_that_is_said(tmp_path: Path, written: str, says: str) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(
        catalogue,
        as_text(tmp_path / "p.csv", [PLAIN, (written, "2026-0007", "cutting", 1)], ","),
        "plain",
    )
    assert table(catalogue, "hours")[0]["date"] == says


def test_a_day_of_two_readings_asks_for_the_order(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    made = import_actuals(
        catalogue, sent(tmp_path, f"{HEADS}A;05/08/2026;2026-0007;LAM;1;;;\n"), "clock"
    )
    (fault,) = made.faults
    assert (fault.code, fault.hint) == (
        "not-a-date",
        "say 'days: day month' or 'days: month day' at yard.yaml:32:5, whichever is meant",
    )


HOURS = [("5.8.2026", "2026-0007", "cutting", "2"), ("5.8.2026", "2026-0007", "cutting", "2")]


def test_rows_without_numbers_get_their_own_and_are_known_in_any_file(tmp_path: Path) -> None:
    """Two rows alike are two; a later file that holds them among others finds both."""
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, as_text(tmp_path / "a.csv", [PLAIN, *HOURS], ","), "plain")
    first = [row["reference"] for row in table(catalogue, "hours")]
    assert len({*first}) == 2
    assert all(each.startswith("plain-2026-08-05-") for each in first)
    later = [PLAIN, (date(2026, 8, 4), "2026-0007", "cutting", 1.0)]
    later += [(date(2026, 8, 5), "2026-0007", "cutting", 2.0) for _ in HOURS]
    made = imported(catalogue, workbook(tmp_path / "b.xlsx", later), "plain")
    assert (made.data["new"], made.data["known"]) == (1, 2)
    # A third one alike, in a file of that day alone, is new.
    third = as_text(tmp_path / "c.csv", [PLAIN, *HOURS, HOURS[0]], ";")
    made = imported(catalogue, third, "plain", skip=["2"])
    assert (made.data["new"], made.data["known"]) == (0, 2)
    made = imported(catalogue, third, "plain")
    assert (made.data["new"], made.data["known"]) == (1, 2)


def test_totals_are_known_by_their_words_their_place_or_their_sum(tmp_path: Path) -> None:
    """A row without a day that names a job is a total only where its number is the sum."""
    catalogue = yard(tmp_path / "yard")
    rows = [
        PLAIN,
        ("5.8.2026", "2026-0007", "cutting", "2"),
        ("5.8.2026", "2026-0007", "laminating", "3.25"),
        ("", "2026-0007", "", "5.25"),
        ("6.8.2026", "2026-0008", "laminating", "1"),
        ("", "Sous-total 2026-0008", "", "1"),
        ("", "", "", "6.25"),
    ]
    made = imported(catalogue, as_text(tmp_path / "a.csv", rows, ","), "plain")
    assert [each["row"] for each in made.data["passed_over"]] == [4, 6, 7]
    assert (len(table(catalogue, "hours")), made.data["remarks"]) == (3, [])


def test_a_row_that_lacks_its_day_is_no_total_where_its_number_is_no_sum(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = [PLAIN, ("5.8.2026", "2026-0007", "cutting", "2"), ("", "2026-0007", "cutting", "3")]
    file = as_text(tmp_path / "a.csv", rows, ",")
    assert told(import_actuals(catalogue, file, "plain")) == [
        f"{file}:3:1: date has no value [no-value]"
    ]


def test_a_total_that_does_not_agree_is_worth_a_look(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = [PLAIN, ("5.8.2026", "2026-0007", "cutting", "2"), ("Total", "", "", "12:30")]
    made = imported(catalogue, as_text(tmp_path / "a.csv", rows, ","), "plain")
    assert made.shown[-1] == (
        "Row 3 says 12.5 h in all, and the rows above it come to 2 h: look whether one is missing."
    )


STORE = """\
No,Date,Move,Job,Article,Qty,UoM,Price,Per
S-1,2026-08-05,Entnahme,2026-0007,70011,"1,250.5",,4.31,
S-2,2026-08-05,Rückgabe,2026-0007,70011,-22,lbs,"4.31 EUR/kg",
S-3,2026-08-06,issue,2026-0007,hinge,4 Stk.,,,
S-4,2026-08-06,issue,2026-0007,screws,3,Fl,12 EUR,pack
S-5,2026-08-06,issue,2026-0007,resin_lam,2 dt,,,
"""


def test_a_stores_quantities_and_prices_have_the_units_that_they_say(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, sent(tmp_path, STORE), "store")
    wanted = [
        ("issue", "resin_lam", "1250.5 kg", "4.31 EUR/kg"),
        ("return", "resin_lam", "22 lb", "4.31 EUR/kg"),
        ("issue", "hinge", "4 each", None),
        ("issue", "screws", "3 each", "12 EUR/pack"),
        ("issue", "resin_lam", "200 kg", None),
    ]
    found = table(catalogue, "issues")
    assert [(r["kind"], r["material"], r["quantity"], r.get("price")) for r in found] == wanted


def test_where_nothing_tells_issues_from_returns_the_sign_does(tmp_path: Path) -> None:
    exports = """\
    exports:
      - id: store
        of: issues
        headings: {reference: No, date: Date, job: Job, material: Article, quantity: Qty}
    """
    catalogue = yard(tmp_path / "yard", exports)
    rows = "No,Date,Job,Article,Qty\n1,2026-08-05,2026-0007,hinge,4 pcs\n"
    rows += "2,2026-08-06,2026-0007,hinge,-1 pc\n"
    imported(catalogue, sent(tmp_path, rows), "store")
    found = [(row["kind"], row["quantity"]) for row in table(catalogue, "issues")]
    assert found == [("issue", "4 pcs"), ("return", "1 each")]


def test_what_a_store_leaves_open_is_told(tmp_path: Path) -> None:
    exports = """\
    exports:
      - id: store
        of: issues
        headings: {reference: No, date: Date, kind: Move, job: Job, material: Article,
                   quantity: Qty, unit: UoM, price: Price}
    """
    catalogue = yard(tmp_path / "yard", exports)
    rows = """\
No,Date,Move,Job,Article,Qty,UoM,Price
1,2026-08-05,issue,2026-0007,hinge,4,,
2,2026-08-05,issue,2026-0007,hinge,-4,pcs,
3,2026-08-05,issue,2026-0007,hinge,4 pcs,kg,
4,2026-08-05,swap,2026-0007,hinge,4 pcs,,
5,2026-08-05,issue,2026-0007,hinge,4,gross,
6,2026-08-05,issue,2026-0007,hinge,4,pcs,3.20
7,2026-08-05,issue,2026-0007,hinge,4,pcs,3.20 XX/pc
"""
    file = sent(tmp_path, rows)
    assert told(import_actuals(catalogue, file, "store")) == [
        f"{file}:2:36: a number without a unit [no-unit]",
        f"{file}:3:36: '-4 pcs' is below nothing, and the row is an issue [out-of-range]",
        f"{file}:4:36: the quantity is in pcs, and {file}:4:42 says kg [differs]",
        f"{file}:5:14: unknown kind 'swap' [unknown-code]",
        f"{file}:6:38: unknown unit 'gross' [unknown-unit]",
        f"{file}:7:42: a number without a unit [no-unit]",
        f"{file}:8:42: '3.20 XX' is no number [not-a-number]",
    ]


def test_more_brought_back_than_was_drawn_is_told_at_the_row(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = STORE + "S-6,2026-08-07,return,2026-0007,hinge,5,pcs,,\n"
    file = sent(tmp_path, rows)
    (fault,) = told(import_actuals(catalogue, file, "store"))
    assert fault.startswith(f"{file}:7:")
    assert "hinge" in fault


def test_a_ledgers_money_is_in_its_suppliers_currency_unless_it_says(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = """\
Invoice,Date,Vendor,Article,Qty,Price,Carriage,Rate
IN-1/1,2026-10-05,V1,resin_lam,200,4.22,86,1
IN-2/1,2026-10-06,V2,resin_inj,440 lbs,2.14 USD/lb,$120,1.08
"""
    imported(catalogue, sent(tmp_path, rows), "ledger")
    assert table(catalogue, "purchases") == [
        {
            **{"reference": "IN-1/1", "date": "2026-10-05", "supplier": "fjordglas"},
            **{"material": "resin_lam", "quantity": "200 kg", "price": "4.22 EUR/kg"},
            "freight": "86 EUR",
        },
        {
            **{"reference": "IN-2/1", "date": "2026-10-06", "supplier": "westpoly"},
            **{"material": "resin_inj", "quantity": "440 lb", "price": "2.14 USD/lb"},
            **{"freight": "120 USD", "rate": "1.08 USD/EUR"},
        },
    ]


def test_money_in_a_currency_that_the_supplier_does_not_sell_in_is_told(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = """\
Invoice,Date,Vendor,Article,Qty,Price,Carriage,Rate
IN-1/1,2026-10-05,V1,resin_lam,200,4.22 USD,,
IN-1/2,2026-10-05,V1,resin_lam,200,£4.22,,
"""
    file = sent(tmp_path, rows)
    found = told(import_actuals(catalogue, file, "ledger"))
    assert found == [
        f"{file}:2:36: the price is in USD [wrong-currency]",
        f"{file}:3:36: '£4.22' is in '£' [wrong-currency]",
    ]


def test_overhead_is_by_month_and_its_numbers_may_be_shared(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    sent_rows = [
        ("Doc", "Period", "Centre", "Account", "Amount"),
        ("L-1", "08/2026", "laminating", 6100, 5240),
        ("L-1", "Aug 2026", "assembly", 6100, "1,760.50 EUR"),
        ("L-2", date(2026, 8, 31), "assembly", 6200, 11000),
    ]
    imported(catalogue, workbook(tmp_path / "l.xlsx", sent_rows), "spent")
    found = [
        (r["reference"], r["month"], r["kind"], r["spent"]) for r in table(catalogue, "overhead")
    ]
    assert found == [
        ("L-1", "2026-08", "variable", "5240 EUR"),
        ("L-1", "2026-08", "variable", "1760.5 EUR"),
        ("L-2", "2026-08", "fixed", "11000 EUR"),
    ]
    assert import_actuals(catalogue, tmp_path / "l.xlsx", "spent").data["known"] == 3


def test_pieces_and_jobs_come_in_too(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, sent(tmp_path, "No,Date,Part,OK,Scrap\nP-1,2026-08-06,F-1,2,0\n"), "pieces")
    assert table(catalogue, "pulls") == [
        {"reference": "P-1", "date": "2026-08-06", "part": "frame", "good": "2", "scrapped": "0"}
    ]
    rows = "Order,Boat,Built with,Begun,Finished,Done\n"
    rows += "2026-0009,T26,HA; BH,2026-09-01,,2026-09-30\n"
    imported(catalogue, sent(tmp_path, rows), "orders")
    assert table(catalogue, "jobs")[-1] == {
        **{"job": "2026-0009", "model": "tarn_26", "options": "hatch; blue_hull"},
        **{"started": "2026-09-01", "finished": "2026-09-30"},
    }
    # The same job with another day of its end is the same row, corrected.
    later = sent(tmp_path, rows.replace("2026-09-30", "2026-10-02"))
    assert [fault.code for fault in import_actuals(catalogue, later, "orders").faults] == [
        "already-listed"
    ]


def test_a_file_that_repeats_its_headings_on_every_page_is_read(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = [PLAIN, HOURS[0], PLAIN, ("6.8.2026", "2026-0007", "cutting", "2")]
    made = imported(catalogue, as_text(tmp_path / "a.csv", rows, "\t"), "plain")
    assert made.data["new"] == 2
