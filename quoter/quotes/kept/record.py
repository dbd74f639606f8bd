"""The frozen record of a quote: everything its pages show, and what only the yard may see.

A quote reprints from its record alone, however the catalogue has moved since. Money is exact
decimals in the quote's currency unless a name says otherwise; dates are days; texts are in the
quote's language.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from babel import Locale
from pydantic import Field

from quoter.formats import RECORD
from quoter.quotes.kept.amounts import (
    Above,
    Amount,
    Count,
    Currency,
    Frozen,
    Number,
    Quantity,
    Share,
)
from quoter.quotes.kept.inside import Inside
from quoter.quotes.kept.party import LeadTime, Party
from quoter.quotes.kept.pictures import Picture

LineKind = Literal[
    "boat",
    "option",
    "package",
    "standard",
    "credit",
    "discount",
    "delivery",
    "extra",
    "trade_in",
    "amount_off",
]
OWN_KINDS = ("extra", "trade_in", "amount_off")  # written in the request, not in the catalogue
BESIDES = ("discount", "amount_off", "trade_in", "delivery")  # the first ends the subtotal


class QuoteLine(Frozen):
    """A line: both its price and its amount are with tax where `with_tax` holds."""

    kind: LineKind
    """What sort of line it is."""
    id: str
    """Id of the boat, option or package; ``class`` or ``extra`` for a discount; ``line.2`` and
    ``off.1`` by their place in the request for lines of its own; empty for delivery."""
    name: str
    """What it is called."""
    text: str = ""
    """What it is, in a sentence."""
    inside: tuple[str, ...] = ()
    """What a boat, an option or a package holds."""
    quantity: Quantity = 1
    """How many, or how many hours; exact."""
    price: Amount | None = None
    """Of one; standard equipment has none, credits, trade-ins, discounts and amounts off are
    negative."""
    amount: Amount | None = None
    """The quantity times the price: exactly for whole numbers, else rounded to whole smallest units
    of the currency."""
    rate: str = ""
    """Id of its tax; empty where it bears none."""
    lead_time: str = ""
    """How long before delivery it has to be ordered."""
    hours: bool = False
    """Whether the quantity counts hours of work, and the price is that of an hour."""
    condition: str = ""
    """What holds for something offered beside: what it needs, or can't be had with."""


class Tax(Frozen):
    """A tax of the quote."""

    id: str
    """Id of the tax."""
    name: str
    """What it is called."""
    rate: Share
    """As a fraction: 0.24 is 24 %."""
    base: Amount
    """What it is taken of, without tax."""
    amount: Amount
    """The tax itself."""


class Scheme(Frozen):
    """How tax is treated."""

    id: str
    """Id of the scheme in the policy."""
    words: str = ""
    """What the quote says about it, if anything."""
    category: str = ""
    """Its code in the quote's data, if it has one."""


class Deposit(Frozen):
    """An instalment."""

    due: str
    """When it is due, in words."""
    share: Share
    """Its part of the total."""
    amount: Amount
    """What is to be paid then."""


class Delivery(Frozen):
    """A delivery term of the trade with its named place."""

    term: str
    """The term of the trade."""
    place: str
    """The place it names."""
    edition: str
    """The edition of the rules that it is of."""
    words: str = ""
    """What else is said of it."""


class Rate(Frozen):
    """The rate of exchange a quote rests on: units of its currency for one of home money."""

    currency: Currency
    """The currency of the quote."""
    home: Currency
    """The home currency."""
    rate: Above
    """Units of the one for one of the other."""
    day: date
    """The day of the rate."""
    source: str
    """Where rates come from."""
    words: str
    """Who bears their moves."""


class Source(Frozen):
    """What the quote was made from: the catalogue's mark, its lists, and the program."""

    mark: str
    """The catalogue's mark."""
    as_of: date
    """The day whose prices count."""
    price_list: date
    """The day of the price list in force then."""
    edition: str
    """The price sheet's edition."""
    model_year: str
    """Its model year."""
    version: str
    """The version of the program."""


class Difference(Frozen):
    """A difference between two revisions."""

    what: str
    """What differs."""
    before: str
    """How it was; empty where it is new."""
    after: str
    """How it is; empty where it is gone."""


class Fingerprint(Frozen):
    """SHA-256 in hexadecimal, of a record and of what lies beside it."""

    keys: dict[str, str]
    """Digest of what each key of the record holds."""
    files: dict[str, str]
    """Digest of each file beside it."""


class Record(Frozen):
    """A whole quote."""

    format: int = RECORD.newest
    """Number of the format of the file."""
    number: Number
    """Number of the quote, without a revision."""
    revision: Count = 0
    """0 for the first issue."""
    changes_order: str = ""
    """Name of the won quote that this one changes, if it is a change order."""
    issued: date
    """The day of issue."""
    valid_until: date
    """The last day it holds."""
    language: str
    """Language of its texts."""
    market: str
    """Id of the market."""
    model: str
    """Id of the boat."""
    currency: Currency
    """Currency of all amounts."""
    yard: Party
    """Who offers."""
    customer: Party
    """To whom."""
    prepared_by: str
    """Who made it."""
    title: str
    """What the quote is for."""
    paper: Annotated[str, Field(pattern="^(A4|Letter)?$")] = ""
    """What it is printed on; nothing for what the customer's country has."""
    facts: tuple[tuple[str, str], ...] = ()
    """What is said of the boat: a name and a value each."""
    lines: tuple[QuoteLine, ...]
    """What is offered, line by line."""
    subtotal: Amount | None = None
    """What the lines come to that discounts are taken of: all before the first discount, amount
    off, trade-in or delivery; None where there is none of them."""
    offered: tuple[QuoteLine, ...] = ()
    """What can be added, and is not in any amount of the quote; at list prices."""
    with_tax: bool
    """Whether prices and amounts of lines hold the tax."""
    net: Amount
    """What is to be paid, without tax."""
    taxes: tuple[Tax, ...]
    """Each tax with its base."""
    scheme: Scheme
    """How tax is treated."""
    total: Amount
    """What is to be paid."""
    deposits: tuple[Deposit, ...] = ()
    """The instalments."""
    payment: tuple[str, ...] = ()
    """Terms of payment, in sentences."""
    terms: tuple[str, ...] = ()
    """What else holds, in sentences."""
    delivery: Delivery
    """The term of delivery."""
    reference: str = ""
    """The customer's own number of the enquiry or order."""
    promised: date | None = None
    """The day that delivery is promised for."""
    lead_time: LeadTime | None = None
    """The longest lead time of what is on it, if any is known."""
    rate: Rate | None = None
    """The rate it rests on, where its currency is not the home one."""
    surcharge: tuple[str, ...] = ()
    """The clause for rising prices, in sentences, if it has one."""
    note: str = ""
    """A note for the customer."""
    pictures: tuple[Picture, ...] = ()
    """Of the yard, the boat and what is chosen, if there are any."""
    changes: tuple[Difference, ...] = ()
    """What differs from the revision before."""
    source: Source
    """What it was made from."""
    request: dict[str, object]
    """The request by key: as written, with what the command line said instead."""
    inside: Inside
    """What no customer may see."""
    fingerprint: Fingerprint | None = None
    """By which later changes are found."""

    @property
    def name(self) -> str:
        """The number with its revision: ``2026-0007`` or ``2026-0007-R2``."""
        return f"{self.number}-R{self.revision}" if self.revision else self.number

    @property
    def locale(self) -> Locale:
        """What its language writes numbers and days by."""
        return Locale.parse(self.language.replace("_", "-"), sep="-")
