"""A table's columns as they appear: units, number formats, widths; sources last.

Units go into headings or beside the numbers; how a number looks follows from its unit: decimals,
currency by its code, percentages.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence, Set
from dataclasses import dataclass
from functools import cache
from typing import Literal

from babel.numbers import get_currency_precision

from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.units import BASE_SYMBOLS, NONE, Unit
from quoter.workbook.limits import LimitError
from quoter.workbook.measure import digits, longest_word
from quoter.workbook.styles import CellStyle
from quoter.workbook.table import (
    SPECIAL,
    Cell,
    Choice,
    Column,
    Flag,
    InputCell,
    Link,
    Table,
    figure_of,
)

_DECIMALS = {"kg": 3, "h": 2, "m": 3, "m2": 3, "m3": 4, "g": 0, "mm": 0, "min": 1, "g/m2": 0}
_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_MOST_DECIMALS = 6
_UNIT, _SOURCE = phrase("Unit"), phrase("Source")


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
    look = _given_look(figure, form, decimals)
    if look is None:
        unit = figure.unit
        values = [other.value for other in alike if other.unit is unit or other.unit == unit]
        look = _look(_decimals(unit, values))
    return look


def _given_look(figure: Figure, form: str, decimals: int | None) -> Look | None:
    """How a figure is shown whatever its value; None where decimals follow from that."""
    if form == "percent" or figure.form == "percent":
        return _look(1 if decimals is None else decimals, "", True)
    currency = currency_of(figure.unit)
    if decimals is None:
        decimals = 0 if form == "whole" else _fixed_decimals(figure.unit)
    return None if decimals is None else _look(decimals, "" if form == "bare" else currency)


@cache
def _look(decimals: int, currency: str = "", percent: bool = False, entry: bool = False) -> Look:
    """The same object for the same look, for it is asked for with every cell."""
    return Look(decimals, currency, percent, entry)


def entry_look(figure: Figure) -> Look:
    """How an input is shown: at least the decimals it was written with, and all one types."""
    percent = figure.form == "percent"
    written = figure.origin.text.partition(" ")[0] if figure.origin else ""
    shown = f"{figure.value * 100 if percent else figure.value:.9g}"
    if not written or not _is_number(written, shown):
        written = shown  # a fraction, or feet and inches, in decimals
    decimals = min(len(written.partition(".")[2]), _MOST_DECIMALS)
    return _entry_look(figure.unit, decimals, percent)


def _is_number(written: str, shown: str) -> bool:
    """Whether the first word of an input is the whole of its number."""
    try:
        return f"{float(written):.9g}" == shown
    except ValueError:
        return False


@cache
def _entry_look(unit: Unit, decimals: int, percent: bool) -> Look:
    if percent:
        decimals = max(decimals, 1)
    elif any(_is_currency(symbol) for symbol, exponent in unit.parts if exponent > 0):
        decimals = max(decimals, 2)
    return _look(decimals, currency_of(unit), percent, entry=True)


@cache
def _fixed_decimals(unit: Unit) -> int | None:
    currency = currency_of(unit)
    return minor_digits(currency) if currency else _DECIMALS.get(str(unit))


def _decimals(unit: Unit, values: Sequence[float]) -> int:
    """Decimals that show three digits of the smallest value, and at most nine of the largest."""
    if _is_counted(unit) and all(value == round(value) for value in values):
        return 0
    sizes = [abs(value) for value in values if value] or [1.0]
    smallest, largest = (math.floor(math.log10(size)) for size in (min(sizes), max(sizes)))
    return max(2, min(2 - smallest, 8 - largest, _MOST_DECIMALS))


@cache
def _is_counted(unit: Unit) -> bool:
    return unit == NONE or str(unit) in ("each", "pack")


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
    """One column as it appears: a heading, a cell and a number format for each row, its width.

    `kinds` are the types of its cells.
    """

    heading: str
    kind: ColumnKind
    cells: Sequence[Cell]
    codes: Sequence[str]
    kinds: Set[type]
    width: float
    asked: str = ""  # heading of the table's own column, which charts go by
    over: str = ""

    def styles(self, totals: Iterable[int]) -> list[CellStyle]:
        """The style of each cell; `totals` are the rows that stand out."""
        if self.kinds & SPECIAL:
            asked = list(zip(map(type, self.cells), self.codes, strict=True))
            known = {(of, code): (_role(of, self.kind), code) for of, code in set(asked)}
            styles = [known[each] for each in asked]
        else:
            plain: dict[str, CellStyle] = {code: (self.kind, code) for code in set(self.codes)}
            styles = [plain[code] for code in self.codes]
        for index in totals:
            role = _role(type(self.cells[index]), self.kind, is_total=True)
            styles[index] = (role, self.codes[index])
        return styles


def _role(of: type, kind: str, is_total: bool = False) -> str:
    if of is InputCell:
        return "entry"
    if of is Choice:
        return "choice"
    if of is Link:
        return "link"
    if of is Flag:
        kind = "mark"
    return f"total_{kind}" if is_total else kind


def shown_columns(table: Table, say: Callable[[str], str] = str) -> list[ShownColumn]:
    """The columns of a table with those for units and sources, which `say` names.

    Raises:
        LimitError: when a row has not as many cells as the table has columns.
    """
    for row in table.rows:
        if row.kind != "group" and len(row.cells) != len(table.columns):
            raise LimitError(
                f"table '{table.name or table.title}' has {len(table.columns)} columns, "
                f"its row {row.cells[:1]} has {len(row.cells)} cells"
            )
    blank: tuple[Cell, ...] = (None,) * len(table.columns)
    rows = [row.cells if row.kind != "group" else blank for row in table.rows]
    whole: Iterable[tuple[Cell, ...]] = zip(*rows, strict=True) if rows else [()] * len(blank)
    columns = [
        shown
        for column, cells in zip(table.columns, whole, strict=True)
        for shown in _of_column(column, cells, say)
    ]
    sources = [row.source or None for row in table.rows]
    if any(sources):
        columns.append(_text_column(Column(say(_SOURCE)), "source", sources, frozenset({str})))
    return columns


def _of_column(
    column: Column, cells: Sequence[Cell], say: Callable[[str], str]
) -> list[ShownColumn]:
    kinds = frozenset(map(type, cells)) - {type(None)}
    if kinds and not kinds & {Figure, InputCell}:
        if kinds <= {Flag, Choice}:
            return [_mark_column(column, cells, kinds)]
        return [_text_column(column, "text", cells, kinds)]
    # What shares a unit shares its decimals; in a mixed column each number has its own.
    units = _units_beside(column, cells)
    said = {unit for unit in units if unit is not None}
    own = said.pop() if len(said) == 1 else ""
    shared = own if column.unit is None else column.unit
    heading = f"{column.heading} [{shared}]" if shared else column.heading
    columns = [_number_column(heading, column, cells, kinds, one_unit=not said)]
    if said and column.unit is None:
        beside = Column(say(_UNIT), over=column.over)
        texts = [unit or None for unit in units]
        columns.append(_text_column(beside, "unit", texts, frozenset({str})))
    return columns


def _units_beside(column: Column, cells: Sequence[Cell]) -> list[str | None]:
    """The unit to be said beside each number; nothing where the number says it itself."""
    known: dict[tuple[int, str], str] = {}
    units: list[str | None] = []
    for cell in cells:
        figure = cell.figure if isinstance(cell, InputCell) else cell
        if type(figure) is not Figure:
            units.append(None)
            continue
        # Figures have few units between them, and a unit is slow to compare.
        alike = (id(figure.unit), figure.form)
        if alike not in known:
            known[alike] = _unit_beside(figure, column)
        units.append(known[alike])
    return units


def _unit_beside(figure: Figure, column: Column) -> str:
    said = column.form == "percent" or says_unit(figure)
    bare = column.form == "bare" and figure.form != "percent"
    return "" if said and not bare else unit_text(figure.unit)


def _number_column(
    heading: str, column: Column, cells: Sequence[Cell], kinds: Set[type], one_unit: bool
) -> ShownColumn:
    looks = _looks(cells, column, one_unit)
    texts = max((digits(cell) for cell in cells if isinstance(cell, str)), default=0.0)
    width = max(column.width, _widest(cells, looks), min(texts, 20.0), _for_heading(heading))
    distinct = {id(look): look for look in looks}
    written = {of: look.code if look else GENERAL for of, look in distinct.items()}
    codes = [written[id(look)] for look in looks]
    return ShownColumn(heading, "number", cells, codes, kinds, width, column.heading, column.over)


def _widest(cells: Sequence[Cell], looks: Sequence[Look | None]) -> float:
    """Digits of the widest number: of those that look alike, it is the largest or the smallest."""
    distinct = {id(look): look for look in looks if look is not None}
    values: dict[int, list[float]] = {look: [] for look in distinct}
    for cell, look in zip(cells, looks, strict=True):
        if look is not None and (number := figure_of(cell)) is not None:
            values[id(look)].append(number.value)
    ends = [distinct[look].text(end) for look, of in values.items() for end in (min(of), max(of))]
    return max((digits(text, bold=True) for text in ends), default=0.0) + _ROOM_TO_GROW


def _looks(cells: Sequence[Cell], column: Column, one_unit: bool) -> list[Look | None]:
    """How each number is shown: like all of the column's, or as its own value asks for."""
    numbers = [each.figure if isinstance(each, InputCell) else each for each in cells]
    alike = [number for number in numbers if type(number) is Figure] if one_unit else []
    known: dict[tuple[int, str], Look | None] = {}
    looks: list[Look | None] = []
    for cell in cells:
        look = None
        if isinstance(cell, Figure):
            kind = (id(cell.unit), cell.form)
            if kind not in known:
                given = _given_look(cell, column.form, column.decimals)
                known[kind] = given or (look_of(cell, alike) if alike else None)
            look = known[kind] or _look(_decimals(cell.unit, (cell.value,)))
        elif isinstance(cell, InputCell):
            look = entry_look(cell.figure)
        elif isinstance(cell, Choice):
            look = _look(0, entry=True)
        looks.append(look)
    return looks


