"""Days of what others send: as a cell says them, and from when a list may take effect."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from quoter.catalogue.day import FARTHEST, catalogue_day, far_words, how_far
from quoter.catalogue.fields import day_of, is_meant
from quoter.catalogue.records import Records
from quoter.importing.cells import CellFault, SheetCell, sound_text, squeezed
from quoter.problems import Place, Problem, quoted

_DOTTED = re.compile(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})\Z", re.ASCII)
_SPELT = re.compile(r"(\d{1,2}) ([A-Za-z]{3,9}) (\d{4})\Z", re.ASCII)
# Three numbers with one mark between them, and the time of a day.
DAY_NUMBERS = re.compile(r"(\d{1,2})(?:\. ?|([/-]))(\d{1,2})(?:\. ?|\2)(\d{4}|\d\d)\Z", re.ASCII)
_TIME = re.compile(
    r"[ T]\d{1,2}:\d\d(?::\d\d(?:[.,]\d+)?)?(?: ?[AaPp]\.?[Mm]\.?)?(?: ?(?:Z|[+-]\d\d:?\d\d))?\Z",
    re.ASCII,
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH_FIRST = re.compile(
    rf"(\d{{1,2}}|(?:{'|'.join(_MONTHS)})[a-z]{{0,6}})[ ./-]+(\d{{4}})\Z", re.IGNORECASE | re.ASCII
)


def day_in(cell: SheetCell, order: str = "", zero: date | None = None) -> date:
    """The day of a cell: a workbook's own, 2026-11-01, 1.11.2026 or 1 November 2026.

    Args:
        cell: of a text or a workbook
        order: "day month" or "month day" where the order of numbers is known, as in 1/11/26
        zero: the day that a workbook counts days from, where plain numbers are taken for days
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
    if order and (found := DAY_NUMBERS.match(text)):
        day = _in_order(found, order)
    elif zero is not None and cell.kind == "number" and re.fullmatch(r"\d{5}", text):
        day = zero + timedelta(int(text))
    if day is None:
        hint = "write year-month-day, for example 2026-11-01"
        raise CellFault("not-a-date", f"{quoted(text)} is no day that can be read in one way", hint)
    return day


def _in_order(found: re.Match[str], order: str) -> date | None:
    """A day by its numbers; of a year in two digits it is of this century."""
    first, second, year = found[1], found[3], found[4]
    day, month = (first, second) if order == "day month" else (second, first)
    return day_of(f"{year if len(year) == 4 else f'20{year}'}-{int(month):02d}-{int(day):02d}")


def moment_in(cell: SheetCell, order: str = "", zero: date | None = None) -> date:
    """The day of a cell that may say the time too: 05.08.2026 07:12, 2026-08-05T07:12:00+02:00.

    Raises:
        CellFault: as `day_in`.
    """
    if cell.kind not in ("text", "number"):
        return day_in(cell, order, zero)
    plain = _TIME.sub("", squeezed(cell.text))
    if (whole := re.fullmatch(r"(\d{4})(\d\d)(\d\d)", plain)) and plain.isascii():
        plain = "-".join(whole.groups())
        cell = replace(cell, kind="text")
    return day_in(replace(cell, text=plain), order, zero)


def month_in(cell: SheetCell, order: str = "", zero: date | None = None) -> str:
    """The month of a cell: of a day, or 2026-08, 08/2026, August 2026; as tables write it.

    Raises:
        CellFault: it is none.
    """
    text = squeezed(cell.text)
    if cell.day is None and (found := _MONTH_FIRST.match(text)):
        word = found[1][:3].lower()
        number = int(word) if word.isdecimal() else 1 + _MONTHS.index(word)
        text = f"{found[2]}-{number:02d}"
    if re.fullmatch(r"\d{4}-\d\d", text, re.ASCII) and day_of(f"{text}-01"):
        return text
    try:
        return f"{moment_in(cell, order, zero):%Y-%m}"
    except CellFault as bad:
        if bad.code != "not-a-date":
            raise
        hint = "write year-month, for example 2026-08"
        what = f"{quoted(cell.text)} is no month that can be read in one way"
        raise CellFault("not-a-date", what, hint) from bad


HERE = Place("--effective")


def before_the_first(records: Records, day: date) -> Iterator[Problem]:
    """A list before the first one would leave every other material without a price."""
    first = min(records.price_lists)
    if day < first:
        what = f"{day} is before the first price list"
        yield Problem(
            HERE, "past-day", what, f"the first is of {first}: name that day or a later one"
        )


def coming(before: Records, after: Records, day: date, what: str = "") -> list[str]:
    """What it does to the day that commands price on that something is written for a day.

    Args:
        before: the catalogue as it is
        after: as it will be
        day: from which what is written holds
        what: words before the day, where it is not that of prices
    """
    then, now = catalogue_day(before), catalogue_day(after)
    ahead = f"{what}{day} is after {then.today}, the catalogue's day: " if day > then.today else ""
    if now.prices != then.prices:
        words = f"{ahead}commands price on {now.prices} from now on, no more on {then.prices}"
        hint = f"--as-of {then.prices} looks at the day before"
        if not now.stated:
            hint += f", and 'today: {then.prices}' in yard.yaml goes on with it"
    elif day > now.prices:
        words = f"{ahead}commands go on with {now.prices}"
        row = "another dated row" if now.today < day and day in now.ahead else "a price list"
        reached = "'today:' in yard.yaml" if now.stated else f"'today:' in yard.yaml or {row}"
        hint = f"until {reached} comes to that day; --as-of {day} looks at it now"
    else:
        return []
    return [words[0].upper() + words[1:], f"    {hint}"]


def far_ahead(
    records: Records, day: date, *, accepted: bool, word: str = "--accept"
) -> Iterator[Problem]:
    """A day far beyond all others, unless a word of the command line says it is meant."""
    since = how_far(records)
    if (day - since).days > FARTHEST and not accepted:
        hint = f"check the year, and use {word} if it is meant"
        yield Problem(HERE, "far-ahead", far_words(day, since), hint)
