"""Records of quotes: the yard's policy for them, and a request by a salesperson or a customer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.catalogue.values import Plain
from quoter.figures import Figure
from quoter.intake import LONGEST_TEXT
from quoter.problems import Problem, nearest, quoted

# How a sale is taxed, by UN/EDIFACT code list 5305 as invoices within Europe use it (EN 16931-1).
TAX_CATEGORIES = ("S", "Z", "E", "AE", "K", "G", "O")
# The eleven terms of Incoterms 2020 by their letters (from memory).
INCOTERMS = ("EXW", "FCA", "CPT", "CIP", "DAP", "DPU", "DDP", "FAS", "FOB", "CFR", "CIF")
MOST_LINES = 40  # of a note; more is no note, and no page of a quote


def _note_in_lines(text: Text) -> Text:
    """Words that may have line ends, as many as a page bears."""
    count = len(text.strip().split("\n"))
    if not text.strip():
        raise f.fault("no-value", "has no value", "write a text")
    if len(text) > LONGEST_TEXT or count > MOST_LINES:
        hint = f"at most {LONGEST_TEXT} characters on {MOST_LINES} lines fit"
        on = f"{count} line{'s' if count > 1 else ''}"
        raise f.fault("too-much", f"{quoted(text)} has {len(text)} characters on {on}", hint)
    return text


Days = Annotated[Figure, f.measure("30", "", low=1.0, high=3650.0, whole=True)]
PiecesOrHours = Annotated[
    Figure, f.measure("2", "each", "h", low=0.0, high=99_999.0, above_low=True)
]
Off = Annotated[Figure, f.measure("1500 EUR", "money", low=0.0, above_low=True)]
_LINE = f"a text on one line, at most {f.LONGEST_LINE} characters"
OneLine = Annotated[Text, Plain(f.one_line, called=_LINE)]
_LINES = f"a text of at most {MOST_LINES} lines"
NoteInLines = Annotated[Text, Plain(_note_in_lines, called=_LINES)]


class Instalment(CatalogueRecord):
    """A part of the total and when it is due; both are public."""

    due: f.Translated
    """When it is due, in words.
    Example: `with the order`"""
    share: f.Passed
    """The part of the total; all instalments make up 100 %.
    Example: `30 %`"""


class DeliveryTerm(CatalogueRecord):
    """A delivery term of the trade, its named place and the edition it is of; all public."""

    term: f.Words
    """The term's letters.
    Example: `EXW`"""
    named_place: f.TranslatedName | None = None
    """The place that the term names.
    Unless given: each request names its own; the policy's usual delivery has to.
    Example: `Orvesund`"""
    edition: f.Words
    """The edition of the terms.
    Example: `Incoterms 2020`"""
    words: f.Translated | None = None
    """What it means for this boat, in a sentence for the customer; of other terms than the usual
    one it is asked for.
    Example: `Launched and handed over at the guest pier.`"""
    price: f.Money | None = None
    """What is charged for it, without tax and in home currency, as a line of its own that no
    discount comes off.
    Unless given: nothing.
    Example: `1450 EUR`"""
    terms: Many[f.Translated] = ()
    """What holds only with this term, a sentence each, before the terms that always hold; public.
    Example: `[Prices are for the boat delivered at the yard, without transport.]`"""
    payment: Many[f.Translated] = ()
    """Terms of payment that hold only with this term, a sentence each; public.
    Example: `[The freight is invoiced when the boat has arrived.]`"""


class AskedDelivery(CatalogueRecord):
    """How one boat is delivered: a term of the policy by its letters, or one of its own."""

    term: f.Words
    """The term's letters: those of the policy's delivery, of one of its `delivery_terms`, or
    others with words of their own.
    Example: `DAP`"""
    named_place: f.TranslatedName | None = None
    """The place that the term names.
    Unless given: that of the policy's term.
    Example: `Tern Harbour`"""
    edition: f.Words | None = None
    """The edition of the terms.
    Unless given: that of the policy's term, else that of its usual delivery.
    Example: `Incoterms 2020`"""
    words: f.Translated | None = None
    """What it means for this boat, in a sentence for the customer.
    Unless given: the words of the policy's term.
    Example: `Launched and handed over at the guest pier.`"""
    price: f.Money | None = None
    """What is charged for it, without tax, as a line of its own that no discount comes off. In
    another currency than the quote's it is exchanged at the rate of the day, and the quote says so.
    Unless given: that of the policy's term, else nothing.
    Example: `1450 EUR`"""


class TaxScheme(CatalogueRecord):
    """How a sale is taxed. Which scheme a sale falls under is for the yard's tax adviser."""

    id: f.Identifier
    """Names the scheme in requests.
    Example: `reverse_charge`"""
    charged: f.Truth
    """Whether tax is charged as the market has it, or not at all.
    Example: `no`"""
    category: Annotated[str, f.choice(*TAX_CATEGORIES)] | None = None
    """The code of the tax in `quotation.xml`, by list 5305 of the United Nations; your tax adviser
    knows it. S standard, Z zero, E exempt, AE reverse charge, K union, G export, O none.
    Unless given: the data name no code.
    Example: `AE`"""
    words: f.Translated | None = None
    """What the quote says of it to the customer; public.
    Example: `The buyer accounts for the tax.`"""
    note: f.Note | None = None


