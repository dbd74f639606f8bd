"""A table's columns as they appear: units, number formats, widths; sources last.

Units go into headings or beside the numbers; how a number looks follows from its unit: decimals,
currency by its code, percentages.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from babel.numbers import get_currency_precision

from quoter.figures import Figure
from quoter.units import BASE_SYMBOLS, NONE, Unit
from quoter.workbook.limits import LimitError
from quoter.workbook.measure import digits, longest_word
from quoter.workbook.table import (
    Cell,
    Choice,
    Column,
    Flag,
    InputCell,
    Link,
    Row,
    Table,
    figure_of,
)

_DECIMALS = {"kg": 3, "h": 2, "m": 3, "m2": 3, "m3": 4, "g": 0, "mm": 0, "min": 1, "g/m2": 0}
_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_MOST_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Look:
    """How a number is shown; `entry` ones show every digit that is typed into them."""

    decimals: int = 2
    currency: str = ""
    percent: bool = False
    entry: bool = False

    @property
    def code(self) -> str:
        """The number format a spreadsheet understands. It names the currency by its code, since
        the reader's region decides what a sign means, and puts it first, so that digits align."""
        digits = "#,##0"
        if self.decimals:
            spare = "#" * (_MOST_DECIMALS - self.decimals) if self.entry else ""
            digits += "." + "0" * self.decimals + spare
        elif self.entry:
            return "0.######%" if self.percent else "General"
        if self.percent:
            return digits.replace("#,##", "") + "%"
        if self.currency:
            return rf"[${self.currency}]\ {digits};[${self.currency}]\ \-{digits}"
        return digits

    def text(self, value: float) -> str:
        """About what the cell shows, to know how wide it is."""
        shown = f"{value * (100 if self.percent else 1):,.{self.decimals}f}"
        return f"{self.currency} {shown}".lstrip() + "%" * self.percent


@cache
def unit_text(unit: Unit) -> str:
    """A unit as people print it, with superscripts; nothing for a plain number."""
    text = str(unit)
    return "".join(
        letter.translate(_SUPERSCRIPTS) if before.isalpha() or before.isdigit() else letter
        for before, letter in zip(" " + text, text, strict=False)
    )


def unit_of(figure: Figure) -> str | None:
    """The unit to say beside a number; None where the number shows it itself or has none."""
    return None if says_unit(figure) else unit_text(figure.unit) or None


def says_unit(figure: Figure) -> bool:
    """Whether the number itself shows its unit: an amount of money or a percentage."""
    return figure.form == "percent" or bool(currency_of(figure.unit))


@cache
def currency_of(unit: Unit) -> str:
    """The currency's code when the unit is an amount of money, else nothing."""
    if len(unit.parts) != 1:
        return ""
    symbol, exponent = unit.parts[0]
    return symbol if exponent == 1 and _is_currency(symbol) else ""


def _is_currency(symbol: str) -> bool:
    return len(symbol) == 3 and symbol.isupper() and symbol not in BASE_SYMBOLS


def look_of(
    figure: Figure, alike: Sequence[Figure], form: str = "", decimals: int | None = None
) -> Look:
    """How a figure is shown among those of its column, so that decimals of one unit align."""
    if form == "percent" or figure.form == "percent":
        return Look(1 if decimals is None else decimals, percent=True)
    currency = currency_of(figure.unit)
    if decimals is None:
        values = [other.value for other in alike if other.unit == figure.unit]
        decimals = 0 if form == "whole" else _decimals(figure.unit, values, currency)
    return Look(decimals, "" if form == "bare" else currency)


def entry_look(figure: Figure) -> Look:
    """How an input is shown: at least the decimals it was written with, and all one types."""
    percent = figure.form == "percent"
    currency = currency_of(figure.unit)
    written = figure.origin.text.partition(" ")[0] if figure.origin else ""
    decimals = min(len(written.partition(".")[2]), _MOST_DECIMALS)
    if percent:
        decimals = max(decimals, 1)
    elif any(_is_currency(symbol) for symbol, exponent in figure.unit.parts if exponent > 0):
        decimals = max(decimals, 2)
    return Look(decimals, currency, percent, entry=True)


def _decimals(unit: Unit, values: Sequence[float], currency: str) -> int:
    if currency:
        return minor_digits(currency)
    whole = all(value == round(value) for value in values)
    fixed = _DECIMALS.get(str(unit))
    if fixed is not None:
        return fixed
    if unit == NONE or str(unit) in ("each", "pack"):
        return 0 if whole else _for_digits(values, 2)
    return _for_digits(values, 2)


def _for_digits(values: Sequence[float], least: int) -> int:
    """Decimals that show three digits of the smallest value, and at most nine of the largest."""
    sizes = [math.floor(math.log10(abs(value))) for value in values if value] or [0]
    return max(least, min(2 - min(sizes), 8 - max(sizes), _MOST_DECIMALS))


@cache
def minor_digits(currency: str) -> int:
    """Decimals of a currency's smallest coin: 2 for EUR, 0 for JPY, 3 for KWD."""
    return get_currency_precision(currency)


ColumnKind = Literal["text", "number", "mark", "unit", "source"]

_WIDEST = {"text": 46.0, "source": 44.0, "unit": 12.0}
_NARROWEST = 6.0
_ROOM_TO_GROW = 2.0  # digits more than today's number, for the day an input makes it longer
GENERAL = "General"  # the number format of what is no number


