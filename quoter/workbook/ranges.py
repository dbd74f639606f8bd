"""Runs of neighbouring cells become ranges: what SUM and SUMPRODUCT read best."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

_CELL = re.compile(r"((?:'(?:[^']|'')+'|[^'!(),:]+)!)?([A-Z]{1,3})(\d+)\Z")


def is_cell(text: str) -> bool:
    """Whether a term is one cell's address, with or without its sheet."""
    return bool(_CELL.match(text))


def ranges(texts: Sequence[str]) -> list[str]:
    """The texts with runs of cells along a column, else along a row, joined to ranges.

    >>> ranges(["B2", "B3", "B4", "D7", "E7", "(B9*2)"])
    ['B2:B4', 'D7:E7', '(B9*2)']
    """
    cells = sorted((text for text in texts if is_cell(text)), key=position)
    others = [text for text in texts if not is_cell(text)]
    columns = _runs(cells, (0, 1))
    singles = sorted((run[0] for run in columns if len(run) == 1), key=_by_row)
    runs = [run for run in columns if len(run) > 1] + _runs(singles, (1, 0))
    return [span(run[0], run[-1]) for run in runs] + others


def _runs(cells: Sequence[str], step: tuple[int, int]) -> list[list[str]]:
    runs: list[list[str]] = []
    for cell in cells:
        if runs and _step(runs[-1][-1], cell) == step:
            runs[-1].append(cell)
        else:
            runs.append([cell])
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
    if not (is_cell(before) and is_cell(after)):
        return None
    a, b = position(before), position(after)
    step = (b[1] - a[1], b[2] - a[2])
    return step if a[0] == b[0] and step in ((0, 1), (1, 0)) else None


def span(first: str, last: str) -> str:
    """The range from a cell to another on the same sheet."""
    return f"{first}:{last.rpartition('!')[2]}" if first != last else first


@lru_cache(maxsize=65536)
def position(cell: str) -> tuple[str, int, int]:
    """Sheet, column and row of an address."""
    match = _CELL.match(cell)
    if not match:
        raise ValueError(f"'{cell}' is no cell")
    column = 0
    for letter in match[2]:
        column = column * 26 + ord(letter) - 64
    return match[1] or "", column, int(match[3])


def _by_row(cell: str) -> tuple[str, int, int]:
    sheet, column, row = position(cell)
    return sheet, row, column
