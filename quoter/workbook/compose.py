"""From a book to its cells: what stands where, with its formula and its value.

Figures get homes, those that no table shows a row on the sheet of workings, and parts of formulas
that would grow too long as well.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.figures import Figure
from quoter.figures.figure import make
from quoter.figures.graph import LEAVES, in_order
from quoter.figures.trail import expression, is_stop
from quoter.phrases import phrase
from quoter.workbook.addresses import Homes, cells_of, homes, letters, shown_in, without_cell
from quoter.workbook.charts import MOST_SERIES
from quoter.workbook.formula import FormulaTooLongError, FormulaWriter
from quoter.workbook.laid import LaidSheet, Strip
from quoter.workbook.layout import lay_out
from quoter.workbook.limits import (
    LimitError,
    check_names,
    check_number,
    check_text,
    check_titles,
)
from quoter.workbook.paper import IF_ASKED, YES, said_of_paper
from quoter.workbook.retelling import in_readers_units
from quoter.workbook.sheet_part import ReadyBand, ReadyColumn
from quoter.workbook.sources import Nearest, in_words, nearest_in, source_of
from quoter.workbook.spoken import Say, spoken
from quoter.workbook.table import (
    CALCULATED,
    Book,
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
    next_sheet,
    text_of,
    without_empty,
)

READABLE = 1000  # letters of a formula that a person still follows, well below what sheets accept
# Sums and sums of products with more arguments than this are split in two, not emptied one by one.
_FEW_ARGUMENTS = 4
_WORKINGS = "workings"  # the table's name
_SHEET, _SHOWS, _ON_PAPER = phrase("Sheet"), phrase("What it shows"), phrase("On paper")
_FIGURE, _VALUE, _HOW = phrase("Figure"), phrase("Value"), phrase("How it is worked out")
_HEADING = phrase(
    "Steps between the inputs and the results that no other sheet shows, each with its formula "
    "and, in words, what it is made of."
)
_LONGEST_WORDS = 600


@dataclass(frozen=True, slots=True)
class Composed:
    """A book with every cell worked out: its sheets, what stands there, where figures live."""

    sheets: list[LaidSheet]
    bands: list[list[ReadyBand]]
    homes: Homes
    names: Mapping[str, Figure]


def compose(book: Book, say: Say = str) -> Composed:
    """Every cell of the book with its formula and value, before it becomes a file.

    Args:
        book: the book
        say: how its reader says the program's words
    Raises:
        LimitError: as `write_book`.
    """
    book = in_readers_units(spoken(book, say))
    shown = shown_in(book.sheets)
    _check(book, shown)
    book, names = without_empty(book, say), book.names.values()
    missing = without_cell(book.sheets, in_order([*shown, *names]), names)
    draft = _compose(book, missing, bool(missing), say)
    if len(draft.sheets) > len(book.sheets) and not missing:
        # Parts of long formulas made a sheet of workings after all: list it in the contents.
        return _compose(book, missing, True, say)
    return draft


def _check(book: Book, shown: Iterable[Figure]) -> None:
    check_titles([*(sheet.title for sheet in book.sheets), book.workings])
    check_names(book.names)
    for figure in shown:
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


def _compose(book: Book, missing: Sequence[Figure], listed: bool, say: Say) -> Composed:
    sheets = [_with_contents(sheet, book, listed, say) for sheet in book.sheets]
    named = {block.name: block for sheet in sheets for block in sheet.blocks
             if isinstance(block, Table) and block.name}  # fmt: skip
    laid = [lay_out(sheet, book.footer, named, book.on_paper, say) for sheet in sheets]
    found = homes(laid)
    workings = Workings(book, found, say)
    for figure in missing:
        workings.add(figure)
    formulas = Formulas(found, workings)
    bands = [formulas.fill(sheet) for sheet in laid]
    formulas.stand_on(book.workings)
    for figure in workings.figures:  # grows while formulas are written
        formulas.of(figure)
    if workings.figures:
        own = lay_out(workings.sheet(), book.footer, named, book.on_paper, say)
        laid.insert(_position(book), own)
        bands.insert(_position(book), formulas.fill(own))
    return Composed(laid, bands, found, book.names)


def _position(book: Book) -> int:
    titles = [sheet.title for sheet in book.sheets]
    if not book.workings_before:
        return len(titles)
    if book.workings_before not in titles:
        raise LimitError(f"the book has no sheet '{book.workings_before}'")
    return titles.index(book.workings_before)


def _with_contents(sheet: Sheet, book: Book, listed: bool, say: Say) -> Sheet:
    if not any(isinstance(block, Contents) for block in sheet.blocks):
        return sheet
    about = [(other.title, other.heading, said_of_paper(other)) for other in book.sheets]
    if listed:
        about.insert(_position(book), (book.workings, say(_HEADING), IF_ASKED))
    printed = YES if book.on_paper.workings else ""
    rows = tuple(
        Row((Link(title, title), heading, say(printed or said))) for title, heading, said in about
    )
    columns = (
        Column(say(_SHEET)),
        Column(say(_SHOWS), width=80),
        Column(say(_ON_PAPER), width=10),
    )
    blocks = tuple(
        Table(columns, rows, block.title, workings=True) if isinstance(block, Contents) else block
        for block in sheet.blocks
    )
    return replace(sheet, blocks=blocks)


class Formulas:
    """Formulas of all cells; what would grow too long is given parts with cells of their own."""

    def __init__(self, found: Homes, workings: Workings) -> None:
        """The sheet of workings finds cells for parts of formulas."""
        self._homes = found
        self._workings = workings
        self._texts: dict[Figure, str] = {}

    def stand_on(self, title: str, fixed: bool = False) -> None:
        """Write what follows as a sheet sees it; with fixed addresses where rows may be sorted."""
        self._title = title
        self._seen = {} if fixed else self._homes.seen_from(title)
        self._address = self._homes.absolute if fixed else self._seen.get
        self._writer = FormulaWriter(self._address, READABLE)

    def fill(self, laid: LaidSheet) -> list[ReadyBand]:
        """The cells of a sheet."""
        self.stand_on(laid.sheet.title, fixed=laid.filtered is not None)
        return [(first, self._columns(first, strips)) for first, strips in laid.bands]

    def _columns(self, first: int, strips: Sequence[Strip]) -> list[ReadyColumn]:
        columns, live, address = [], [], self._address
        for strip in strips:
            values: list[float | str | None] = []
            formulas: list[str] = []
            if strip.kinds & CALCULATED:
                live.append((letters(strip.first), values.append, formulas.append, strip.cells))
            else:
                values += [text_of(cell) or None for cell in strip.cells]
            columns.append(ReadyColumn(strip.first, strip.last, strip.styles, values, formulas))
        # Along the rows: what the first formula moves into a cell, later ones refer to.
        for row, cells in enumerate(zip(*(cells for *_, cells in live), strict=True), first):
            for (name, add_value, add_formula, _), cell in zip(live, cells, strict=True):
                figure = figure_of(cell)
                if figure is None:
                    add_value(text_of(cell) or None)
                    add_formula("")
                elif isinstance(cell, Flag):
                    add_value(check_text(cell.said))
                    add_formula(self._flag(cell))
                else:
                    home = address(figure)
                    add_value(figure.value)
                    add_formula(self.of(figure) if home == f"{name}{row}" else home or "")
        return columns

    def of(self, figure: Figure) -> str:
        """The formula in a figure's home cell; nothing for a bare number."""
        text = self._texts.get(figure)
        if text is None:
            text = self._fitting(figure, self._writer.formula) if figure.args else ""
            self._texts[figure] = text
        return text

    def _flag(self, flag: Flag) -> str:
        test = self._fitting(flag.figure, self._writer.condition)
        yes, no = (word.replace('"', '""') for word in (flag.yes, flag.no))
        return f'IF({test},"{yes}","{no}")'

    def _fitting(self, figure: Figure, write: Callable[[Figure], str]) -> str:
        """Write a formula, moving parts of it into cells until it is short enough."""
        shape = figure
        while True:
            try:
                return write(shape)
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
        self._workings.add_part(part, whole)
        homes = self._homes.own if self._title == self._workings.title else None
        self._seen[part] = homes[self._title][part] if homes else self._homes.elsewhere[part]


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


