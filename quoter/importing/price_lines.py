"""The lines of a supplier's file become offers of the yard's materials, every fault told."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.counting import converts, counted_per, pack_content
from quoter.catalogue.factory import Supplier
from quoter.catalogue.fields import priced_per
from quoter.catalogue.materials import Material, counted_in, said
from quoter.catalogue.received import PriceFile
from quoter.catalogue.records import Records
from quoter.figures.graph import input_behind
from quoter.importing.cells import (
    CellFault,
    SheetCell,
    SheetRow,
    alike,
    amount_in,
    is_mark_of,
    number_in,
    sound_text,
    squeezed,
)
from quoter.importing.offers import SupplierPrice, priced_row
from quoter.importing.table import HeadedTable
from quoter.problems import UNPRINTABLE, Place, Problem, closest, nearest, quoted, unprintable
from quoter.units import MEANT, SYMBOLS, UnitError, to_base, unit

LIKENED = 500  # unknown codes that are held against the known ones: it takes long, few are read
PACKS_AGREE = 0.005  # 53 gal and 200 L are one drum; 200 kg and 225 kg are two
_PACK = re.compile(
    r"(?:(?P<times>\d+) ?[x×] ?)?(?P<number>[-+]?[\d.,' \u00a0\u2009\u202f]*\d)\s*(?P<word>\D.*)\Z"
)
_SAID = {"code": "a code", "price": "a price", "per": "a unit", "currency": "a currency"}


@dataclass(slots=True)
class PriceLines:
    """The lines below the headings of a supplier's file, and what is wrong with them."""

    records: Records
    supplier: Supplier
    file: PriceFile
    table: HeadedTable
    effective: date
    faults: list[Problem] = field(default_factory=list)
    seen: dict[str, Place] = field(default_factory=dict)
    unknown: int = 0
    materials: dict[str, str] = field(init=False)
    ignored: set[str] = field(init=False)

    def __post_init__(self) -> None:
        """Know the codes that are followed, and those that are not."""
        self.materials = {squeezed(each.code): str(each.material) for each in self.file.codes}
        self.ignored = {squeezed(each) for each in self.file.ignored}

    def offers(self) -> list[SupplierPrice]:
        """The price of every line that is sound."""
        found = (self._offer(row) for row in self.table.below)
        return [offer for offer in found if offer is not None]

    def absent(self) -> list[tuple[str, str]]:
        """Codes, with their materials, that the file does not have."""
        return [pair for pair in self.materials.items() if pair[0] not in self.seen]

    def _tell(self, place: Place, code: str, what: str, hint: str) -> None:
        self.faults.append(self.table.sheet.problem(place, code, what, hint))

    def _offer(self, row: SheetRow) -> SupplierPrice | None:
        cells = self.table.cells(row)
        if self._is_heading(cells) or not any(cell.text for cell in cells.values()):
            return None
        if long := self.table.too_long(row):
            self.faults.append(long)
            return None
        material = self._material(cells)
        if material is None:
            return None
        sound = len(self.faults)
        self._check_name(cells)
        self._check_supplier(material, cells["code"])
        self._check_currency(cells)
        number, per = self._number(cells), self._per(cells)
        self._check_pack(material, cells)
        if number is None or per is None:
            return None
        offer = self._priced(material, cells, number, per)
        return offer if len(self.faults) == sound else None

    def _is_heading(self, cells: dict[str, SheetCell]) -> bool:
        """Whether the row repeats the headings, as every page of a long list does."""
        heads = self.file.headings
        code, price = cells["code"].text, cells["price"].text
        return alike(code) == alike(heads.code) and alike(price) == alike(heads.price)

    def _material(self, cells: dict[str, SheetCell]) -> Material | None:
        """The material a line is of; None for one that is not followed, a title or a fault."""
        cell = cells["code"]
        try:
            code = sound_text(cell, "a code")
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None
        if code in self.ignored:
            return None
        if code not in self.materials:
            self._tell_unknown(cells, code)
            return None
        if code in self.seen:
            hint = f"the first is at {self.seen[code].clickable}: keep one of them"
            self._tell(
                cell.place, "written-twice", f"a second line of the code {quoted(code)}", hint
            )
            return None
        self.seen[code] = cell.place
        return self.records.materials[self.materials[code]]

    def _tell_unknown(self, cells: dict[str, SheetCell], code: str) -> None:
        others = [cell.text for role, cell in cells.items() if role != "code"]
        if not code:
            if self._is_amount(cells["price"]):
                hint = "write the code, or take the price out"
                self._tell(cells["code"].place, "no-value", "a price without a code", hint)
            return
        self.unknown += 1
        known = [*self.materials, *self.ignored] if self.unknown <= LIKENED else []
        if not any(others) and not closest(code, known):
            return  # a title between the lines, or a remark below them
        called = f" ({cells['name'].text})" if "name" in cells and cells["name"].text else ""
        home = self.file.codes[0].place if self.file.codes else self.file.place
        hint = f"new codes go to 'codes' or 'ignored' at {home.clickable}"
        hint = and_then(nearest(code, known), hint) if known else hint
        self._tell(
            cells["code"].place, "unknown-code", f"unknown code {quoted(code)}{called}", hint
        )

    def _is_amount(self, cell: SheetCell) -> bool:
        try:
            amount_in(cell, self.file.decimal, "a price")
        except CellFault:
            return False
        return True

    def _check_name(self, cells: dict[str, SheetCell]) -> None:
        """What can't be printed in a name may be the remains of a damaged line."""
        cell = cells.get("name")
        if cell is not None and (bad := UNPRINTABLE.search(cell.text)):
            self._tell(cell.place, "unprintable", unprintable(bad), "remove it")

    def _check_supplier(self, material: Material, cell: SheetCell) -> None:
        """A price of a supplier that the material is not bought of would never be in force."""
        if material.supplier is None or material.supplier == self.supplier.id:
            return
        place = material.supplier.place.clickable
        what = f"'{material.id}' is bought of '{material.supplier}'"
        hint = f"list the code under 'ignored', or change 'supplier:' at {place}"
        self._tell(cell.place, "differs", what, hint)

    def _check_currency(self, cells: dict[str, SheetCell]) -> None:
        cell = cells.get("currency")
        if cell is None:
            return
        text = self._text(cell, "currency")
        if text is not None and not is_mark_of(text, str(self.supplier.currency)):
            self._tell_currency(cell, text)

    def _tell_currency(self, cell: SheetCell, mark: str) -> None:
        sells = f"'{self.supplier.id}' sells in {self.supplier.currency}"
        place = self.supplier.currency.place.clickable
        what = f"the price is in {quoted(mark)}" if mark else "no currency"
        hint = f"{sells}: write it so, or correct the supplier at {place}"
        self._tell(cell.place, "wrong-currency", what, hint)

    def _text(self, cell: SheetCell, role: str) -> str | None:
        """What a cell says on one line; None, and told, where it is nothing that can be read."""
        try:
            return sound_text(cell, _SAID[role])
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None

    def _number(self, cells: dict[str, SheetCell]) -> Decimal | None:
        cell = cells["price"]
        if not cell.text and cell.kind == "text":
            hint = "ask the supplier, or take the line out: the old price stays then"
            self._tell(cell.place, "no-value", "a line without a price", hint)
            return None
        try:
            number, mark = amount_in(cell, self.file.decimal, "a price")
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None
        if mark and not is_mark_of(mark, str(self.supplier.currency)):
            self._tell_currency(cell, mark)
            return None
        if number <= 0:
            what = "a price of nothing" if not number else f"{quoted(cell.text)} is below nothing"
            self._tell(cell.place, "zero-amount", what, "write the price, or take the line out")
            return None
        return number

    def _per(self, cells: dict[str, SheetCell]) -> str | None:
        """The unit that a price is for, as the catalogue writes it."""
        cell = cells.get("per")
        if cell is None:
            return str(self.file.per)
        text = self._text(cell, "per")
        if text is None:
            return None
        try:
            return unit_in(text, self.file)
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None

    def _check_pack(self, material: Material, cells: dict[str, SheetCell]) -> None:
        """A pack that holds more or less than before changes what a drum or roll costs."""
        cell = cells.get("pack")
        if cell is None or not cell.text or material.pack is None:
            return
        try:
            content = self._pack_in(cell, material)
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return
        known = pack_content(material).value
        if abs(content / known - 1) > PACKS_AGREE:
            origin = input_behind(material.pack).origin
            written = origin.text if origin is not None else ""
            place = figure_place(material.pack).clickable
            what = f"a pack of '{material.id}' holds {quoted(cell.text)}, not {quoted(written)}"
            hint = f"correct 'pack' at {place}, or ask the supplier"
            self._tell(cell.place, "differs", what, hint)

    def _pack_in(self, cell: SheetCell, material: Material) -> float:
        """How much a pack holds by a cell such as "225 kg", in what the material is counted in.

        Raises:
            CellFault: it does not say.
        """
        text = sound_text(cell, "a pack's content")
        parted = _PACK.match(text)
        if parted is None:
            hint = "write a number and its unit, such as '225 kg'"
            raise CellFault(
                "unreadable-cell", f"{quoted(text)} does not say what a pack holds", hint
            )
        number = number_in(parted["number"], self.file.decimal) * int(parted["times"] or 1)
        base, factor = to_base(unit(unit_in(parted["word"].strip(), self.file)))
        counted = said(counted_in(material))
        if base == unit("pack") or not converts(material, base):
            what = f"a pack of '{material.id}' in {said(base)}, the material in {counted}"
            raise CellFault("wrong-unit", what, f"write the pack in {counted}")
        held = float(number * factor)
        return held if base == counted_in(material) else held * counted_per(material, base).value

    def _priced(
        self, material: Material, cells: dict[str, SheetCell], number: Decimal, per: str
    ) -> SupplierPrice | None:
        cell = cells["price"]
        words = f"{number:f} {self.supplier.currency}/{per}"
        row, faults = priced_row(
            self.records,
            (str(material.id), str(self.supplier.id)),
            words,
            cell.place,
            self.effective,
        )
        unit_place = cells["per"].place if "per" in cells else cell.place
        self.faults += [
            self.table.sheet.problem(unit_place, fault.code, fault.what, fault.hint)
            for fault in faults
        ]
        if row is None or faults:
            return None
        return SupplierPrice(material, row, cell.place, squeezed(cells["code"].text))


