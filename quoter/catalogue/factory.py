"""Records of the yard: company, policy, stations, suppliers, moulds and laminates."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.quoting import QuotePolicy
from quoter.catalogue.received import PriceFile, RateFile
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
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


class Rounding(CatalogueRecord):
    """How a list price is rounded: to multiples of `step` plus `ending`."""

    step: Annotated[Figure, f.measure("10 EUR", "money", low=0.0, above_low=True)]
    direction: Annotated[str, f.choice("up", "nearest", "down")]
    ending: Annotated[Figure, f.measure("0 EUR", "money")] | None = None


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