class Workings:
    """Figures with a row on the sheet, in order, and the labels of those that have none."""

    def __init__(self, book: Book, found: Homes, say: Say) -> None:
        """Start with no figure; those that come are given their homes."""
        self.title, after = book.workings, book.workings_before
        self._then = Link(say(next_sheet(after)), after) if after else None
        self._say = say
        self.figures: list[Figure] = []
        self._homes = found
        self._labels: dict[Figure, str] = {}
        # Where its rows will stand doesn't depend on what they hold.
        table = lay_out(self.sheet(), "", {}, book.on_paper).tables[_WORKINGS]
        self._column, self._first = letters(table.columns[say(_VALUE)]), table.first

    def add(self, figure: Figure) -> None:
        """Give a figure its own row."""
        self._homes.put(figure, self.title, f"{self._column}{self._first + len(self.figures)}")
        self.figures.append(figure)

    def add_part(self, figure: Figure, whole: Figure) -> None:
        """Give a part of a formula its own row."""
        part = self._labels.get(whole, "")
        name = whole.label or whole.key or phrase("a formula")
        self._labels[figure] = part or phrase("part of {name}", name=name)
        self.add(figure)

    def sheet(self) -> Sheet:
        """The sheet as it stands."""
        order = in_order(self.figures)
        words, nearest = _lengths_in_words(order), nearest_in(order)
        rows = tuple(self._row(figure, words, nearest) for figure in self.figures)
        say = self._say
        columns = (Column(say(_FIGURE)), Column(say(_VALUE)), Column(say(_HOW), width=64))
        return Sheet(
            self.title,
            say(_HEADING),
            (Table(columns, rows, name=_WORKINGS, workings=True),),
            then=self._then,
        )

    def _row(
        self, figure: Figure, words: Mapping[Figure, int], nearest: Mapping[Figure, Nearest]
    ) -> Row:
        label = figure.label or self._labels.get(figure, "") or figure.key
        how: str = (
            phrase("as given") if not figure.args else phrase("long: see the formula in the cell")
        )
        if figure.args and words[figure] <= _LONGEST_WORDS:
            how = expression(figure, self._say)
        return Row(
            (self._say(label), figure, self._say(how)),
            self._say(source_of(figure) or in_words(nearest[figure])),
        )


def _lengths_in_words(order: Iterable[Figure]) -> dict[Figure, int]:
    """About how long each figure's expression is, known without writing it out."""
    lengths: dict[Figure, int] = {}
    as_term: dict[Figure, int] = {}
    for figure in order:
        length = 3
        for arg in figure.args:
            length += as_term[arg]
        lengths[figure] = length
        as_term[figure] = len(figure.label) if is_stop(figure) else 3 + length
    return lengths
