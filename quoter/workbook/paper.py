"""Sheets on paper: upright or on its side, where each page ends, what it repeats, what stays off.

A page ends where this says and not where an application finds it full, since those differ in how
wide a digit is and round how far they shrink. Lengths are in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from quoter.catalogue.prices import Catalogue
from quoter.phrases import Phrase, phrase
from quoter.workbook.table import MARK, Block, Chart, OnPaper, Sheet, Table

INCH = 72.0
MARGIN_SIDE = 0.45 * INCH
MARGIN_TOP = 0.5 * INCH
MARGIN_BOTTOM = 0.65 * INCH
FOOTER_FROM_EDGE = 0.3 * INCH
# Short and long side: ISO 216, and 8.5 x 11 in.
SIDES = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}
# Of their size may letters have that could be larger on another page, or on more of them.
_SMALLEST_UPRIGHT, _SMALLEST_ON_ONE = 0.6, 0.55
_SURE = 0.97  # of a page's height, whichever application prints it
_LONG = 3.0  # pages; where a longer table ends its pages needs no saying
_FEWEST_BEGUN = 0.25  # of a page, left free, for a block longer than a page to begin on it

HOW_TO_PRINT = phrase(
    "to print all of this sheet, clear its print area, or write {key} in yard.yaml and build anew.",
    key="workings_on_paper: yes",
)
YES, IN_PART, IF_ASKED = phrase("yes"), phrase("in part"), phrase("if asked")
KEPT_OFF = phrase("Workings, left off paper: {how}", how=HOW_TO_PRINT)
PARTLY_KEPT_OFF = phrase("The last tables are workings, left off paper: {how}", how=HOW_TO_PRINT)


class Whole(NamedTuple):
    """Rows that keep to one page where they can: the first ones of parts that must, and the end.

    With charts `drawn` on them, pages end as said here however long they are.
    """

    parts: Sequence[int]
    end: int
    drawn: bool = False


class Page(NamedTuple):
    """The page of a sheet: upright or not, its width, and the rows that it holds.

    `height` is that of rows once the columns fit across, `highest` that of rows once more shrunk.
    """

    upright: bool
    width: float
    height: float
    highest: float


def on_paper_of(catalogue: Catalogue) -> OnPaper:
    """How the yard has its workbooks printed."""
    return OnPaper(catalogue.paper, catalogue.yard.workings_on_paper)


def footer_of(what: str, catalogue: Catalogue) -> Phrase:
    """What stands on the left below every page: whose book of what, as of when, and its mark."""
    return phrase(
        "{company} {what}, internal. Prices as of {as_of}, list of {list_day}, workbook {mark}",
        company=catalogue.yard.company.name,
        what=what,
        as_of=catalogue.as_of,
        list_day=catalogue.price_list,
        mark=MARK,
    )


def page_of(total: float, paper: str) -> Page:
    """The page for columns that are `total` wide, which shrink to its width but never grow."""
    short, long = SIDES[paper]
    upright = (short - 2 * MARGIN_SIDE) / total >= _SMALLEST_UPRIGHT
    across, down = (short, long) if upright else (long, short)
    shrunk = min(1.0, (across - 2 * MARGIN_SIDE) / total)
    height = (down - MARGIN_TOP - MARGIN_BOTTOM) * _SURE
    highest = height / min(shrunk, _SMALLEST_ON_ONE)
    return Page(upright, across - 2 * MARGIN_SIDE, height / shrunk, highest)


class Paged(NamedTuple):
    """The rows after which pages end, and the points left on the last page."""

    breaks: list[int]
    left: float


def paged(
    wholes: Iterable[Whole], heights: Mapping[int, float], blank: float, repeated: range, page: Page
) -> Paged:
    """Where pages end.

    Args:
        wholes: from the first row to the last that prints, none left out
        heights: of rows that are no `blank` ones
        blank: height of the others
        repeated: rows that every later page begins with
        page: their page
    """
    again = sum(heights.get(row, blank) for row in repeated)
    found: list[int] = []
    used = 0.0
    for whole in wholes:
        parts = list(_parts(whole, heights, blank))
        together = sum(height for _, height in parts)
        fits = again + together <= page.height
        if used + together > page.height and used > again and (fits or _is_late(used, page)):
            found.append(whole.parts[0] - 1)
            used = again
        if together > _LONG * page.height and not whole.drawn:
            used = page.height  # its last page ends where nobody knows: what follows begins another
            continue
        for first, height in parts:
            if used + height > page.height and used > again:
                found.append(first - 1)
                used = again
            used += height
    return Paged([row for row in found if row > 0], page.height - used)


def _is_late(used: float, page: Page) -> bool:
    return page.height - used < _FEWEST_BEGUN * page.height


def _parts(whole: Whole, heights: Mapping[int, float], blank: float) -> Iterator[tuple[int, float]]:
    """Each part's first row and its height."""
    for first, after in zip(whole.parts, (*whole.parts[1:], whole.end + 1), strict=True):
        yield first, sum(heights.get(row, blank) for row in range(first, after))


def breakable(table: Table, first: int) -> list[int]:
    """Rows of a table before which a page may end: after the first, but under no group's title."""
    kinds = [row.kind for row in table.rows]
    return [
        first + index
        for index in range(1, len(kinds))
        if kinds[index - 1] != "group" and kinds[index] != "total"
    ]


def parted(sheet: Sheet, on_paper: OnPaper) -> tuple[list[list[Block]], list[list[Block]]]:
    """A sheet's blocks that print, and the workings that don't, each with its charts under it.

    Charts of one table stand together; those of tables on other sheets come last.
    """
    of_table: dict[str, list[Block]] = {}
    for chart in sheet.charts:
        of_table.setdefault(chart.table, []).append(chart)
    printed: list[list[Block]] = []
    workings: list[list[Block]] = []
    tables = (block for block in sheet.blocks if isinstance(block, Table))
    kept_off = {table.name for table in tables if _is_workings(table, on_paper)} - {""}
    for block in sheet.blocks:
        stays_off = isinstance(block, Chart) and block.table in kept_off
        to = workings if stays_off or _is_workings(block, on_paper) else printed
        if isinstance(block, Chart) and to and _named(to[-1][0]) == block.table:
            to[-1].append(block)
            continue
        charts = of_table.pop(block.name, []) if isinstance(block, Table) else []
        to.append([block, *charts])
    printed += [list(charts) for charts in of_table.values()]
    return printed, workings


def _is_workings(block: Block, on_paper: OnPaper) -> bool:
    return isinstance(block, Table) and block.workings and not on_paper.workings


def _named(block: Block) -> str:
    return block.name if isinstance(block, Table) else ""


def is_all_workings(sheet: Sheet) -> bool:
    """Whether a sheet holds nothing but tables of workings."""
    tables = [block for block in sheet.blocks if isinstance(block, Table) and block.workings]
    return bool(tables) and len(tables) == len(sheet.blocks)


def said_of_workings(sheet: Sheet) -> Phrase:
    """What the sheet itself says of what stays off paper."""
    return KEPT_OFF if is_all_workings(sheet) else PARTLY_KEPT_OFF


def said_of_paper(sheet: Sheet) -> Phrase:
    """What of a sheet prints, for the contents."""
    tables = [block for block in sheet.blocks if isinstance(block, Table)]
    if is_all_workings(sheet):
        return IF_ASKED
    return IN_PART if any(table.workings for table in tables) else YES
