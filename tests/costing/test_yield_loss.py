"""What scrapped units cost the good ones, shown as elements of their own."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly
from quoter.costing.yield_loss import Entering, lost_to_yield
from quoter.figures import Figure, constant
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import assemblies, demo

NOTHING = constant(0.0, "EUR")
CLOSE = 1e-9


def same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=CLOSE, abs_tol=1e-9)


def money(*values: float) -> list[Figure]:
    return [constant(value, "EUR") for value in values]


def passing_from(made: Assembly, index: int) -> float:
    passes = [op.passes for op in made.recipe.operations[index:]]
    return math.prod(passed.value for passed in passes if passed is not None)


def entry_of(made: Assembly, stage: str) -> int:
    uses = [
        stage in (*operation.uses, f"operation {number}")
        for number, operation in enumerate(made.recipe.operations, 1)
    ]
    return uses.index(True) if True in uses else 0


def test_each_cost_is_divided_by_what_passes_from_its_operation_on() -> None:
    """Cost per good unit = sum over operations of c_i / product of y_k from i on."""
    tried = 0
    rates = demo().costing.rates
    general = 1 + rates.general.value
    for key, made in assemblies().items():
        if made.passed is None:
            continue
        tried += 1
        costs = [0.0] * len(made.recipe.operations)
        hours = [0.0] * len(made.recipe.operations)
        for material in made.materials:
            on_top = sum(figure.value for figure in material.besides.values())
            costs[entry_of(made, material.line.stage)] += material.cost.value + on_top
        costs[0] += sum(per_pull.value for _, per_pull in made.tooling)
        for index, done in enumerate(made.operations):
            costs[index] += (done.labour.value + done.variable.value + done.fixed.value) * general
            hours[index] += done.paid.value
            if done.rework is not None:
                again = done.rework.variable.value + done.rework.fixed.value
                costs[index] += again * general
                hours[index] += done.rework.paid.value
        for use in made.recipe.uses:
            at = entry_of(made, "core")
            costs[at] += use.assembly.cost.value * use.quantity.value
            hours[at] += use.assembly.all_hours.value * use.quantity.value
        good = sum(cost / passing_from(made, index) for index, cost in enumerate(costs))
        good += sum(one.cost.value / one.units.value for one in made.recipe.one_off)
        assert same(made.cost.value, good), key
        worked = sum(time / passing_from(made, index) for index, time in enumerate(hours))
        assert same(made.all_hours.value, worked), key
        assert same(made.passed.value, passing_from(made, 0)), key
    assert tried > 20


def test_without_yields_nothing_is_lost() -> None:
    for key, made in assemblies().items():
        if made.passed is None and not made.recipe.uses:
            assert not [element for element in made.elements if element.startswith("yield")], key
            assert made.yield_hours.value == 0


def test_an_option_passes_on_the_loss_of_its_parts() -> None:
    door = demo().models["weekender_86"].options["side_single"].assembly
    parts = [use.assembly for use in door.recipe.uses]
    assert all(operation.passes is None for operation in door.recipe.operations)
    below = sum(part.elements["yield_variable"].value for part in parts)
    assert same(door.elements["yield_variable"].value, below)
    assert same(door.yield_hours.value, sum(part.yield_hours.value for part in parts))


def test_hours_in_a_scrapped_panel_s_core_are_lost_with_it() -> None:
    panel = assemblies()["part.side_door__gel_white"]
    (core,) = panel.recipe.uses
    own = sum(
        (done.paid.value + (done.rework.paid.value if done.rework else 0.0))
        * (1 / passing_from(panel, index) - 1)
        for index, done in enumerate(panel.operations)
    )
    scrapped = core.assembly.all_hours.value * (
        1 / passing_from(panel, entry_of(panel, "core")) - 1
    )
    assert scrapped > 0.001
    expected = own + scrapped + core.assembly.yield_hours.value
    assert panel.yield_hours.value == pytest.approx(expected, rel=CLOSE)


def test_a_route_that_passes_everything_loses_nothing() -> None:
    assert lost_to_yield([Entering("a", None), Entering("b", None)], "k", "n", NOTHING) is None
    assert lost_to_yield([], "k", "n", NOTHING) is None
    loss = lost_to_yield([Entering("a", constant(1.0), money(5.0))], "k", "n", NOTHING)
    assert loss is not None
    assert (loss.variable.value, loss.fixed.value, loss.hours.value) == (0.0, 0.0, 0.0)


def test_what_enters_after_the_last_scrap_is_never_lost() -> None:
    route = [
        Entering("mould", constant(0.5), money(10.0), money(4.0), [constant(2.0, "h")]),
        Entering("pack", None, money(100.0)),
    ]
    loss = lost_to_yield(route, "part.x", "X", NOTHING)
    assert loss is not None
    assert (loss.variable.value, loss.fixed.value, loss.hours.value) == (10.0, 4.0, 2.0)
    assert loss.passed.value == 0.5


def test_scrap_takes_along_all_that_entered_before() -> None:
    route = [
        Entering("first", constant(0.8), money(8.0)),
        Entering("second", constant(0.5), money(3.0)),
    ]
    loss = lost_to_yield(route, "part.x", "X", NOTHING)
    assert loss is not None
    assert loss.variable.value == pytest.approx((8 / 0.4 - 8) + (3 / 0.5 - 3))
    assert loss.passed.key == "part.x.passed"
    assert loss.passed.label == "X: passed in all"


def test_a_material_no_operation_names_enters_at_the_first(tmp_path: Path) -> None:
    passes = {
        "options.yaml": (
            "{name: Finishing, station: finishing, fixed: 4 h}",
            "{name: Finishing, station: finishing, fixed: 4 h, passes: 80 %}",
        )
    }
    folder = write_catalogue(tmp_path / "c", {}, passes)
    card = priced(folder).models[MODEL].options[OPTION].assembly
    assert card.cost.value == pytest.approx(165.25 / 0.8, rel=1e-12)
    assert card.elements["yield_fixed"].value == pytest.approx(20.25 / 0.8 - 20.25, rel=1e-9)
