"""A public price is made of the list price of the very thing, and of nothing else."""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from typing import Any

import pytest

from quoter.costing.replay import replayed
from quoter.figures import constant
from quoter.pricing import public
from quoter.pricing.markets import market_prices
from quoter.pricing.price import Pricing
from quoter.pricing.public import (
    PublicMeasure,
    PublicPrice,
    mass_as_chosen,
    price_list,
    price_lists_by_day,
    public_measure,
    stated_price,
    untaxed_prices,
)
from tests.pricing.public_prices import public as made


def test_a_public_price_is_made_by_no_other_hand() -> None:
    told = "made from a list price by quoter.pricing.public alone"
    one = made("12.50")
    by_hand: Any = PublicPrice
    with pytest.raises(TypeError):
        by_hand(Decimal("12.50"), "EUR")
    with pytest.raises(TypeError, match=told):
        by_hand()
    with pytest.raises(TypeError):
        dataclasses.replace(one, amount=Decimal(7))
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(one, "amount", Decimal(7))  # noqa: B010
    with pytest.raises(TypeError, match="has no classes below it"):
        type("Cheaper", (PublicPrice,), {})
    assert (one.amount, one.currency) == (Decimal("12.50"), "EUR")


def test_public_prices_add_up_compare_and_keep_their_currency() -> None:
    one, other = made("12.50"), made(2)
    assert [(one + other).amount, (other - one).amount] == [Decimal("14.50"), Decimal("-10.50")]
    assert str((one - one).amount) == "0.00"
    assert str(made(-0.001).amount) == "0.00"
    assert max(one, other) == one == made(12.5)
    assert one >= other
    assert len({one, made("12.50"), other}) == 2
    for mixed in (made(2, "NOK"), 2, Decimal(2), constant(2.0, "EUR")):
        amount: Any = mixed
        assert one != amount
        for action in (one.__add__, one.__sub__, one.__lt__):
            with pytest.raises(TypeError, match="a public price in EUR was expected, not"):
                action(amount)
    for read in (float, int, round):
        convert: Any = read
        with pytest.raises(TypeError):
            convert(one)


def test_the_door_takes_the_list_price_of_the_very_thing_only(small_pricing: Pricing) -> None:
    home = small_pricing.catalogue.yard.markets[0]
    boat = small_pricing.models["cutter"].boat
    other = small_pricing.models["skiff"].boat.list_price
    sale = next(iter(boat.sales.values()))
    figures = [boat.assembly.cost, boat.recommended, other, sale.net, sale.margin]
    for figure in figures:
        told = f"the list price of 'boat.cutter' is wanted, and the figure '{figure.key}' is not"
        with pytest.raises(TypeError, match=told):
            public._list_price(figure, boat, home, "EUR")
    with pytest.raises(TypeError, match=r"'boat\.cutter\.list_price' is in EUR, not in NOK"):
        public._list_price(boat.list_price, boat, home, "NOK")
    raised = boat.assembly.cost + constant(1000.0, "EUR")
    disguised = raised.named("boat.cutter.list_price", "list price")
    with pytest.raises(TypeError, match=r"is made of 'boat\.cutter\.cost', which is no price"):
        public._list_price(disguised, boat, home, "EUR")
    with pytest.raises(TypeError, match=r"'boat\.cutter\.cost' is not that"):
        stated_price(small_pricing.catalogue, boat.assembly.cost, "EUR")
    hidden = boat.assembly.cost.named("yard.quotes.delivery.price", "delivery")
    with pytest.raises(TypeError, match="a price that somebody wrote is wanted"):
        stated_price(small_pricing.catalogue, hidden, "EUR")


def test_a_list_without_tax_holds_what_the_costing_lists(small_pricing: Pricing) -> None:
    trade = small_pricing.catalogue.yard.markets[1]
    listed = price_list(small_pricing, trade)
    assert listed == untaxed_prices(small_pricing, trade)
    shown = market_prices(small_pricing, trade)
    assert {key: price.amount for key, price in listed.items()} == {
        key: Decimal(f"{found.shown.value:.2f}") for key, found in shown.items()
    }


def test_a_list_price_of_another_day_is_never_given_but_follows(small_pricing: Pricing) -> None:
    """Who states costs and rates by day gets prices; who states a price, or part of one, none."""
    home, day = small_pricing.catalogue.yard.markets[0], [small_pricing.catalogue]
    followed = price_lists_by_day(small_pricing, home, replayed(small_pricing.costing, day), [0])
    assert followed == {0: price_list(small_pricing, home)}
    boat = small_pricing.models["cutter"].boat
    box = small_pricing.models["cutter"].options["box"]
    for figure, part in (
        (boat.list_price, "boat.cutter.list_price"),
        (box.recommended, "option.cutter.box.recommended"),
        (box.recommended.args[0], ""),
    ):
        replay = replayed(small_pricing.costing, day)
        replay.give(figure, [boat.assembly.cost.value])
        with pytest.raises(TypeError, match=f"made of the figure '{part}', which is given by day"):
            price_lists_by_day(small_pricing, home, replay, [0])


def test_a_mass_is_public_to_ten_grams_and_a_sum_of_what_is_shown(small_pricing: Pricing) -> None:
    cutter = small_pricing.models["cutter"]
    each = {id: public_measure(item.assembly.mass) for id, item in cutter.extras.items()}
    boat = public_measure(cutter.boat.assembly.mass)
    assert {mass.amount.as_tuple().exponent for mass in (boat, *each.values())} == {-2}
    chosen = {id: count for count, id in enumerate(each, 1)}
    wanted = boat.amount + sum(each[id].amount * count for id, count in chosen.items())
    assert mass_as_chosen(cutter, chosen).amount == wanted
    by_hand: Any = PublicMeasure
    for make in (lambda: public_measure(cutter.boat.assembly.cost), lambda: by_hand()):
        with pytest.raises(TypeError):
            make()
