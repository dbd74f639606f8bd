"""The sheets of questions: what follows an input, what is a number of the build and says so."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from quoter.analysis.findings import Findings
from quoter.analysis.ranges import SOURCES
from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.figures.graph import inputs_of
from quoter.pricing.price import Pricing
from quoter.workbook import Book, Chart, Choice, InputCell, Paragraphs, Sheet, Table
from quoter.workbook.compose import compose
from quoter.workbook.model_book import model_book
from quoter.workbook.table import charts_of
from tests.workbook.composed import Composed, composed

MODEL = "weekender_86"


@pytest.fixture(scope="module")
def book(demo_pricing: Pricing) -> Book:
    return model_book(Findings(demo_pricing).of(demo_pricing.models[MODEL]))


@pytest.fixture(scope="module")
def cells(book: Book) -> dict[str, dict[str, Composed]]:
    return composed(book)


def sheet_of(book: Book, title: str) -> Sheet:
    return next(sheet for sheet in book.sheets if sheet.title == title)


def table(book: Book, title: str, name: str) -> Table:
    blocks = sheet_of(book, title).blocks
    return next(block for block in blocks if isinstance(block, Table) and block.name == name)


def words(sheet: Sheet) -> str:
    return " ".join(line for block in sheet.blocks if isinstance(block, Paragraphs)
                    for line in block.lines)  # fmt: skip


def column(found: Table, heading: str) -> list[Any]:
    index = [each.heading for each in found.columns].index(heading)
    return [row.cells[index] for row in found.rows if row.kind == "line"]


def test_an_effect_is_value_by_slope_by_rise_and_the_slope_a_bare_number(
    cells: dict[str, dict[str, Composed]],
) -> None:
    found = cells["Sensitivity"]
    rise = next(cell for cell in found.values() if cell.role == "entry")
    head = next(c for c in found.values() if c.value == "Input")
    row, at_rise = head.row + 1, f"B{rise.row}"
    value = found[f"B{row}"].formula
    assert value.startswith("Inputs!B")
    assert found[f"G{row}"].formula == f"({value}*F{row})*{at_rise}"
    for column in "DEF":  # at its low, at its high, and the slope
        assert found[f"{column}{row}"].formula == ""
        assert isinstance(found[f"{column}{row}"].value, float)
    assert found[f"H{row}"].formula.startswith(f"G{row}/")


def test_sensitivity_covers_the_boat_and_every_option_and_says_what_is_exact(book: Book) -> None:
    sheet = sheet_of(book, "Sensitivity")
    first = table(book, "Sensitivity", "effects_first")
    others = table(book, "Sensitivity", "effects_others")
    groups = [row.cells[0] for row in others.rows if row.kind == "group"]
    options = table(book, "Costs", "option_costs")
    named = {row.cells[0] for row in options.rows} | {"Orvesund 8.6 Weekender"}
    assert {first.title, *groups} == named
    assert max(len(first.rows), 12) == 12
    assert {*column(first, "The slope holds"), *column(others, "The slope holds")} == {
        "exactly", "nearly",
    }  # fmt: skip
    assert "numbers of this build" in words(sheet)
    (chart,) = charts_of(sheet)
    assert (chart.table, chart.values) == ("effects_first", ("Effect of the rise",))


def test_risk_lists_the_ranges_and_says_what_is_simulated(book: Book) -> None:
    ranges = table(book, "Risk", "ranges")
    assert len(ranges.rows) > 40
    for row in ranges.rows:
        assert row.source
    results = table(book, "Risk", "risks")
    for heading in ("Mean", "Standard deviation"):
        assert all(figure.args for figure in column(results, heading))
    for what in ("Mean", "P10", "P50", "P80", "P90"):
        assert all(figure.op == "const" for figure in column(results, f"{what}, simulated"))
    for cost, p80, contingency in zip(
        *(column(results, name) for name in ("Full cost", "P80, simulated", "Contingency to P80")),
        strict=True,
    ):
        assert contingency.value == pytest.approx(p80.value - cost.value)
    assert "Simulated by this build" in words(sheet_of(book, "Risk"))


def test_shares_of_variance_add_up_to_the_whole(book: Book) -> None:
    shares: dict[str, float] = {}
    name = ""
    for row in table(book, "Risk", "risk_groups").rows:
        if row.kind == "group":
            name = str(row.cells[0])
        else:
            figure = row.cells[-1]
            assert isinstance(figure, Figure)
            shares[name] = shares.get(name, 0.0) + figure.value
    assert len(shares) == 18
    assert shares == pytest.approx(dict.fromkeys(shares, 1.0))


def test_every_input_says_which_range_it_has_and_why(book: Book, demo_pricing: Pricing) -> None:
    found = table(book, "Risk", "all_inputs")
    whole = {figure.label for figure in inputs_of(
        [item.assembly.cost for item in demo_pricing.models[MODEL].everything])}  # fmt: skip
    assert {row.cells[0] for row in found.rows} == whole
    assert all(row.cells[2] and row.source for row in found.rows)
    assert {*column(found, "Range")} == {"exact", *SOURCES}
    counts = table(book, "Risk", "range_sources")
    assert len(counts.rows) == 18
    for row in counts.rows:
        parts = [cell.value for cell in row.cells[2:9:2] if isinstance(cell, Figure)]
        assert sum(parts) == pytest.approx(1.0)


def test_a_yard_that_states_no_ranges_has_those_of_the_house(small_pricing: Pricing) -> None:
    priced = next(iter(small_pricing.models.values()))
    book = model_book(Findings(small_pricing).of(priced))
    told = {*column(table(book, "Risk", "all_inputs"), "Range")}
    assert told == {"exact", "by the house"}


def test_targets_allow_what_the_price_leaves_after_provisions_and_target_margin(
    book: Book, demo_pricing: Pricing
) -> None:
    found = table(book, "Targets", "targets")
    terms = demo_pricing.terms
    kept = 1 - terms.provisions.value - terms.target.value
    for net, allowed, cost, gap in zip(
        *(column(found, name) for name in ("Net price", "Cost allowed", "Full cost", "Gap")),
        strict=True,
    ):
        assert allowed.value == pytest.approx(net.value * kept)
        assert gap.value == pytest.approx(cost.value - allowed.value)


def test_a_cut_in_one_element_alone_closes_the_gap(book: Book, demo_pricing: Pricing) -> None:
    cuts = table(book, "Targets", "cuts")
    gaps = column(table(book, "Targets", "targets"), "Gap")
    labour = column(cuts, "Labour")
    priced = demo_pricing.models[MODEL]
    items = [priced.boat, *priced.options.values(), *priced.packages.values()]
    for item, cut, gap in zip(items, labour, gaps, strict=True):
        assert cut.value * item.assembly.groups["labour"].value == pytest.approx(gap.value)


def of_lines(assembly: Assembly) -> float:
    """Organic HAP of an assembly's lines and those of what it consumes, if nothing were lost."""
    own = [m.line.emission.value for m in assembly.materials if m.line.emission is not None]
    return sum(own) + sum(of_lines(u.assembly) * u.quantity.value for u in assembly.recipe.uses)