class QuotePolicy(CatalogueRecord):
    """What every quote says unless its request says otherwise."""

    valid_for: Days
    """Days that a quote holds from its date.
    Example: `30`"""
    tax_rounding: Annotated[str, f.choice("per line", "per quote")] = "per quote"
    """Whether tax is rounded for each line of a quote or once for all of it.
    Example: `per line`"""
    payment: Many[f.Translated] = ()
    """Terms of payment, a sentence each; public.
    Example: `[Each instalment is due ten days after its invoice.]`"""
    deposits: Many[Instalment] = ()
    """Instalments, the last payment included; public."""
    delivery: DeliveryTerm
    """The usual delivery; a request may say another. With a price it is on the price sheet too."""
    delivery_terms: Many[DeliveryTerm] = ()
    """Other delivery terms, each with its own words, price and terms: requests name one by its
    letters."""
    schemes: Many[TaxScheme]
    """Tax schemes; the first holds unless a request names another."""
    surcharge: f.Identifier | None = None
    """The surcharge clause that quotes carry.
    Unless given: none.
    Example: `resin`"""
    rate_source: f.Translated | None = None
    """Where rates of exchange come from, on quotes in another currency; public.
    Example: `the reference rates of the central bank`"""
    rate_words: f.Translated | None = None
    """Who bears a movement of the rate, on quotes in another currency; public.
    Example: `The price stays as quoted if the rate moves.`"""


class Customer(CatalogueRecord):
    """Whom a quote is for."""

    name: OneLine
    """The customer's name, on one line.
    Example: `Torbenia Quell`"""
    company: OneLine | None = None
    """The customer's company.
    Example: `Finnevik Baat`"""
    address: Many[OneLine] = ()
    """The address, a list of lines.
    Example: `[8 Lantern Steps, Orvesund]`"""
    country: OneLine | None = None
    """The country, as it is to stand in the address.
    Example: `Inland`"""
    email: OneLine | None = None
    """The customer's address for mail.
    Example: `torbenia.quell@example.com`"""
    phone: OneLine | None = None
    """The customer's telephone number.
    Example: `+00 555 0177`"""
    tax_number: OneLine | None = None
    """The customer's tax number, on the quote.
    Example: `NX 402 118 77`"""
    reference: OneLine | None = None
    """The customer's own number of the enquiry or order, on the quote.
    Example: `ENQ 2026/118`"""


class Chosen(CatalogueRecord):
    """An option or a package, and how many of it."""

    option: Annotated[Text, f.ref("option", "package")]
    """The option or package that is chosen; what is standard on the boat is left out.
    Example: `easy_boarding`"""
    quantity: f.Whole | None = None
    """How many of it.
    Unless given: 1.
    Example: `2`"""


class ExtraLine(CatalogueRecord):
    """A line that is in no catalogue: an engine, a trailer, hours of work, or a boat taken in.

    Amounts in another currency than the quote's are exchanged at the rate of the day, and the quote
    says so. What a boat that is taken in is worth counts as paid with it, so that it costs the yard
    only what is credited beyond that.
    """

    name: OneLine
    """What it is called, in the language of the quote.
    Example: `Outboard engine, 225 hp`"""
    text: OneLine | None = None
    """What it is, in a sentence for the customer, in the language of the quote.
    Example: `With controls and rigging, mounted at the yard.`"""
    quantity: PiecesOrHours | None = None
    """How many, or how many hours.
    Unless given: 1.
    Example: `12.5 h`"""
    price: f.Money
    """Of one, or of an hour, without tax. Of a boat taken in: what is credited for it.
    Example: `21900 EUR`"""
    cost: f.Money | None = None
    """What one, or an hour, costs the yard, without tax; never on the quote. Only a boat taken in
    needs none.
    Example: `18200 EUR`"""
    trade_in: f.Truth = False
    """Whether it is something used that is taken in, and comes off what is to be paid.
    Example: `yes`"""
    worth: f.Money | None = None
    """What the yard values something taken in at, without tax; never on the quote.
    Unless given: what is credited for it.
    Example: `16500 EUR`"""
    tax: f.Words | None = None
    """One of the market's `other_taxes` by its id, or `none`. How something taken in bears on the
    tax is for the yard's tax adviser.
    Unless given: the market's tax; none on something taken in: tax is due on the full price.
    Example: `reduced`"""
    discounted: f.Truth = False
    """Whether discounts and amounts off come off it as well.
    Example: `yes`"""


class AmountOff(CatalogueRecord):
    """An amount that comes off after the discounts in per cent."""

    name: OneLine
    """What it is called, in the language of the quote.
    Example: `Boat show discount`"""
    amount: Off
    """How much comes off, as the quote shows prices: with tax where they hold it, else without. It
    is split over the rates of tax in proportion. In another currency than the quote's it is
    exchanged at the rate of the day, and the quote says so.
    Example: `1500 EUR`"""


