"""A quote as data: a Quotation of OASIS Universal Business Language 2.3, made from what is shown.

Source: OASIS Standard "Universal Business Language Version 2.3", 15 June 2021. Codes are of the
lists that European invoices use as well (EN 16931-1): units by UN/ECE Recommendation 20, categories
of tax by UNCL 5305, reasons of charges by UNCL 7161, means of payment by
UNCL 4461, documents by UNCL 1001.

Amounts of lines are without tax, as the standard has them; where the quote's own hold it, they are
parted from it so that they add up to the quote's sums. What is taken off is an allowance, and
delivery is a charge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from lxml import etree

from quoter.figures.exact import half_up
from quoter.pages import money
from quoter.quotes.kept.party import Bank, Party
from quoter.quotes.kept.record import Tax
from quoter.quotes.printed.shown import Shown, ShownLine, locale_of
from quoter.wording import wording
from quoter.workbook.columns import minor_digits

_URN = "urn:oasis:names:specification:ubl:schema:xsd:"
CAC, CBC = f"{_URN}CommonAggregateComponents-2", f"{_URN}CommonBasicComponents-2"
SPACES: dict[str | None, str] = {None: f"{_URN}Quotation-2", "cac": CAC, "cbc": CBC}
NOTHING = Decimal(0)
PIECE, HOUR, WEEK = "C62", "HUR", "WEE"  # "one", "hour" and "week" of Recommendation 20
OFFER = "310"  # UNCL 1001
TRANSFER = "30"  # UNCL 4461: credit transfer
DELIVERY = "DL"  # UNCL 7161
VAT, OTHER_TAX = "VAT", "OTH"  # UNCL 5153
_LESS = ("less", "credits", "discounts", "trade_ins")  # sections of what comes off
STANDARD_RATE, ZERO_RATED = "S", "Z"


@dataclass(frozen=True, slots=True)
class Untaxed:
    """A line with its amount without tax."""

    line: ShownLine
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Sums:
    """A quote's amounts as the standard counts them: all of them without tax.

    `lines` are what is sold, `less` what comes off and `more` what is charged beside;
    `extension`, `allowances` and `charges` are their sums, `untaxed` is what bears no tax, and
    `charged` all tax.
    """

    lines: tuple[Untaxed, ...]
    less: tuple[Untaxed, ...]
    more: tuple[Untaxed, ...]
    extension: Decimal
    allowances: Decimal
    charges: Decimal
    untaxed: Decimal
    charged: Decimal


def sums_of(quote: Shown) -> Sums:
    """The amounts of a quote without tax.

    What rounding leaves is carried from line to line, so that the lines of each tax add up to its
    base and all of them to the quote's sum without tax.
    """
    priced = [line for each in quote.sections for line in each.lines if line.amount is not None]
    inside = quote.basis in ("with one", "with several")
    found = _parted(priced, quote) if inside else {id(x): x.amount or NOTHING for x in priced}
    lines: list[Untaxed] = []
    less: list[Untaxed] = []
    more: list[Untaxed] = []
    for section in quote.sections:
        for each in (Untaxed(x, found[id(x)]) for x in section.lines if x.amount is not None):
            beside = section.kind in ("delivery", *_LESS)
            (less if each.amount < 0 else more if beside else lines).append(each)
    return Sums(
        lines=tuple(lines),
        less=tuple(less),
        more=tuple(more),
        extension=_sum(lines),
        allowances=-_sum(less),
        charges=_sum(more),
        untaxed=quote.net - sum((tax.base for tax in quote.taxes), NOTHING),
        charged=sum((tax.amount for tax in quote.taxes), NOTHING),
    )


def _parted(lines: Iterable[ShownLine], quote: Shown) -> dict[int, Decimal]:
    """Amounts without the tax that they hold, by the identity of their lines."""
    digits, found = minor_digits(quote.currency), {}
    gross: dict[str, Decimal] = {}
    told: dict[str, Decimal] = {}
    last = {line.tax.id: id(line) for line in lines if line.tax is not None}
    for line in lines:
        amount, tax = line.amount or NOTHING, line.tax
        if tax is None:
            found[id(line)] = amount
            continue
        gross[tax.id] = gross.get(tax.id, NOTHING) + amount
        whole = half_up(gross[tax.id] / (1 + tax.rate), digits)
        if last[tax.id] == id(line):
            whole = tax.base
        found[id(line)] = whole - told.get(tax.id, NOTHING)
        told[tax.id] = whole
    return found


def _sum(lines: Iterable[Untaxed]) -> Decimal:
    return sum((each.amount for each in lines), NOTHING)


def quotation(quote: Shown) -> bytes:
    """The file, in UTF-8; the same quote gives the same bytes."""
    root = _Writer(quote).root()
    content: bytes = etree.tostring(root, encoding="UTF-8", xml_declaration=True, pretty_print=True)
    return content


class _Writer:
    """Writes one quotation, in the order that the schema asks for."""

    def __init__(self, quote: Shown) -> None:
        self._quote, self._sums = quote, sums_of(quote)
        self._locale = locale_of(quote)
        self._say = wording(self._locale)
        self._digits = minor_digits(quote.currency)

    def root(self) -> etree._Element:
        quote = self._quote
        root = etree.Element(f"{{{SPACES[None]}}}Quotation", nsmap=SPACES)  # type: ignore[arg-type]
        _put(root, "UBLVersionID", "2.3")
        _put(root, "ID", quote.name)
        _put(root, "IssueDate", quote.issued.isoformat())
        for text in (quote.title, quote.note.strip(), *self._offered()):
            _put(root, "Note", text, languageID=quote.language)
        _put(root, "PricingCurrencyCode", quote.currency)
        _put(root, "LineCountNumeric", str(len(self._sums.lines)))
        period = _part(root, "ValidityPeriod")
        _put(period, "StartDate", quote.issued.isoformat())
        _put(period, "EndDate", quote.valid_until.isoformat())
        if quote.reference:
            _put(_part(root, "RequestForQuotationDocumentReference"), "ID", quote.reference)
        if quote.before:
            before = _part(root, "AdditionalDocumentReference")
            _put(before, "ID", quote.before)
            _put(before, "DocumentTypeCode", OFFER)
        seller = _part(root, "SellerSupplierParty")
        self._party(seller, quote.yard, quote.prepared_by)
        self._party(_part(root, "BuyerCustomerParty"), quote.customer, quote.customer.name)
        self._delivery(root)
        self._payment(root)
        self._allowances(root)
        self._taxes(root)
        self._totals(root)
        for number, each in enumerate(self._sums.lines, 1):
            self._line(root, number, each)
        return root

    def _party(self, into: etree._Element, who: Party, contact: str) -> None:
        party = _part(into, "Party")
        _put(party, "WebsiteURI", who.website)
        _put(_part(party, "PartyName"), "Name", who.company or who.name)
        if who.address or who.country or who.country_code:
            address = _part(party, "PostalAddress")
            for line in who.address:
                _put(_part(address, "AddressLine"), "Line", line)
            if who.country or who.country_code:
                country = _part(address, "Country")
                _put(country, "IdentificationCode", who.country_code)
                _put(country, "Name", who.country)
        if who.tax_number:
            scheme = _part(party, "PartyTaxScheme")
            _put(scheme, "CompanyID", who.tax_number)
            self._tax_scheme(scheme)
        if who.registration:
            entity = _part(party, "PartyLegalEntity")
            _put(entity, "RegistrationName", who.company or who.name)
            _put(entity, "CompanyID", who.registration)
        person = _part(party, "Contact")
        _put(person, "Name", contact)
        _put(person, "Telephone", who.phone)
        _put(person, "ElectronicMail", who.email)

    def _tax_scheme(self, into: etree._Element) -> None:
        """The codes of the schemes' categories are those of value added tax."""
        scheme = _part(into, "TaxScheme")
        _put(scheme, "ID", VAT if self._quote.category else OTHER_TAX)

    def _delivery(self, root: etree._Element) -> None:
        quote = self._quote
        if quote.promised is not None:
            period = _part(_part(root, "Delivery"), "PromisedDeliveryPeriod")
            _put(period, "EndDate", quote.promised.isoformat())
            _put(period, "Description", quote.ready)
        elif quote.lead_time is not None:
            period = _part(_part(root, "Delivery"), "EstimatedDeliveryPeriod")
            _put(period, "DurationMeasure", str(quote.lead_time.weeks), unitCode=WEEK)
            _put(period, "Description", quote.ready)
        terms = _part(root, "DeliveryTerms")
        _put(terms, "ID", quote.delivery.term, schemeName=quote.delivery.edition)
        _put(terms, "SpecialTerms", quote.delivery.words)
        _put(_part(terms, "DeliveryLocation"), "Name", quote.delivery.place)

    def _payment(self, root: etree._Element) -> None:
        """Where to pay, and the terms, of which the standard has one text each."""
        quote = self._quote
        if quote.yard.banks:
            means = _part(root, "PaymentMeans")
            _put(means, "PaymentMeansCode", TRANSFER)
            _account(means, quote.yard.banks[0])
        deposits = [
            f"{part.due}: {money.money(part.amount, quote.currency, self._locale)}"
            for part in quote.deposits
        ]
        told = [*deposits, *quote.payment, *quote.surcharge, *quote.terms]
        if told:
            conditions = _part(root, "TransactionConditions")
            for text in told:
                _put(conditions, "Description", text, languageID=quote.language)

    def _allowances(self, root: etree._Element) -> None:
        taken = [(each, True) for each in self._sums.less]
        for each, less in (*taken, *((each, False) for each in self._sums.more)):
            part = _part(root, "AllowanceCharge")
            _put(part, "ChargeIndicator", "false" if less else "true")
            _put(part, "AllowanceChargeReasonCode", "" if less else DELIVERY)
            for text in (each.line.name, each.line.text, each.line.condition):
                _put(part, "AllowanceChargeReason", text, languageID=self._quote.language)
            self._amount(part, "Amount", -each.amount if less else each.amount)
            self._category(part, "TaxCategory", each.line.tax)

    def _taxes(self, root: etree._Element) -> None:
        quote, part = self._quote, _part(root, "TaxTotal")
        self._amount(part, "TaxAmount", self._sums.charged)
        for tax in quote.taxes:
            self._subtotal(part, tax.base, tax.amount, tax)
        if self._sums.untaxed or not quote.taxes:
            self._subtotal(part, self._sums.untaxed, NOTHING, None)

    def _subtotal(
        self, into: etree._Element, base: Decimal, amount: Decimal, tax: Tax | None
    ) -> None:
        part = _part(into, "TaxSubtotal")
        self._amount(part, "TaxableAmount", base)
        self._amount(part, "TaxAmount", amount)
        self._category(part, "TaxCategory", tax, reason=self._quote.scheme)

    def _category(self, into: etree._Element, name: str, tax: Tax | None, reason: str = "") -> None:
        part = _part(into, name)
        _put(part, "ID", category_of(self._quote, tax))
        _put(part, "Name", tax.name if tax is not None else "")
        _put(part, "Percent", plain(tax.rate * 100 if tax is not None else NOTHING))
        if tax is None:
            _put(part, "TaxExemptionReason", reason, languageID=self._quote.language)
        self._tax_scheme(part)

    def _totals(self, root: etree._Element) -> None:
        quote, sums = self._quote, self._sums
        part = _part(root, "QuotedMonetaryTotal")
        self._amount(part, "LineExtensionAmount", sums.extension)
        self._amount(part, "TaxExclusiveAmount", quote.net)
        self._amount(part, "TaxInclusiveAmount", quote.total)
        if sums.less:
            self._amount(part, "AllowanceTotalAmount", sums.allowances)
        if sums.more:
            self._amount(part, "ChargeTotalAmount", sums.charges)
        self._amount(part, "PayableAmount", quote.total)

    def _line(self, root: etree._Element, number: int, each: Untaxed) -> None:
        whole, line = _part(root, "QuotationLine"), each.line
        _put(whole, "ID", str(number))
        item = _part(whole, "LineItem")
        _put(item, "ID", str(number))
        quantity, unit = plain(Decimal(line.quantity)), HOUR if line.hours else PIECE
        _put(item, "Quantity", quantity, unitCode=unit)
        self._amount(item, "LineExtensionAmount", each.amount)
        within = line.amount is not None and line.amount != each.amount
        if within and line.amount is not None:
            self._amount(item, "TaxInclusiveLineExtensionAmount", line.amount)
        price = _part(item, "Price")
        if within or line.price is None:  # what rounding left may not part into pieces
            self._amount(price, "PriceAmount", each.amount)
            _put(price, "BaseQuantity", quantity, unitCode=unit)
        else:
            self._amount(price, "PriceAmount", line.price)
        self._item(item, line, first=number == 1)

    def _item(self, into: etree._Element, line: ShownLine, first: bool) -> None:
        """What a line is; the first is the boat, with its facts and what is standard on it."""
        quote, item = self._quote, _part(into, "Item")
        for text in (line.text, *line.inside, line.condition):
            _put(item, "Description", text, languageID=quote.language)
        _put(item, "Name", line.name)
        self._category(item, "ClassifiedTaxCategory", line.tax)
        properties = [(self._say("Lead time"), line.lead_time)] if line.lead_time else []
        if first:
            properties += [*quote.facts, *self._standard()]
        for name, value in properties:
            part = _part(item, "AdditionalItemProperty")
            _put(part, "Name", name)
            _put(part, "Value", value)

    def _standard(self) -> Iterator[tuple[str, str]]:
        for section in self._quote.sections:
            for line in section.lines if section.kind == "standard" else ():
                yield self._say("Standard equipment"), " · ".join((line.name, *line.inside))

    def _offered(self) -> Iterator[str]:
        """What can be added to the quote, which is no part of its sums."""
        for line in self._quote.offered:
            if line.amount is not None:
                price = money.money(line.amount, self._quote.currency, self._locale)
                yield self._say("Can be added: {name}, {price}", name=line.name, price=price)

    def _amount(self, into: etree._Element, name: str, amount: Decimal) -> None:
        told = f"{half_up(amount, self._digits):.{self._digits}f}"
        _put(into, name, told, currencyID=self._quote.currency)


