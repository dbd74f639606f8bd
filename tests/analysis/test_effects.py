"""The effect of a rise of each input: against evaluation anew, and where a slope is exact."""

from __future__ import annotations

import pytest

from quoter.analysis.sensitivity import (
    LiveEffect,
    a_rise,
    effects_on,
    live_effects,
    most_rise,
    tried,
)
from quoter.figures import Figure, at_most, constant
from quoter.figures.graph import evaluate
from quoter.pricing.price import Priced, Pricing

SMALL = 1e-6


def given(value: float, name: str) -> Figure:
    return Figure(value, op="input", key=name, label=name)


def effects_of(item: Priced, rise: Figure) -> tuple[LiveEffect, ...]:
    assembly = item.assembly
    found = effects_on(assembly.cost)[:12]
    return live_effects(assembly.cost, found, rise, assembly.recipe.key, assembly.name)


def test_the_rise_is_ten_percent_until_someone_changes_it() -> None:
    rise = a_rise()
    assert (rise.value, rise.op, rise.form) == (0.1, "input", "percent")


def test_the_effect_of_a_small_rise_is_what_a_new_evaluation_gives(demo_pricing: Pricing) -> None:
    rise = a_rise()
    for priced in demo_pricing.models.values():
        for item in (priced.boat, *priced.options.values()):
            cost = item.assembly.cost
            effects = effects_of(item, rise)
            live = evaluate([effect.effect for effect in effects], {rise: SMALL})
            for effect, moved in zip(effects, live, strict=True):
                raised = {effect.figure: effect.figure.value * (1 + SMALL)}
                anew = evaluate([cost], raised)[0] - cost.value
                assert moved == pytest.approx(anew, rel=1e-3, abs=1e-9 * abs(cost.value))


def test_a_slope_that_holds_exactly_gives_the_whole_effect_of_any_rise(
    demo_pricing: Pricing,
) -> None:
    rise, exact = a_rise(), 0
    for item in demo_pricing.models["weekender_86"].options.values():
        cost = item.assembly.cost
        for effect in effects_of(item, rise):
            if effect.straight:
                exact += 1
                room = most_rise(effect.figure)
                step = 0.25 if room is None else min(0.25, room)
                anew = evaluate([cost], {effect.figure: effect.figure.value * (1 + step)})[0]
                live = evaluate([effect.effect], {rise: 0.25})[0]
                assert cost.value + live == pytest.approx(anew, rel=1e-9)
    assert exact > 20


def test_the_largest_effect_comes_first_and_no_more_than_asked(small_pricing: Pricing) -> None:
    item = next(iter(small_pricing.models.values())).boat
    sizes = [abs(effect.effect.value) for effect in effects_of(item, a_rise())]
    assert sizes == sorted(sizes, reverse=True)
    cost = item.assembly.cost
    assert len(live_effects(cost, effects_on(cost)[:3], a_rise(), "boat", "boat")) == 3
    assert sizes[0] == max(abs(effect.effect) for effect in effects_on(cost))


def test_straight_lines_are_told_from_bends_and_corners() -> None:
    line, bend = given(4.0, "line"), given(3.0, "bend")
    corner, inverse = given(2.0, "corner"), given(5.0, "inverse")
    result = line * 7.0 + bend**2 + at_most(corner, 2.1) + constant(1.0) / inverse
    effects = effects_on(result)
    told = {effect.figure.key: effect.straight for effect in tried(result, effects)}
    assert told == {"line": True, "bend": False, "corner": False, "inverse": False}


def test_a_result_of_nothing_has_effects_but_no_fraction_of_it() -> None:
    one, other = given(2.0, "one"), given(2.0, "other")
    result = one - other
    effects = live_effects(result, effects_on(result), a_rise(), "key", "name")
    assert [effect.effect.value for effect in effects] == pytest.approx([0.2, -0.2])
    assert [effect.fraction for effect in effects] == [None, None]


def test_a_result_without_inputs_has_no_effects() -> None:
    result = constant(3.0)
    assert live_effects(result, effects_on(result), a_rise(), "key", "name") == ()
