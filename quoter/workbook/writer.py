"""A book of figures becomes a workbook file: compose its cells, set its sheets up, write it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence

from quoter.phrases import phrase
from quoter.workbook.addresses import absolute, letters, quoted, ranges, standing
from quoter.workbook.charts import picture
from quoter.workbook.compose import compose
from quoter.workbook.laid import BLANK_ROW, LaidSheet, TableRange, repeated_rows
from quoter.workbook.limits import LONGEST_LIST
from quoter.workbook.measure import column_points
from quoter.workbook.sheet_part import Hyperlink, ReadyBand, SheetFile, Validation
from quoter.workbook.styles import SAND_EDGE, SEA
from quoter.workbook.table import SPECIAL, Book, Cell, Choice, Flag, InputCell, Link
from quoter.workbook.xlsx import file_of

_MOST_FROZEN = 180.0  # points; a heading further down would leave no room to scroll
_WIDE = 900.0  # points; a sheet wider than this keeps its first column in view
_PAGES = phrase("&A, page &P of &N")  # with the format's codes of the sheet and its pages
_MOST_LISTED = 9  # choices offered as a list; more are typed
Special = list[tuple[str, Cell]]


def write_book(book: Book, say: Callable[[str], str] = str) -> bytes:
    """The file of a workbook; the same book in the same language gives the same bytes.

    Args:
        book: what it is made of
        say: how its reader says the program's words, as `quoter.wording` does
    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    draft = compose(book, say)
    tables = {name: table for laid in draft.sheets for name, table in laid.tables.items()}
    sheets = [
        _sheet(laid, bands, tables, book, say)
        for laid, bands in zip(draft.sheets, draft.bands, strict=True)
    ]
    elsewhere = draft.homes.elsewhere
    names = {name: absolute(elsewhere[figure]) for name, figure in draft.names.items()}
    return file_of(say(book.title), sheets, names)


def _sheet(
    laid: LaidSheet,
    bands: Sequence[ReadyBand],
    tables: Mapping[str, TableRange],
    book: Book,
    say: Callable[[str], str],
) -> SheetFile:
    """A sheet with all that is set up around its cells."""
    repeated = repeated_rows(laid)
    filtered = ""
    if laid.filtered is not None:
        first, last, column = laid.filtered
        filtered = f"A{first}:{letters(column)}{last}"
    special = _special(laid)
    return SheetFile(
        laid.sheet.title,
        laid.widths,
        bands,
        laid.heights,
        laid.last_row,
        tab=SAND_EDGE if laid.takes_entries else SEA,
        footer=(say(book.footer), say(_PAGES)),
        upright=laid.page.upright,
        paper=book.on_paper.paper,
        row_height=BLANK_ROW,
        repeated=(repeated.start, repeated.stop - 1),
        printed=(laid.across, laid.printed),
        breaks=laid.breaks,
        on_one=laid.on_one,
        frozen=_frozen(laid),
        locked=not filtered,  # rows that are locked can't be sorted
        filtered=filtered,
        marks=_marks(special),
        validations=tuple(_validations(special, say)),
        links=tuple(
            Hyperlink(cell, f"{quoted(content.sheet)}!{content.cell}", content.text)
            for cell, content in special
            if isinstance(content, Link)
        ),
        pictures=[picture(drawing, tables, laid.widths) for drawing in laid.drawings],
    )


def _special(laid: LaidSheet) -> Special:
    """Cells that ask for more than a value, by their address on the sheet."""
    return [(f"{name}{row}", content) for content, name, row in standing(laid, SPECIAL)]


def _frozen(laid: LaidSheet) -> tuple[int, int]:
    """Columns and rows that stay in view."""
    if not laid.heads:
        return 0, 0
    above = sum(laid.heights.get(row, BLANK_ROW) for row in range(1, laid.heads[0] + 1))
    lone = len(laid.heads) == 1 and above <= _MOST_FROZEN
    wide = sum(column_points(width) for width in laid.widths) > _WIDE
    return laid.kept if wide else 0, laid.heads[0] if lone else 1


def _validations(special: Special, say: Callable[[str], str]) -> Iterator[Validation]:
    numbers: list[str] = []
    choices: dict[int, list[str]] = defaultdict(list)
    for cell, content in special:
        if isinstance(content, InputCell):
            numbers.append(cell)
        elif isinstance(content, Choice):
            choices[content.most].append(cell)
    if numbers:
        message = say(phrase("Enter a number, in the unit that stands beside it."))
        yield Validation(ranges(numbers), "decimal", ("-1E+12", "1E+12"), message)
    for most, cells in choices.items():
        message = say(phrase("Enter a whole number from 0 to {most}.", most=most))
        listed = '"' + ",".join(str(number) for number in range(most + 1)) + '"'
        if most <= _MOST_LISTED and len(listed) <= LONGEST_LIST:
            yield Validation(ranges(cells), "list", (listed,), message)
        else:
            yield Validation(ranges(cells), "whole", ("0", str(most)), message)


def _marks(special: Special) -> dict[str, list[str]]:
    """Flags that warn stand out in colour and weight; their word says it without either."""
    found: dict[str, list[str]] = defaultdict(list)
    for cell, content in special:
        if isinstance(content, Flag):
            found[content.yes if content.alarm == "yes" else content.no].append(cell)
    return {word: ranges(cells) for word, cells in found.items()}
