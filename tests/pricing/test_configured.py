"""A boat with chosen options: every total is a sum over the selection."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.figures.graph import evaluate, gradient
from quoter.pricing.configured import Configured, configure
from quoter.pricing.controls import assemblies_of, controls_of, master
from quoter.pricing.price import Priced
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import demo

CLOSE = 1e-12
CHOSEN = {"side_pair": 1, "hull_blue": 1, "seat_base": 3}
RECOLOURED = ("side_pair", "hull_blue")  # of these, what another hull colour changes


def boat(model: str = "weekender_86", chosen: dict[str, int] | None = None) -> Configured:
    return configure(demo().terms, demo().models[model], chosen or {})


def picked(model: str, chosen: dict[str, int]) -> list[tuple[Priced, int]]:
    extras = demo().models[model].extras
    return [(extras[id], number) for id, number in chosen.items()]


def test_a_boat_without_options_is_the_base_boat() -> None:
    for id, model in demo().models.items():
        made, base = boat(id), model.boat
        assert made.list_price.value == base.list_price.value
        assert made.cost.value == base.assembly.cost.value
        assert made.mass.value == base.assembly.mass.value
        assert made.hours.value == base.assembly.all_hours.value


def test_chosen_options_count_as_often_as_they_are_chosen() -> None:
    made, base = boat(chosen=CHOSEN), demo().models["weekender_86"].boat
    extra = picked("weekender_86", CHOSEN)
    moved = demo().costing.models["weekender_86"].recoloured[RECOLOURED]
    totals = {
        made.list_price: base.list_price.value + sum(o.list_price.value * n for o, n in extra),
        made.cost: base.assembly.cost.value
        + sum(o.assembly.cost.value * n for o, n in extra)
        + moved.cost.value,
        made.variable: base.assembly.variable.value
        + sum(o.assembly.variable.value * n for o, n in extra)
        + moved.variable.value,
        made.mass: base.assembly.mass.value
        + sum(o.assembly.mass.value * n for o, n in extra)
        + moved.mass.value,
        made.hours: base.assembly.all_hours.value
        + sum(o.assembly.all_hours.value * n for o, n in extra),
    }
    for figure, expected in totals.items():
        assert figure.value == pytest.approx(expected, rel=CLOSE), figure.label


def test_what_a_sale_of_the_whole_boat_leaves() -> None:
    made = boat(chosen=CHOSEN)
    for sale in made.sales.values():
        net = made.list_price.value * (1 - sale.buyer.discount.value)
        assert sale.net.value == pytest.approx(net, rel=CLOSE)
        assert sale.margin.value == pytest.approx(net * 0.95 - made.cost.value, rel=1e-9)


def test_every_extra_option_has_a_quantity_and_no_standard_one() -> None:
    model = demo().models["weekender_86"]
    made = boat(chosen=CHOSEN)
    standard = {str(name) for name in model.model.standard}
    assert set(made.quantities) == (set(model.options) - standard) | set(model.packages)
    values = {id: figure.value for id, figure in made.quantities.items() if figure.value}
    assert values == CHOSEN
    assert all(figure.op == "input" for figure in made.quantities.values())


def test_a_model_whose_options_are_all_standard_has_nothing_to_choose(tmp_path: Path) -> None:
    changes = {"models.yaml": ("    base:\n", f"    standard: [{OPTION}]\n    base:\n")}
    pricing = priced(write_catalogue(tmp_path / "c", {}, changes))
    made = configure(pricing.terms, pricing.models[MODEL], {})
    assert made.quantities == {}
    assert made.cost.value == pytest.approx(165.25, rel=CLOSE)
    assert made.cost.label == "Card configured: cost"
    controls = controls_of(pricing.terms, pricing.models[MODEL], made)
    assert master(controls).value == 1.0


def test_one_more_of_an_option_adds_its_price_and_cost() -> None:
    made = boat(chosen=CHOSEN)
    seat = demo().models["weekender_86"].options["seat_base"]
    four = {made.quantities["seat_base"]: 4.0}
    price, cost = evaluate([made.list_price, made.cost], four)
    assert price - made.list_price.value == pytest.approx(seat.list_price.value, rel=1e-9)
    assert cost - made.cost.value == pytest.approx(seat.assembly.cost.value, rel=1e-9)
    slope = gradient(made.cost)[made.quantities["seat_base"]]
    assert slope == pytest.approx(seat.assembly.cost.value, rel=CLOSE)


@pytest.mark.parametrize("chosen", [{}, CHOSEN], ids=["bare", "with options"])
def test_every_control_holds(chosen: dict[str, int]) -> None:
    for id, model in demo().models.items():
        offered = {name: number for name, number in chosen.items() if name in model.extras}
        controls = controls_of(demo().terms, model, boat(id, offered))
        assert [control.what for control in controls if not control.holds.value] == []
        assert master(controls).value == 1.0
        assert len(controls) > 50


def test_a_control_notices_a_total_that_is_off() -> None:
    """With a cost given as a euro more, what watches it fails, and so does the master."""
    model = demo().models["open_68"]
    controls = controls_of(demo().terms, model, boat("open_68"))
    cost = model.options["seat_base"].assembly.cost
    held = evaluate([c.holds for c in controls], {cost: cost.value + 1.0})
    failed = [c.what for c, holds in zip(controls, held, strict=True) if not holds]
    assert "Seat base: cost is the sum of its element groups" in failed
    assert evaluate([master(controls)], {cost: cost.value + 1.0}) == [0.0]


def test_a_model_s_assemblies_come_parts_first_and_once() -> None:
    for model in demo().models.values():
        order = [made.recipe.key for made in assemblies_of(model)]
        assert len(order) == len(set(order))
        for made in assemblies_of(model):
            for use in made.recipe.uses:
                assert order.index(use.assembly.recipe.key) < order.index(made.recipe.key)
