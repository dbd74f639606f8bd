"""What cost a price allows, and the cut in each element that would get there."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.answers import Target, target_of
from quoter.costing.elements import shown_group
from quoter.figures import Figure
from quoter.figures.graph import evaluate, inputs_of
from quoter.pricing.price import Priced, Pricing
from tests.catalogues.written import FOLDER, MODEL, OPTION, priced, write_catalogue
from tests.figures.made import written

CLOSE = 1e-12
BOOK = "date,model,option,list_price,note\n2026-01-01,,{},{} USD,\n"


def card_at(folder: Path, price: int) -> Pricing:
    """The cost card, which costs 165.25, at a published price and a target margin of 20 %."""
    return priced(write_catalogue(folder, {"price_book.csv": BOOK.format(OPTION, price)}))


def asked(pricing: Pricing, option: str = OPTION, model: str = MODEL) -> tuple[Priced, Target]:
    item = pricing.models[model].extras[option]
    return item, target_of(pricing.terms, item)


def price_of(item: Priced) -> Figure:
    return written(item.list_price)


def test_a_price_allows_what_the_target_margin_leaves_of_it(tmp_path: Path) -> None:
    """Of 200 a fifth is margin: 160 may be cost, and 165.25 is 5.25 too much."""
    _, target = asked(card_at(tmp_path / "c", 200))
    assert target.allowed.value == pytest.approx(160.0, rel=CLOSE)
    assert target.gap.value == pytest.approx(5.25, rel=CLOSE)
    assert target.met.value == 0.0


def test_a_gap_below_nothing_is_room_left(tmp_path: Path) -> None:
    _, target = asked(card_at(tmp_path / "c", 220))
    assert target.gap.value == pytest.approx(165.25 - 176.0, rel=CLOSE)
    assert target.met.value == 1.0
    assert all(a.cut.value < 0 for a in target.attacks if a.cut is not None)


def test_provisions_and_the_first_buyer_s_discount_come_off_first() -> None:
    """1010 less a fifth is 808; 5 % is for warranty, 20 % is margin: 606 may be cost."""
    pricing = priced(FOLDER / "year")
    bench, target = asked(pricing, "bench", "dinghy")
    assert bench.list_price.value == 1010.0
    assert target.allowed.value == pytest.approx(606.0, rel=CLOSE)
    assert target.gap.value == pytest.approx(bench.assembly.cost.value - 606.0, rel=1e-9)
    assert target.met.value == 1.0


def test_a_recommended_price_always_allows_the_cost() -> None:
    pricing = priced(FOLDER / "year")
    for model in pricing.models.values():
        for id, item in model.options.items():
            target = target_of(pricing.terms, item)
            assert item.basis == "recommended"
            assert target.gap.value <= 1e-9, id
            assert target.met.value == 1.0, id


def test_the_largest_element_comes_first_and_nothing_can_not_be_cut(tmp_path: Path) -> None:
    _, target = asked(card_at(tmp_path / "c", 200))
    costs = {attack.group: attack.cost.value for attack in target.attacks}
    assert [*costs.items()][:4] == [
        ("labour", 90.25),
        ("overhead_variable", 33.75),
        ("material", 21.0),
        ("overhead_fixed", 20.25),
    ]
    cuts = {attack.group: attack.cut for attack in target.attacks}
    assert {group for group, cut in cuts.items() if cut is None} == {
        group for group, cost in costs.items() if cost == 0
    }
    material = cuts["material"]
    assert material is not None
    assert (material.value, material.form) == (0.25, "percent")


@pytest.mark.parametrize("price", [200, 220])
def test_each_cut_alone_closes_the_gap(tmp_path: Path, price: int) -> None:
    """Worked out anew, with the elements of the group cut and the price as it is."""
    item, target = asked(card_at(tmp_path / "c", price))
    tried = 0
    for attack in target.attacks:
        if attack.cut is None:
            continue
        cut = {
            figure: figure.value * (1 - attack.cut.value)
            for element, figure in item.assembly.elements.items()
            if shown_group(element) == attack.group
        }
        cost, gap = evaluate([item.assembly.cost, target.gap], cut)
        assert cost == pytest.approx(target.allowed.value, rel=CLOSE), attack.group
        assert gap == pytest.approx(0.0, abs=1e-9), attack.group
        tried += 1
    assert tried == 4


def test_a_material_bought_for_so_much_less_closes_the_gap(tmp_path: Path) -> None:
    """By the price in the price list: 5.25 less a quarter; all the material is that one."""
    item, target = asked(card_at(tmp_path / "c", 200))
    prices = [f for f in inputs_of([item.assembly.cost]) if f.key.startswith("prices.")]
    (price,) = prices
    (cut,) = (a.cut for a in target.attacks if a.group == "material")
    assert cut is not None
    cost, met = evaluate([item.assembly.cost, target.met], {price: 5.25 * (1 - cut.value)})
    assert cost == pytest.approx(160.0, rel=CLOSE)
    assert met == 1.0


def test_another_price_moves_the_target_and_not_the_cost(tmp_path: Path) -> None:
    item, target = asked(card_at(tmp_path / "c", 200))
    at = {price_of(item): 250.0}
    allowed, gap, cost = evaluate([target.allowed, target.gap, item.assembly.cost], at)
    assert (allowed, cost) == (200.0, item.assembly.cost.value)
    assert gap == pytest.approx(165.25 - 200.0, rel=CLOSE)


def test_an_element_that_is_a_credit_can_not_be_cut() -> None:
    """The lid saves more mending than it brings."""
    _, target = asked(priced(FOLDER / "year"), "lid", "dinghy")
    saved = {attack.group: attack.cut for attack in target.attacks if attack.cost.value < 0}
    assert saved == {"rework": None}
