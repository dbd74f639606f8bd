"""An offer: what a supplier asks for a material from a day on, read as a line of a price list."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter.catalogue.checks_prices import price_faults
from quoter.catalogue.materials import Material
from quoter.catalogue.reading import read
from quoter.catalogue.records import Records
from quoter.catalogue.source import Block, Sources, Text
from quoter.catalogue.tables import PriceRow
from quoter.problems import Place, Problem, Problems


@dataclass(frozen=True, slots=True)
class SupplierPrice:
    """A supplier's price of a material, and where to point when something is wrong with it."""

    material: Material
    row: PriceRow
    place: Place
    code: str = ""


def priced_row(
    records: Records, names: tuple[str, str], words: str, place: Place, effective: date
) -> tuple[PriceRow | None, list[Problem]]:
    """A line of a price list for a material and supplier, read and checked as if it stood there."""
    material, supplier = names
    problems = Problems()
    block = Block.at(place)
    key = f"prices.{effective}.{material}.{supplier}"
    for column, text in zip(PriceRow.model_fields, (*names, words, ""), strict=True):
        label = f"{material}, {supplier}, {column}"
        block[column] = Text.at(text, place, f"{key}.{column}", label, str(effective))
    row = read(Sources(Path(), problems), PriceRow, block)
    if row is not None:
        problems.extend(price_faults(records, row))
    return row, problems.errors
