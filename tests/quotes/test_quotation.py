"""The quote as data: valid against the published schema, and its sums add up as the standard asks.

Sources: the schemas of OASIS UBL 2.3 (`tests/standards/ubl-2.3`); the rules of sums are BR-CO-10 to
BR-CO-16 of EN 16931-1, and BR-S-08 and its like of each category (from memory), which invoices
within Europe keep in this syntax. No rule of them looks at quotations; a purchaser's program holds
both against the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from quoter.leaks import LeakError
from quoter.quotes.kept.party import Bank, LeadTime, Party
from quoter.quotes.kept.record import QuoteLine, Record, Scheme
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.guard import look_through_quote
from quoter.quotes.printed.quotation import CAC, CBC, quotation, sums_of
from quoter.quotes.printed.shown import shown_of
from tests.accounted import numbers_in
from tests.demo import DEMO
from tests.quotes.hidden import found_in, texts_of, with_another_inside
from tests.quotes.samples import FULL, REDUCED, SAMPLES, line, record
from tests.trials.planted_quotes import quoted

SCHEMA = Path(__file__).parents[1] / "standards" / "ubl-2.3" / "maindoc" / "UBL-Quotation-2.3.xsd"
NAMES = {"cac": CAC, "cbc": CBC}
REQUESTS = sorted((DEMO / "requests").glob("*.yaml"))
BY_HAND = [path.stem for path in REQUESTS if "\nprepared_by:" in path.read_text("utf-8")]
FULLY: dict[str, Any] = {
    "reference": "ENQ 118 / b",
    "scheme": Scheme(id="export", words="Delivered without tax for export.", category="G"),
    "lead_time": LeadTime(weeks=7, of="Boarding door, starboard"),
    "yard": Party(
        name="Tern Quay Boats",
        address=("1 Tern Quay", "Sundby"),
        country_code="XO",
        tax_number="XO 1",
        registration="Register of Sundby, no. 77",
        banks=(Bank(name="Sundby Bank", account="12 34", routing="Routing 9"),),
    ),
}


@cache
def schema() -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(SCHEMA))


@cache
def every() -> Mapping[str, Record]:
    """Records of all kinds: with and without tax, several taxes, credits, revisions, hours."""
    found = {f"demo {name}": quoted(name)[0] for name in BY_HAND}
    found |= {f"sample {name}": make() for name, make in SAMPLES.items()}
    found["fully"] = SAMPLES["usual"](**FULLY)
    found["zero"] = record(
        [line("boat", "Punt", "900.00", rate="zero"), line("option", "Oar", "10.00", 3, "zero")],
        rates={"zero": FULL.__class__("zero", "VAT", Decimal(0))},
        currency="EUR",
        with_tax=True,
        scheme=Scheme(id="domestic", category="S"),
    )
    hours = QuoteLine(
        kind="extra",
        id="work",
        name="Fitting",
        quantity=Decimal("2.5"),
        price=Decimal("80.00"),
        amount=Decimal("200.00"),
        rate="standard",
        hours=True,
    )
    taken = line("trade_in", "An old dinghy", "-450.00", rate="reduced")
    found["hours"] = record(
        [line("boat", "Punt", "1000.01"), hours, taken],
        rates={FULL.id: FULL, REDUCED.id: REDUCED},
        currency="EUR",
        with_tax=True,
    )
    return found


EVERY = ["fully", "zero", "hours", *(f"demo {name}" for name in BY_HAND)]
EVERY += [f"sample {name}" for name in SAMPLES]


def tree(of: Record) -> etree._Element:
    return etree.fromstring(quotation(shown_of(of)))


def texts(root: etree._Element, path: str) -> list[str]:
    found = root.xpath(path, namespaces=NAMES)
    assert isinstance(found, list)
    return [str(each.text) for each in found if isinstance(each, etree._Element)]


def found_at(root: etree._Element, path: str) -> etree._Element:
    found = root.find(path, NAMES)
    assert found is not None
    return found


def amounts(root: etree._Element, path: str) -> list[Decimal]:
    return [Decimal(text) for text in texts(root, path)]


def one(root: etree._Element, path: str) -> Decimal:
    (found,) = amounts(root, path)
    return found


@pytest.mark.parametrize("name", EVERY)
def test_a_quotation_is_valid_by_the_published_schema(name: str) -> None:
    assert schema().validate(tree(every()[name])), schema().error_log


def test_the_schema_finds_what_is_wrong() -> None:
    root = tree(SAMPLES["short"]())
    found_at(root, "cbc:IssueDate").text = "October 1, 2026"
    assert not schema().validate(root)
    again = tree(SAMPLES["short"]())
    again.remove(found_at(again, "cac:SellerSupplierParty"))
    assert not schema().validate(again)


@pytest.mark.parametrize("name", EVERY)
def test_sums_add_up_as_the_standard_asks_and_are_the_quotes_own(name: str) -> None:
    of = every()[name]
    root, total = tree(of), "cac:QuotedMonetaryTotal"
    lines = amounts(root, "cac:QuotationLine/cac:LineItem/cbc:LineExtensionAmount")
    less = amounts(root, "cac:AllowanceCharge[cbc:ChargeIndicator='false']/cbc:Amount")
    more = amounts(root, "cac:AllowanceCharge[cbc:ChargeIndicator='true']/cbc:Amount")
    extension = one(root, f"{total}/cbc:LineExtensionAmount")
    untaxed = one(root, f"{total}/cbc:TaxExclusiveAmount")
    tax = one(root, "cac:TaxTotal/cbc:TaxAmount")
    assert extension == sum(lines)
    assert untaxed == extension - sum(less) + sum(more) == of.net
    assert sum(amounts(root, f"{total}/cbc:AllowanceTotalAmount")) == sum(less)
    assert sum(amounts(root, f"{total}/cbc:ChargeTotalAmount")) == sum(more)
    assert tax == sum(amounts(root, "cac:TaxTotal/cac:TaxSubtotal/cbc:TaxAmount"))
    assert one(root, f"{total}/cbc:TaxInclusiveAmount") == untaxed + tax == of.total
    assert one(root, f"{total}/cbc:PayableAmount") == of.total
    assert all(amount >= 0 for amount in (*less, *more, *lines))


@pytest.mark.parametrize("name", EVERY)
def test_each_tax_is_on_the_lines_that_bear_it(name: str) -> None:
    root = tree(every()[name])
    for subtotal in root.findall("cac:TaxTotal/cac:TaxSubtotal", NAMES):
        percent = texts(subtotal, "cac:TaxCategory/cbc:Percent")[0]
        bears = f"cac:Item/cac:ClassifiedTaxCategory/cbc:Percent='{percent}'"
        lines = amounts(root, f"cac:QuotationLine/cac:LineItem[{bears}]/cbc:LineExtensionAmount")
        beside = f"cac:AllowanceCharge[cac:TaxCategory/cbc:Percent='{percent}'"
        less = amounts(root, f"{beside} and cbc:ChargeIndicator='false']/cbc:Amount")
        more = amounts(root, f"{beside} and cbc:ChargeIndicator='true']/cbc:Amount")
        assert one(subtotal, "cbc:TaxableAmount") == sum(lines) - sum(less) + sum(more)


@pytest.mark.parametrize("name", EVERY)
def test_a_price_times_the_quantity_is_the_amount(name: str) -> None:
    for item in tree(every()[name]).iter(f"{{{CAC}}}LineItem"):
        per = amounts(item, "cac:Price/cbc:BaseQuantity") or [Decimal(1)]
        price = one(item, "cac:Price/cbc:PriceAmount")
        assert price * one(item, "cbc:Quantity") / per[0] == one(item, "cbc:LineExtensionAmount")


def test_tax_within_prices_is_parted_so_that_nothing_is_lost_by_rounding() -> None:
    """Three lines of 0.05 with 24 %: each alone rounds to 0.04, all of them to 0.12."""
    lines = [line("boat", "A", "0.05"), line("option", "B", "0.05"), line("option", "C", "0.05")]
    rates = {"standard": FULL.__class__("standard", "VAT", Decimal("0.24"))}
    of = record(lines, rates=rates, currency="EUR", with_tax=True)
    assert (str(of.net), str(of.total)) == ("0.12", "0.15")
    assert [str(each.amount) for each in sums_of(shown_of(of)).lines] == ["0.04", "0.04", "0.04"]
    inclusive = amounts(tree(of), ".//cbc:TaxInclusiveLineExtensionAmount")
    assert inclusive == [Decimal("0.05")] * 3


def test_a_currency_without_decimals_is_written_without() -> None:
    of = record([line("boat", "A", "950000")], rates={}, currency="JPY", with_tax=False)
    assert texts(tree(of), "cac:QuotedMonetaryTotal/cbc:PayableAmount") == ["950000"]


def test_it_says_who_sells_where_to_pay_and_when_the_boat_comes() -> None:
    root = tree(SAMPLES["usual"](**FULLY))
    seller, account = "cac:SellerSupplierParty/cac:Party", "cac:PaymentMeans/*"
    assert texts(root, f"{seller}/cac:PartyTaxScheme/cbc:CompanyID") == ["XO 1"]
    assert texts(root, f"{seller}/cac:PartyTaxScheme/cac:TaxScheme/cbc:ID") == ["VAT"]
    assert texts(root, f"{seller}/cac:PostalAddress/cac:Country/cbc:IdentificationCode") == ["XO"]
    legal = f"{seller}/cac:PartyLegalEntity/cbc:CompanyID"
    assert texts(root, legal) == ["Register of Sundby, no. 77"]
    assert texts(root, f"{account}/cbc:ID") == ["12 34"]
    assert texts(root, "cac:RequestForQuotationDocumentReference/cbc:ID") == ["ENQ 118 / b"]
    weeks = found_at(root, "cac:Delivery/cac:EstimatedDeliveryPeriod/cbc:DurationMeasure")
    assert (weeks.text, weeks.get("unitCode")) == ("7", "WEE")
    assert set(texts(root, ".//cac:TaxSubtotal/cac:TaxCategory/cbc:ID")) == {"G"}
    reason = texts(root, ".//cbc:TaxExemptionReason")
    assert reason == ["Delivered without tax for export."]


def test_hours_are_hours_and_what_is_taken_in_comes_off() -> None:
    root = tree(every()["hours"])
    assert texts(root, ".//cbc:Quantity[@unitCode='HUR']") == ["2.5"]
    assert texts(root, "cac:AllowanceCharge/cbc:AllowanceChargeReason") == ["An old dinghy"]


def test_a_rate_of_nothing_is_zero_rated_where_others_are_standard() -> None:
    found = texts(tree(every()["zero"]), ".//cac:TaxCategory/cbc:ID")
    assert set(found) == {"Z"}


@pytest.mark.parametrize("size", SAMPLES)
def test_nothing_internal_is_in_it_and_it_follows_from_what_is_shown(size: str) -> None:
    of = SAMPLES[size]()
    told = quotation(shown_of(of))
    assert found_in(told.decode(), of) == []
    assert quotation(shown_of(with_another_inside(of))) == told


def test_the_customer_finds_the_terms_and_lines_in_it() -> None:
    of = SAMPLES["long"]()
    words = "\n".join(str(text) for text in tree(of).itertext())
    changes = {text for each in of.changes for text in (each.what, each.before, each.after)}
    terms = of.delivery.edition  # stands in an attribute, as the name of the list of terms
    unsaid = {of.source.edition, terms, *changes}
    if of.rate is not None:
        unsaid |= {of.rate.home, of.rate.source, of.rate.words}
    assert [text for text in texts_of(of) if text not in words and text not in unsaid] == []


PLANTS = {
    "a text": (b"</cbc:Note>", b" costs 31,313.00</cbc:Note>"),
    "a comment": (b"<cac:TaxTotal>", b"<!-- 31313 --><cac:TaxTotal>"),
    "an instruction": (b"<cac:TaxTotal>", b"<?cost 31313?><cac:TaxTotal>"),
    "an element": (b"<cac:TaxTotal>", b"<cbc:Note>low</cbc:Note><cac:TaxTotal>"),
    "an attribute": (b"<cbc:ID>", b'<cbc:ID schemeID="31313">'),
    "an amount": (
        b'<cbc:PayableAmount currencyID="EUR">',
        b'<cbc:PayableAmount currencyID="EUR">1',
    ),
    "a blank": (b"<cac:TaxTotal>", b"  <cac:TaxTotal>"),
    "a namespace": (b"<Quotation ", b'<Quotation xmlns:x="31313" '),
    "a code": (b"<cbc:UBLVersionID>2.3", b"<cbc:UBLVersionID>2.4"),
    "behind the end": (b"</Quotation>", b"</Quotation><!-- 31313 -->"),
    "no XML": (b"</Quotation>", b""),
}


@pytest.mark.parametrize("plant", PLANTS)
def test_what_is_planted_in_it_is_found(plant: str) -> None:
    of = SAMPLES["short"]()
    files = reprinted(of)
    found, new = PLANTS[plant]
    assert found in files["quotation.xml"]
    files["quotation.xml"] = files["quotation.xml"].replace(found, new, 1)
    with pytest.raises(LeakError) as caught:
        look_through_quote(files, of)
    assert "quotation.xml: " in str(caught.value)


def test_its_numbers_are_those_of_the_page_where_prices_are_without_tax() -> None:
    of = SAMPLES["usual"]()
    files = reprinted(of)
    page = set(numbers_in(files["quote.html"].decode()))
    for amount in amounts(tree(of), ".//cbc:LineExtensionAmount[ancestor::cac:LineItem]"):
        assert str(amount) in page
