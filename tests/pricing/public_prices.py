"""Public prices of any amount for tests, by the one way that takes an amount as it is written."""

from __future__ import annotations

from quoter.figures import constant
from quoter.pricing.public import PublicPrice, stated_price
from tests.demo import demo


def public(amount: str | float, currency: str = "EUR") -> PublicPrice:
    """A charge for delivery of so much."""
    written = constant(float(amount), currency).named("delivery.price", "Delivery")
    return stated_price(demo().catalogue, written, currency)
