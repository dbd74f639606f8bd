"""A figure remembers which formulas gave it; a bare number has nothing to remember."""

from __future__ import annotations

from types import ModuleType

from quoter.engineering import closed_mould, labour, losses
from quoter.figures import constant
from quoter.figures.formulas import formulas_behind, remember_formulas
from quoter.pricing.margin import ROUNDING

LOSSES, SHOT = "quoter.engineering.losses.issued", "quoter.engineering.closed_mould.issued_per_shot"


def test_a_figure_remembers_every_formula_behind_it() -> None:
    net, loss = constant(3.0, "kg"), constant(0.25)
    out = losses.issued(net, losses.loss_from_waste_on_net(loss))
    assert formulas_behind([out * 2]) == {
        LOSSES,
        "quoter.engineering.losses.loss_from_waste_on_net",
    }
    assert formulas_behind([net, loss]) == set()


def test_a_formula_that_calls_another_one_is_remembered_beside_it() -> None:
    shot = closed_mould.issued_per_shot(constant(3.0, "kg"), constant(1.0, "kg"), constant(0.0))
    assert shot.by == (LOSSES, SHOT)
    assert formulas_behind([shot.named("shot", "Shot")]) == {LOSSES, SHOT}


def test_what_a_formula_only_hands_through_is_not_its_work() -> None:
    fixed = constant(2.0, "h")
    assert labour.run_time(fixed, [], []) is fixed
    films = [constant(0.4, "m")]
    assert closed_mould.thickest_films(films, constant(0.0, "m")) is films[0]
    assert fixed.by == films[0].by == ()


def test_a_name_or_an_alias_of_a_figure_keeps_what_is_behind_it() -> None:
    out = losses.issued(constant(3.0, "kg"), constant(0.25)).named("out", "Out")
    assert out.by == (LOSSES,)
    alias = out.named("again", "Again")
    assert alias.by == ()
    assert formulas_behind([alias]) == {LOSSES}


def test_formulas_in_a_table_remember_as_well() -> None:
    money = [constant(amount, "EUR") for amount in (4341.0, 10.0, 0.0)]
    assert ROUNDING["up"](*money).by == ("quoter.pricing.margin.rounded_up",)


def test_bare_numbers_go_through_as_they_are() -> None:
    assert losses.issued(8.0, 0.2) == 10.0


def test_only_public_functions_of_the_module_itself_remember() -> None:
    module = ModuleType("made_up")
    exec("def area(a):\n    return a * a\ndef _half(a):\n    return a / 2\n", vars(module))
    module.issued = losses.issued  # type: ignore[attr-defined]
    remember_formulas([module])
    side = constant(2.0, "m")
    assert module.area(side).by == ("made_up.area",)
    assert module._half(side).by == ()
    assert module.issued is losses.issued
