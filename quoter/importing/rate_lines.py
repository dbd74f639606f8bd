"""The lines of a file of exchange rates: which day's are taken, and what each currency's is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from decimal import Context, Decimal

from quoter.catalogue.received import RateFile
from quoter.catalogue.records import Records
from quoter.importing.amounts import amount_in
from quoter.importing.cells import CellFault, Row, SheetCell, alike, sound_text
from quoter.importing.days import day_in
from quoter.importing.table import Table
from quoter.problems import Place, Problem, quoted

OLDEST = 7  # days that a published rate may be older than the day it is taken for
TURNED = Context(prec=10)  # digits of a rate turned round, whose decimals need not end


@dataclass(frozen=True, slots=True)
class Published:
    """A rate in units of the currency for one of home currency, and as it was published."""

    currency: str
    number: Decimal
    place: Place
    written: str


def used_currencies(records: Records) -> set[str]:
    """The foreign currencies that suppliers sell or markets buy in."""
    used = {str(supplier.currency) for supplier in records.suppliers.values()}
    markets = records.yard.markets if records.yard is not None else ()
    used |= {str(market.currency) for market in markets if market.currency is not None}
    return used - {str(records.home)}


@dataclass(slots=True)
class RateLines:
    """The rates of a file that the yard uses, of the newest day up to one; what is wrong."""

    table: Table
    file: RateFile
    used: set[str]
    effective: date
    faults: list[Problem] = field(default_factory=list)
    day: date | None = None

    def rates(self) -> list[Published]:
        """The rate of each currency that is used and in the file."""
        rows = self._rows_of_the_day() if "date" in self.table.columns else self.table.below
        cells = self._of_lines(rows) if "currency" in self.table.columns else self._of_columns(rows)
        found: dict[str, Published] = {}
        first: dict[str, Place] = {}
        for currency, place, cell in cells:
            if currency in first:
                hint = f"the first is at {first[currency].clickable}: keep one of them"
                self._tell(place, f"a second rate of {currency}", hint)
                continue
            first[currency] = place
            rate = self._rate(currency, cell)
            if rate is not None:
                found[currency] = rate
        if not first and not self.faults:
            what = f"no rate of {' or '.join(sorted(self.used))}, which the yard uses"
            hint = "look whether this is the right file, and has the currencies' codes"
            self._tell(self.table.head.cells[0].place, what, hint)
        return [found[currency] for currency in sorted(found)]

    def _tell(self, place: Place, what: str, hint: str) -> None:
        self.faults.append(self.table.sheet.problem(place, what, hint))

    def _rows_of_the_day(self) -> list[Row]:
        """The rows of the day wanted, or of the newest before it: banks don't publish every day."""
        column = self.table.columns["date"]
        by_day: dict[date, list[Row]] = {}
        for row in self.table.below:
            if row.filled() <= 1 or not self.table.sheet.at(row, column).text:
                continue  # a remark
            cell = self.table.sheet.at(row, column)
            try:
                by_day.setdefault(day_in(cell), []).append(row)
            except CellFault as bad:
                self._tell(cell.place, bad.what, bad.hint)
        if self.faults:
            return []
        self.day = max((day for day in by_day if day <= self.effective), default=None)
        if self.day is None or (self.effective - self.day).days > OLDEST:
            what = f"no rates of {self.effective} or the {OLDEST} days before it"
            hint = (
                f"the newest before it are of {self.day}" if self.day else "all are of later days"
            )
            self._tell(self.table.head.cells[0].place, what, f"{hint}: get a newer file")
            return []
        return by_day[self.day]

    def _of_lines(self, rows: list[Row]) -> Iterator[tuple[str, Place, SheetCell]]:
        for row in rows:
            cells = self.table.cells(row)
            if long := self.table.too_long(row):
                self.faults.append(long)
                continue
            try:
                currency = sound_text(cells["currency"], "a currency").upper()
            except CellFault as bad:
                self._tell(cells["currency"].place, bad.what, bad.hint)
                continue
            if currency in self.used:
                yield currency, cells["currency"].place, cells["rate"]

    def _of_columns(self, rows: list[Row]) -> Iterator[tuple[str, Place, SheetCell]]:
        for row in rows:
            for column, head in enumerate(self.table.head.cells):
                currency = alike(head.text).upper()
                if currency in self.used:
                    cell = self.table.sheet.at(row, column)
                    yield currency, cell.place, cell

    def _rate(self, currency: str, cell: SheetCell) -> Published | None:
        try:
            number, _ = amount_in(cell, self.file.decimal, "a rate")
        except CellFault as bad:
            self._tell(cell.place, bad.what, bad.hint)
            return None
        if number <= 0:
            what = f"a rate of {quoted(cell.text)}"
            self._tell(cell.place, what, f"a rate of {currency} is more than nothing")
            return None
        if self.file.quoted == "home per foreign":
            number = TURNED.divide(Decimal(1), number).normalize()
        return Published(currency, number, cell.place, cell.text)
