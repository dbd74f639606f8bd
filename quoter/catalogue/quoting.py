"""Records of quotes: the yard's policy for them, and a request by a salesperson or a customer."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.catalogue.values import Plain
from quoter.figures import Figure
from quoter.intake import LONGEST_TEXT
from quoter.problems import quoted

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
    named_place: f.TranslatedName
    """The place that the term names.
    Example: `Orvesund`"""
    edition: f.Words
    """The edition of the terms.
    Example: `Incoterms 2020`"""
    words: f.Translated | None = None
    """What it means for this boat, in a sentence for the customer.
    Example: `Launched and handed over at the guest pier.`"""
    price: f.Money | None = None
    """What is charged for it, without tax, as a line of its own. The policy's is in home currency;
    a request's in another currency than the quote's is exchanged at the rate of the day, and the
    quote says so.
    Unless given: nothing.
    Example: `1450 EUR`"""


class TaxScheme(CatalogueRecord):
    """How a sale is taxed. Which scheme a sale falls under is for the yard's tax adviser."""

    id: f.Identifier
    """Names the scheme in requests.
    Example: `reverse_charge`"""
    charged: f.Truth
    """Whether tax is charged as the market has it, or not at all.
    Example: `no`"""
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


class Approver(CatalogueRecord):
    """A person who may let a quote pass that sales may not issue alone, and within which limits.

    Every limit of one entry has to hold; whoever has other limits for other classes of buyer has an
    entry for each. Nobody approves a quote that they prepared.
    """

    name: OneLine
    """Who it is, as `quoter quote --approve` names them; capitals and blanks don't matter.
    Example: `Rasmus Olm`"""
    classes: Many[f.Identifier] = ()
    """The dealer classes, by their ids, for which they may.
    Unless given: all of them.
    Example: `[contract, area]`"""
    most_off: f.Loss | None = None
    """How much may come off the list price at most: the class's discount, the one on top and
    amounts off taken together, as a fraction of what the quote comes to at list prices.
    Unless given: no limit.
    Example: `28 %`"""
    floor: Annotated[Figure, f.measure("20 %", "", low=-1.0, high=1.0)] | None = None
    """The margin, as a fraction of the net price, that has to be left at least.
    Unless given: no limit.
    Example: `20 %`"""
    most: f.Money | None = None
    """How much the quote may come to at most, without tax and delivery, in home currency.
    Unless given: no limit.
    Example: `250000 EUR`"""
    note: f.Note | None = None


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


class Chosen(CatalogueRecord):
    """An option or a package, and how many of it."""

    option: Annotated[Text, f.ref("option", "package")]
    """The option or package that is chosen; what is standard on the boat is left out.
    Example: `easy_boarding`"""
    quantity: f.Whole | None = None
    """How many of it.
    Unless given: 1.
    Example: `2`"""


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
    delivery: DeliveryTerm | None = None
    """How this boat is delivered, where it is not the policy's way."""
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
    note: NoteInLines | None = None
    """Words for the customer, printed on the quote.
    Example: `Delivery by mid June would be welcome.`"""
    internal_note: f.Note | None = None
    """Words for the yard alone, in its record and workbook.
    Example: `met at the autumn fair`"""
