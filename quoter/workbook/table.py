"""What a workbook is made of: sheets of tables, texts and charts. No addresses; those come later.

Whoever writes a sheet says what stands in each row; where it lands, its unit, number format,
formula and style follow from the figures.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

from quoter.figures import Figure
from quoter.figures.readers import METRIC_READER, Reader
from quoter.phrases import Phrase, phrase

RowKind = Literal["line", "total", "group"]
TextKind = Literal["plain", "heading", "caution"]
NumberForm = Literal["", "percent", "whole", "bare"]


@dataclass(frozen=True, slots=True)
class InputCell:
    """An unlocked cell: an input as the catalogue has it, for the reader to change.

    Takes the input itself, with the unit it was written in, not the working figure converted
    from it (`figures.graph.inputs_of` finds the inputs of any figure).
    """

    figure: Figure


@dataclass(frozen=True, slots=True)
class Choice:
    """An unlocked cell for how many are chosen: an input that takes whole numbers, 0 to `most`."""

    figure: Figure
    most: int = 1


@dataclass(frozen=True, slots=True)
class Flag:
    """A figure of 1 or 0 in words; the word for `alarm` stands out in weight and colour."""

    figure: Figure
    yes: str = phrase("OK")
    no: str = phrase("CHECK")
    alarm: Literal["yes", "no"] = "no"

    @property
    def said(self) -> str:
        """The word for the figure as it is."""
        return self.yes if self.figure.value else self.no


@dataclass(frozen=True, slots=True)
class Link:
    """Text that leads to another sheet of the book, to its first cell unless told otherwise."""

    text: str
    sheet: str
    cell: str = "A1"


@dataclass(frozen=True, slots=True)
class UnitOf:
    """The unit that stands beside a figure, where a column of its own says it."""

    figure: Figure


@dataclass(frozen=True, slots=True)
class Measured:
    """A sentence of the program that holds measures: it is read in the reader's units."""

    text: str


Cell = Figure | InputCell | Choice | Flag | Link | UnitOf | Measured | str | None


def lead_on(sheet: str, words: str) -> Link:
    """The way from a sheet to the one to read next, and what it tells."""
    text = phrase("Next: {sheet}, {words}.", sheet=phrase(sheet), words=phrase(words))
    return Link(text, sheet)


def next_sheet(title: str) -> Phrase:
    """The way on to a sheet, whatever it tells."""
    return phrase("Next: {sheet}.", sheet=title)


# Types of cells: written as texts, filled in by the reader, resting on a figure, more than a value.
TEXTS = frozenset({str, Link})
ENTRIES = frozenset({InputCell, Choice})
CALCULATED = frozenset({Figure, InputCell, Choice, Flag})
SPECIAL = frozenset({InputCell, Choice, Flag, Link})


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Units take care of themselves: one that all numbers share goes into the heading, differing ones
    into a column beside them; money and percentages show theirs in each cell. `unit` overrides
    what the heading says. `width` (in digits) is for texts that should wrap earlier or later;
    `decimals` and `form` override how numbers look; "bare" money leaves its currency to the
    heading. `over` is a heading above, shared with neighbours that have the same.
    """

    heading: str
    unit: str | None = None
    width: float = 0
    form: NumberForm = ""
    decimals: int | None = None
    over: str = ""


class Row(NamedTuple):
    """A row: one cell a column, and where its numbers come from. A group row is a subheading."""

    cells: tuple[Cell, ...]
    source: str = ""
    kind: RowKind = "line"


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows; `name` is what a chart calls it. Sources make a column of their own.

    A `sortable` one has a filter, and rows that a reader may sort: it stands alone on its sheet,
    takes every number from another one by a fixed address, and nothing reads it. `kept` columns
    stay in view when a wide sheet is scrolled sideways. One that is `workings` stands below all
    others and is printed only where the book asks for it.
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    title: str = ""
    name: str = ""
    sortable: bool = False
    kept: int = 1
    workings: bool = False


@dataclass(frozen=True, slots=True)
class Paragraphs:
    """Paragraphs across the sheet: plain, as headings, or as cautions that catch the eye."""

    lines: tuple[str, ...]
    kind: TextKind = "plain"


@dataclass(frozen=True, slots=True)
class Contents:
    """A table of every sheet in the book, linked, with the line under its title."""

    title: str = phrase("Contents")


@dataclass(frozen=True, slots=True)
class Chart:
    """A bar chart of a table's lines: `values` and `categories` are headings of its columns.

    `bars` lie (for long names), `columns` stand. `description` says in words what it shows.
    `from_zero` is for values that are never negative, so that their lengths compare.
    """

    title: str
    table: str
    categories: str
    values: tuple[str, ...]
    value_title: str
    category_title: str
    description: str
    kind: Literal["bars", "columns"] = "bars"
    stacked: bool = True
    from_zero: bool = False


Block = Table | Paragraphs | Contents | Chart


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: title in A1, what it is for, where to go next, blocks from top to bottom, notes.

    `then` leads on to another sheet. `charts` stand right under their table, or under all blocks
    where that is on another sheet; one that is a block itself stands in its place.

    A figure shown on several sheets has its formula on the first one that is an `owner`, and is
    referred to from the others. An entry or choice always owns its figure.
    """

    title: str
    heading: str
    blocks: tuple[Block, ...]
    charts: tuple[Chart, ...] = ()
    notes: tuple[str, ...] = ()
    owner: bool = True
    then: Link | None = None


