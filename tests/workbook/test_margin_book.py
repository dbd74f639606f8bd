"""The workbook of the margin review: what it stores, what follows a change, what may be sorted."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from quoter.analysis.findings import Findings
from quoter.analysis.margins import (
    BOAT_WORDS,
    MarginLine,
    margin_lines,
    most_eroded,
    sales_year,
    worst,
)
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.pricing.proposals import proposals_of
from quoter.resources import demo_catalogue_folder
from quoter.workbook import Book, Table, write_book
from quoter.workbook.margin_book import margin_book, sheet_titles
from quoter.workbook.table import MARK
from tests.catalogues.written import FOLDER, priced
from tests.workbook.compare import RELATIVE, alike, differences, values
from tests.workbook.margin import MARKETS, Built, head_row, opened
from tests.workbook.recalculate import recalculate
from tests.workbook.validity import schema_errors

FIRST, HOME = "contract", "home"
# A file of the demonstration; what stands before a value there, the last time if more than once;
# the new value; the sheet that has a cell for it; and what to write there.
CHANGES = (
    ("price_book.csv", ",,side_pair,", "7150 EUR", "List prices", 7150),
    ("price_book.csv", ",weekender_86,fish_lid,", "1240 EUR", "List prices", 1240),
    ("models.yaml", "id: longshore_76.*?list_price: ", "66900 EUR", "List prices", 66900),
    ("yard.yaml", "id: contract.*?discount: ", "17.5 %", "Inputs", 0.175),
    ("yard.yaml", "floor_margin: ", "29 %", "Inputs", 0.29),
    ("yard.yaml", "target_margin: ", "34 %", "Inputs", 0.34),
    ("yard.yaml", "name: Sales commission.*?fraction: ", "4.5 %", "Inputs", 0.045),
    ("volumes.csv", "weekender_86,side_step,,", "65 %", "Volumes and costs", 0.65),
    ("volumes.csv", "open_68,,", "75", "Volumes and costs", 75),
)


@pytest.fixture(scope="module")
def small_book(small_pricing: Pricing) -> Book:
    return margin_book(Findings(small_pricing))


def sales_of(file: Path) -> dict[tuple[str, str, str], tuple[Any, ...]]:
    """(market and class of buyer, model, what) -> the numbers of its row of Sales."""
    sheet = opened(file, data_only=True)["Sales"]
    found, place = {}, ""
    for cells in sheet.iter_rows(min_row=head_row(sheet) + 1, values_only=True):
        if cells[0] and not cells[1]:
            place = cells[0]
        elif cells[1]:
            found[place, cells[0], cells[1]] = cells[2:9]
    return found


def expected_sales(pricing: Pricing) -> Iterator[tuple[tuple[str, str, str], tuple[Any, ...]]]:
    for line in margin_lines(pricing):
        for buyer, sale in line.sales.items():
            what = line.name if line.option else "Boat with standard equipment"
            units = None if line.units is None else line.units.value
            numbers = (
                line.list_price.value,
                sale.net.value,
                sale.contribution.value,
                sale.margin.value,
                sale.margin_fraction.value,
                sale.breach.value,
                None if units is None else units * sale.margin.value,
            )
            name = next(str(b.name) for b in pricing.terms.buyers if b.id == buyer)
            yield (f"{MARKETS[line.market]}, {name}", line.model_name, what), numbers


def expected_names(pricing: Pricing) -> Iterator[tuple[str, float]]:
    lines = margin_lines(pricing)
    for market in MARKETS:
        own = [line for line in lines if line.market == market]
        for buyer in (str(b.id) for b in pricing.terms.buyers):
            year = sales_year(own, buyer, "year", "year")
            assert year is not None
            yield f"year.{market}.{buyer}.net", year.net.value
            yield f"year.{market}.{buyer}.margin", year.margin.value
            yield f"year.{market}.{buyer}.margin_fraction", year.fraction.value
            yield f"below.{market}.{buyer}", sum(line.sales[buyer].breach.value for line in own)


def named(file: Path) -> dict[str, Any]:
    workbook = opened(file, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        sheet, cell = next(iter(defined.destinations))
        found[name] = workbook[sheet][cell.replace("$", "")].value
    return found


def proposed_of(file: Path) -> dict[tuple[str, str, str], tuple[Any, ...]]:
    """(what, model, market) -> price proposed, margins, and whether below the floor."""
    sheet = opened(file, data_only=True)["Proposed by model"]
    rows = [row[:8] for row in sheet.iter_rows(values_only=True) if row[7] is not None]
    return {row[:3]: row[3:] for row in rows[1:]}


def expected_proposals(
    pricing: Pricing,
) -> Iterator[tuple[tuple[str, str, str], tuple[float | None, ...]]]:
    rule = pricing.catalogue.yard.policy.repricing
    assert rule is not None
    for each in proposals_of(pricing, rule):
        market, _, option = each.line
        what = each.name if option else "Boat with standard equipment"
        for on in each.covered:
            model = str(pricing.models[on.model].model.name)
            numbers = (
                each.proposed.value,
                None if on.before is None else on.before.first.value,
                on.after.first.value,
                on.after.least.value,
                on.after.breach.value,
            )
            yield (what, model, MARKETS.get(market, "all")), numbers


def change(catalogue: Path, file: str, before: str, new: str) -> str:
    """Write a new value into a file; the place of its line, as sources say it."""
    text = (catalogue / file).read_text("utf-8")
    *_, found = re.finditer(rf"({before})[\d.]+( EUR| %)?", text, re.DOTALL)
    start, end = found.end(1), found.end()
    (catalogue / file).write_text(text[:start] + new + text[end:], "utf-8")
    return f"{file}:{text.count(chr(10), 0, start) + 1} "


def open_cell(sheet: Any, source: str) -> Any:
    """The cell that a reader may change, in the row of a source."""
    rows = [row for row in sheet.iter_rows() if any(source in str(cell.value) for cell in row)]
    (cell,) = [cell for row in rows for cell in row if not cell.protection.locked]
    return cell


@pytest.mark.slow
def test_every_cell_recalculated_elsewhere_is_what_the_file_stores(margin_review: Built) -> None:
    assert differences(margin_review.file, margin_review.recalculated) == []


def test_a_schema_validator_finds_no_error(margin_review: Built) -> None:
    assert schema_errors(margin_review.file) == []


@pytest.mark.slow
def test_every_sale_is_that_of_the_pricing(margin_review: Built) -> None:
    wanted = dict(expected_sales(margin_review.pricing))
    told = sales_of(margin_review.recalculated)
    assert told.keys() == wanted.keys()
    assert len(wanted) == sum(len(line.sales) for line in margin_lines(margin_review.pricing))
    for key, numbers in wanted.items():
        assert all(map(alike, told[key], numbers)), key


@pytest.mark.slow
def test_what_a_reader_changes_gives_what_a_build_with_it_gives(
    margin_review: Built, tmp_path: Path
) -> None:
    workbook = opened(margin_review.file)
    catalogue = tmp_path / "catalogue"
    shutil.copytree(demo_catalogue_folder(), catalogue)
    for file, start, new, sheet, value in CHANGES:
        source = change(catalogue, file, start, new)
        open_cell(workbook[sheet], source).value = value
    workbook.save(tmp_path / "edited.xlsx")
    changed = recalculate([tmp_path / "edited.xlsx"], tmp_path / "recalculated")[0]
    pricing, _ = price_catalogue(catalogue)

    told, wanted = sales_of(changed), dict(expected_sales(pricing))
    assert told.keys() == wanted.keys()
    for key, numbers in wanted.items():
        assert all(map(alike, told[key], numbers)), key
    was = dict(expected_sales(margin_review.pricing))
    moved = {key for key in wanted if wanted[key] != was[key]}
    recommended = ("Northern dealers, Contract dealer", "Orvesund 9.8 Coastal", "Ramp hoist")
    package = ("Orvemark, Sold by the yard", "Orvesund 8.6 Weekender", "Day fishing")
    assert {recommended, package} <= moved

    results, years = named(changed), dict(expected_names(pricing))
    before = dict(expected_names(margin_review.pricing))
    for name, number in years.items():
        assert results[name] == pytest.approx(number, rel=RELATIVE), name
    assert all(years[f"below.{id}.{FIRST}"] > before[f"below.{id}.{FIRST}"] for id in MARKETS)

    proposed, proposals = proposed_of(changed), dict(expected_proposals(pricing))
    assert proposed.keys() == proposals.keys()
    for what, margins in proposals.items():
        assert all(map(alike, proposed[what], margins)), what
    assert proposals != dict(expected_proposals(margin_review.pricing))
    assert "CHECK" not in values(changed).values()


def test_the_worst_and_the_most_eroded_stand_in_order(margin_review: Built) -> None:
    lines = [
        m for m in margin_lines(margin_review.pricing, margin_review.before) if m.market == HOME
    ]
    (sheet,) = [sheet for sheet in margin_review.book.sheets if sheet.title == "Worst"]
    lowest, eroded = [block for block in sheet.blocks if isinstance(block, Table)]
    assert _words(lowest) == [_in_full(line) for line in worst(lines, FIRST)]
    assert _words(eroded) == [_in_full(line) for line in most_eroded(lines, FIRST)]
    assert len(lowest.rows) == len(eroded.rows) == 10
    file = opened(margin_review.file, data_only=True)["Worst"]
    lost = [
        row[3]
        for row in file.iter_rows(values_only=True)
        if isinstance(row[3], float) and isinstance(row[8], float)
    ]
    assert lost == sorted(lost, reverse=True)
    assert len(lost) == len(eroded.rows)
    assert lost[0] > 0


def _words(table: Table) -> list[str]:
    return [str(row.cells[0]) for row in table.rows]


def _in_full(line: MarginLine) -> str:
    return f"{line.model_name}: {line.name if line.option else 'Boat with standard equipment'}"


def test_the_sheets_show_what_was_so_at_the_last_list(margin_review: Built) -> None:
    sheet = opened(margin_review.file, data_only=True)[MARKETS[HOME]]
    head = head_row(sheet)
    columns = {(_over(sheet, head - 1, c.column), c.value): c.column for c in sheet[head]}
    last = "Last list, Contract dealer"
    then = {(line.model_name, line.name): line for line in margin_lines(margin_review.before)
            if line.market == HOME and line.option}  # fmt: skip
    seen = 0
    for row in range(head + 1, head + 100):
        line = then.get((sheet.cell(row, 1).value, sheet.cell(row, 2).value))
        if line is not None:
            cost, fraction, lost = (
                sheet.cell(row, columns[last, heading]).value
                for heading in ("Full cost [EUR]", "Margin of net", "Margin lost [points]")
            )
            now = sheet.cell(row, columns["Contract dealer", "Margin of net"]).value
            assert cost == pytest.approx(line.cost.value, rel=RELATIVE)
            assert fraction == pytest.approx(line.sales[FIRST].margin_fraction.value, rel=RELATIVE)
            assert lost == pytest.approx((fraction - now) * 100, abs=1e-9)
            seen += 1
    assert seen == len(then) > 40


def _over(sheet: Any, row: int, column: int) -> str:
    """The heading above a column, which may be joined over several."""
    while column > 1 and sheet.cell(row, column).value is None:
        column -= 1
    return str(sheet.cell(row, column).value or "")


def test_the_first_sheet_says_what_was_found(margin_review: Built) -> None:
    texts = [
        value for cell, value in values(margin_review.file).items() if cell.startswith("Summary!")
    ]
    below = sum(
        line.sales[FIRST].breach.value
        for line in margin_lines(margin_review.pricing)
        if line.market == HOME
    )
    found = next(text for text in texts if "Below the floor" in str(text))
    assert f"{below:.0f} at Contract dealer" in found
    assert any("at the last list" in str(t) or "of the last list" in str(t) for t in texts)


def test_all_inputs_can_be_changed_and_no_cost_can(margin_review: Built) -> None:
    workbook = opened(margin_review.file)
    open_cells = {
        sheet.title: sum(not c.protection.locked for row in sheet.iter_rows() for c in row)
        for sheet in workbook
        if sheet.protection.sheet
    }
    unlocked = {title for title, count in open_cells.items() if count}
    assert unlocked == {"Inputs", "List prices", "Volumes and costs"}
    records = margin_review.pricing.catalogue.records
    assert open_cells["Volumes and costs"] == len(records.volumes)
    texts = values(margin_review.file)
    given = [cell for cell in texts if cell.startswith("Workings!C") and texts[cell] == "as given"]
    assert [texts[cell.replace("!C", "!A")] for cell in given] == []


def test_without_an_earlier_list_or_a_plan_nothing_is_said_of_them(small_book: Book) -> None:
    headings = [
        f"{column.over} {column.heading}"
        for sheet in small_book.sheets
        for block in sheet.blocks
        if isinstance(block, Table)
        for column in block.columns
    ]
    assert not [h for h in headings if "last list" in h.lower() or "year" in h]
    assert "Proposed prices" not in [sheet.title for sheet in small_book.sheets]
    assert not [name for name in small_book.names if name.startswith(("year", "model"))]
    assert small_book.names["below.home.dealer"].value == 2  # the hatch, on both models


def test_every_sheet_has_its_heading_and_its_footer(margin_review: Built) -> None:
    sheets = margin_review.book.sheets
    assert len({sheet.title for sheet in sheets}) == len(sheets)
    assert "2026-11-01" in margin_review.book.footer
    assert margin_review.book.footer.endswith(f"workbook {MARK}")


def test_a_workbook_is_marked_by_what_it_holds(margin_review: Built) -> None:
    book, marks = margin_review.book, list[str]()
    other = replace(book, title="Another title")
    for file in (margin_review.file.read_bytes(), write_book(book), write_book(other)):
        with ZipFile(BytesIO(file)) as parts:
            texts = [parts.read(name).decode() for name in parts.namelist()]
        assert not any(MARK in text for text in texts)
        found = {mark for text in texts for mark in re.findall(r"workbook ([0-9a-f]{12})\b", text)}
        marks += found
    one, again, another = marks
    assert one == again != another


@pytest.mark.parametrize(
    ("names", "titles"),
    [
        (["summary", "Sales"], ["summary 2", "Sales 2"]),
        (["A/B", "A B"], ["A B", "A B 2"]),
        (["'Quay'", "[]"], ["Quay", "Market"]),
        (["x" * 40, "X" * 40], ["x" * 31, "X" * 29 + " 2"]),
    ],
)
def test_markets_are_called_what_a_sheet_can_be_called(names: list[str], titles: list[str]) -> None:
    assert sheet_titles(names, ["Summary", "Sales"]) == titles


def test_markets_of_odd_names_make_a_book(tmp_path: Path) -> None:
    odd: Mapping[str, str] = {"name: Home,": "name: 'History',", "name: Abroad,": "name: 'A/B*',"}
    shutil.copytree(FOLDER / "small", tmp_path / "odd")
    text = (tmp_path / "odd" / "yard.yaml").read_text("utf-8")
    for old, new in odd.items():
        assert text.count(old) == 1
        text = text.replace(old, new)
    (tmp_path / "odd" / "yard.yaml").write_text(text, "utf-8")
    book = margin_book(Findings(priced(tmp_path / "odd")))
    assert {"History 2", "A B"} <= {sheet.title for sheet in book.sheets}
    (tmp_path / "odd.xlsx").write_bytes(write_book(book))
    assert schema_errors(tmp_path / "odd.xlsx") == []


@pytest.mark.slow
def test_prices_of_one_market_stand_on_its_own_sheet_and_line(tmp_path: Path) -> None:
    catalogue = tmp_path / "catalogue"
    shutil.copytree(demo_catalogue_folder(), catalogue)
    with (catalogue / "price_book.csv").open("a", encoding="utf-8") as book:
        book.write("2026-09-01,north,weekender_86,side_pair,91000 NOK,\n")
        book.write("2026-09-01,trade,,deck_hatch,900 EUR,\n")
        book.write("2026-09-01,north,open_68,,520000 NOK,\n")
    pricing, _ = price_catalogue(catalogue)
    built = tmp_path / "book.xlsx"
    built.write_bytes(write_book(margin_book(Findings(pricing))))
    again = recalculate([built], tmp_path / "recalculated")[0]
    assert differences(built, again) == []
    told, wanted = sales_of(again), dict(expected_sales(pricing))
    assert told.keys() == wanted.keys()
    assert all(all(map(alike, told[key], wanted[key])) for key in wanted)
    entries = list(opened(again)["List prices"].iter_rows(values_only=True))
    assert {(row[0], row[3]) for row in entries if row[0] in MARKETS.values()} == {
        (MARKETS["north"], 91000), (MARKETS["trade"], 900), (MARKETS["north"], 520000),
            (MARKETS["north"], 51500),
    }  # fmt: skip
    sheet = opened(again, data_only=True)[MARKETS["north"]]
    shown = {row[:2]: row[3] for row in sheet.iter_rows(values_only=True) if row[1]}
    assert shown["Orvesund 8.6 Weekender", "Side entry, pair"] == 91000
    assert shown["Orvesund 6.8 Open", "Boat with standard equipment"] == 520000


def test_boats_of_one_price_share_its_line_and_cell(tmp_path: Path) -> None:
    folder = tmp_path / "shared"
    shutil.copytree(FOLDER / "small", folder)
    models = (folder / "models.yaml").read_text("utf-8")
    assert models.count("list_price: 21900 EUR") == models.count("list_price: 74500 EUR") == 1
    models = models.replace("list_price: 21900 EUR", "list_price: &price 21900 EUR")
    models = models.replace("list_price: 74500 EUR", "list_price: *price")
    (folder / "models.yaml").write_text(models, "utf-8")
    pricing = priced(folder)
    file = tmp_path / "shared.xlsx"
    file.write_bytes(write_book(margin_book(Findings(pricing))))
    names = ", ".join(str(model.model.name) for model in pricing.models.values())
    rows = [row[:4] for row in opened(file)["List prices"].iter_rows(values_only=True)]
    assert [row for row in rows if row[3] == 21900] == [("all", names, BOAT_WORDS, 21900)]