class OfferedBeside(CatalogueRecord):
    """Something that can be added: shown with its price, and in no sum. `option`, or a `name`."""

    option: Annotated[Text, f.ref("option", "package")] | None = None
    """An option or a package that is not on the boat as chosen; at its list price.
    Example: `roof_panel`"""
    name: OneLine | None = None
    """What something is called that is in no catalogue, in the language of the quote.
    Example: `Road trailer`"""
    text: OneLine | None = None
    """What it is, in a sentence for the customer; only beside `name`.
    Example: `Two axles, braked, for boats up to 2.5 t.`"""
    quantity: PiecesOrHours | None = None
    """How many of it, or how many hours.
    Unless given: 1.
    Example: `2`"""
    price: f.Money | None = None
    """Of one, or of an hour, without tax; only beside `name`.
    Example: `6400 EUR`"""
    tax: f.Words | None = None
    """One of the market's `other_taxes` by its id, or `none`; only beside `name`.
    Unless given: the market's tax.
    Example: `reduced`"""


class Request(CatalogueRecord):
    """The file of a request: what a customer asks for, and on which terms.

    Who asks by the public price sheet knows no class and nobody at the yard: `buyer` and
    `prepared_by` may come from the command line, which outranks the file.
    """

    format: f.Format | None = None
    """The number of the request's format, now 1.
    Unless given: 1.
    Example: `1`"""
    date: f.Day
    """The day of issue, whose prices hold; no clock is read.
    Example: `2026-11-25`"""
    price_sheet: OneLine | None = None
    """In a request saved from the price sheet, the version that the customer looked at.
    Example: `2026-11`"""
    customer: Customer
    """Whom the quote is for."""
    prepared_by: OneLine | None = None
    """Who at the yard makes the quote, printed on it.
    Unless given: `quoter quote --by NAME` says it.
    Example: `Ilse Maravant`"""
    market: f.Identifier
    """The market, by its id: currency, tax and list prices follow.
    Example: `home`"""
    language: f.Words | None = None
    """The language of the quote.
    Unless given: that of the market.
    Example: `de`"""
    buyer: f.Identifier | None = None
    """The dealer class, by its id: its discount and whether it is a consumer follow.
    Unless given: `--buyer ID`, else the first class of consumers if the market's lists show tax,
    else the class with the smallest discount.
    Example: `direct`"""
    model: Annotated[Text, f.ref("model")]
    """The boat.
    Example: `weekender_86`"""
    options: Many[Chosen] = ()
    """Options and packages that are chosen."""
    colour: Annotated[Text, f.ref("option")] | None = None
    """The colour, an option of kind colour.
    Unless given: the boat's standard colour.
    Example: `hull_blue`"""
    discount: f.Loss | None = None
    """A discount on top of the class's; a margin below the floor needs an approval.
    Unless given: none.
    Example: `1.5 %`"""
    extra_lines: Many[ExtraLine] = ()
    """Lines that are in no catalogue."""
    amounts_off: Many[AmountOff] = ()
    """Amounts that come off after discounts in per cent; a margin below the floor needs an
    approval."""
    offered: Many[OfferedBeside] = ()
    """What can be added: shown beside, and in no sum."""
    delivery: AskedDelivery | None = None
    """How this boat is delivered, where it is not the policy's way."""
    delivery_date: f.Day | None = None
    """The day that delivery is promised for. One sooner than the longest lead time of what is
    chosen is told to the yard.
    Unless given: the quote says the longest lead time.
    Example: `2027-06-15`"""
    scheme: f.Identifier | None = None
    """The tax scheme of the policy, by its id.
    Unless given: the first.
    Example: `reverse_charge`"""
    valid_until: f.Day | None = None
    """The last day that the quote holds.
    Unless given: the policy's days after its date.
    Example: `2027-01-15`"""
    shown_total: f.Money | None = None
    """In a request saved from the price sheet, the total that it showed, as its market shows
    prices. If list prices come to another total now, the command says so.
    Example: `62570.40 EUR`"""
    shown_lead_weeks: f.Positive | None = None
    """In a request saved from the price sheet, the weeks of the longest lead time that it showed.
    If lead times come to another now, the command says so.
    Example: `14`"""
    note: NoteInLines | None = None
    """Words for the customer, printed on the quote.
    Example: `Delivery by mid June would be welcome.`"""
    internal_note: f.Note | None = None
    """Words for the yard alone, in its record and workbook.
    Example: `met at the autumn fair`"""


def unknown_letters(term: Text, edition: Text) -> Iterator[Problem]:
    """A term of Incoterms that is none of them; terms of other rules are whatever they are."""
    rules = edition.casefold()
    if "incoterms" in rules and "2020" in rules and str(term) not in INCOTERMS:
        what = f"{edition} have no term {quoted(term)}"
        yield Problem(term.place, "unknown-word", what, nearest(term, INCOTERMS))
