"""Catalogues that lack much: options, a second model, a plan."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from zipfile import ZipFile

import pytest

from quoter.build import Report, render
from quoter.workbook import Book, Sheet, write_book
from quoter.workbook.table import Chart, Column, Paragraphs, Row, Table, without_empty
from tests.catalogues.edited import SMALL
from tests.catalogues.written import write_catalogue
from tests.pages.parsed import Page
from tests.workbook.compare import differences
from tests.workbook.recalculate import recalculate
from tests.workbook.validity import schema_errors

BOOK = "date,market,model,option,list_price,note\n"
MODELS = (SMALL / "models.yaml").read_text("utf-8")
ONE_MODEL = MODELS[: MODELS.index("  - id: cutter")]
OPTIONS = (SMALL / "options.yaml").read_text("utf-8")
HATCH = OPTIONS[OPTIONS.index("  - id: hatch") : OPTIONS.index("  - id: box")]
VOLUMES = "model,option,boats,take_rate,note\nskiff,,60,,\n"
NO_OPTIONS = {"options.yaml": "options: []\n", "price_book.csv": BOOK}
BARE = {
    "two models": {**NO_OPTIONS, "models.yaml": MODELS.replace("    standard: [cleats]\n", "")},
    "one model": {**NO_OPTIONS, "models.yaml": ONE_MODEL},
    "planned": {**NO_OPTIONS, "models.yaml": ONE_MODEL, "volumes.csv": VOLUMES},
    "one option": {
        "options.yaml": "options:\n" + HATCH.replace("    conflicts: [box]\n", ""),
        "price_book.csv": BOOK,
        "models.yaml": ONE_MODEL,
    },
}


def built(folder: Path, files: Mapping[str, str]) -> Report:
    catalogue = write_catalogue(folder / "c", files, base=SMALL)
    return render(catalogue, None, strict=False, say=lambda _: None)


@pytest.mark.slow
@pytest.mark.parametrize("files", BARE.values(), ids=BARE)
def test_a_bare_catalogue_has_whole_workbooks(files: Mapping[str, str], tmp_path: Path) -> None:
    report = built(tmp_path, files)
    paths = []
    for name, content in report.internal.items():
        if name.endswith(".xlsx"):
            paths.append(tmp_path / Path(name).name)
            paths[-1].write_bytes(content)
            assert schema_errors(paths[-1]) == []
    assert len(paths) == len(report.pricing.models) + 1 + ("volumes.csv" in files)
    for path, again in zip(paths, recalculate(paths, tmp_path / "again"), strict=True):
        assert differences(path, again) == [], path.name


@pytest.mark.parametrize("files", BARE.values(), ids=BARE)
def test_a_bare_catalogue_has_no_table_without_rows(
    files: Mapping[str, str], tmp_path: Path
) -> None:
    report = built(tmp_path, files)
    for name, content in {**report.public, **report.internal}.items():
        if name.endswith(".html"):
            for table in re.findall(rb"<table.*?</table>", content, re.DOTALL):
                by_script = b'<tbody id="summary-lines"></tbody>' in table
                assert by_script or re.search(rb"<tbody[^>]*>\s*<tr", table), (name, table[:200])
            for section in re.findall(
                rb"<section(?:(?!<section).)*?</section>", content, re.DOTALL
            ):
                assert re.search(rb"</h\d>\s*<(?!/section)", section), (name, section)
    names = [page for page in report.public if re.search(r"home/models/.*html$", page)]
    assert len(names) == len(report.pricing.models)
    assert all(Page(report.public[name]).all("h1") for name in names)


def test_a_sheet_keeps_only_what_has_rows() -> None:
    heads = (Column("Name"), Column("Number"))
    empty, whole = Table(heads, (), name="empty"), Table(heads, (Row(("a", "b")),), name="whole")
    of_empty = Chart("None", "empty", "Name", ("Number",), "", "", "")
    front = Sheet("Front", "One line.", (Paragraphs(("Words.",)), empty, whole, of_empty))
    words = Sheet("Words", "One line.", (Paragraphs(("Words.",)), empty), charts=(of_empty,))
    gone = Sheet("Gone", "One line.", (empty,), charts=(of_empty,))
    book = without_empty(Book("Test", (front, words, gone), "", "EUR"))
    assert [sheet.title for sheet in book.sheets] == ["Front", "Words"]
    assert book.sheets[0].blocks == (front.blocks[0], whole)
    assert (book.sheets[1].blocks, book.sheets[1].charts) == (words.blocks[:1], ())


def test_a_chart_of_nothing_is_left_out_of_the_file(tmp_path: Path) -> None:
    heads = (Column("Name"), Column("Number"))
    tables = (Table(heads, (Row(("a", "b")),)), Table(heads, (), name="empty"))
    chart = Chart("None", "empty", "Name", ("Number",), "", "", "Bars of nothing")
    path = tmp_path / "book.xlsx"
    path.write_bytes(
        write_book(Book("Test", (Sheet("A", "Line.", tables, charts=(chart,)),), "", "EUR"))
    )
    assert schema_errors(path) == []
    with ZipFile(path) as parts:
        assert not [name for name in parts.namelist() if "chart" in name or "drawing" in name]
