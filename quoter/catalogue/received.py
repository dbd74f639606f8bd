"""Records of how the files that others send are read: suppliers' prices, published rates."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text


class PriceHeadings(CatalogueRecord):
    """What the columns of a supplier's file of prices are called, each as it is written there.

    Where an upper row of headings stands over several columns, a column is known by its own words
    or by both: `Price EUR/kg`.
    """

    code: f.Words
    """The heading of the supplier's codes.
    Example: `Article`"""
    price: f.Words
    """The heading of the prices.
    Example: `EUR/kg`"""
    per: f.Words | None = None
    """The heading of what each price is for; it stands here unless one `per` is for all prices.
    Its cells have a unit, a number of it or what a pack holds: kg, 100 pcs, carton of 12 x 310 ml.
    Example: `Per`"""
    count: f.Words | None = None
    """The heading of how many of that unit a price is for, as in lists with a column of 1, 100 or
    1000 beside the unit.
    Example: `PE`"""
    currency: f.Words | None = None
    """The heading of the currency, which must be the supplier's on every line.
    Example: `Cur`"""
    pack: f.Words | None = None
    """The heading of what a pack holds, held against the material's `pack`.
    Example: `Pack`"""
    name: f.Words | None = None
    """The heading of what the supplier calls it, shown beside codes that are not known.
    Example: `Description`"""


class UnitWord(CatalogueRecord):
    """A word for a unit as the supplier writes it."""

    word: f.Words
    """The word in the supplier's file.
    Example: `USG`"""
    means: f.Per
    """The unit that it means.
    Example: `gal`"""


class SupplierCode(CatalogueRecord):
    """Which material of the yard a supplier's code is."""

    code: f.Words
    """The supplier's code; each stands once, here or among those ignored.
    Example: `Q-1188`"""
    material: Annotated[
        Text, f.ref("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")
    ]
    """The material that it is; each has one code.
    Example: `resin_inj`"""


class PriceFile(CatalogueRecord):
    """How the file of prices that a supplier sends is read.

    Hidden sheets, rows and columns are left out and named.
    """

    headings: PriceHeadings
    """What its columns are called."""
    per: f.Per | None = None
    """What every price is for, where neither a column says it nor the price's own cell or heading.
    Example: `kg`"""
    units: Many[UnitWord] = ()
    """The supplier's own words for units."""
    codes: Many[SupplierCode]
    """The supplier's codes of what the yard buys."""
    ignored: Many[f.Words] = ()
    """Codes in the file that the yard does not buy.
    Example: `[Q-9000]`"""
    sheet: f.Words | None = None
    """The sheet of a workbook that is read; needed where several visible ones have the headings.
    Unless given: the one that has them.
    Example: `Prices`"""
    decimal: Annotated[str, f.choice("point", "comma")] = "point"
    """What stands before decimals in the supplier's numbers.
    Example: `comma`"""


class RateHeadings(CatalogueRecord):
    """What the columns of a file of rates are called.

    With a currency and a rate, a line is a currency; with a date alone, it is a day and every
    currency has a column headed by its code. With all three it is a currency on a day.
    """

    currency: f.Words | None = None
    """The heading of the currencies' codes.
    Example: `Currency`"""
    rate: f.Words | None = None
    """The heading of the rates.
    Example: `Rate`"""
    date: f.Words | None = None
    """The heading of the days; the rates of the day asked for are taken, or the newest at most 7
    days before.
    Example: `Date`"""


class RateFile(CatalogueRecord):
    """How the file of exchange rates that the yard gets is read."""

    headings: RateHeadings
    """What its columns are called, which says how it is laid out."""
    quoted: Annotated[str, f.choice("foreign per home", "home per foreign")]
    """Which way its rates are: how much foreign money one unit of home money buys, or the other
    way round.
    Example: `foreign per home`"""
    sheet: f.Words | None = None
    """The sheet of a workbook with the rates; needed where several visible ones have the headings.
    Unless given: the one that has them.
    Example: `Rates`"""
    decimal: Annotated[str, f.choice("point", "comma")] = "point"
    """What stands before decimals in its rates.
    Example: `comma`"""
