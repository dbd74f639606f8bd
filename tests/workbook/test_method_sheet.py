"""The sheet of methods has the formulas that its workbook uses, each with its source, no others."""

from __future__ import annotations

from pathlib import Path

from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.workbook import Book, Table
from quoter.workbook.margin_book import margin_book
from quoter.workbook.model_book import model_book
from quoter.workbook.plan_book import plan_book
from quoter.workbook.sheets.proof import CAUTIONS
from quoter.workbook.table import Measured, Paragraphs
from tests.catalogues.written import priced, write_catalogue

RESIN = "resin = glass * (1 - glass_content) / glass_content"
CLAMP = "force = flange_pressure * flange_area + cavity_pressure * cavity_area"
LEARNT = "b = ln(slope) / ln(2)"
SETS = "sets = ceil(demand / pulls)"
THERE = "there = price * rate"


def equations(book: Book) -> dict[str | None, tuple[object, ...]]:
    (table,) = [block for block in book.sheets[-1].blocks if isinstance(block, Table)]
    assert [column.heading for column in table.columns] == [
        "Method", "Equation", "Limits", "Source",
    ]  # fmt: skip
    return {str(row.cells[1]): row.cells for row in table.rows if row.kind == "line"}


def words(book: Book) -> str:
    blocks = [block for block in book.sheets[-1].blocks if isinstance(block, Paragraphs)]
    return " ".join(text for block in blocks for text in block.lines)


def first_book(pricing: Pricing) -> Book:
    return model_book(Findings(pricing).of(next(iter(pricing.models.values()))))


def test_a_workbook_explains_every_method_with_its_source(small_pricing: Pricing) -> None:
    cutter = Findings(small_pricing).of(small_pricing.models["cutter"])
    glass = equations(model_book(cutter))[RESIN]
    assert glass[0] == "Resin that brings dry glass to a glass content by mass."
    assert glass[3] == Measured("mass balance (definition of the content); no empirical constant.")


def test_a_workbook_lists_no_formula_that_it_does_not_use(
    small_pricing: Pricing, tmp_path: Path
) -> None:
    """The small yard has a closed mould and nobody learns; a cost card has goods and hours only."""
    small = first_book(small_pricing)
    assert CLAMP in equations(small)
    assert LEARNT not in equations(small)
    card = first_book(priced(write_catalogue(tmp_path / "card", {})))
    assert not {RESIN, CLAMP, LEARNT, SETS, THERE} & equations(card).keys()
    assert "cost = issued * price" in equations(card)
    for one, told, untold in (
        (small, "Closed-mould resin", "learning curve"),
        (card, "Overhead: station budget", "Closed-mould resin"),
    ):
        assert told in words(one)
        assert untold not in words(one)
        assert all(caution in words(one) for caution in CAUTIONS)


def test_each_workbook_lists_its_own(demo_pricing: Pricing) -> None:
    findings = Findings(demo_pricing)
    plan, margins = equations(plan_book(findings)), equations(margin_book(findings))
    assert SETS in plan
    assert SETS not in margins
    assert THERE in margins
    assert THERE not in plan
    assert RESIN not in {*plan, *margins}


def test_what_is_learnt_is_told_where_somebody_learns(demo_pricing: Pricing) -> None:
    """Only the ramp's kit is learnt, and the smallest boat can't have the ramp."""
    findings = Findings(demo_pricing)
    listed = {
        id: LEARNT in equations(model_book(findings.of(model)))
        for id, model in demo_pricing.models.items()
    }
    assert listed["coastal_98"]
    assert not listed["open_68"]
