"""`quoter import-actuals`: exports of the yard's clock, store and ledger become rows of actuals.

A row is known again by its own number, so that an export may hold what an earlier one held. One
that stands already and says the same is passed over; one that says something else is refused, or
with consent corrects what stands, which its note keeps.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from quoter.catalogue.adding import bytes_of
from quoter.catalogue.booked import TABLES
from quoter.catalogue.booked_files import file_of, read_booked
from quoter.catalogue.csv_cells import csv_rows
from quoter.catalogue.day import catalogue_day, day_words
from quoter.catalogue.exports import Export
from quoter.catalogue.records import Records
from quoter.importing.booked_beside import (
    Sorted,
    corrected_note,
    otherwise,
    sorted_rows,
    spoken,
    standing_rows,
)
from quoter.importing.booked_rows import SKIP, BookedLine, BookedRows
from quoter.importing.booked_told import data_of, done, shown
from quoter.importing.cells import SheetError, squeezed
from quoter.importing.prices import UnknownNameError
from quoter.importing.table import find_table, read_sheets, wanted_headings
from quoter.importing.writing import Import, longer, read_sound
from quoter.problems import (
    CatalogueError,
    Place,
    Problem,
    Problems,
    nearest,
    quoted,
)

MAPPING = (
    "add for example 'exports: [{id: clock, of: hours, headings: {reference: No., date: Date, "
    "job: Job, station: Station, hours: Paid}, bare: {hours: h}}]'"
)
_LINES = re.compile(r"\blines? (\d+(?: as \d+)?(?:(?:, | and )\d+(?: as \d+)?)*)")


@dataclass(slots=True)
class ActualsImport(Import):
    """What an export adds to a table of what was booked, and the same as data."""

    warnings: list[Problem] = field(default_factory=list)
    data: dict[str, Any] = field(default_factory=dict)

    def as_json(self, *, written: bool) -> str:
        """What was read, what is new in it, and whether it was written."""
        warnings = [str(each) for each in self.warnings]
        data = {**self.data, "warnings": warnings, "written": written}
        return json.dumps(data, indent=1, ensure_ascii=False)


def export_of(records: Records, id: str) -> Export:
    """The export of an id.

    Raises:
        UnknownNameError: there is none.
        CatalogueError: the yard describes none at all.
    """
    exports = {str(each.id): each for each in (records.yard.exports if records.yard else ())}
    if not exports:
        what = "the yard has no exports, which say how its clock, store and ledger are read"
        raise CatalogueError([Problem(Place("yard.yaml", 1, 1), "not-set-up", what, MAPPING)])
    if id not in exports:
        raise UnknownNameError(f"unknown export '{id}': {nearest(id, exports)}")
    return exports[id]


def import_actuals(
    folder: Path, path: Path, export_id: str, skip: Sequence[str] = (), *, corrected: bool = False
) -> ActualsImport:
    """What an export adds to the table of `actuals/` that it is of; nothing is written.

    Args:
        folder: the catalogue's
        path: the file
        export_id: how it is read
        skip: numbers of rows that are left out; their places in the file where rows have none
        corrected: whether rows that say otherwise correct what stands
    Raises:
        UnknownNameError: there is no such export.
        CatalogueError: the catalogue has problems, or can't read such files.
    """
    records = read_sound(folder)
    export = export_of(records, export_id)
    says = day_words(records, catalogue_day(records).prices)
    try:
        table = find_table(read_sheets(path, export.sheet), wanted_headings(export))
    except SheetError as unreadable:
        return ActualsImport(faults=unreadable.problems, day=says)
    rows = BookedRows(records, export, table, tuple(skip))
    lines = rows.lines()
    name = file_of(str(export.of))
    standing = standing_rows(bytes_of(folder / name), rows.keys)
    found = sorted_rows(rows, lines, standing)
    made = ActualsImport(day=says)
    made.shown = [*shown(records, rows, found), *table.remarks]
    faults = [*rows.faults, *_not_there(rows)]
    faults += [] if corrected else otherwise(rows, found)
    # Rows with faults are tried out too, so that nothing is said to be missing for their lack.
    faulty = [line for line in lines if not line.sound and line.known_by(rows.keys) not in standing]
    content = _table(folder, name, rows, found, faulty)
    tried = [*found.new, *(line for line, _, _ in found.other), *faulty]
    told, warnings = _tried(folder, records, rows, tried, name, content)
    made.faults = _gathered([*faults, *told])
    made.warnings = warnings
    made.data = data_of(rows, found, path, name)
    if not made.faults and (found.new or found.other):
        made.files[name] = content
        if found.other:
            made.replaced[name] = bytes_of(folder / name) or b""
        made.done = done(found, folder / name)
    return made


def _not_there(rows: BookedRows) -> Iterator[Problem]:
    """Numbers of the command line that the file does not have."""
    for number in map(squeezed, rows.skip):
        if number not in rows.skipped:
            what = f"the file has no row {quoted(number)}"
            hint = "rows of this export have no number: write the row's place in the file"
            if rows.numbered:
                hint = f"write the {rows.numbered} of a row"
            yield Problem(Place(SKIP), "unknown-code", what, hint)


def _table(
    folder: Path, name: str, rows: BookedRows, found: Sorted, faulty: Sequence[BookedLine]
) -> bytes:
    """The table as it would be, with rows that have faults at its end."""
    columns = spoken(rows)
    replaced: dict[tuple[str, ...], dict[str, str]] = {}
    for line, before, other in found.other:
        row = {column: line.values.get(column, "") for column in columns}
        row["note"] = corrected_note(line, before, other)
        replaced[line.known_by(rows.keys)] = row
    added = [line.values for line in (*found.new, *faulty)]
    heads = TABLES[str(rows.export.of)].model_fields
    return longer(folder, name, heads, added, replaced, rows.keys)


def _tried(
    folder: Path,
    records: Records,
    rows: BookedRows,
    lines: Sequence[BookedLine],
    name: str,
    content: bytes,
) -> tuple[list[Problem], list[Problem]]:
    """What is wrong with the tables as they would be, and warnings of the new rows.

    What is said of a row of the export is said at its own place, and told once: a row that could
    not be read has its faults already.
    """
    problems = Problems()
    if lines:
        read_booked(folder, records, problems, instead={name: content})
    if not problems.errors and not problems.warnings:
        return [], []
    standing = standing_rows(content, rows.keys)
    at = {
        standing[key].line: line for line in lines if (key := line.known_by(rows.keys)) in standing
    }
    told = _Retold(folder, rows, name, content, at)
    errors = [problem for each in problems.errors for problem in told.error(each)]
    return errors, [problem for each in problems.warnings for problem in told.warning(each)]


@dataclass(slots=True)
class _Retold:
    """Tells problems of a table that is not written at the places that its rows are from."""

    folder: Path
    rows: BookedRows
    name: str
    content: bytes
    at: dict[int, BookedLine]
    heads: list[str] = field(init=False)
    text: list[str] = field(init=False)

    def __post_init__(self) -> None:
        """Know the lines and columns of the table."""
        self.text = re.sub("\r\n?", "\n", self.content.decode("utf-8-sig")).split("\n")
        self.heads = [cell.text for cell in next(csv_rows("\n".join(self.text)), [])]

    def error(self, problem: Problem) -> Iterator[Problem]:
        """A fault of a row of the export, or of what stands; none of a row with faults already."""
        line = self._line(problem)
        if line is None:
            place = replace(problem.place, file=f"{self.folder.as_posix()}/{problem.place.file}")
            own = problem.place.file == self.name
            hint = self._rows(problem.hint) if own else problem.hint
            yield replace(problem, place=place, hint=hint)
        elif line.sound:
            yield self._retold(problem, line)

    def warning(self, problem: Problem) -> Iterator[Problem]:
        """A warning of a row of the export; those of what stands are told by other commands."""
        line = self._line(problem)
        if line is not None and line.sound:
            yield replace(self._retold(problem, line), warning=True)

    def _line(self, problem: Problem) -> BookedLine | None:
        return self.at.get(problem.place.line) if problem.place.file == self.name else None

    def _retold(self, problem: Problem, line: BookedLine) -> Problem:
        column = self._column(problem.place)
        place = line.places.get(column, line.places[""])
        what, hint = self._rows(problem.what), self._rows(problem.hint)
        return self.rows.table.sheet.problem(place, problem.code, what, hint)

    def _column(self, place: Place) -> str:
        cells = next(csv_rows(self.text[place.line - 1]), [])
        before = [n for n, cell in enumerate(cells) if cell.column <= place.column]
        return self.heads[before[-1]] if before else ""

    def _rows(self, words: str) -> str:
        """Words about lines of the table, about rows of the export where these are not written."""

        def one(number: re.Match[str]) -> str:
            line = self.at.get(int(number[0]))
            return f"line {number[0]} of {self.name}" if line is None else f"row {line.row}"

        return _LINES.sub(lambda found: re.sub(r"\d+", one, found[1]), words)


def _gathered(faults: Sequence[Problem]) -> list[Problem]:
    """Faults by place; what holds of many rows alike is told once."""
    problems = Problems()
    problems.extend(faults)
    problems.gather()
    return problems.errors
