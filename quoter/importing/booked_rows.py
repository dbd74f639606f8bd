"""The rows of an export become rows of a table of `actuals/`; totals and titles are passed over."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from quoter.catalogue.booked_files import KNOWN_BY
from quoter.catalogue.exports import Export
from quoter.catalogue.records import Records
from quoter.importing.booked_cells import BookedCells, Cells
from quoter.importing.cells import CellFault, SheetCell, SheetRow, alike, squeezed
from quoter.importing.per_words import option
from quoter.importing.table import HeadedTable
from quoter.numerals import UnitError, decimal_text, numeral
from quoter.problems import Place, Problem, quoted
from quoter.spellings import TOTALS

SKIP = "--skip"
REFERENCE = "reference"
# What totals are of, by table; and columns that rows of totals fill.
_SUMMED = {"hours": "hours", "issues": "quantity", "pulls": "good", "overhead": "spent"}
_AMOUNTS = frozenset(("hours", "quantity", "good", "scrapped", "spent", "freight", "price", "wage"))
# What every row that is booked has some of.
_OWN = ("reference", "date", "month", "started")
_ROUNDED = Fraction(1, 200)  # of a number with two decimals
_MADE = 10  # letters of a mark made of what a row says


@dataclass(frozen=True, slots=True)
class BookedLine:
    """A row of an export as one of a table: its number there, what it says by column, and where.

    One that is not `sound` has faults that are told already.
    """

    row: int
    values: dict[str, str]
    places: dict[str, Place]
    sound: bool = True

    def known_by(self, keys: tuple[str, ...]) -> tuple[str, ...]:
        """What tells it from other rows of the table."""
        return tuple(self.values.get(key, "") for key in keys)

    @property
    def month(self) -> str:
        """The month that it is of; "" where that can't be read."""
        own = (self.values[name] for name in ("date", "month", "started") if name in self.values)
        return next(own, "")[:7]


class PassedOver(NamedTuple):
    """A row that is none of the table's, and why."""

    row: int
    why: str


@dataclass(slots=True)
class BookedRows:
    """The rows below the headings of an export, and what is wrong with them."""

    records: Records
    export: Export
    table: HeadedTable
    skip: tuple[str, ...] = ()
    faults: list[Problem] = field(default_factory=list)
    passed: list[PassedOver] = field(default_factory=list)
    skipped: dict[str, int] = field(default_factory=dict)
    keys: tuple[str, ...] = field(init=False)
    cells: BookedCells = field(init=False)
    numbered: str = field(init=False)
    _ignored: set[str] = field(init=False)
    _headed: set[tuple[str, ...]] = field(init=False)
    _sums: _Sums = field(init=False)

    def __post_init__(self) -> None:
        """Know by what rows are told apart, and which are passed over."""
        of = str(self.export.of)
        self.keys = KNOWN_BY.get(of, (REFERENCE,))
        own = self.keys[0]
        self.numbered = own if own in self.table.columns else ""
        self.cells = BookedCells(self.records, self.export, self.table.sheet.zero)
        self._ignored = {alike(word) for word in self.export.passed_over}
        self._headed = self.table.headed(*self.table.columns)
        self._sums = _Sums(_SUMMED.get(of, ""), self.cells)

    def lines(self) -> list[BookedLine]:
        """Every row that is booked, each once; those with faults too, marked as such."""
        first: dict[tuple[str, ...], BookedLine] = {}
        made: dict[str, int] = {}
        for row in self.table.below:
            line = self._line(row, made)
            if line is None:
                continue
            known = line.known_by(self.keys)
            before = first.setdefault(known, line)
            if before is not line:
                self._tell_second(line, before)
        return list(first.values())

    def remarks(self) -> Iterator[str]:
        """Totals that do not agree with the rows above them."""
        if not self.faults and not self.skipped:
            yield from self._sums.remarks

    def _tell(self, place: Place, code: str, what: str, hint: str) -> None:
        self.faults.append(self.table.sheet.problem(place, code, what, hint))

    def _line(self, row: SheetRow, made: dict[str, int]) -> BookedLine | None:
        cells = self.table.cells(row)
        if not any(cell.text for cell in cells.values()) or self._is_heading(cells):
            return None
        if why := self._passes(row, cells):
            self.passed.append(PassedOver(row.number, why))
            return None
        if self._skips(row, cells):
            return None
        before = len(self.faults)
        if long := self.table.too_long(row):
            self.faults.append(long)
        if any(cell.struck for cell in cells.values()):
            place = next(cell.place for cell in cells.values() if cell.struck)
            what, hint = "the row is struck through", "take it out, or the line through it"
            self._tell(place, "unreadable-cell", what, hint)
        values, places = self._values(row, cells)
        if self.keys[0] not in values:
            self._number(values, places, row, made)
        line = BookedLine(row.number, values, places, len(self.faults) == before)
        self._sums.add(line, cells)
        return line

    def _values(self, row: SheetRow, cells: Cells) -> tuple[dict[str, str], dict[str, Place]]:
        """What a row says by column, and where it says so; faults are told."""
        try:
            cells = self.cells.spread(cells)
        except CellFault as bad:
            self._tell(cells["code"].place, bad.code, bad.what, bad.hint)
        values, faults = self.cells.row(cells)
        for cell, fault in faults:
            self._tell(cell.place, fault.code, fault.what, fault.hint)
        whole = self._first(row, cells)
        return values, {column: cell.place for column, cell in cells.items()} | {"": whole}

    @staticmethod
    def _first(row: SheetRow, cells: Cells) -> Place:
        """Where a row is pointed at as a whole."""
        filled = (cell.place for cell in row.cells if cell.text)
        return next(filled, next(iter(cells.values())).place)

    def _number(
        self, values: dict[str, str], places: dict[str, Place], row: SheetRow, made: dict[str, int]
    ) -> None:
        """Number a row without one by its day and all that it says; of rows alike by their count.

        A second import of the same rows, from whatever kind of file, makes the same numbers. A row
        that lacks the number which the others have is a fault.
        """
        if self.numbered:
            place = self.table.cells(row)[self.numbered].place
            if not any(fault.place == place for fault in self.faults):
                hint = f"write it; by its {self.numbered} a row is known again"
                self._tell(place, "no-value", f"a row without its {self.numbered}", hint)
            values[self.keys[0]] = f"row {row.number}"
            return
        said = "\x1f".join(f"{column}={words}" for column, words in values.items())
        mark = hashlib.sha256(said.encode()).hexdigest()[:_MADE]
        day = next((values[name] for name in _OWN if name in values), "")
        made[mark] = made.get(mark, 0) + 1
        again = f"-{made[mark]}" if made[mark] > 1 else ""
        values[REFERENCE] = f"{self.export.id}-{day}-{mark}{again}"
        places[REFERENCE] = places[""]

    def _tell_second(self, line: BookedLine, before: BookedLine) -> None:
        if line.values == before.values and line.sound:
            self.passed.append(PassedOver(line.row, f"the same as row {before.row}"))
            return
        number = line.values[self.keys[0]]
        place = line.places.get(self.keys[0], line.places[""])
        what = f"a second row of {quoted(number)}, which says something else"
        hint = f"row {before.row} has it already: keep one of them"
        if self.numbered:
            hint += f"; {option(SKIP, number)} leaves both out"
        self._tell(place, "written-twice", what, hint)

    def _is_heading(self, cells: Cells) -> bool:
        """Whether the row repeats the headings, as every page of a long list does."""
        return tuple(alike(cell.text) for cell in cells.values()) in self._headed

    def _skips(self, row: SheetRow, cells: Cells) -> bool:
        """Whether the row is left out by its number; by its place where rows have none."""
        if not self.skip:
            return False
        number = squeezed(cells[self.numbered].text) if self.numbered else str(row.number)
        if number in map(squeezed, self.skip):
            self.skipped[number] = row.number
            return True
        return False

    def _passes(self, row: SheetRow, cells: Cells) -> str:
        """Why a row is none of the table's; "" for one that is."""
        texts = [cell.text for cell in row.cells if cell.text]
        marked = (text for text in texts if alike(text) in self._ignored)
        if self._ignored and (word := next(marked, "")):
            return quoted(word)
        filled = {role for role, cell in cells.items() if cell.text}
        named = filled - _AMOUNTS - {"note"}
        own = [cells[role] for role in _OWN if role in cells]
        begun = own and all(cell.text for cell in own)
        if any(_is_total(cells[role]) for role in named) or (
            not begun and any(_is_total(cell) for cell in self._unread(row))
        ):
            return self._sums.total(row, cells)
        if len(texts) == 1 and named:
            return "a title"
        without = not any(cell.text for cell in own) and filled & _AMOUNTS
        if without and (not named or self._sums.fits(cells)):
            return self._sums.total(row, cells)
        return ""

    def _unread(self, row: SheetRow) -> Iterator[SheetCell]:
        """The cells of a row that are not read."""
        read = {*self.table.columns.values()}
        yield from (cell for column, cell in enumerate(row.cells) if column not in read)


