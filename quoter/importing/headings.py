"""Where the headings of a table are, in one row or in two, and which column is headed by what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from quoter.catalogue.source import Text
from quoter.importing.cells import SheetCell, SheetRow, SheetRows, alike, squeezed
from quoter.problems import Problem, closest, listed, quoted

FIRST = 100  # rows of a sheet among which headings of two rows, and misspelt ones, are looked for


@dataclass(frozen=True, slots=True)
class Head:
    """Headings: the row below which the table begins, and for each column what it is called.

    `lines` are the one or two rows as they stand. A column is called by its own words, and by those
    of both rows together where an upper heading stands over several: "2027 EUR/kg".
    """

    row: SheetRow
    names: tuple[tuple[str, ...], ...]
    lines: tuple[SheetRow, ...]

    @classmethod
    def of(cls, row: SheetRow) -> Head:
        """The headings of a single row."""
        return cls(row, tuple((squeezed(cell.text),) for cell in row.cells), (row,))

    def fit(self, heads: set[str]) -> int:
        """How many of some headings are here."""
        return len(heads.intersection(alike(name) for names in self.names for name in names))

    def called(self, column: int) -> str:
        """The whole heading of a column."""
        return self.names[column][-1] if column < len(self.names) else ""

    def texts(self, columns: Sequence[int]) -> Iterator[tuple[str, ...]]:
        """What each row of the headings has in some columns, as a later page repeats it."""
        for row in self.lines:
            yield tuple(alike(row.cells[n].text) if n < len(row.cells) else "" for n in columns)


def best_head(sheets: Sequence[SheetRows], heads: set[str]) -> tuple[SheetRows, Head] | None:
    """The row with the most of the headings; of several the one with the most like the others.

    Two rows are taken for the headings only where that finds more than one does. What is like a
    heading takes long to find, and is looked for in the first rows only.
    """
    fits = [(fit_of(row, heads), sheet, row) for sheet in sheets for row in sheet.rows]
    most = max((fit for fit, _, _ in fits), default=0)
    if most < len(heads):
        double = [(head.fit(heads), sheet, head) for sheet in sheets for head in _doubles(sheet)]
        if max((fit for fit, _, _ in double), default=0) > most:
            _, sheet, head = max(double, key=lambda each: each[0])
            return sheet, head
    first = [(sheet, row) for fit, sheet, row in fits if fit == most]
    if not most:
        first = [(sheet, row) for sheet in sheets for row in sheet.rows[:FIRST]]
    found = max(
        first[: FIRST * len(sheets)], key=lambda each: near_of(each[1], heads), default=None
    )
    return None if found is None else (found[0], Head.of(found[1]))


def all_in(sheet: SheetRows, heads: set[str]) -> bool:
    """Whether a sheet has a row, or two, with all of the headings."""
    return any(fit_of(row, heads) == len(heads) for row in sheet.rows) or any(
        head.fit(heads) == len(heads) for head in _doubles(sheet)
    )


def fit_of(row: SheetRow, heads: set[str]) -> int:
    """How many of some headings a row has."""
    return len(heads.intersection(alike(cell.text) for cell in row.cells))


def near_of(row: SheetRow, heads: set[str]) -> int:
    """How many headings have something like them in a row."""
    words = [alike(cell.text) for cell in row.cells if 0 < len(cell.text) < 60]
    return sum(bool(closest(head, words)) for head in heads) if len(words) > 1 else 0


def _doubles(sheet: SheetRows) -> Iterator[Head]:
    """Each two rows one below the other, taken for headings."""
    for above, below in zip(sheet.rows[: FIRST - 1], sheet.rows[1:FIRST], strict=False):
        if below.number == above.number + 1:
            yield _double(sheet, above, below)


def _double(sheet: SheetRows, above: SheetRow, below: SheetRow) -> Head:
    """Two rows as headings; what stands over several columns is part of the name of each.

    A workbook says by merged cells how far that is; else it goes up to the next one.
    """
    width = max(len(above.cells), len(below.cells))
    over = _spread(sheet, above, width)
    cells: list[SheetCell] = []
    names: list[tuple[str, ...]] = []
    for column in range(width):
        upper, lower = sheet.at(above, column), sheet.at(below, column)
        own, wide = squeezed(lower.text), over[column]
        cells.append(lower if own else upper)
        both = squeezed(f"{wide} {own}") if own else squeezed(upper.text)
        names.append(tuple(dict.fromkeys((own, both))) if own else (both,))
    return Head(SheetRow(below.number, cells), tuple(names), (above, below))


def _spread(sheet: SheetRows, row: SheetRow, width: int) -> list[str]:
    """The upper heading over each column."""
    texts = [squeezed(sheet.at(row, column).text) for column in range(width)]
    merged = [
        (left, right)
        for top, left, bottom, right in sheet.merged
        if top <= row.number <= bottom and left < right
    ]
    if merged:
        for left, right in merged:
            for column in range(left, min(right + 1, width)):
                texts[column] = texts[left]
        return texts
    for column in range(1, width):
        texts[column] = texts[column] or texts[column - 1]
    return texts


def columns_of(
    sheet: SheetRows, head: Head, wanted: Mapping[str, Text]
) -> tuple[list[Problem], dict[str, int]]:
    """The column of each role, and what is wrong: a heading that is missing, twice or hidden."""
    faults: list[Problem] = []
    columns: dict[str, int] = {}
    for role, heading in wanted.items():
        every = [
            column for column, names in enumerate(head.names) if alike(heading) in map(alike, names)
        ]
        found = [column for column in every if column not in sheet.unseen]
        if not found:
            faults.append(_absent(sheet, head, role, heading, every))
            continue
        columns[role] = found[0]
        if len(found) > 1:
            place = head.row.cells[found[1]].place
            what = f"two columns are headed {quoted(heading)}"
            hint = "give one of them another heading"
            if len(head.lines) > 1 and (whole := head.called(found[1])) != heading:
                hint += f", or write both rows of it: {quoted(whole)}"
            faults.append(sheet.problem(place, "headings", what, hint))
    return faults, columns


def _absent(
    sheet: SheetRows, head: Head, role: str, heading: Text, hidden: Sequence[int]
) -> Problem:
    """A heading that no column has, or only one that nobody sees."""
    if hidden:
        what = f"the column headed {quoted(heading)} is hidden"
        hint = f"show it if it is meant, or correct '{role}' at {heading.place.clickable}"
        return sheet.problem(head.row.cells[hidden[0]].place, "headings", what, hint)
    named = [names[-1] for names in head.names if names[-1]]
    near = closest(heading, named)
    told = f"the nearest is {quoted(near)}" if near else f"the row has {listed(named)}"
    hint = f"{told}: correct '{role}' at {heading.place.clickable}, or the file"
    what = f"no column is headed {quoted(heading)}"
    return sheet.problem(head.row.cells[0].place, "headings", what, hint)
