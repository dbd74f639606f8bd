"""How a problem is told: place, finding, the line with a caret, hint; each once."""

from __future__ import annotations

import pytest

from quoter.problems import (
    CatalogueError,
    Place,
    Problem,
    Problems,
    closest,
    listed,
    nearest,
    quoted,
)

LONG = "x" * 60 + "!" + "y" * 60


def test_a_problem_is_told_with_its_line_and_a_caret() -> None:
    problem = Problem(
        Place("moulds.yaml", 4, 11), "no-unit", "cost '5' needs a unit", "write it", "    cost: 5"
    )
    assert str(problem) == (
        "moulds.yaml:4:11: cost '5' needs a unit [no-unit]\n"
        "        cost: 5\n              ^\n    write it"
    )


def test_a_warning_says_so() -> None:
    assert str(Problem(Place("a.csv"), "stale", "is old", warning=True)) == (
        "a.csv: warning: is old [stale]"
    )


@pytest.mark.parametrize(
    ("line", "column", "shown"),
    [
        ("\ta: b", 5, ["    \ta: b", "    \t   ^"]),  # a tab is as wide below as above
        ("帆: b", 4, ["    帆: b", "        ^"]),  # wide letters take two places
        ("e\u0301: b", 5, ["    e\u0301: b", "       ^"]),  # combined ones none
        ("a\x07: b", 5, ["    a�: b", "        ^"]),  # no bell rings on the terminal
        (
            "x" * 60 + "!" + "y" * 60,
            61,
            ["    …" + "x" * 49 + "!" + "y" * 48 + "…", " " * 54 + "^"],
        ),
    ],
)
def test_the_caret_stands_under_its_letter(line: str, column: int, shown: list[str]) -> None:
    told = str(Problem(Place("f", 1, column), "kind", "what", "hint", line)).splitlines()
    assert told[1:-1] == shown


def test_problems_are_told_once_and_in_order_of_their_places() -> None:
    problems = Problems()
    problems.add(Place("b.yaml", 1), "kind", "second", "h")
    problems.add(Place("a.yaml", 9), "kind", "first", "h")
    problems.add(Place("b.yaml", 1), "kind", "second", "h")
    problems.warn(Place("a.yaml", 1), "kind", "only a warning", "h")
    with pytest.raises(CatalogueError) as stopped:
        problems.stop_if_any()
    assert [problem.what for problem in stopped.value.problems] == ["first", "second"]
    assert [problem.what for problem in problems.warnings] == ["only a warning"]


def test_warnings_alone_stop_nothing() -> None:
    problems = Problems()
    problems.warn(Place("a.yaml", 1), "kind", "only a warning", "h")
    problems.stop_if_any()


def test_what_holds_of_many_lines_is_gathered() -> None:
    problems = Problems()
    for line in (2, 3, 5, 7, 11, 13):
        problems.add(
            Place("a.csv", line, 1), "unknown-id", "unknown supplier 'x'", "none is defined"
        )
    problems.add(Place("a.csv", 4, 1), "unknown-id", "unknown supplier 'y'", "none is defined")
    problems.gather()
    assert [(p.place.line, p.hint) for p in problems.errors] == [
        (2, "none is defined (also on lines 3, 5, 7, 11 and 1 more)"),
        (4, "none is defined"),
    ]


def test_the_nearest_choice_is_named_or_some_are_listed() -> None:
    assert nearest("polyl", ["polyol", "peroxide"]) == "did you mean 'polyol'?"
    assert nearest("MAT", ["mat", "veil"]) == "did you mean 'mat'?"
    assert nearest("zzz", ["mat", "veil"]) == "expected one of 'mat', 'veil'"
    assert nearest("zzz", ["mat"]) == "the only one is 'mat'"
    assert nearest("zzz", []) == "none is defined"
    assert nearest("zzz", "abcdefghijk").endswith("'g', 'h', …")
    assert closest("zzz", ["mat"]) == ""


def test_words_from_a_file_are_quoted_on_one_short_line() -> None:
    assert quoted("a\n  b") == "'a b'"
    assert quoted("a\x07b") == "'a�b'"
    assert quoted("x" * 99) == "'" + "x" * 59 + "…'"
    assert listed(["a"]) == "'a'"
    assert listed("abcd") == "'a', 'b', 'c' and 'd'"
    assert listed("abcdef") == "'a', 'b', 'c' and 3 more"
