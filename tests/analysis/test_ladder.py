"""The prices that leave the target margin, the floor, nothing over full or over variable cost."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from quoter.analysis.ladder import ladders_of
from quoter.cli import main
from quoter.pricing.price import Pricing
from quoter.pricing.sale import sales
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import DEMO

CLOSE = 1e-12


def test_the_standard_cost_card_has_the_prices_that_its_costs_call_for(tmp_path: Path) -> None:
    """OpenStax, Principles of Accounting vol. 2, 8.1: material 21.00, labour 90.25 and variable
    overhead 33.75 make 145.00, with fixed overhead 165.25; a margin of 20 % is a markup of 25 %
    (vol. 2, 9.4, the arithmetic of cost plus)."""
    pricing = priced(write_catalogue(tmp_path / "card", {}))
    item = pricing.models[MODEL].extras[OPTION]
    ladder = ladders_of(pricing.terms, item)[0]
    assert pricing.terms.provisions.value == 0.0 == ladder.buyer.discount.value
    assert ladder.variable.value == pytest.approx(145.00, rel=CLOSE)
    assert ladder.full.value == pytest.approx(165.25, rel=CLOSE)
    assert ladder.target.value == pytest.approx(165.25 * 1.25, rel=CLOSE)


def test_a_sale_at_each_rung_leaves_what_the_rung_is_called_by(demo_pricing: Pricing) -> None:
    terms = demo_pricing.terms
    for model in demo_pricing.models.values():
        for item in model.everything:
            made = item.assembly
            for ladder in ladders_of(terms, item):
                left = [
                    sales(terms, price, made.cost, made.variable, "a", "a")[str(ladder.buyer.id)]
                    for price in ladder.rungs
                    if price.value
                ]
                if not left:
                    continue
                variable, full, floor, target = left
                near = abs(made.cost.value) * CLOSE
                assert variable.contribution.value == pytest.approx(0.0, abs=near)
                assert full.margin.value == pytest.approx(0.0, abs=near)
                assert floor.margin_fraction.value == pytest.approx(terms.floor.value)
                assert target.margin_fraction.value == pytest.approx(terms.target.value)


def test_why_lists_a_ladder_and_explains_one_of_its_prices() -> None:
    asked = ["why", str(DEMO), "weekender_86", "side_single", "--figure"]
    _, *listed = CliRunner().invoke(main, [*asked, "ladder.contract"]).stdout.splitlines()
    assert [line.partition(": ")[2].partition(":")[0] for line in listed] == [
        "list price for variable cost",
        "list price for full cost",
        "list price for the floor margin",
        "list price for the target margin",
    ]
    one = CliRunner().invoke(main, [*asked, "ladder.contract.floor", "--depth", "1"]).stdout
    assert one.splitlines()[1] == listed[2]
    assert "policy, floor margin: 25 %  [yard.yaml:" in one
