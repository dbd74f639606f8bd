"""Where figures live: each has one home cell, and wherever else it is shown, a cell refers to it.

Runs of neighbouring cells become ranges: what SUM and SUMPRODUCT read best.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence, Set
from functools import cache, lru_cache
from itertools import chain

from quoter.figures import Figure
from quoter.workbook.laid import LaidSheet
from quoter.workbook.limits import LimitError
from quoter.workbook.table import (
    ENTRIES,
    Cell,
    Choice,
    Flag,
    InputCell,
    Sheet,
    Table,
    figure_of,
    is_sortable,
)

_CELL = re.compile(r"((?:'(?:[^']|'')+'|[^'!(),:]+)!)?([A-Z]{1,3})(\d+)\Z")


class Homes:
    """The home of each figure: its cell as its own sheet writes it, and as all others do.

    `own` has ``B4`` by sheet, `elsewhere` ``'Take-off'!B4``.
    """

    def __init__(self) -> None:
        """Start with none."""
        self.own: defaultdict[str, dict[Figure, str]] = defaultdict(dict)
        self.elsewhere: dict[Figure, str] = {}

    def put(self, figure: Figure, sheet: str, cell: str) -> None:
        """Give a figure its home."""
        self.own[sheet][figure] = cell
        self.elsewhere[figure] = f"{quoted(sheet)}!{cell}"

    def seen_from(self, sheet: str) -> dict[Figure, str]:
        """All homes as a sheet writes them."""
        return self.elsewhere | self.own[sheet]

    def absolute(self, figure: Figure) -> str | None:
        """``'Take-off'!$B$4``, the same cell from wherever it is written; None without a home."""
        home = self.elsewhere.get(figure)
        return None if home is None else absolute(home)


def absolute(cell: str) -> str:
    """A cell of a sheet, both by fixed: ``'Take-off'!$B$4`` for ``'Take-off'!B4``."""
    sheet, _, place = cell.rpartition("!")
    column = place.rstrip("0123456789")
    return f"{sheet}!${column}${place[len(column) :]}"


@cache
def letters(column: int) -> str:
    """A column as sheets call it: A, B, ..., Z, AA."""
    rest, last = divmod(column - 1, 26)
    return (letters(rest) if rest else "") + chr(ord("A") + last)


@cache
def quoted(sheet: str) -> str:
    """A sheet's title as formulas write it: in apostrophes unless it is one plain word."""
    plain = sheet.isascii() and sheet.isalpha() and len(sheet) > 3
    return sheet if plain else "'" + sheet.replace("'", "''") + "'"


def homes(sheets: Sequence[LaidSheet]) -> Homes:
    """The homes of all figures shown: entries first, then sheets that own, then the others.

    A bare number of a formula has a home only where it is stated under a key, or has a label and
    is shown once. Nothing has its home on a sheet whose rows may be sorted.

    Raises:
        LimitError: when an entry's figure is no input, or has two entry cells.
    """
    found = Homes()
    for laid in sheets:
        for content, name, row in standing(laid, ENTRIES):
            if isinstance(content, InputCell | Choice):
                _check_entry(content.figure, content.figure in found.elsewhere)
                found.put(content.figure, laid.sheet.title, f"{name}{row}")
    owners = sorted(
        (laid for laid in sheets if laid.filtered is None), key=lambda laid: not laid.sheet.owner
    )
    times = Counter(
        cell
        for laid in owners
        for _, strips in laid.bands
        for strip in strips
        if Figure in strip.kinds
        for cell in strip.cells
        if type(cell) is Figure and cell.op == "const"
    )
    for laid in owners:
        title, known = laid.sheet.title, found.elsewhere
        for figure, name, row in standing(laid, _FIGURES):
            if figure in known or not isinstance(figure, Figure):
                continue
            if figure.op != "const" or figure.key or (figure.label and times[figure] == 1):
                found.put(figure, title, f"{name}{row}")
    return found


_FIGURES = frozenset({Figure})


def standing(laid: LaidSheet, kinds: Set[type]) -> Iterator[tuple[Cell, str, int]]:
    """The cells of these types along the rows, each with its column's letters and its row."""
    for first, strips in laid.bands:
        asked = [strip for strip in strips if strip.kinds & kinds]
        names = [letters(strip.first) for strip in asked]
        for row, cells in enumerate(zip(*(strip.cells for strip in asked), strict=True), first):
            for name, cell in zip(names, cells, strict=True):
                if type(cell) in kinds:
                    yield cell, name, row


