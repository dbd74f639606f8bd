"""What became of quotes: a table that only grows, which people may read and add to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Literal

from quoter.catalogue.csv_cells import Cell, as_text, as_written, csv_rows, other_separator
from quoter.catalogue.fields import day_of
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
from quoter.quotes.numbering import named

Result = Literal["won", "lost"]
RESULTS: dict[str, Result] = {"won": "won", "lost": "lost"}
COLUMNS = ("date", "quote", "outcome", "reason", "by")
NEEDED = COLUMNS[:3]


@dataclass(frozen=True, slots=True)
class Outcome:
    """A line of the table: `quote` is the name of the quote or revision it settles."""

    date: date
    quote: str
    result: Result
    reason: str = ""
    by: str = ""


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

    day, name = day_of(cells["date"].text), named(cells["quote"].text)
    result = RESULTS.get(cells["outcome"].text)
    if day is None:
        refuse(
            "date",
            "not-a-date",
            "is not a date",
            "write it as year-month-day, for example 2026-11-01",
        )
    if name is None:
        refuse("quote", "bad-id", "names no quote", "write for example 2026-0007 or 2026-0007-R1")
    if result is None:
        refuse("outcome", "unknown-word", "is no outcome", nearest(cells["outcome"].text, RESULTS))
    if day is None or name is None or result is None:
        return None
    other = {c: as_written(cells[c].text) for c in ("reason", "by") if c in cells}
    return Outcome(day, str(name), result, **other)


def last_of(outcomes: Iterable[Outcome], on: date | None = None) -> dict[str, Outcome]:
    """The outcome that holds for each quote: its last line, of those dated until a day."""
    return {each.quote: each for each in outcomes if on is None or each.date <= on}


def as_row(outcome: Outcome) -> dict[str, str]:
    """An outcome as a line of the table; texts on one line, and no formula among them."""
    return {
        "date": str(outcome.date),
        "quote": outcome.quote,
        "outcome": outcome.result,
        "reason": as_text(" ".join(outcome.reason.split())),
        "by": as_text(" ".join(outcome.by.split())),
    }
