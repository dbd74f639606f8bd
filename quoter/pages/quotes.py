"""The yard's page of its quotes: won and lost by month and option, and every quote."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from babel import Locale

from quoter.pages.environment import page_environment, render
from quoter.pages.money import money
from quoter.quotes.months import Group, MonthTable

ENGLISH = Locale("en")


@dataclass(frozen=True, slots=True)
class QuoteRow:
    """A quote: what the customer pays, what it leaves, and what is left of that today.

    `margin` and `lost` are in home currency; `today` is the margin fraction at today's costs.
    """

    name: str
    issued: date
    valid_until: date
    customer: str
    title: str
    state: str
    total: Decimal
    currency: str
    home: str
    margin: Decimal
    margin_fraction: Decimal
    below_floor: bool
    today: Decimal | None
    lost: Decimal | None


@dataclass(frozen=True, slots=True)
class GroupRow:
    """Quotes of a month or with an option: how many stand how, and what those won leave.

    `won_value` are sums without tax by currency, in words; margins are in home currency.
    """

    name: str
    quotes: int
    open: int
    expired: int
    won: int
    lost: int
    conversion: Decimal | None
    net: Decimal
    margin: Decimal
    fraction: Decimal | None


def quotes_page(on: date, rows: Sequence[QuoteRow], table: MonthTable) -> bytes:
    """The page as one file that needs no other.

    Args:
        on: the day the states are of
        rows: every quote
        table: the same by month and option
    """
    home = rows[0].home if rows else ""
    return render(
        page_environment(ENGLISH, home or "EUR"),
        "internal/quotes.html",
        on=on,
        home=home,
        rows=rows,
        paid={row.name: money(row.total, row.currency, ENGLISH) for row in rows},
        months=[_group(group, home) for group in table.months],
        options=[_group(group, home) for group in table.options],
        every=_group(table.every, home),
    )


def _group(group: Group, home: str) -> GroupRow:
    counts = {state: tally.quotes for state, tally in group.by_state.items()}
    won = group.by_state.get("won")
    return GroupRow(
        name=group.name,
        quotes=group.every.quotes,
        open=counts.get("open", 0),
        expired=counts.get("expired", 0),
        won=counts.get("won", 0),
        lost=counts.get("lost", 0),
        conversion=group.conversion,
        net=Decimal(0) if won is None else won.net.get(home, Decimal(0)),
        margin=Decimal(0) if won is None else won.margin.get(home, Decimal(0)),
        fraction=None if won is None else won.margin_fraction(home),
    )
