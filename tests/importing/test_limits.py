"""What is sent has limits, each told when it is met; what is within them reads as before."""

from __future__ import annotations

import io
import zipfile
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.styles import PatternFill

from quoter import intake
from quoter.importing import workbook_file, zip_parts
from quoter.importing.cells import SheetError
from quoter.importing.table import read_sheets
from quoter.importing.workbook_file import workbook_sheets
from quoter.intake import IntakeError, read_file
from tests.trials import hostile_files as hostile

HINT = "save only the sheet or the lines of the list, in a new file"


def told(raw: bytes) -> str:
    with pytest.raises(SheetError) as refused:
        workbook_sheets("b.xlsx", raw)
    (problem,) = refused.value.problems
    return str(problem)


def test_a_file_larger_than_what_is_read_is_told(tmp_path: Path) -> None:
    path = tmp_path / "p.csv"
    path.write_bytes(b"x" * 11)
    assert read_file(path, 11) == b"x" * 11
    with pytest.raises(IntakeError) as refused:
        read_file(path, 10, HINT)
    assert str(refused.value) == (
        f"the file has more than 10 bytes, which is the most that is read; {HINT}"
    )


def test_a_column_beyond_those_that_are_read_counts_only_if_it_holds_something() -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["B2"] = "x"
    sheet["XFD2"].fill = PatternFill("solid", fgColor="FFFF00")
    content = io.BytesIO()
    book.save(content)
    (found,) = workbook_sheets("b.xlsx", content.getvalue())
    assert [[cell.text for cell in row.cells] for row in found.rows] == [["", "x"]]
    sheet["IW2"] = "y"
    content = io.BytesIO()
    book.save(content)
    said = "Sheet!IW2 holds something, and 256 columns are the most that is read [too-much]"
    assert told(content.getvalue()) == f"b.xlsx: {said}\n    {HINT}"


@pytest.mark.parametrize(
    ("limit", "words"),
    [("MOST_ROWS", "more than 3 rows"), ("MOST_CELLS", "more than 3 cells")],
)
def test_rows_and_cells_of_all_sheets_are_counted_together(
    monkeypatch: pytest.MonkeyPatch, limit: str, words: str
) -> None:
    monkeypatch.setattr(workbook_file, limit, 3)
    book = Workbook()
    for title in ("One", "Two"):
        for _ in range(2):
            book[title].append(["x"]) if title in book.sheetnames else book.create_sheet(
                title
            ).append(["x"])
    content = io.BytesIO()
    book.save(content)
    said = (
        f"up to the sheet 'Two' the workbook has {words}, which is the most that is read [too-much]"
    )
    assert told(content.getvalue()) == f"b.xlsx: {said}\n    {HINT}"


def test_a_directory_that_lies_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    assert told(hostile.lying_bomb(1)).startswith(
        "b.xlsx: the file is damaged, or no workbook [unreadable-file]\n"
    )
    monkeypatch.setattr(zip_parts, "LARGEST_UNPACKED", 2000)
    assert told(hostile.bomb(1)).startswith("b.xlsx: the workbook unpacks to more than 2,000 bytes")


def test_what_a_part_declares_is_refused() -> None:
    said = "b.xlsx: the file declares what no workbook does, as one does that is made to do harm"
    assert told(hostile.laughing()).startswith(f"{said} [unreadable-file]")
    assert told(hostile.outside()).startswith(said)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"a.txt": "x"}, "the file is a zip archive and no .xlsx workbook [unreadable-file]"),
        (
            {"mimetype": "application/vnd.oasis.opendocument.spreadsheet"},
            "the file is an OpenDocument file and no .xlsx workbook [unreadable-file]",
        ),
        (
            {**hostile.PARTS, "xl/workbook.xml": "<document/>"},
            "the file is a document of another kind, and no workbook [unreadable-file]",
        ),
    ],
)
def test_an_archive_of_another_kind_is_told(parts: dict[str, str], words: str) -> None:
    hint = "open it in a spreadsheet program and save it as .xlsx"
    assert told(hostile.of_parts(parts)) == f"b.xlsx: {words}\n    {hint}"


def test_a_locked_archive_is_told() -> None:
    raw = bytearray(hostile.of_parts(hostile.PARTS))
    at = raw.find(b"PK\x01\x02")
    raw[at + 8] |= 1
    assert told(bytes(raw)) == (
        "b.xlsx: the file can't be read: it is locked with a password [unreadable-file]\n"
        "    save it in a spreadsheet program as .xlsx, without a password"
    )
    assert zipfile.is_zipfile(io.BytesIO(bytes(raw)))


def test_a_text_named_as_a_workbook_is_read_as_the_text_it_is(tmp_path: Path) -> None:
    path = tmp_path / "p.xlsx"
    path.write_text("Item No.,Price\nA,1\n")
    sheets = read_sheets(path, None)
    assert [[cell.text for cell in row.cells] for row in sheets[0].rows] == [
        ["Item No.", "Price"],
        ["A", "1"],
    ]


def test_days_count_from_1904_where_a_workbook_says_so() -> None:
    book = hostile.PARTS["xl/workbook.xml"].replace(
        "<sheets>", '<workbookPr date1904="1"/><sheets>'
    )
    rows = '<row r="1"><c r="A1" s="1"><v>1</v></c><c r="B1" s="1"><v>1462</v></c></row>'
    sheet = f'<worksheet xmlns="{hostile.MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    styles = '<styleSheet><cellXfs><xf/><xf numFmtId="14"/></cellXfs></styleSheet>'
    relations = hostile.PARTS["xl/_rels/workbook.xml.rels"].replace(
        "</Relationships>",
        f'<Relationship Id="r3" Type="{hostile.OFFICE}/styles" Target="/xl/styles.xml"/>'
        "</Relationships>",
    )
    parts = {
        **hostile.PARTS,
        "xl/workbook.xml": book,
        "xl/_rels/workbook.xml.rels": relations,
        "xl/styles.xml": styles,
        hostile.SHEET: sheet,
    }
    (found,) = workbook_sheets("b.xlsx", hostile.of_parts(parts))
    assert [cell.day for cell in found.rows[0].cells] == [date(1904, 1, 2), date(1908, 1, 2)]


def test_every_limit_has_its_reason_beside_it() -> None:
    text = Path(intake.__file__).read_text("utf-8")
    limits = [line for line in text.split("\n") if line[:1].isupper() and " = " in line]
    assert len(limits) > 12
    assert all("  # " in line for line in limits if line[-1].isdigit())
