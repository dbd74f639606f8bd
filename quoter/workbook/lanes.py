"""A table's columns as they appear: units put into headings or beside the numbers, sources last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from quoter.figures import Figure
from quoter.units import Unit
from quoter.workbook.formats import Look, entry_look, look_of, says_unit, unit_text
from quoter.workbook.limits import LimitError
from quoter.workbook.measure import digits, longest_word
from quoter.workbook.table import (
    Cell,
    Choice,
    Column,
    Entry,
    Flag,
    Link,
    Row,
    Table,
    figure_of,
)

LaneKind = Literal["text", "number", "mark", "unit", "source"]

_WIDEST = {"text": 46.0, "source": 44.0, "unit": 12.0}
_NARROWEST = 6.0
_ROOM_TO_GROW = 2.0  # digits more than today's number, for the day an input makes it longer


@dataclass(frozen=True, slots=True)
class Lane:
    """One column as it appears: a heading, a cell and a number format for each row, its width."""

    heading: str
    kind: LaneKind
    cells: tuple[Cell, ...]
    looks: tuple[Look | None, ...]
    width: float
    column: str = ""  # heading of the table's own column, which charts go by
    over: str = ""


def lanes_of(table: Table) -> list[Lane]:
    """The columns of a table with those for units and sources.

    Raises:
        LimitError: when a row has not as many cells as the table has columns.
    """
    for row in table.rows:
        if row.kind != "group" and len(row.cells) != len(table.columns):
            raise LimitError(
                f"table '{table.name or table.title}' has {len(table.columns)} columns, "
                f"its row {row.cells[:1]} has {len(row.cells)} cells"
            )
    lanes = [
        replace(lane, over=column.over)
        for index, column in enumerate(table.columns)
        for lane in _of_column(column, [_cell(row, index) for row in table.rows])
    ]
    sources = tuple(row.source or None for row in table.rows)
    if any(sources):
        lanes.append(_text_lane("Source", "source", sources))
    return lanes


def _cell(row: Row, index: int) -> Cell:
    return row.cells[index] if index < len(row.cells) and row.kind != "group" else None


def _of_column(column: Column, cells: Sequence[Cell]) -> list[Lane]:
    figures = [_number(cell) for cell in cells if isinstance(cell, Figure | Entry)]
    others = [cell for cell in cells if cell is not None]
    if others and not figures:
        if all(isinstance(cell, Flag | Choice) for cell in others):
            return [_mark_lane(column, cells)]
        return [_text_lane(column.heading, "text", tuple(cells), column.width)]
    # What shares a unit shares its decimals; in a mixed column each number has its own.
    units = [None if cell is None else _unit_beside(cell, column) for cell in cells]
    said = {unit for unit in units if unit is not None}
    own = said.pop() if len(said) == 1 else ""
    shared = own if column.unit is None else column.unit
    heading = f"{column.heading} [{shared}]" if shared else column.heading
    alike = [] if said else figures
    lanes = [_number_lane(heading, column, cells, alike)]
    if said and column.unit is None:
        lanes.append(_text_lane("Unit", "unit", tuple(unit or None for unit in units)))
    return lanes


def _number(cell: Figure | Entry) -> Figure:
    return cell.figure if isinstance(cell, Entry) else cell


def _unit_beside(cell: Cell, column: Column) -> str | None:
    """The unit to be said beside a number; nothing where the number says it itself."""
    if not isinstance(cell, Figure | Entry):
        return None
    figure = _number(cell)
    said = column.form == "percent" or says_unit(figure)
    bare = column.form == "bare" and figure.form != "percent"
    return "" if said and not bare else unit_text(figure.unit)


def _number_lane(
    heading: str, column: Column, cells: Sequence[Cell], alike: Sequence[Figure]
) -> Lane:
    looks = _looks(cells, column, alike)
    widths = [
        look.text(figure.value)
        for cell, look in zip(cells, looks, strict=True)
        if look is not None and (figure := figure_of(cell)) is not None
    ]
    widest = max((digits(text, bold=True) for text in widths), default=0.0) + _ROOM_TO_GROW
    texts = max((digits(cell) for cell in cells if isinstance(cell, str)), default=0.0)
    width = max(column.width, widest, min(texts, 20.0), _for_heading(heading))
    return Lane(heading, "number", tuple(cells), looks, width, column.heading)


def _looks(
    cells: Sequence[Cell], column: Column, alike: Sequence[Figure]
) -> tuple[Look | None, ...]:
    known: dict[tuple[Unit, str], Look] = {}

    def of(cell: Cell) -> Look | None:
        if isinstance(cell, Entry):
            return entry_look(cell.figure)
        if not isinstance(cell, Figure):
            return Look(0, entry=True) if isinstance(cell, Choice) else None
        if not alike:
            return look_of(cell, [cell], column.form, column.decimals)
        kind = (cell.unit, cell.form)
        if kind not in known:
            known[kind] = look_of(cell, alike, column.form, column.decimals)
        return known[kind]

    return tuple(of(cell) for cell in cells)


def _mark_lane(column: Column, cells: Sequence[Cell]) -> Lane:
    looks = tuple(Look(0) if isinstance(cell, Choice) else None for cell in cells)
    words = [word for cell in cells if isinstance(cell, Flag) for word in (cell.yes, cell.no)]
    widest = max((digits(word, bold=True) for word in words), default=0.0) + _ROOM_TO_GROW
    width = max(column.width, widest, _for_heading(column.heading))
    return Lane(column.heading, "mark", tuple(cells), looks, width, column.heading)


def _text_lane(heading: str, kind: LaneKind, cells: tuple[Cell, ...], width: float = 0) -> Lane:
    texts = [cell.text if isinstance(cell, Link) else cell for cell in cells]
    natural = max((digits(line, bold=True) for text in texts if isinstance(text, str)
                   for line in text.split("\n")), default=0.0)  # fmt: skip
    chosen = width or max(min(natural, _WIDEST[kind]), _for_heading(heading))
    return Lane(heading, kind, cells, (None,) * len(cells), chosen, heading)


def _for_heading(heading: str) -> float:
    """Width that shows a heading in two lines, split where they are most even."""
    words = heading.split()
    splits = [(words[:i], words[i:]) for i in range(1, len(words))] or [(words, [])]
    even = min(max(digits(" ".join(part), bold=True) for part in split) for split in splits)
    return max(longest_word(heading, bold=True), even, _NARROWEST)
