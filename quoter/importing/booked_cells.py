"""What the cells of an export's row say, as the tables of `actuals/` write it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date

from quoter.catalogue.booked_words import BETWEEN, booking_in
from quoter.catalogue.checks_exports import IDS, called, named_in, words_for
from quoter.catalogue.csv_cells import FORMULA_STARTS, as_text
from quoter.catalogue.exports import HELPING, Export, columns_of_table
from quoter.catalogue.records import Records
from quoter.importing.booked_amounts import Amounts, BesideFault
from quoter.importing.cells import CellFault, SheetCell, alike, sound_text, squeezed
from quoter.importing.days import DAY_NUMBERS, moment_in, month_in
from quoter.importing.per_words import and_then
from quoter.problems import nearest, quoted
from quoter.spellings import TRUTHS

ISSUE, RETURN = "issue", "return"
# Texts of anybody's own: with some beginnings a spreadsheet program would take one for a formula.
_FREE = ("reference", "job", "part", "operation", "quote")
_ITEM = re.compile(r"(?P<word>.+?)(?:\s+[x×]\s*(?P<count>\S+))?\Z")
_SHOWN = ("date", "percentage", "truth")  # kinds of cell that are text in a remark
Cells = dict[str, SheetCell]
Fault = tuple[SheetCell, CellFault]


@dataclass(slots=True)
class BookedCells:
    """Reads rows of an export; `zero` is the day that its workbook counts days from."""

    records: Records
    export: Export
    zero: date | None = None
    columns: tuple[str, ...] = field(init=False)
    always: dict[str, str] = field(init=False)
    _readers: dict[str, Callable[[str, Cells, dict[str, str]], str]] = field(init=False)
    _codes: dict[str, dict[str, str]] = field(init=False)
    _known: dict[str, set[str]] = field(init=False)
    _strange: dict[tuple[str, str], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Know which column is read in which way, and what words stand for."""
        amounts = Amounts(self.records, self.export)
        readers = {
            **dict.fromkeys(("date", "started", "finished"), self._day),
            **dict.fromkeys(("wage", "freight", "spent"), amounts.money),
            **dict.fromkeys(("good", "scrapped", "boats"), amounts.count),
            "month": self._month,
            "hours": amounts.hours,
            "quantity": amounts.quantity,
            "price": amounts.price,
            "rate": amounts.rate,
            "options": self._options,
            "note": self._note,
        }
        self.columns = columns_of_table(str(self.export.of))
        self._readers = {name: readers.get(name, self._word) for name in self.columns}
        self._codes = {
            column: {alike(word): str(means) for word, means in words.items()}
            for column, words in named_in(self.export.codes).items()
        }
        self.always = {
            name: ("yes" if value else "no") if isinstance(value, bool) else str(value)
            for name, value in named_in(self.export.always).items()
        }
        self._known = {name: self.records.named(kinds) for name, kinds in IDS.items()}
        self._known["group"] = {str(row.group) for row in self.records.wages}

    def row(self, cells: Cells) -> tuple[dict[str, str], list[Fault]]:
        """What a row has in each of our columns that it fills, and what of it can't be read."""
        found: dict[str, str] = {}
        faults: list[Fault] = []
        for column in self.columns:
            try:
                said = self.read(column, cells, found)
            except BesideFault as bad:
                faults.append((cells[bad.role], bad))
                continue
            except CellFault as bad:
                faults.append((cells[column], bad))
                continue
            if said:
                found[column] = said
        try:
            self._settle_kind(found)
        except CellFault as bad:
            faults.append((cells["quantity"], bad))
        return found, faults

    def read(self, column: str, cells: Cells, found: dict[str, str]) -> str:
        """What a row has in a column; "" where it says nothing.

        Args:
            column: of ours
            cells: of the row
            found: what the columns before it say
        Raises:
            CellFault: it does not say what it should.
        """
        if column not in cells:
            return self.always.get(column, "")
        return self._readers[column](column, cells, found)

    def spread(self, cells: Cells) -> Cells:
        """The cells with those of ours that a code from shop papers holds.

        Raises:
            CellFault: it is no such code, or another column says otherwise.
        """
        cell = cells.get("code")
        if cell is None or not cell.text:
            return cells
        text = sound_text(cell, "a code from shop papers")
        told = {"job": text}
        if "=" in text:
            booking = booking_in(text)
            if booking is None:
                hint = "write it as the papers do: 'job=2026-0007;part=side_door;operation=3'"
                what = f"{quoted(text)} is no code of shop papers"
                raise CellFault("unreadable-cell", what, hint)
            told = {name: getattr(booking, name) for name in HELPING["code"]}
        found = dict(cells)
        for column, words in told.items():
            other = squeezed(cells[column].text) if column in cells else ""
            meant = self._codes.get(column, {}).get(alike(other), other)
            if words and other and words not in (other, meant):
                what = f"the code says {column} {quoted(words)}, its own column {quoted(other)}"
                raise CellFault("differs", what, "correct the one that is wrong")
            if words:
                found[column] = replace(cell, text=words, kind="text")
        return found

    def _settle_kind(self, found: dict[str, str]) -> None:
        """A quantity below nothing is a return where nothing says that it is an issue."""
        if "material" not in self.columns or "kind" not in self.columns:
            return
        below = found.get("quantity", "").startswith("-")
        kind = found.setdefault("kind", RETURN if below else ISSUE)
        if below and kind == ISSUE:
            what = f"{quoted(found['quantity'])} is below nothing, and the row is an issue"
            raise CellFault("out-of-range", what, "write what was brought back as a return")
        if below:
            found["quantity"] = found["quantity"].lstrip("-")

    def _day(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        cell, order = cells[column], str(self.export.days or "")
        if not cell.text:
            return ""
        try:
            return str(moment_in(cell, order, self.zero))
        except CellFault as bad:
            if order or not DAY_NUMBERS.match(squeezed(cell.text)[:10].strip()):
                raise
            where = self.export.place.clickable
            hint = f"say 'days: day month' or 'days: month day' at {where}, whichever is meant"
            raise CellFault(bad.code, bad.what, hint) from bad

    def _month(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        cell = cells[column]
        return month_in(cell, str(self.export.days or ""), self.zero) if cell.text else ""

    def _word(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        """A word of ours for theirs, an id, or a text of anybody's own."""
        cell = cells[column]
        text = cell.text if cell.kind == "truth" else sound_text(cell, f"a {called(column)}")
        codes = self._codes.get(column, {})
        if alike(text) in codes:
            return codes[alike(text)]
        if not text:
            return self.always.get(column, "")
        if few := words_for(str(self.export.of), column):
            word = alike(text) if column != "rework" else TRUTHS.get(alike(text), alike(text))
            return word if word in few else self._unknown(column, text, {*few})
        if column in self._known:
            known = self._known[column]
            return text if text in known else self._unknown(column, text, known)
        if column in _FREE and text.startswith(FORMULA_STARTS):
            what = f"{quoted(text)} begins as a formula does"
            raise CellFault("unreadable-cell", what, f"begin it with a letter or digit{self._at()}")
        return text

    def _unknown(self, column: str, text: str, known: set[str]) -> str:
        """Tell of a word that means nothing, with the nearest; what is near takes long to find.

        Raises:
            CellFault: always.
        """
        if (column, text) not in self._strange:
            near = nearest(
                text, {*known, *map(str, getattr(self.export.codes, column, None) or {})}
            )
            self._strange[column, text] = and_then(near, f"new words go to 'codes'{self._at()}")
        what = f"unknown {called(column)} {quoted(text)}"
        raise CellFault("unknown-code", what, self._strange[column, text])

    def _at(self) -> str:
        return f" of the export at {self.export.place.clickable}"

    def _options(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        codes = self._codes.get(column, {})
        told = []
        for item in sound_text(cells[column], "options").split(BETWEEN):
            read = _ITEM.match(item.strip())
            if read is None:
                continue
            id = codes.get(alike(read["word"]), read["word"])
            if id not in self._known[column]:
                self._unknown(column, read["word"], self._known[column])
            told.append(f"{id} x {read['count']}" if read["count"] else id)
        return f"{BETWEEN} ".join(told)

    def _note(self, column: str, cells: Cells, _: dict[str, str]) -> str:
        cell = cells[column]
        words = squeezed(cell.text) if cell.kind in _SHOWN else sound_text(cell, "a remark")
        return as_text(words)
