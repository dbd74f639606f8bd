"""The materials and the margin of the year in round numbers; a plan that rests on given amounts."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from quoter.analysis.plan import plan_of
from quoter.costing.draws import Draws, draws_of
from quoter.figures import stated
from tests.analysis.planned import (
    BENCHES,
    COVER,
    COVERS,
    TRAY,
    TRAYS,
    changed,
    mould,
    need,
    plan,
    value,
    year,
)
from tests.demo import demo

CLOSE = 1e-12


def test_material_of_a_month() -> None:
    """By hand: mat and resin of the trays, mat of the covers, and 50 kg of resin a dinghy."""
    mat = (TRAYS * 2 * 0.9 / TRAY + COVERS * 0.9 / COVER) / 12
    resin = (40 * 50 + TRAYS * 4.2 / TRAY) / 12
    assert need(plan(), "mat").amount.value == pytest.approx(mat, rel=CLOSE)
    assert need(plan(), "hand_resin").amount.value == pytest.approx(resin, rel=CLOSE)
    assert need(plan(), "hinge").amount.value == pytest.approx(3 * BENCHES / 12, rel=CLOSE)
    assert need(plan(), "mat").cost.value == pytest.approx(2 * mat, rel=CLOSE)


def test_packs_are_whole_and_enough() -> None:
    packs = {n.material: None if n.packs is None else n.packs.value for n in plan().materials}
    sizes = {"mat": 40.0, "hand_resin": 200.0, "hinge": 10.0}
    assert {material for material, count in packs.items() if count is not None} == {*sizes}
    for material, size in sizes.items():
        wanted = need(plan(), material).amount.value
        assert packs[material] == math.ceil(wanted / size), material
    assert need(plan(), "hinge").amount.value == pytest.approx(6.5, rel=CLOSE)
    assert packs["hinge"] == 1.0


def test_a_need_of_whole_packs_buys_no_pack_more(tmp_path: Path) -> None:
    """Forty benches a year take ten hinges a month: one pack of ten."""
    plan = changed(tmp_path / "c", "volumes.csv", "dinghy,bench,,50 %", "dinghy,bench,,85 %")
    assert need(plan, "hinge").amount.value == pytest.approx(10.0, rel=CLOSE)
    assert value(need(plan, "hinge").packs) == 1.0


def test_twelve_months_are_what_all_units_draw() -> None:
    """Every material of the demo: month x 12 is the sum of units times the draws of one."""
    pricing, built = demo(), plan_of(demo())
    drawn: dict[str, float] = {}

    def add(draws: Draws, count: float) -> None:
        for draw, amount in draws.items():
            if draw.kind == "material":
                drawn[draw.id] = drawn.get(draw.id, 0.0) + count * amount.value

    for id, boats in built.boats.items():
        add(draws_of(pricing.models[id].boat.assembly, {}), boats.value)
    for demand in built.options:
        option = pricing.models[demand.model].extras[demand.option].assembly
        add(draws_of(option, {}), demand.units.value)
    for pair in built.recoloured:
        add(draws_of(pair.of.assembly, {}), pair.units.value)
    months = {need.material: 12 * need.amount.value for need in built.materials}
    assert months == pytest.approx(drawn, rel=1e-9)
    assert len(months) > 25


def test_the_margin_of_a_year_is_units_times_the_margin_of_one() -> None:
    """At the first class of buyer, a dealer."""
    for id, boats in plan().boats.items():
        whole = boats.value * year().models[id].boat.sales["dealer"].margin.value
        for demand in plan().options:
            if demand.model == id:
                each = year().models[id].options[demand.option].sales["dealer"].margin.value
                assert demand.margin.value == pytest.approx(demand.units.value * each, rel=CLOSE)
                whole += demand.units.value * each
        assert plan().margins[id].value == pytest.approx(whole, rel=CLOSE)


def test_a_plan_on_given_amounts_is_the_same_plan() -> None:
    given = plan_of(year(), stated)
    assert len(given.draws) == len(plan().draws)
    for draw, whole in plan().yearly.items():
        assert given.yearly[draw].value == pytest.approx(whole.value, rel=CLOSE), draw
    assert value(mould(given, "tray_mould").sets) == 1.0
