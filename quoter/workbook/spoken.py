"""A workbook in its reader's language: every text that a sheet shows, before anything is laid out.

Names of tables and defined names stay as they are, so that whoever refers to them finds them in
any language.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from quoter.phrases import Phrase
from quoter.workbook.limits import LONGEST_TITLE
from quoter.workbook.table import (
    Block,
    Book,
    Cell,
    Chart,
    Column,
    Contents,
    Flag,
    Link,
    Measured,
    Paragraphs,
    Row,
    Sheet,
    Table,
)

Say = Callable[[str], str]
_PLAIN = frozenset({str, Phrase})
_MARKED = frozenset({Flag, Link, Measured})


def spoken(book: Book, say: Say) -> Book:
    """The book with every text as `say` says it; what is not a phrase of the program stays."""
    asked = (*(sheet.title for sheet in book.sheets), book.workings)
    titles = _titles(asked, say)
    speaker = _Speaker(say, titles)
    return replace(
        book,
        title=say(book.title),
        sheets=tuple(map(speaker.sheet, book.sheets)),
        footer=say(book.footer),
        workings=titles[book.workings],
        workings_before=titles.get(book.workings_before, book.workings_before),
    )


def _titles(asked: tuple[str, ...], say: Say) -> dict[str, str]:
    """What each sheet is called: short enough, and no two alike whatever their case."""
    found: dict[str, str] = {}
    taken: set[str] = set()
    for title in asked:
        said = told = say(title)[: max(LONGEST_TITLE, len(title))].rstrip()
        number = 1
        while told.lower() in taken and title not in found:
            number += 1
            told = f"{said[: LONGEST_TITLE - len(str(number)) - 1].rstrip()} {number}"
        # Two that are alike already are refused where titles are checked.
        found[title] = said if title == said else told
        taken.add(found[title].lower())
    return found


@dataclass(frozen=True, slots=True)
class _Speaker:
    say: Say
    titles: Mapping[str, str]

    def sheet(self, sheet: Sheet) -> Sheet:
        return replace(
            sheet,
            title=self.titles[sheet.title],
            heading=self.say(sheet.heading),
            blocks=tuple(map(self._block, sheet.blocks)),
            charts=tuple(map(self._chart, sheet.charts)),
            notes=tuple(map(self.say, sheet.notes)),
            then=None if sheet.then is None else self._link(sheet.then),
        )

    def _block(self, block: Block) -> Block:
        if isinstance(block, Table):
            return self._table(block)
        if isinstance(block, Paragraphs):
            return replace(block, lines=tuple(map(self.say, block.lines)))
        if isinstance(block, Contents):
            return replace(block, title=self.say(block.title))
        return self._chart(block)

    def _table(self, table: Table) -> Table:
        return replace(
            table,
            columns=tuple(map(self._column, table.columns)),
            rows=tuple(map(self._row, table.rows)),
            title=self.say(table.title),
        )

    def _column(self, column: Column) -> Column:
        unit = None if column.unit is None else self.say(column.unit)
        return replace(
            column, heading=self.say(column.heading), unit=unit, over=self.say(column.over)
        )

    def _row(self, row: Row) -> Row:
        say = self.say
        cells = [say(cell) if type(cell) in _PLAIN else cell for cell in row.cells]  # type: ignore[arg-type]
        if not _MARKED.isdisjoint(map(type, cells)):
            cells = [self._marked(cell) for cell in cells]
        source = say(row.source) if type(row.source) is Phrase else row.source
        return Row(tuple(cells), source, row.kind)

    def _marked(self, cell: Cell) -> Cell:
        if isinstance(cell, Flag):
            return replace(cell, yes=self.say(cell.yes), no=self.say(cell.no))
        if isinstance(cell, Measured):
            return Measured(self.say(cell.text))
        if isinstance(cell, Link):
            return self._link(cell)
        return cell

    def _link(self, link: Link) -> Link:
        return Link(self.say(link.text), self.titles.get(link.sheet, link.sheet), link.cell)

    def _chart(self, chart: Chart) -> Chart:
        say = self.say
        return replace(
            chart,
            title=say(chart.title),
            categories=say(chart.categories),
            values=tuple(map(say, chart.values)),
            value_title=say(chart.value_title),
            category_title=say(chart.category_title),
            description=say(chart.description),
        )
