"""Records of the yard: the company, its price sheet, and the rules that every price follows."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.markets import DealerClass, Market, Rounding, Surcharge
from quoter.catalogue.quoting import QuotePolicy
from quoter.catalogue.received import RateFile
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.figures import Figure


class Company(CatalogueRecord):
    """Who publishes the price sheet; everything here may become public."""

    name: f.Words
    currency: f.Currency
    address: f.Words | None = None
    email: f.Words | None = None
    phone: f.Words | None = None
    website: f.Words | None = None


class News(CatalogueRecord):
    """What an edition of the price sheet brings, in words for customers."""

    version: f.Words
    words: Many[f.Translated]


class PriceSheet(CatalogueRecord):
    """What the published list says of itself; everything here is public.

    A yard that rebuilds earlier months keeps all but the terms in editions.csv. `address` is the
    web address of the folder that it is uploaded to.
    """

    version: f.Words | None = None
    model_year: f.Words | None = None
    valid_from: f.Day | None = None
    valid_until: f.Day | None = None
    terms: Many[f.Translated] = ()
    news: Many[News] = ()
    address: f.WebFolder | None = None

    @property
    def edition(self) -> tuple[object, ...]:
        """What belongs in editions.csv where there is one."""
        return self.version, self.model_year, self.valid_from, self.valid_until


class Provision(CatalogueRecord):
    """A cost that is a fraction of the net price, such as commission or warranty."""

    name: f.Words
    fraction: f.Loss
    note: f.Note | None = None


class Repricing(CatalogueRecord):
    """When a published price moves: not by less than `hold_within`, never by more than
    `largest_step` at once, both as fractions of the price; and down only where it `may_fall`."""

    hold_within: f.Fraction
    largest_step: Annotated[Figure, f.measure("8 %", "", low=0.0, high=1.0, above_low=True)]
    may_fall: f.Truth = False


class Policy(CatalogueRecord):
    """The rules a price follows; `working_hours` a year and `mould_availability` are for moulds."""

    target_margin: f.Fraction
    floor_margin: f.Fraction
    provisions: Many[Provision] = ()
    material_handling: f.Fraction
    general_overhead: Annotated[Figure, f.measure("10 %", "", low=0.0)]
    rounding: Rounding
    repricing: Repricing | None = None
    glass_density: f.Density
    water_density: f.Density
    fibre_fraction_low: f.Fraction
    fibre_fraction_high: f.Fraction
    working_hours: Annotated[Figure, f.measure("1700 h", "h", low=0.0, above_low=True)] | None = (
        None
    )
    mould_availability: f.Passed | None = None
    import_limit: f.Fraction | None = None
    prices_stale_after_days: Annotated[Figure, f.measure("120", "", low=1.0, whole=True)]


class Yard(CatalogueRecord):
    """The file yard.yaml. Recommended prices leave the target margin at the first dealer class.

    `format` is that of the whole catalogue; the first where none is stated.
    """

    format: f.Format | None = None
    company: Company
    price_sheet: PriceSheet
    policy: Policy
    dealer_classes: Many[DealerClass]
    markets: Many[Market]
    rate_file: RateFile | None = None
    surcharges: Many[Surcharge] = ()
    quotes: QuotePolicy | None = None
