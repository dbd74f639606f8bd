"""Cells of what others send: where each stands, and the amount that one says."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Literal

from quoter.intake import LONGEST_QUANTITY
from quoter.problems import UNPRINTABLE, Place, Problem, quoted, unprintable

Kind = Literal["text", "number", "date", "percentage", "truth", "error", "formula"]


class SheetError(Exception):
    """Raised when a file can't be read as a sheet at all, with what is wrong with it."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Keep the problems sorted by place."""
        self.problems = sorted(problems)
        super().__init__("\n".join(map(str, self.problems)))


class CellFault(ValueError):
    """A cell that does not say what it should: its kind, what was found, what would be right."""

    def __init__(self, code: str, what: str, hint: str) -> None:
        """Keep the three apart for the message."""
        super().__init__(f"{what}; {hint}")
        self.code, self.what, self.hint = code, what, hint


@dataclass(frozen=True, slots=True)
class SheetCell:
    """A cell's text as a person reads it, and its place.

    In a workbook a cell has a kind; a number is kept exactly, and so is a day. `mark` is the
    currency that the number's format shows, `per` what it shows that a price is for. A cell is
    `struck` where any of its text is struck through.
    """

    text: str
    place: Place
    kind: Kind = "text"
    number: Decimal | None = None
    day: date | None = None
    mark: str = ""
    per: str = ""
    struck: bool = False


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A line of a text or a row of a workbook that holds anything, and its number."""

    number: int
    cells: list[SheetCell]

    def filled(self) -> int:
        """How many cells it has up to the last one that holds anything."""
        last = (n for n, cell in enumerate(self.cells, 1) if cell.text)
        return max(last, default=0)


@dataclass(frozen=True, slots=True)
class SheetRows:
    """The rows of a file, or of one sheet of a workbook, which has a `title` then.

    `lines` are those of a text, for excerpts. A text that breaks off has its `fault`. Rows that a
    workbook hides are none of its `rows`: `left_out` has the numbers of those that hold anything.
    `unseen` are the columns that it hides, counted from 0; what `merged` cells hold stands in the
    first of them: their first row and column and their last, counted alike. A workbook counts days
    from its `zero`.
    """

    file: str
    rows: list[SheetRow]
    title: str | None = None
    lines: list[str] = field(default_factory=list)
    fault: Problem | None = None
    hidden: bool = False
    left_out: list[int] = field(default_factory=list)
    unseen: set[int] = field(default_factory=set)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    zero: date | None = None

    def at(self, row: SheetRow, column: int) -> SheetCell:
        """The cell of a row in a column, counted from 0; an empty one where the row is shorter."""
        if column < len(row.cells):
            return row.cells[column]
        if self.title is not None:
            return SheetCell("", cell_place(self.file, self.title, row.number, column + 1))
        return SheetCell("", Place(self.file, row.number, len(self.lines[row.number - 1]) + 1))

    def problem(self, place: Place, code: str, what: str, hint: str) -> Problem:
        """A fault with the line of the text that it is about."""
        known = self.lines and 0 < place.line <= len(self.lines)
        excerpt = self.lines[place.line - 1] if known else ""
        return Problem(place, code, what, hint, excerpt)


def cell_place(file: str, title: str, row: int, column: int) -> Place:
    """The place of a workbook's cell; row and column count from 1.

    >>> cell_place("list.xlsx", "Resins 2026", 14, 28).clickable
    "list.xlsx, 'Resins 2026'!AB14"
    """
    return Place(file, row, column, cell=f"{_shown(title)}!{letters(column)}{row}")


@cache
def letters(column: int) -> str:
    """What a workbook calls a column, counted from 1."""
    found, rest = "", column
    while rest:
        rest, letter = divmod(rest - 1, 26)
        found = chr(ord("A") + letter) + found
    return found


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
        raise CellFault(
            "unreadable-cell", f"the cell holds the error {cell.text}", f"write {wanted} instead"
        )
    if cell.kind == "formula":
        hint = "open the file in a spreadsheet program and save it there"
        raise CellFault("unreadable-cell", "the cell holds a formula without a result", hint)
    if bad := UNPRINTABLE.search(cell.text):
        raise CellFault("unprintable", unprintable(bad), "remove it")
    if cell.kind in ("date", "percentage", "truth"):
        kind = {"date": "a date", "percentage": "a percentage", "truth": "a truth value"}[cell.kind]
        hint = f"write {wanted}, and format the cell for it"
        raise CellFault(
            "unreadable-cell", f"{quoted(cell.text)} is {kind} where {wanted} belongs", hint
        )
    return squeezed(cell.text)


_MARK = r"[A-Z]{3}|US\$|[€£$]|kr\.?"
_MARKED = re.compile(rf"(?P<before>{_MARK})?\s*(?P<number>.*?)\s*(?P<after>{_MARK})?\Z")
_PER = re.compile(r".*\d\s*[^\d\s/]*\s*(?P<per>(?:/|per\s)\s*[^\W\d].*)\Z", re.IGNORECASE)
# Signs that several currencies share, and those of one.
_SIGNS = {
    "€": ("EUR",),
    "£": ("GBP",),
    "US$": ("USD",),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD"),
    "kr": ("NOK", "SEK", "DKK", "ISK"),
    "kr.": ("DKK",),
}
_THIN = str.maketrans(dict.fromkeys("\u00a0\u2009\u202f", " ") | {"\u2212": "-", "\u2019": "'"})


def is_mark_of(mark: str, currency: str) -> bool:
    """Whether a code or sign can be that of a currency."""
    return currency in _SIGNS.get(mark, (mark.upper(),))


def amount_in(cell: SheetCell, decimal: str, wanted: str) -> tuple[Decimal, str]:
    """The exact number of a cell where `wanted` belongs, and the currency mark beside it or "".

    `decimal` says whether a text has its decimals after a point or a comma.

    Raises:
        CellFault: it holds no number, or one that can be read in two ways.
    """
    if cell.kind == "number" and cell.number is not None:
        return cell.number, cell.mark
    text = sound_text(cell, wanted)
    if not text:
        raise CellFault("no-value", f"no value where {wanted} belongs", f"write {wanted}")
    if len(text) > LONGEST_QUANTITY:
        raise CellFault(
            "too-much", f"{quoted(text)} is no number", f"at most {LONGEST_QUANTITY} digits fit"
        )
    parted = _MARKED.match(text)
    if per := _PER.match(text):
        hint = f"leave out {quoted(per['per'])}: the catalogue says what it is per"
        raise CellFault("not-a-number", f"{quoted(text)} is no number alone", hint)
    if parted is None or (parted["before"] and parted["after"]):
        raise CellFault(
            "not-a-number", f"{quoted(text)} is no number", "write digits, and one currency at most"
        )
    number = number_in(parted["number"], decimal)
    return number, parted["before"] or parted["after"] or ""


def number_in(words: str, decimal: str) -> Decimal:
    """The exact number that words write, thousands parted by blanks or marks, or not.

    Raises:
        CellFault: it is none, or can be read in two ways.
    """
    text = squeezed(words.translate(_THIN))
    mark, other = (".", ",") if decimal == "point" else (",", ".")
    if re.fullmatch(rf"[+-]?(\d+(?:[{mark}]\d*)?|[{mark}]\d+)", text, re.ASCII):
        return Decimal(text.replace(mark, "."))
    grouped = re.fullmatch(
        rf"([+-]?\d{{1,3}})([ '{other}])(\d{{3}}(?:\2\d{{3}})*)([{mark}]\d+)?", text, re.ASCII
    )
    if grouped:
        whole = grouped[1] + grouped[3].replace(grouped[2], "")
        if grouped[2] == other and len(grouped[3]) == 3 and not grouped[4]:
            plain = text.replace(other, mark)
            hint = f"write {quoted(whole)} or {quoted(plain)}, whichever is meant"
            raise CellFault("not-a-number", f"{quoted(words)} can be read in two ways", hint)
        return Decimal(whole + (grouped[4] or "").replace(mark, "."))
    whole = rf"(?:\d*|\d{{1,3}}(?:[ '{mark}]\d{{3}})+)"
    if re.fullmatch(rf"[+-]?{whole}[{other}]\d+", text, re.ASCII):
        found, right = ("comma", "point") if mark == "." else ("point", "comma")
        hint = f"write a {right}, or say 'decimal: {found}' in the catalogue if all are like it"
        raise CellFault("not-a-number", f"{quoted(words)} has a {found} for its decimals", hint)
    hint = f"write digits, with a {decimal} for decimals"
    raise CellFault("not-a-number", f"{quoted(words)} is no number", hint)
