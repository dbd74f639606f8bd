"""`quoter import-prices`: a supplier's own list becomes lines of a dated price list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from quoter.catalogue.adding import bytes_of
from quoter.catalogue.day import catalogue_day, day_words
from quoter.catalogue.factory import Supplier
from quoter.catalogue.prices import CORRECTS, usual_limit
from quoter.catalogue.records import Records
from quoter.catalogue.tables import PriceRow
from quoter.importing.cells import SheetError, squeezed
from quoter.importing.days import before_the_first, coming, far_ahead
from quoter.importing.moves import (
    ACCEPT,
    Meant,
    OfferMove,
    move_faults,
    moves_of,
    remarks,
    rise_remarks,
    table_lines,
    written_price,
)
from quoter.importing.price_lines import PriceLines
from quoter.importing.table import find_table, read_sheets, rows_told, wanted_headings
from quoter.importing.writing import Import, longer, read_sound, try_out
from quoter.plausibility.meant import as_accepted
from quoter.problems import UNPRINTABLE, CatalogueError, Place, Problem, nearest, quoted

MAPPING = (
    "add under it for example 'price_file: {headings: {code: Item, price: Price}, per: kg, "
    "codes: [{code: R-1, material: resin}]}'"
)
NOTHING_MEANT = Meant()


class UnknownNameError(Exception):
    """Raised for a supplier or family that the catalogue does not have, naming the nearest."""


def supplier_of(records: Records, id: str) -> Supplier:
    """The supplier of an id.

    Raises:
        UnknownNameError: there is none.
    """
    if id not in records.suppliers:
        raise UnknownNameError(f"unknown supplier '{id}': {nearest(id, records.suppliers)}")
    return records.suppliers[id]


def import_prices(
    folder: Path,
    path: Path,
    supplier_id: str,
    effective: date,
    limit: float | None = None,
    meant: Meant = NOTHING_MEANT,
) -> Import:
    """What a supplier's file changes from a day on; nothing is written.

    Args:
        folder: the catalogue's
        path: the file
        supplier_id: whose file it is
        effective: the day its prices take effect
        limit: by how much a price may jump, as a fraction; None for the policy's
        meant: what of it is meant that would be refused
    Raises:
        UnknownNameError: there is no such supplier.
        CatalogueError: the catalogue has problems, would have some, or can't read such files.
    """
    records = read_sound(folder)
    supplier = supplier_of(records, supplier_id)
    says = day_words(records, catalogue_day(records).prices)
    if early := list(before_the_first(records, effective)):
        return Import(faults=early, day=says)
    allowed = usual_limit(records) if limit is None else limit
    try:
        lines = _lines(records, supplier, path, effective, meant)
    except SheetError as unreadable:
        return Import(faults=unreadable.problems, day=says)
    moves = moves_of(records, lines.offers(), effective)
    made = Import(faults=_faults(lines, moves, allowed, meant), day=says)
    made.faults += far_ahead(records, effective, accepted=meant.all)
    made.shown = [*table_lines(moves, allowed, effective), *lines.table.remarks, *_left_out(lines)]
    made.shown += remarks(records, moves, effective)
    made.shown += rise_remarks(records, moves, effective)
    if not lines.faults and lines.seen:
        made.shown += _absent(lines)
    if not made.faults:
        note = f"imported from {UNPRINTABLE.sub('?', path.name)}"
        price_list(folder, made, moves, effective, note, usual_limit(records))
        tried = try_out(folder, made.files, effective)
        made.coming = coming(records, tried.records, effective)
    return made


def _lines(
    records: Records, supplier: Supplier, path: Path, effective: date, meant: Meant
) -> PriceLines:
    """The lines of a supplier's file, not looked at yet.

    Raises:
        CatalogueError: the catalogue does not say how the supplier's files are read.
        SheetError: the file can't be read so.
    """
    file = supplier.price_file
    if file is None:
        what = f"'{supplier.id}' has no price_file, which says how its lists are read"
        raise CatalogueError([Problem(supplier.place, "not-set-up", what, MAPPING)])
    table = find_table(read_sheets(path, file.sheet), wanted_headings(file))
    return PriceLines(records, supplier, file, table, effective, meant.skip)


def _faults(
    lines: PriceLines, moves: Sequence[OfferMove], limit: float, meant: Meant
) -> list[Problem]:
    """What is wrong with the lines themselves, and with what they would change."""
    sheet = lines.table.sheet
    faults = list(lines.faults)
    for fault in move_faults(moves, lines.effective, limit, meant):
        faults.append(sheet.problem(fault.place, fault.code, fault.what, fault.hint))
    if not lines.seen and not faults:
        what = "no line below the headings has a code of the yard's list"
        hint = "add the codes that are bought to 'codes' of the supplier's price_file"
        faults.append(
            sheet.problem(lines.table.head.row.cells[0].place, "unknown-code", what, hint)
        )
    for word, codes in (("--skip", meant.skip), (ACCEPT, meant.jumps)):
        faults += _not_there(lines, word, codes)
    return sorted(faults)


def _not_there(lines: PriceLines, word: str, codes: Iterable[str]) -> Iterator[Problem]:
    """Codes of the command line that the file does not have."""
    for code in map(squeezed, codes):
        if code not in lines.seen:
            what = f"the file has no line of the code {quoted(code)}"
            yield Problem(Place(word), "unknown-code", what, nearest(code, lines.seen))


def _left_out(lines: PriceLines) -> Iterator[str]:
    """The lines that were skipped, and those struck through that the yard does not buy."""
    told = []
    for code, price in lines.skipped.items():
        material = lines.materials.get(code)
        instead = f": {quoted(price)}" if price else ""
        told.append(f"{code} ({material or 'not bought'}{instead})")
    if told:
        yield f"Skipped, the old price stays: {', '.join(told)}."
    if lines.struck:
        yield f"Struck through, and left out: {rows_told(lines.struck)}."


def _absent(lines: PriceLines) -> list[str]:
    told = [f"{code} ({material})" for code, material in lines.absent()]
    return [f"Not in the file, the old price stays: {', '.join(told)}."] if told else []


def price_list(
    folder: Path,
    made: Import,
    moves: Sequence[OfferMove],
    effective: date,
    note: str,
    limit: float,
) -> None:
    """Add the list of a day, with what moves at its end, to the files of an import.

    A price that the list has already is replaced by its correction, whose note says what it was. A
    price that is as before is added too once the old line is half as old as it may get. One
    that moves beyond the limit was accepted, and says so.
    """
    moving = [move for move in moves if move.moves or move.again]
    if not moving:
        return
    name = f"prices/{effective}.csv"
    corrected: dict[tuple[str, ...], dict[str, str]] = {}
    added: list[dict[str, str]] = []
    for move in moving:
        told = as_accepted(note) if move.beyond(limit) else note
        row = move.offer.row
        line = {"material": str(row.material), "supplier": str(row.supplier), "price": move.words}
        if move.corrects(effective) and move.old is not None:
            before = f" ({move.old.note})" if move.old.note else ""
            line["note"] = f"{told}{CORRECTS}{written_price(move.old.price)}{before}"
            corrected[line["material"], line["supplier"]] = line
        else:
            added.append({**line, "note": told})
    made.files[name] = longer(folder, name, PriceRow.model_fields, added, corrected)
    if corrected:
        made.replaced[name] = bytes_of(folder / name) or b""
    count = f"{len(moving)} price{'' if len(moving) == 1 else 's'}"
    made.done = f"{count} from {effective} on written to {folder / name}"
    if corrected:
        made.done += f", {len(corrected)} of them corrected"
