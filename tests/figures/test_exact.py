"""A number leaves a figure by one of two doors, and neither takes money of another currency."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from quoter.figures import constant, money_in, plain_number

PACKAGE = Path(__file__).resolve().parents[2] / "quoter"
DOORS = PACKAGE / "figures" / "exact.py"


def test_an_amount_is_given_in_its_own_currency_alone() -> None:
    price = constant(1450.5, "EUR", "delivery")
    assert money_in(price, "EUR") == Decimal("1450.5")
    assert money_in(constant(2.1, "USD/kg"), "USD/kg") == Decimal("2.1")
    for wanted in ("JPY", "EUR/kg", ""):
        with pytest.raises(TypeError, match=r"delivery = 1450.5 \[EUR\] is not in "):
            money_in(price, wanted)
    with pytest.raises(TypeError, match=r"= 3 \[\] is not in EUR"):
        money_in(constant(3), "EUR")
    with pytest.raises(TypeError, match=r"length = 3 \[m\] is not in m"):
        money_in(constant(3, "m", "length"), "m")


def test_a_plain_number_holds_no_currency() -> None:
    assert plain_number(constant(0.25)) == Decimal("0.25")
    assert plain_number(constant(7.9248, "m")) == Decimal("7.9248")
    for unit in ("EUR", "EUR/kg", "NOK/EUR"):
        with pytest.raises(TypeError, match="is money: say in which currency it is wanted"):
            plain_number(constant(1450, unit, "delivery"))


def decimals_of_values(file: Path) -> Iterator[str]:
    """Where a module makes a Decimal of what is called `value`, by itself."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        made = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if made and node.func.id in ("Decimal", "exact"):  # type: ignore[attr-defined]
            inner = [part for given in node.args for part in ast.walk(given)]  # type: ignore[attr-defined]
            if any(isinstance(part, ast.Attribute) and part.attr == "value" for part in inner):
                yield f"{file.relative_to(PACKAGE)}:{node.lineno}"  # type: ignore[attr-defined]


def test_there_is_no_third_door() -> None:
    found = {place for file in PACKAGE.rglob("*.py") for place in decimals_of_values(file)}
    # A rise's share of a price, which has no unit: the price's own number is multiplied by it.
    allowed = {"importing/rise.py"}
    assert len([*decimals_of_values(DOORS)]) == 2
    found = {place.partition(":")[0] for place in found} - allowed
    assert found == {"figures/exact.py"}
