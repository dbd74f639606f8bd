"""Formulas as JavaScript, run by Chromium, against the same formulas as Python has them."""

from __future__ import annotations

import math
import shutil
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from playwright.sync_api import Page as Tab
from playwright.sync_api import sync_playwright

from quoter.figures import Figure, constant, round_down, round_to, round_up, where
from quoter.figures.graph import evaluate, in_order
from quoter.figures.kernel import KERNEL
from quoter.figures.ops import both, equal, less, less_or_equal
from quoter.pages.script import HELPERS, SCRIPT, ScriptError, number, script_function
from tests.figures.made import written
from tests.figures.random_graphs import Graph, assume_no_kink, graphs

CLOSE = 1e-12


@pytest.fixture(scope="module")
def tab() -> Iterator[Tab]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        yield chromium.new_page()
        chromium.close()


def run(tab: Tab, source: str, calls: list[list[float]]) -> list[dict[str, Any]]:
    """What the function `asked` of a source returns for each list of arguments."""
    body = (
        f"(calls) => {{ 'use strict'; {HELPERS}\n{source}\n return calls.map(c => asked(...c)); }}"
    )
    found: list[dict[str, Any]] = tab.evaluate(body, calls)
    return found


def agree(tab: Tab, make: Callable[..., Figure], calls: list[list[float]]) -> None:
    inputs = {f"x{n}": Figure(value, op="input") for n, value in enumerate(calls[0])}
    output = make(*inputs.values())
    found = run(tab, script_function("asked", inputs, {"result": output}), calls)
    for call, result in zip(calls, found, strict=True):
        (expected,) = evaluate([output], dict(zip(inputs.values(), call, strict=True)))
        assert math.isclose(result["result"], expected, rel_tol=CLOSE, abs_tol=CLOSE), call


def test_every_operation_of_the_kernel_can_be_written() -> None:
    assert SCRIPT.keys() == KERNEL.keys()


@pytest.mark.slow
@settings(
    max_examples=150,
    deadline=None,
    phases=[Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(graph=graphs())
def test_random_formulas_agree(tab: Tab, graph: Graph) -> None:
    assume_no_kink(graph.output, 1e-9)
    inputs = {f"x{n}": written(figure) for n, figure in enumerate(graph.inputs)}
    source = script_function("asked", inputs, {"result": graph.output})
    calls = [[figure.value * scale for figure in inputs.values()] for scale in (1.0, 1.25)]
    first, second = run(tab, source, calls)
    assert math.isclose(first["result"], graph.output.value, rel_tol=1e-9, abs_tol=1e-9)
    moved = {figure: figure.value * 1.25 for figure in inputs.values()}
    (expected,) = evaluate([graph.output], moved)
    if all(abs(figure.value) > 1e-6 for figure in in_order([graph.output])):
        assert math.isclose(second["result"], expected, rel_tol=1e-6, abs_tol=1e-6)


HALVES = [0.5, -0.5, 1.5, 2.5, -2.5, 2.345, 0.1 * 3 / 0.1, 2.9999999999, 3.01, -3.01, 0.0, 1e15]
NEAR = [*HALVES, 1.0000000004, 1.0000000006, -1.9999999996, 2**-10, 123456.5000000001]


@pytest.mark.parametrize(
    "rounding",
    [round_up, round_down, lambda x: round_to(x, constant(1.0))],
    ids=["up", "down", "to"],
)
def test_rounding_is_the_kernels(tab: Tab, rounding: Callable[[Figure], Figure]) -> None:
    agree(tab, rounding, [[value] for value in NEAR])


PAIRS = [
    [1.0, 2.0],
    [2.0, 1.0],
    [1.0, 1.0],
    [0.1 + 0.2, 0.3],
    [1.0, 1.0 + 1e-14],
    [-0.3, -0.1 - 0.2],
]


@pytest.mark.parametrize("test", [less, less_or_equal, equal], ids=["lt", "le", "eq"])
def test_comparisons_count_fifteen_digits(tab: Tab, test: Callable[..., Figure]) -> None:
    agree(tab, test, PAIRS)
    agree(tab, lambda a, b: where(both(test(a, b), less(a, 10.0)), a, -b), PAIRS)


def test_a_figure_used_twice_is_computed_once() -> None:
    x = Figure(2.0, op="input")
    square = x * x
    text = script_function("asked", {"x": x}, {"y": square + square, "z": square})
    assert text.count("x * x") == 1


def test_a_label_stays_a_remark() -> None:
    x = Figure(2.0, op="input")
    named = (x + 1).named("key", "one more\n}; alert(1) //\u2028 done")
    text = script_function("asked", {"x": x}, {"y": named})
    (line,) = (line for line in text.splitlines() if "alert" in line)
    assert line == "  const step1 = x + 1.0; // one more }; alert(1) // done"


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_what_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ScriptError, match="is no number"):
        number(value)


def test_what_is_no_name_is_refused() -> None:
    with pytest.raises(ScriptError, match="can't be a name"):
        script_function("asked", {"x y": Figure(1.0, op="input")}, {})
