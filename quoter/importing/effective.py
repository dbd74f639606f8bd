"""Whether the day that something takes effect can be the one that is meant."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from quoter.catalogue.records import Records
from quoter.problems import Place, Problem

FARTHEST = 366  # days after the newest price list; beyond, a slip in the year is likelier
HERE = Place("--effective")


def before_the_first(records: Records, day: date) -> Iterator[Problem]:
    """A list before the first one would leave every other material without a price."""
    first = min(records.price_lists)
    if day < first:
        what = f"{day} is before the first price list"
        yield Problem(HERE, what, f"the first is of {first}: name that day or a later one")


def far_ahead(records: Records, day: date, *, accepted: bool) -> Iterator[Problem]:
    """A day far beyond the newest list, unless it is meant."""
    newest = max(records.price_lists)
    ahead = (day - newest).days
    if ahead > FARTHEST and not accepted:
        what = f"{day} is {ahead} days after the newest price list, of {newest}"
        yield Problem(HERE, what, "check the year, and use --accept if it is meant")
