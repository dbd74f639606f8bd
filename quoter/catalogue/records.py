"""The catalogue as objects: every record by its id, and the dated rows still to be resolved."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from quoter.catalogue import materials as m
from quoter.catalogue.factory import Laminate, Mould, Station, Supplier
from quoter.catalogue.options import BaseBoat, Model, Option, Package
from quoter.catalogue.parts import PART_KINDS, AnyPart
from quoter.catalogue.po_files import Entry
from quoter.catalogue.source import Text
from quoter.catalogue.tables import (
    AcceptedRow,
    BookRow,
    EditionRow,
    ExchangeRow,
    IndexRow,
    PriceRow,
    RiseRow,
    VolumeRow,
    WageRow,
)
from quoter.catalogue.values import Worded
from quoter.catalogue.yard import Yard

MATERIAL_KINDS = ("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")


@dataclass(frozen=True, slots=True)
class PublicText:
    """A text that customers read in their own language, and how it is to be translated."""

    text: Text
    reading: Worded

    @property
    def written(self) -> str:
        """As the file has it, whatever the command line says instead."""
        return self.text.was or str(self.text)


@dataclass(slots=True)
class Unread:
    """What could not be read, and is told elsewhere: what refers to it is not to be blamed.

    `kinds` have records whose ids are not known; `missing` are the kinds whose file, named here,
    is absent. `rows` are the materials, wage groups and currencies of price lists, wages.csv and
    exchange.csv that have a line which could not be read, by table; `tables` could not be read
    at all.
    """

    kinds: set[str] = field(default_factory=set)
    missing: dict[str, str] = field(default_factory=dict)
    rows: dict[str, set[str]] = field(default_factory=dict)
    tables: set[str] = field(default_factory=set)

    def touches(self, table: str) -> bool:
        """Whether something of a table could not be read."""
        return table in self.tables or table in self.rows

    def may_hold(self, table: str, word: str) -> bool:
        """Whether a table may well hold a line for something that was found in no line."""
        return table in self.tables or word in self.rows.get(table, set())


@dataclass(slots=True)
class Records:
    """What was read, by kind and id, in the order of the files.

    `home` is the home currency where it could be read, even if the rest of the yard could not.
    `ids` also names records that could not be read, so that what refers to them is not blamed;
    `price_lists` holds the rows of each dated list. `texts` are those that customers read in
    their own language, by key; `translations` the entries of each language, by key and text.
    """

    yard: Yard | None
    home: str | None
    by_kind: dict[str, dict[str, Any]]
    ids: dict[str, dict[str, Any]]
    price_lists: dict[date, list[PriceRow]]
    exchange: list[ExchangeRow]
    wages: list[WageRow]
    volumes: list[VolumeRow]
    book: list[BookRow]
    editions: list[EditionRow]
    indices: list[IndexRow]
    rises: list[RiseRow]
    accepted: list[AcceptedRow]
    texts: dict[str, PublicText] = field(default_factory=dict)
    translations: dict[str, dict[tuple[str, str], Entry]] = field(default_factory=dict)
    unread: Unread = field(default_factory=Unread)

    def lacks(self, kinds: Iterable[str], word: str) -> bool:
        """Whether no record of the kinds has this id, as far as could be read."""
        return not any(
            kind in self.unread.kinds or word in self.ids.get(kind, {}) for kind in kinds
        )

    def named(self, kinds: Iterable[str]) -> set[str]:
        """The ids of every record of the kinds, readable or not."""
        return {id for kind in kinds for id in self.ids.get(kind, {})}

    def of(self, kind: str) -> dict[str, Any]:
        """The records of one kind by id."""
        return self.by_kind.get(kind, {})

    @property
    def materials(self) -> dict[str, m.Material]:
        """Everything that is bought and therefore needs a price."""
        return {id: record for kind in MATERIAL_KINDS for id, record in self.of(kind).items()}

    @property
    def parts(self) -> dict[str, AnyPart]:
        """The parts of every kind by id."""
        return {id: record for kind in PART_KINDS for id, record in self.of(kind).items()}

    @property
    def stations(self) -> dict[str, Station]:
        """The stations by id, in the order of the file."""
        return self.of("station")

    @property
    def suppliers(self) -> dict[str, Supplier]:
        """The suppliers by id."""
        return self.of("supplier")

    @property
    def moulds(self) -> dict[str, Mould]:
        """The moulds by id."""
        return self.of("mould")

    @property
    def laminates(self) -> dict[str, Laminate]:
        """The laminates by id."""
        return self.of("laminate")

    @property
    def options(self) -> dict[str, Option]:
        """The options by id, in the order of the file."""
        return self.of("option")

    @property
    def owners(self) -> list[AnyPart | Option | BaseBoat]:
        """All that goods and operations are of: parts, options and base boats."""
        bases = (model.base for model in self.models.values())
        return [*self.parts.values(), *self.options.values(), *bases]

    @property
    def packages(self) -> dict[str, Package]:
        """The packages of options by id."""
        return self.of("package")

    @property
    def models(self) -> dict[str, Model]:
        """The models by id, in the order of the file."""
        return self.of("model")
