"""What stands on the sheets: homes and references, locks, contents, print, charts, workings."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import load_workbook
from openpyxl.utils import column_index_from_string, get_column_interval
from openpyxl.workbook.workbook import Workbook

from quoter.figures import Figure, constant, total
from quoter.workbook import (
    Book,
    Choice,
    Column,
    Contents,
    Flag,
    InputCell,
    Row,
    Sheet,
    Table,
    write_book,
)
from quoter.workbook.compose import READABLE, compose
from quoter.workbook.measure import column_points
from quoter.workbook.paper import page_of
from tests.workbook.compare import formulas
from tests.workbook.composed import composed
from tests.workbook.long_formulas import deep_chain, long_products, long_sum, wide_tree
from tests.workbook.operations import given
from tests.workbook.package import part, parts
from tests.workbook.synthetic import ELEMENTS, FOOTER, NAMES, written


@pytest.fixture(scope="module")
def workbook(built: Path) -> Workbook:
    return load_workbook(built)


@pytest.fixture(scope="module")
def texts(built: Path) -> dict[str, Any]:
    return formulas(built)


def sheet(title: str, *rows: Row, columns: int = 2, owner: bool = True) -> Sheet:
    heads = tuple(Column(f"Column {i}") for i in range(columns))
    return Sheet(title, "One line.", (Table(heads, rows),), owner=owner)


def cells(tmp_path: Path, *sheets: Sheet, **more: Any) -> dict[str, Any]:
    path = tmp_path / "book.xlsx"
    path.write_bytes(write_book(Book("Test", sheets, "", "EUR", **more)))
    return formulas(path)


def test_the_first_owner_has_the_formula_and_the_others_refer_to_it(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price"))
    cost = (price * 3).named("cost", "cost")
    got = cells(
        tmp_path,
        sheet("Summary", Row(("cost", cost)), owner=False),
        sheet("Costs", Row(("cost", cost)), Row(("again", cost))),
        sheet("Inputs", Row(("price", InputCell(price)))),
    )
    assert got["Costs!B5"] == "=Inputs!B6*3"
    assert got["Costs!B6"] == "=B5"
    assert got["Summary!B5"] == "=Costs!B5"
    assert got["Inputs!B6"] == 4


def test_an_unnamed_figure_that_is_shown_is_referred_to_as_well(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price"))
    half = price / 2
    got = cells(tmp_path, sheet("A", Row(("half", half)), Row(("more", half + price)),
                                Row(("price", price))))  # fmt: skip
    assert got["A!B5"] == "=B7/2"
    assert got["A!B6"] == "=B5+B7"


def test_a_bare_number_is_referred_to_only_when_it_says_what_it_is(tmp_path: Path) -> None:
    density, zero = constant(2.56, label="density of glass"), Figure(0.0)
    price = written(given("4.00 EUR/kg", "price", "price"))
    rows = (Row(("density", density)), Row(("none", zero)), Row(("price", price)),
            Row(("a", price * density + price * zero)))  # fmt: skip
    assert cells(tmp_path, sheet("A", *rows))["A!B8"] == "=(B7*B5)+(B7*0)"


def test_named_figures_that_no_table_shows_stand_on_the_workings(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price", 7))
    step = (price * 3).named("step", "a step")
    got = cells(tmp_path, sheet("A", Row(("cost", step + price))))
    assert got["A!B5"] == "=Workings!B6+Workings!B5"
    assert got["Workings!B4"] == "Value [EUR/kg]"
    assert [got[f"Workings!{letter}5"] for letter in "ABCD"] == [
        "price", 4, "as given", "invented/prices.csv:7 price, from 2031-03-01",
    ]  # fmt: skip
    assert [got[f"Workings!{letter}6"] for letter in "ABC"] == ["a step", "=B5*3", "price × 3"]


def test_workings_stand_where_the_book_wants_them(workbook: Workbook) -> None:
    assert workbook.sheetnames[-2:] == ["Workings", "Method"]


def test_no_workings_without_need(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price"))
    got = cells(tmp_path, sheet("A", Row(("price", InputCell(price)))))
    assert not any(cell.startswith("Workings") for cell in got)


def test_a_flag_says_in_words_what_its_figure_says(texts: dict[str, Any]) -> None:
    assert texts["Checks!C5"].startswith("=IF(Workings!B")
    assert texts["Checks!C5"].endswith('<>0,"OK","CHECK")')
    assert texts["Checks!C6"] == '=IF(B6<0.005,"OK","CHECK")'


def test_the_word_that_warns_is_the_one_that_stands_out(tmp_path: Path) -> None:
    breach = Figure(1.0, op="input", label="breach", key="breach")
    flags = Row((Flag(breach, "BELOW", "holds", alarm="yes"), Flag(breach, "OK", "CHECK")))
    path = tmp_path / "flags.xlsx"
    path.write_bytes(write_book(Book("Test", (sheet("A", flags),), "", "EUR")))
    marked = load_workbook(path)["A"].conditional_formatting
    found = {str(area.sqref): area.rules[0].formula for area in marked}
    assert found == {"A5": ['"BELOW"'], "B5": ['"CHECK"']}


def test_exactly_entries_and_choices_are_unlocked(book: Book, workbook: Workbook) -> None:
    wanted = {
        cell.figure.label
        for each in book.sheets
        for block in each.blocks
        if isinstance(block, Table)
        for row in block.rows
        for cell in row.cells
        if isinstance(cell, InputCell | Choice)
    }
    draft = compose(book)
    homes = {
        f"{sheet}!{cell}"
        for sheet, cells in draft.homes.own.items()
        for figure, cell in cells.items()
        if figure.label in wanted and figure.op == "input"
    }
    unlocked = {
        f"{each.title}!{cell.coordinate}"
        for each in workbook.worksheets
        for row in each.iter_rows()
        for cell in row
        if not cell.protection.locked
    }
    assert unlocked == homes
    assert len(unlocked) == len(NAMES) + 7


def test_every_sheet_is_locked_without_a_password_and_in_sight(workbook: Workbook) -> None:
    for each in workbook.worksheets:
        assert each.protection.sheet
        assert each.protection.password is None
        assert each.sheet_state == "visible"
        assert not any(d.hidden for d in each.row_dimensions.values())
        assert not any(d.hidden for d in each.column_dimensions.values())


def test_entries_take_numbers_and_choices_whole_ones(workbook: Workbook) -> None:
    entry = workbook["Inputs"].data_validations.dataValidation
    assert [(rule.type, str(rule.sqref)) for rule in entry] == [("decimal", "B6:B12")]
    choices = workbook["Summary"].data_validations.dataValidation
    assert [(rule.type, rule.formula1) for rule in choices] == [
        ("list", '"0,1"'), ("list", '"0,1,2"'),
    ]  # fmt: skip


def test_a_choice_of_many_is_typed(tmp_path: Path) -> None:
    screws = Figure(0.0, op="input", label="screws", key="screws")
    path = tmp_path / "many.xlsx"
    table = sheet("A", Row(("screws", Choice(screws, 40))))
    path.write_bytes(write_book(Book("Test", (table,), "", "EUR")))
    rule = load_workbook(path)["A"].data_validations.dataValidation[0]
    assert (rule.type, rule.formula1, rule.formula2) == ("whole", "0", "40")


def test_the_contents_lead_to_every_sheet(workbook: Workbook) -> None:
    front = workbook["Summary"]
    start = next(row for row in range(1, 99) if front.cell(row, 1).value == "Contents")
    sheets = workbook.sheetnames
    links = [front.cell(start + 2 + i, 1).hyperlink for i in range(len(sheets))]
    assert [link and link.display for link in links] == sheets
    targets = [str(link and link.location).rpartition("!") for link in links]
    assert [sheet.strip("'") for sheet, _, _ in targets] == sheets
    assert {cell for _, _, cell in targets} == {"A1"}


def test_parts_of_long_formulas_alone_make_a_sheet_the_contents_know(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price"))
    long = price
    for _ in range(80):
        long = long * 0.99 + price
    rows = (Row(("price", price)), Row(("long", long)))
    front = Sheet("Front", "One line.", (Contents(),))
    got = cells(tmp_path, front, sheet("A", *rows))
    assert [got[f"Front!A{row}"] for row in range(6, 9)] == ["Front", "A", "Workings"]
    assert got["Workings!A5"] == "part of a formula"


@pytest.mark.parametrize(
    "figure", [deep_chain(200), long_sum(700), wide_tree(14), long_products(900)]
)
def test_no_formula_is_longer_than_a_person_can_follow(figure: Figure) -> None:
    book = Book("Test", (sheet("A", Row(("long", figure))),), "", "EUR")
    texts = [cell.formula for cells in composed(book).values() for cell in cells.values()]
    assert 0 < max(map(len, texts)) < READABLE
    assert sum(bool(text) for text in texts) > 2


def test_totals_are_ranges(texts: dict[str, Any]) -> None:
    assert texts["Options!F5"] == "=SUM(B5:E5)"
    assert texts["Options!B17"] == "=SUM(B5:B16)"
    row = next(c.removeprefix("Summary!A") for c, v in texts.items() if v == "Configured boat")
    assert texts[f"Summary!C{row}"] == "=Checks!B6"
    assert texts["Checks!B6"] == "=SUMPRODUCT(Summary!B6:B17,Options!F5:F16)"


def test_units_stand_in_headings_or_beside_the_numbers(texts: dict[str, Any]) -> None:
    assert [texts[f"Summary!{letter}5"] for letter in "CDEFG"] == [
        "Cost", "List price, ex tax", "Margin", "Mass added [kg]", "Hours [h]",
    ]  # fmt: skip
    assert [texts[f"Take-off!{letter}4"] for letter in "ABCDE"] == [
        "What", "Quantity", "Unit", "Remark", "Source",
    ]  # fmt: skip
    assert [texts.get(f"Take-off!C{row}") for row in (5, 6, 7, 8)] == [None, "kg", "kg", "h"]


def test_every_sheet_says_what_it_is_and_from_what_it_was_built(
    book: Book, workbook: Workbook
) -> None:
    headings = {each.title: each.heading for each in book.sheets}
    for each in workbook.worksheets:
        assert each["A1"].value == each.title
        assert str(each["A2"].value).startswith(headings.get(each.title, "").rstrip("."))
        assert each.cell(each.max_row, 1).value == FOOTER


def test_every_sheet_prints_on_pages_of_its_width(built: Path, workbook: Workbook) -> None:
    for index, each in enumerate(workbook.worksheets, 1):
        ends = (each.print_area.replace("$", "").rpartition("!")[2], each.dimensions)
        (printed, last), (_, whole) = (re.findall("[A-Z]+", end) for end in ends)
        assert printed == "A"
        assert column_index_from_string(last) <= column_index_from_string(whole)
        columns = each.column_dimensions
        widths = [columns[letter].width for letter in get_column_interval("A", last)]
        across = sum(map(column_points, widths))
        upright = each.page_setup.orientation == "portrait"
        assert upright is page_of(across, "A4").upright
        assert each.page_setup.paperSize == 9  # A4, ECMA-376 part 1, 18.3.1.63 (from memory)
        assert each.page_setup.fitToWidth == 1
        assert each.page_setup.fitToHeight in (0, 1)  # 1 where a little smaller saves a page
        assert each.print_title_rows
        footer = part(built, f"xl/worksheets/sheet{index}.xml").split("<oddFooter>")[1]
        assert "price list 2031-03 &amp;&amp; later" in footer.split("</oddFooter>")[0]


def test_heads_of_lone_tables_stay_in_view(workbook: Workbook) -> None:
    assert workbook["Options"].freeze_panes == "A5"
    assert workbook["Inputs"].freeze_panes == "A6"
    assert workbook["Summary"].freeze_panes == "A2"  # three tables: the title alone


def test_charts_are_native_described_and_hold_their_numbers(book: Book, built: Path) -> None:
    assert [name for name in parts(built) if name.startswith("xl/charts/chart")] == [
        "xl/charts/chart1.xml", "xl/charts/chart2.xml",
    ]  # fmt: skip
    drawing = etree.fromstring(part(built, "xl/drawings/drawing1.xml").encode())
    described = [each.get("descr") for each in drawing.iter("{*}cNvPr")]
    # The chart of the sheet's own table stands right under that.
    assert described == [chart.description for chart in reversed(book.sheets[0].charts)]
    chart = etree.fromstring(part(built, "xl/charts/chart2.xml").encode())
    assert [each.get("val") for each in chart.iter("{*}delete")] == ["0", "0"]
    series = list(chart.iter("{*}ser"))
    assert len(series) == len(ELEMENTS)
    for each in series:
        cached = each.findall("{*}val/{*}numRef/{*}numCache/{*}pt/{*}v")
        assert [float(value.text or "") > 0 for value in cached] == [True] * len(NAMES)
        words = each.findall("{*}cat/{*}strRef/{*}strCache/{*}pt/{*}v")
        assert tuple(word.text for word in words) == NAMES
        assert each.findtext("{*}val/{*}numRef/{*}f", "").startswith("Options!$")
    titles = [
        run.text for run in chart.iter("{http://schemas.openxmlformats.org/drawingml/2006/main}t")
    ]
    assert titles == ["Cost of each option by element", "Option", "Cost [EUR]"]


def test_a_total_of_one_is_the_figure_itself(tmp_path: Path) -> None:
    price = written(given("4.00 EUR/kg", "price", "price"))
    only = total([price], price).named("all", "all")
    got = cells(tmp_path, sheet("A", Row(("price", InputCell(price))), Row(("all", only))))
    assert got["A!B7"] == "=B6"
