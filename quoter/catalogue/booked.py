"""Records of what happened: jobs, hours, stores issues, purchases, pulls and overhead, as booked.

They stand in `actuals/` of a catalogue. A field that may be left empty is one that a yard may not
book; what is not booked is never taken for zero.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord


class JobRow(CatalogueRecord):
    """A line of actuals/jobs.csv: a boat, or several alike, as built."""

    job: f.Words
    """Its number, which its papers show.
    Example: `2026-0007`"""
    model: f.Identifier
    """The model, by its id.
    Example: `coaster_98`"""
    options: f.Words | None = None
    """What was built into it: ids of options and packages, the hull colour among them, with a
    quantity where it is not one.
    Unless given: the boat as it is, with its standard options.
    Example: `side_single; cushions x 2; hull_blue`"""
    boats: f.Whole | None = None
    """How many alike.
    Unless given: 1.
    Example: `1`"""
    quote: f.Words | None = None
    """The quote that it was sold by, with its revision.
    Unless given: there was none; it is held against today's price list of its day.
    Example: `2026-0012-R1`"""
    started: f.Day
    """The first day of work.
    Example: `2026-08-03`"""
    finished: f.Day | None = None
    """The day it was done.
    Unless given: it is still at work, and is compared at what was booked.
    Example: `2026-09-11`"""
    note: f.Note | None = None


class HoursRow(CatalogueRecord):
    """A line of actuals/hours.csv: paid hours."""

    reference: f.Words
    """Its own number in the yard's clock, by which it is known again.
    Example: `H-10422`"""
    date: f.Day
    """The day of the work.
    Example: `2026-08-05`"""
    job: f.Words | None = None
    """The job.
    Example: `2026-0007`"""
    part: f.Words | None = None
    """The part, as on its papers: an id, with colour and shape where they differ.
    Example: `side_door__gel_blue`"""
    operation: f.Words | None = None
    """The operation of the part: its number on the papers, or its name.
    Example: `3`"""
    station: f.Identifier | None = None
    """The station, by its id; not needed where the operation is known.
    Example: `laminating`"""
    hours: f.Duration
    """What was paid.
    Example: `3.5 h`"""
    group: f.Identifier | None = None
    """The wage group of who worked. No name is needed: see `quoter help actuals`.
    Unless given: the station's.
    Example: `laminator`"""
    wage: f.Wage | None = None
    """What an hour was paid at, before on-costs.
    Unless given: the group's wage of the day.
    Example: `24.20 EUR/h`"""
    rework: f.Truth | None = None
    """Whether it mended what had been done before.
    Unless given: not told apart.
    Example: `no`"""
    note: f.Note | None = None


class IssueRow(CatalogueRecord):
    """A line of actuals/issues.csv: material drawn from the store, or brought back."""

    reference: f.Words
    """Its own number in the store.
    Example: `S-2203`"""
    date: f.Day
    """The day.
    Example: `2026-08-05`"""
    kind: Annotated[str, f.choice("issue", "return")]
    """Whether it was drawn or brought back.
    Example: `issue`"""
    job: f.Words | None = None
    """The job.
    Example: `2026-0007`"""
    part: f.Words | None = None
    """The part it is for, as on its papers.
    Example: `side_door`"""
    station: f.Identifier | None = None
    """The station.
    Example: `laminating`"""
    material: f.Identifier
    """The material, by its id.
    Example: `resin_lam`"""
    quantity: f.Words
    """How much, in any unit that converts to what the material is counted in, or packs of it.
    Example: `12.5 kg`"""
    price: f.Price | None = None
    """What it had cost, landed, in home currency, if the store knows.
    Unless given: as purchases say, and else as the list.
    Example: `4.31 EUR/kg`"""
    note: f.Note | None = None


class PurchaseRow(CatalogueRecord):
    """A line of actuals/purchases.csv: a line of a supplier's invoice."""

    reference: f.Words
    """Its own number: the invoice's and the line's.
    Example: `IN-3301/2`"""
    date: f.Day
    """The day of the invoice.
    Example: `2026-08-02`"""
    supplier: f.Identifier
    """The supplier, by its id.
    Example: `dolvane`"""
    material: f.Identifier
    """The material, by its id.
    Example: `resin_lam`"""
    quantity: f.Words
    """How much, in any unit that converts to what the material is counted in, or packs of it.
    Example: `1100 kg`"""
    price: f.Price
    """The price invoiced, before freight and duty.
    Example: `4.22 EUR/kg`"""
    freight: f.Money | None = None
    """Freight of this line, in the invoice's currency.
    Unless given: the supplier's usual fraction.
    Example: `86 EUR`"""
    rate: f.Rate | None = None
    """How much of the invoice's currency one unit of home currency bought when it was paid.
    Unless given: the rate of exchange.csv of the day, so that nothing is put down to exchange.
    Example: `1.08 USD/EUR`"""
    note: f.Note | None = None


class PullRow(CatalogueRecord):
    """A line of actuals/pulls.csv: pieces of a part that were made."""

    reference: f.Words
    """Its own number.
    Example: `P-551`"""
    date: f.Day
    """The day.
    Example: `2026-08-06`"""
    part: f.Words
    """The part, as on its papers.
    Example: `side_door`"""
    job: f.Words | None = None
    """The job they were made for.
    Unless given: for stock.
    Example: `2026-0007`"""
    good: f.Count
    """Pieces that were good.
    Example: `2`"""
    scrapped: f.Count
    """Pieces that were thrown away.
    Example: `0`"""
    note: f.Note | None = None


class SpentRow(CatalogueRecord):
    """A line of actuals/overhead.csv: overhead spent at a station in a month."""

    reference: f.Words
    """Its own number in the ledger.
    Example: `L-0904`"""
    month: f.Words
    """The month.
    Example: `2026-08`"""
    station: f.Identifier
    """The station, by its id.
    Example: `laminating`"""
    kind: Annotated[str, f.choice("variable", "fixed")]
    """Which of the station's two budgets it belongs to.
    Example: `variable`"""
    spent: f.Money
    """How much.
    Example: `8240 EUR`"""
    note: f.Note | None = None


class ActualsPolicy(CatalogueRecord):
    """How what was booked is held against standard."""

    price_variance: Annotated[str, f.choice("use", "purchase")] = "use"
    """When another price than standard shows: as material is used, so that each job bears what its
    own had cost, or as it is bought, so that the buyer sees it in the month of the invoice and all
    use is told at standard prices.
    Example: `purchase`"""


TABLES: dict[str, type[CatalogueRecord]] = {
    "jobs": JobRow,
    "hours": HoursRow,
    "issues": IssueRow,
    "purchases": PurchaseRow,
    "pulls": PullRow,
    "overhead": SpentRow,
}


@dataclass(slots=True)
class Booked:
    """All rows of `actuals/`, each list in the order of its file; a table may be absent.

    Rows after the day asked about are left to whoever compares.
    """

    jobs: list[JobRow] = field(default_factory=list)
    hours: list[HoursRow] = field(default_factory=list)
    issues: list[IssueRow] = field(default_factory=list)
    purchases: list[PurchaseRow] = field(default_factory=list)
    pulls: list[PullRow] = field(default_factory=list)
    overhead: list[SpentRow] = field(default_factory=list)
