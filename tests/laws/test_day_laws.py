"""A law of the catalogue's day: confirming rises for days to come never moves it."""

from __future__ import annotations

import tempfile
from datetime import date, timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.catalogue.day import catalogue_day
from quoter.importing.rise import Rise, note_rise
from quoter.importing.writing import read_sound, write
from tests.importing.test_rise import yard

NOVEMBER = date(2026, 11, 1)
RISES = st.lists(
    st.tuples(
        st.integers(1, 360),  # days after November's list
        st.sampled_from(["0.02 USD/lb", "3 %", "-1 %"]),
        st.integers(0, 20),  # days before it, of the letter
    ),
    min_size=1,
    max_size=4,
)


@settings(max_examples=12)
@given(rises=RISES, stated=st.none() | st.integers(0, 40), rate=st.none() | st.integers(1, 60))
def test_rises_confirmed_for_later_days_never_move_the_day_that_commands_price_on(
    rises: list[tuple[int, str, int]], stated: int | None, rate: int | None
) -> None:
    with tempfile.TemporaryDirectory() as kept:
        catalogue = yard(Path(kept) / "yard")
        if rate is not None:
            day = NOVEMBER + timedelta(rate)
            file = catalogue / "exchange.csv"
            file.write_text(f"{file.read_text('utf-8')}{day},USD,1.07 USD/EUR,\n", "utf-8")
        if stated is not None:
            day = NOVEMBER + timedelta(stated)
            file = catalogue / "yard.yaml"
            file.write_text(f"today: {day}\n{file.read_text('utf-8')}", "utf-8")
        before = catalogue_day(read_sound(catalogue))
        written: set[date] = set()
        for after, by, ago in rises:
            effective = before.today + timedelta(after)
            letter = NOVEMBER - timedelta(ago)
            rise = Rise("westpoly", "polyester", by, effective, "confirmed", letter)
            made = note_rise(catalogue, rise, accepted=True)
            if made.faults:  # another letter on the same rise
                continue
            write(catalogue, made.files)
            written |= {effective} if f"prices/{effective}.csv" in made.files else set()
        now = catalogue_day(read_sound(catalogue))
        assert (now.prices, now.today, now.stated) == (before.prices, before.today, before.stated)
        assert {*now.ahead} == {*before.ahead} | written