def _is_total(cell: SheetCell) -> bool:
    """Whether a cell's words are those of a row of totals: "Total", "Summe 08/2026:"."""
    if cell.kind != "text" or not cell.text:
        return False
    words = alike(cell.text).rstrip(": .")
    return words in TOTALS or words.startswith(tuple(f"{word} " for word in TOTALS))


@dataclass(slots=True)
class _Sums:
    """What the rows come to since the last total and in all, to know totals by and to hold them to.

    Rows whose numbers are in several units come to nothing that could be compared.
    """

    column: str
    cells: BookedCells
    remarks: list[str] = field(default_factory=list)
    _since: Fraction = Fraction(0)
    _whole: Fraction = Fraction(0)
    _rows: int = 0
    _units: set[str] = field(default_factory=set)

    def add(self, line: BookedLine, cells: Cells) -> None:
        """Count a row."""
        told = line.values.get(self.column, "")
        try:
            said = numeral(told)
        except UnitError:
            return
        below = cells[self.column].text.startswith(("-", "\u2212")) and said.number > 0
        number = -said.number if below else said.number
        self._since, self._whole = self._since + number, self._whole + number
        self._rows += 1
        self._units.add(told.partition(" ")[2])

    def fits(self, cells: Cells) -> bool:
        """Whether a row says what the rows since the last total come to, or all of them."""
        said = self._said(cells)
        if said is None or not self._rows or len(self._units) > 1:
            return False
        near = _ROUNDED * (self._rows + 1)
        return any(abs(said - found) <= near for found in (self._since, self._whole))

    def total(self, row: SheetRow, cells: Cells) -> str:
        """Take a row for a total; one that does not agree is worth a remark."""
        said = self._said(cells)
        if said is not None and self._rows and len(self._units) == 1 and not self.fits(cells):
            (unit,) = self._units
            whole, wrong = (f"{decimal_text(each)} {unit}".strip() for each in (self._whole, said))
            self.remarks.append(
                f"Row {row.number} says {wrong} in all, and the rows above it come to {whole}: "
                "look whether one is missing."
            )
        self._since = Fraction(0)
        return "a total"

    def _said(self, cells: Cells) -> Fraction | None:
        if not self.column or not cells[self.column].text:
            return None
        try:
            return numeral(self.cells.read(self.column, cells, {})).number
        except (CellFault, UnitError):
            return None
