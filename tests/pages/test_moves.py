"""How far a list price moved, and the lowest of the 30 days before where it fell."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from quoter.pages.public.changes import ChangedPrice, ListMove, PastList, moves_between
from tests.pages.moving import BEGUN
from tests.pricing.public_prices import public

HATCH = ("skiff", "hatch")


def past(*prices: tuple[date, str]) -> list[PastList]:
    """The last day of the edition before first, as they are given to the page."""
    found = [PastList(day, {HATCH: public(price)}) for day, price in prices]
    return sorted(found, key=lambda each: (each.until != BEGUN - timedelta(days=1), each.until))


APRIL = BEGUN - timedelta(days=1)
FALLS = [
    ("the price before, where it is the only one", [(APRIL, "440")], "410", "440"),
    ("a lower one 20 days before", [(date(2026, 4, 11), "420"), (APRIL, "440")], "410", "420"),
    ("the first of the 30 days", [(date(2026, 4, 1), "415"), (APRIL, "440")], "410", "415"),
    ("not the day before them", [(date(2026, 3, 31), "415"), (APRIL, "440")], "410", "440"),
    ("one that is lower than now", [(date(2026, 4, 11), "400"), (APRIL, "440")], "410", "400"),
    (
        "of the fall, where it has held for a while",
        [(date(2026, 4, 11), "420"), (APRIL, "440"), (date(2026, 5, 20), "410")],
        "410",
        "420",
    ),
    (
        "of the second fall, where there are two",
        [(date(2026, 4, 11), "400"), (APRIL, "440"), (date(2026, 5, 20), "430")],
        "410",
        "430",
    ),
]


@pytest.mark.parametrize(("what", "prices", "now", "lowest"), FALLS)
def test_the_prior_price_of_a_reduction_is_the_lowest_of_30_days(
    what: str, prices: list[tuple[date, str]], now: str, lowest: str
) -> None:
    # Directive 98/6/EC, Art. 6a(2): the lowest price of a time of at least 30 days before.
    assert what
    moves = moves_between({HATCH: public(now)}, past(*prices))
    assert moves == {HATCH: ListMove(public("440"), public(now), public(lowest))}


def test_a_rise_has_no_prior_price_and_what_stayed_or_is_new_no_move() -> None:
    key, new = ("skiff", "box"), ("cutter", "hatch")
    before = [PastList(APRIL, {HATCH: public(440), key: public(100)})]
    now = {HATCH: public(450), key: public("100.00"), new: public(440)}
    assert moves_between(now, before) == {HATCH: ListMove(public(440), public(450), None)}


SHARES = [
    ("100", "103", None, "0.03"),
    ("100", "97", "100", "-0.03"),
    ("100", "97", "98", "-0.01020408163265306122448979592"),  # of the lowest: C-330/23
    ("100", "97", "97", None),  # no reduction of the prior price at all
    ("100", "97", "95", None),
    ("60", "-25", "60", None),  # falls to a credit
    ("-100", "-80", None, None),  # a smaller credit
    ("100000", "100010", None, None),  # would be told as +0.0 %
]


@pytest.mark.parametrize(("before", "now", "lowest", "share"), SHARES)
def test_per_cent_are_told_where_they_mean_something(
    before: str, now: str, lowest: str | None, share: str | None
) -> None:
    low = None if lowest is None else public(lowest)
    line = ChangedPrice("x", "X", (), public(before), public(now), low)
    assert line.share == (None if share is None else Decimal(share))
    assert line.difference.amount == Decimal(now) - Decimal(before)
