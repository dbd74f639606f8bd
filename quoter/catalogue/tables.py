"""Records of the CSV files: price lists, exchange rates, wages, volumes and published prices."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import Record
from quoter.figures import Figure


class PriceRow(Record):
    """A line of prices/DATE.csv."""

    material: f.Identifier
    supplier: f.Identifier
    price: f.Price
    note: f.Note


class ExchangeRow(Record):
    """A line of exchange.csv: how much of the currency one unit of home currency buys."""

    date: f.Day
    currency: f.Currency
    rate: f.Rate
    note: f.Note


class WageRow(Record):
    """A line of wages.csv."""

    date: f.Day
    group: f.Identifier
    wage: f.Wage
    note: f.Note


class VolumeRow(Record):
    """A line of volumes.csv: boats a year, or an option's take rate on the model."""

    model: f.Identifier
    option: f.Note
    boats: Annotated[Figure | None, f.Maybe(f.measure("40", "each", low=0.0))]
    take_rate: Annotated[Figure | None, f.Maybe(f.measure("25 %", "", low=0.0, high=1.0))]
    note: f.Note


class BookRow(Record):
    """A line of price_book.csv: a published list price ex tax, of an option on one model or all."""

    date: f.Day
    model: f.Note
    option: f.Identifier
    list_price: f.Money
    note: f.Note
