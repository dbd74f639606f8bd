"""The sheet of methods has every formula of the costing, with its source."""

from __future__ import annotations

from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.workbook import Table
from quoter.workbook.model_book import model_book


def test_a_workbook_explains_every_method_with_its_source(small_pricing: Pricing) -> None:
    priced = next(iter(small_pricing.models.values()))
    sheet = model_book(Findings(small_pricing).of(priced)).sheets[-1]
    (table,) = [block for block in sheet.blocks if isinstance(block, Table)]
    assert [column.heading for column in table.columns] == [
        "Method", "Equation", "Limits", "Source",
    ]  # fmt: skip
    rows = {row.cells[1]: row.cells for row in table.rows if row.kind == "line"}
    glass = rows["resin = glass * (1 - glass_content) / glass_content"]
    assert glass[0] == "Resin that brings dry glass to a glass content by mass."
    assert glass[3] == "mass balance (definition of the content); no empirical constant."
