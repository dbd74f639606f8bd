"""What the numbers of an export say: hours, quantities with their units, money."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from decimal import Decimal

from quoter.catalogue.exports import Export
from quoter.catalogue.fields import is_currency
from quoter.catalogue.records import Records
from quoter.importing.cells import (
    CellFault,
    SheetCell,
    amount_in,
    is_mark_of,
    number_in,
    sound_text,
)
from quoter.importing.per_words import parted, unit_in
from quoter.problems import quoted
from quoter.spellings import HOURS, MEANT
from quoter.units import UnitError, to_base, unit

# 3:30, 3:30:15 or 3h30, as a workbook's own time is told too.
_CLOCK = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<days>\d{1,4}) days?, )?(?P<h>\d{1,4})[:h](?P<m>[0-5]\d)"
    r"(?::(?P<s>[0-5]\d)(?P<part>\.\d+)?)?(?: ?h)?\Z",
    re.ASCII,
)
# A number, and the words behind it: 12,5 kg.
_MEASURED = re.compile(r"(?P<number>[^\w.,]*[\d.,](?:[\d.,'\u2019 ]*[\d.,])?) ?(?P<unit>\D.*)?\Z")
_SAID = {"hours": "hours", "quantity": "a quantity", "price": "a price", "wage": "a wage"}
_HOUR = unit("h")
Cells = dict[str, SheetCell]


def plain(number: Decimal) -> str:
    """A number without noughts that say nothing.

    >>> plain(Decimal("3.50")), plain(Decimal("1E+2"))
    ('3.5', '100')
    """
    return f"{number.normalize():f}"


def time_told(words: str) -> str:
    """A time of a clock's as a duration, exactly; "" for what is none.

    >>> time_told("3:30"), time_told("0:20"), time_told("1 day, 2:00:00"), time_told("3,5")
    ('3.5 h', '20 min', '26 h', '')
    """
    found = _CLOCK.match(words)
    if found is None:
        return ""
    hours = int(found["days"] or 0) * 24 + int(found["h"])
    seconds = (hours * 60 + int(found["m"])) * 60 + int(found["s"] or 0)
    seconds += round(float(found["part"] or 0))
    for size, symbol, finest in ((3600, "h", 100), (60, "min", 1), (1, "s", 1)):
        if seconds * finest % size == 0:
            return f"{found['sign'].strip('+')}{plain(Decimal(seconds) / size)} {symbol}"
    raise ValueError(f"no whole seconds: {words}")


class BesideFault(CellFault):
    """A fault of the cell beside the one that is read, such as that of its unit."""

    def __init__(self, role: str, fault: CellFault) -> None:
        """Keep which cell it is."""
        super().__init__(fault.code, fault.what, fault.hint)
        self.role = role


@dataclass(slots=True)
class Amounts:
    """Reads the cells of an export that hold numbers, each with those beside it."""

    records: Records
    export: Export
    _units: dict[str, str] = field(default_factory=dict)

    def hours(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        """Hours: 3.5, 3:30, 210 min, or a workbook's own time.

        Raises:
            CellFault: the cell says none.
        """
        cell = cells[column]
        if cell.day is not None:
            what = f"{quoted(cell.text)} is a date where hours belong"
            raise CellFault("unreadable-cell", what, "format the cell as [h]:mm, or as a number")
        if cell.kind == "date" and (told := time_told(cell.text)):
            return told
        number, words = self._measured(cell, "hours")
        if number is None:
            return time_told(words)
        if not words:
            return f"{plain(number)} {self._bare('hours', 'h')}"
        word = words.strip(". ").casefold()
        symbol = HOURS.get(word) or MEANT.get(word, words)
        try:
            base, _factor = to_base(unit(symbol))
        except UnitError as bad:
            raise CellFault(bad.code, bad.what, bad.hint) from bad
        if base != _HOUR:
            what = f"{quoted(cell.text)} is no time"
            raise CellFault("wrong-unit", what, "write hours, such as 3.5 h, 3:30 or 210 min")
        return f"{plain(number)} {symbol}"

    def quantity(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        """A quantity with its unit, its own or that of the column beside it.

        Raises:
            CellFault: the cells say none.
        """
        cell = cells[column]
        number, own = self._measured(cell, column)
        if number is None:
            return ""
        beside = self._beside(cells, "unit")
        symbol = self._unit(own) if own else beside
        if own and beside and to_base(unit(symbol)) != to_base(unit(beside)):
            what = f"the quantity is in {symbol}, and {cells['unit'].place.clickable} says {beside}"
            raise CellFault("differs", what, "write both alike")
        symbol = symbol or self._bare(column, "kg")
        many, _blank, single = symbol.partition(" ")
        return (
            f"{plain(number * Decimal(many))} {single}" if single else f"{plain(number)} {symbol}"
        )

    def _measured(self, cell: SheetCell, column: str) -> tuple[Decimal | None, str]:
        """A number and the words of its unit; None for an empty cell, or a time of a clock."""
        if cell.kind == "number" and cell.number is not None:
            return cell.number, cell.per.strip("/ ")
        text = sound_text(cell, _SAID[column])
        if not text or (column == "hours" and _CLOCK.match(text)):
            return None, text
        found = _MEASURED.match(text)
        if found is None:
            hint = f"write digits, with a {self.export.decimal} for decimals"
            raise CellFault("not-a-number", f"{quoted(text)} is no number", hint)
        return number_in(found["number"], str(self.export.decimal)), (found["unit"] or "").strip()

    def _beside(self, cells: Cells, role: str) -> str:
        cell = cells.get(role)
        try:
            text = sound_text(cell, "a unit") if cell is not None else ""
            return self._unit(text) if text else ""
        except CellFault as bad:
            raise BesideFault(role, bad) from bad

    def _unit(self, words: str) -> str:
        """The catalogue's unit for a word, read once."""
        if words not in self._units:
            self._units[words] = unit_in(words, self.export)
        return self._units[words]

    def _bare(self, column: str, such: str) -> str:
        """The unit of a number that has none.

        Raises:
            CellFault: nothing says.
        """
        said = getattr(self.export.bare, column, None)
        if said is None:
            hint = f"write it there, or say for example 'bare: {{{column}: {such}}}' of the export"
            place = self.export.place.clickable
            raise CellFault("no-unit", "a number without a unit", f"{hint} at {place}")
        return str(said)

    def price(self, column: str, cells: Cells, found: dict[str, str]) -> str:
        """A price, in its currency and per a unit.

        Raises:
            CellFault: the cells say none.
        """
        cell, own = _parted(cells[column])
        if not cell.text:
            return ""
        number, currency = self._amount(cell, column, cells, found)
        beside = self._beside(cells, "per")
        per = self._unit(own) if own else beside
        if own and beside and to_base(unit(per)) != to_base(unit(beside)):
            what = f"the price is per {per}, and {cells['per'].place.clickable} says per {beside}"
            raise CellFault("differs", what, "write both alike")
        return f"{plain(number)} {currency}/{per or self._bare(column, 'kg')}"

    def money(self, column: str, cells: Cells, found: dict[str, str]) -> str:
        """An amount of money; of a wage, what an hour is paid at.

        Raises:
            CellFault: the cell says none.
        """
        cell, own = _parted(cells[column])
        if not cell.text:
            return ""
        words = own.strip("/ ").casefold()
        if own and (column != "wage" or MEANT.get(words, words) != "h"):
            what = f"{quoted(cells[column].text)} is no {'wage' if column == 'wage' else 'amount'}"
            raise CellFault("wrong-unit", what, f"leave out {quoted(own)}")
        number, currency = self._amount(cell, column, cells, found)
        return f"{plain(number)} {currency}{'/h' if column == 'wage' else ''}"

    def _amount(
        self, cell: SheetCell, column: str, cells: Cells, found: dict[str, str]
    ) -> tuple[Decimal, str]:
        """The number of an amount, and the code of its currency: its own, or what is said of it.

        Raises:
            CellFault: it is none, or of a currency that can't be told.
        """
        number, mark = amount_in(cell, str(self.export.decimal), _SAID.get(column, "an amount"))
        said = self._currency(cells, found) if column != "wage" else str(self.records.home)
        if not mark or is_mark_of(mark, said):
            return number, said
        if is_currency(mark.upper()) and not cells.get("currency"):
            return number, mark.upper()
        what = f"{quoted(cell.text)} is in {quoted(mark)}"
        raise CellFault("wrong-currency", what, f"expected {said}, or the three letters of another")

    def _currency(self, cells: Cells, found: dict[str, str]) -> str:
        """The currency of a row's money, where the amount itself does not say."""
        supplier = self.records.suppliers.get(found.get("supplier", ""))
        usual = supplier.currency if supplier is not None else self.records.home
        said = str(self.export.currency or usual)
        cell = cells.get("currency")
        try:
            text = sound_text(cell, "a currency") if cell is not None else ""
            if text and not is_mark_of(text, said) and not is_currency(text.upper()):
                hint = "write the three letters of a currency, for example 'EUR'"
                raise CellFault("bad-currency", f"{quoted(text)} is no currency code", hint)
        except CellFault as bad:
            raise BesideFault("currency", bad) from bad
        return said if not text or is_mark_of(text, said) else text.upper()

    def rate(self, column: str, cells: Cells, found: dict[str, str]) -> str:
        """A rate of exchange of a line's currency; one of home money for itself says nothing.

        Raises:
            CellFault: the cell says none.
        """
        cell = cells[column]
        if not cell.text:
            return ""
        number, _ = amount_in(cell, str(self.export.decimal), "a rate")
        code = found.get("price", "").partition(" ")[2].partition("/")[0]
        home = str(self.records.home)
        if not code:
            code = self._currency(cells, found)
        return "" if code == home and number == 1 else f"{plain(number)} {code}/{home}"

    def count(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        """A bare number, such as that of pieces.

        Raises:
            CellFault: the cell says none.
        """
        cell = cells[column]
        if not cell.text:
            return ""
        number, mark = amount_in(cell, str(self.export.decimal), "a number")
        if mark:
            raise CellFault("not-a-number", f"{quoted(cell.text)} is money", "write a number")
        return plain(number)


def _parted(cell: SheetCell) -> tuple[SheetCell, str]:
    """A cell of money without what it says that the amount is for, and that."""
    if cell.kind != "text":
        return cell, cell.per
    amount, per = parted(" ".join(cell.text.split()))
    return (replace(cell, text=amount), per) if per else (cell, "")
