"""Lines, taxes and instalments add up on paper, whatever the prices, rates and rounding."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.pricing.price import rounded_amount, smallest_unit
from quoter.quotes.kept.record import QuoteLine
from quoter.quotes.line_prices import TaxRate
from quoter.quotes.totals import instalments, totals_of
from tests.pricing.public_prices import public

RATES = {
    "standard": TaxRate("standard", "VAT", Decimal("0.24")),
    "reduced": TaxRate("reduced", "VAT", Decimal("0.081")),
}
CURRENCIES = ("EUR", "JPY", "BHD")


def line(amount: str | Decimal | None, rate: str = "standard") -> QuoteLine:
    given_amount = None if amount is None else Decimal(amount)
    return QuoteLine(
        kind="option", id="x", name="x", price=given_amount, amount=given_amount, rate=rate
    )


@pytest.mark.parametrize(
    ("currency", "unit"), [("EUR", "0.01"), ("JPY", "1"), ("BHD", "0.001"), ("NOK", "0.01")]
)
def test_amounts_are_in_whole_smallest_units_of_the_currency(currency: str, unit: str) -> None:
    """Two, no and three decimals: ISO 4217, minor units."""
    assert smallest_unit(currency) == Decimal(unit)


def test_tax_on_top_is_rounded_for_each_line_or_for_the_whole() -> None:
    """Three lines of 0.10 at 24 %: 0.02 each, or 0.07 of 0.30; by hand. Both are allowed by
    HM Revenue and Customs, VAT Traders' Records Manual VATREC12010, for invoices."""
    lines = [line("0.10")] * 3
    by_line = totals_of(lines, RATES, "EUR", with_tax=False, per_line=True)
    by_rate = totals_of(lines, RATES, "EUR", with_tax=False, per_line=False)
    assert (by_line.taxes[0].amount, by_line.total) == (Decimal("0.06"), Decimal("0.36"))
    assert (by_rate.taxes[0].amount, by_rate.total) == (Decimal("0.07"), Decimal("0.37"))


def test_tax_within_is_what_the_price_holds() -> None:
    """124 holds 24 at 24 %; by hand."""
    found = totals_of([line("124.00")], RATES, "EUR", with_tax=True, per_line=False)
    assert [str(found.net), str(found.total)] == ["100.00", "124.00"]
    assert str(found.taxes[0].amount) == "24.00"
    assert public("134900").with_tax(Decimal("0.24")) == public("167276.00")


def test_each_rate_has_its_own_base_and_a_rate_nobody_uses_is_not_named() -> None:
    found = totals_of(
        [line("100"), line("50", "reduced")], RATES, "EUR", with_tax=False, per_line=True
    )
    assert [(tax.id, tax.base, tax.amount) for tax in found.taxes] == [
        ("standard", Decimal(100), Decimal("24.00")),
        ("reduced", Decimal(50), Decimal("4.05")),
    ]
    only = totals_of([line("100"), line(None)], RATES, "EUR", with_tax=False, per_line=True)
    assert [tax.id for tax in only.taxes] == ["standard"]


def test_without_tax_nothing_is_added() -> None:
    found = totals_of([line("99.95", "")], {}, "EUR", with_tax=False, per_line=False)
    assert (found.net, found.taxes, found.total) == (Decimal("99.95"), (), Decimal("99.95"))


AMOUNTS = st.lists(
    st.tuples(st.integers(-50_000_000, 500_000_000), st.sampled_from(sorted(RATES))),
    min_size=1,
    max_size=12,
)


@given(AMOUNTS, st.sampled_from(CURRENCIES), st.booleans(), st.booleans())
def test_lines_taxes_and_total_add_up_to_the_last_unit(
    amounts: list[tuple[int, str]], currency: str, with_tax: bool, per_line: bool
) -> None:
    unit = smallest_unit(currency)
    lines = [line(units * unit, rate) for units, rate in amounts]
    found = totals_of(lines, RATES, currency, with_tax=with_tax, per_line=per_line)
    shown = sum((one.amount for one in lines if one.amount is not None), Decimal(0))
    assert shown == (found.total if with_tax else found.net)
    assert found.net + sum(tax.amount for tax in found.taxes) == found.total
    assert sum(tax.base for tax in found.taxes) == found.net
    for amount in (found.net, found.total, *(tax.amount for tax in found.taxes)):
        assert amount == rounded_amount(amount, currency)
    exact = Decimal(0)
    for one in lines:
        rate = RATES[one.rate].rate
        exact += (one.amount or Decimal(0)) * rate / (1 + rate if with_tax else 1)
    charged = sum((tax.amount for tax in found.taxes), Decimal(0))
    assert abs(charged - exact) <= unit / 2 * (len(lines) if per_line else len(RATES))


@given(
    st.integers(0, 10**10),
    st.lists(st.integers(1, 50), min_size=1, max_size=6),
    st.sampled_from(CURRENCIES),
)
def test_instalments_make_up_the_total(units: int, parts: list[int], currency: str) -> None:
    unit = smallest_unit(currency)
    shares = [(f"part {n}", Decimal(part) / sum(parts)) for n, part in enumerate(parts)]
    found = instalments(units * unit, shares, currency)
    assert sum(part.amount for part in found) == units * unit
    for part in found[:-1]:
        assert abs(part.amount - units * unit * part.share) <= unit / 2
