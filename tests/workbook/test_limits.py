"""What spreadsheet applications refuse is refused here first, with a message that says why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from quoter.figures import Figure, constant
from quoter.workbook import (
    Book,
    Chart,
    Choice,
    Column,
    InputCell,
    LimitError,
    Paragraphs,
    Row,
    Sheet,
    Table,
    write_book,
)
from quoter.workbook.limits import footer_sides
from tests.workbook.operations import given
from tests.workbook.synthetic import written

PRICE = given("4.10 EUR/kg", "price", "price")


def book(*titles: str, names: Mapping[str, Figure] | None = None, **changed: Any) -> Book:
    table = Table((Column("What"), Column("Value")), (Row(("price", written(PRICE))),))
    sheets = tuple(Sheet(title, "One line.", (table,)) for title in titles or ("Prices",))
    return Book("Test", sheets, changed.pop("footer", ""), "EUR", names or {}, **changed)


def with_block(*blocks: Table | Paragraphs, charts: tuple[Chart, ...] = ()) -> Book:
    return Book("Test", (Sheet("Prices", "One line.", blocks, charts),), "", "EUR")


@pytest.mark.parametrize(
    ("title", "message"),
    [
        ("x" * 32, "a sheet's title has 1 to 31 letters"),
        ("", "a sheet's title has 1 to 31 letters"),
        *((f"a{bad}b", "a sheet's title can't hold") for bad in "[]:*?/\\"),
        ("'quoted", "can't begin or end with an apostrophe"),
        ("quoted'", "can't begin or end with an apostrophe"),
        ("History", "for themselves"),
        ("history", "for themselves"),
        ("tab\x07", r"can't hold the letter U\+0007"),
    ],
)
def test_a_sheet_title_that_will_not_do_is_refused(title: str, message: str) -> None:
    with pytest.raises(LimitError, match=message):
        write_book(book(title))


def test_titles_that_differ_in_case_only_are_refused() -> None:
    with pytest.raises(LimitError, match="two sheets have one title: 'Costs' and 'costs'"):
        write_book(book("Costs", "costs"))


def test_a_sheet_can_t_take_the_title_of_the_workings() -> None:
    with pytest.raises(LimitError, match="two sheets have one title"):
        write_book(book("workings"))


def test_a_title_of_31_letters_with_an_apostrophe_inside_will_do() -> None:
    title = "the yard's prices " + "x" * 13
    assert len(title) == 31
    assert write_book(book(title, "Other"))


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("MAT450", "reads like a cell's address"),
        ("a1", "reads like a cell's address"),
        ("XFD1048576", "reads like a cell's address"),
        ("R1C1", "reads like a cell's address"),
        ("r", "reads like a cell's address"),
        ("C", "reads like a cell's address"),
        ("my name", "is no defined name"),
        ("1st", "is no defined name"),
        ("", "is no defined name"),
        ("a-b", "is no defined name"),
        ("true", "is no defined name"),
        ("n" * 256, "has 255 letters at most"),
    ],
)
def test_a_defined_name_that_will_not_do_is_refused(name: str, message: str) -> None:
    with pytest.raises(LimitError, match=message):
        write_book(book(names={name: PRICE}))


def test_two_names_that_differ_in_case_only_are_refused() -> None:
    with pytest.raises(LimitError, match="occurs twice"):
        write_book(book(names={"cost": PRICE, "Cost": PRICE}))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("x" * 32_768, "a cell holds 32,767 letters, this text has 32,768"),
        ("bell \x07", r"U\+0007, as in 'bell \\x07'"),
        ("half \ud83d", r"U\+D83D"),
        ("no letter \uffff", r"U\+FFFF"),
    ],
)
def test_text_no_cell_can_hold_is_refused(text: str, message: str) -> None:
    with pytest.raises(LimitError, match=message):
        write_book(with_block(Paragraphs((text,))))
    with pytest.raises(LimitError, match=message):
        write_book(with_block(Table((Column("Text"),), (Row((text,)),))))


def test_the_longest_text_is_kept_whole() -> None:
    assert write_book(with_block(Paragraphs(("x" * 32_767,))))


@pytest.mark.parametrize("word", ["x", "&", "\N{SAILBOAT}", "\N{PARTY POPPER}"])
def test_a_footer_longer_than_255_letters_with_its_codes_loses_its_middle(word: str) -> None:
    right = "&8 &A, page &P of &N"
    left, kept = footer_sides(f"Boat {word * 300} made from 0123abcd", right)
    assert kept == right
    assert (left[:8], left[-18:]) == ("&8 Boat ", "made from 0123abcd")
    stored = f"&L{left}&R{right}".encode("utf-16-le")
    assert 255 - 4 <= len(stored) // 2 <= 255
    assert footer_sides("Boat & Co", right) == ("&8 Boat && Co", right)


def test_a_calculated_figure_can_t_be_an_entry() -> None:
    table = Table((Column("Price"),), (Row((InputCell(PRICE * 2),)),))
    with pytest.raises(LimitError, match="only an input can stand in an entry cell"):
        write_book(with_block(table))


def test_a_figure_can_t_have_two_entries() -> None:
    price = written(PRICE)
    table = Table((Column("a"), Column("b")), (Row((InputCell(price), Choice(price))),))
    with pytest.raises(LimitError, match="'price' has two entry cells"):
        write_book(with_block(table))


def test_a_row_with_too_few_cells_is_refused() -> None:
    table = Table((Column("a"), Column("b")), (Row(("only one",)),), name="short")
    with pytest.raises(LimitError, match="table 'short' has 2 columns"):
        write_book(with_block(table))


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"table": "nowhere"}, "the book has no table 'nowhere'"),
        ({"values": ("Profit",)}, "needs one column 'Profit'"),
        ({"values": ()}, "needs values"),
        ({"values": ("Price",) * 28}, "more than 27 series"),
        ({"description": " "}, "a description in words"),
    ],
)
def test_a_chart_of_nothing_is_refused(changed: dict[str, Any], message: str) -> None:
    wanted: dict[str, Any] = {"table": "prices", "values": ("Price",), "description": "Prices."}
    wanted |= changed
    chart = Chart("Prices", categories="What", value_title="Price", category_title="", **wanted)
    table = Table((Column("What"), Column("Price")), (Row(("resin", PRICE)),), name="prices")
    with pytest.raises(LimitError, match=message):
        write_book(with_block(table, charts=(chart,)))


def test_a_chart_of_lines_that_are_apart_is_refused() -> None:
    rows = (Row(("resin", PRICE)), Row(("between",), kind="group"), Row(("gelcoat", PRICE * 2)))
    table = Table((Column("What"), Column("Price")), rows, name="prices")
    chart = Chart("Prices", "prices", "What", ("Price",), "Price", "Material", "Prices.")
    with pytest.raises(LimitError, match="the lines of 'prices' are not together"):
        write_book(with_block(table, charts=(chart,)))


def test_two_tables_of_one_name_are_refused() -> None:
    table = Table((Column("Price"),), (Row((PRICE,)),), name="prices")
    with pytest.raises(LimitError, match="more than one table is called 'prices'"):
        write_book(with_block(table, table))


def test_workings_before_a_sheet_that_is_not_there_are_refused() -> None:
    with pytest.raises(LimitError, match="the book has no sheet 'Method'"):
        write_book(book(names={"cost": PRICE * 2}, workings_before="Method"))


def test_an_infinite_value_is_refused() -> None:
    table = Table((Column("Value"),), (Row((constant(float("inf")),)),))
    with pytest.raises(LimitError, match="a cell can't hold inf"):
        write_book(with_block(table))
