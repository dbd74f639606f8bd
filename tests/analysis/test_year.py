"""The planned year in all: totals, flags, thresholds, and controls that a mistake would break."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from operator import attrgetter

import pytest

from quoter.analysis.plan import Plan, Year, highest_of, plan_of, year_of
from quoter.analysis.plan_controls import plan_controls
from quoter.costing.draws import Draw
from quoter.figures import Figure, stated
from quoter.figures.graph import evaluate, in_order, inputs_of
from quoter.figures.ops import less
from quoter.pricing.price import Pricing
from tests.demo import demo


@cache
def live() -> Plan:
    """The demo's year, resting on given amounts per unit."""
    return plan_of(demo(), stated)


def year(plan: Plan) -> Year:
    return year_of(plan, demo().costing.rates.nothing)


def failing(plan: Plan) -> list[str]:
    controls = plan_controls(demo(), plan, year(plan))
    return [control.what for control in controls if not control.holds.value]


def results_of(plan: Plan) -> list[Figure]:
    """What a year comes to."""
    found = [*plan.margins.values(), *plan.parts.values(), plan.emission]
    found += [need.cost for need in plan.materials]
    for load in plan.stations:
        found += [load.hours, load.utilisation, load.under]
    for mould in plan.moulds:
        found += [f for f in (mould.pulls, mould.capacity, mould.sets) if f is not None]
    return found


def test_a_plan_on_given_amounts_comes_to_the_same_with_a_fraction_of_the_figures() -> None:
    whole, given = results_of(plan_of(demo())), results_of(live())
    assert [f.value for f in given] == pytest.approx([f.value for f in whole], rel=1e-12)
    assert len(in_order(given)) < len(in_order(whole)) / 3


def test_a_plan_on_given_amounts_rests_on_volumes_and_the_factory_alone() -> None:
    stems = {figure.key.partition(".")[0] for figure in inputs_of(results_of(live()))}
    assert stems == {"volumes", "stations", "yard"}


def test_every_control_holds_and_there_are_some_of_each_kind() -> None:
    assert failing(live()) == []
    said = [control.what for control in plan_controls(demo(), live(), year(live()))]
    kinds = {
        "hours of an average boat": len(live().stations),
        "the budget times the utilisation": len(live().stations),
        "the parts started in it": len(live().moulds),
        "take rates lie between 0 and 100 %": len(live().boats),
        "take rates of one arrangement of side entries": 3,
    }
    found = {kind: sum(kind in what for what in said) for kind in kinds}
    assert found == kinds


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("hours", "hours a year are boats times the hours"),
        ("pulls", "pulls a year are the parts started"),
        ("material", "Materials a month are the sum"),
    ],
)
def test_a_year_that_is_not_the_sum_of_its_draws_is_caught(kind: str, words: str) -> None:
    plan = plan_of(demo(), stated)
    draw = next(draw for draw in plan.draws if draw.kind == kind)
    first = plan.draws[draw][0]
    wrong = stated(Figure(first.amount.value * 1.001, first.amount.unit), "wrong", "wrong")
    plan.draws[draw][0] = replace(first, amount=wrong)
    if kind == "pulls":
        plan.moulds[0] = replace(plan.moulds[0], pulls=plan.moulds[0].pulls * 1.001)
    assert failing(plan)
    assert all(words in what for what in failing(plan))


def test_take_rates_that_no_boats_can_have_are_caught() -> None:
    plan = plan_of(demo(), stated)
    side = [n for n, o in enumerate(plan.options) if o.option.startswith("side_")]
    for number in side:
        plan.options[number] = replace(plan.options[number], take=Figure(0.9))
    said = [what for what in failing(plan) if "take rates of one" in what]
    assert len(said) == 3
    plan.options[side[0]] = replace(plan.options[side[0]], take=Figure(1.2))
    assert any("take rates lie between" in what for what in failing(plan))


def test_a_margin_that_is_not_the_sum_over_the_boats_is_caught() -> None:
    plan = plan_of(demo(), stated)
    plan.margins["open_68"] = plan.margins["open_68"] * 1.001
    assert failing(plan) == [
        "Margin a year is boats times the margin of an average boat, all models"
    ]


def test_the_most_loaded_station_is_the_bottleneck() -> None:
    flags = year(live()).most_loaded
    bottleneck = live().bottleneck
    assert bottleneck is not None
    assert [id for id, flag in flags.items() if flag.value] == [bottleneck.station]


