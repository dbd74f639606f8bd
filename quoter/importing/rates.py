"""`quoter import-rates`: published exchange rates become dated lines of exchange.csv."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Context, Decimal
from pathlib import Path

from quoter.catalogue.prices import newest, rate_key, usual_limit
from quoter.catalogue.received import RateFile
from quoter.catalogue.records import Records
from quoter.catalogue.tables import ExchangeRow
from quoter.columns import columns
from quoter.figures.graph import input_behind
from quoter.importing.cells import (
    CellFault,
    SheetCell,
    SheetError,
    SheetRow,
    alike,
    amount_in,
    sound_text,
)
from quoter.importing.days import day_in, far_ahead
from quoter.importing.moves import SAME, another_day, beyond_limit
from quoter.importing.table import HeadedTable, find_table, read_sheets, wanted_headings
from quoter.importing.writing import Import, longer, read_sound, try_out
from quoter.plausibility.meant import as_accepted
from quoter.problems import UNPRINTABLE, CatalogueError, Place, Problem, quoted

NAME = "exchange.csv"
MAPPING = (
    "add for example 'rate_file: {headings: {currency: Currency, rate: Rate}, "
    "quoted: foreign per home}'"
)


@dataclass(frozen=True, slots=True)
class RateMove:
    """A published rate beside the one in force, if there is one."""

    new: Published
    old: ExchangeRow | None

    @property
    def change(self) -> float | None:
        """The relative change; None for a currency's first rate."""
        return None if self.old is None else float(self.new.number) / self.old.rate.value - 1


def import_rates(
    folder: Path,
    path: Path,
    effective: date,
    *,
    accepted: bool = False,
) -> Import:
    """What a file of exchange rates adds from a day on; nothing is written.

    Args:
        folder: the catalogue's
        path: the file
        effective: the day the rates take effect
        accepted: whether jumps beyond the policy's limit, or a day far ahead, are meant
    Raises:
        CatalogueError: the catalogue has problems, would have some, or can't read such files.
    """
    records = read_sound(folder)
    file = _rate_file(records)
    limit = usual_limit(records)
    try:
        table = find_table(read_sheets(path, file.sheet), wanted_headings(file))
    except SheetError as unreadable:
        return Import(faults=unreadable.problems)
    lines = RateLines(table, file, used_currencies(records), effective)
    rates = lines.rates()
    before = newest(records.exchange, effective, rate_key)
    moves = [RateMove(rate, before.get(rate.currency)) for rate in rates]
    faults = [*lines.faults, *_move_faults(table, moves, effective, None if accepted else limit)]
    faults += far_ahead(records, effective, accepted=accepted)
    made = Import(list(_shown(records, lines, moves, limit)), sorted(faults))
    if not faults:
        _add_rows(folder, made, records, lines, moves, UNPRINTABLE.sub("?", path.name))
        # Rates may be older than the first list of prices.
        try_out(folder, made.files, max(effective, min(records.price_lists)))
    return made


def _rate_file(records: Records) -> RateFile:
    """How the yard's file of rates is read.

    Raises:
        CatalogueError: the yard does not say.
    """
    if records.yard is None or records.yard.rate_file is None:
        what = "the yard has no rate_file, which says how published rates are read"
        raise CatalogueError([Problem(Place("yard.yaml", 1, 1), "not-set-up", what, MAPPING)])
    return records.yard.rate_file


def _move_faults(
    table: HeadedTable, moves: Sequence[RateMove], day: date, limit: float | None
) -> Iterator[Problem]:
    for move in moves:
        if move.old is None or not move.change:
            continue
        old, currency = _written(move.old), move.new.currency
        if move.old.date == day and abs(move.change) > SAME:
            what = f"{currency} has a rate of {day} already, {old}"
            yield table.sheet.problem(
                move.new.place, "already-listed", what, another_day(move.old.place)
            )
        elif limit is not None and abs(move.change) - limit > SAME:
            what = f"{currency} would move from {old} by {move.change * 100:+.1f} %"
            yield table.sheet.problem(move.new.place, "price-jump", what, beyond_limit(limit))


def _written(row: ExchangeRow) -> str:
    origin = input_behind(row.rate).origin
    return origin.text if origin is not None else ""


def _shown(
    records: Records, lines: RateLines, moves: Sequence[RateMove], limit: float
) -> Iterator[str]:
    if moves:
        rows = [_row(records, move, limit) for move in moves]
        yield from columns([("currency", "old", "new", "change", ""), *rows], {1, 2, 3})
    yield from lines.table.remarks
    if moves and lines.day is not None and lines.day != lines.effective:
        yield f"None were published on {lines.effective}: these are of {lines.day}."
    for move in moves:
        if move.new.day != lines.day:
            yield f"{move.new.currency} has none of {lines.day}: this is of {move.new.day}."
    absent = lines.used - {move.new.currency for move in moves}
    if moves and absent and not lines.faults:
        yield f"Not in the file, the old rate stays: {', '.join(sorted(absent))}."


def _row(records: Records, move: RateMove, limit: float) -> tuple[str, ...]:
    old = "–" if move.old is None else _written(move.old)
    change = "" if move.change is None else f"{move.change * 100:+.2f} %"
    told = "first rate" if move.change is None else ""
    if move.change is not None and abs(move.change) - limit > SAME:
        told = f"beyond {limit * 100:g} %"
    return move.new.currency, old, _rate(records, move.new), change, told


