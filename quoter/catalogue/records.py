"""The catalogue as objects: every record by its id, and the dated rows still to be resolved."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from quoter.catalogue import materials as m
from quoter.catalogue.factory import Laminate, Mould, Station, Supplier, Yard
from quoter.catalogue.options import Model, Option
from quoter.catalogue.parts import ClosedMouldPart, CorePart, OpenMouldPart
from quoter.catalogue.record import Record
from quoter.catalogue.tables import BookRow, ExchangeRow, PriceRow, VolumeRow, WageRow

AnyPart = OpenMouldPart | ClosedMouldPart | CorePart


@dataclass(slots=True)
class Records:
    """What was read, by kind and id, in the order of the files.

    `ids` also names records that could not be read, so that what refers to them is not blamed;
    `price_lists` holds the rows of each dated list.
    """

    yard: Yard | None
    by_kind: dict[str, dict[str, Any]]
    ids: dict[str, dict[str, Any]]
    price_lists: dict[date, list[PriceRow]]
    exchange: list[ExchangeRow]
    wages: list[WageRow]
    volumes: list[VolumeRow]
    book: list[BookRow]
    every: list[Record] = field(default_factory=list)

    def of(self, kind: str) -> dict[str, Any]:
        """The records of one kind by id."""
        return self.by_kind.get(kind, {})

    @property
    def materials(self) -> dict[str, m.Material]:
        """Everything that is bought and therefore needs a price."""
        kinds = ("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")
        return {id: record for kind in kinds for id, record in self.of(kind).items()}

    @property
    def parts(self) -> dict[str, AnyPart]:
        """The parts of every kind by id."""
        kinds = ("open_mould", "closed_mould", "core")
        return {id: record for kind in kinds for id, record in self.of(kind).items()}

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
    def models(self) -> dict[str, Model]:
        """The models by id, in the order of the file."""
        return self.of("model")
