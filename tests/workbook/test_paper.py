"""Workbooks on paper: few pages, charts whole and right under their tables, workings if asked."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_interval
from openpyxl.worksheet.worksheet import Worksheet

from quoter.analysis.findings import Findings
from quoter.figures.readers import reader_of
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import Book, OnPaper, Table, write_book
from quoter.workbook.margin_book import margin_book
from quoter.workbook.measure import column_points
from quoter.workbook.model_book import model_book
from quoter.workbook.paper import (
    KEPT_OFF,
    PARTLY_KEPT_OFF,
    Page,
    Whole,
    on_paper_of,
    page_of,
    paged,
)
from quoter.workbook.plan_book import plan_book
from quoter.workbook.sheets.costs import assembly_name
from quoter.workbook.table import text_of
from tests.workbook.recalculate import recalculate, to_pdf

MOST_PAGES = 30  # of one model's book
MOST_OF_OTHERS = 26  # of the margin review and of the planned year
BLANK = 15.0  # points of a row that says no height
POINTS = 12_700  # English metric units of a point, ECMA-376 part 1, 20.1.10.16 (from memory)
PAGE = Page(upright=True, width=500.0, height=200.0, highest=250.0)
HEIGHTS = dict.fromkeys(range(1, 201), 20.0)


@dataclass(frozen=True)
class Demo:
    pricing: Pricing
    books: Mapping[str, Book]
    files: Mapping[str, Path]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    pricing, _ = price_catalogue(demo_catalogue_folder())
    findings = Findings(pricing)
    books = {id: model_book(findings.of(model)) for id, model in pricing.models.items()}
    books |= {"margin-review": margin_book(findings), "plan": plan_book(findings)}
    folder = tmp_path_factory.mktemp("on_paper")
    files = {name: folder / f"{name}.xlsx" for name in books}
    for name, book in books.items():
        files[name].write_bytes(write_book(book))
    return Demo(pricing, books, files)


def sheets_of(demo: Demo) -> Iterator[tuple[str, Worksheet]]:
    for name, path in demo.files.items():
        for sheet in load_workbook(path).worksheets:
            yield f"{name}, {sheet.title}", sheet


def printed_rows(sheet: Worksheet) -> int:
    return int(sheet.print_area.rpartition("$")[2])


def printed_widths(sheet: Worksheet) -> list[float]:
    last = re.findall("[A-Z]+", sheet.print_area.rpartition("!")[2])[-1]
    return [sheet.column_dimensions[name].width for name in get_column_interval("A", last)]


def height_of(sheet: Worksheet, row: int) -> float:
    return float(sheet.row_dimensions[row].height or BLANK)


@pytest.mark.slow
def test_a_printed_book_is_a_few_pages_that_say_what_they_are(demo: Demo, tmp_path: Path) -> None:
    catalogue = demo.pricing.catalogue
    for pdf in to_pdf(list(demo.files.values()), tmp_path):
        done = subprocess.run(
            ["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True
        )
        pages = done.stdout.split("\f")[:-1]
        assert len(pages) <= (MOST_PAGES if pdf.stem in demo.pricing.models else MOST_OF_OTHERS)
        for number, page in enumerate(pages, 1):
            below = " ".join(page.split())
            assert below.endswith(f", page {number} of {len(pages)}")
            assert f"{catalogue.yard.company.name} " in below
            assert f"internal. Prices as of {catalogue.as_of}, list of " in below


def test_charts_stand_on_one_page_right_under_their_table(demo: Demo) -> None:
    found = 0
    for where, sheet in sheets_of(demo):
        breaks = [each.id for each in sheet.row_breaks.brk]
        for chart in sheet._charts:  # type: ignore[attr-defined]
            top = chart.anchor._from.row + 1
            left, last = chart.anchor.ext.height / POINTS, top
            while (left := left - height_of(sheet, last)) > 0.01:
                last += 1
            assert not [row for row in breaks if top <= row < last], where
            assert last <= printed_rows(sheet), where
            values = chart.series[0].val.numRef.f.rpartition("$")[2]
            under = [sheet.cell(row, 1).value for row in range(int(values) + 1, top)]
            assert under[-1:] == [None], where
            totals = [words for words in under[:-1] if not str(words).startswith("All ")]
            assert totals == [], where
            found += 1
    assert found >= 3 * len(demo.pricing.models)


def test_no_page_is_longer_than_its_paper(demo: Demo) -> None:
    for where, sheet in sheets_of(demo):
        check_pages(where, sheet, "A4")


def check_pages(where: str, sheet: Worksheet, paper: str) -> None:
    if sheet.page_setup.fitToHeight:
        return
    page = page_of(sum(map(column_points, printed_widths(sheet))), paper)
    assert (sheet.page_setup.orientation == "portrait") is page.upright, where
    ends = [*(each.id for each in sheet.row_breaks.brk), printed_rows(sheet)]
    starts = [1, *(end + 1 for end in ends)]
    for first, last in zip(starts, ends, strict=False):
        rows = range(first, last + 1)
        assert sum(height_of(sheet, row) for row in rows) <= page.height, where


@pytest.mark.parametrize("units", ["US", "metric and US"])
def test_pages_hold_what_other_units_make_of_tables(demo: Demo, units: str, tmp_path: Path) -> None:
    book = demo.books["longshore_76"]
    reader, letter = reader_of(units, as_written=False), OnPaper("Letter")
    path = tmp_path / "book.xlsx"
    path.write_bytes(write_book(replace(book, reader=reader, on_paper=letter)))
    narrower = []
    for sheet in load_workbook(path).worksheets:
        check_pages(sheet.title, sheet, "Letter")
        widths = printed_widths(sheet)
        if len(widths) < sheet.max_column:
            narrower.append(sheet.title)
        for row in sheet.iter_rows(max_row=printed_rows(sheet), min_col=len(widths) + 1):
            assert [cell.value for cell in row if cell.value is not None] == [], sheet.title
    assert {"Take-off", "Sensitivity", "Inputs"} <= set(narrower)  # wide workings stay off paper


def test_every_sheet_says_what_it_is_for_and_where_to_go_next(demo: Demo) -> None:
    for where, sheet in sheets_of(demo):
        assert re.match(r"\S+ .*\w", str(sheet["A2"].value)), where
        way = sheet["A3"]
        assert re.match(r"(Nothing to change here\. )?(Next: |Back to )", str(way.value)), where
        assert way.hyperlink is not None, where
        title = str(way.hyperlink.location).rpartition("!")[0].strip("'")
        assert sheet.parent is not None, where
        assert title in sheet.parent.sheetnames, where


def test_the_first_view_is_no_wider_than_a_screen(demo: Demo) -> None:
    for where, sheet in sheets_of(demo):
        points = [column_points(each.width) for each in sheet.column_dimensions.values()]
        for merged in sheet.merged_cells.ranges:
            if merged.min_row <= 3:
                across = sum(points[: merged.max_col])
                assert merged.max_col == 1 or across <= 1280 * 0.75 - 60, where
        frozen = sheet.freeze_panes
        assert frozen is not None, where
        rows = int(frozen.lstrip("ABCDEFGHIJ")) - 1
        assert sum(height_of(sheet, row) for row in range(1, rows + 1)) <= 180, where


def test_workings_stay_off_paper_and_say_so(demo: Demo) -> None:
    sheets = load_workbook(demo.files["weekender_86"])
    for title in ("Take-off", "Parts", "Operations", "Inputs", "Workings", "Checks"):
        sheet = sheets[title]
        assert str(sheet["A2"].value).endswith(f" {KEPT_OFF}")
        assert printed_rows(sheet) <= 4 < sheet.max_row
    for title in ("Summary", "Costs", "Sensitivity", "Risk", "Emissions", "Method"):
        sheet = sheets[title]
        assert str(sheet["A2"].value).endswith(f" {PARTLY_KEPT_OFF}")
        assert printed_rows(sheet) < sheet.max_row - 2


def test_workings_print_if_asked(demo: Demo, tmp_path: Path) -> None:
    path = tmp_path / "whole.xlsx"
    book = replace(demo.books["longshore_76"], on_paper=OnPaper("Letter", workings=True))
    path.write_bytes(write_book(book))
    for sheet in load_workbook(path).worksheets:
        assert printed_rows(sheet) == sheet.max_row - 2  # all but what the page's foot says anyway
        assert sheet.page_setup.paperSize == 1  # Letter, ECMA-376 part 1, 18.3.1.63 (from memory)
        texts = [str(row[0]) for row in sheet.iter_rows(max_col=1, values_only=True)]
        assert not [text for text in texts if "left off paper" in text]


def test_the_yard_says_how_its_workbooks_print(tmp_path: Path) -> None:
    folder = shutil.copytree(demo_catalogue_folder(), tmp_path / "yard")
    pricing, _ = price_catalogue(folder)
    assert on_paper_of(pricing.catalogue) == OnPaper("A4", workings=False)
    yard = folder / "yard.yaml"
    asked = "paper: Letter\nworkings_on_paper: yes\n"
    yard.write_text(asked + yard.read_text("utf-8"), encoding="utf-8")
    pricing, _ = price_catalogue(folder)
    assert on_paper_of(pricing.catalogue) == OnPaper("Letter", workings=True)


def test_no_cell_says_an_id_that_has_a_name(demo: Demo) -> None:
    by_kind = demo.pricing.catalogue.records.by_kind
    named = {
        id
        for records in by_kind.values()
        for id, record in records.items()
        if str(getattr(record, "name", id)) != id
    }
    assert len(named) > 100
    # Ids that are plain words say other things as well: a hazard, a class of material.
    telling = {id for id in named if "_" in id}
    for name, book in demo.books.items():
        for sheet in book.sheets:
            tables = [block for block in sheet.blocks if isinstance(block, Table)]
            for row in (row for table in tables for row in table.rows):
                for text in map(text_of, row.cells):
                    where = f"{name}, {sheet.title}: {text}"
                    assert text not in named, where
                    if sheet.title != "Method":
                        assert not telling & set(re.findall(r"\w+", text)), where


def test_parts_of_the_same_name_are_told_apart_in_words(demo: Demo) -> None:
    found = {assembly_name(part) for part in demo.pricing.costing.parts.values()}
    assert "Side door (Gelcoat white)" in found
    assert "Core of the side door (in Side door, Gelcoat white)" in found
    assert "Buoyancy fill (Orvesund 8.6 Weekender)" in found
    assert len(found) == len(demo.pricing.costing.parts)


@pytest.mark.slow
def test_thickness_stands_in_mm_and_follows(demo: Demo, tmp_path: Path) -> None:
    (path,) = recalculate([demo.files["longshore_76"]], tmp_path)
    shown, formulas = (
        load_workbook(file, data_only=values)["Parts"]
        for file, values in ((path, True), (demo.files["longshore_76"], False))
    )
    told = {
        (assembly_name(part), figure.label.partition(": ")[2].casefold()): figure
        for part in demo.pricing.costing.parts.values()
        for figure in part.recipe.notable
    }
    found = 0
    for row in shown.iter_rows(values_only=True):
        cells = {str(cell): cell for cell in row if cell is not None}
        if "mm" not in cells:
            continue
        figure = told[str(row[0]), str(row[1]).casefold()]
        at = next(i for i, cell in enumerate(row) if isinstance(cell, int | float))
        assert row[at] == pytest.approx(figure.value * 1000, rel=1e-9)
        found += 1
    assert found > 3
    assert not any(cell.value == "m" for row in formulas.iter_rows() for cell in row)


def wholes(*ends: int, drawn: bool = False) -> list[Whole]:
    starts = (1, *(end + 1 for end in ends))
    return [
        Whole(range(first, end + 1), end, drawn) for first, end in zip(starts, ends, strict=False)
    ]


@pytest.mark.parametrize(
    ("ends", "breaks"),
    [
        ((5, 10), []),  # both on one page of ten rows
        ((5, 11), [5]),  # the second would not fit
        ((5, 10, 15), [10]),
        ((2, 16), [10]),  # longer than a page: begins where there is room
        ((8, 22), [8, 17]),  # ... and on a new one where there is little
    ],
)
def test_pages_end_between_what_belongs_together(ends: tuple[int, ...], breaks: list[int]) -> None:
    assert paged(wholes(*ends), HEIGHTS, 20.0, range(1, 2), PAGE).breaks == breaks


def test_where_a_very_long_table_ends_its_pages_needs_no_saying() -> None:
    assert paged(wholes(100), HEIGHTS, 20.0, range(1, 2), PAGE).breaks == []
    assert len(paged(wholes(100, drawn=True), HEIGHTS, 20.0, range(1, 2), PAGE).breaks) > 9


@pytest.mark.parametrize(
    ("total", "upright"), [(400.0, True), (880.0, True), (890.0, False), (1600.0, False)]
)
def test_a_sheet_lies_on_its_side_where_upright_would_be_too_small_to_read(
    total: float, upright: bool
) -> None:
    assert page_of(total, "A4").upright is upright
