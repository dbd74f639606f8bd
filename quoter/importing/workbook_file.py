"""A workbook's sheets as cells: values as stored, what is no plain value told apart.

Only what holds something counts: a sheet coloured to its end is no larger for it, and a cell in
the last column there is does not make a row of thousands.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import cache
from xml.parsers.expat import ExpatError
from zipfile import BadZipFile

from openpyxl.styles.numbers import is_date_format, is_timedelta_format
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH, from_excel, from_ISO8601

from quoter.importing.cells import SheetCell, SheetError, SheetRow, SheetRows, cell_place
from quoter.importing.workbook_styles import Look, Strokes, looks, number_cell, shared_texts
from quoter.importing.zip_parts import WITHOUT_PASSWORD, ZipParts, beyond, need_short
from quoter.intake import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, ONLY_THE_LIST, IntakeError, counted
from quoter.problems import Place, Problem, quoted

# What is met with in a damaged file, depending on where the damage is.
_BROKEN = (
    *(BadZipFile, zlib.error, OSError, EOFError, ExpatError, ValueError, LookupError),
    *(NotImplementedError, RuntimeError),
)
LONGEST_NUMBER = 40  # characters of a stored number; a program writes seventeen digits and a power
ZIPPED, OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_ADDRESS = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})\Z")
_ANEW = "open it in a spreadsheet program and save it as .xlsx"


def is_workbook(raw: bytes) -> bool:
    """Whether a file is a workbook, of the present kind or of the old one."""
    return raw.startswith((ZIPPED, OLD))


def workbook_sheets(file: str, raw: bytes, title: str | None = None) -> list[SheetRows]:
    """Every sheet of a workbook; without their rows those that have another title than the one.

    Raises:
        SheetError: it is of another kind, locked, damaged, or larger than what is read.
    """
    try:
        if raw.startswith(OLD):
            what = "the workbook is of an old kind, or locked with a password"
            raise IntakeError(
                "unreadable-file", f"the file can't be read: {what}", WITHOUT_PASSWORD
            )
        return list(_Book(file, ZipParts(raw)).sheets(title))
    except IntakeError as fault:
        raise SheetError([Problem(Place(file), fault.code, fault.what, fault.hint)]) from fault
    except _BROKEN as fault:
        problem = Problem(
            Place(file), "unreadable-file", "the file is damaged, or no workbook", _ANEW
        )
        raise SheetError([problem]) from fault


class _Book:
    """A workbook while it is read: its texts and number formats, and how much of it there was."""

    def __init__(self, file: str, archive: ZipParts) -> None:
        self.file, self.archive = file, archive
        self.rows = self.cells = 0
        self.home = _home(archive)
        self.epoch = WINDOWS_EPOCH
        related = list(archive.related(self.home))
        self._parts = {id: name for id, kind, name in related if kind == "worksheet"}
        by_kind = {kind: name for _, kind, name in related if name in archive}
        self._named = list(self._sheets_named())
        self.texts = list(shared_texts(archive, by_kind.get("sharedStrings", "")))
        self.looks = list(looks(archive, by_kind.get("styles", "")))

    def sheets(self, title: str | None) -> Iterator[SheetRows]:
        """Each sheet with its rows, or the one of a title alone."""
        for name, hidden, part in self._named:
            reader = _SheetReader(self, name)
            found = SheetRows(
                *(self.file, [], name),
                hidden=hidden,
                unseen=reader.unseen,
                merged=reader.merged,
                zero=self.epoch.date(),
            )
            for row, unseen in reader.of(part) if title in (None, name) else ():
                if unseen:
                    found.left_out.append(row.number)
                else:
                    found.rows.append(row)
            yield found

    def count(self, width: int, title: str) -> None:
        """Count a row that holds something, and its cells up to the last that does.

        Raises:
            IntakeError: there were too many.
        """
        self.rows, self.cells = self.rows + 1, self.cells + width
        for found, most, words in (
            (self.rows, MOST_ROWS, "rows"),
            (self.cells, MOST_CELLS, "cells"),
        ):
            if found > most:
                what = f"up to the sheet {quoted(title)} the workbook has more than"
                raise beyond(f"{what} {counted(most)} {words}")

    def _sheets_named(self) -> Iterator[tuple[str, bool, str]]:
        for tag, has, _ in self.archive.elements(self.home):
            if has is None:
                continue
            if tag == "workbookPr" and has.get("date1904") in ("1", "true"):
                self.epoch = MAC_EPOCH
            if tag == "sheet":
                id = next((value for key, value in has.items() if key.endswith(" id")), "")
                if id in self._parts:  # and no sheet of charts
                    yield has["name"], has.get("state", "visible") != "visible", self._parts[id]


def _home(archive: ZipParts) -> str:
    """The part that says which sheets there are.

    Raises:
        IntakeError: the archive is one of something else.
    """
    found = [name for _, kind, name in archive.related("") if kind == "officeDocument"]
    if not found or found[0] not in archive:
        kind = "a zip archive"
        if "mimetype" in archive and b"opendocument" in archive.first("mimetype"):
            kind = "an OpenDocument file"
        raise IntakeError("unreadable-file", f"the file is {kind} and no .xlsx workbook", _ANEW)
    if found[0].endswith(".bin"):
        raise IntakeError(
            "unreadable-file", "the file is a binary workbook, and no .xlsx one", _ANEW
        )
    for tag, _, _ in archive.elements(found[0]):
        if tag == "workbook":
            return found[0]
        break
    raise IntakeError(
        "unreadable-file", "the file is a document of another kind, and no workbook", _ANEW
    )


class _SheetReader:
    """The rows of a sheet while it is read."""

    def __init__(self, book: _Book, title: str) -> None:
        self.book, self.title = book, title
        self.number = self.column = 0
        self.cells: list[SheetCell] = []
        self.unseen: set[int] = set()
        self.merged: list[tuple[int, int, int, int]] = []

    def of(self, part: str) -> Iterator[tuple[SheetRow, bool]]:
        """Each row that holds anything, and whether it is hidden."""
        within: Mapping[str, str] = {}
        stored: _Stored | None = None
        hidden = False
        for tag, has, text in self.book.archive.elements(part):
            if tag == "row" and has is not None:
                self._begin(has)
                hidden = has.get("hidden", "0") in ("1", "true")
            elif tag == "row" and self.cells:
                self.book.count(len(self.cells), self.title)
                yield SheetRow(self.number, self.cells), hidden
            elif tag == "c" and has is not None:
                within, stored = has, _Stored()
                self._next_column(has.get("r"))
            elif stored is None:
                if has is not None:
                    self._note(tag, has)
            elif tag == "c":
                if stored.holds():
                    self._keep(within, stored)
                stored = None
            else:
                stored.add(tag, has, text)

    def _note(self, tag: str, has: Mapping[str, str]) -> None:
        """Columns that are hidden, and cells that are merged."""
        if tag == "col" and has.get("hidden", "0") in ("1", "true"):
            self.unseen |= {*range(int(has["min"]) - 1, min(int(has["max"]), MOST_COLUMNS))}
        elif tag == "mergeCell" and len(self.merged) < MOST_ROWS:
            ends = [_ADDRESS.match(end) for end in has["ref"].split(":")]
            first, last = ends[0], ends[-1]
            if first is not None and last is not None:
                columns = _column(first[1]) - 1, _column(last[1]) - 1
                self.merged.append((int(first[2]), columns[0], int(last[2]), columns[1]))

    def _begin(self, has: Mapping[str, str]) -> None:
        number = int(has.get("r", self.number + 1))
        if number <= self.number:
            raise ValueError("the rows are out of order")
        self.number, self.column, self.cells = number, 0, []

    def _next_column(self, address: str | None) -> None:
        before = self.column
        self.column += 1
        if address is not None:
            found = _ADDRESS.match(address)
            if found is None or int(found[2]) != self.number:
                raise ValueError("a cell has no address of its row")
            self.column = _column(found[1])
        if self.column <= before:
            raise ValueError("the cells of a row are out of order")

    def _keep(self, has: Mapping[str, str], stored: _Stored) -> None:
        """Add a cell that holds something, and the empty ones before it."""
        place = cell_place(self.book.file, self.title, self.number, self.column)
        cell = _cell(self.book, has, stored, place)
        if not cell.text:
            return
        if self.column > MOST_COLUMNS:
            what = f"{place.cell} holds something, and {MOST_COLUMNS} columns are the most"
            raise IntakeError("too-much", f"{what} that is read", ONLY_THE_LIST)
        while len(self.cells) < self.column - 1:
            at = cell_place(self.book.file, self.title, self.number, len(self.cells) + 1)
            self.cells.append(SheetCell("", at))
        self.cells.append(cell)


class _Stored:
    """What stands within a cell: a value or text of its own, and whether there is a formula."""

    __slots__ = ("formula", "spoken", "strokes", "value", "words")

    def __init__(self) -> None:
        self.value = self.words = ""
        self.formula = self.spoken = False
        self.strokes: Strokes | None = None

    def holds(self) -> bool:
        """Whether there is anything; most cells of many sheets are but coloured."""
        return bool(self.value or self.words or self.formula)

    def struck(self) -> bool:
        """Whether any of its own text is struck through."""
        return self.strokes is not None and self.strokes.any

    def add(self, tag: str, has: Mapping[str, str] | None, text: str) -> None:
        """Take in what stands within the cell."""
        begins = has is not None
        if tag == "strike" or self.strokes is not None:
            self.strokes = self.strokes or Strokes()
            self.strokes.add(tag, has, text)
        if tag == "v" and not begins:
            self.value = text
        elif tag == "f":
            self.formula = True
        elif tag == "rPh":
            self.spoken = begins
        elif tag == "t" and not begins and not self.spoken:
            self.words += text
            need_short(len(self.words))


@cache
def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _cell(book: _Book, has: Mapping[str, str], stored: _Stored, place: Place) -> SheetCell:
    style = _index(has.get("s", "0"))
    look = book.looks[style] if book.looks else Look()
    shared = book.texts[_index(stored.value)] if has.get("t") == "s" and stored.value else None
    if shared is not None:
        return SheetCell(shared.text.strip(), place, struck=look.struck or shared.struck)
    found = _cell_of_its_own(book, has.get("t", "n"), stored, look, place)
    return replace(found, struck=True) if look.struck or stored.struck() else found


def _cell_of_its_own(
    book: _Book, kind: str, stored: _Stored, look: Look, place: Place
) -> SheetCell:
    """A cell that names no text of the workbook's list."""
    value = stored.value
    if kind == "inlineStr":
        return SheetCell(stored.words.strip(), place)
    if not value:
        return SheetCell("a formula", place, "formula") if stored.formula else SheetCell("", place)
    if kind == "e":
        return SheetCell(value, place, "error")
    if kind == "b":
        return SheetCell("TRUE" if int(value) else "FALSE", place, "truth")
    if kind == "d":
        return _day_cell(from_ISO8601(value), place)  # type: ignore[no-untyped-call]
    if kind == "n":
        return _of_number(book, value, look, place)
    return SheetCell(value.strip(), place)


def _index(text: str) -> int:
    if not text.isdecimal():
        raise ValueError("an index is no number")
    return int(text)


def _of_number(book: _Book, written: str, look: Look, place: Place) -> SheetCell:
    """A number, or what its format makes of it."""
    if len(written) > LONGEST_NUMBER:
        raise ValueError("a number is longer than any program writes one")
    value = float(written) if set(written) & {*".eE"} else int(written)
    if is_date_format(look.form):
        try:
            spent = is_timedelta_format(look.form)
            return _day_cell(from_excel(value, book.epoch, timedelta=spent), place)
        except (OverflowError, ValueError):
            return SheetCell("#VALUE!", place, "error")  # as a spreadsheet program shows it
    return number_cell(value, look, place)


def _day_cell(value: datetime | date | time | timedelta, place: Place) -> SheetCell:
    day = value.date() if isinstance(value, datetime) else value
    told = str(day if isinstance(day, date) else value)
    return SheetCell(told, place, "date", day=day if isinstance(day, date) else None)
