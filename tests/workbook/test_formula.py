"""The text of formulas: parentheses, ranges, rounding, and what is too long for a cell."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

import pytest

from quoter.figures import (
    Figure,
    at_least,
    constant,
    dot,
    power_sum,
    round_down,
    round_to,
    round_up,
    total,
    where,
)
from quoter.figures.ops import both, equal, less, less_or_equal
from quoter.workbook import LimitError
from quoter.workbook.formula import LONGEST, AddressOf, FormulaTooLongError, FormulaWriter, number
from tests.workbook.long_formulas import deep_chain, long_products, long_sum, wide_tree
from tests.workbook.operations import every_operation

# Functions whose results change without a change of inputs: a sheet recalculates them for ever.
VOLATILE = {"INDIRECT", "OFFSET", "NOW", "TODAY", "RAND", "RANDBETWEEN", "CELL", "INFO"}
# In every spreadsheet since ECMA-376 of 2006, part 4, section 3.17.7 (from memory).
OF_2006 = {"ABS", "AND", "IF", "LN", "MAX", "MIN", "NA", "ROUND", "ROUNDDOWN", "ROUNDUP", "ROW",
           "SUM", "SUMPRODUCT"}  # fmt: skip


def formula(figure: Figure, address: AddressOf) -> str:
    return FormulaWriter(address).formula(figure)


def condition(figure: Figure, address: AddressOf) -> str:
    return FormulaWriter(address).condition(figure)


def cell(value: float = 1.0) -> Figure:
    return Figure(value, op="input", label="x")


def at(places: Mapping[Figure, str]) -> Callable[[Figure], str | None]:
    return places.get


def column(letter: str, first: int, count: int, sheet: str = "") -> dict[Figure, str]:
    return {cell(): f"{sheet}{letter}{first + i}" for i in range(count)}


A, B, C = cell(2.0), cell(3.0), cell(4.0)
PLACES = {A: "B2", B: "B3", C: "Inputs!B4"}


@pytest.mark.parametrize(
    ("figure", "text"),
    [
        (A + B * C, "B2+(B3*Inputs!B4)"),
        ((A + B) * C, "(B2+B3)*Inputs!B4"),
        (A - (B - C), "B2-(B3-Inputs!B4)"),
        (A / (B / C), "B2/(B3/Inputs!B4)"),
        ((-A) ** 2, "(-B2)^2"),
        (-(A**2), "(-(B2^2))"),
        ((A**3) ** 2, "(B2^3)^2"),
        (A * -2, "B2*(-2)"),
        (A * 1e-5, "B2*1E-05"),
        (1 - A, "1-B2"),
        (at_least(A, 0.0), "MAX(B2,0)"),
        (A.named("alias", "alias"), "B2"),
        (round_to(A, constant(0.5)), "ROUND(ROUND((B2/0.5),9),0)*0.5"),
        (round_up(A / B), "ROUNDUP(ROUND((B2/B3),9),0)"),
        (round_down(A), "ROUNDDOWN(ROUND(B2,9),0)"),
        (where(less(A, B), A, B), "IF(B2<B3,B2,B3)"),
        (where(A, B, C), "IF(B2<>0,B3,Inputs!B4)"),
        (where(A - B, B, C), "IF((B2-B3)<>0,B3,Inputs!B4)"),
        (where(both(less(A, B), equal(B, C)), A, B), "IF(AND(B2<B3,B3=Inputs!B4),B2,B3)"),
        (where(both(A, B), A, B), "IF(MIN(B2,B3)<>0,B2,B3)"),
        (less_or_equal(A, B), "IF(B2<=B3,1,0)"),
        (both(less(A, B), less(B, C)), "MIN(IF(B2<B3,1,0),IF(B3<Inputs!B4,1,0))"),
    ],
)
def test_every_operation_is_in_parentheses_of_its_own(figure: Figure, text: str) -> None:
    assert formula(figure, at(PLACES)) == text


def test_a_sum_over_a_column_is_one_range() -> None:
    cells = column("B", 2, 39)
    assert formula(total(list(cells), A), at(cells)) == "SUM(B2:B40)"


def test_a_sum_in_another_order_is_still_one_range() -> None:
    cells = column("B", 2, 5)
    assert formula(total(list(reversed(cells)), A), at(cells)) == "SUM(B2:B6)"


def test_a_sum_over_a_row_of_another_sheet_is_one_range() -> None:
    cells = {cell(): f"'Take-off'!{letter}7" for letter in ("Y", "Z", "AA")}
    assert formula(total(list(cells), A), at(cells)) == "SUM('Take-off'!Y7:AA7)"


def test_a_range_never_holds_a_cell_that_is_not_in_the_sum() -> None:
    cells = column("B", 2, 2) | column("B", 5, 2) | column("D", 9, 1)
    assert formula(total(list(cells), A), at(cells)) == "SUM(B2:B3,B5:B6,D9)"


def test_ranges_don_t_run_from_one_sheet_to_another() -> None:
    cells = column("B", 2, 2, "Costs!") | column("B", 4, 2, "Hours!")
    assert formula(total(list(cells), A), at(cells)) == "SUM(Costs!B2:B3,Hours!B4:B5)"


def test_a_cell_twice_in_a_sum_counts_twice() -> None:
    assert formula(total([A, A, B], A), at(PLACES)) == "SUM(B2:B3,B2)"


def test_a_zero_without_a_cell_adds_nothing_to_a_sum() -> None:
    assert formula(total([A, Figure(0.0), B], A), at(PLACES)) == "SUM(B2:B3)"


def test_a_sum_of_many_scattered_cells_has_at_most_255_arguments() -> None:
    cells = {cell(): f"B{2 * i}" for i in range(1, 301)}
    text = formula(total(list(cells), A), at(cells))
    assert text.startswith("SUM(SUM(B2,B4,")
    assert text.count("SUM(") == 3


def test_products_over_two_columns_are_one_sumproduct() -> None:
    left, right = column("B", 2, 9), column("D", 12, 9, "Costs!")
    text = formula(dot(list(left), list(right)), at(left | right))
    assert text == "SUMPRODUCT(B2:B10,Costs!D12:D20)"


def test_products_of_a_column_and_a_row_are_written_one_by_one() -> None:
    right = {cell(): "D7", cell(): "E7"}
    left = column("B", 2, 2)
    text = formula(dot(list(left), list(right)), at(left | right))
    assert text == "SUM((B2*D7),(B3*E7))"


def test_products_with_a_gap_are_two_sumproducts() -> None:
    left, right = column("B", 2, 2) | column("B", 5, 2), column("C", 2, 2) | column("C", 5, 2)
    text = formula(dot(list(left), list(right)), at(left | right))
    assert text == "SUM(SUMPRODUCT(B2:B3,C2:C3),SUMPRODUCT(B5:B6,C5:C6))"


def test_a_condition_is_the_comparison_itself() -> None:
    assert condition(less(A, B), at(PLACES)) == "B2<B3"
    named = less(A, B).named("test", "test")
    assert condition(named, at(PLACES | {named: "C9"})) == "C9<>0"


def test_a_sum_of_powers_says_so_when_its_rows_don_t_reach() -> None:
    text = formula(power_sum(A, B, C), at(PLACES))
    assert text.startswith("IF(B3>5000,NA(),SUMPRODUCT((ROW($1:$5000)>=(B2-0.5))*")
    many = cell(40_000.0)
    assert "ROW($1:$80000)" in formula(power_sum(A, many, C), at(PLACES | {many: "B9"}))


def test_no_function_is_volatile_or_newer_than_2007() -> None:
    used = {
        name
        for figure in every_operation()
        for name in re.findall(r"([A-Z]+)\(", formula(figure, lambda _: None))
    }
    assert used == OF_2006
    assert not used & VOLATILE


@pytest.mark.parametrize("value", [float("inf"), float("-inf"), float("nan")])
def test_a_number_no_cell_can_hold_is_refused(value: float) -> None:
    with pytest.raises(LimitError, match=f"a cell can't hold {value}"):
        number(value)


def test_numbers_keep_every_digit() -> None:
    for value in (0.1 + 0.2, 1 / 3, 1e300, 5e-324, 123456789.125, -0.0, 7.0):
        assert float(number(value)) == value
    assert (number(7.0), number(-0.0)) == ("7", "0")


@pytest.mark.parametrize(
    "figure", [deep_chain(80), long_sum(700), wide_tree(14), long_products(900)]
)
def test_a_formula_too_long_for_a_cell_is_refused(figure: Figure) -> None:
    addresses: dict[Figure, str] = {}

    def address(asked: Figure) -> str | None:
        return None if asked.op != "input" else addresses.setdefault(asked, f"B{len(addresses)}")

    with pytest.raises(FormulaTooLongError, match=r"a formula of [\d,]+ (letters|levels)"):
        formula(figure, address)


def test_the_limit_is_that_of_spreadsheets() -> None:
    far = cell()
    places = {far: "'" + "x" * 25 + "'!B2"}

    def length(terms: int) -> int:
        return len(formula(total([far * 1.0] * terms, A), at(places)))

    term = length(3) - length(2)
    most = 2 + (LONGEST - 1 - length(2)) // term  # the sign of equality counts too
    assert LONGEST - term <= length(most) < LONGEST
    with pytest.raises(FormulaTooLongError, match="letters"):
        length(most + 1)
