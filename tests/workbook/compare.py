"""Two files of one workbook, cell by cell: as built, with stored values, and as recalculated."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

RELATIVE = 1e-9
# A difference of nearly equal numbers is noise; spreadsheets call it 0 where Python keeps it. Two
# numbers count as equal here when both are smaller than this.
NOISE = 1e-9

Values = dict[str, Any]


def differences(built: Path, recalculated: Path) -> list[str]:
    """Each cell whose two values differ, as ``Sheet!B4: stored 1.0, recalculated 2.0``."""
    ours, theirs = values(built), values(recalculated)
    return [
        f"{cell}: stored {ours.get(cell)!r}, recalculated {theirs.get(cell)!r}"
        for cell in sorted(ours.keys() | theirs.keys())
        if not alike(ours.get(cell), theirs.get(cell))
    ]


def alike(a: Any, b: Any) -> bool:
    """Equal texts, or numbers within a billionth of each other."""
    if isinstance(a, bool) or isinstance(b, bool) or not (_is_number(a) and _is_number(b)):
        return type(a) is type(b) and a == b
    if abs(a) < NOISE and abs(b) < NOISE:
        return True
    return bool(abs(a - b) <= RELATIVE * max(abs(a), abs(b)))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float)


def values(book: Path) -> Values:
    """Every cell that holds something, by its address, as a reader without formulas sees it."""
    return dict(_cells(book, data_only=True))


def formulas(book: Path) -> Values:
    """Every cell's formula (with its "=") or bare value, by its address."""
    return dict(_cells(book, data_only=False))


def _cells(book: Path, data_only: bool) -> Iterator[tuple[str, Any]]:
    workbook = load_workbook(book, data_only=data_only)
    for sheet in workbook.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is not None:
                    yield f"{sheet.title}!{cell.coordinate}", cell.value
