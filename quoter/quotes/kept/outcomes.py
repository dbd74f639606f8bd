"""What became of quotes: a table that only grows, which people may read and add to.

A line says that a quote was sent, won, lost or withdrawn, or what chance somebody gives it, or
both at once. The last line that says something holds. Columns that came later may be missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Literal

from quoter.catalogue.csv_cells import Cell, as_text, as_written, csv_rows, other_separator
from quoter.catalogue.fields import day_of, is_identifier
from quoter.catalogue.source import Text
from quoter.intake import IntakeError, read_file
from quoter.problems import (
    UNPRINTABLE,
    CatalogueError,
    MalformedError,
    Place,
    Problem,
    Problems,
    nearest,
    quoted,
    unprintable,
)
from quoter.quotes import QuoteError
from quoter.quotes.kept.numbering import named

Result = Literal["sent", "won", "lost", "withdrawn"]
RESULTS: dict[str, Result] = {
    "sent": "sent",
    "won": "won",
    "lost": "lost",
    "withdrawn": "withdrawn",
}
DECIDED: tuple[Result, ...] = ("won", "lost", "withdrawn")
COLUMNS = ("date", "quote", "outcome", "reason", "by", "chance", "option")
NEEDED = COLUMNS[:3]
LATER = COLUMNS[5:]  # an older table gets them when they are needed
_CHANCE = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,2})?) ?%\Z")
CHANCE_HINT = "write a per cent from 0 to 100, for example '60 %'"
ID_HINT = "write the id of an option or package, for example 'roof_panel'"


@dataclass(frozen=True, slots=True)
class Outcome:
    """A line of the table: `quote` is the name of the quote or revision it is about.

    A line without a `result` states a `chance` alone, as a fraction. `option` is the id of the
    option or package that lost it.
    """

    date: date
    quote: str
    result: Result | None
    reason: str = ""
    by: str = ""
    chance: Decimal | None = None
    option: str = ""


def chance_named(text: str) -> Decimal | None:
    """A chance as people write it, as a fraction; None where it is none.

    >>> chance_named("60 %"), chance_named("12.5%"), chance_named("0.6"), chance_named("110 %")
    (Decimal('0.6'), Decimal('0.125'), None, None)
    """
    found = _CHANCE.match(text)
    share = Decimal(found[1]) / 100 if found else None
    return share if share is not None and share <= 1 else None


def is_id(text: str) -> bool:
    """Whether a text may be the id of an option or package."""
    return is_identifier(Text.at(text, Place("")))


def read_outcomes(path: Path) -> tuple[Outcome, ...]:
    """The lines of a table in their order; none if there is no table.

    Raises:
        QuoteError: it can't be read, or with every fault of it at its line and column.
    """
    problems = Problems()
    try:
        found = _read(path, problems)
        problems.stop_if_any()
    except IntakeError as fault:
        raise QuoteError(f"can't read {path}: {fault}") from fault
    except UnicodeDecodeError as fault:
        raise QuoteError(f"{path} is not in UTF-8; save it as CSV in UTF-8") from fault
    except MalformedError as bad:
        place = Place(str(path), bad.line, bad.column)
        raise QuoteError(str(Problem(place, bad.code, bad.what, bad.hint))) from bad
    except CatalogueError as fault:
        raise QuoteError(str(fault)) from fault
    return tuple(found)


def _read(path: Path, problems: Problems) -> list[Outcome]:
    text = read_file(path).decode("utf-8-sig") if path.exists() else ""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    for number, line in enumerate(lines.split("\n"), 1):
        if bad := UNPRINTABLE.search(line):
            place = Place(str(path), number, bad.start() + 1)
            problems.add(place, "unprintable", unprintable(bad), "remove it")
    if problems.errors:
        return []
    rows = list(csv_rows(lines))
    if not rows:
        return []
    head = [cell.text for cell in rows[0]]
    lacking = [name for name in NEEDED if name not in head]
    if lacking:
        by = other_separator(text.lstrip().partition("\n")[0])
        hint = f"save it with commas instead of {by}" if by else f"it needs {', '.join(NEEDED)}"
        problems.add(
            Place(str(path), rows[0][0].line, 1), "missing-key", f"no column '{lacking[0]}'", hint
        )
        return []
    empty = [Cell("", row[0].line, 1) for row in rows[1:]]
    found = (
        _outcome(
            str(path), dict.fromkeys(head, none) | dict(zip(head, row, strict=False)), problems
        )
        for none, row in zip(empty, rows[1:], strict=True)
    )
    return [outcome for outcome in found if outcome]


def _outcome(file: str, cells: dict[str, Cell], problems: Problems) -> Outcome | None:
    def refuse(column: str, code: str, what: str, hint: str) -> None:
        cell = cells[column]
        place = Place(file, cell.line, cell.column)
        if cell.text:
            problems.add(place, code, f"{quoted(cell.text)} {what}", hint)
        else:
            problems.add(place, "no-value", f"'{column}' has no value", hint)

    def text(column: str) -> str:
        return cells[column].text if column in cells else ""

    day, name = day_of(cells["date"].text), named(cells["quote"].text)
    result, chance, option = RESULTS.get(text("outcome")), chance_named(text("chance")), ""
    if day is None:
        hint = "write it as year-month-day, for example 2026-11-01"
        refuse("date", "not-a-date", "is not a date", hint)
    if name is None:
        refuse("quote", "bad-id", "names no quote", "write for example 2026-0007 or 2026-0007-R1")
    alone = chance is not None and not text("outcome")
    if result is None and not alone:
        refuse("outcome", "unknown-word", "is no outcome", nearest(text("outcome"), RESULTS))
    if text("chance") and chance is None:
        refuse("chance", "not-a-number", "is no chance", CHANCE_HINT)
    if text("option") and not is_id(option := text("option")):
        refuse("option", "bad-id", "is no id", ID_HINT)
    if day is None or name is None or not (result or alone):
        return None
    other = {c: as_written(cells[c].text) for c in ("reason", "by") if c in cells}
    return Outcome(day, str(name), result, **other, chance=chance, option=option)


def last_of(outcomes: Iterable[Outcome], on: date | None = None) -> dict[str, Outcome]:
    """The outcome that holds for each quote: its last one, of those dated until a day.

    In the order in which they were written; lines that state a chance alone say nothing here.
    """
    found: dict[str, Outcome] = {}
    for each in outcomes:
        if each.result is not None and (on is None or each.date <= on):
            found.pop(each.quote, None)
            found[each.quote] = each
    return found


def chances_of(outcomes: Iterable[Outcome], on: date | None = None) -> dict[str, Outcome]:
    """The line by which each number has a stated chance, of those dated until a day.

    A chance is of the customer's decision, so it holds for later revisions too, until that is made.
    """
    found: dict[str, Outcome] = {}
    for each in outcomes:
        name = named(each.quote)
        if name is None or not (on is None or each.date <= on):
            continue
        if each.result in DECIDED:
            found.pop(name.number, None)
        elif each.chance is not None:
            found[name.number] = each
    return found


def as_row(outcome: Outcome) -> dict[str, str]:
    """An outcome as a line of the table; texts on one line, and no formula among them."""
    return {
        "date": str(outcome.date),
        "quote": outcome.quote,
        "outcome": outcome.result or "",
        "reason": as_text(" ".join(outcome.reason.split())),
        "by": as_text(" ".join(outcome.by.split())),
        "chance": "" if outcome.chance is None else per_cent(outcome.chance),
        "option": outcome.option,
    }


def per_cent(chance: Decimal) -> str:
    """A chance as it is written.

    >>> per_cent(Decimal("0.6")), per_cent(Decimal("0.125"))
    ('60 %', '12.5 %')
    """
    return f"{(chance * 100).normalize():f} %"


def with_room(content: bytes | None, row: dict[str, str]) -> bytes | None:
    """A table whose first line names the later columns that a row needs; else as it is."""
    text = (content or b"").decode("utf-8-sig")
    head = next(csv_rows(text.replace("\r\n", "\n").replace("\r", "\n")), None)
    if not content or not head or head[0].line != head[-1].line:
        return content
    names = [cell.text for cell in head]
    lacking = [name for name in LATER if row[name] and name not in names]
    lines = content.splitlines(keepends=True)
    first = lines[head[0].line - 1]
    bare = first.rstrip(b"\r\n")
    longer = b"".join([bare, *(f",{name}".encode() for name in lacking), first[len(bare) :]])
    return b"".join([*lines[: head[0].line - 1], longer, *lines[head[0].line :]])