def _check_entry(figure: Figure, again: bool) -> None:
    name = figure.key or figure.label or figure.op
    if figure.op != "input":
        raise LimitError(f"'{name}' is calculated; only an input can stand in an entry cell")
    if again:
        raise LimitError(f"'{name}' has two entry cells; a reader could fill in only one of them")


def shown_in(sheets: Iterable[Sheet]) -> list[Figure]:
    """Every figure in any cell of the sheets' tables, in order, as often as it occurs."""
    return [figure for cell in cells_of(sheets) if (figure := figure_of(cell)) is not None]


def cells_of(sheets: Iterable[Sheet]) -> Iterator[Cell]:
    """Every cell of the sheets' tables, in order."""
    tables = [block for sheet in sheets for block in sheet.blocks if isinstance(block, Table)]
    return chain.from_iterable(row.cells for table in tables for row in table.rows)


def without_cell(
    sheets: Iterable[Sheet], order: Iterable[Figure], names: Iterable[Figure]
) -> list[Figure]:
    """Figures that need a cell and that no table has one for, each after those it rests on.

    These are the named figures and inputs that something shown depends on, the ones that flags put
    in words, and whatever has a defined name. `order` are all that anything rests on.
    """
    shown = {
        figure
        for cell in cells_of(sheet for sheet in sheets if not is_sortable(sheet))
        if type(cell) is not Flag and (figure := figure_of(cell)) is not None
    }
    asked = set(names)
    return [
        figure
        for figure in order
        if (figure.key or figure.op == "input" or figure in asked) and figure not in shown
    ]


def ranges(texts: Sequence[str]) -> list[str]:
    """The texts with runs of cells along a column, else along a row, joined to ranges.

    >>> ranges(["B2", "B3", "B4", "D7", "E7", "(B9*2)"])
    ['B2:B4', 'D7:E7', '(B9*2)']
    """
    cells: list[_Placed] = []
    others = []
    for text in texts:
        at = position(text)
        if at is None:
            others.append(text)
        else:
            cells.append((at, text))
    if len(cells) > 1:
        cells.sort()
        runs = _runs(cells, (0, 1))
        alone = [run[0] for run in runs if len(run) == 1]
        alone.sort(key=lambda cell: (cell[0][0], cell[0][2], cell[0][1]))
        runs = [run for run in runs if len(run) > 1] + _runs(alone, (1, 0))
        return [span(run[0][1], run[-1][1]) for run in runs] + others
    return [text for _, text in cells] + others


_Placed = tuple[tuple[str, int, int], str]  # sheet, column and row of a cell, and its address


def _runs(cells: Sequence[_Placed], step: tuple[int, int]) -> list[list[_Placed]]:
    """Cells in order, those together that go on by one in a direction, columns and rows."""
    runs: list[list[_Placed]] = []
    follows = None
    for cell in cells:
        sheet, column, row = cell[0]
        if cell[0] == follows:
            runs[-1].append(cell)
        else:
            runs.append([cell])
        follows = (sheet, column + step[0], row + step[1])
    return runs


def stretches(pairs: Sequence[tuple[str, str]]) -> list[list[tuple[str, str]]]:
    """Pairs in order, those together where both sides go on by one cell in the same direction."""
    found: list[list[tuple[str, str]]] = []
    direction: tuple[int, int] | None = None
    for pair in pairs:
        if found:
            last = found[-1][-1]
            step = _step(last[0], pair[0])
            same = step is not None and step == _step(last[1], pair[1])
            if same and (len(found[-1]) == 1 or step == direction):
                found[-1].append(pair)
                direction = step
                continue
        found.append([pair])
    return found


def _step(before: str, after: str) -> tuple[int, int] | None:
    """(columns, rows) from a cell to the next one along a line; None for anything else."""
    a, b = position(before), position(after)
    if a is None or b is None:
        return None
    step = (b[1] - a[1], b[2] - a[2])
    return step if a[0] == b[0] and step in ((0, 1), (1, 0)) else None


def span(first: str, last: str) -> str:
    """The range from a cell to another on the same sheet."""
    return f"{first}:{last.rpartition('!')[2]}" if first != last else first


@lru_cache(maxsize=65536)
def position(term: str) -> tuple[str, int, int] | None:
    """Sheet, column and row, where a term is one cell's address, with or without its sheet."""
    match = _CELL.match(term)
    if not match:
        return None
    column = 0
    for letter in match[2]:
        column = column * 26 + ord(letter) - 64
    return match[1] or "", column, int(match[3])
