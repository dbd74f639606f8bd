"""Records of quotes: the yard's policy for them, and a request as a salesperson writes it."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import Many, Record
from quoter.catalogue.source import Text
from quoter.figures import Figure

Days = Annotated[Figure, f.measure("30", "", low=1.0, whole=True)]


class Instalment(Record):
    """A part of the total and when it is due; both are public."""

    due: f.Translated
    share: f.Passed


class DeliveryTerm(Record):
    """A delivery term of the trade, its named place and the edition it is of; all public.

    `price`, without tax and in the quote's currency, is added as a line of its own.
    """

    term: f.Words
    named_place: f.TranslatedName
    edition: f.Words
    words: f.Translated | None = None
    price: f.Money | None = None


class TaxScheme(Record):
    """How a sale is taxed: charged as the market has it, or not; the words are public.

    Which scheme a sale falls under is for the yard's tax adviser to decide.
    """

    id: f.Identifier
    charged: f.Truth
    words: f.Translated | None = None
    note: f.Note | None = None


class QuotePolicy(Record):
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


class Customer(Record):
    """Whom a quote is for."""

    name: f.Words
    company: f.Words | None = None
    address: Many[f.Words] = ()
    country: f.Words | None = None
    email: f.Words | None = None
    phone: f.Words | None = None
    tax_number: f.Words | None = None


class Chosen(Record):
    """An option or a package, and how many of it."""

    option: Annotated[Text, f.ref("option", "package")]
    quantity: f.Whole | None = None


class Request(Record):
    """The file of a request: what a customer asks for, and on which terms.

    `date` is the day of issue; `buyer` a dealer class; `colour` an option of kind colour;
    `discount` comes on top of the class's; `note` goes to the customer, `internal_note` stays.
    """

    date: f.Day
    customer: Customer
    prepared_by: f.Words
    market: f.Identifier
    language: f.Words | None = None
    buyer: f.Identifier
    model: Annotated[Text, f.ref("model")]
    options: Many[Chosen] = ()
    colour: Annotated[Text, f.ref("option")] | None = None
    discount: f.Loss | None = None
    delivery: DeliveryTerm | None = None
    scheme: f.Identifier | None = None
    valid_until: f.Day | None = None
    note: f.Words | None = None
    internal_note: f.Note | None = None
