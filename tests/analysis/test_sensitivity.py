"""What each input does to a result: slopes, effects of a rise, and which of them are exact."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from quoter.analysis.sensitivity import RISE, LiveEffect, a_rise, effects_on, live_effects
from quoter.figures import Figure
from quoter.figures.graph import evaluate, inputs_of
from quoter.pricing.price import Pricing
from tests.catalogues.written import COST_CARD, FOLDER, MODEL, OPTION, priced, write_catalogue
from tests.figures.made import an_input

CLOSE = 1e-9


@pytest.fixture(scope="module")
def year() -> Pricing:
    return priced(FOLDER / "year")


@pytest.fixture(scope="module")
def bench(year: Pricing) -> Figure:
    return year.models["dinghy"].options["bench"].assembly.cost


def risen(result: Figure, figure: Figure, rise: float) -> float:
    """How far a result moves when one input rises, by working it out anew."""
    return float(evaluate([result], {figure: figure.value * (1 + rise)})[0]) - result.value


def live(result: Figure, most: int = 99) -> dict[str, LiveEffect]:
    effects = live_effects(result, effects_on(result)[:most], a_rise(), "asked", "Asked")
    return {effect.figure.key: effect for effect in effects}


def test_the_cost_card_by_hand() -> None:
    """4 lb at 5.25, 2.75 h at 11 and 4 h at 15: a tenth of each is what a rise of each costs."""
    card = priced(COST_CARD).models[MODEL].options[OPTION].assembly
    found = [(effect.figure.value, effect.effect) for effect in effects_on(card.cost)]
    for value, effect in ((5.25, 2.10), (11.0, 3.025), (15.0, 6.00), (2.75, 5.225), (4.0, 9.2)):
        close = [e for v, e in found if v == value and e == pytest.approx(effect, rel=CLOSE)]
        assert close, f"a rise of {value:g} by a tenth should cost {effect:g}"


def test_effects_are_ranked_by_size_whichever_way_they_go(bench: Figure) -> None:
    effects = effects_on(bench)
    assert len(effects) > 30
    assert all(abs(one.effect) >= abs(other.effect) for one, other in pairwise(effects))
    assert {effect.effect > 0 for effect in effects} == {True, False}


def test_every_input_that_matters_is_there_once_and_no_other(bench: Figure) -> None:
    found = [effect.figure for effect in effects_on(bench)]
    assert len(found) == len(set(found))
    for figure in inputs_of([bench]):
        if figure not in found and figure.value:
            assert risen(bench, figure, 1e-6) == pytest.approx(0.0, abs=1e-9), figure.key


def test_an_effect_is_what_working_it_out_anew_gives_for_a_small_rise(bench: Figure) -> None:
    size = 1e-5
    for effect in effects_on(bench, size):
        moved = risen(bench, effect.figure, size)
        assert effect.effect == pytest.approx(moved, rel=1e-4, abs=1e-9), effect.figure.key


def test_an_effect_is_exact_where_the_slope_is_said_to_hold_exactly(bench: Figure) -> None:
    straight = 0
    for effect in live(bench).values():
        moved = risen(bench, effect.figure, RISE)
        if effect.straight:
            straight += 1
            assert effect.effect.value == pytest.approx(moved, rel=1e-6, abs=1e-9)
        else:
            fallen = risen(bench, effect.figure, -RISE)
            assert abs(moved - effect.effect.value) + abs(fallen + effect.effect.value) > 1e-6
    assert straight > 20


def test_prices_and_wages_are_straight_and_what_divides_is_not(bench: Figure) -> None:
    effects = live(bench)
    prices = [effect for key, effect in effects.items() if key.endswith(".price")]
    wages = [effect for key, effect in effects.items() if key.endswith(".wage")]
    assert (len(prices), len(wages)) == (6, 2)
    assert all(effect.straight for effect in (*prices, *wages))
    dividing = (".passes", ".efficiency", ".transfer", ".glass_content", ".capacity")
    bent = [effect for key, effect in effects.items() if key.endswith(dividing)]
    assert len(bent) > 6
    assert not any(effect.straight for effect in bent)


def test_a_rise_past_a_bend_is_not_called_exact(tmp_path: Path) -> None:
    """Of 100 pulls a year over 5 years a life of 500 is all: fewer pulls cost, more do not."""
    moulds = """
    moulds:
      - {id: m, name: M, cost: 5000 USD, life: 500, pulls_per_year: 100, write_off_years: 5}
    """
    pricing = priced(write_catalogue(tmp_path / "c", {"moulds.yaml": moulds}))
    per_pull = pricing.costing.rates.pulls["m"]
    (effect,) = [e for key, e in live(per_pull).items() if key.endswith(".cost")]
    assert effect.straight
    assert not any(e.straight for key, e in live(per_pull).items() if not key.endswith(".cost"))


def test_an_input_beside_which_nothing_is_left_moves_nothing_and_is_left_out() -> None:
    price, amount = an_input("4 EUR/kg", "price"), an_input("0 kg", "amount")
    (effect,) = effects_on(price * amount + an_input("3 EUR", "rest"))
    assert (effect.figure.key, effect.slope) == ("rest", 1.0)
    assert effect.effect == pytest.approx(0.3, rel=CLOSE)
    assert live(an_input("0 kg", "nothing")) == {}


def test_of_a_result_of_nothing_an_effect_is_no_fraction() -> None:
    income, expense = an_input("4 EUR", "income"), an_input("4 EUR", "expense")
    effects = live(income - expense)
    assert [effect.effect.value for effect in effects.values()] == pytest.approx([-0.4, 0.4])
    assert [effect.fraction for effect in effects.values()] == [None, None]


def test_slopes_are_per_unit_as_written() -> None:
    """45 min are three quarters of an hour: a minute more costs a sixtieth of the wage."""
    wage, time = an_input("24 EUR/h", "wage"), an_input("45 min", "time")
    slopes = {effect.figure.key: effect.slope for effect in effects_on(wage * time)}
    assert slopes == pytest.approx({"wage": 0.75, "time": 24 / 60}, rel=CLOSE)
    effect = live(wage * time)["time"]
    assert str(effect.slope.unit) == "EUR/min"
    assert effect.effect.value == pytest.approx(1.8, rel=CLOSE)
    assert effect.fraction is not None
    assert effect.fraction.value == pytest.approx(0.1, rel=CLOSE)


def test_the_effects_of_a_sheet_follow_its_rise() -> None:
    rise = a_rise()
    assert (rise.value, rise.op, rise.form) == (RISE, "input", "percent")
    price = an_input("4 EUR/kg", "price")
    result = price * an_input("3 kg", "mass")
    (effect,) = live_effects(result, effects_on(result)[:1], rise, "k", "Name")
    assert effect.effect.value == pytest.approx(1.2, rel=CLOSE)
    assert evaluate([effect.effect], {rise: 0.25}) == [pytest.approx(3.0, rel=CLOSE)]


def test_only_the_largest_are_asked_for(bench: Figure) -> None:
    every = [effect.figure for effect in effects_on(bench)]
    assert [effect.figure for effect in live(bench, 5).values()] == every[:5]