_BEFORE = re.compile(r"(?:per |/ ?)", re.IGNORECASE)


def unit_in(text: str, file: PriceFile) -> str:
    """The catalogue's unit for a word such as "LBS", "per drum" or "/kg".

    Raises:
        CellFault: the word is not known.
    """
    means = {alike(each.word): str(each.means) for each in file.units}
    begins = _BEFORE.match(text)
    plain = text[begins.end() :] if begins else text
    for word in (alike(text), alike(plain)):
        if word in means:
            return means[word]
    symbol = _meant(plain)
    try:
        priced_per(symbol)
    except UnitError as bad:
        raise _unknown(text, file, bad) from bad
    return symbol


def _meant(word: str) -> str:
    """The symbol that a word stands for, else the word itself.

    A single letter is left as it is: M may be a metre or a thousand.
    """
    small = word.lower()
    return MEANT.get(small) or (SYMBOLS.get(small) if len(word) > 1 else None) or word


def _unknown(text: str, file: PriceFile, bad: UnitError) -> CellFault:
    at = f"'units' at {file.place.clickable}"
    if not text:
        return CellFault("no-unit", "no unit", f"write one that is listed under {at}")
    near = closest(text, [str(each.word) for each in file.units])
    told = f"did you mean {quoted(near)}?" if near else bad.hint
    hint = f"say under {at} which unit it is"
    if told.endswith("?"):
        hint = and_then(told, f"new words go to {at}")
    return CellFault("unknown-unit", f"unknown unit {quoted(text)}", hint)


def and_then(hint: str, more: str) -> str:
    """A hint and where to go on from it."""
    return f"{hint} ({more})" if hint.endswith("?") else f"{hint}; {more}"
