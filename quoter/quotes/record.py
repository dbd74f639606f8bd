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
from pydantic import AfterValidator, BaseModel, ConfigDict, Field
from pydantic_core import PydanticCustomError

from quoter.formats import RECORD

MOST_DIGITS = 60  # of an amount
LARGEST, SMALLEST = 14, -60  # powers of ten; no computed amount of a record is finer
SHARE_DECIMALS = 30  # of a fraction: as many as a spreadsheet shows of a number
MOST = 999_999  # of one line, and of revisions
LONGEST_TEXT = 10_000  # characters; a catalogue's have 2,000, a spreadsheet's cell takes 32,767
LineKind = Literal["boat", "option", "package", "standard", "credit", "discount", "delivery"]


def _amount(number: Decimal) -> Decimal:
    """An amount that can be written out: ``1e999999`` would fill all pages of a quote."""
    _, digits, exponent = number.as_tuple()
    far = number.adjusted() > LARGEST or not isinstance(exponent, int) or exponent < SMALLEST
    if far or len(digits) > MOST_DIGITS:
        raise PydanticCustomError("amount", "it is a number that nobody can mean")
    return number


def _share(number: Decimal) -> Decimal:
    """A fraction that a cell can show with all its decimals."""
    exponent = _amount(number).normalize().as_tuple().exponent
    if not isinstance(exponent, int) or exponent < -SHARE_DECIMALS:
        raise PydanticCustomError("share", "it is a fraction that nobody can mean")
    return number


Amount = Annotated[Decimal, AfterValidator(_amount)]
Above = Annotated[Amount, Field(gt=0)]
Share = Annotated[Decimal, AfterValidator(_share)]
Count = Annotated[int, Field(ge=0, le=MOST)]
Currency = Annotated[str, Field(pattern="^[A-Z]{3}$")]
Number = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{4,12}$")]  # without a revision


class Frozen(BaseModel):
    """A part of a record: immutable, and nothing in it is unknown."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_max_length=LONGEST_TEXT)


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
    """Id of the boat, option or package; empty for a discount."""
    name: str
    """What it is called."""
    text: str = ""
    """What it is, in a sentence."""
    inside: tuple[str, ...] = ()
    """What a boat, an option or a package holds."""
    quantity: Count = 1
    """How many."""
    price: Amount | None = None
    """Of one; standard equipment has none, credits and discounts are negative."""
    amount: Amount | None = None
    """The quantity times the price, exactly."""
    rate: str = ""
    """Id of its tax."""
    lead_time: str = ""
    """How long before delivery it has to be ordered."""


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
    """Id of the boat or option."""
    name: str
    """What it is called."""
    quantity: Count
    """How many."""
    list_price: Amount
    """List price of one."""
    net: Amount
    """What it leaves after discounts."""
    cost: Amount
    """Full cost of one."""
    variable: Amount
    """What one more costs."""


class Limit(Frozen):
    """What somebody may let pass; whatever is not given is no limit."""

    most_off: Share | None = None
    """How much may come off the list at most, as a fraction of it."""
    floor: Share | None = None
    """The margin, as a fraction of the net price, that has to be left at least."""
    most: Amount | None = None
    """How much the quote may come to, in home currency without tax and delivery."""


class Approval(Frozen):
    """Who let a quote pass that needed it, why, and what they let pass within which limit."""

    name: str
    """Who lets it pass."""
    reason: str
    """Why."""
    passed: tuple[str, ...] = ()
    """What needed it, by word: `floor`, `discount`, `edition`, `day`. Records of before it was
    kept have none; it was the floor then."""
    off: Share | None = None
    """What came off the list, as a fraction of it, if it was kept."""
    limit: Limit | None = None
    """By which entry of the yard's list they may; none if the yard had no list."""


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
