"""Days as files write them, as long as they can be read in one way only."""

from __future__ import annotations

import re
from datetime import date

from quoter.catalogue.fields import day_of, is_meant
from quoter.importing.cells import CellFault, SheetCell, sound_text
from quoter.problems import quoted

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
        raise CellFault(f"{quoted(text)} is no day that can be read in one way", hint)
    return day
