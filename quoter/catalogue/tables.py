"""Records of the CSV files: price lists and rises, exchange rates, wages, volumes, published
prices and accepted standards."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.figures import Figure


class PriceRow(CatalogueRecord):
    """A line of a price list, prices/DATE.csv: in force from the date in the file's name.

    A list needs only the lines that moved; the newest price of a material holds.
    """

    material: f.Identifier
    """The material, by its id.
    Example: `resin_lam`"""
    supplier: f.Identifier
    """Whose price it is, by the supplier's id.
    Example: `dolvane`"""
    price: f.Price
    """The price before freight and duty, in the supplier's currency, per a unit that converts to
    what the material is counted in, or per pack. Landed prices and every material cost follow.
    Example: `4.10 EUR/kg`"""
    note: f.Note


class ExchangeRow(CatalogueRecord):
    """A line of exchange.csv: the rate of a currency from a day on."""

    date: f.Day
    """The day from which the rate holds.
    Example: `2026-11-01`"""
    currency: f.Currency
    """The foreign currency.
    Example: `USD`"""
    rate: f.Rate
    """How much of it one unit of home currency buys; prices in it are divided by it.
    Example: `1.08 USD/EUR`"""
    note: f.Note


class WageRow(CatalogueRecord):
    """A line of wages.csv: the wage of a group from a day on."""

    date: f.Day
    """The day from which the wage is paid.
    Example: `2026-01-01`"""
    group: f.Identifier
    """The wage group, which stations name.
    Example: `laminator`"""
    wage: f.Wage
    """The wage of an hour, before on-costs; every labour cost follows.
    Example: `24.20 EUR/h`"""
    note: f.Note


class VolumeRow(CatalogueRecord):
    """A line of volumes.csv: boats a year of a model, or the take rate of an option on it.

    The planned year follows: moulds, stations, materials, margin.
    """

    model: f.Identifier
    """The model, by its id.
    Example: `weekender_86`"""
    option: f.Note
    """The option that the take rate is of, by its id; empty on a line of boats.
    Example: `side_single`"""
    boats: Annotated[Figure | None, f.Maybe(f.measure("40", "each", low=0.0))]
    """Boats of the model a year; empty on a line of a take rate.
    Example: `50`"""
    take_rate: Annotated[Figure | None, f.Maybe(f.measure("25 %", "", low=0.0, high=1.0))]
    """The part of the model's boats that take the option; empty on a line of boats.
    Example: `25 %`"""
    note: f.Note


class BookRow(CatalogueRecord):
    """A line of price_book.csv: a published list price without tax, of an option or of a boat.

    It outranks the recommended price, and the list price of models.yaml, until another is
    published.
    """

    date: f.Day
    """The day from which the price is published.
    Example: `2026-09-01`"""
    market: f.Note
    """The market that it holds in, by its id; empty for all of them. The column may be left out.
    Example: `north`"""
    model: f.Note
    """The model that it holds on, by its id; empty for an option's price on all of them.
    Example: `coastal_98`"""
    option: f.Note
    """The option, by its id; empty for the boat itself.
    Example: `side_ramp`"""
    list_price: f.ListPrice
    """The list price before tax, in home currency or that of the market; negative for an option
    that is a credit. A market with a currency of its own exchanges a home price and rounds it
    once.
    Example: `4350 EUR`"""
    note: f.Note


class RiseRow(CatalogueRecord):
    """A line of rises.csv: a supplier raises a family of materials, by a letter.

    The newest line of a supplier, family and effective day says in which state the rise is.
    """

    date: f.Day
    """The day of the letter.
    Example: `2026-10-28`"""
    supplier: Annotated[Text, f.ref("supplier")]
    """Who raises the prices.
    Example: `quenmoor`"""
    family: f.Identifier
    """The family of materials that rises; materials name it.
    Example: `polyester`"""
    by: f.Rise
    """By how much: an amount in the supplier's currency per a unit, or a percentage.
    Example: `0.10 USD/lb`"""
    effective: f.Day
    """The day from which the raised prices hold.
    Example: `2026-12-15`"""
    state: Annotated[str, f.choice("announced", "confirmed", "withdrawn")]
    """What is known of it: announced is a what-if of the review; confirmed has its prices in a
    list; withdrawn is off.
    Example: `announced`"""
    note: f.Note


class IndexRow(CatalogueRecord):
    """A line of indices.csv: a value of a series of the yard's own, which surcharges follow."""

    date: f.Day
    """The day from which the value holds, until the next one's.
    Example: `2026-10-01`"""
    index: f.Identifier
    """The series, which surcharge clauses name.
    Example: `resin_index`"""
    value: f.Positive
    """The value as it was published: a plain number without a range.
    Example: `109.4`"""
    note: f.Note


class EditionRow(CatalogueRecord):
    """A line of editions.csv: an edition of the price sheet; the newest begun one is in force.

    All of it but the note is public. With this file, the yard's `price_sheet` states no edition.
    """

    valid_from: f.Day
    """The first day that prices of the edition hold.
    Example: `2026-11-01`"""
    valid_until: f.Day
    """The last day that prices of the edition hold; a build for a later day warns.
    Example: `2027-02-28`"""
    version: f.Words
    """The name of the edition, on every page and in the data; `news` and `new_in` name it.
    Example: `2026-11`"""
    model_year: f.Words
    """The model year of the edition, as customers read it.
    Example: `2027`"""
    note: f.Note


class AcceptedRow(CatalogueRecord):
    """A line of accepted.csv: a value of a YAML file that was accepted from what jobs took.

    Asked about a day before the line's, the value is what it was, so that a month that is closed
    stays as it is. `quoter accept` writes the value and the line; lines are never changed.
    """

    date: f.Day
    """The day from which the value is as accepted.
    Example: `2026-11-02`"""
    key: f.Words
    """The value's key, as in `--set` and `quoter why`.
    Example: `parts.open_mould.surround_single.operations.2.fixed`"""
    was: f.Words
    """What stood there before, as it was written, with its quotes where it had some.
    Example: `34 min [26 to 60 triangular] (timed)`"""
    becomes: f.Words
    """What stands there from then on, as it is written.
    Example: `39 min [36 to 43] (17 samples to 2026-10; median 41 min; was 34 min; timed)`"""
    samples: f.Note
    """How many samples it rests on.
    Example: `17`"""
    median: f.Note
    """What they took.
    Example: `41 min`"""
    low: f.Note
    """From where what they took surely was.
    Example: `38 min`"""
    high: f.Note
    """Up to where it surely was.
    Example: `45 min`"""
    by: f.Note
    """Who accepted it, by a role or a number; no name is needed. The column may be left out.
    Example: `estimator`"""
    note: f.Note
