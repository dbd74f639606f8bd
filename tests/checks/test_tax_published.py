"""What tax authorities publish of rounding, part exchange, reverse charge and export.

Each case that a quote can have is held against a source; its address stands beside the numbers.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from quoter.pricing.price import Pricing
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.kept.record import LineKind, QuoteLine, Record
from quoter.quotes.line_prices import TaxRate, without_tax
from quoter.quotes.printed.shown import shown_of
from quoter.quotes.request import read_request, sound_wish
from quoter.quotes.totals import Totals, totals_of

GST = {"gst": TaxRate("gst", "GST", Decimal("0.05"))}
VAT = {"vat": TaxRate("vat", "VAT", Decimal("0.20"))}
AUSTRALIA = {"gst": TaxRate("gst", "GST", Decimal("0.10"))}


def line(amount: str, rate: str, kind: LineKind = "option") -> QuoteLine:
    return QuoteLine(
        kind=kind, id="x", name="x", price=Decimal(amount), amount=Decimal(amount), rate=rate
    )


def paid(totals: Totals) -> tuple[str, list[str], str]:
    return str(totals.net), [str(tax.amount) for tax in totals.taxes], str(totals.total)


def test_tax_of_the_whole_document_is_rounded_once() -> None:
    """Government of Canada, Budget 2012, "Rounding": a coffee of 1.83 and a sandwich of 2.86 are
    4.92 with 5 % GST; budget.canada.ca/2012/themes/rounding-arrondissement-eng.html."""
    found = totals_of(
        [line("1.83", "gst"), line("2.86", "gst")], GST, "CAD", with_tax=False, per_line=False
    )
    assert paid(found) == ("4.69", ["0.23"], "4.92")


@pytest.mark.parametrize(
    ("rates", "taxes"), [(["0.13"], ["4.15"]), (["0.05", "0.08"], ["1.60", "2.56"])]
)
def test_tax_in_one_and_tax_in_two_parts_are_rounded_each_for_itself(
    rates: list[str], taxes: list[str]
) -> None:
    """Canada Revenue Agency, GST/HST interpretation 125136 of 2011-11-28: on a sale of 31.95, HST
    of 13 % in one or of 5 % and 8 % in two, each rounded, are both acceptable; the amounts follow
    from its numbers by hand. taxinterpretations.com/content/636291."""
    for rate, tax in zip(rates, taxes, strict=True):
        one = {"hst": TaxRate("hst", "HST", Decimal(rate))}
        found = totals_of([line("31.95", "hst")], one, "CAD", with_tax=False, per_line=True)
        assert paid(found)[1] == [tax]


def test_tax_within_prices_is_rounded_by_invoice_or_by_supply() -> None:
    """Australia, A New Tax System (Goods and Services Tax) Act 1999, s 9-90 (2): GST of 1/11 of
    the price is (a) added up unrounded and rounded once, the "total invoice rule", or (b) rounded
    for each supply and added up, the "taxable supply rule"; half cents go up. Explanatory
    Memorandum to the Indirect Tax Legislation Amendment Bill 2000, chapter 6,
    ato.gov.au/law/view/print?DocID=PAC%2F19990055%2F9-90. The prices are by hand: 1.15 holds
    0.1045, and 0.50 holds 0.0454 of tax."""
    lines = [line("1.15", "gst"), line("1.15", "gst"), line("1.15", "gst"), line("0.50", "gst")]
    whole = totals_of(lines, AUSTRALIA, "AUD", with_tax=True, per_line=False)
    each = totals_of(lines, AUSTRALIA, "AUD", with_tax=True, per_line=True)
    assert paid(whole) == ("3.59", ["0.36"], "3.95")
    assert paid(each) == ("3.60", ["0.35"], "3.95")


@pytest.mark.parametrize(("price", "value"), [("100", "100"), ("95", "95")])
def test_tax_is_due_on_what_would_be_paid_without_a_part_exchange(price: str, value: str) -> None:
    """HM Revenue and Customs, VATVAL06110: goods at 100, or 95 to the trade, against something
    valued at 10 are supplied at 100 and 95; gov.uk/hmrc-internal-manuals/vat-valuation/vatval06110
    """
    lines = [line(price, "vat"), line("-10", "", "trade_in")]
    (tax,) = totals_of(lines, VAT, "GBP", with_tax=False, per_line=False).taxes
    assert tax.base == Decimal(value)


@pytest.mark.parametrize(
    ("discount", "allowed", "tax"), [("0", "5000", "2500.00"), ("1000", "4000", "2333.33")]
)
def test_an_amount_off_lessens_the_tax_and_a_part_exchange_does_not(
    discount: str, allowed: str, tax: str
) -> None:
    """Tax Insider, "What trade-in values should you use when selling second-hand cars?", January
    2020: a car at 15,000 with 20 % VAT, 5,000 allowed and 10,000 paid holds 2,500 of VAT; with
    1,000 off and 4,000 allowed it holds 2,333.33 (a published example, not an authority's)."""
    lines = [
        line("15000", "vat", "boat"),
        line(f"-{discount}", "vat", "amount_off"),
        line(f"-{allowed}", "", "trade_in"),
    ]
    found = totals_of(lines, VAT, "GBP", with_tax=True, per_line=False)
    assert (str(found.taxes[0].amount), found.total) == (tax, Decimal(10000))
    assert without_tax(Decimal(15000) - Decimal(discount), Decimal("0.20")).quantize(
        Decimal("0.01")
    ) == found.taxes[0].base.quantize(Decimal("0.01"))


def dealer_quote(tmp_path: Path, pricing: Pricing, scheme: str) -> Record:
    """A quote to a dealer beyond the border, under a tax scheme."""
    path = tmp_path / "request.yaml"
    path.write_text(
        "date: 2026-11-25\nprepared_by: Ilse Maravant\nmarket: home\nbuyer: contract\n"
        f"customer: {{name: Haldor Finnevik}}\nmodel: coastal_98\nscheme: {scheme}\n"
        "extra_lines:\n  - {name: Engine, price: 10000 EUR, cost: 9000 EUR}\n",
        encoding="utf-8",
    )
    wish = sound_wish(read_request(path), pricing)
    return record_of(draft_of(pricing, wish, "mark", None), "2026-0001")


@pytest.mark.parametrize(
    ("scheme", "says"),
    [
        ("reverse_charge", "Delivered without tax; the buyer pays it where the boat arrives."),
        ("export", "Delivered without tax for export; the buyer provides proof of export."),
        (
            "new_transport",
            "Delivered without tax as a new means of transport; the buyer declares it in the "
            "country of arrival.",
        ),
    ],
)
def test_where_the_seller_charges_no_tax_the_total_is_the_net_and_the_quote_says_why(
    tmp_path: Path, demo_pricing: Pricing, scheme: str, says: str
) -> None:
    """Reverse charge: HM Revenue and Customs, VATREVCON37100 (the tax is not in the total charged,
    and the invoice says who accounts for it). Export: Canada Revenue Agency, "Exported goods"
    (no tax is charged, evidence is kept), and Inland Revenue Authority of Singapore, "Exporting of
    goods" (0 %). New means of transport: EU Directive 2006/112, art. 138 (2) (a); from memory. None
    has a whole invoice in numbers: 10,000 of work invoiced at 10,000 with 2,000 for the customer to
    declare at 20 % is of an accountant's page on the British reverse charge."""
    record = dealer_quote(tmp_path, demo_pricing, scheme)
    assert (record.total, record.taxes, record.with_tax) == (record.net, (), False)
    assert {line.rate for line in record.lines} == {""}
    assert next(each for each in record.lines if each.kind == "extra").amount == 10000
    assert (shown_of(record).basis, shown_of(record).scheme) == ("untaxed", says)
    assert record.issued == date(2026, 11, 25)
    engine = [QuoteLine(kind="extra", id="x", name="x", amount=Decimal(10000))]
    assert paid(totals_of(engine, {}, "GBP", with_tax=False, per_line=False)) == (
        "10000",
        [],
        "10000",
    )
