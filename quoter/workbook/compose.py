"""From a book to its cells: what stands where, with its formula and its value.

Figures get homes, those that no table shows a row on the sheet of workings, and parts of formulas
that would grow too long as well.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from quoter.figures import Figure
from quoter.figures.figure import make
from quoter.figures.graph import LEAVES, in_order
from quoter.figures.trail import expression, is_stop
from quoter.workbook.addresses import (
    Address,
    Addresses,
    address,
    cells_of,
    homes,
    letters,
    shown_in,
    without_cell,
)
from quoter.workbook.charts import MOST_SERIES
from quoter.workbook.formula import FormulaTooLongError, condition, formula
from quoter.workbook.layout import LaidSheet, lay_out
from quoter.workbook.limits import (
    LimitError,
    check_names,
    check_number,
    check_text,
    check_titles,
)
from quoter.workbook.sheet_part import ReadyRows
from quoter.workbook.sources import Nearest, in_words, nearest_to, source_of
from quoter.workbook.table import (
    Book,
    Cell,
    Chart,
    Choice,
    Column,
    Contents,
    Flag,
    InputCell,
    Link,
    Row,
    Sheet,
    Table,
    charts_of,
    figure_of,
    is_sortable,
    without_empty,
)

READABLE = 1000  # letters of a formula that a person still follows, well below what sheets accept
# Sums and sums of products with more arguments than this are split in two, not emptied one by one.
_FEW_ARGUMENTS = 4
_WORKINGS = "workings"  # the table's name
_VALUE = "Value"
_HEADING = (
    "Steps between the inputs and the results that no other sheet shows, each with its formula "
    "and, in words, what it is made of."
)
_LONGEST_WORDS = 600


@dataclass(frozen=True, slots=True)
class Composed:
    """A book with every cell worked out: its sheets, their rows, and where each figure lives."""

    sheets: list[LaidSheet]
    rows: list[ReadyRows]
    homes: Addresses


def compose(book: Book) -> Composed:
    """Every cell of the book with its formula and value, before it becomes a file.

    Raises:
        LimitError: as `write_book`.
    """
    _check(book)
    book = without_empty(book)
    missing = without_cell(book.sheets, book.names.values())
    draft = _compose(book, missing, bool(missing))
    if len(draft.sheets) > len(book.sheets) and not missing:
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
    names = Counter([_WORKINGS, *(table.name for table in tables)])
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
        if isinstance(cell, InputCell | Choice) or (figure is not None and not _may_move(figure)):
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


def _compose(book: Book, missing: Sequence[Figure], listed: bool) -> Composed:
    workings = Workings(book.workings, list(missing))
    sheets = [_with_contents(sheet, book, listed) for sheet in book.sheets]
    named = {block.name: block for sheet in sheets for block in sheet.blocks
             if isinstance(block, Table) and block.name}  # fmt: skip
    laid = [lay_out(sheet, book.footer, named) for sheet in sheets]
    found = homes(laid)
    # Where its rows will stand doesn't depend on what they hold.
    table = lay_out(Workings(book.workings, []).sheet(), "", {}).tables[_WORKINGS]

    def row_of_workings(number: int) -> Address:
        return address(book.workings, table.first + number, table.columns[_VALUE])

    for number, figure in enumerate(workings.figures):
        found[figure] = row_of_workings(number)
    formulas = Formulas(found, lambda part, whole: row_of_workings(workings.add_part(part, whole)))
    rows = [formulas.fill(sheet) for sheet in laid]
    for figure in workings.figures:  # grows while formulas are written
        formulas.of(figure)
    if workings.figures:
        own = lay_out(workings.sheet(), book.footer, named)
        laid.insert(_position(book), own)
        rows.insert(_position(book), formulas.fill(own))
    return Composed(laid, rows, found)


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
        about.insert(_position(book), (book.workings, _HEADING))
    rows = tuple(Row((Link(title, title), heading)) for title, heading in about)
    columns = (Column("Sheet"), Column("What it shows", width=80))
    blocks = tuple(
        Table(columns, rows, block.title) if isinstance(block, Contents) else block
        for block in sheet.blocks
    )
    return replace(sheet, blocks=blocks)


class Formulas:
    """Formulas of all cells; what would grow too long is given parts with cells of their own."""

    def __init__(self, found: Addresses, new_home: Callable[[Figure, Figure], Address]) -> None:
        """`new_home(part, whole)` finds a cell for a part of a formula, which `found` lacks."""
        self._homes = found
        self._new_home = new_home
        self._texts: dict[Figure, str] = {}
        self._fixed: set[str] = set()

    def fill(self, laid: LaidSheet) -> ReadyRows:
        """The cells of a sheet."""
        title = laid.sheet.title
        if laid.filtered is not None:
            self._fixed.add(title)
        return {
            row: [
                (first, last, style, *self._content(title, row, first, cell))
                for first, last, style, cell in cells
            ]
            for row, cells in laid.rows.items()
        }

    def _content(
        self, sheet: str, row: int, column: int, cell: Cell
    ) -> tuple[str, float | str | None]:
        """Formula and value of what stands in a cell."""
        if cell is None or isinstance(cell, str):
            return "", cell or None
        if isinstance(cell, Link):
            return "", cell.text
        if isinstance(cell, Flag):
            return self._flag(sheet, cell)
        figure = cell.figure if isinstance(cell, InputCell | Choice) else cell
        home = self._homes.get(figure)
        if home is None:
            return "", figure.value
        if sheet in self._fixed:
            return home.absolute, figure.value
        if home.sheet != sheet:
            return home.qualified, figure.value
        if home.cell != f"{letters(column)}{row}":
            return home.cell, figure.value
        return self.of(figure), figure.value

    def of(self, figure: Figure) -> str:
        """The formula in a figure's home cell; nothing for a bare number."""
        if not figure.args:
            return ""
        if figure not in self._texts:
            sheet = self._homes[figure].sheet
            self._texts[figure] = self._fitting(figure, sheet, formula)
        return self._texts[figure]

    def _flag(self, sheet: str, flag: Flag) -> tuple[str, str]:
        test = self._fitting(flag.figure, sheet, condition)
        yes, no = (word.replace('"', '""') for word in (flag.yes, flag.no))
        holds = flag.figure.value != 0
        return f'IF({test},"{yes}","{no}")', check_text(flag.yes if holds else flag.no)

    def _fitting(self, figure: Figure, sheet: str, write: Callable[..., str]) -> str:
        """Write a formula, moving parts of it into cells until it is short enough."""
        known, fixed = self._homes, sheet in self._fixed

        def address_of(figure: Figure) -> str | None:
            home = known.get(figure)
            if home is None:
                return None
            if fixed:
                return home.absolute
            return home.cell if home.sheet == sheet else home.qualified

        shape = figure
        while True:
            try:
                return write(shape, address_of, READABLE)
            except FormulaTooLongError as fault:
                shape = self._relieve(fault, shape, figure)

    def _relieve(self, fault: FormulaTooLongError, shape: Figure, whole: Figure) -> Figure:
        node = fault.node
        if len(node.args) <= _FEW_ARGUMENTS:
            part = fault.longest_part
            if part is None:
                raise fault
            self._hoist(part, whole)
            return shape
        if node is not shape:
            self._hoist(node, whole)
            return shape
        halves = _halves(node)
        for half in halves:
            self._hoist(half, whole)
        return replace(node, op="sum", args=halves)

    def _hoist(self, part: Figure, whole: Figure) -> None:
        self._homes[part] = self._new_home(part, whole)


