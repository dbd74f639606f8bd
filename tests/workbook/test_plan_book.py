"""The workbook of the planned year: what follows a changed take rate, and what says it does not."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from quoter.analysis.findings import Findings
from quoter.analysis.plan import Plan, plan_of
from quoter.figures import Figure
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import Book, Flag, InputCell, Table, write_book
from quoter.workbook.compose import compose
from quoter.workbook.plan_book import plan_book
from tests.outputs import every_book
from tests.workbook.compare import RELATIVE
from tests.workbook.composed import composed
from tests.workbook.recalculate import recalculate

OPTION, RATE = "side_step", "65 %"  # far from what the demonstration plans


@pytest.fixture(scope="module")
def book(demo_pricing: Pricing) -> Book:
    return plan_book(Findings(demo_pricing))


def expected(plan: Plan) -> Iterator[tuple[str, float]]:
    """Defined name and value of the key results of a plan computed without a workbook."""
    yield "year_emission", plan.emission.value
    yield "year_margin", sum(margin.value for margin in plan.margins.values())
    for load in plan.stations:
        yield f"station_{load.station}_hours", load.hours.value
        yield f"station_{load.station}_utilisation", load.utilisation.value
        yield f"station_{load.station}_under", load.under.value
    for mould in plan.moulds:
        yield f"mould_{mould.mould.id}_pulls", mould.pulls.value
        if mould.sets is not None:
            yield f"mould_{mould.mould.id}_sets", mould.sets.value


def named(file: Path) -> dict[str, Any]:
    workbook = load_workbook(file, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        sheet, cell = next(iter(defined.destinations))
        found[name] = workbook[sheet][cell.replace("$", "")].value
    return found


@pytest.mark.slow
def test_a_changed_take_rate_gives_what_a_plan_with_that_rate_gives(
    demo_pricing: Pricing, book: Book, tmp_path: Path
) -> None:
    built, edited = tmp_path / "plan.xlsx", tmp_path / "edited.xlsx"
    built.write_bytes(write_book(book))
    workbook = load_workbook(built)
    name = demo_pricing.models["weekender_86"].options[OPTION].assembly.name
    (cell,) = [
        row[2] for row in workbook["Volumes"].iter_rows()
        if (row[0].value, row[1].value) == ("Orvesund 8.6 Weekender", name)
    ]  # fmt: skip
    assert not cell.protection.locked
    cell.value = float(RATE.removesuffix(" %")) / 100
    workbook.save(edited)
    changed = named(recalculate([edited], tmp_path / "recalculated")[0])

    catalogue = tmp_path / "catalogue"
    shutil.copytree(demo_catalogue_folder(), catalogue)
    volumes = catalogue / "volumes.csv"
    text = volumes.read_text("utf-8")
    line = re.compile(rf"^(weekender_86,{OPTION},,)\d+ %", re.MULTILINE)
    assert len(line.findall(text)) == 1
    volumes.write_text(line.sub(rf"\g<1>{RATE}", text), "utf-8")
    wanted = dict(expected(plan_of(price_catalogue(catalogue)[0])))
    before = dict(expected(plan_of(demo_pricing)))

    assert len(wanted) > 50
    for key, value in wanted.items():
        assert changed[key] == pytest.approx(value, rel=RELATIVE), key
    moved = {key for key in wanted if wanted[key] != before[key]}
    assert {"year_margin", "station_assembly_hours", "mould_step_ab_pulls"} <= moved


def test_what_is_stated_says_so_and_what_is_live_rests_on_volumes(book: Book) -> None:
    formulas = {
        title: sum(bool(cell.formula) for cell in cells.values())
        for title, cells in composed(book).items()
    }
    assert min(formulas[title] for title in ("Demand", "Moulds", "Stations", "Materials")) > 20
    assert formulas["Draws"] > 1000
    assert sum(laid.last_row for laid in compose(book).sheets) < 15_000
    headings = [
        column.heading
        for sheet in book.sheets
        for block in sheet.blocks
        if isinstance(block, Table)
        for column in block.columns
    ]
    # Margins of options and of what a colour changes in them, prices, draws.
    assert sum("as of this build" in heading for heading in headings) == 4


def test_boats_and_take_rates_are_the_readers(book: Book, demo_pricing: Pricing) -> None:
    rows = demo_pricing.catalogue.records.volumes
    (volumes,) = [sheet for sheet in book.sheets if sheet.title == "Volumes"]
    entries = [
        cell.figure
        for block in volumes.blocks
        if isinstance(block, Table)
        for row in block.rows
        for cell in row.cells
        if isinstance(cell, InputCell)
    ]
    written = [row.boats if row.boats is not None else row.take_rate for row in rows]
    assert set(entries) == {figure for figure in written if figure is not None}


def test_the_busiest_station_is_told_by_a_formula(book: Book, demo_pricing: Pricing) -> None:
    (front,) = [sheet for sheet in book.sheets if sheet.title == "Summary"]
    (table,) = [b for b in front.blocks if isinstance(b, Table) and b.name == "bottleneck"]
    said = {}
    for row in table.rows:
        station, flag = row.cells[0], row.cells[-1]
        assert isinstance(flag, Flag)
        assert flag.figure.args  # a formula, so that it moves to another station with the load
        said[station] = flag.figure.value
    bottleneck = plan_of(demo_pricing).bottleneck
    assert bottleneck is not None
    name = str(demo_pricing.costing.stations[bottleneck.station].name)
    assert [station for station, most in said.items() if most] == [name]


def test_every_number_names_a_line_of_the_catalogue(book: Book) -> None:
    bare = [
        row.cells[0]
        for sheet in book.sheets
        for block in sheet.blocks
        if isinstance(block, Table)
        for row in block.rows
        if row.kind == "line" and not row.source
        and any(isinstance(cell, Figure | InputCell) for cell in row.cells)
    ]  # fmt: skip
    assert bare == []


def test_a_catalogue_without_volumes_has_no_plan(small_pricing: Pricing) -> None:
    names = [name for name, _ in every_book(Findings(small_pricing))]
    assert names == [*(f"{model}.xlsx" for model in small_pricing.models), "margin-review.xlsx"]
