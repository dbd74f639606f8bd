"""Days of what others send: as a cell says them, and from when a list may take effect."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from quoter.catalogue.day import FARTHEST, far_words, how_far
from quoter.catalogue.fields import day_of, is_meant
from quoter.catalogue.records import Records
from quoter.importing.cells import CellFault, SheetCell, sound_text
from quoter.problems import Place, Problem, quoted

_DOTTED = re.compile(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})\Z", re.ASCII)
_SPELT = re.compile(r"(\d{1,2}) ([A-Za-z]{3,9}) (\d{4})\Z", re.ASCII)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def day_in(cell: SheetCell) -> date:
    """The day of a cell: a workbook's own, 2026-11-01, 1.11.2026 or 1 November 2026.

    Raises:
        CellFault: it is none, or may be a month before a day.
    """
    if cell.day is not None and is_meant(cell.day):
        return cell.day
    text = sound_text(cell, "a day")
    day = day_of(text[:10]) if re.match(r"\d{4}-\d\d-\d\d(T[\d:]+Z?)?\Z", text) else None
    if found := _DOTTED.match(text):
        day = day_of(f"{found[3]}-{int(found[2]):02d}-{int(found[1]):02d}")
    elif (found := _SPELT.match(text)) and found[2][:3].lower() in _MONTHS:
        month = _MONTHS.index(found[2][:3].lower()) + 1
        day = day_of(f"{found[3]}-{month:02d}-{int(found[1]):02d}")
    if day is None:
        hint = "write year-month-day, for example 2026-11-01"
        raise CellFault("not-a-date", f"{quoted(text)} is no day that can be read in one way", hint)
    return day


HERE = Place("--effective")


def before_the_first(records: Records, day: date) -> Iterator[Problem]:
    """A list before the first one would leave every other material without a price."""
    first = min(records.price_lists)
    if day < first:
        what = f"{day} is before the first price list"
        yield Problem(
            HERE, "past-day", what, f"the first is of {first}: name that day or a later one"
        )


def far_ahead(
    records: Records, day: date, *, accepted: bool, word: str = "--accept"
) -> Iterator[Problem]:
    """A day far beyond all others, unless a word of the command line says it is meant."""
    since = how_far(records)
    if (day - since).days > FARTHEST and not accepted:
        hint = f"check the year, and use {word} if it is meant"
        yield Problem(HERE, "far-ahead", far_words(day, since), hint)
