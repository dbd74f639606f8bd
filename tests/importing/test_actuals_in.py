"""Exports of clock, store and ledger become rows of what was booked, or nothing does."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.importing.actuals import import_actuals
from quoter.problems import CatalogueError
from tests.importing.exported import HEADS, imported, sent, table, told, yard
from tests.importing.sheets import bytes_in, quoter

CLOCK = """\
Orvesund clock;;;;;;;
Nr.;Datum;Scan;Platz;Std.;Lohngruppe;Nacharbeit;Bemerkung
;;;Übertrag;7;;;
Woche 32;;;;;;;
H-1;05.08.2026 07:12;job=2026-0007;LAM;3:30;L3;;
H-2;5.8.2026;2026-0007;4711;7,5;fitter;ja;"Kante ""neu"" "
H-3;06.08.2026;job=2026-0007;laminating;0:20;L3;x;
H-3;06.08.2026;job=2026-0007;laminating;0:20;L3;x;

Summe;;;;11,33;;;
"""
BOOKED = [
    {
        "reference": "H-1",
        "date": "2026-08-05",
        "job": "2026-0007",
        "station": "laminating",
        "hours": "3.5 h",
        "group": "laminator",
        "rework": "no",
    },
    {
        "reference": "H-2",
        "date": "2026-08-05",
        "job": "2026-0007",
        "station": "assembly",
        "hours": "7.5 h",
        "group": "fitter",
        "rework": "yes",
        "note": 'Kante "neu"',
    },
    {
        "reference": "H-3",
        "date": "2026-08-06",
        "job": "2026-0007",
        "station": "laminating",
        "hours": "20 min",
        "group": "laminator",
        "rework": "yes",
    },
]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_clocks_file_is_read_as_it_comes(tmp_path: Path, encoding: str) -> None:
    """Words above the headings, carried over, a title, a double, a blank row and a total."""
    catalogue = yard(tmp_path / "yard")
    made = imported(catalogue, sent(tmp_path, CLOCK, encoding=encoding), "clock")
    assert table(catalogue, "hours") == BOOKED
    assert made.shown == [
        "month    rows  new",
        "2026-08     3    3",
        "Passed over, 'Übertrag': row 3.",
        "Passed over, a title: row 4.",
        "Passed over, the same as a row above: row 8.",
        "Passed over, a total: row 10.",
    ]
    assert made.done == f"3 rows added to {catalogue}/actuals/hours.csv"
    load_catalogue(catalogue)


def test_line_ends_of_a_file_make_no_difference(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, sent(tmp_path, CLOCK.replace("\n", "\r\n")), "clock")
    assert table(catalogue, "hours") == BOOKED


def test_rows_that_stand_already_are_passed_over_and_counted(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, CLOCK)
    imported(catalogue, file, "clock")
    before = bytes_in(catalogue)
    more = CLOCK.replace("Summe", "H-4;07.08.2026;2026-0008;LAM;0,5 Std;L3;;\nSumme")
    again = import_actuals(catalogue, file, "clock")
    assert (again.files, again.data["known"], again.data["new"]) == ({}, 3, 0)
    made = imported(catalogue, sent(tmp_path, more.replace("11,33", "11,83")), "clock")
    assert (made.data["known"], made.data["new"], made.data["remarks"]) == (3, 1, [])
    name = "actuals/hours.csv"
    assert bytes_in(catalogue)[name].startswith(before[name])
    assert table(catalogue, "hours")[-1]["hours"] == "0.5 h"


@pytest.mark.parametrize("written", ["210 min", "3.50 h", "3 h 30 min"])
def test_a_row_that_says_the_same_in_other_units_is_the_same(tmp_path: Path, written: str) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, CLOCK)
    imported(catalogue, file, "clock")
    path = catalogue / "actuals/hours.csv"
    path.write_text(path.read_text().replace("3.5 h", written))
    assert import_actuals(catalogue, file, "clock").data["known"] == 3


def test_a_row_that_says_something_else_is_refused_or_by_consent_corrected(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, sent(tmp_path, CLOCK), "clock")
    other = sent(tmp_path, CLOCK.replace("7,5;fitter", "6,5;L3").replace("11,33", "10,33"))
    refused = import_actuals(catalogue, other, "clock")
    assert refused.files == {}
    assert [str(fault) for fault in refused.faults] == [
        f"{other}:6:29: 'H-2' stands already with hours '7.5 h', group 'fitter', and would have "
        "'6.5 h', 'laminator' [already-listed]\n"
        '    H-2;5.8.2026;2026-0007;4711;6,5;L3;ja;"Kante ""neu"" "\n'
        f"    {'':28}^\n"
        "    look at actuals/hours.csv:3; --corrected replaces what stands, and notes it, "
        "--skip H-2 leaves it"
    ]
    made = imported(catalogue, other, "clock", corrected=True)
    assert made.done == f"1 row corrected in {catalogue}/actuals/hours.csv"
    row = table(catalogue, "hours")[1]
    note = 'Kante "neu"; corrects hours 7.5 h, group fitter'
    assert row == BOOKED[1] | {"hours": "6.5 h", "group": "laminator", "note": note}
    # What was corrected stands now, and is known.
    again = import_actuals(catalogue, other, "clock", corrected=True)
    assert (again.files, again.data["known"]) == ({}, 3)


def test_a_correction_keeps_every_other_byte_and_cells_that_no_export_speaks_of(
    tmp_path: Path,
) -> None:
    catalogue = yard(tmp_path / "yard")
    path = catalogue / "actuals/hours.csv"
    kept = '"H-0",2026-08-04,"2026-0007" ,laminating,2 h,"by, hand"\r\n'
    head = "reference,date,job,station,hours,note,wage,group,rework\r\n"
    row = "H-1,2026-08-05,2026-0007,laminating,3 h,,26 EUR/h,laminator,no\r\n"
    path.write_bytes((head + kept.replace("\r", ',,"",\r') + row).encode())
    file = sent(tmp_path, f"{HEADS}H-1;05.08.2026;2026-0007;LAM;3:30;L3;;\n")
    imported(catalogue, file, "clock", corrected=True)
    first, second, third, last = path.read_bytes().decode().split("\r\n")
    assert (first + "\r\n", second + "\r\n", last) == (head, kept.replace("\r", ',,"",\r'), "")
    wanted = "H-1,2026-08-05,2026-0007,laminating,3.5 h,corrects hours 3 h,26 EUR/h,laminator,no"
    assert third == wanted


def test_two_rows_of_one_number_that_differ_are_told_and_both_can_be_left_out(
    tmp_path: Path,
) -> None:
    catalogue = yard(tmp_path / "yard")
    file = sent(tmp_path, CLOCK.replace("H-3;06.08.2026", "H-1;06.08.2026", 1))
    made = import_actuals(catalogue, file, "clock")
    assert told(made) == [
        f"{file}:7:1: a second row of 'H-1', which says something else [written-twice]"
    ]
    assert made.faults[0].hint == (
        "row 5 has it already: keep one of them; --skip H-1 leaves both out"
    )
    made = imported(catalogue, file, "clock", skip=["H-1"])
    assert "Skipped: H-1 (row 7)." in made.shown
    assert [row["reference"] for row in table(catalogue, "hours")] == ["H-2", "H-3"]


def test_every_fault_is_told_at_once_at_the_files_own_places(tmp_path: Path) -> None:
    """What the tables' own rules find is told there too, and a row with a fault once."""
    catalogue = yard(tmp_path / "yard")
    rows = """\
H-1;05.08.2026;2026-0077;LAM;3:30;L3;;
H-2;05.08.2026;job=2026-0007;LAMI;3:30;L3;;
H-3;05.08.2026;job=2026-0007;LAM;25;L3;;
H-4;31.09.2026;job=2026-0007;LAM;3.5;L3;;
;05.08.2026;job=2026-0007;LAM;2;L3;;
H-6;05.08.2026;job:2026-0007=;LAM;2;L3;vielleicht;
H-7;05.07.2026;2026-0007;LAM;2;L3;;=cmd
H-8;05.08.2026;2026-0007;LAM;2 kg;L3;;
H-9;05.08.2026;2026-0007;LAM;;L3;;
"""
    before = bytes_in(catalogue)
    file = sent(tmp_path, HEADS + rows)
    result = quoter("import-actuals", catalogue, file, "--export", "clock")
    assert result.exit_code == 1
    assert [line for line in result.stderr.splitlines() if line.startswith(str(file))] == [
        f"{file}:2:16: unknown job '2026-0077' [unknown-id]",
        f"{file}:3:30: unknown station 'LAMI' [unknown-code]",
        f"{file}:4:34: 25 h are more than a day has [hours-of-a-day]",
        f"{file}:5:5: '31.09.2026' is no day that can be read in one way [not-a-date]",
        f"{file}:5:34: '3.5' has a point for its decimals [not-a-number]",
        f"{file}:6:1: a row without its reference [no-value]",
        f"{file}:7:16: 'job:2026-0007=' is no code of shop papers [unreadable-cell]",
        f"{file}:7:40: unknown rework 'vielleicht' [unknown-code]",
        f"{file}:8:1: 2026-07-05 is before job '2026-0007' was started on 2026-08-03 [outside-job]",
        f"{file}:9:30: '2 kg' is no time [wrong-unit]",
        f"{file}:10:30: hours has no value [no-value]",
    ]
    assert result.stderr.endswith("11 problems; nothing was written\n")
    assert bytes_in(catalogue) == before


