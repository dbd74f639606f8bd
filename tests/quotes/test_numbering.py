"""Numbers of quotes: how they are written, sorted and counted on."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.quotes.kept.numbering import QuoteName, missing, named, next_number, next_revision

NAMES = st.builds(
    QuoteName, st.integers(1, 9999), st.integers(1, 10**12 - 1), st.integers(0, 10**6 - 1)
)


@given(NAMES)
def test_a_name_is_read_as_it_is_written(name: QuoteName) -> None:
    assert named(str(name)) == name
    assert named(name.number) == name.first


@pytest.mark.parametrize(
    "text",
    [
        "",
        "2026",
        "2026-7",
        "2026-00007",
        "2026-0000",
        "26-0007",
        "2026-0007-R01",
        "2026-0007-r1",
        "2026-0007-R",
        "2026-0007 ",
        " 2026-0007",
        "2026-0007\n",
        "2026-0007.bak",
        "2026-\u0660\u0660\u0660\u0667",
        "-2026-0007",
        "2026-" + "9" * 5000,
    ],
)
def test_what_is_written_in_any_other_way_is_no_number(text: str) -> None:
    assert named(text) is None


@given(st.lists(NAMES), st.integers(1, 9999))
def test_the_next_number_is_one_more_than_the_last_of_its_year(
    taken: list[QuoteName], year: int
) -> None:
    counts = [name.count for name in taken if name.year == year]
    assert next_number(taken, year) == QuoteName(year, max(counts, default=0) + 1)


def test_a_year_begins_at_one_and_widens_when_it_must() -> None:
    taken = [QuoteName(2026, 9999), QuoteName(2025, 12)]
    assert str(next_number(taken, 2027)) == "2027-0001"
    assert str(next_number(taken, 2026)) == "2026-10000"
    assert sorted([QuoteName(2026, 10000), QuoteName(2026, 9999)])[0].count == 9999


def test_a_revision_alone_takes_its_number_too() -> None:
    assert str(next_number([QuoteName(2026, 7, 2)], 2026)) == "2026-0008"


def test_the_next_revision_is_one_more_than_the_last() -> None:
    name = QuoteName(2026, 7)
    assert str(next_revision([name])) == "2026-0007-R1"
    assert str(next_revision([name, QuoteName(2026, 7, 2)])) == "2026-0007-R3"


@given(st.integers(1, 30), st.integers(1, 3), st.sets(st.integers(0, 200)))
def test_those_that_are_missing_are_those_taken_away(
    numbers: int, revisions: int, away: set[int]
) -> None:
    every = [QuoteName(2026, n, r) for n in range(1, numbers + 1) for r in range(revisions + 1)]
    gone = {name for place, name in enumerate(every) if place in away and name != every[-1]}
    there = [name for name in every if name not in gone]
    # Revisions after the last one left can't be known to have been.
    last = {n: max((x.revision for x in there if x.count == n), default=0) for n in range(1, 31)}
    assert [*missing(there)] == sorted(name for name in gone if name.revision <= last[name.count])
