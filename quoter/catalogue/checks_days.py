"""Rules of the days that things take effect: one far beyond the newest list is likely a slip."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from quoter.catalogue.records import Records
from quoter.problems import Place, Problem

FARTHEST = 366  # days after the newest price list; beyond, a slip in the year is likelier


def newest_list(records: Records) -> date:
    """The newest price list; one that comes far after the list before it doesn't count."""
    first, *later = sorted(records.price_lists)
    for day in later:
        if (day - first).days > FARTHEST:
            break
        first = day
    return first


def check_days(records: Records) -> Iterator[Problem]:
    """A price, rate or wage far ahead is in force when nobody looks at it any more.

    A list far ahead is worse: its day is the one that all is priced on unless another is named.
    """
    if not records.price_lists:
        return
    newest = newest_list(records)
    days = [
        *((row.place, row.date) for row in records.exchange),
        *((row.place, row.date) for row in records.wages),
        *((row.place, row.date) for row in records.book),
        *((row.place, row.date) for row in records.indices),
        *((row.place, row.effective) for row in records.rises),
        *((row.place, row.valid_from) for row in records.editions),
        *((Place(f"prices/{day}.csv"), day) for day in records.price_lists),
    ]
    for place, day in days:
        if (day - newest).days > FARTHEST:
            yield Problem(place, far_words(day, newest), "check the year", warning=True)


def far_words(day: date, newest: date) -> str:
    """How far a day is ahead."""
    return f"{day} is {(day - newest).days} days after the newest price list, of {newest}"
