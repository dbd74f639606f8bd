"""Records of the CSV files: price lists and rises, exchange rates, wages, volumes and published
prices."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.figures import Figure


class PriceRow(CatalogueRecord):
    """A line of prices/DATE.csv."""

    material: f.Identifier
    supplier: f.Identifier
    price: f.Price
    note: f.Note


class ExchangeRow(CatalogueRecord):
    """A line of exchange.csv: how much of the currency one unit of home currency buys."""

    date: f.Day
    currency: f.Currency
    rate: f.Rate
    note: f.Note


class WageRow(CatalogueRecord):
    """A line of wages.csv."""

    date: f.Day
    group: f.Identifier
    wage: f.Wage
    note: f.Note


class VolumeRow(CatalogueRecord):
    """A line of volumes.csv: boats a year, or an option's take rate on the model."""

    model: f.Identifier
    option: f.Note
    boats: Annotated[Figure | None, f.Maybe(f.measure("40", "each", low=0.0))]
    take_rate: Annotated[Figure | None, f.Maybe(f.measure("25 %", "", low=0.0, high=1.0))]
    note: f.Note


class BookRow(CatalogueRecord):
    """A line of price_book.csv: a published list price ex tax of an option, on one model or all.

    Without an option it is the boat's own. It holds in one market, in home currency or that
    market's, or in all of them. The column `market` may be left out.
    """

    date: f.Day
    market: f.Note
    model: f.Note
    option: f.Note
    list_price: f.ListPrice
    note: f.Note


class RiseRow(CatalogueRecord):
    """A line of rises.csv: a supplier raises a family of materials by an amount or a percentage.

    The newest line of a supplier, family and effective day says in which state the rise is.
    """

    date: f.Day
    supplier: Annotated[Text, f.ref("supplier")]
    family: f.Identifier
    by: f.Rise
    effective: f.Day
    state: Annotated[str, f.choice("announced", "confirmed", "withdrawn")]
    note: f.Note


class IndexRow(CatalogueRecord):
    """A line of indices.csv: a value of a series of the yard's own, in force from that day on."""

    date: f.Day
    index: f.Identifier
    value: f.Positive
    note: f.Note


class EditionRow(CatalogueRecord):
    """A line of editions.csv: what the price sheet says of itself from a day on.

    All of it but the note is public.
    """

    valid_from: f.Day
    valid_until: f.Day
    version: f.Words
    model_year: f.Words
    note: f.Note