def test_what_holds_of_many_rows_is_told_once(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    rows = "".join(f"H-{n};05.08.2026;2026-0007;LAX;1;L3;;\n" for n in range(9))
    made = import_actuals(catalogue, sent(tmp_path, HEADS + rows), "clock")
    assert len(made.faults) == 1
    assert made.faults[0].hint == (
        "did you mean 'LAM'? (new words go to 'codes' of the export at yard.yaml:32:5) "
        "(also on lines 3, 4, 5, 6 and 4 more)"
    )


def test_a_code_of_a_station_agrees_with_the_clocks_own_word_for_it(tmp_path: Path) -> None:
    """The place where it was scanned may be called otherwise, or stand in no column."""
    catalogue = yard(tmp_path / "yard")
    rows = (
        f"{HEADS}"
        'H-1;05.08.2026;"job=2026-0007;station=laminating";LAM;2;;;\n'
        'H-2;05.08.2026;"job=2026-0007;station=laminating";;2;;;\n'
        'H-3;05.08.2026;"job=2026-0007;station=laminating";4711;2;;;\n'
    )
    file = sent(tmp_path, rows)
    made = import_actuals(catalogue, file, "clock")
    assert told(made) == [
        f"{file}:4:16: the code says station 'laminating', its own column '4711' [differs]"
    ]
    imported(catalogue, file, "clock", skip=["H-3"])
    assert [row["station"] for row in table(catalogue, "hours")] == ["laminating", "laminating"]


def test_a_code_and_a_column_beside_it_say_the_same(tmp_path: Path) -> None:
    exports = """\
    exports:
      - id: clock
        of: hours
        headings: {reference: No, date: Date, code: Scan, part: Part, hours: Paid}
        bare: {hours: h}
    """
    catalogue = yard(tmp_path / "yard", exports)
    rows = (
        "No,Date,Scan,Part,Paid\n"
        "1,2026-08-05,job=2026-0007;part=frame;operation=1,frame,2\n"
        "2,2026-08-05,job=2026-0007;part=frame;operation=1,lid,2\n"
        "3,2026-08-05,job=2026-0007;part=frame;operation=1,,2\n"
    )
    file = sent(tmp_path, rows)
    made = import_actuals(catalogue, file, "clock")
    assert told(made) == [
        f"{file}:3:14: the code says part 'frame', its own column 'lid' [differs]"
    ]
    imported(catalogue, file, "clock", skip=["2"])
    assert [
        {name: row.get(name) for name in ("job", "part", "operation")}
        for row in table(catalogue, "hours")
    ] == [
        {"job": "2026-0007", "part": "frame", "operation": "1"},
        {"job": "2026-0007", "part": "frame", "operation": "1"},
    ]


def test_a_text_that_a_spreadsheet_would_take_for_a_formula_is_none_in_the_table(
    tmp_path: Path,
) -> None:
    catalogue = yard(tmp_path / "yard")
    imported(catalogue, sent(tmp_path, f"{HEADS}A;5.8.2026;2026-0007;LAM;1;L3;;=1+1\n"), "clock")
    assert table(catalogue, "hours")[0]["note"] == "'=1+1"
    file = sent(tmp_path, f"{HEADS}@A;5.8.2026;2026-0007;LAM;1;L3;;\n")
    assert told(import_actuals(catalogue, file, "clock")) == [
        f"{file}:2:1: '@A' begins as a formula does [unreadable-cell]"
    ]


def test_a_yard_without_exports_says_what_to_add(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard", "")
    with pytest.raises(CatalogueError) as error:
        import_actuals(catalogue, sent(tmp_path, CLOCK), "clock")
    assert str(error.value).startswith(
        "yard.yaml:1:1: the yard has no exports, which say how its clock, store and ledger are "
        "read [not-set-up]\n    add for example 'exports: ["
    )


def test_the_command_says_its_day_first_and_what_it_does(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, CLOCK)
    words = ("import-actuals", catalogue, file, "--export", "clock")
    dry = quoter(*words, "--dry-run")
    assert (dry.exit_code, dry.stderr) == (0, "a dry run: nothing was written\n")
    assert dry.stdout.splitlines()[:2] == ["Prices of 2026-11-01", "month    rows  new"]
    assert not (catalogue / "actuals/hours.csv").exists()
    wet = quoter(*words)
    assert wet.stderr == f"3 rows added to {catalogue}/actuals/hours.csv\n"
    assert quoter(*words).stderr == "no new rows: nothing was written\n"
    unknown = quoter(*words[:-1], "clok")
    assert unknown.exit_code == 2
    assert "unknown export 'clok': did you mean 'clock'?" in unknown.stderr
    skipped = quoter(*words, "--skip", "H-9")
    assert skipped.stderr.startswith("--skip: the file has no row 'H-9' [unknown-code]\n")


def test_as_data_it_says_the_same(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, CLOCK)
    result = quoter("import-actuals", catalogue, file, "--export", "clock", "--json")
    assert json.loads(result.stdout) == {
        "export": "clock",
        "file": str(file),
        "table": "actuals/hours.csv",
        "rows": 3,
        "new": 3,
        "known": 0,
        "corrected": 0,
        "months": [{"month": "2026-08", "new": 3, "known": 0, "corrected": 0}],
        "passed_over": [
            {"row": 3, "why": "'Übertrag'"},
            {"row": 4, "why": "a title"},
            {"row": 8, "why": "the same as row 7"},
            {"row": 10, "why": "a total"},
        ],
        "skipped": [],
        "remarks": [],
        "warnings": [],
        "written": True,
    }
    assert result.stderr.splitlines()[0] == "Prices of 2026-11-01"


def test_rows_after_the_catalogues_day_are_told(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    file = sent(tmp_path, f"{HEADS}A;5.11.2026;2026-0008;LAM;1;L3;;\n")
    assert import_actuals(catalogue, file, "clock").shown[-1] == (
        "1 new row is of a day after 2026-11-01, the catalogue's day: compared once it has come "
        "to that."
    )


def test_a_fault_of_what_stands_is_told_where_it_stands(tmp_path: Path) -> None:
    catalogue = yard(tmp_path / "yard")
    head = "reference,date,job,station,hours,group,rework,note"
    (catalogue / "actuals/hours.csv").write_text(
        f"{head}\nOLD,2026-08-05,2026-0009,laminating,2 h,,,\n"
    )
    made = import_actuals(catalogue, sent(tmp_path, CLOCK), "clock")
    assert told(made) == [
        f"{catalogue}/actuals/hours.csv:2:16: unknown job '2026-0009' [unknown-id]"
    ]
