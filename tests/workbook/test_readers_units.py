"""The demonstration's workbooks for a yard that reads US units, and for one that reads both."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from openpyxl import load_workbook

from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import write_book
from quoter.workbook.columns import unit_text
from quoter.workbook.margin_book import margin_book
from quoter.workbook.model_book import model_book
from quoter.workbook.plan_book import plan_book
from quoter.workbook.retelling import in_readers_units
from quoter.workbook.table import Table, figure_of
from tests.figures.test_readers import in_pint
from tests.workbook.compare import differences
from tests.workbook.recalculate import recalculate

MODEL = "longshore_76"
METRIC = re.compile(
    r"(?<![\w'\u2019.])(kg|g|t|um|mm|cm|m|mL|L|N|kN|Pa|kPa|bar)[23²³]?(?![\w'\u2019])(?!\.\w)"
)  # fmt: skip


def _written(pricing: Pricing, folder: Path) -> list[Path]:
    findings = Findings(pricing)
    books = {
        "model": model_book(findings.of(pricing.models[MODEL])),
        "margin": margin_book(findings),
        "plan": plan_book(findings),
    }
    for name, book in books.items():
        (folder / f"{name}.xlsx").write_bytes(write_book(book))
    return [folder / f"{name}.xlsx" for name in books]


@pytest.fixture(scope="module")
def us_books(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    pricing, _ = price_catalogue(demo_catalogue_folder(), settings=["units=US"])
    return _written(pricing, tmp_path_factory.mktemp("us"))


@pytest.fixture(scope="module")
def metric_books(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    pricing, _ = price_catalogue(demo_catalogue_folder())
    return _written(pricing, tmp_path_factory.mktemp("metric"))


@pytest.mark.slow
@pytest.mark.parametrize("units", ["US", "metric and US"])
def test_books_in_other_units_recalculate_to_what_they_hold(units: str, tmp_path: Path) -> None:
    pricing, _ = price_catalogue(demo_catalogue_folder(), settings=[f"units={units}"])
    books = _written(pricing, tmp_path)
    (tmp_path / "again").mkdir()
    for built, again in zip(books, recalculate(books, tmp_path / "again"), strict=True):
        assert differences(built, again) == []


def test_no_cell_of_a_us_yard_shows_a_metric_unit(us_books: list[Path]) -> None:
    for path in us_books:
        assert sorted(set(_metric(path))) == []


def _metric(path: Path) -> Iterator[str]:
    for sheet in load_workbook(path):
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.data_type != "f":
                    if METRIC.search(cell.value):
                        yield f"{sheet.title}: {cell.value}"
                    if METRIC.search(cell.number_format.replace("General", "")):
                        yield f"{sheet.title}: {cell.number_format}"


def test_named_results_of_a_us_yard_are_the_metric_ones(
    us_books: list[Path], metric_books: list[Path]
) -> None:
    """A name holds a value in the unit that its cell is shown in; masses are told in pounds."""
    compared = 0
    for ours, theirs in zip(us_books, metric_books, strict=True):
        told, other = _named(ours), _named(theirs)
        assert told.keys() == other.keys()
        for name, value in told.items():
            pounds = (
                0.45359237 if name.endswith(("_mass", "_emission")) else 1.0
            )  # NIST Handbook 44, Appendix C
            assert value * pounds == pytest.approx(other[name], rel=1e-9, abs=1e-9), name
            compared += pounds != 1
    assert compared > 10


def _named(path: Path) -> dict[str, float]:
    workbook = load_workbook(path, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        for title, cell in defined.destinations:
            found[name] = workbook[title][cell.replace("$", "")].value
    return {name: value for name, value in found.items() if isinstance(value, int | float)}


def test_whoever_reads_both_has_a_column_of_each_that_says_the_same() -> None:
    pricing, _ = price_catalogue(demo_catalogue_folder(), settings=["units=metric and US"])
    book = model_book(Findings(pricing).of(pricing.models[MODEL]))
    pairs = 0
    for sheet in in_readers_units(book).sheets:
        for table in (block for block in sheet.blocks if isinstance(block, Table)):
            headings = [column.heading for column in table.columns]
            for number, heading in enumerate(headings):
                if not heading.endswith(", US"):
                    continue
                # A column that says the units of the first stays beside it.
                mine_at = number - 1 - (headings[number - 1] == "Unit")
                assert heading == f"{headings[mine_at]}, US"
                for row in table.rows:
                    first, second = figure_of(row.cells[mine_at]), figure_of(row.cells[number])
                    if second is not None:
                        assert first is not None
                        mine = first.value * in_pint(first.unit)
                        assert second.value * in_pint(second.unit) == pytest.approx(mine, rel=1e-9)
                        assert not METRIC.search(unit_text(second.unit))
                        pairs += 1
    assert pairs > 100
