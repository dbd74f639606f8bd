"""A book of figures becomes a workbook file: lay out, place, write formulas, set up, seal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.workbook.properties import CalcProperties

from quoter.figures import Figure
from quoter.figures.graph import LEAVES
from quoter.workbook.charts import MOST_SERIES, native
from quoter.workbook.fill import Filled, Formulas
from quoter.workbook.grid import Area, Grid
from quoter.workbook.layout import lay_out
from quoter.workbook.limits import (
    LimitError,
    check_names,
    check_number,
    check_text,
    check_titles,
)
from quoter.workbook.page import set_up
from quoter.workbook.places import Spot, Spots, cells_of, place, shown_in, spot, without_cell
from quoter.workbook.seal import SheetParts, seal, skeleton_of
from quoter.workbook.styles import StyleBook
from quoter.workbook.table import (
    Book,
    Chart,
    Choice,
    Column,
    Contents,
    Entry,
    Link,
    Row,
    Sheet,
    Table,
    charts_of,
    figure_of,
    is_sortable,
    without_empty,
)
from quoter.workbook.workings import HEADING, TABLE, VALUE, Workings
from quoter.workbook.xml import Texts, sheet_data

_THEME = (Path(__file__).parent / "theme.xml").read_bytes()


@dataclass(frozen=True, slots=True)
class Draft:
    """A book with every cell worked out: grids, their cells, and where each figure lives."""

    grids: list[Grid]
    cells: list[list[Filled]]
    spots: Spots


def write_book(book: Book) -> bytes:
    """The file of a workbook; the same book gives the same bytes.

    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    draft = compose(book)
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    workbook.loaded_theme = _THEME
    workbook.calculation = CalcProperties(fullCalcOnLoad=True)
    areas = {name: area for grid in draft.grids for name, area in grid.areas.items()}
    for grid in draft.grids:
        _skeleton(workbook, grid, areas, book.footer)
    for name, figure in book.names.items():
        workbook.defined_names[name] = DefinedName(name, attr_text=draft.spots[figure].absolute)
    styles, texts = StyleBook(workbook, workbook.worksheets[0]), Texts()
    parts = [
        SheetParts(
            sheet_data(cells, grid.heights, styles.number, texts),
            f"A1:{get_column_letter(grid.last_column)}{grid.last_row}",
            tuple(check_text(drawing.chart.description) for drawing in grid.drawings),
        )
        for grid, cells in zip(draft.grids, draft.cells, strict=True)
    ]
    return seal(skeleton_of(workbook), parts, texts.xml(), check_text(book.title))


def compose(book: Book) -> Draft:
    """Every cell of the book with its formula and value, before it becomes a file.

    Raises:
        LimitError: as `write_book`.
    """
    _check(book)
    book = without_empty(book)
    missing = without_cell(book.sheets, book.names.values())
    draft = _compose(book, missing, bool(missing))
    if len(draft.grids) > len(book.sheets) and not missing:
        # Parts of long formulas made a sheet of workings after all: list it in the contents.
        return _compose(book, missing, listed=True)
    return draft


def _check(book: Book) -> None:
    check_titles([*(sheet.title for sheet in book.sheets), book.workings])
    check_names(book.names)
    for figure in shown_in(book.sheets):
        check_number(figure.value)
    for sheet in book.sheets:
        _check_sortable(sheet)
    blocks = [block for sheet in book.sheets for block in sheet.blocks]
    tables = [block for block in blocks if isinstance(block, Table) and block.name]
    names = Counter([TABLE, *(table.name for table in tables)])
    if twice := [name for name, count in names.items() if count > 1]:
        raise LimitError(f"more than one table is called '{twice[0]}'")
    headings = {table.name: [column.heading for column in table.columns] for table in tables}
    for chart in (chart for sheet in book.sheets for chart in charts_of(sheet)):
        _check_chart(chart, headings)


