"""A sheet's set-up: widths, frozen heads, print, protection, validation, marks for faults."""

from __future__ import annotations

from collections import defaultdict

from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.cell_range import CellRange, MultiCellRange
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from quoter.workbook.fill import link_target
from quoter.workbook.grid import BLANK_ROW, Grid, Slot
from quoter.workbook.layout import repeated_rows
from quoter.workbook.limits import LONGEST_LIST, footer_sides
from quoter.workbook.paper import (
    FOOTER_FROM_EDGE,
    INCH,
    MARGIN_BOTTOM,
    MARGIN_SIDE,
    MARGIN_TOP,
    column_points,
)
from quoter.workbook.ranges import ranges
from quoter.workbook.styles import BRICK, BRICK_PALE, SAND_EDGE, SEA
from quoter.workbook.table import Choice, Entry, Flag, Link

_A4 = 9
_LOWEST_FROZEN = 9  # rows; a heading further down would leave no room to scroll
_WIDE = 900.0  # points; a sheet wider than this keeps its first column in view
_MOST_LISTED = 9  # choices offered as a list; more are typed


def set_up(sheet: Worksheet, grid: Grid, footer: str) -> None:
    """Everything about a sheet but its cells."""
    for column, width in enumerate(grid.widths, 1):
        sheet.column_dimensions[get_column_letter(column)].width = round(width, 2)
    sheet.sheet_format.defaultRowHeight = BLANK_ROW
    sheet.sheet_format.customHeight = True
    sheet.sheet_view.showGridLines = False
    sheet.sheet_properties.tabColor = SAND_EDGE if grid.has_entries else SEA
    sheet.merged_cells = MultiCellRange(
        [CellRange(None, first, row, last, row) for row, first, last in grid.merges]
    )
    sheet.freeze_panes = _frozen(grid)
    _print(sheet, grid, footer)
    for filtered in grid.filters:
        sheet.auto_filter.ref = filtered.coord
    if not grid.filters:  # rows that are locked can't be sorted
        _protect(sheet)
    _validate(sheet, grid)
    _mark(sheet, grid)
    for slot in grid.slots:
        if isinstance(slot.content, Link):
            _link(sheet, slot, slot.content)


def where(slot: Slot) -> str:
    """A slot's address on its sheet."""
    return f"{get_column_letter(slot.column)}{slot.row}"


def _frozen(grid: Grid) -> str | None:
    if not grid.heads:
        return None
    lone = len(grid.heads) == 1 and grid.heads[0] <= _LOWEST_FROZEN
    wide = sum(column_points(width) for width in grid.widths) > _WIDE
    column = get_column_letter(grid.kept + 1) if lone and wide else "A"
    return f"{column}{grid.heads[0] + 1 if lone else 2}"


def _print(sheet: Worksheet, grid: Grid, footer: str) -> None:
    setup = sheet.page_setup
    setup.orientation, setup.paperSize = "landscape", _A4
    setup.fitToWidth, setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = sheet.page_margins
    margins.left = margins.right = MARGIN_SIDE / INCH
    margins.top, margins.bottom = MARGIN_TOP / INCH, MARGIN_BOTTOM / INCH
    margins.header = margins.footer = FOOTER_FROM_EDGE / INCH
    rows = repeated_rows(grid)
    sheet.print_title_rows = f"{rows.start}:{rows.stop - 1}"
    sheet.print_area = f"A1:{get_column_letter(grid.last_column)}{grid.last_row}"
    odd = HeaderFooterItem()
    odd.left.text, odd.right.text = footer_sides(footer, "&8 &A, page &P of &N")
    sheet.HeaderFooter.oddFooter = odd


def _protect(sheet: Worksheet) -> None:
    """Locked without a password: against slips, not against the reader."""
    protection = sheet.protection
    protection.sheet = True
    protection.formatColumns = protection.formatRows = False  # False: allowed


def _validate(sheet: Worksheet, grid: Grid) -> None:
    numbers = [where(slot) for slot in grid.slots if isinstance(slot.content, Entry)]
    if numbers:
        rule = DataValidation("decimal", "-1E+12", "1E+12", operator="between")
        _refuse(rule, "Enter a number, in the unit that stands beside it.", numbers, sheet)
    choices: dict[int, list[str]] = defaultdict(list)
    for slot in grid.slots:
        if isinstance(slot.content, Choice):
            choices[slot.content.most].append(where(slot))
    for most, cells in choices.items():
        listed = '"' + ",".join(str(number) for number in range(most + 1)) + '"'
        if most <= _MOST_LISTED and len(listed) <= LONGEST_LIST:
            rule = DataValidation("list", listed)
        else:
            rule = DataValidation("whole", "0", str(most), operator="between")
        _refuse(rule, f"Enter a whole number from 0 to {most}.", cells, sheet)


def _refuse(rule: DataValidation, message: str, cells: list[str], sheet: Worksheet) -> None:
    rule.showErrorMessage, rule.allow_blank = True, False
    rule.errorTitle, rule.error = "Not a value for this cell", message
    rule.sqref = MultiCellRange(ranges(cells))
    sheet.add_data_validation(rule)


def _mark(sheet: Worksheet, grid: Grid) -> None:
    """Flags that warn stand out in colour and weight; their word says it without either."""
    cells: dict[str, list[str]] = defaultdict(list)
    for slot in grid.slots:
        if isinstance(slot.content, Flag):
            flag = slot.content
            cells[flag.yes if flag.alarm == "yes" else flag.no].append(where(slot))
    look = DifferentialStyle(
        font=Font(b=True, color=f"FF{BRICK}"),
        fill=PatternFill(bgColor=f"FF{BRICK_PALE}", fill_type="solid"),
    )
    for word, places in cells.items():
        quoted = word.replace('"', '""')
        rule = Rule("cellIs", operator="equal", formula=[f'"{quoted}"'], dxf=look)
        sheet.conditional_formatting.add(" ".join(ranges(places)), rule)


def _link(sheet: Worksheet, slot: Slot, link: Link) -> None:
    # A cell that only carries the link into the sheet; the rows are written elsewhere.
    cell = sheet.cell(slot.row, slot.column)
    cell.hyperlink = Hyperlink(ref="", location=link_target(link), display=link.text)
