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

ABSENT = ("", "-", "–", "na", "n/a", "#n/a")  # what stands where a bank published no rate
OLDEST = 7  # days that a published rate may be older than the day it is taken for
TURNED = Context(prec=10)  # digits of a rate turned round, whose decimals need not end


@dataclass(frozen=True, slots=True)
class Published:
    """A rate in units of the currency for one of home currency, and as it was published.

    `day` is the day it was published on, where the file says.
    """

    currency: str
    number: Decimal
    place: Place
    written: str
    day: date | None = None


def used_currencies(records: Records) -> set[str]:
    """The foreign currencies that suppliers sell or markets buy in."""
    used = {str(supplier.currency) for supplier in records.suppliers.values()}
    markets = records.yard.markets if records.yard is not None else ()
    used |= {str(market.currency) for market in markets if market.currency is not None}
    return used - {str(records.home)}


@dataclass(slots=True)
class RateLines:
    """The rates of a file that the yard uses, of the newest day up to one; what is wrong.

    `day` is that newest day, where the file has days and one of them is near enough.
    """

    table: Table
    file: RateFile
    used: set[str]
    effective: date
    faults: list[Problem] = field(default_factory=list)
    day: date | None = None

    def rates(self) -> list[Published]:
        """The newest rate of each currency that is used and in the file."""
        found: dict[str, Published | None] = {}
        missing: dict[str, Place] = {}
        for day, rows in self._rows_by_day():
            self._take(day, rows, found, missing)
            if found.keys() >= self.used:
                break
        for currency in missing.keys() - found.keys():
            what = f"no rate of {currency} on {self.effective} or the {OLDEST} days before it"
            self._tell(missing[currency], what, "get a file that has one")
        if not found and not missing and not self.faults:
            what = f"no rate of {' or '.join(sorted(self.used))}, which the yard uses"
            hint = "look whether this is the right file, and has the currencies' codes"
            self._tell(self.table.head.cells[0].place, what, hint)
        rates = (found[currency] for currency in sorted(found))
        return [rate for rate in rates if rate is not None]

    def _take(
        self,
        day: date | None,
        rows: list[Row],
        found: dict[str, Published | None],
        missing: dict[str, Place],
    ) -> None:
        """Add the rates of a day's rows that no later day has; None for one that can't be read."""
        newer, first = {*found}, dict[str, Place]()
        by_line = "currency" in self.table.columns
        for currency, place, cell in self._of_lines(rows) if by_line else self._of_columns(rows):
            if currency in newer:
                continue
            if currency in first:
                hint = f"the first is at {first[currency].clickable}: keep one of them"
                self._tell(place, f"a second rate of {currency}", hint)
                continue
            first[currency] = place
            if day is not None and alike(cell.text) in ABSENT:
                missing.setdefault(currency, cell.place)
            else:
                found[currency] = self._rate(currency, cell, day)

    def _tell(self, place: Place, what: str, hint: str) -> None:
        self.faults.append(self.table.sheet.problem(place, what, hint))

    def _rows_by_day(self) -> list[tuple[date | None, list[Row]]]:
        """The rows of the day wanted and of those near before it, the newest first.

        Banks don't publish every day, nor every currency on each.
        """
        if "date" not in self.table.columns:
            return [(None, self.table.below)]
        by_day = self._dated()
        if self.faults:
            return []
        past = sorted((day for day in by_day if day <= self.effective), reverse=True)
        near = [day for day in past if (self.effective - day).days <= OLDEST]
        if not near:
            what = f"no rates of {self.effective} or the {OLDEST} days before it"
            hint = f"the newest before it are of {past[0]}" if past else "all are of later days"
            self._tell(self.table.head.cells[0].place, what, f"{hint}: get a newer file")
            return []
        self.day = near[0]
        return [(day, by_day[day]) for day in near]

    def _dated(self) -> dict[date, list[Row]]:
        """The rows by their day; remarks between them are left out."""
        column = self.table.columns["date"]
        by_day: dict[date, list[Row]] = {}
        for row in self.table.below:
            cell = self.table.sheet.at(row, column)
            if row.filled() <= 1 or not cell.text:
                continue
            try:
                by_day.setdefault(day_in(cell), []).append(row)
            except CellFault as bad:
                self._tell(cell.place, bad.what, bad.hint)
        return by_day

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

    def _rate(self, currency: str, cell: SheetCell, day: date | None) -> Published | None:
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
        return Published(currency, number, cell.place, cell.text, day)