def _check_sortable(sheet: Sheet) -> None:
    tables = [block for block in sheet.blocks if isinstance(block, Table)]
    if not is_sortable(sheet):
        return
    if len(tables) > 1 or any(isinstance(block, Contents) for block in sheet.blocks):
        raise LimitError(f"sheet '{sheet.title}': a table to be sorted needs a sheet of its own")
    if any(row.kind != "line" for row in tables[0].rows):
        raise LimitError(f"sheet '{sheet.title}': totals and groups would be sorted among the rows")
    for cell in cells_of([sheet]):
        figure = figure_of(cell)
        if isinstance(cell, Entry | Choice) or (figure is not None and not _may_move(figure)):
            raise LimitError(
                f"sheet '{sheet.title}': only named figures can be sorted, and no entry"
            )


def _may_move(figure: Figure) -> bool:
    """Whether a figure gets a cell elsewhere, or needs none."""
    return bool(figure.key) or figure.op in LEAVES


def _check_chart(chart: Chart, headings: Mapping[str, Sequence[str]]) -> None:
    if chart.table not in headings:
        raise LimitError(f"chart '{chart.title}': the book has no table '{chart.table}'")
    for heading in (chart.categories, *chart.values):
        if headings[chart.table].count(heading) != 1:
            raise LimitError(
                f"chart '{chart.title}': table '{chart.table}' needs one column '{heading}'"
            )
    if len(chart.values) > MOST_SERIES:
        raise LimitError(f"chart '{chart.title}' has more than {MOST_SERIES} series")
    if not chart.values or not chart.description.strip():
        raise LimitError(f"chart '{chart.title}' needs values, and a description in words")


def _compose(book: Book, missing: Sequence[Figure], listed: bool) -> Draft:
    workings = Workings(book.workings, list(missing))
    sheets = [_with_contents(sheet, book, listed) for sheet in book.sheets]
    named = {block.name: block for sheet in sheets for block in sheet.blocks
             if isinstance(block, Table) and block.name}  # fmt: skip
    grids = [lay_out(sheet, book.footer, named) for sheet in sheets]
    spots = place(grids)
    own = lay_out(workings.sheet(), book.footer, named)
    area = own.areas[TABLE]

    def row_of_workings(number: int) -> Spot:
        return spot(book.workings, area.first + number, area.columns[VALUE])

    for number, figure in enumerate(workings.figures):
        spots[figure] = row_of_workings(number)
    formulas = Formulas(spots, lambda part, whole: row_of_workings(workings.add_part(part, whole)))
    cells = [formulas.fill(grid) for grid in grids]
    for figure in workings.figures:  # grows while formulas are written
        formulas.of(figure)
    if len(workings.figures) > len(missing):
        own = lay_out(workings.sheet(), book.footer, named)
    if workings.figures:
        grids.insert(_position(book), own)
        cells.insert(_position(book), formulas.fill(own))
    return Draft(grids, cells, spots)


def _position(book: Book) -> int:
    titles = [sheet.title for sheet in book.sheets]
    if not book.workings_before:
        return len(titles)
    if book.workings_before not in titles:
        raise LimitError(f"the book has no sheet '{book.workings_before}'")
    return titles.index(book.workings_before)


def _with_contents(sheet: Sheet, book: Book, listed: bool) -> Sheet:
    if not any(isinstance(block, Contents) for block in sheet.blocks):
        return sheet
    about = [(other.title, other.heading) for other in book.sheets]
    if listed:
        about.insert(_position(book), (book.workings, HEADING))
    rows = tuple(Row((Link(title, title), heading)) for title, heading in about)
    columns = (Column("Sheet"), Column("What it shows", width=80))
    blocks = tuple(
        Table(columns, rows, block.title) if isinstance(block, Contents) else block
        for block in sheet.blocks
    )
    return replace(sheet, blocks=blocks)


def _skeleton(workbook: Workbook, grid: Grid, areas: dict[str, Area], footer: str) -> None:
    sheet = workbook.create_sheet(grid.sheet.title)
    set_up(sheet, grid, footer)
    for drawing in grid.drawings:
        sheet.add_chart(native(drawing, areas, grid.widths))