def category_of(quote: Shown, tax: Tax | None) -> str:
    """The code of a tax: the scheme's; a rate of nothing is zero rated. Nothing if it has none."""
    if quote.category == STANDARD_RATE and tax is None:
        return ""
    if quote.category == STANDARD_RATE and tax is not None and not tax.rate:
        return ZERO_RATED
    return quote.category


def _account(means: etree._Element, bank: Bank) -> None:
    account = _part(means, "PayeeFinancialAccount")
    _put(account, "ID", bank.iban.replace(" ", "") or bank.account)
    branch = _part(account, "FinancialInstitutionBranch")
    _put(branch, "ID", bank.routing)
    institution = _part(branch, "FinancialInstitution")
    _put(institution, "ID", bank.bic)
    _put(institution, "Name", bank.name)


def plain(number: Decimal) -> str:
    """A number without an exponent and without zeros at its end."""
    return f"{number.normalize():f}"


def _part(into: etree._Element, name: str) -> etree._Element:
    """An element that holds others."""
    return etree.SubElement(into, f"{{{CAC}}}{name}")


def _put(into: etree._Element, name: str, text: str, **attributes: str) -> None:
    """An element that holds a value; none for no value."""
    if text:
        found = etree.SubElement(
            into, f"{{{CBC}}}{name}", {k: v for k, v in attributes.items() if v}
        )
        found.text = text
