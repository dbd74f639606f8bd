"""The frozen record of a quote: everything its pages show, and what only the yard may see.

A quote reprints from its record alone, however the catalogue has moved since. Money is exact
decimals in the quote's currency unless a name says otherwise; dates are days; texts are in the
quote's language.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from babel import Locale
from pydantic import Field

from quoter.formats import RECORD
from quoter.quotes.amounts import Above, Amount, Count, Currency, Frozen, Number, Quantity, Share
from quoter.quotes.pictures import Picture

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


class Party(Frozen):
    """Whom a quote is from or for; what was not given is empty."""

    name: str
    """Who it is."""
    company: str = ""
    """The company, if it is one."""
    address: tuple[str, ...] = ()
    """Lines of the address."""
    country: str = ""
    """The country."""
    email: str = ""
    """Address for mail."""
    phone: str = ""
    """Telephone number."""
    website: str = ""
    """Address of the site."""
    tax_number: str = ""
    """Number for tax."""


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

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is told by on this quote, and found again by in another revision.

        Lines of the request's own go by their names, since their place may change.
        """
        return (self.kind, self.name if self.kind in OWN_KINDS else self.id, self.rate)


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


class Fixed(Frozen):
    """A dated rate: units of a currency for one of home money."""

    currency: str
    """The currency."""
    rate: Above
    """Units of it for one of home money."""
    day: date
    """The day of the rate."""


class Exchanged(Frozen):
    """What was given in another currency than the quote's, and the rates it was exchanged at."""

    amount: Decimal
    """As it was given."""
    currency: str
    """The currency it was given in."""
    home: str
    """The home currency."""
    rates: tuple[Fixed, ...]
    """The rates it was exchanged at."""

    def __str__(self) -> str:
        """In words for the yard."""
        told = (
            f"1 {self.home} = {r.rate.normalize():f} {r.currency} of {r.day}" for r in self.rates
        )
        return f"{self.amount.normalize():,f} {self.currency} at {' and '.join(told)}"


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


class InsideLine(Frozen):
    """What a line costs and leaves, in home currency; the yard's eyes only."""

    id: str
    """Id of the boat or option; of a line of the request's own as in `QuoteLine`."""
    name: str
    """What it is called."""
    quantity: Quantity
    """How many."""
    list_price: Amount
    """List price of one."""
    net: Amount
    """What it leaves after discounts."""
    cost: Amount
    """Full cost of one."""
    variable: Amount
    """What one more costs."""
    own: bool = False
    """Whether it is a line of the request's own, which the catalogue knows nothing of."""


class Approval(Frozen):
    """Who let a margin below the floor pass, and why."""

    name: str
    """Who lets it pass."""
    reason: str
    """Why."""


class Seen(Frozen):
    """What the customer saw, and what it is now: with tax or without, as the market's lists are."""

    total: Amount
    """The total that the price sheet showed."""
    listed: Amount
    """What its lists come to on the day of issue."""
    price_sheet: str = ""
    """The version that was looked at, if it is known."""


class Inside(Frozen):
    """What no customer may see. Money in home currency without tax, but for what they saw."""

    buyer: str
    """Id of the class of buyer."""
    buyer_name: str
    """What the class is called."""
    class_discount: Amount
    """The class's discount, as a fraction."""
    extra_discount: Amount
    """What comes off on top of it, as a fraction."""
    home: Currency
    """The home currency."""
    lines: tuple[InsideLine, ...]
    """What each line costs and leaves."""
    net: Amount
    """The whole without tax."""
    cost: Amount
    """Its full cost."""
    variable: Amount
    """Its variable cost."""
    contribution: Amount
    """What it leaves after provisions and variable cost."""
    margin: Amount
    """What it leaves after provisions and full cost."""
    margin_fraction: Amount
    """That as a fraction of the net price."""
    floor: Amount
    """The margin below which somebody has to answer for it."""
    below_floor: bool
    """Whether it is below."""
    approval: Approval | None = None
    """Who let it pass, where it is."""
    note: str = ""
    """A note that stays in the yard."""
    seen: Seen | None = None
    """What the customer had seen, if a price sheet was the start."""
    delivery: Exchanged | None = None
    """What delivery was exchanged at, where it was given in another currency."""


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
