"""The catalogue lines a number is said to come from."""

from __future__ import annotations

from quoter.figures import Figure, Origin, constant, stated, total
from quoter.problems import Place
from quoter.workbook.sources import source_of, sources_of


def line(number: int, effective: str = "") -> Figure:
    origin = Origin(Place("parts.yaml", number, 1, "area"), "2 m2", effective)
    return Figure(2.0, op="input", key=f"parts.{number}", label=f"area {number}", origin=origin)


def test_an_input_names_its_line_and_since_when_it_holds() -> None:
    assert source_of(line(4, "2031-03-01")) == "parts.yaml:4 area, from 2031-03-01"
    assert source_of(line(4) * 2.0) == ""


def test_a_result_names_the_lines_it_is_made_of() -> None:
    assert sources_of(line(4) * line(5) + line(4)) == "parts.yaml:4 area, parts.yaml:5 area"


def test_lines_behind_a_named_step_count_only_where_none_is_nearer() -> None:
    step = (line(4) * line(5)).named("step", "a step")
    assert sources_of(step * line(6)) == "parts.yaml:6 area"
    assert sources_of(step * 2.0) == "parts.yaml:4 area, parts.yaml:5 area"


def test_of_many_lines_the_first_three_are_named() -> None:
    whole = total([line(number) for number in range(1, 9)], constant(0.0))
    assert sources_of(whole) == "parts.yaml:1 area, parts.yaml:2 area, parts.yaml:3 area and others"


def test_a_stated_number_names_the_line_it_is_about() -> None:
    given = stated(line(4) * 3.0, "given", "given", Place("options.yaml", 9, 1, "door"))
    assert sources_of(given) == "options.yaml:9 door"
    assert sources_of(given * 2.0) == "options.yaml:9 door"


def test_a_number_of_the_method_comes_from_nowhere() -> None:
    assert sources_of(constant(12.0)) == ""
    assert sources_of(constant(12.0) * 2.0) == ""
