"""A quote of a boat in another hull colour: what its doors cost then, and what is asked for."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from quoter.pricing.configured import configure
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.kept.inside import Approval
from quoter.quotes.kept.record import Record
from quoter.quotes.listing import today_of
from quoter.quotes.request import read_request, sound_wish
from tests.demo import demo

MODEL = "weekender_86"
REQUEST = """
date: 2026-11-25
prepared_by: Ilse Maravant
market: {market}
buyer: {buyer}
customer: {{name: Torbenia Quell}}
model: weekender_86
options: [{options}]
colour: hull_blue
"""


def quoted(folder: Path, market: str, buyer: str, *options: str) -> Record:
    path = folder / "request.yaml"
    listed = ", ".join(f"{{option: {id}}}" for id in options)
    path.write_text(REQUEST.format(market=market, buyer=buyer, options=listed), encoding="utf-8")
    wish = sound_wish(read_request(path), demo())
    approval = Approval(name="Ilse Maravant", reason="a test of colours")
    return record_of(draft_of(demo(), wish, "", approval), "2026-0001")


@pytest.mark.parametrize(
    "options",
    [("side_single",), ("side_pair", "transom_door", "seat_base"), ("easy_boarding",)],
    ids=["a door", "several", "a package"],
)
def test_a_quote_costs_what_the_boat_as_chosen_does(
    tmp_path: Path, options: tuple[str, ...]
) -> None:
    record = quoted(tmp_path, "home", "direct", *options)
    chosen = dict.fromkeys((*options, "hull_blue"), 1)
    boat = configure(demo().terms, demo().models[MODEL], chosen)
    inside = record.inside
    assert float(inside.cost) == pytest.approx(boat.cost.value, rel=1e-12)
    assert float(inside.variable) == pytest.approx(boat.variable.value, rel=1e-12)
    assert float(inside.margin) == pytest.approx(boat.sales["direct"].margin.value, rel=1e-9)
    # Each line in the colour of this boat, so that they add up to the whole.
    whole = sum(line.cost * line.quantity for line in inside.lines)
    assert float(whole) == pytest.approx(boat.cost.value, rel=1e-12)
    today = today_of(record, demo())
    assert today is not None
    assert float(today.lost) == pytest.approx(0.0, abs=1e-6)


def test_the_line_of_a_door_has_its_cost_in_the_colour(tmp_path: Path) -> None:
    record = quoted(tmp_path, "home", "direct", "side_pair")
    door = demo().models[MODEL].options["side_pair"].assembly.cost.value
    moved = demo().costing.models[MODEL].recoloured["side_pair", "hull_blue"].cost.value
    (line,) = (line for line in record.inside.lines if line.id == "side_pair")
    assert float(line.cost) == pytest.approx(door + moved, rel=1e-12)


@pytest.mark.parametrize(
    ("market", "buyer", "price"),
    [
        ("home", "direct", Decimal("74.40")),  # 60 EUR with 24 %
        ("trade", "contract", Decimal("60.00")),
        # 60 EUR at the rate of the day, rounded up to the market's whole hundred of crowns
        ("north", "contract", Decimal("800.00")),
    ],
)
def test_a_surcharge_is_a_line_in_every_market(
    tmp_path: Path, market: str, buyer: str, price: Decimal
) -> None:
    record = quoted(tmp_path, market, buyer, "side_single")
    (line,) = (line for line in record.lines if line.id == "side_single+hull_blue")
    assert (line.quantity, line.price, line.amount) == (1, price, price)
    inside = next(each for each in record.inside.lines if each.id == line.id)
    assert (inside.cost, inside.quantity) == (Decimal(0), 1)
    without = quoted(tmp_path, market, buyer, "side_pair")
    assert not [each for each in without.lines if "+" in each.id]