def test_emissions_of_a_unit_are_its_lines_carried_through_its_yields(
    book: Book, demo_pricing: Pricing
) -> None:
    lines = column(table(book, "Emissions", "emitting"), "Organic HAP")
    assert len(lines) > 20
    assert all(gas.value > 0 for gas in lines)
    found = table(book, "Emissions", "emissions")
    units = dict(zip(column(found, "Boat, option or package"), column(found, "Organic HAP"),
                     strict=True))  # fmt: skip
    item = demo_pricing.models[MODEL].options["side_single"].assembly
    assert of_lines(item) < units[item.name].value < 1.2 * of_lines(item)
    said = words(sheet_of(book, "Emissions"))
    assert "not a compliance record" in said
    assert "as it is built up or stated" in said


def test_every_number_of_a_model_names_a_line_of_the_catalogue(book: Book) -> None:
    bare = [
        row.cells[0]
        for sheet in book.sheets
        for block in sheet.blocks
        if isinstance(block, Table)
        for row in block.rows
        if row.kind == "line" and not row.source
        and any(isinstance(cell, Figure | InputCell | Choice) for cell in row.cells)
    ]  # fmt: skip
    assert bare == ["Rise of each input in turn"]


def test_a_chart_among_the_blocks_stands_between_its_neighbours(book: Book) -> None:
    sheet = sheet_of(book, "Sensitivity")
    at = next(n for n, block in enumerate(sheet.blocks) if isinstance(block, Chart))
    laid = next(each for each in compose(book).sheets if each.sheet.title == "Sensitivity")
    (drawing,) = laid.drawings
    before, after = sheet.blocks[at - 1], sheet.blocks[at + 1]
    assert isinstance(before, Table)
    assert isinstance(after, Table)
    below = drawing.row + drawing.height / 15
    assert laid.tables[before.name].lines[-1] < drawing.row < below <= laid.tables[after.name].first


def test_the_sheets_of_two_builds_of_the_same_catalogue_are_the_same(
    book: Book, demo_pricing: Pricing
) -> None:
    again = model_book(Findings(demo_pricing).of(demo_pricing.models[MODEL]))
    assert composed(book) == composed(replace(again))
