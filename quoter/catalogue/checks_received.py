"""Rules of what others send: how their files are read, and the rises that they announce."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_prices import price_converts, price_hint
from quoter.catalogue.materials import price_per, said
from quoter.catalogue.received import PriceFile
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.rises import prices_before
from quoter.catalogue.source import Text
from quoter.catalogue.tables import RiseRow
from quoter.problems import Problem, nearest, quoted
from quoter.units import NONE


def check_price_files(records: Records) -> Iterator[Problem]:
    """A word of a supplier's file means one thing, and every price says what it is for."""
    for supplier in records.suppliers.values():
        if supplier.price_file is not None:
            yield from _mapping_faults(supplier.price_file)


def _mapping_faults(file: PriceFile) -> Iterator[Problem]:
    headings = file.headings
    named = (headings.code, headings.price, headings.per, headings.currency)
    written = [head for head in (*named, headings.pack, headings.name) if head is not None]
    yield from _twice(written, "heading", "a column has one meaning: write the heading once")
    words = [word.word for word in file.units]
    yield from _twice(words, "word", "a word means one unit: keep one of them")
    codes = [*(known.code for known in file.codes), *file.ignored]
    yield from _twice(codes, "code", "a code is one material, or ignored: keep one of them")
    materials = [known.material for known in file.codes]
    yield from _twice(materials, "material", "a material has one price: keep one code of it")
    if (file.per is None) == (headings.per is None):
        what = "neither 'per' nor a heading of it says what a price is for"
        hint = "add 'per: kg' for all of them, or 'per:' with the column's heading to the headings"
        if file.per is not None:
            what, hint = "'per' is given for all prices and as a heading", "keep one of the two"
        yield Problem(file.place, what, hint)


def _twice(words: Iterable[Text], called: str, hint: str) -> Iterator[Problem]:
    """Words that are written twice, however their letters and blanks are."""
    first: dict[str, Text] = {}
    for word in words:
        same = " ".join(word.split()).casefold()
        if same in first:
            what = f"the {called} {quoted(word)} stands here twice"
            yield Problem(word.place, what, f"line {first[same].place.line} has it already; {hint}")
        first.setdefault(same, word)


def check_rate_file(records: Records) -> Iterator[Problem]:
    """A file of rates has a line for each currency, or a column."""
    file = records.yard.rate_file if records.yard is not None else None
    if file is None:
        return
    headings = file.headings
    found = [head for head in (headings.currency, headings.rate, headings.date) if head is not None]
    yield from _twice(found, "heading", "a column has one meaning: write the heading once")
    both = headings.currency is not None and headings.rate is not None
    neither = headings.currency is None and headings.rate is None
    if not both and (not neither or headings.date is None):
        what = "the headings of the rates don't say how the file is laid out"
        hint = "name 'currency' and 'rate', or a 'date' alone where each currency has a column"
        yield Problem(headings.place, what, hint)


def check_rises(records: Records) -> Iterator[Problem]:
    """A rise is of a family that exists, by an amount that its prices can rise by."""
    materials = records.materials
    families = {str(m.family) for m in materials.values() if m.family is not None}
    all_read = materials.keys() == records.named(MATERIAL_KINDS)
    all_read &= not records.unread.kinds.intersection(MATERIAL_KINDS)
    done: dict[tuple[str, str, date], RiseRow] = {}
    for row in sorted(records.rises, key=lambda row: row.date):
        if row.family not in families and all_read:
            what = f"no material is of the family {quoted(row.family)}"
            yield Problem(row.family.place, what, nearest(row.family, families))
        yield from _amount_faults(records, row)
        same = (str(row.supplier), str(row.family), row.effective)
        if same in done and row.date > done[same].date:
            what = f"the rise was confirmed on line {done[same].place.line} already"
            hint = "remove the line: what prices do after that stands in lists of their own"
            yield Problem(row.place, what, hint)
        if row.state == "confirmed":
            done.setdefault(same, row)


def _amount_faults(records: Records, row: RiseRow) -> Iterator[Problem]:
    place = figure_place(row.by)
    supplier = records.suppliers.get(str(row.supplier))
    if not row.by.value:
        yield Problem(place, "a rise of nothing", "write by how much, or remove the line")
    if row.by.unit == NONE and row.by.form == "percent":
        return
    found = row.by.unit.currencies
    if not found:
        hint = "write a percentage, '5 %', or an amount such as '0.10 EUR/kg'"
        yield Problem(place, "a rise by a plain number", hint)
        return
    if supplier is not None and found != (str(supplier.currency),):
        what = f"the rise is in {' and '.join(found)}"
        yield Problem(place, what, f"'{supplier.id}' sells in {supplier.currency}: write it so")
        return
    for id in prices_before(records, str(row.supplier), str(row.family), row.effective):
        material = records.materials[id]
        if not price_converts(material, row.by):
            what = f"'{material.id}' can't be priced per {said(price_per(row.by))}"
            yield Problem(place, what, price_hint(material, price_per(row.by)))
