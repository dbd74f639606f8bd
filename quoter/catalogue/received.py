"""Records of how the files that others send are read: suppliers' prices, published rates."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text


class PriceHeadings(CatalogueRecord):
    """What the columns of a supplier's file of prices are called, each as it is written there.

    `per` says what a price is for, `pack` what a pack holds, `name` what the supplier calls it.
    """

    code: f.Words
    price: f.Words
    per: f.Words | None = None
    currency: f.Words | None = None
    pack: f.Words | None = None
    name: f.Words | None = None


class UnitWord(CatalogueRecord):
    """A word for a unit as the supplier writes it, and the unit that it `means`."""

    word: f.Words
    means: f.Per


class SupplierCode(CatalogueRecord):
    """Which material of the yard a supplier's code is."""

    code: f.Words
    material: Annotated[
        Text, f.ref("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")
    ]


class PriceFile(CatalogueRecord):
    """How the file of prices that a supplier sends is read.

    `per` is what every price is for, where no column says it. Codes that are `ignored` are not
    bought. Without a `sheet`, the one of a workbook that has the headings is read; hidden sheets
    and rows are left out.
    """

    headings: PriceHeadings
    per: f.Per | None = None
    units: Many[UnitWord] = ()
    codes: Many[SupplierCode]
    ignored: Many[f.Words] = ()
    sheet: f.Words | None = None
    decimal: Annotated[str, f.choice("point", "comma")] = "point"


class RateHeadings(CatalogueRecord):
    """What the columns of a file of rates are called.

    With a `currency` and a `rate` column, a line is a currency; with a `date` alone, it is a day
    and every currency has a column headed by its code. With all three it is a currency on a day.
    """

    currency: f.Words | None = None
    rate: f.Words | None = None
    date: f.Words | None = None


class RateFile(CatalogueRecord):
    """How the file of exchange rates that the yard gets is read."""

    headings: RateHeadings
    quoted: Annotated[str, f.choice("foreign per home", "home per foreign")]
    sheet: f.Words | None = None
    decimal: Annotated[str, f.choice("point", "comma")] = "point"