@dataclass(frozen=True, slots=True)
class ShownColumn:
    """One column as it appears: a heading, a cell and a number format for each row, its width."""

    heading: str
    kind: ColumnKind
    cells: tuple[Cell, ...]
    codes: tuple[str, ...]
    width: float
    asked: str = ""  # heading of the table's own column, which charts go by
    over: str = ""


def shown_columns(table: Table) -> list[ShownColumn]:
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
    columns = [
        replace(shown, over=column.over)
        for index, column in enumerate(table.columns)
        for shown in _of_column(column, [_cell(row, index) for row in table.rows])
    ]
    sources = tuple(row.source or None for row in table.rows)
    if any(sources):
        columns.append(_text_column("Source", "source", sources))
    return columns


def _cell(row: Row, index: int) -> Cell:
    return row.cells[index] if row.kind != "group" else None


def _of_column(column: Column, cells: Sequence[Cell]) -> list[ShownColumn]:
    kinds = {type(cell) for cell in cells} - {type(None)}
    if kinds and not kinds & {Figure, InputCell}:
        if kinds <= {Flag, Choice}:
            return [_mark_column(column, cells)]
        return [_text_column(column.heading, "text", tuple(cells), column.width)]
    # What shares a unit shares its decimals; in a mixed column each number has its own.
    units = [_unit_beside(cell, column) for cell in cells]
    said = {unit for unit in units if unit is not None}
    own = said.pop() if len(said) == 1 else ""
    shared = own if column.unit is None else column.unit
    heading = f"{column.heading} [{shared}]" if shared else column.heading
    columns = [_number_column(heading, column, cells, one_unit=not said)]
    if said and column.unit is None:
        columns.append(_text_column("Unit", "unit", tuple(unit or None for unit in units)))
    return columns


def _unit_beside(cell: Cell, column: Column) -> str | None:
    """The unit to be said beside a number; nothing where the number says it itself."""
    if not isinstance(cell, Figure):
        if not isinstance(cell, InputCell):
            return None
        cell = cell.figure
    said = column.form == "percent" or says_unit(cell)
    bare = column.form == "bare" and cell.form != "percent"
    return "" if said and not bare else unit_text(cell.unit)


def _number_column(
    heading: str, column: Column, cells: Sequence[Cell], one_unit: bool
) -> ShownColumn:
    numbers = [figure_of(cell) for cell in cells]
    alike = [
        number
        for cell, number in zip(cells, numbers, strict=True)
        if number is not None and isinstance(cell, Figure | InputCell)
    ]
    looks = _looks(cells, column, alike if one_unit else [])
    texts = max((digits(cell) for cell in cells if isinstance(cell, str)), default=0.0)
    width = max(column.width, _widest(numbers, looks), min(texts, 20.0), _for_heading(heading))
    written = {look: look.code if look else GENERAL for look in set(looks)}
    codes = tuple(written[look] for look in looks)
    return ShownColumn(heading, "number", tuple(cells), codes, width, column.heading)


def _widest(numbers: Sequence[Figure | None], looks: Sequence[Look | None]) -> float:
    """Digits of the widest number: of those that look alike, it is the largest or the smallest."""
    values: dict[Look, list[float]] = {}
    for number, look in zip(numbers, looks, strict=True):
        if look is not None and number is not None:
            values.setdefault(look, []).append(number.value)
    ends = [look.text(end) for look, of in values.items() for end in (min(of), max(of))]
    return max((digits(text, bold=True) for text in ends), default=0.0) + _ROOM_TO_GROW


def _looks(cells: Sequence[Cell], column: Column, alike: Sequence[Figure]) -> list[Look | None]:
    known: dict[tuple[Unit, str], Look] = {}

    def of(cell: Cell) -> Look | None:
        if isinstance(cell, InputCell):
            return entry_look(cell.figure)
        if not isinstance(cell, Figure):
            return Look(0, entry=True) if isinstance(cell, Choice) else None
        if not alike:
            return look_of(cell, [cell], column.form, column.decimals)
        kind = (cell.unit, cell.form)
        if kind not in known:
            known[kind] = look_of(cell, alike, column.form, column.decimals)
        return known[kind]

    return [of(cell) for cell in cells]


def _mark_column(column: Column, cells: Sequence[Cell]) -> ShownColumn:
    codes = tuple(Look(0).code if isinstance(cell, Choice) else GENERAL for cell in cells)
    words = {word for cell in cells if isinstance(cell, Flag) for word in (cell.yes, cell.no)}
    widest = max((digits(word, bold=True) for word in words), default=0.0) + _ROOM_TO_GROW
    width = max(column.width, widest, _for_heading(column.heading))
    return ShownColumn(column.heading, "mark", tuple(cells), codes, width, column.heading)


def _text_column(
    heading: str, kind: ColumnKind, cells: tuple[Cell, ...], width: float = 0
) -> ShownColumn:
    if not width:
        texts = {cell.text if isinstance(cell, Link) else cell for cell in cells}
        lines = {line for text in texts if isinstance(text, str) for line in text.split("\n")}
        natural = max((digits(line, bold=True) for line in lines), default=0.0)
        width = max(min(natural, _WIDEST[kind]), _for_heading(heading))
    return ShownColumn(heading, kind, cells, (GENERAL,) * len(cells), width, heading)


def _for_heading(heading: str) -> float:
    """Width that shows a heading in two lines, split where they are most even."""
    words = heading.split()
    splits = [(words[:i], words[i:]) for i in range(1, len(words))] or [(words, [])]
    even = min(max(digits(" ".join(part), bold=True) for part in split) for split in splits)
    return max(longest_word(heading, bold=True), even, _NARROWEST)
