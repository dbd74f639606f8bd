"""Whether a task would give what stands already: a digest of all that its files rest on.

Where it is the same in two builds, so are the files. It is taken from what a task is given, before
anything is made: from the views of a price sheet; from the catalogue without what is of other boats
alone. The trial that changes catalogues at random finds what it lacks.
"""

from __future__ import annotations

import copyreg
import hashlib
import io
import pickle
from collections.abc import Callable, Sequence
from dataclasses import fields, is_dataclass
from operator import attrgetter, methodcaller
from pathlib import Path
from typing import Any

from quoter.analysis.history import days_of
from quoter.analysis.plan import Plan
from quoter.catalogue.adding import ACTUALS, pending
from quoter.catalogue.parts import PART_KINDS
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.pages.public.heads import heads_of
from quoter.pages.public.site import MarketSheet
from quoter.pricing.controls import assemblies_of
from quoter.pricing.price import PricedModel, Pricing
from quoter.problems import Problem

Way = Callable[[Any], Any]

_PROTOCOL = 5
_AS_EVER = methodcaller("__reduce_ex__", _PROTOCOL)
_OF_BOATS = ("model", "option", "package", *PART_KINDS)
# Of the records: what is of boats, and what nothing that the yard sees is made from.
_LEFT_OUT = ("by_kind", "ids", "texts", "translations", "unread", "volumes", "book")


def key_of_sheet(pricing: Pricing, sheet: MarketSheet) -> str:
    """What a price sheet's files rest on: its views and rules, and which sheets stand beside it."""
    return _digest(sheet.folder, sheet.views, sheet.rules, heads_of(pricing))


def key_with_booked(key: str, folder: Path) -> str:
    """What files rest on that tell of what was booked as well: the tables too, to the byte."""
    unfinished, _ = pending(folder)
    found = {
        f"{ACTUALS}/{path.name}": path.read_bytes() for path in (folder / ACTUALS).glob("*.csv")
    }
    found |= {name: each for name, each in unfinished.items() if name.startswith(f"{ACTUALS}/")}
    return _digest(key, sorted(found.items()))


class YardKeys:
    """What files of the yard itself rest on: those of one boat, and those about all of them."""

    def __init__(self, pricing: Pricing, plan: Plan) -> None:
        """Take down what all boats share: materials, prices, wages, policy, and the plan's load."""
        catalogue, records = pricing.catalogue, pricing.catalogue.records
        self._records = records
        self._shared = _digest(
            _fields(catalogue, ("records", "book", "excerpt", "rows")),
            _fields(records, _LEFT_OUT),
            [(kind, of) for kind, of in records.by_kind.items() if kind not in _OF_BOATS],
            [(id, model.hull_colour) for id, model in records.models.items()],
            days_of(catalogue),
            [(load.mould.id, load.pulls.value) for load in plan.moulds],
            [None if load.capacity is None else load.capacity.value for load in plan.moulds],
        )

    def boat(self, priced: PricedModel) -> str:
        """What a boat's workbook, pages and papers rest on."""
        records, model = self._records, priced.model
        credited = {c.option for id in priced.options for c in records.options[id].credits}
        options = {*priced.options, *filter(None, credited)}
        sold = {"", *options, *priced.packages}
        parts = {one.recipe.id for one in assemblies_of(priced)}
        return _digest(
            self._shared,
            model,
            [record for id, record in records.options.items() if id in options],
            [records.packages[id] for id in priced.packages],
            [part for id, part in records.parts.items() if id in parts or _compared(part)],
            [row for row in records.volumes if row.model == model.id],
            [row for row in records.book if row.option in sold and row.model in ("", model.id)],
        )

    def all(self, warnings: Sequence[Problem]) -> str:
        """What files about the whole yard rest on."""
        records = self._records
        of_boats = [records.of(kind) for kind in _OF_BOATS]
        return _digest(self._shared, of_boats, records.volumes, records.book, list(warnings))


def _compared(part: Any) -> bool:
    """Whether a part is there to be compared with, or may be of one that is."""
    return getattr(part, "alternative_to", True) is not None


def _fields(record: Any, without: Sequence[str]) -> list[Any]:
    return [getattr(record, each.name) for each in fields(record) if each.name not in without]


def _record(given: CatalogueRecord) -> tuple[Any, ...]:
    """A record without its note, which no output shows."""
    return type(given), ({**vars(given), "note": None}, given.place)


def _text(given: Text) -> tuple[Any, ...]:
    """A text without its meanings."""
    told = (str(given), given.place, given.key, given.label, given.effective, given.was)
    return type(given), told


def _by_fields(kind: type) -> Way:
    """Objects of a dataclass by what its fields hold, without what they remember besides."""
    # Of one name alone attrgetter gives no tuple, so the class goes first.
    values = attrgetter("__class__", *(each.name for each in fields(kind)))
    return lambda given: (kind, values(given))


class _Ways(dict[type, Way]):
    """How objects of a class are written: asked once for a class, not for each of its objects."""

    def __missing__(self, kind: type) -> Way:
        """Find it out.

        Raises:
            KeyError: of classes themselves, which pickle writes by their names.
        """
        if issubclass(kind, type):
            raise KeyError(kind)
        if issubclass(kind, CatalogueRecord):
            self[kind] = _record
        elif issubclass(kind, Text):
            self[kind] = _text
        elif is_dataclass(kind) and kind.__reduce__ is object.__reduce__:
            self[kind] = _by_fields(kind)
        else:
            self[kind] = copyreg.dispatch_table.get(kind) or _AS_EVER
        return self[kind]


class _Pickler(pickle.Pickler):
    """Writes records by what outputs read, without the sets and caches they keep besides."""

    dispatch_table = _Ways()


def _digest(*given: object) -> str:
    """Of objects as they are kept: what differs in them differs in it."""
    kept = io.BytesIO()
    _Pickler(kept, protocol=_PROTOCOL).dump(given)
    return hashlib.sha256(kept.getbuffer()).hexdigest()[:32]
