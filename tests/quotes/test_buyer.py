"""A buyer whom nobody named is granted no discount by mistake."""

from __future__ import annotations

import pytest

from quoter.catalogue.markets import DealerClass, Market
from quoter.figures import constant
from quoter.pricing.price import Pricing
from quoter.quotes.request import unnamed_buyer


def market(pricing: Pricing, prices: str) -> Market:
    return pricing.catalogue.yard.markets[0].model_copy(update={"prices": prices})


def classes(pricing: Pricing, *told: tuple[str, float, bool]) -> list[DealerClass]:
    first = pricing.catalogue.yard.dealer_classes[0]
    return [
        first.model_copy(update={"id": id, "discount": constant(discount), "consumer": consumer})
        for id, discount, consumer in told
    ]


DEALERS = (("contract", 0.20, False), ("area", 0.18, False), ("other", 0.18, False))


@pytest.mark.parametrize(
    ("prices", "consumers", "taken"),
    [
        ("with tax", (("direct", 0.0, True), ("club", 0.0, True)), "direct"),
        ("with tax", (("club", 0.02, True), ("direct", 0.0, True)), "club"),
        ("with tax", (), "area"),
        ("without tax", (), "area"),
        ("without tax", (("direct", 0.0, True),), "direct"),
        ("without tax", (("club", 0.19, True),), "area"),
    ],
)
def test_lists_with_tax_are_for_consumers_and_else_the_smallest_discount_is_taken(
    demo_pricing: Pricing,
    prices: str,
    consumers: tuple[tuple[str, float, bool], ...],
    taken: str,
) -> None:
    known = classes(demo_pricing, *DEALERS, *consumers)
    assert unnamed_buyer(market(demo_pricing, prices), known).id == taken


def test_the_demonstration_s_are_sold_to_by_the_yard_in_every_market(demo_pricing: Pricing) -> None:
    yard = demo_pricing.catalogue.yard
    taken = {unnamed_buyer(each, yard.dealer_classes).id for each in yard.markets}
    assert taken == {"direct"}
