"""Records of how the yard's own clock, store and ledger are read: what they hand out, and in which
words."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from quoter.catalogue import fields as f
from quoter.catalogue.booked import TABLES
from quoter.catalogue.options import ById
from quoter.catalogue.received import UnitWord
from quoter.catalogue.record import CatalogueRecord, Many

# Columns of theirs that help to read ours -> the columns of ours that each of them serves.
HELPING = {
    "code": ("job", "part", "operation", "station"),
    "unit": ("quantity",),
    "per": ("price",),
    "currency": ("price", "wage", "freight", "spent"),
}
DAY_ORDERS = ("day month", "month day")
Means = Annotated[dict[Any, f.Words], ById]


def columns_of_table(table: str) -> tuple[str, ...]:
    """The columns of a table of `actuals/`, in their order."""
    return tuple(TABLES[table].model_fields)


class ExportHeadings(CatalogueRecord):
    """What the columns of an export are called, each as it is written there.

    The keys are the columns of the table that it fills, and four more that help to read them. Where
    an upper row of headings stands over several columns, a column is known by its own words or by
    both: `Laminating hours`.
    """

    reference: f.Words | None = None
    """The heading of the rows' own numbers, by which they are known again.
    Unless given: each row gets a number made of its day and of all that is read of it.
    Example: `No.`"""
    date: f.Words | None = None
    """The heading of the days.
    Example: `Date`"""
    month: f.Words | None = None
    """The heading of the months, or of days within them.
    Example: `Period`"""
    code: f.Words | None = None
    """The heading of what was scanned from shop papers: job, part and operation in one text, as in
    `job=2026-0007;part=side_door;operation=3`. A text without `=` is a job's number.
    Example: `Scan`"""
    job: f.Words | None = None
    """The heading of the jobs' numbers.
    Example: `Order`"""
    part: f.Words | None = None
    """The heading of the parts.
    Example: `Item`"""
    operation: f.Words | None = None
    """The heading of the operations: their numbers on the papers, or their names.
    Example: `Step`"""
    station: f.Words | None = None
    """The heading of the stations.
    Example: `Cost centre`"""
    hours: f.Words | None = None
    """The heading of the paid hours; its cells may say 3.5, 3:30 or 210 min.
    Example: `Paid`"""
    group: f.Words | None = None
    """The heading of the wage groups. People's names are left where they are: name no such column.
    Example: `Pay group`"""
    wage: f.Words | None = None
    """The heading of what an hour was paid at, before on-costs.
    Example: `Hourly wage`"""
    rework: f.Words | None = None
    """The heading of what tells rework from other work.
    Example: `Rework`"""
    kind: f.Words | None = None
    """The heading of what tells issues from returns, or variable overhead from fixed.
    Unless given: `always` says it; or else, of material, a quantity below nothing is a return.
    Example: `Movement`"""
    material: f.Words | None = None
    """The heading of the materials.
    Example: `Article`"""
    quantity: f.Words | None = None
    """The heading of the quantities; a cell may have its unit behind the number.
    Example: `Qty`"""
    unit: f.Words | None = None
    """The heading of the quantities' units.
    Example: `UoM`"""
    price: f.Words | None = None
    """The heading of the prices; a cell may have its currency, and what it is for.
    Example: `Unit price`"""
    per: f.Words | None = None
    """The heading of what each price is for.
    Example: `Price unit`"""
    currency: f.Words | None = None
    """The heading of the currencies.
    Example: `Cur`"""
    supplier: f.Words | None = None
    """The heading of the suppliers.
    Example: `Vendor`"""
    freight: f.Words | None = None
    """The heading of the freight.
    Example: `Carriage`"""
    rate: f.Words | None = None
    """The heading of the rates of exchange: how much of a line's currency one unit of home currency
    bought.
    Example: `Rate`"""
    good: f.Words | None = None
    """The heading of the good pieces.
    Example: `OK`"""
    scrapped: f.Words | None = None
    """The heading of the pieces that were thrown away.
    Example: `Scrap`"""
    spent: f.Words | None = None
    """The heading of what was spent.
    Example: `Amount`"""
    model: f.Words | None = None
    """The heading of the models.
    Example: `Boat`"""
    options: f.Words | None = None
    """The heading of the options, with a semicolon between them.
    Example: `Built with`"""
    boats: f.Words | None = None
    """The heading of how many boats are alike.
    Example: `Boats`"""
    quote: f.Words | None = None
    """The heading of the quotes, each with its revision.
    Example: `Quote`"""
    started: f.Words | None = None
    """The heading of the first days of work.
    Example: `Begun`"""
    finished: f.Words | None = None
    """The heading of the days that jobs were done.
    Example: `Done`"""
    note: f.Words | None = None
    """The heading of the remarks, which become notes.
    Example: `Remark`"""


class ExportCodes(CatalogueRecord):
    """The export's own words, by column: each with the word of the yard's that it means.

    A word that is the yard's own already needs no line. Capitals make no difference, and an empty
    word `""` is an empty cell.
    """

    station: Means = Field(default_factory=dict)
    """Words for stations.
    Example: `{L1: laminating, G1: gelcoat}`"""
    material: Means = Field(default_factory=dict)
    """Words for materials.
    Example: `{"70011": resin_lam}`"""
    group: Means = Field(default_factory=dict)
    """Words for wage groups.
    Example: `{P3: laminator}`"""
    supplier: Means = Field(default_factory=dict)
    """Words for suppliers.
    Example: `{V-204: dolvane}`"""
    model: Means = Field(default_factory=dict)
    """Words for models.
    Example: `{C98: coaster_98}`"""
    options: Means = Field(default_factory=dict)
    """Words for options and packages.
    Example: `{SD1: side_single}`"""
    part: Means = Field(default_factory=dict)
    """Words for parts.
    Example: `{A-310: side_door}`"""
    operation: Means = Field(default_factory=dict)
    """Words for operations.
    Example: `{GEL: "1"}`"""
    job: Means = Field(default_factory=dict)
    """Words for jobs.
    Example: `{STOCK: 2026-0000}`"""
    kind: Means = Field(default_factory=dict)
    """Words for `issue` and `return`, or for `variable` and `fixed`.
    Example: `{Rückgabe: return, Entnahme: issue}`"""
    rework: Means = Field(default_factory=dict)
    """Words for yes and no, beyond the usual ones of a few languages.
    Example: `{N: yes, "": no}`"""


class ExportBare(CatalogueRecord):
    """What a number is in where neither its cell nor a column beside it says so."""

    hours: f.Words | None = None
    """The unit of bare hours.
    Example: `h`"""
    quantity: f.Per | None = None
    """The unit of bare quantities.
    Example: `kg`"""
    price: f.Per | None = None
    """What bare prices are for.
    Example: `kg`"""


class ExportAlways(CatalogueRecord):
    """What holds of every row, where an export has no column for it."""

    kind: f.Words | None = None
    """What every row is: `issue` or `return`, or `variable` or `fixed`.
    Example: `issue`"""
    station: f.Identifier | None = None
    """The station, by its id.
    Example: `laminating`"""
    supplier: f.Identifier | None = None
    """The supplier, by its id.
    Example: `dolvane`"""
    group: f.Identifier | None = None
    """The wage group.
    Example: `laminator`"""
    rework: f.Truth | None = None
    """Whether every row is rework.
    Example: `no`"""


class Export(CatalogueRecord):
    """How a file is read that the yard's clock, store or ledger hands out.

    Hidden sheets, rows and columns are left out and named; so are rows of totals, and titles.
    """

    id: f.Identifier
    """Names the export for `quoter import-actuals`, and in numbers made for its rows.
    Example: `clock`"""
    of: Annotated[str, f.choice(*TABLES)]
    """The table of `actuals/` that its rows go to.
    Example: `hours`"""
    headings: ExportHeadings
    """What its columns are called."""
    codes: ExportCodes | None = None
    """Its own words for what the yard has ids of."""
    units: Many[UnitWord] = ()
    """Its own words for units of material."""
    bare: ExportBare | None = None
    """What its numbers are in that have no unit."""
    currency: f.Currency | None = None
    """The currency of money without one.
    Unless given: on purchases that of the supplier, else the home currency.
    Example: `EUR`"""
    always: ExportAlways | None = None
    """What holds of every row."""
    days: Annotated[str, f.choice(*DAY_ORDERS)] | None = None
    """In which order the numbers of a day stand, as in 03/04/2026 or 3.4.26.
    Unless given: only days that can be read in one way are taken, such as 2026-04-03 or 3.4.2026.
    Example: `day month`"""
    sheet: f.Words | None = None
    """The sheet of a workbook that is read; needed where several visible ones have the headings.
    Unless given: the one that has them.
    Example: `Bookings`"""
    decimal: Annotated[str, f.choice("point", "comma")] = "point"
    """What stands before decimals in its numbers.
    Example: `comma`"""
    passed_over: Many[f.Words] = ()
    """Words that mark rows which are none of the table's: where one is all of a cell, its row is
    passed over and told.
    Example: `[Carried over, Stocktaking]`"""
    note: f.Note | None = None
