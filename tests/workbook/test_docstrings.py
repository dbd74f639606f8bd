"""The table of methods says what the docstrings of the formulas say, all of them."""

from __future__ import annotations

import importlib
import inspect
import pkgutil

from quoter import engineering
from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.workbook import Table
from quoter.workbook.model_book import model_book
from quoter.workbook.sheets.proof import MODULES, Method, chapters, method_of

DOCSTRING = inspect.cleandoc(
    """Resin held by one ply.

        resin = area * weight
              * (1 - fraction) / fraction

    The fraction is by mass.

    Args:
        area: laminated area,
            flanges included [m2]
    Returns:
        resin mass [kg]
    Limits: 0.2 <= fraction <= 0.8;
        else ask
    Source: mass balance

    >>> 1 + 1
    2
    """
)


def test_a_docstring_is_taken_apart() -> None:
    assert method_of("resin", DOCSTRING) == Method(
        "resin",
        "Resin held by one ply.",
        "resin = area * weight\n* (1 - fraction) / fraction",
        "0.2 <= fraction <= 0.8; else ask",
        "mass balance",
    )


def test_every_module_of_engineering_is_a_chapter() -> None:
    names = {f"quoter.engineering.{m.name}" for m in pkgutil.iter_modules(engineering.__path__)}
    assert {module.__name__ for module in MODULES} == names | {"quoter.pricing.margin"}


def test_every_public_formula_is_there_with_all_its_parts() -> None:
    found = [method for chapter in chapters() for method in chapter.methods]
    assert len(found) > 60
    for method in found:
        assert all((method.sentence, method.equation, method.limits, method.source)), method.name
    public = sum(
        inspect.isfunction(function) and function.__module__ == module.__name__
        and not name.startswith("_")
        for module in map(importlib.import_module, (module.__name__ for module in MODULES))
        for name, function in vars(module).items()
    )  # fmt: skip
    assert len(found) == public


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
