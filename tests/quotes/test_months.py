"""Quotes by month and by option: how many were won, and what they brought."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.quotes.kept.standing import Kept, Listing, State, list_quotes
from quoter.quotes.kept.store import settle
from quoter.quotes.listing import MonthTable, Tally, month_table
from tests.quotes.made import inside_of, item, made, put, put_beside, put_revision

SEPTEMBER, OCTOBER = date(2026, 9, 15), date(2026, 10, 2)
ROOF, LID = item("roof", 1000, 600), item("lid", 100, 90, quantity=3)


@pytest.fixture
def table(tmp_path: Path) -> MonthTable:
    """Three of September: won, lost and open; two of October: won in dollars, expired."""
    folder = tmp_path / "quotes"
    put(folder, SEPTEMBER, options=[ROOF], net=9000)
    put(folder, SEPTEMBER, options=[ROOF, LID], net=9300)
    put(folder, SEPTEMBER, valid_until=date(2026, 12, 1))
    put(folder, OCTOBER, options=[LID], net=9100, currency="USD", provisions="0.1")
    put(folder, OCTOBER, valid_until=date(2026, 10, 9))
    settle(folder, "2026-0001", "won", OCTOBER)
    settle(folder, "2026-0002", "lost", OCTOBER)
    settle(folder, "2026-0004", "won", date(2026, 10, 20))
    return month_table(list_quotes(folder, date(2026, 11, 1)))


def money(amount: float | str, currency: str = "EUR") -> dict[str, Decimal]:
    return {currency: Decimal(amount)}


def test_months_tell_how_many_and_how_much_by_state(table: MonthTable) -> None:
    september, october = table.months
    assert [(month.key, month.name) for month in table.months] == [
        ("2026-09", "2026-09"),
        ("2026-10", "2026-10"),
    ]
    # Worked by hand: a boat of 8,000 at 6,000, the roof of 1,000 at 600; 5 % of 9,000 is 450.
    assert september.by_state == {
        "won": Tally(1, money(9000), money(9000), money("1950.00")),
        # with three lids of 100 at 90: 9,300 less 465 less 6,870
        "lost": Tally(1, money(9300), money(9300), money("1965.00")),
        "draft": Tally(1, money(8000), money(8000), money("1600.00")),
    }
    # 8,300 less 10 % less 6,270
    assert october.by_state == {
        "won": Tally(1, money(9100, "USD"), money(8300), money("1200.0")),
        "expired": Tally(1, money(8000), money(8000), money("1600.00")),
    }


def test_conversion_is_of_those_decided(table: MonthTable) -> None:
    september, october = table.months
    assert (september.decided, september.conversion) == (2, Decimal("0.5"))
    assert (october.decided, october.conversion) == (1, Decimal(1))
    assert (table.every.decided, table.every.conversion) == (3, Decimal(2) / 3)
    assert table.every.every.quoted == {"EUR": Decimal(34300), "USD": Decimal(9100)}
    assert table.every.every.quotes == 5


def test_options_tell_what_they_bring_of_each_quote(table: MonthTable) -> None:
    lid, roof = table.options
    assert [(option.key, option.name) for option in table.options] == [
        ("lid", "Lid"),
        ("roof", "Roof"),
    ]
    # 1,000 less 5 % less 600; three lids: 300 less 5 %, or 10 % in October, less 270
    assert roof.by_state["won"].net == money(1000)
    assert roof.by_state["won"].margin["EUR"] == pytest.approx(Decimal(350))
    assert roof.by_state["lost"].quotes == 1
    assert lid.by_state["lost"].margin["EUR"] == pytest.approx(Decimal(15))
    assert lid.by_state["won"].margin["EUR"] == pytest.approx(Decimal(0))
    assert (lid.conversion, roof.conversion) == (Decimal("0.5"), Decimal("0.5"))
    assert roof.by_state["won"].margin_fraction("EUR") == pytest.approx(Decimal("0.35"))
    assert roof.by_state["won"].margin_fraction("USD") is None


def test_a_quote_counts_once_in_its_first_month_as_what_was_won_or_is_newest(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "quotes"
    put(folder, SEPTEMBER, net=1)
    put_revision(folder, "2026-0001", SEPTEMBER, net=2)
    settle(folder, "2026-0001", "won", SEPTEMBER)
    put_beside(folder, made("2026-0001", 2, OCTOBER, net=3))
    put(folder, SEPTEMBER, net=10)
    put_revision(folder, "2026-0002", OCTOBER, net=20)
    (month,) = month_table(list_quotes(folder)).months
    assert month.key == "2026-09"
    assert {state: tally.quoted for state, tally in month.by_state.items()} == {
        "won": money(2),
        "draft": money(20),
    }


def test_nothing_decided_has_no_conversion() -> None:
    table = month_table(Listing(OCTOBER, (), ()))
    assert (table.months, table.options, table.every.conversion) == ((), (), None)
    assert table.every.every == Tally(0, {}, {}, {})


LINES = st.lists(
    st.tuples(st.integers(1, 5000), st.integers(0, 5000), st.integers(1, 9)), max_size=6
)


@given(LINES, st.integers(0, 30), st.sampled_from(["won", "lost", "draft", "expired"]))
def test_options_and_the_boat_add_up_to_the_quote(
    lines: list[tuple[int, int, int]], provisions: int, state: State
) -> None:
    """The boat has no line of its own in the table: it is what is left."""
    options = [item(f"o{n}", net, cost, many) for n, (net, cost, many) in enumerate(lines)]
    part = Decimal(provisions) / 100
    record = made(options=options, provisions=str(part))
    table = month_table(Listing(OCTOBER, (Kept(record, state, None),), ()))
    whole = table.every.by_state[state]
    boat = inside_of(made().inside.lines, part, "EUR")
    for amounts, of_boat in (("net", boat.net), ("margin", boat.margin)):
        pieces = [getattr(option.by_state[state], amounts)["EUR"] for option in table.options]
        total = sum(pieces, of_boat)
        assert total == pytest.approx(getattr(whole, amounts)["EUR"], abs=Decimal("1e-6"))


def test_each_home_currency_stands_for_itself() -> None:
    quotes = [
        Kept(made(f"2026-000{n}", home=home, options=[ROOF]), "won", None)
        for n, home in enumerate(("EUR", "SEK", "EUR"), 1)
    ]
    (month,) = month_table(Listing(OCTOBER, tuple(quotes), ())).months
    assert month.every.net == {"EUR": Decimal(18000), "SEK": Decimal(9000)}
