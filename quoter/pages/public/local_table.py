"""The prices of a sheet as a table in its reader's habit, prices-local.csv.

Programs read the table beside it, prices.csv, which is the same everywhere. This one is for people
who open it in a spreadsheet program set to their country: heads and names in the sheet's language,
days and decimals as the locale writes them, and masses in the unit that the market reads. Cells are
parted by semicolons where the comma is the decimal sign, by commas elsewhere, which is what
spreadsheet programs expect there (common practice, no source); lines end and quotes are doubled as
RFC 4180 says.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache, cached_property
from io import StringIO

from babel import Locale
from babel.dates import format_skeleton

from quoter.catalogue.csv_cells import as_text
from quoter.figures.exact import half_up
from quoter.figures.readers import METRIC, US
from quoter.pages import money
from quoter.pages.public.data import OPENING, caution, measure_text
from quoter.pages.public.data_table import LINE_END, TableLine, lines_of
from quoter.pages.public.views import SheetView
from quoter.pricing.public import PublicMeasure
from quoter.wording import Wording, wording

PRICE, KILOGRAMS, POUNDS = "price", "kg", "lb"  # what a number is of
_BETWEEN = "; "
_DAY = "yMd"  # a day in digits with the whole year, in the locale's order (CLDR's skeleton)


@dataclass(frozen=True, slots=True)
class LocalColumn:
    """A column: its head, how a cell is filled, and of what its `number` is where it is one."""

    head: str
    cell: Callable[[TableLine], str]
    number: str = ""


def prices_local_csv(sheet: SheetView) -> bytes:
    """The file prices-local.csv; see the module for its habit, and `prices_csv` for the mark."""
    table = LocalTable(sheet)
    text = StringIO(newline="")
    writer = csv.writer(
        text, delimiter=table.separator, lineterminator=LINE_END, quoting=csv.QUOTE_ALL
    )
    safe = cache(as_text)
    writer.writerow([safe(column.head) for column in table.columns])
    # What looks like a number is one to spreadsheet programs in quotes as well (RFC 4180 knows no
    # other difference); quoted, two numbers side by side are never read as one.
    for line in lines_of(sheet):
        writer.writerow(
            [
                column.cell(line) if column.number else safe(column.cell(line))
                for column in table.columns
            ]
        )
    return text.getvalue().encode("utf-8-sig")


@dataclass(frozen=True)
class LocalTable:
    """How the table of one price sheet is written: its columns, and the locale's signs."""

    sheet: SheetView

    @cached_property
    def locale(self) -> Locale:
        """Of the sheet's language."""
        return Locale.parse(self.sheet.head.tag, sep="-")

    @cached_property
    def _say(self) -> Wording:
        return wording(self.locale)

    @cached_property
    def decimal(self) -> str:
        """What parts a number's decimals."""
        return str(self.locale.number_symbols["latn"]["decimal"])

    @property
    def separator(self) -> str:
        """What parts the cells."""
        return ";" if self.decimal == "," else ","

    def day(self, on: date) -> str:
        """A day as the table writes it."""
        return str(format_skeleton(_DAY, on, locale=self.locale))

    def number(self, plain: str) -> str:
        """A number as the table writes it, from one that data have: no thousands are parted."""
        return plain.replace(".", self.decimal)

    @cached_property
    def columns(self) -> Sequence[LocalColumn]:
        """What stands beside each other."""
        return tuple(self._columns())

    def _columns(self) -> Iterator[LocalColumn]:
        sheet, say = self.sheet, self._say
        yield LocalColumn(say("Boat"), lambda line: line.model.name)
        yield LocalColumn(say("Item"), lambda line: self._items[line.item])
        yield LocalColumn(say("Name"), lambda line: line.name)
        yield LocalColumn(say("Group"), lambda line: line.group)
        yield LocalColumn(say("Price"), self._price, number=PRICE)
        yield LocalColumn(say("Currency"), lambda _: sheet.currency)
        yield LocalColumn(say("Tax"), self._tax)
        for unit, worth in self._masses:
            head = f"{say('Weight')} ({unit})"
            yield LocalColumn(head, self._mass(worth), number=unit)
        yield LocalColumn(say("Lead time"), lambda line: line.lead_time)
        yield LocalColumn(say("Only with"), lambda line: self._named(line.needs))
        yield LocalColumn(say("Not together with"), lambda line: self._named(line.not_with))
        yield LocalColumn(say("In place of"), lambda line: self._named(line.instead_of))
        yield LocalColumn(say("Includes"), lambda line: self._named(line.holds))
        yield LocalColumn(
            say("Openings in the hull"),
            lambda line: caution(sheet) if line.kind == OPENING else "",
        )
        yield LocalColumn(say("Valid from"), lambda _: self.day(sheet.valid_from))
        yield LocalColumn(say("Valid until"), lambda _: self.day(sheet.valid_until))
        yield LocalColumn(say("Version"), lambda _: sheet.version)

    @cached_property
    def _items(self) -> Mapping[str, str]:
        """What a line is of, in words."""
        say = self._say
        return {
            "boat": say("Boat"),
            "delivery": say("Delivery, in addition"),
            "standard": say("Standard equipment"),
            "option": say("Option"),
            "surcharge": say("Surcharge"),
            "package": say("Package"),
        }

    @cached_property
    def _masses(self) -> Sequence[tuple[str, Decimal]]:
        """The units of masses that are read, and how many kilograms each is."""
        units, found = self.sheet.units, []
        if units != US.name:
            found.append((KILOGRAMS, Decimal(1)))
        if units != METRIC.name:
            found.append((POUNDS, money.POUND))
        return found

    def _price(self, line: TableLine) -> str:
        return "" if line.price is None else self.number(str(line.price.amount))

    def _mass(self, worth: Decimal) -> Callable[[TableLine], str]:
        def cell(line: TableLine) -> str:
            return "" if line.mass is None else self.number(_measured(line.mass, worth))

        return cell

    def _tax(self, line: TableLine) -> str:
        """Whether it is in the price, with its rate where the line has one of its own."""
        sheet, say = self.sheet, self._say
        rate = sheet.tax if line.tax is None else line.tax
        told = {"name": sheet.tax_name, "tax": money.rate(rate, self.locale)}
        words = say("including %(tax)s %(name)s") if sheet.taxed else say("without %(name)s")
        return words % told

    def _named(self, ids: Sequence[str]) -> str:
        return _BETWEEN.join(self.names.get(id, id) for id in ids)

    @cached_property
    def names(self) -> Mapping[str, str]:
        """What each option that any line speaks of is called."""
        found: dict[str, str] = {}
        for model in self.sheet.models:
            found |= {item.id: item.name for item in model.standard}
            for option in model.options:
                found[option.id] = option.name
                others = (*option.needs, *option.conflicts, *option.instead_of)
                found |= {other.id: other.name for other in others}
                found |= {each.colour: each.colour_name for each in option.surcharges}
            for package in model.packages:
                found |= {other.id: other.name for other in package.options}
        return found


def _measured(mass: PublicMeasure, worth: Decimal) -> str:
    if worth == 1:
        return measure_text(mass)
    return str(half_up(mass.amount / worth, 1))
