"""The prices of a sheet as one table, prices.csv, and what its columns mean.

The table is one of RFC 4180. What its columns mean is said as CSV on the Web has it (W3C
Recommendation "Metadata Vocabulary for Tabular Data", 2015): in a file beside it, which programs
find by its name.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from io import StringIO

from quoter.catalogue.csv_cells import as_text
from quoter.formats import TABLE
from quoter.pages.public.data import (
    OPENING,
    Data,
    amount_text,
    caution,
    ids,
    measure_text,
    most_of,
    rate_text,
    text_of,
)
from quoter.pages.public.views import (
    GroupView,
    ModelView,
    OptionView,
    PackageView,
    SheetView,
    SurchargeView,
    View,
)
from quoter.pricing.public import PublicMeasure, PublicPrice

NUMBERS = ("decimal", "integer")
LINE_END = "\r\n"


@dataclass(frozen=True, slots=True)
class TableLine(View):
    """A line of the table before it is written: what is had with a model, and how."""

    model: ModelView
    item: str
    id: str
    name: str
    group: str = ""
    kind: str = ""
    price: PublicPrice | None = None
    tax: Decimal | None = None
    mass: PublicMeasure | None = None
    lead_time: str = ""
    needs: tuple[str, ...] = ()
    not_with: tuple[str, ...] = ()
    instead_of: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    most: int | None = None


@dataclass(frozen=True, slots=True)
class CsvColumn:
    """A column: its name, what it means, and how a cell of it is filled.

    `type` is one of CSV on the Web's; `own` marks texts in the sheet's language, `several` ids with
    spaces between them, `always` what is never empty.
    """

    name: str
    words: str
    cell: Callable[[SheetView, TableLine], str]
    type: str = "string"
    own: bool = False
    several: bool = False
    always: bool = False


def _price(sheet: SheetView, line: TableLine) -> str:
    return "" if line.price is None else amount_text(line.price)


def _mass(sheet: SheetView, line: TableLine) -> str:
    return "" if line.mass is None else measure_text(line.mass)


def _rate(sheet: SheetView, line: TableLine) -> str:
    return rate_text(sheet.tax if line.tax is None else line.tax)


def _tax(sheet: SheetView, line: TableLine) -> str:
    return "with" if sheet.taxed else "without"


def _most(sheet: SheetView, line: TableLine) -> str:
    return "" if line.most is None else str(line.most)


def _caution(sheet: SheetView, line: TableLine) -> str:
    return caution(sheet) if line.kind == OPENING else ""


# No two columns of numbers stand side by side, since the comma between them could be read as that
# of one number; texts are parted by quotes.
COLUMNS = (
    CsvColumn("model", "Id of the model.", lambda _, line: line.model.id, always=True),
    CsvColumn(
        "model_name",
        "What the model is called.",
        lambda _, line: line.model.name,
        own=True,
        always=True,
    ),
    CsvColumn(
        "item",
        "What the line is of: the boat with its standard equipment; delivery, charged with every "
        "boat on top of its price; standard, which the boat's price includes; an option; a "
        "surcharge, on top of the prices of the option and the hull colour that it needs; or a "
        "package of options.",
        lambda _, line: line.item,
        always=True,
    ),
    CsvColumn("id", "Its id, the same on every model.", lambda _, line: line.id, always=True),
    CsvColumn("name", "What it is called.", lambda _, line: line.name, own=True, always=True),
    CsvColumn("group", "The group of an option.", lambda _, line: line.group, own=True),
    CsvColumn(
        "kind",
        "What kind of thing an option is: opening, panel, core, colour or fitting.",
        lambda _, line: line.kind,
    ),
    CsvColumn(
        "price",
        "Price on this model; below zero where it takes something off, empty for what the boat's "
        "price includes.",
        _price,
        type="decimal",
    ),
    CsvColumn(
        "currency", "Currency, by its three letters.", lambda sheet, _: sheet.currency, always=True
    ),
    CsvColumn(
        "tax_rate",
        "Rate of the tax on it, as a fraction of a price without it.",
        _rate,
        type="decimal",
        always=True,
    ),
    CsvColumn("tax", "Whether the price is with the tax or without.", _tax, always=True),
    CsvColumn(
        "mass_kg",
        "Mass of the boat with standard equipment, or what an option or package adds; below zero "
        "where it takes some off.",
        _mass,
        type="decimal",
    ),
    CsvColumn("lead_time", "Lead time, in words.", lambda _, line: line.lead_time, own=True),
    CsvColumn(
        "needs",
        "Options that must be on the boat with it.",
        lambda _, line: " ".join(line.needs),
        several=True,
    ),
    CsvColumn(
        "not_with",
        "Options that can't be on the boat with it.",
        lambda _, line: " ".join(line.not_with),
        several=True,
    ),
    CsvColumn(
        "instead_of",
        "Standard options of the model whose place it takes.",
        lambda _, line: " ".join(line.instead_of),
        several=True,
    ),
    CsvColumn(
        "holds",
        "Options that a package holds, one of each.",
        lambda _, line: " ".join(line.holds),
        several=True,
    ),
    CsvColumn("most", "How many of it a boat can have at most.", _most, type="integer"),
    CsvColumn("caution", "What must be shown with the price of an opening.", _caution, own=True),
    CsvColumn("market", "Id of the market.", lambda sheet, _: sheet.head.id, always=True),
    CsvColumn(
        "valid_from",
        "First day on which the price holds.",
        lambda sheet, _: sheet.valid_from.isoformat(),
        type="date",
        always=True,
    ),
    CsvColumn(
        "valid_until",
        "Last day on which the price holds.",
        lambda sheet, _: sheet.valid_until.isoformat(),
        type="date",
        always=True,
    ),
    CsvColumn(
        "version", "Version of the price sheet.", lambda sheet, _: sheet.version, always=True
    ),
)


def prices_csv(sheet: SheetView) -> bytes:
    """The file prices.csv: a line for everything that can be had with each model.

    It begins with a byte order mark: without one, spreadsheet programs on Windows take a file that
    is opened by a click to be in the code page of the machine (common practice, no source), and
    readers of UTF-8 on the web leave it out (WHATWG Encoding, "UTF-8 decode").
    """
    text = StringIO(newline="")
    # Names without quotes: one behind the mark would be a letter to readers that don't know it.
    text.write(",".join(column.name for column in COLUMNS) + LINE_END)
    writer = csv.writer(text, lineterminator=LINE_END, quoting=csv.QUOTE_NONNUMERIC)
    safe = cache(as_text)  # most columns say the same on many lines
    for line in lines_of(sheet):
        writer.writerow([_cell(column.cell(sheet, line), column, safe) for column in COLUMNS])
    return text.getvalue().encode("utf-8-sig")


def csv_metadata(sheet: SheetView) -> bytes:
    """The file prices.csv-metadata.json: what the columns of prices.csv mean."""
    title = {"@value": f"{sheet.company.name} {sheet.version}", "@language": sheet.head.tag}
    record = {
        "@context": ["http://www.w3.org/ns/csvw", {"@language": "en"}],
        "url": "prices.csv",
        "dc:title": title,
        "tableSchema": {
            "schema:version": str(TABLE.newest),
            "columns": [_described(sheet, column) for column in COLUMNS],
            "primaryKey": ["model", "item", "id"],
        },
    }
    return (json.dumps(record, indent=1, ensure_ascii=False) + "\n").encode()


def _described(sheet: SheetView, column: CsvColumn) -> Data:
    found: Data = {
        "name": column.name,
        "titles": column.name,
        "dc:description": column.words,
        "datatype": column.type,
    }
    if column.own:
        found["lang"] = sheet.head.tag
    if column.several:
        found["separator"] = " "
    if column.always:
        found["required"] = True
    return found


def _cell(said: str, column: CsvColumn, safe: Callable[[str], str]) -> str | Decimal:
    """A number, or a text with an apostrophe before what could be a formula."""
    text = text_of(said)
    if column.type in NUMBERS:
        return Decimal(text) if text else text
    return safe(text)


def lines_of(sheet: SheetView) -> Iterator[TableLine]:
    """Everything that can be had with each model, boat by boat."""
    for model in sheet.models:
        yield TableLine(model, "boat", model.id, model.name, price=model.price, mass=model.mass)
        if sheet.delivery is not None:
            price = sheet.delivery.price
            yield TableLine(model, "delivery", "delivery", sheet.delivery.words, price=price)
        for item in model.standard:
            yield TableLine(model, "standard", item.id, item.name, kind=item.kind)
        for group in model.groups:
            for option in group.options:
                yield _option(model, group, option)
                yield from (_surcharge(model, option, each) for each in option.surcharges)
        yield from (_package(model, package) for package in model.packages)


def _option(model: ModelView, group: GroupView, option: OptionView) -> TableLine:
    return TableLine(
        model,
        "option",
        option.id,
        option.name,
        group=group.name,
        kind=option.kind,
        price=option.price,
        tax=None if option.tax is None else option.tax.rate,
        mass=option.mass,
        lead_time=option.lead_time,
        needs=ids(option.needs),
        not_with=ids(option.conflicts),
        instead_of=ids(option.instead_of),
        most=most_of(option),
    )


def _surcharge(model: ModelView, option: OptionView, each: SurchargeView) -> TableLine:
    return TableLine(
        model,
        "surcharge",
        each.id,
        each.words,
        price=each.price,
        tax=None if option.tax is None else option.tax.rate,
        needs=(option.id, each.colour),
        most=most_of(option),
    )


def _package(model: ModelView, package: PackageView) -> TableLine:
    return TableLine(
        model,
        "package",
        package.id,
        package.name,
        price=package.price,
        mass=package.mass,
        holds=ids(package.options),
        most=1,
    )
