"""Records of whom the yard sells to: markets, dealer classes, and clauses that prices follow."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure


class Rounding(CatalogueRecord):
    """How a list price is rounded: to multiples of `step` plus `ending`."""

    step: Annotated[Figure, f.measure("10 EUR", "money", low=0.0, above_low=True)]
    direction: Annotated[str, f.choice("up", "nearest", "down")]
    ending: Annotated[Figure, f.measure("0 EUR", "money")] | None = None


class DealerClass(CatalogueRecord):
    """A class of buyer and its discount off the list; consumers are quoted as their market asks."""

    id: f.Identifier
    name: f.Words
    discount: f.Loss
    consumer: f.Truth = False
    note: f.Note | None = None


class OtherTax(CatalogueRecord):
    """A rate of tax beside a market's own, for what names it; its name is public."""

    id: f.Identifier
    name: f.Translated
    rate: Annotated[Figure, f.measure("10 %", "", low=0.0)]


class Market(CatalogueRecord):
    """A market: its tax, and whether its price lists show prices with or without it.

    One with a currency of its own rounds prices in it by a rule of its own. `other_taxes` hold
    for options that name one of them as their `tax`. Its price sheet is in its `language` and the
    `other_languages`, with the `units` its readers expect; without `published` there is none.
    """

    id: f.Identifier
    name: f.Translated
    language: f.Words
    other_languages: Many[f.Words] = ()
    tax_name: f.Translated
    tax: Annotated[Figure, f.measure("25 %", "", low=0.0)]
    prices: Annotated[str, f.choice("with tax", "without tax")]
    other_taxes: Many[OtherTax] = ()
    currency: f.Currency | None = None
    rounding: Rounding | None = None
    units: Annotated[str, f.choice("metric", "metric and US")] = "metric"
    published: f.Truth = True
    note: f.Note | None = None

    @property
    def languages(self) -> tuple[Text, ...]:
        """Those its price sheet is in, its own first."""
        return self.language, *self.other_languages


class Surcharge(CatalogueRecord):
    """A clause for quotes that stay open: what a price may follow, from when on and how far.

    `threshold` is how far the index must move before anything counts, `share` how much of the
    price follows it, `cap` the most that a price may rise; `only_excess` counts just what lies
    beyond the threshold; `index_name` is what a customer reads of it. All but the note is public.
    """

    id: f.Identifier
    name: f.Translated
    index: f.Identifier
    index_name: f.Translated | None = None
    threshold: f.Loss
    share: f.Passed
    cap: f.Passed | None = None
    only_excess: f.Truth
    downward: f.Truth
    leave_above: f.Fraction | None = None
    open_for: Annotated[Figure, f.measure("30", "", low=0.0, whole=True)]
    note: f.Note | None = None
