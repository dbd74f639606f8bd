"""What the tables of `actuals/` say, to name it where it leaks: references, notes and numbers."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.booked import TABLES, Booked
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.problems import Place

# What a column says, where that is neither an id of the catalogue nor read as a number.
_TEXTS = {
    "reference": "the reference",
    "job": "a job",
    "quote": "the quote of a job",
    "quantity": "a quantity",
    "note": "a note",
}


def texts_of(booked: Booked) -> Iterator[tuple[str, str, Place]]:
    """Each text of the rows with what it is and where it stands: numbers of jobs and quotes,
    references, amounts of material, notes."""
    for table, row in _rows(booked):
        for column, what in _TEXTS.items():
            text = getattr(row, column, None)
            if isinstance(text, Text):
                yield str(text), f"{what} of {table} booked", text.place


def figures_of(booked: Booked) -> Iterator[Figure]:
    """Each number of the rows as it is written there: hours, wages, prices, money, pieces."""
    for _, row in _rows(booked):
        for column in type(row).model_fields:
            value = getattr(row, column)
            if isinstance(value, Figure):
                yield from (one for one in in_order([value]) if one.origin is not None)


def _rows(booked: Booked) -> Iterator[tuple[str, CatalogueRecord]]:
    """Every row with its table, jobs first, so that the number of one is told as that."""
    for table in TABLES:
        for row in getattr(booked, table):
            yield table, row
