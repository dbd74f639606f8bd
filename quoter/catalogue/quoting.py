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
OneLine = Annotated[Text, Plain(f.one_line)]
NoteInLines = Annotated[Text, Plain(_note_in_lines)]


class Instalment(CatalogueRecord):
    """A part of the total and when it is due; both are public."""

    due: f.Translated
    share: f.Passed


class DeliveryTerm(CatalogueRecord):
    """A delivery term of the trade, its named place and the edition it is of; all public.

    `price`, without tax, is added as a line of its own, exchanged where it is in another currency
    than the quote's; the policy's is in home currency.
    """

    term: f.Words
    named_place: f.TranslatedName
    edition: f.Words
    words: f.Translated | None = None
    price: f.Money | None = None


class TaxScheme(CatalogueRecord):
    """How a sale is taxed: charged as the market has it, or not; the words are public.

    Which scheme a sale falls under is for the yard's tax adviser to decide.
    """

    id: f.Identifier
    charged: f.Truth
    words: f.Translated | None = None
    note: f.Note | None = None


class QuotePolicy(CatalogueRecord):
    """What every quote says unless its request says otherwise.

    `valid_for` is in days; `deposits` make up the whole; the first of `schemes` holds unless
    another is named; `surcharge` names the clause that quotes carry, if they do; `rate_words` say
    who bears a movement of the rate of exchange, and `rate_source` where rates come from.
    """

    valid_for: Days
    tax_rounding: Annotated[str, f.choice("per line", "per quote")] = "per quote"
    payment: Many[f.Translated] = ()
    deposits: Many[Instalment] = ()
    delivery: DeliveryTerm
    schemes: Many[TaxScheme]
    surcharge: f.Identifier | None = None
    rate_source: f.Translated | None = None
    rate_words: f.Translated | None = None


class Customer(CatalogueRecord):
    """Whom a quote is for."""

    name: OneLine
    company: OneLine | None = None
    address: Many[OneLine] = ()
    country: OneLine | None = None
    email: OneLine | None = None
    phone: OneLine | None = None
    tax_number: OneLine | None = None


class Chosen(CatalogueRecord):
    """An option or a package, and how many of it."""

    option: Annotated[Text, f.ref("option", "package")]
    quantity: f.Whole | None = None


class Request(CatalogueRecord):
    """The file of a request: what a customer asks for, and on which terms.

    `date` is the day of issue; `buyer` a dealer class; `colour` an option of kind colour;
    `discount` comes on top of the class's; `note` goes to the customer, `internal_note` stays.

    Who asks by the public price sheet knows no class and nobody at the yard: `buyer` and
    `prepared_by` may come from elsewhere. They tell what they saw: `price_sheet` is its version,
    `shown_total` what it added up, as its market's lists show prices. `format` is that of the
    file; the first where none is stated.
    """

    format: f.Format | None = None
    date: f.Day
    price_sheet: OneLine | None = None
    customer: Customer
    prepared_by: OneLine | None = None
    market: f.Identifier
    language: f.Words | None = None
    buyer: f.Identifier | None = None
    model: Annotated[Text, f.ref("model")]
    options: Many[Chosen] = ()
    colour: Annotated[Text, f.ref("option")] | None = None
    discount: f.Loss | None = None
    delivery: DeliveryTerm | None = None
    scheme: f.Identifier | None = None
    valid_until: f.Day | None = None
    shown_total: f.Money | None = None
    note: NoteInLines | None = None
    internal_note: f.Note | None = None
