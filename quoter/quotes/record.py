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
    company: str = ""
    address: tuple[str, ...] = ()
    country: str = ""
    email: str = ""
    phone: str = ""
    website: str = ""
    tax_number: str = ""


class QuoteLine(Frozen):
    """A line: `amount` is `quantity` times `price`, exactly; both with tax where `with_tax` holds.

    Standard equipment has no price; credits and discounts are negative. `rate` is the id of its
    tax. `inside` lists what a boat, an option or a package holds.
    """

    kind: LineKind
    id: str
    name: str
    text: str = ""
    inside: tuple[str, ...] = ()
    quantity: Count = 1
    price: Amount | None = None
    amount: Amount | None = None
    rate: str = ""
    lead_time: str = ""


class Tax(Frozen):
    """A tax of the quote: its base without tax, and the amount. A rate of 0.24 is 24 %."""

    id: str
    name: str
    rate: Share
    base: Amount
    amount: Amount


class Scheme(Frozen):
    """How tax is treated: the id of the scheme, and what the quote says about it, if anything."""

    id: str
    words: str = ""


class Deposit(Frozen):
    """An instalment: when it is due, in words, and its part of the total."""

    due: str
    share: Share
    amount: Amount


class Delivery(Frozen):
    """A delivery term of the trade with its named place and the edition it is of."""

    term: str
    place: str
    edition: str
    words: str = ""


class Rate(Frozen):
    """The rate of exchange a quote rests on: units of its currency for one of home money."""

    currency: Currency
    home: Currency
    rate: Above
    day: date
    source: str
    words: str


class Fixed(Frozen):
    """A dated rate: units of a currency for one of home money."""

    currency: str
    rate: Above
    day: date


class Exchanged(Frozen):
    """What was given in another currency than the quote's, and the rates it was exchanged at."""

    amount: Decimal
    currency: str
    home: str
    rates: tuple[Fixed, ...]

    def __str__(self) -> str:
        """In words for the yard."""
        told = (
            f"1 {self.home} = {r.rate.normalize():f} {r.currency} of {r.day}" for r in self.rates
        )
        return f"{self.amount.normalize():,f} {self.currency} at {' and '.join(told)}"


class Source(Frozen):
    """What the quote was made from: the catalogue's mark, its lists, and the program."""

    mark: str
    as_of: date
    price_list: date
    edition: str
    model_year: str
    version: str


class InsideLine(Frozen):
    """What a line costs and leaves, in home currency; the yard's eyes only."""

    id: str
    name: str
    quantity: Count
    list_price: Amount
    net: Amount
    cost: Amount
    variable: Amount


class Approval(Frozen):
    """Who let a margin below the floor pass, and why."""

    name: str
    reason: str


class Seen(Frozen):
    """What the customer saw on the price sheet, and what its lists say on the day of issue.

    Both in the quote's currency, with tax or without as the market's lists are; `price_sheet` is
    the version that was looked at, if it is known.
    """

    total: Amount
    listed: Amount
    price_sheet: str = ""


class Inside(Frozen):
    """What no customer may see. Money in home currency without tax, but for what they saw.

    `margin` is after provisions; `floor` and `margin_fraction` are fractions of the net price.
    `delivery` is what it was charged at where that was given in another currency than the quote's.
    """

    buyer: str
    buyer_name: str
    class_discount: Amount
    extra_discount: Amount
    home: Currency
    lines: tuple[InsideLine, ...]
    net: Amount
    cost: Amount
    variable: Amount
    contribution: Amount
    margin: Amount
    margin_fraction: Amount
    floor: Amount
    below_floor: bool
    approval: Approval | None = None
    note: str = ""
    seen: Seen | None = None
    delivery: Exchanged | None = None


class Difference(Frozen):
    """A difference between two revisions: what, how it was and how it is (empty where absent)."""

    what: str
    before: str
    after: str


class Fingerprint(Frozen):
    """SHA-256 in hexadecimal: of what each key of a record holds, and of the files beside it."""

    keys: dict[str, str]
    files: dict[str, str]


class Record(Frozen):
    """A whole quote. `request` is the request by key: as it was written, with what the command
    line said instead and the class of buyer that was taken.

    `with_tax` says whether prices and amounts of lines hold the tax; `total` is what is to be
    paid, `net` what it is without tax. `revision` 0 is the first; `changes` tell from the one
    before.
    """

    format: int = RECORD.newest
    number: Number
    revision: Count = 0
    issued: date
    valid_until: date
    language: str
    market: str
    model: str
    currency: Currency
    yard: Party
    customer: Party
    prepared_by: str
    title: str
    facts: tuple[tuple[str, str], ...] = ()
    lines: tuple[QuoteLine, ...]
    with_tax: bool
    net: Amount
    taxes: tuple[Tax, ...]
    scheme: Scheme
    total: Amount
    deposits: tuple[Deposit, ...] = ()
    payment: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
    delivery: Delivery
    rate: Rate | None = None
    surcharge: tuple[str, ...] = ()
    note: str = ""
    changes: tuple[Difference, ...] = ()
    source: Source
    request: dict[str, object]
    inside: Inside
    fingerprint: Fingerprint | None = None

    @property
    def name(self) -> str:
        """The number with its revision: ``2026-0007`` or ``2026-0007-R2``."""
        return f"{self.number}-R{self.revision}" if self.revision else self.number

    @property
    def locale(self) -> Locale:
        """What its language writes numbers and days by."""
        return Locale.parse(self.language.replace("_", "-"), sep="-")
