"""The file is what the schemas allow, and other readers see in it what was put there."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import python_calamine
from lxml import etree
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from quoter.workbook import Book, write_book
from tests.workbook.compare import alike, values
from tests.workbook.composed import composed
from tests.workbook.package import part, parts, with_change
from tests.workbook.synthetic import ODD_TEXTS, synthetic_book
from tests.workbook.validity import schema_errors

PROJECT = Path(__file__).resolve().parents[2]


def expected(book: Book) -> dict[str, float | str]:
    """Every value by address, from the figures and texts themselves."""
    return {
        f"{title}!{address}": cell.value
        for title, cells in composed(book).items()
        for address, cell in cells.items()
        if cell.value is not None
    }


def test_the_schema_validator_finds_no_error(built: Path) -> None:
    assert schema_errors(built) == []


def test_the_schema_validator_finds_a_planted_error(built: Path, tmp_path: Path) -> None:
    name = "xl/worksheets/sheet1.xml"
    wrong = with_change(built, name, 'orientation="portrait"', 'orientation="askew"',
                        tmp_path / "wrong.xlsx")  # fmt: skip
    assert any("askew" in error for error in schema_errors(wrong))


def test_the_schema_validator_finds_fonts_out_of_order(built: Path, tmp_path: Path) -> None:
    styles = etree.fromstring(part(built, "xl/styles.xml").encode())
    font = styles.findall(".//{*}fonts/{*}font")[1]
    before = etree.tostring(font).decode()
    font.append(font[0])
    after = etree.tostring(font).decode()
    assert before != after
    with zipfile.ZipFile(built) as source, zipfile.ZipFile(tmp_path / "w.xlsx", "w") as target:
        for name in source.namelist():
            data = source.read(name) if name != "xl/styles.xml" else etree.tostring(styles)
            target.writestr(name, data)
    assert schema_errors(tmp_path / "w.xlsx")


def test_openpyxl_reads_every_value_without_recalculating(book: Book, built: Path) -> None:
    got, wanted = values(built), expected(book)
    assert got.keys() == wanted.keys()
    assert [cell for cell in wanted if not alike(got[cell], wanted[cell])] == []


def test_calamine_reads_every_value_without_recalculating(book: Book, built: Path) -> None:
    reader = python_calamine.CalamineWorkbook.from_path(built)
    got = {
        f"{title}!{get_column_letter(column)}{row}": value
        for title in reader.sheet_names
        for row, cells in enumerate(
            reader.get_sheet_by_name(title).to_python(skip_empty_area=False), 1
        )
        for column, value in enumerate(cells, 1)
        if value != ""
    }
    wanted = expected(book)
    assert got.keys() == wanted.keys()
    assert [cell for cell in wanted if not alike(got[cell], wanted[cell])] == []


def test_the_same_book_is_the_same_bytes(built: Path) -> None:
    assert write_book(synthetic_book()) == built.read_bytes()


def test_the_same_book_is_the_same_bytes_in_another_process(built: Path, tmp_path: Path) -> None:
    program = (
        "import pathlib, sys\n"
        "from quoter.workbook import write_book\n"
        "from tests.workbook.synthetic import synthetic_book\n"
        "pathlib.Path(sys.argv[1]).write_bytes(write_book(synthetic_book()))\n"
    )
    for seed in ("1", "77"):
        path = tmp_path / f"{seed}.xlsx"
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": "Pacific/Chatham"}
        command = [sys.executable, "-c", program, str(path)]
        subprocess.run(command, check=True, env=environment, cwd=PROJECT)
        assert path.read_bytes() == built.read_bytes(), seed


def test_nothing_in_the_file_tells_when_or_by_whom_it_was_made(built: Path) -> None:
    with zipfile.ZipFile(built) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    properties = part(built, "docProps/core.xml")
    assert "creator" not in properties
    assert "lastModifiedBy" not in properties
    assert "1980-01-01T00:00:00Z" in properties
    assert "<Application>quoter</Application>" in part(built, "docProps/app.xml")


def test_texts_that_look_like_something_else_stay_texts(built: Path) -> None:
    workbook = load_workbook(built)
    cells = [cell for row in workbook["Method"].iter_rows() for cell in row if cell.value]
    by_text = {cell.value: cell for cell in cells}
    for text in ODD_TEXTS:
        assert by_text[text].data_type == "s", text
    quoted = {text for text in ODD_TEXTS if by_text[text].quotePrefix}
    assert quoted == {text for text in ODD_TEXTS if text[0] in "=+-@\t"}


def test_every_part_is_listed_and_stands_in_a_fixed_order(built: Path) -> None:
    names = parts(built)
    assert names[0] == "[Content_Types].xml"
    assert names[1:] == sorted(names[1:])
    listed = part(built, "[Content_Types].xml")
    for name in names:
        assert name.endswith(".rels") or f"/{name}" in listed or name == names[0], name


def test_applications_are_asked_to_recalculate_on_load(built: Path) -> None:
    assert 'fullCalcOnLoad="1"' in part(built, "xl/workbook.xml")