def _mark_column(column: Column, cells: Sequence[Cell], kinds: Set[type]) -> ShownColumn:
    codes = [Look(0).code if isinstance(cell, Choice) else GENERAL for cell in cells]
    words = {word for cell in cells if isinstance(cell, Flag) for word in (cell.yes, cell.no)}
    widest = max((digits(word, bold=True) for word in words), default=0.0) + _ROOM_TO_GROW
    heading = column.heading
    width = max(column.width, widest, _for_heading(heading))
    return ShownColumn(heading, "mark", cells, codes, kinds, width, heading, column.over)


def _text_column(
    column: Column, kind: ColumnKind, cells: Sequence[Cell], kinds: Set[type]
) -> ShownColumn:
    heading, width = column.heading, column.width
    if not width:
        texts = {cell.text if isinstance(cell, Link) else cell for cell in cells}
        lines = {line for text in texts if isinstance(text, str) for line in text.split("\n")}
        natural = max((digits(line, bold=True) for line in lines), default=0.0)
        width = max(min(natural, _WIDEST[kind]), _for_heading(heading))
    codes = [GENERAL] * len(cells)
    return ShownColumn(heading, kind, cells, codes, kinds, width, heading, column.over)


def _for_heading(heading: str) -> float:
    """Width that shows a heading in two lines, split where they are most even."""
    words = heading.split()
    splits = [(words[:i], words[i:]) for i in range(1, len(words))] or [(words, [])]
    even = min(max(digits(" ".join(part), bold=True) for part in split) for split in splits)
    return max(longest_word(heading, bold=True), even, _NARROWEST)
