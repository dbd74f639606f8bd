"""The customer's copy of a quote: the page's content as values, and nothing behind them."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from pypdf import PdfReader
from python_calamine import CalamineWorkbook

from quoter.catalogue.languages import languages
from quoter.quotes.kept.record import Record
from quoter.quotes.printed.quote_book import quote_book
from quoter.wording import wording
from tests.quotes.hidden import found_in, texts_of
from tests.quotes.hidden import with_another_inside as other
from tests.quotes.samples import SAMPLES, line, record, short
from tests.quotes.test_quote_pdf import lines_of, where
from tests.workbook.compare import differences
from tests.workbook.package import part, parts
from tests.workbook.recalculate import recalculate, to_pdf
from tests.workbook.validity import schema_errors

every_sample = pytest.mark.parametrize("sample", SAMPLES)
every_language = pytest.mark.parametrize("language", languages())

MAY_BE_THERE = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml"
    r"|xl/(workbook|styles|sharedStrings|theme/theme1|worksheets/sheet\d)\.xml"
    r"|xl/_rels/workbook\.xml\.rels"
)


def made(of: Record) -> bytes:
    return quote_book(of, wording(Locale.parse(of.language, sep="-")))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("quotes")


def written(folder: Path, of: Record, name: str) -> Path:
    path = folder / f"{name}.xlsx"
    path.write_bytes(made(of))
    return path


@cache
def sample_in(folder: Path, sample: str, language: str = "en") -> tuple[Record, Path]:
    of = SAMPLES[sample](language=language)
    return of, written(folder, of, f"{sample}-{language}")


def rows_of(book: Path, sheet: int = 0) -> list[list[Any]]:
    """The rows of a sheet as another reader sees them."""
    return CalamineWorkbook.from_path(book).get_sheet_by_index(sheet).to_python()


def numbers_of(row: list[Any]) -> list[Decimal]:
    return [Decimal(str(value)) for value in row if isinstance(value, float)]


@every_sample
@every_language
def test_book_is_what_the_schemas_allow(folder: Path, sample: str, language: str) -> None:
    _, book = sample_in(folder, sample, language)
    assert schema_errors(book) == []


@every_sample
def test_book_holds_values_and_nothing_behind_them(folder: Path, sample: str) -> None:
    of, book = sample_in(folder, sample)
    assert [name for name in parts(book) if not MAY_BE_THERE.fullmatch(name)] == []
    workbook = load_workbook(book)
    for sheet in workbook.worksheets:
        assert sheet.sheet_state == "visible"
        assert not sheet.protection.sheet
        assert not any(d.hidden for d in sheet.row_dimensions.values())
        assert not any(d.hidden for d in sheet.column_dimensions.values())
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type in ("s", "n"), cell.coordinate
                assert cell.comment is None
                assert cell.hyperlink is None
    sheets = [name for name in parts(book) if name.startswith("xl/worksheets/")]
    assert len(sheets) == (3 if of.revision else 2)
    for name in sheets:
        assert not re.search(r"<f[ >]|extLst|dataValidation|hidden=", part(book, name))
    names = re.findall(r'<definedName name="([^"]+)"', part(book, "xl/workbook.xml"))
    assert set(names) <= {"_xlnm.Print_Titles", "_xlnm.Print_Area"}
    assert not list(workbook.defined_names)


@every_sample
def test_book_names_no_person_no_time_and_no_path(folder: Path, sample: str) -> None:
    of, book = sample_in(folder, sample)
    core = part(book, "docProps/core.xml")
    assert re.findall(r"<(?:\w+:)?(\w+)[ >]", core) == [
        "coreProperties",
        "title",
        "created",
        "modified",
    ]
    assert f"Quote {of.name}, Tern Quay Boats" in core
    assert core.count("1980-01-01T00:00:00Z") == 2
    spaces = r"https?://(schemas\.|purl\.org/|www\.w3\.org/|ternquay\.)\S+"
    for name in parts(book):
        text = re.sub(spaces, "", part(book, name))
        assert not re.search(r"[A-Za-z]:\\|file:|(?<![\w<.])/(home|usr|var)/|absPath", text), name


@every_sample
@every_language
def test_lines_add_up_as_another_reader_sees_them(folder: Path, sample: str, language: str) -> None:
    of, book = sample_in(folder, sample, language)
    rows = [row for row in rows_of(book) if len(numbers_of(row)) >= 3]
    priced = [each for each in of.lines if each.amount is not None]
    total = Decimal(0)
    for row, each in zip(rows, priced, strict=False):
        assert str(row[0]).startswith(each.name)
        found = numbers_of(row)
        assert found[:2] == [each.quantity, each.price]
        assert found[0] * found[1] == found[-1] == each.amount
        total += found[-1]
    assert total == (of.total if of.with_tax else of.net)
    taxes = [numbers_of(row) for row in rows[len(priced) :]]
    assert taxes == [[tax.rate, tax.base, tax.amount] for tax in of.taxes]
    lone = [found[0] for row in rows_of(book) if len(found := numbers_of(row)) == 1]
    assert of.total in lone
    assert of.net in lone
    parts_due = [numbers_of(row) for row in rows_of(book, 1) if numbers_of(row)]
    assert parts_due == [[each.share, each.amount] for each in of.deposits]
    assert sum(amount for _, amount in parts_due) == of.total


@every_sample
@every_language
def test_everything_of_the_record_for_its_customer_is_in_the_book(
    folder: Path, sample: str, language: str
) -> None:
    of, book = sample_in(folder, sample, language)
    sheets = range(len(load_workbook(book).sheetnames))
    text = "\n".join(str(v) for sheet in sheets for row in rows_of(book, sheet) for v in row)
    assert [told for told in texts_of(of) if told not in text] == []


@every_sample
def test_amounts_name_their_currency(folder: Path, sample: str) -> None:
    of, book = sample_in(folder, sample)
    amounts = {float(each.amount) for each in of.lines if each.amount is not None}
    amounts |= {float(of.total), float(of.net), *(float(tax.base) for tax in of.taxes)}
    seen = set()
    for sheet in load_workbook(book).worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value in amounts and cell.number_format != "#,##0":
                    assert f"[${of.currency}]" in cell.number_format
                    seen.add(cell.value)
    assert seen == amounts


@every_sample
def test_nothing_of_the_inside_is_in_the_unzipped_book(folder: Path, sample: str) -> None:
    of, book = sample_in(folder, sample)
    assert [leak for name in parts(book) for leak in found_in(part(book, name), of)] == []


def test_the_search_for_secrets_sees_into_the_book(folder: Path) -> None:
    told = short(note="Ask Gudrun Approvesson for 31,330.13")
    book = written(folder, told, "leaking")
    leaks = [found for name in parts(book) for found in found_in(part(book, name), told)]
    assert leaks == ["31330.13", "Gudrun Approvesson"]


@every_sample
def test_what_only_the_yard_sees_changes_nothing(sample: str) -> None:
    of = SAMPLES[sample]()
    assert made(other(of)) == made(of)


@every_sample
def test_book_is_the_same_every_time(sample: str) -> None:
    assert made(SAMPLES[sample]()) == made(SAMPLES[sample]())


@pytest.mark.parametrize(
    ("sample", "language", "paper"),
    [("short", "en", 9), ("usual", "en", 1), ("usual", "en-GB", 9), ("short", "en-US", 1)],
)
def test_book_prints_upright_on_the_paper_of_its_place(
    folder: Path, sample: str, language: str, paper: int
) -> None:
    of, book = sample_in(folder, sample, language)
    for sheet in load_workbook(book).worksheets:
        assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("portrait", paper)
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        footer = sheet.oddFooter
        assert footer is not None
        left, right = footer.left, footer.right
        assert left is not None
        assert right is not None
        assert (of.name in str(left.text), right.text) == (True, "&P / &N")
    first: Worksheet = load_workbook(book).worksheets[0]
    head = str(first.print_title_rows).strip("$").partition(":")[0]
    assert first.cell(int(head), 1).value == "Item"


@pytest.mark.parametrize(
    ("currency", "code"),
    [
        ("JPY", r"[$JPY]\ #,##0;[$JPY]\ \-#,##0"),
        ("KWD", r"[$KWD]\ #,##0.000;[$KWD]\ \-#,##0.000"),
    ],
)
def test_amounts_have_the_decimals_of_their_currency(
    folder: Path, currency: str, code: str
) -> None:
    of = record((line("boat", "Skiff", "120000"),), rates={}, currency=currency, with_tax=False)
    sheet = load_workbook(written(folder, of, currency)).worksheets[0]
    found = [c for row in sheet.iter_rows() for c in row if c.value == 120000]
    assert {c.number_format for c in found} == {code}
    assert len(found) == 3


def test_what_reads_like_a_formula_stays_text(folder: Path) -> None:
    of = short(note='=HYPERLINK("x")', customer=SAMPLES["short"]().customer)
    sheet = load_workbook(written(folder, of, "formula")).worksheets[0]
    (cell,) = [c for row in sheet.iter_rows() for c in row if str(c.value).startswith("=")]
    assert cell.quotePrefix


def test_a_revision_has_a_sheet_of_what_changed(folder: Path) -> None:
    _, book = sample_in(folder, "long")
    names = load_workbook(book).sheetnames
    assert names == ["2026-0007-R2", "Terms", "Changes"]
    assert ["Total", "NOK 1,201,455.00", "NOK 1,187,902.50"] in rows_of(book, 2)
    first = SAMPLES["long"](changes=())
    told = rows_of(written(folder, first, "unchanged"), 2)
    assert "Only the dates have changed." in str(told)


def test_a_quote_approves_no_structure(folder: Path) -> None:
    _, book = sample_in(folder, "short")
    assert "This quote approves no structure." in str(rows_of(book, 1))


@pytest.mark.slow
def test_another_application_opens_the_books_and_prints_them(folder: Path) -> None:
    books = [sample_in(folder, sample)[1] for sample in SAMPLES]
    for book, again in zip(books, recalculate(books, folder), strict=True):
        assert differences(book, again) == []
    for printed in to_pdf(books, folder):
        assert printed.stat().st_size > 10_000


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_printed_book_orphans_nothing(tmp_path: Path, paper: str) -> None:
    counts = (5, *range(24, 38), 40, 120)
    books = [written(tmp_path, lines_of(count, paper=paper), f"{count:03}") for count in counts]
    for count, file in zip(counts, to_pdf(books, tmp_path), strict=True):
        found = [page.extract_text() for page in PdfReader(file).pages]
        (first,) = where(found, "Option no. 001")
        assert re.search("^Options", found[first - 1], re.M)
        (last,) = where(found, f"Option no. {count:03}")
        assert where(found, "Total to pay") == [last], count
        assert last in where(found, "Total without tax"), count
        (signed,) = where(found, "Place and date")
        assert where(found, "This quote approves no structure") == [signed], count
        assert where(found, "With the order") == where(found, "Before the boat is handed over")
        for number, sheet in enumerate(found, 1):
            assert f"{number} / {len(found)}" in sheet
