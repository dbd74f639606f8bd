"""The table in a file: its heading row, wherever it begins, and what stands in which column."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from quoter.catalogue.csv_cells import csv_rows, need_few_lines
from quoter.catalogue.received import PriceFile, RateFile
from quoter.catalogue.source import Text
from quoter.importing.cells import SheetCell, SheetError, SheetRow, SheetRows, alike, squeezed
from quoter.importing.workbook_file import is_workbook, workbook_sheets
from quoter.intake import LARGEST_LIST, MOST_ROWS, ONLY_THE_LIST, IntakeError, read_file
from quoter.problems import MalformedError, Place, Problem, closest, listed, nearest, quoted

FIRST = 100  # rows of a sheet among which misspelt headings are looked for


@dataclass(frozen=True, slots=True)
class HeadedTable:
    """A sheet, its heading row, the column of each role that has one, and the rows below.

    `remarks` say which sheet it is and what was left out, where there is a choice.
    """

    sheet: SheetRows
    head: SheetRow
    columns: dict[str, int]
    below: list[SheetRow]
    remarks: list[str] = field(default_factory=list)

    def cells(self, row: SheetRow) -> dict[str, SheetCell]:
        """The cells of a row by their role."""
        return {role: self.sheet.at(row, column) for role, column in self.columns.items()}

    def too_long(self, row: SheetRow) -> Problem | None:
        """A row of a text with more values than headings: one of them was cut in two."""
        if self.sheet.title is not None or row.filled() <= len(self.head.cells):
            return None
        extra = row.cells[len(self.head.cells)]
        what = f"the line has {row.filled()} values for {len(self.head.cells)} headings"
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


def wanted_headings(file: PriceFile | RateFile) -> dict[str, Text]:
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
    best = _best(seen, heads)
    if best is None:
        raise SheetError([sheet.fault for sheet in seen if sheet.fault is not None][:1])
    sheet, head = best
    if sheet.fault is not None:
        raise SheetError([sheet.fault])
    if not _fit(head, heads) and not _near(head, heads):
        # Nothing tells how the file is parted into columns, and so nothing more can be said.
        what = f"no row has the headings {listed(wanted.values())}"
        hint = f"correct the headings at {next(iter(wanted.values())).place.clickable}"
        raise SheetError([sheet.problem(sheet.rows[0].cells[0].place, "headings", what, hint)])
    _need_one(seen, heads)
    faults, columns = _columns(sheet, head, wanted)
    if faults:
        raise SheetError(faults)
    below = [row for row in sheet.rows if row.number > head.number]
    return HeadedTable(sheet, head, columns, below, list(_remarks(sheets, sheet)))


def _best(sheets: Sequence[SheetRows], heads: set[str]) -> tuple[SheetRows, SheetRow] | None:
    """The row with the most of the headings; of several the one with the most like the others.

    What is like a heading takes long to find, and is looked for in the first rows only.
    """
    fits = [(_fit(row, heads), sheet, row) for sheet in sheets for row in sheet.rows]
    most = max((fit for fit, _, _ in fits), default=0)
    first = [(sheet, row) for fit, sheet, row in fits if fit == most]
    if not most:
        first = [(sheet, row) for sheet in sheets for row in sheet.rows[:FIRST]]
    return max(first[: FIRST * len(sheets)], key=lambda each: _near(each[1], heads), default=None)


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
    fitting = [
        sheet
        for sheet in sheets
        if sheet.title is not None and any(_fit(row, heads) == len(heads) for row in sheet.rows)
    ]
    if len(fitting) > 1:
        what = f"{listed(str(sheet.title) for sheet in fitting)} all have the headings"
        if len(fitting) == 2:
            what = what.replace(" all have", " both have")
        hint = "say which is meant with 'sheet:' beside 'headings:' in the catalogue"
        raise SheetError([Problem(Place(fitting[0].file), "which-sheet", what, hint)])


def _remarks(sheets: Sequence[SheetRows], read: SheetRows) -> Iterator[str]:
    """Which sheet was read, where the workbook has others, and what of it nobody sees."""
    if read.title is None:
        return
    hidden = [str(sheet.title) for sheet in sheets if sheet.hidden]
    if len(sheets) > 1:
        skipped = f"; hidden, and left out: {listed(hidden)}" if hidden else ""
        yield f"Read from the sheet {quoted(read.title)}{skipped}."
    if read.left_out:
        rows = ", ".join(map(str, read.left_out))
        yield f"Hidden, and left out: row{'' if len(read.left_out) == 1 else 's'} {rows}."


def _fit(row: SheetRow, heads: set[str]) -> int:
    return len(heads.intersection(alike(cell.text) for cell in row.cells))


def _near(row: SheetRow, heads: set[str]) -> int:
    """How many headings have something like them in a row."""
    words = [alike(cell.text) for cell in row.cells if 0 < len(cell.text) < 60]
    return sum(bool(closest(head, words)) for head in heads) if len(words) > 1 else 0


def _columns(
    sheet: SheetRows, head: SheetRow, wanted: Mapping[str, Text]
) -> tuple[list[Problem], dict[str, int]]:
    faults: list[Problem] = []
    columns: dict[str, int] = {}
    named = [squeezed(cell.text) for cell in head.cells if cell.text]
    for role, heading in wanted.items():
        found = [n for n, cell in enumerate(head.cells) if alike(cell.text) == alike(heading)]
        if not found:
            near = closest(heading, named)
            told = f"the nearest is {quoted(near)}" if near else f"the row has {listed(named)}"
            hint = f"{told}: correct '{role}' at {heading.place.clickable}, or the file"
            what = f"no column is headed {quoted(heading)}"
            faults.append(sheet.problem(head.cells[0].place, "headings", what, hint))
            continue
        columns[role] = found[0]
        if len(found) > 1:
            place = head.cells[found[1]].place
            what = f"two columns are headed {quoted(heading)}"
            faults.append(
                sheet.problem(place, "headings", what, "give one of them another heading")
            )
    return faults, columns


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
