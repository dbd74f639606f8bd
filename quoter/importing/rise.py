"""`quoter rise`: a supplier's rise on a family is noted and, once confirmed, raises its prices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from quoter.catalogue.materials import Material
from quoter.catalogue.prices import usual_limit
from quoter.catalogue.records import Records
from quoter.catalogue.rises import prices_before, raised_price
from quoter.catalogue.tables import PriceRow, RiseRow
from quoter.figures import Figure
from quoter.importing.days import far_ahead
from quoter.importing.moves import (
    Meant,
    move_faults,
    moves_of,
    remarks,
    table_lines,
    written_price,
)
from quoter.importing.offers import SupplierPrice, priced_row
from quoter.importing.prices import UnknownNameError, price_list, supplier_of
from quoter.importing.writing import Import, at_options, longer, read_sound, try_out
from quoter.intake import LONGEST_TEXT
from quoter.problems import CatalogueError, Place, Problem, nearest, quoted

NAME = "rises.csv"
HERE = Place("--by")  # where the amount stands that a fault is about
PLACES = Decimal("0.000001")  # of a raised price: far below what any supplier charges by


@dataclass(frozen=True, slots=True)
class Rise:
    """What a supplier says of a rise: on which family, by how much, from which day on."""

    supplier: str
    family: str
    by: str
    effective: date
    state: str
    dated: date
    note: str = ""

    @property
    def line(self) -> dict[str, str]:
        """The rise as a line of rises.csv."""
        return {
            "date": str(self.dated),
            "supplier": self.supplier,
            "family": self.family,
            "by": self.by,
            "effective": str(self.effective),
            "state": self.state,
            "note": self.note,
        }


def note_rise(folder: Path, rise: Rise, *, accepted: bool = False) -> Import:
    """What noting a rise changes: a line of rises.csv and, if confirmed, a list of raised prices.

    Args:
        folder: the catalogue's
        rise: what the supplier says
        accepted: whether a rise beyond the policy's limit, or a day far ahead, is meant
    Raises:
        UnknownNameError: there is no such supplier, or nothing of such a family.
        CatalogueError: the catalogue has problems, or would have some besides those of the line.
    """
    records = read_sound(folder)
    _check_names(records, rise)
    early = [*_too_long(rise.by)]
    early += [*far_ahead(records, rise.effective, accepted=accepted), *_told_already(records, rise)]
    if early:
        return Import(faults=early)
    noted = longer(folder, NAME, RiseRow.model_fields, [rise.line])
    # The catalogue's own reading and rules say whether the line is sound.
    try:
        tried = try_out(folder, {NAME: noted}, rise.effective).records
    except CatalogueError as stopped:
        faults = list(at_options(stopped.problems, NAME, noted, {"date": "--dated"}))
        if not faults:
            raise
        return Import(faults=faults)
    row = tried.rises[-1]
    offers, faults = _offers(tried, rise, row.by)
    moves = moves_of(tried, offers, rise.effective)
    limit = usual_limit(tried)
    made = Import(faults=faults)
    if rise.state == "announced":
        made.shown = ["If it is confirmed:", *table_lines(moves, limit, rise.effective)]
    elif rise.state == "confirmed":
        made.shown = list(table_lines(moves, limit, rise.effective))
        made.faults += move_faults(moves, rise.effective, limit, Meant(all=accepted))
        made.shown += remarks(tried, moves, rise.effective)
    made.faults.sort()
    if made.faults:
        return made
    if rise.state == "confirmed":
        note = f"{rise.by} on {rise.family}, confirmed {rise.dated}"
        price_list(folder, made, moves, rise.effective, note, limit)
    added = f"the rise is {rise.state} in {folder / NAME}"
    made.done = f"{made.done}; {added}" if made.done else added
    # The list comes first: if writing ends between the two, confirming again completes it.
    made.files[NAME] = noted
    try_out(folder, made.files, rise.effective)
    return made


def _too_long(by: str) -> Iterator[Problem]:
    """An amount of which no table could be read back, so that its own reading can't tell it."""
    if len(by) > LONGEST_TEXT:
        what = f"{quoted(by)} has {len(by)} characters"
        yield Problem(HERE, "too-much", what, f"at most {LONGEST_TEXT} characters fit")


def _check_names(records: Records, rise: Rise) -> None:
    supplier_of(records, rise.supplier)
    families = {str(m.family) for m in records.materials.values() if m.family is not None}
    if rise.family not in families:
        raise UnknownNameError(f"unknown family '{rise.family}': {nearest(rise.family, families)}")
    if not prices_before(records, rise.supplier, rise.family, rise.effective):
        what = f"nothing of the family '{rise.family}' is bought of '{rise.supplier}'"
        raise UnknownNameError(f"{what} the day before {rise.effective}")


def _told_already(records: Records, rise: Rise) -> Iterator[Problem]:
    """What earlier lines say of the rise that this one can't change or add to."""
    for row in records.rises:
        if (row.supplier, row.family) != (rise.supplier, rise.family):
            continue
        if row.effective != rise.effective:
            continue
        if row.date == rise.dated:
            what = f"a letter of {rise.dated} on this rise is noted at {row.place.clickable}"
            yield Problem(
                Place("--dated"), "already-listed", what, "give the day of the newer letter"
            )
        elif row.state == "confirmed" and row.date < rise.dated:
            what = f"the rise was confirmed at {row.place.clickable} already"
            hint = "what prices do after that stands in lists of their own"
            yield Problem(Place("--state"), "already-listed", what, hint)


def _offers(records: Records, rise: Rise, by: Figure) -> tuple[list[SupplierPrice], list[Problem]]:
    offers: list[SupplierPrice] = []
    faults: list[Problem] = []
    found = prices_before(records, rise.supplier, rise.family, rise.effective)
    for id, row in found.items():
        material = records.materials[id]
        words = _raised(material, row, by)
        if words is None:
            what = f"'{id}' would cost nothing or less after {rise.by}"
            faults.append(
                Problem(HERE, "zero-amount", what, f"it costs {written_price(row.price)}: check it")
            )
            continue
        names = (id, rise.supplier)
        new, wrong = priced_row(records, names, words, HERE, rise.effective)
        faults += wrong
        if new is not None:
            offers.append(SupplierPrice(material, new, HERE))
    return offers, faults


def _raised(material: Material, row: PriceRow, by: Figure) -> str | None:
    """A price after a rise, in its own unit and to a millionth; None if nothing is left of it."""
    number, _, per = written_price(row.price).partition(" ")
    raised = raised_price(material, row.price, by).value
    exact = Decimal(number) * Decimal(raised / row.price.value)
    rounded = exact.quantize(PLACES).normalize()
    return f"{rounded:f} {per}" if rounded > 0 else None
