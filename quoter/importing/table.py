"""The table in a file: its heading row, wherever it begins, and what stands in which column."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from quoter.catalogue.csv_cells import csv_rows, need_few_lines
from quoter.catalogue.exports import Export
from quoter.catalogue.received import PriceFile, RateFile
from quoter.catalogue.source import Text
from quoter.importing.cells import SheetCell, SheetError, SheetRow, SheetRows, alike, letters
from quoter.importing.headings import Head, all_in, best_head, columns_of, near_of
from quoter.importing.workbook_file import is_workbook, workbook_sheets
from quoter.intake import LARGEST_LIST, MOST_ROWS, ONLY_THE_LIST, IntakeError, read_file
from quoter.problems import MalformedError, Place, Problem, listed, nearest, quoted


@dataclass(frozen=True, slots=True)
class HeadedTable:
    """A sheet, its headings, the column of each role that has one, and the rows below.

    `remarks` say which sheet it is and what was left out, where there is a choice.
    """

    sheet: SheetRows
    head: Head
    columns: dict[str, int]
    below: list[SheetRow]
    remarks: list[str] = field(default_factory=list)

    def cells(self, row: SheetRow) -> dict[str, SheetCell]:
        """The cells of a row by their role."""
        return {role: self.sheet.at(row, column) for role, column in self.columns.items()}

    def headed(self, *roles: str) -> set[tuple[str, ...]]:
        """What the rows of the headings have in the columns of roles, for comparison."""
        return set(self.head.texts([self.columns[role] for role in roles]))

    def too_long(self, row: SheetRow) -> Problem | None:
        """A row of a text with more values than headings: one of them was cut in two."""
        if self.sheet.title is not None or row.filled() <= len(self.head.names):
            return None
        extra = row.cells[len(self.head.names)]
        what = f"the line has {row.filled()} values for {len(self.head.names)} headings"
        hint = "put a value that holds the mark between the columns in double quotes"
        return self.sheet.problem(extra.place, "bad-csv", what, hint)


def read_sheets(path: Path, title: Text | None) -> list[SheetRows]:
    """The sheets of a workbook, or a text in each way that it can be read.

    A sheet that is named is read even if the workbook hides it.

    Raises:
        SheetError: the file can't be read, is empty, is larger than what is read, or has no sheet
            of this title.
    """
    file = path.as_posix()
    try:
        raw = read_file(path, LARGEST_LIST, ONLY_THE_LIST)
    except FileNotFoundError as gone:
        raise SheetError(
            [Problem(Place(file), "no-file", "the file is missing", "name another")]
        ) from gone
    except IntakeError as fault:
        raise SheetError([Problem(Place(file), fault.code, fault.what, fault.hint)]) from fault
    if not is_workbook(raw):
        return _some(file, text_sheets(file, raw))
    sheets = workbook_sheets(file, raw, title)
    if title is None:
        return _some(file, sheets)
    found = [sheet for sheet in sheets if sheet.title == title]
    if not found:
        hint = nearest(title, [str(sheet.title) for sheet in sheets])
        what = f"the file has no sheet {quoted(title)}, which {title.place.clickable} names"
        raise SheetError([Problem(Place(file), "which-sheet", what, hint)])
    return [replace(sheet, hidden=False) for sheet in _some(file, found)]


def _some(file: str, sheets: Sequence[SheetRows]) -> list[SheetRows]:
    found = [sheet for sheet in sheets if sheet.rows or sheet.fault]
    if not found:
        hint = "save it with its heading row and the lines below"
        raise SheetError([Problem(Place(file), "empty", "the file is empty", hint)])
    return found


def wanted_headings(file: PriceFile | RateFile | Export) -> dict[str, Text]:
    """The headings that a file must have, by their role."""
    heads = ((role, getattr(file.headings, role)) for role in type(file.headings).model_fields)
    return {role: head for role, head in heads if head is not None}


def find_table(sheets: Sequence[SheetRows], wanted: Mapping[str, Text]) -> HeadedTable:
    """The table of the sheet and row that have the most of the wanted headings, by role.

    Raises:
        SheetError: the text breaks off, all sheets are hidden, several have the headings, or a
            heading is not there or there twice.
    """
    heads = {alike(head) for head in wanted.values()}
    seen = _seen(sheets)
    best = best_head(seen, heads)
    if best is None:
        raise SheetError([sheet.fault for sheet in seen if sheet.fault is not None][:1])
    sheet, head = best
    if sheet.fault is not None:
        raise SheetError([sheet.fault])
    if not head.fit(heads) and not near_of(head.row, heads):
        # Nothing tells how the file is parted into columns, and so nothing more can be said.
        what = f"no row has the headings {listed(wanted.values())}"
        hint = f"correct the headings at {next(iter(wanted.values())).place.clickable}"
        raise SheetError([sheet.problem(sheet.rows[0].cells[0].place, "headings", what, hint)])
    _need_one(seen, heads)
    faults, columns = columns_of(sheet, head, wanted)
    if faults:
        raise SheetError(faults)
    below = [row for row in sheet.rows if row.number > head.row.number]
    return HeadedTable(sheet, head, columns, below, list(_remarks(sheets, sheet, head)))


def _seen(sheets: Sequence[SheetRows]) -> list[SheetRows]:
    """The sheets that people see.

    Raises:
        SheetError: all that hold anything are hidden.
    """
    seen = [sheet for sheet in sheets if not sheet.hidden]
    if not seen:
        what = "every sheet that holds anything is hidden"
        hint = f"show {listed(str(sheet.title) for sheet in sheets)} if it is meant"
        raise SheetError([Problem(Place(sheets[0].file), "which-sheet", what, hint)])
    return seen


def _need_one(sheets: Iterable[SheetRows], heads: set[str]) -> None:
    """One sheet of a workbook has all of the headings, or which is meant can only be guessed.

    Raises:
        SheetError: several have.
    """
    fitting = [sheet for sheet in sheets if sheet.title is not None and all_in(sheet, heads)]
    if len(fitting) > 1:
        what = f"{listed(str(sheet.title) for sheet in fitting)} all have the headings"
        if len(fitting) == 2:
            what = what.replace(" all have", " both have")
        hint = "say which is meant with 'sheet:' beside 'headings:' in the catalogue"
        raise SheetError([Problem(Place(fitting[0].file), "which-sheet", what, hint)])


def _remarks(sheets: Sequence[SheetRows], read: SheetRows, head: Head) -> Iterator[str]:
    """Which sheet was read, where the workbook has others, and what of it nobody sees."""
    if read.title is None:
        return
    hidden = [str(sheet.title) for sheet in sheets if sheet.hidden]
    if len(sheets) > 1:
        skipped = f"; hidden, and left out: {listed(hidden)}" if hidden else ""
        yield f"Read from the sheet {quoted(read.title)}{skipped}."
    if read.left_out:
        yield f"Hidden, and left out: {rows_told(read.left_out)}."
    width = max((row.filled() for row in read.rows), default=0)
    unseen = [column for column in sorted(read.unseen) if column < width]
    if unseen:
        named = ((letters(column + 1), head.called(column)) for column in unseen)
        told = ", ".join(f"{at} ({quoted(name)})" if name else at for at, name in named)
        yield f"Hidden, and left out: column{'' if len(unseen) == 1 else 's'} {told}."


def rows_told(numbers: Sequence[int]) -> str:
    """Rows by their numbers.

    >>> rows_told([7]), rows_told([7, 9])
    ('row 7', 'rows 7, 9')
    """
    return f"row{'' if len(numbers) == 1 else 's'} {', '.join(map(str, numbers))}"


MARKS = (",", ";", "\t")


def text_sheets(file: str, raw: bytes) -> list[SheetRows]:
    """A text read in each way that it may be parted into cells; the headings tell which is right.

    Raises:
        SheetError: it is no text, or has more lines than are read.
    """
    text = re.sub("\r\n?", "\n", _decoded(file, raw))
    try:
        need_few_lines(text, MOST_ROWS)
    except MalformedError as long:
        raise SheetError(
            [Problem(Place(file, long.line), long.code, long.what, long.hint)]
        ) from long
    lines = text.split("\n")
    return [_sheet(file, text, lines, mark) for mark in MARKS]


def _decoded(file: str, raw: bytes) -> str:
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError as fault:
            last = fault
    before = raw[: last.start]
    place = Place(file, before.count(b"\n") + 1, len(before) - before.rfind(b"\n"))
    what = f"the byte {raw[last.start]:02x} is no text"
    hint = "save the file as UTF-8, or as a workbook of the kind .xlsx"
    raise SheetError([Problem(place, "encoding", what, hint)])


def _sheet(file: str, text: str, lines: list[str], mark: str) -> SheetRows:
    """The rows up to where the text breaks off, if it does."""
    rows: list[SheetRow] = []
    fault = None
    try:
        for cells in csv_rows(text, mark, MOST_ROWS):
            found = [SheetCell(cell.text, Place(file, cell.line, cell.column)) for cell in cells]
            rows.append(SheetRow(cells[0].line, found))
    except MalformedError as bad:
        place = Place(file, bad.line, bad.column)
        fault = Problem(place, bad.code, bad.what, bad.hint, lines[bad.line - 1])
    return SheetRows(file, rows, None, lines, fault)