def _rate(records: Records, rate: Published) -> str:
    return f"{rate.number:f} {rate.currency}/{records.home}"


def _note(records: Records, move: RateMove, file: str, *, turned: bool) -> str:
    """Where a rate is from; one that moves beyond the policy's limit was accepted, and says so."""
    rate = move.new
    note = f"imported from {file}"
    note += f", published {rate.day}" if rate.day is not None else ""
    note += f" as {rate.written} {records.home}/{rate.currency}" if turned else ""
    beyond = move.change is not None and abs(move.change) - usual_limit(records) > SAME
    return as_accepted(note) if beyond else note


def _add_rows(
    folder: Path,
    made: Import,
    records: Records,
    lines: RateLines,
    moves: Sequence[RateMove],
    file: str,
) -> None:
    """Add the table of rates, with those of the day at its end, to the files of an import.

    A rate that is as before is added too, since it grows stale otherwise.
    """
    fresh = [m for m in moves if m.old is None or m.old.date != lines.effective]
    if not fresh:
        return
    turned = lines.file.quoted == "home per foreign"
    rows = [
        {
            "date": str(lines.effective),
            "currency": move.new.currency,
            "rate": _rate(records, move.new),
            "note": _note(records, move, file, turned=turned),
        }
        for move in fresh
    ]
    made.files[NAME] = longer(folder, NAME, ExchangeRow.model_fields, rows)
    count = f"{len(fresh)} rate{'' if len(fresh) == 1 else 's'}"
    made.done = f"{count} from {lines.effective} on added to {folder / NAME}"
    newest_list = max(records.price_lists)
    if lines.effective > newest_list:
        use = f"build with --as-of {lines.effective} to use them"
        made.done += f"; {use}: the newest price list is of {newest_list}"


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

    table: HeadedTable
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
            self._tell(missing[currency], "not-in-force", what, "get a file that has one")
        if not found and not missing and not self.faults:
            what = f"no rate of {' or '.join(sorted(self.used))}, which the yard uses"
            hint = "look whether this is the right file, and has the currencies' codes"
            self._tell(self.table.head.row.cells[0].place, "not-in-force", what, hint)
        rates = (found[currency] for currency in sorted(found))
        return [rate for rate in rates if rate is not None]

    def _take(
        self,
        day: date | None,
        rows: list[SheetRow],
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
                self._tell(place, "written-twice", f"a second rate of {currency}", hint)
                continue
            first[currency] = place
            if day is not None and alike(cell.text) in ABSENT:
                missing.setdefault(currency, cell.place)
            else:
                found[currency] = self._rate(currency, cell, day)

    def _tell(self, place: Place, code: str, what: str, hint: str) -> None:
        self.faults.append(self.table.sheet.problem(place, code, what, hint))

    def _rows_by_day(self) -> list[tuple[date | None, list[SheetRow]]]:
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
            self._tell(
                self.table.head.row.cells[0].place,
                "not-in-force",
                what,
                f"{hint}: get a newer file",
            )
            return []
        self.day = near[0]
        return [(day, by_day[day]) for day in near]

    def _dated(self) -> dict[date, list[SheetRow]]:
        """The rows by their day; remarks between them are left out."""
        column = self.table.columns["date"]
        by_day: dict[date, list[SheetRow]] = {}
        for row in self.table.below:
            cell = self.table.sheet.at(row, column)
            if row.filled() <= 1 or not cell.text:
                continue
            try:
                by_day.setdefault(day_in(cell), []).append(row)
            except CellFault as bad:
                self._tell(cell.place, bad.code, bad.what, bad.hint)
        return by_day

    def _of_lines(self, rows: list[SheetRow]) -> Iterator[tuple[str, Place, SheetCell]]:
        for row in rows:
            cells = self.table.cells(row)
            if long := self.table.too_long(row):
                self.faults.append(long)
                continue
            try:
                currency = sound_text(cells["currency"], "a currency").upper()
            except CellFault as bad:
                self._tell(cells["currency"].place, bad.code, bad.what, bad.hint)
                continue
            if currency in self.used:
                yield currency, cells["currency"].place, cells["rate"]

    def _of_columns(self, rows: list[SheetRow]) -> Iterator[tuple[str, Place, SheetCell]]:
        for row in rows:
            for column, head in enumerate(self.table.head.row.cells):
                currency = alike(head.text).upper()
                if currency in self.used:
                    cell = self.table.sheet.at(row, column)
                    yield currency, cell.place, cell

    def _rate(self, currency: str, cell: SheetCell, day: date | None) -> Published | None:
        try:
            number, _ = amount_in(cell, self.file.decimal, "a rate")
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None
        if number <= 0:
            what = f"a rate of {quoted(cell.text)}"
            self._tell(
                cell.place, "zero-amount", what, f"a rate of {currency} is more than nothing"
            )
            return None
        if self.file.quoted == "home per foreign":
            number = TURNED.divide(Decimal(1), number).normalize()
        return Published(currency, number, cell.place, cell.text, day)