def test_totals_are_those_of_all_models_and_stations() -> None:
    found = year(live())
    assert found.boats.value == sum(boats.value for boats in live().boats.values())
    assert found.margin.value == pytest.approx(sum(m.value for m in live().margins.values()))
    assert found.budget.value == pytest.approx(found.absorbed.value + found.under.value)
    assert found.hours.value == pytest.approx(sum(load.hours.value for load in live().stations))


def test_thresholds_are_those_of_a_major_source() -> None:
    """40 CFR 63 Subpart VVVV, Table 1, footnote 1: 9.1 Mg of one HAP, 22.7 Mg of all."""
    found = year(live()).thresholds
    assert [threshold.limit.value for threshold in found] == [9100.0, 9100.0, 22700.0]
    emissions = live().emissions
    given_off = [*(gas.value for gas in emissions.substances.values()), live().emission.value]
    assert [t.given_off.value for t in found] == given_off
    assert [t.used.value for t in found] == pytest.approx(
        [gas / limit for gas, limit in zip(given_off, (9100, 9100, 22700), strict=True)]
    )
    assert [t.below.value for t in found] == [0.0, 1.0, 1.0]


def test_moulds_that_give_more_than_planned_or_need_another_set_are_flagged() -> None:
    flags = year(live()).moulds
    for load in live().moulds:
        flag = flags[str(load.mould.id)]
        assert flag.over_planned.value == (load.pulls.value > load.planned.value)
        if load.sets is not None and flag.more_sets is not None:
            assert flag.more_sets.value == (load.sets.value > 1)
    assert {flag.over_planned.value for flag in flags.values()} == {0.0, 1.0}


def test_a_year_without_boats_divides_by_nothing() -> None:
    plan = live()
    nothing = {inputs_of([boats])[0]: 0.0 for boats in plan.boats.values()}
    assert evaluate([mould.pulls for mould in plan.moulds], nothing) == [0.0] * len(plan.moulds)
    sets = [mould.sets for mould in plan.moulds if mould.sets is not None]
    assert evaluate(sets, nothing) == [0.0] * len(sets)


def test_an_option_planned_at_nothing_is_in_the_plan_all_the_same(year_of_nothing: Plan) -> None:
    (option,) = [o for o in year_of_nothing.options if o.option == "side_single"]
    assert option.units.value == 0
    moulds = [load for load in year_of_nothing.moulds if load.mould.id == "return_single"]
    raised = evaluate([load.pulls for load in moulds], {inputs_of([option.take])[0]: 0.5})
    assert raised[0] > moulds[0].pulls.value


@pytest.fixture
def year_of_nothing(demo_pricing: Pricing) -> Plan:
    """The demo's year with nobody taking the single side entry on the Weekender."""
    rows = demo_pricing.catalogue.records.volumes
    (row,) = [r for r in rows if (r.model, r.option) == ("weekender_86", "side_single")]
    assert row.take_rate is not None
    nothing = replace(row.take_rate, value=0.0)
    changed = [r.model_copy(update={"take_rate": nothing}) if r is row else r for r in rows]
    records = replace(demo_pricing.catalogue.records, volumes=changed)
    catalogue = replace(demo_pricing.catalogue, records=records)
    costing = replace(demo_pricing.costing, catalogue=catalogue)
    plan = plan_of(replace(demo_pricing, costing=costing), stated)
    plan.options = [option for option in plan.options if option.model == "weekender_86"]
    return plan


def test_the_highest_of_many_is_found_without_deep_nesting() -> None:
    figures = [Figure(float(n % 7), op="input", key=f"f{n}", label=f"f{n}") for n in range(70)]
    highest = highest_of(figures)
    assert highest.value == 6.0
    depth = dict.fromkeys(figures, 0)
    for figure in in_order([highest]):
        depth[figure] = 1 + max((depth[arg] for arg in figure.args), default=-1)
    assert depth[highest] == 7


def test_draws_say_what_they_are_in_words() -> None:
    assert Draw("pulls", "return_single").words == "pulls, return single"
    assert Draw("part", "part.side_door").words == "parts, side door"


def test_units_of_a_year_are_boats_times_take_rates() -> None:
    for option in live().options:
        boats = live().boats[option.model].value
        assert option.units.value == pytest.approx(boats * option.take.value)
    assert attrgetter("value")(less(live().options[0].units, live().boats["open_68"])) == 1.0
