"""Records of what the yard works with: stations, suppliers, moulds and laminates."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.received import PriceFile
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure


class Overhead(CatalogueRecord):
    """A station's annual budget over its practical capacity, absorbed on one base."""

    base: Annotated[str, f.choice("labour hours", "labour cost", "machine hours")]
    capacity: f.Capacity
    variable: f.Money
    fixed: f.Money
    note: f.Note | None = None


class Station(CatalogueRecord):
    """A place where work is done, its people's cost and its overhead."""

    id: f.Identifier
    name: f.Words
    wage_group: f.Identifier
    on_costs: Annotated[Figure, f.measure("42 %", "", low=0.0)]
    efficiency: Annotated[Figure, f.measure("85 %", "", low=0.0, above_low=True)]
    allowance: f.Loss | None = None
    allowance_basis: Annotated[str, f.choice("work", "shift")] = "work"
    overhead: Overhead
    note: f.Note | None = None


class Stations(CatalogueRecord):
    """The file stations.yaml."""

    stations: Many[Station]


class Supplier(CatalogueRecord):
    """Who sells materials: the currency of their prices, freight and duty on top."""

    id: f.Identifier
    name: f.Words
    currency: f.Currency
    freight: f.Fraction | None = None
    duty: f.Fraction | None = None
    price_file: PriceFile | None = None
    note: f.Note | None = None


class Suppliers(CatalogueRecord):
    """The file suppliers.yaml."""

    suppliers: Many[Supplier]


class Mould(CatalogueRecord):
    """A mould or a set of moulds used once per pull."""

    id: f.Identifier
    name: f.Words
    cost: f.Money
    refurbishment: f.Money | None = None
    salvage: f.Money | None = None
    life: f.Some
    pulls_per_year: f.Some
    write_off_years: f.Positive
    upkeep: f.MoneyEach | None = None
    note: f.Note | None = None


class Moulds(CatalogueRecord):
    """The file moulds.yaml."""

    moulds: Many[Mould] = ()


class Ply(CatalogueRecord):
    """One reinforcement of a stack, laid `layers` times; its glass content may differ here."""

    glass: Annotated[Text, f.ref("glass")]
    layers: f.Whole | None = None
    glass_content: f.Passed | None = None
    stage: Annotated[str, f.choice("skin", "bulk")] | None = None


class MixedContent(CatalogueRecord):
    """Glass content of a stack of mat and woven plies: `all_woven` less `mat_slope` times the
    mat's share of the glass mass."""

    all_woven: f.Passed
    mat_slope: f.Fraction


class Laminate(CatalogueRecord):
    """A stack of plies, outer face first; `mixed_content` gives them one glass content."""

    id: f.Identifier
    name: f.Words
    plies: Many[Ply]
    mixed_content: MixedContent | None = None
    note: f.Note | None = None


class Laminates(CatalogueRecord):
    """The file laminates.yaml."""

    laminates: Many[Laminate] = ()
