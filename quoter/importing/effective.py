"""Whether the day that something takes effect can be the one that is meant."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from quoter.catalogue.checks_days import FARTHEST, far_words
from quoter.catalogue.records import Records
from quoter.problems import Place, Problem

HERE = Place("--effective")


def before_the_first(records: Records, day: date) -> Iterator[Problem]:
    """A list before the first one would leave every other material without a price."""
    first = min(records.price_lists)
    if day < first:
        what = f"{day} is before the first price list"
        yield Problem(HERE, what, f"the first is of {first}: name that day or a later one")


def far_ahead(
    records: Records, day: date, *, accepted: bool, word: str = "--accept"
) -> Iterator[Problem]:
    """A day far beyond the newest list, unless a word of the command line says it is meant."""
    newest = max(records.price_lists)
    if (day - newest).days > FARTHEST and not accepted:
        hint = f"check the year, and use {word} if it is meant"
        yield Problem(HERE, far_words(day, newest), hint)
