"""The lines of a supplier's file become offers of the yard's materials, every fault told."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.counting import converts, counted_per, pack_content
from quoter.catalogue.factory import Supplier
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
    sound_text,
    squeezed,
)
from quoter.importing.offers import SupplierPrice, priced_row
from quoter.importing.per_words import (
    and_then,
    counted,
    currency_in,
    numbered,
    option,
    parted,
    said_in_heading,
    unit_in,
)
from quoter.importing.table import HeadedTable
from quoter.problems import UNPRINTABLE, Place, Problem, closest, nearest, quoted, unprintable
from quoter.units import PACKED, to_base, unit

LIKENED = 500  # unknown codes that are held against the known ones: it takes long, few are read
PACKS_AGREE = 0.005  # 53 gal and 200 L are one drum; 200 kg and 225 kg are two
_CONTENT = re.compile(r"\d\W*[^\W\d]")
_SAID = {"code": "a code", "price": "a price", "per": "a unit", "currency": "a currency"}


@dataclass(slots=True)
class PriceLines:
    """The lines below the headings of a supplier's file, and what is wrong with them."""

    records: Records
    supplier: Supplier
    file: PriceFile
    table: HeadedTable
    effective: date
    skip: tuple[str, ...] = ()
    faults: list[Problem] = field(default_factory=list)
    seen: dict[str, Place] = field(default_factory=dict)
    skipped: dict[str, str] = field(default_factory=dict)
    struck: list[int] = field(default_factory=list)
    unknown: int = 0
    materials: dict[str, str] = field(init=False)
    ignored: set[str] = field(init=False)
    headed: str = field(init=False)

    def __post_init__(self) -> None:
        """Know the codes that are followed, those that are not, and those that are skipped."""
        self.skip = tuple(map(squeezed, self.skip))
        self.materials = {squeezed(each.code): str(each.material) for each in self.file.codes}
        self.ignored = {squeezed(each) for each in self.file.ignored}
        self.headed = said_in_heading(self.file.headings.price, self.file)

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
        amount, told_per = self._parted(cells["price"])
        number, per = self._number(cells, amount), self._per(cells, told_per)
        self._check_pack(material, cells)
        if number is None or per is None:
            return None
        per = self._held(material, cells, per)
        offer = self._priced(material, cells, number, per)
        return offer if len(self.faults) == sound else None

    def _is_heading(self, cells: dict[str, SheetCell]) -> bool:
        """Whether the row repeats the headings, as every page of a long list does."""
        found = alike(cells["code"].text), alike(cells["price"].text)
        return any(found) and found in self.table.headed("code", "price")

    def _material(self, cells: dict[str, SheetCell]) -> Material | None:
        """The material a line is of; None for one that is not followed, a title or a fault."""
        cell = cells["code"]
        try:
            code = sound_text(cell, "a code")
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None
        if code in self.ignored or self._skips(code, cells):
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
        if cell.struck or cells["price"].struck:
            what = f"the line of {quoted(code)} is struck through"
            self._tell(cell.place, "unreadable-cell", what, self._keeping(code, "ask the supplier"))
            return None
        return self.records.materials[self.materials[code]]

    def _skips(self, code: str, cells: dict[str, SheetCell]) -> bool:
        """Whether the line is left out: one that is to be skipped, or struck through and not ours.

        What stands there instead of a price is kept for the summary.
        """
        if code and code in self.skip:
            self.seen.setdefault(code, cells["code"].place)
            self.skipped.setdefault(code, squeezed(cells["price"].text))
            return True
        struck = any(cell.struck for cell in cells.values())
        if struck and code not in self.materials:
            self.struck.append(cells["code"].place.line)
            return True
        return False

    def _keeping(self, code: str, otherwise: str) -> str:
        """The hint where a line is no use: what to do, and what keeps the old price."""
        told = f"{option('--skip', code)} keeps the old price"
        return f"{otherwise}; {told}" if code in self.materials else otherwise

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

    def _parted(self, cell: SheetCell) -> tuple[SheetCell, str]:
        """A price's cell without what it says that the price is for, and that."""
        if cell.kind != "text":
            return cell, cell.per
        amount, per = parted(squeezed(cell.text))
        return (replace(cell, text=amount), per) if per else (cell, "")

    def _number(self, cells: dict[str, SheetCell], cell: SheetCell) -> Decimal | None:
        code = squeezed(cells["code"].text)
        if cell.kind == "text" and not any(map(str.isdecimal, cell.text)):
            what = f"no price, but {quoted(cell.text)}" if cell.text else "a line without a price"
            self._tell(cell.place, "no-value", what, self._keeping(code, "ask the supplier"))
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
            hint = self._keeping(code, "write the price, or take the line out")
            self._tell(cell.place, "zero-amount", what, hint)
            return None
        return number

    def _per(self, cells: dict[str, SheetCell], told: str) -> str | None:
        """What a price is for, as the catalogue writes it: by its own cell, else by the column.

        Where neither says anything, what the catalogue says of all prices holds.
        """
        own = self._unit(cells["price"], told) if told else ""
        column = self._by_column(cells)
        if own is None or column is None:
            return None
        if own and column and to_base(unit(own)) != to_base(unit(column)):
            what = f"the price is per {own}, and {cells['per'].place.clickable} says per {column}"
            self._tell(cells["price"].place, "differs", what, "write both alike")
            return None
        if own:
            return own
        found = self._by_heading(cells, column or str(self.file.per))
        return None if found is None else self._by_count(cells, found)

    def _by_column(self, cells: dict[str, SheetCell]) -> str | None:
        cell = cells.get("per")
        if cell is None:
            return ""
        text = self._text(cell, "per")
        if text is None:
            return None
        mark = currency_in(text)
        if mark and not is_mark_of(mark, str(self.supplier.currency)):
            self._tell_currency(cell, mark)
            return None
        return self._unit(cell, text)

    def _unit(self, cell: SheetCell, text: str) -> str | None:
        try:
            return unit_in(text, self.file)
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None

    def _by_heading(self, cells: dict[str, SheetCell], per: str) -> str | None:
        """How many of a unit the heading of the prices says; None, and told, if it differs."""
        many, _, single = self.headed.partition(" ")
        if single == "each" and " " not in per:
            return numbered(Decimal(many), per)
        if not self.headed:
            return per
        (base, size), (own_base, own) = (to_base(unit(word)) for word in (self.headed, per))
        if base == own_base and size != own:
            head = quoted(self.file.headings.price)
            what = f"the price is per {per}, and its heading {head} says per {self.headed}"
            self._tell(cells["price"].place, "differs", what, "correct the one that is wrong")
            return None
        return per

    def _by_count(self, cells: dict[str, SheetCell], per: str) -> str | None:
        """How many of a unit a price is for, where a column says so."""
        cell = cells.get("count")
        if cell is None or not cell.text:
            return per
        try:
            found = counted(cell, self.file.decimal, per)
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return None
        return found

    def _held(self, material: Material, cells: dict[str, SheetCell], per: str) -> str:
        """What a pack holds by the supplier's own column, where the yard's record says nothing."""
        cell = cells.get("pack")
        if cell is None or not cell.text or material.pack is not None or per not in PACKED:
            return per
        try:
            content = unit_in(sound_text(cell, "a pack's content"), self.file)
        except CellFault as bad:
            self._tell(cell.place, bad.code, bad.what, bad.hint)
            return per
        return content

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
        if not _CONTENT.search(text):
            hint = "write a number and its unit, such as '225 kg'"
            raise CellFault(
                "unreadable-cell", f"{quoted(text)} does not say what a pack holds", hint
            )
        base, factor = to_base(unit(unit_in(text, self.file)))
        counted = said(counted_in(material))
        if base == unit("pack") or not converts(material, base):
            what = f"a pack of '{material.id}' in {said(base)}, the material in {counted}"
            raise CellFault("wrong-unit", what, f"write the pack in {counted}")
        held = float(factor)
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
