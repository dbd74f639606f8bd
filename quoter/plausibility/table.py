"""The table of usual ranges as a whole: what the check holds values against, and people read."""

from __future__ import annotations

from functools import cache

from quoter.catalogue.booked import HoursRow, IssueRow, JobRow, PullRow, PurchaseRow, SpentRow
from quoter.catalogue.certainty import Together
from quoter.catalogue.operations import Check
from quoter.catalogue.quoting import (
    AmountOff,
    AskedDelivery,
    Chosen,
    ExtraLine,
    OfferedBeside,
    Request,
)
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.tables import IndexRow, VolumeRow
from quoter.plausibility.of_materials import MATERIALS
from quoter.plausibility.of_relations import RELATIONS
from quoter.plausibility.of_sales import SALES
from quoter.plausibility.of_work import WORK
from quoter.plausibility.usual import Usual

RANGES: tuple[Usual, ...] = (*MATERIALS, *WORK, *SALES)
TABLE: tuple[Usual, ...] = (*RANGES, *RELATIONS)

# Measures without a range, each with the reason.
EXEMPT: dict[tuple[type[CatalogueRecord], str], str] = {
    (Together, "correlation"): "what moves together may do so not at all, or as one",
    (Check, "least"): "what is checked may be a film, a hardness, a vacuum or a count",
    (Check, "most"): "what is checked may be a film, a hardness, a vacuum or a count",
    (VolumeRow, "take_rate"): "any part of the boats may take an option, none and all included",
    (IndexRow, "value"): "a series has a scale of its own; it is held against the value before",
    (Request, "shown_total"): "the quote is held against it to the cent",
    (Request, "shown_lead_weeks"): "the quote is held against it to the week",
    (Request, "discount"): "the margin that it leaves is held against the floor, with a name",
    (Chosen, "quantity"): "it is held against how many fit on one boat",
    **{
        (kind, key): "what happened is held against its standard, and not against what is usual"
        for kind, keys in (
            (JobRow, ("boats",)),
            (HoursRow, ("hours", "wage")),
            (IssueRow, ("price",)),
            (PurchaseRow, ("price", "freight", "rate")),
            (PullRow, ("good", "scrapped")),
            (SpentRow, ("spent",)),
        )
        for key in keys
    },
    **{
        (kind, key): "what it leaves is held against the floor, with a name"
        for kind, keys in (
            (ExtraLine, ("quantity", "price", "cost", "worth")),
            (AmountOff, ("amount",)),
            (OfferedBeside, ("quantity", "price")),
            (AskedDelivery, ("price",)),
        )
        for key in keys
    },
}
Cases = dict[str, Usual]


@cache
def ranges_of(kind: type[CatalogueRecord]) -> tuple[tuple[str, Cases], ...]:
    """The fields of a kind of record that have ranges, with these by case; the nearest kind's."""
    found: dict[str, Cases] = {}
    for above in reversed(kind.__mro__):
        own: dict[str, Cases] = {}
        for usual in RANGES:
            if usual.record is above:
                own.setdefault(usual.field, {})[usual.case] = usual
        found |= own
    return tuple(found.items())


def known_names() -> list[tuple[type[CatalogueRecord], str]]:
    """Each kind of record with the names that its `expected` may have."""
    return [(usual.record, usual.field) for usual in TABLE]