def _halves(node: Figure) -> tuple[Figure, Figure]:
    """A long sum, or sum of products, as two; their sum is the whole."""
    if node.op == "sum":
        middle = len(node.args) // 2
        return make("sum", *node.args[:middle]), make("sum", *node.args[middle:])
    half = len(node.args) // 2
    left, right = node.args[:half], node.args[half:]
    middle = half // 2
    return (
        make("dot", *left[:middle], *right[:middle]),
        make("dot", *left[middle:], *right[middle:]),
    )


@dataclass(slots=True)
class Workings:
    """Figures with a row on the sheet, in order, and the labels of those that have none."""

    title: str
    figures: list[Figure]
    labels: dict[Figure, str] = field(default_factory=dict)

    def add_part(self, figure: Figure, whole: Figure) -> int:
        """Give a part of a formula its own row; the number of rows before it."""
        name = whole.label or self.labels.get(whole, "") or whole.key or "a formula"
        self.labels[figure] = name if name.startswith("part of ") else f"part of {name}"
        self.figures.append(figure)
        return len(self.figures) - 1

    def sheet(self) -> Sheet:
        """The sheet as it stands."""
        words = _lengths_in_words(self.figures)
        nearest = nearest_to(self.figures)
        rows = tuple(self._row(figure, words, nearest) for figure in self.figures)
        columns = (Column("Figure"), Column(_VALUE), Column("How it is worked out", width=64))
        return Sheet(
            self.title,
            _HEADING,
            (Table(columns, rows, name=_WORKINGS),),
        )

    def _row(
        self, figure: Figure, words: Mapping[Figure, int], nearest: Mapping[Figure, Nearest]
    ) -> Row:
        label = figure.label or self.labels.get(figure, "") or figure.key
        how = "as given" if not figure.args else "long: see the formula in the cell"
        if figure.args and words[figure] <= _LONGEST_WORDS:
            how = expression(figure)
        return Row((label, figure, how), source_of(figure) or in_words(nearest[figure]))


def _lengths_in_words(figures: Iterable[Figure]) -> dict[Figure, int]:
    """About how long each figure's expression is, known without writing it out."""
    lengths: dict[Figure, int] = {}
    for figure in in_order(figures):
        lengths[figure] = 3 + sum(
            len(arg.label) if is_stop(arg) else 3 + lengths[arg] for arg in figure.args
        )
    return lengths
