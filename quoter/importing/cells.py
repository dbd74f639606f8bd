"""A file of rows as cells that know where they stand, whether it is a text or a workbook."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Literal

from quoter.problems import UNPRINTABLE, Place, Problem, quoted

Kind = Literal["text", "number", "date", "percentage", "truth", "error", "formula"]


class SheetError(Exception):
    """Raised when a file can't be read as a sheet at all, with what is wrong with it."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Keep the problems sorted by place."""
        self.problems = sorted(problems)
        super().__init__("\n".join(map(str, self.problems)))


class CellFault(ValueError):
    """A cell that does not say what it should: what was found, and what would be right."""

    def __init__(self, what: str, hint: str) -> None:
        """Keep the two apart for the message."""
        super().__init__(f"{what}; {hint}")
        self.what, self.hint = what, hint


@dataclass(frozen=True, slots=True)
class SheetCell:
    """A cell's text as a person reads it, and its place.

    In a workbook a cell has a kind; a number is kept exactly, and so is a day. `mark` is the
    currency that the number's format shows.
    """

    text: str
    place: Place
    kind: Kind = "text"
    number: Decimal | None = None
    day: date | None = None
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a text or a row of a workbook that holds anything, and its number."""

    number: int
    cells: list[SheetCell]

    def filled(self) -> int:
        """How many cells it has up to the last one that holds anything."""
        last = (n for n, cell in enumerate(self.cells, 1) if cell.text)
        return max(last, default=0)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The rows of a file, or of one sheet of a workbook, which has a `title` then.

    `lines` are those of a text, for excerpts. A text that breaks off has its `fault`. Rows that a
    workbook hides are none of its `rows`: `left_out` has the numbers of those that hold anything.
    """

    file: str
    rows: list[Row]
    title: str | None = None
    lines: list[str] = field(default_factory=list)
    fault: Problem | None = None
    hidden: bool = False
    left_out: list[int] = field(default_factory=list)

    def at(self, row: Row, column: int) -> SheetCell:
        """The cell of a row in a column, counted from 0; an empty one where the row is shorter."""
        if column < len(row.cells):
            return row.cells[column]
        if self.title is not None:
            return SheetCell("", cell_place(self.file, self.title, row.number, column + 1))
        return SheetCell("", Place(self.file, row.number, len(self.lines[row.number - 1]) + 1))

    def problem(self, place: Place, what: str, hint: str) -> Problem:
        """A fault with the line of the text that it is about."""
        known = self.lines and 0 < place.line <= len(self.lines)
        return Problem(place, what, hint, self.lines[place.line - 1] if known else "")


def cell_place(file: str, title: str, row: int, column: int) -> Place:
    """The place of a workbook's cell; row and column count from 1.

    >>> cell_place("list.xlsx", "Resins 2026", 14, 28).clickable
    "list.xlsx, 'Resins 2026'!AB14"
    """
    return Place(file, row, column, cell=f"{_shown(title)}!{_letters(column)}{row}")


@cache
def _letters(column: int) -> str:
    letters, rest = "", column
    while rest:
        rest, letter = divmod(rest - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return letters


@cache
def _shown(title: str) -> str:
    return title if title.isidentifier() else "'" + title.replace("'", "''") + "'"


def squeezed(text: str) -> str:
    """A text on one line, without blanks around it or next to each other."""
    return " ".join(text.split())


def alike(text: str) -> str:
    """What headings and words are compared by: neither blanks nor capitals make a difference."""
    return squeezed(text).casefold()


def sound_text(cell: SheetCell, wanted: str) -> str:
    """What a cell says where `wanted` (such as "a code") belongs, on one line.

    Raises:
        CellFault: it is an error, a formula without a result, a day or not all printable.
    """
    if cell.kind == "error":
        raise CellFault(f"the cell holds the error {cell.text}", f"write {wanted} instead")
    if cell.kind == "formula":
        hint = "open the file in a spreadsheet program and save it there"
        raise CellFault("the cell holds a formula without a result", hint)
    if bad := UNPRINTABLE.search(cell.text):
        raise CellFault(f"an unprintable character, #x{ord(bad[0]):02x}", "remove it")
    if cell.kind in ("date", "percentage", "truth"):
        kind = {"date": "a date", "percentage": "a percentage", "truth": "a truth value"}[cell.kind]
        hint = f"write {wanted}, and format the cell for it"
        raise CellFault(f"{quoted(cell.text)} is {kind} where {wanted} belongs", hint)
    return squeezed(cell.text)
