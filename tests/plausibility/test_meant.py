"""A value that is said to be meant is kept quiet, with its reason; what says nothing is told."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.plausibility.walk import doubts_of, left_over
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

FILM = "wet_thickness: 0.5 mm"
THICK = "wet_thickness: 1.8 mm"


def told(folder: Path, *changes: tuple[str, str, str], as_of: date | None = None) -> list[str]:
    """What is told of values of the demonstration with a text replaced in files, and of reasons."""
    yard = write_catalogue(folder / "yard", {}, base=DEMO)
    for file, old, new in changes:
        text = (yard / file).read_text(encoding="utf-8")
        assert old in text, old
        (yard / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    catalogue, _ = load_catalogue(yard, as_of)
    doubts = doubts_of(catalogue)
    for row in catalogue.records.book:
        doubts.means(row, "list_price")  # its price is low, which only the pricing knows
    found = [*doubts.found, *left_over(catalogue, doubts, whole=True)]
    return [f"{p.place.clickable}: {p.what}; {p.hint}" for p in sorted(found)]


def block(expected: str) -> tuple[str, str, str]:
    """A thick film with an `expected` under it."""
    return "materials.yaml", FILM, f"{THICK}\n    expected: {expected}"


def test_what_is_meant_is_not_told(tmp_path: Path) -> None:
    assert told(tmp_path, block("{wet_thickness: two coats for the bottom}")) == []


def test_a_line_of_a_table_is_meant_by_its_note(tmp_path: Path) -> None:
    row = ("wages.csv", "26.50 EUR/h,small", "36.50 EUR/h,expected: a new agreement; small")
    assert told(tmp_path, row) == []


def test_a_line_that_is_not_in_force_any_more_may_have_been_meant(tmp_path: Path) -> None:
    rows = (
        ("exchange.csv", "2026-10-01,USD,1.105 USD/EUR,first", "2026-10-01,USD,1.41 USD/EUR,first"),
        ("exchange.csv", "USD,1.41 USD/EUR,first", "USD,1.41 USD/EUR,expected: a bad month; first"),
        ("exchange.csv", "USD,1.075 USD/EUR,the", "USD,1.075 USD/EUR,expected: back again; the"),
    )
    assert told(tmp_path, *rows) == []


@pytest.mark.parametrize(
    ("expected", "begins"),
    [
        ("{wet_thickness: ''}", "'expected' gives no reason for 'wet_thickness'; say in words"),
        ("{wet_thicknes: thick}", "'expected' is of 'wet_thicknes', which is no value that may"),
        ("thick for the bottom", "'expected' names no value; write 'expected: {key: why}'"),
        ("[wet_thickness]", "'expected' names no value; write 'expected: {key: why}'"),
    ],
)
def test_what_gives_no_reason_keeps_nothing_quiet(
    expected: str, begins: str, tmp_path: Path
) -> None:
    found = told(tmp_path, block(expected))
    assert sum("wet thickness of 1.8 mm, and 0.3 to 1.5 mm is usual" in line for line in found) == 1
    (line,) = [line for line in found if begins in line]
    assert line.startswith("materials.yaml:134:")


def test_a_reason_that_keeps_nothing_quiet_is_told(tmp_path: Path) -> None:
    usual = ("materials.yaml", FILM, f"{FILM}\n    expected: {{wet_thickness: thick}}")
    row = ("volumes.csv", "fish_lid,,35 %,", "fish_lid,,35 %,expected: ")
    assert told(tmp_path, usual, row) == [
        "materials.yaml:134:16: 'wet_thickness' is said to be expected, and nothing of it is "
        "unusual; leave it out of 'expected'",
        "volumes.csv:10:24: nothing of this line is unusual; leave 'expected:' out of its note",
    ]


def test_a_dated_line_keeps_its_reason_when_it_is_usual_again(tmp_path: Path) -> None:
    """What is dated stays as it is, so that an earlier month can be built again."""
    row = ("wages.csv", "26.50 EUR/h,small", "26.50 EUR/h,expected: small")
    assert told(tmp_path, row) == []


def test_a_route_that_several_parts_share_is_told_once(tmp_path: Path) -> None:
    slip = ("parts.yaml", "cure: 2.5 h", "cure: 2500 h")
    (line,) = told(tmp_path, slip)
    assert "cure of 2500 h, and at most 200 h is usual" in line
