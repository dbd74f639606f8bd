"""The margin review of the demonstration as a file, and what tests look up in it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils import column_index_from_string

from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.pricing.priced import at_last_list, price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import Book, write_book
from quoter.workbook.margin_book import margin_book
from tests.workbook.recalculate import recalculate

MARKETS = {"home": "Orvemark", "trade": "Dealers and export", "north": "Northern dealers"}


@dataclass(frozen=True)
class Built:
    pricing: Pricing
    before: Pricing
    book: Book
    file: Path
    recalculated: Path


def build_review(folder: Path) -> Built:
    """The review in a folder, as built and as recalculated elsewhere."""
    catalogue = demo_catalogue_folder()
    pricing, _ = price_catalogue(catalogue)
    before = at_last_list(catalogue, pricing)
    assert before is not None
    book = margin_book(Findings(pricing, lambda: before))
    file = folder / "margin-review.xlsx"
    file.write_bytes(write_book(book))
    return Built(pricing, before, book, file, recalculate([file], folder / "recalculated")[0])


def opened(file: Path, data_only: bool = False) -> Any:
    """A workbook whose cells may hold anything."""
    return load_workbook(file, data_only=data_only)


def head_row(sheet: Any) -> int:
    """The row of a lone table's heading."""
    return next(row for row in range(1, 20) if sheet.cell(row, 1).value == "Model")


def filtered(sheet: Any) -> tuple[int, int, int]:
    """The heading's row, the last column and the last row of a sheet's filter, from A."""
    found = re.fullmatch(r"A(\d+):([A-Z]+)(\d+)", sheet.auto_filter.ref)
    assert found is not None
    return int(found[1]), column_index_from_string(found[2]), int(found[3])