# Stands in texts of a workbook for the mark of what it holds: letters that nobody types.
MARK = "\ue000" * 12


@dataclass(frozen=True, slots=True)
class OnPaper:
    """How a book prints: on A4 or Letter, with the tables of workings or without."""

    paper: str = "A4"
    workings: bool = False


AS_USUAL = OnPaper()


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook: sheets in order, defined names of key figures, a footer, the home currency.

    Named figures that no table shows, and that others rest on, get a sheet of their own, called
    `workings`; it comes last, or before the sheet `workings_before` names. Numbers stand in the
    units of its `reader`.
    """

    title: str
    sheets: tuple[Sheet, ...]
    footer: str
    currency: str
    names: Mapping[str, Figure] = field(default_factory=dict)
    workings: str = phrase("Workings")
    workings_before: str = ""
    on_paper: OnPaper = AS_USUAL
    reader: Reader = METRIC_READER


def without_empty(book: Book, say: Callable[[str], str] = str) -> Book:
    """The book without tables that have no rows, charts of no lines, and sheets of nothing else.

    `say` says the way past a sheet that is gone.
    """
    tables = [block for sheet in book.sheets for block in sheet.blocks if isinstance(block, Table)]
    drawn = {table.name for table in tables if any(row.kind == "line" for row in table.rows)}

    def holds(block: Block) -> bool:
        if isinstance(block, Chart):
            return block.table in drawn
        return not isinstance(block, Table) or bool(block.rows)

    sheets = [
        replace(
            sheet,
            blocks=tuple(filter(holds, sheet.blocks)),
            charts=tuple(filter(holds, sheet.charts)),
        )
        for sheet in book.sheets
    ]
    kept = [
        new for new, old in zip(sheets, book.sheets, strict=True) if new.blocks or not old.blocks
    ]
    titles = {sheet.title for sheet in kept}
    after = [*kept[1:], *kept[:1]]
    led = (
        replace(sheet, then=Link(say(next_sheet(other.title)), other.title))
        if sheet.then and sheet.then.sheet not in titles
        else sheet
        for sheet, other in zip(kept, after, strict=True)
    )
    return replace(book, sheets=tuple(led))


def charts_of(sheet: Sheet) -> list[Chart]:
    """Every chart of a sheet, from top to bottom."""
    return [block for block in sheet.blocks if isinstance(block, Chart)] + list(sheet.charts)


def is_sortable(sheet: Sheet) -> bool:
    """Whether a reader may sort the sheet's rows."""
    return any(isinstance(block, Table) and block.sortable for block in sheet.blocks)


def text_of(cell: Cell) -> str:
    """What a cell says, if that is a text."""
    if isinstance(cell, str):
        return cell
    return cell.text if isinstance(cell, Link) else ""


ON_FIGURES = (InputCell, Choice, Flag)  # a union would be made anew for every cell


def figure_of(cell: Cell) -> Figure | None:
    """The figure a cell shows, if any."""
    if isinstance(cell, Figure):
        return cell
    return cell.figure if isinstance(cell, ON_FIGURES) else None
