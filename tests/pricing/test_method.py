"""A formula is told in words by its own docstring, all of it."""

from __future__ import annotations

import inspect
import pkgutil

from quoter import engineering
from quoter.pricing.method import COSTING, PRICES, Measured, Method, chapters, method_of

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
        (Measured("area", "laminated area, flanges included", "m2"),),
        Measured("", "resin mass", "kg"),
        ">>> 1 + 1\n2",
    )


def test_every_module_of_engineering_is_a_chapter() -> None:
    names = {f"quoter.engineering.{m.name}" for m in pkgutil.iter_modules(engineering.__path__)}
    assert {module.__name__ for module in COSTING} == names | {"quoter.pricing.margin"}


def test_every_public_formula_is_there_with_all_its_parts() -> None:
    found = [method for chapter in chapters((*COSTING, *PRICES)) for method in chapter.methods]
    assert len(found) > 60
    for method in found:
        assert all((method.sentence, method.equation, method.limits, method.source)), method.name
        assert method.given, method.name
        assert method.result, method.name
        assert method.example.startswith(">>> "), method.name
    public = sum(
        inspect.isfunction(function) and function.__module__ == module.__name__
        and not name.startswith("_")
        for module in (*COSTING, *PRICES)
        for name, function in vars(module).items()
    )  # fmt: skip
    assert len(found) == public
