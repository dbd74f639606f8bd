"""What a record of a quote keeps for the yard alone: costs, margins, approvals, what was exchanged.

Money is exact decimals; no customer may see any of it.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from quoter.quotes.kept.amounts import Above, Amount, Currency, Frozen, Quantity, Share


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
