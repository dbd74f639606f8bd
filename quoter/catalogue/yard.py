"""Records of the yard: the company, its price sheet, and the rules that every price follows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from pydantic import Field

from quoter.catalogue import fields as f
from quoter.catalogue.accounts import BankAccount, Country, OneLine
from quoter.catalogue.booked import ActualsPolicy
from quoter.catalogue.certainty import Certainty
from quoter.catalogue.exports import Export
from quoter.catalogue.markets import (
    Approver,
    Dealer,
    DealerClass,
    Market,
    Repricing,
    Rounding,
    Surcharge,
)
from quoter.catalogue.operations import APPLIED
from quoter.catalogue.options import ById
from quoter.catalogue.pictures import Image
from quoter.catalogue.quoting import QuotePolicy
from quoter.catalogue.received import RateFile
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.figures import Figure
from quoter.figures.readers import CHOICES, PAPERS

WASTED = ("glass", "resin", "gelcoat", "foam", "hardware", "core", "consumable", "other")
Move = Annotated[Figure, f.measure("4 %", "", low=-0.5, high=1.0)]


class Company(CatalogueRecord):
    """Who publishes the price sheet; everything here may become public."""

    name: f.Words
    """The yard's name, as it heads the price sheet and every quote.
    Example: `Orvesund Boatyard`"""
    currency: f.Currency
    """The home currency. All money of the catalogue is in it, except suppliers' prices and those
    of a market with a currency of its own; all costs and margins are told in it.
    Example: `EUR`"""
    address: f.Words | None = None
    """The yard's address on one line, on the price sheet and on quotes.
    Example: `3 Slipway Lane, Orvesund`"""
    email: f.Words | None = None
    """Where customers write to, on the price sheet and on quotes.
    Example: `sales@orvesund.example.com`"""
    phone: f.Words | None = None
    """Where customers call, on the price sheet and on quotes.
    Example: `+00 555 0134`"""
    website: f.Words | None = None
    """The yard's own site, on the price sheet and on quotes.
    Example: `https://www.orvesund.example.com`"""
    country: Country | None = None
    """The country the yard is in, by its two letters of ISO 3166; quotes name it in words, and
    their data by the letters.
    Example: `NO`"""
    tax_number: OneLine | None = None
    """The yard's number for tax, on quotes; no register is asked about it.
    Example: `XO 204 117 358`"""
    registration: f.Translated | None = None
    """Where the company is registered and under which number, on quotes.
    Example: `Orvesund register of companies, no. 4417`"""
    bank: Many[BankAccount] = ()
    """Accounts that customers pay into, on quotes; those of another currency than the quote's are
    left out where one is of its own."""
    logo: Image | None = None
    """The yard's mark, above its name on quotes.
    Unless given: its name stands alone."""


class News(CatalogueRecord):
    """What an edition of the price sheet brings, in words for customers."""

    version: f.Words
    """The edition that brings it; it must be one of those of the price sheet.
    Example: `2026-11`"""
    words: Many[f.Translated]
    """What is new, a sentence each; public, on the price sheet's page of changes.
    Example: `[The ramp on the 9.8 can be had with an electric hoist.]`"""


class PriceSheet(CatalogueRecord):
    """What the published price sheet says of itself; everything here is public.

    A yard that rebuilds earlier months keeps the edition (version, model year, validity) in
    editions.csv; it stands here or there, never in both.
    """

    version: f.Words | None = None
    """The name of the edition, on every page of the price sheet and in its data.
    Unless given: that of editions.csv.
    Example: `2026-11`"""
    model_year: f.Words | None = None
    """The model year that the edition is for, as customers read it.
    Unless given: that of editions.csv.
    Example: `2027`"""
    valid_from: f.Day | None = None
    """The first day that the edition's prices hold.
    Unless given: that of editions.csv.
    Example: `2026-11-01`"""
    valid_until: f.Day | None = None
    """The last day that the edition's prices hold; a build for a later day warns.
    Unless given: that of editions.csv.
    Example: `2027-02-28`"""
    terms: Many[f.Translated] = ()
    """The terms printed with the prices, a sentence each.
    Example: `[Prices are for the boat delivered at the yard, without engine.]`"""
    news: Many[News] = ()
    """What each edition brings, for the page of changes."""
    address: f.WebFolder | None = None
    """The web address of the folder that the site is uploaded to; links between its languages, the
    pictures that links to it are shown with, and the price data for other programs
    (`offers.jsonld`) then hold whole addresses, and search engines get a map of it.
    Example: `https://www.orvesund.example.com/prices/`"""

    @property
    def edition(self) -> tuple[object, ...]:
        """What belongs in editions.csv where there is one."""
        return self.version, self.model_year, self.valid_from, self.valid_until


class Provision(CatalogueRecord):
    """A cost that is a fraction of the net price, such as commission or warranty."""

    name: f.Words
    """What the provision is called in reviews and workbooks.
    Example: `Sales commission`"""
    fraction: f.Loss
    """The part of the net price that it takes; it lowers the margin and raises every recommended
    price. All provisions and the target margin together stay below 100 %.
    Example: `3 %`"""
    note: f.Note | None = None


class Disposal(CatalogueRecord):
    """What it costs to have waste of one class of material taken away."""

    material_class: Annotated[str, f.choice(*WASTED)]
    """The class of material. Peroxide goes with what it cures.
    Example: `resin`"""
    cost: Annotated[Figure, f.measure("1.20 EUR/kg", "money/kg", low=0.0)]
    """Cost of a kilogram of it, collected.
    Example: `1.20 EUR/kg`"""
    note: f.Note | None = None


class ShiftCalendar(CatalogueRecord):
    """When the yard works. Work on a pull waits for a shift; its cure runs on at night, over
    weekends, and nobody needs to be there."""

    shifts: Annotated[Figure, f.measure("1", "", low=1.0, high=4.0, whole=True)]
    """Shifts a day, one after the other.
    Example: `1`"""
    hours: Annotated[Figure, f.measure("8 h", "h", low=0.0, high=24.0, above_low=True)]
    """Hours of a shift; all shifts together fit into a day.
    Example: `8 h`"""
    days: Annotated[Figure, f.measure("5", "", low=1.0, high=7.0, whole=True)]
    """Working days a week, one after the other.
    Example: `5`"""
    closed_weeks: (
        Annotated[Figure, f.measure("6", "", low=0.0, high=52.0, below_high=True)] | None
    ) = None
    """Weeks a year in which nobody works: holidays, and single days off put together. A year is
    taken as 52 weeks.
    Unless given: none.
    Example: `6`"""


class MouldMaterial(CatalogueRecord):
    """Resin or gelcoat for the moulds and plugs that the yard builds in a year.

    It counts in the estimate of organic vapour alone: what moulds cost stands with them.
    """

    name: f.Words
    """What the material is called in the plan.
    Example: `Tooling resin`"""
    kind: Annotated[str, f.choice("resin", "gelcoat")]
    """Whether it is resin or gelcoat.
    Example: `resin`"""
    mass: f.Mass
    """How much of it a year's moulds take, lost or not.
    Example: `480 kg`"""
    styrene: f.Fraction | None = None
    """The styrene content as supplied.
    Unless given: no estimate is made, unless `organic_hap` tells it all.
    Example: `39 %`"""
    methyl_methacrylate: f.Fraction | None = None
    """The content of methyl methacrylate, which counts beside styrene.
    Unless given: none.
    Example: `4 %`"""
    organic_hap: f.Fraction | None = None
    """All organic HAP as supplied, where it is more than styrene and methyl methacrylate, or not
    told apart.
    Unless given: the sum of the two.
    Example: `40 %`"""
    applied: Annotated[str, f.choice(*APPLIED)] | None = None
    """How resin is applied.
    Unless given: by hand.
    Example: `by hand`"""
    note: f.Note | None = None


class Building(CatalogueRecord):
    """How long after its price a boat is built, and how prices are expected to move until then."""

    months: Annotated[Figure, f.measure("9", "", low=1.0, high=60.0, whole=True)]
    """Whole months from the day of the costs to the day of building.
    Example: `9`"""
    moves: Annotated[dict[Any, Move], ById] = Field(default_factory=dict)
    """What the prices of a material class (glass, resin, gelcoat, catalyst, foam, hardware, core,
    consumable, other) are expected to move in a year. A material that a supplier has announced a
    rise of until then takes that rise instead.
    Example: `{resin: 5 %, glass: 3 %}`"""
    note: f.Note | None = None


class Policy(CatalogueRecord):
    """The rules a price follows, and what the yard assumes wherever it reckons."""

    departed: ClassVar[Mapping[str, str]] = {
        "working_hours": "write when the yard works, for example 'shift_calendar: {shifts: 1, "
        "hours: 8 h, days: 5, closed_weeks: 6}': a cure runs on at night"
    }
    target_margin: f.Fraction
    """The margin, as a fraction of the net price, that a recommended price leaves at the first
    dealer class.
    Example: `30 %`"""
    floor_margin: f.Fraction
    """The margin, as a fraction of the net price, below which a price is flagged in the review and
    a quote needs the approval of one of the `approvers`; at most the target.
    Example: `25 %`"""
    provisions: Many[Provision] = ()
    """Costs that are fractions of the net price, such as commission and warranty."""
    material_handling: f.Fraction
    """Store, receiving and freight within the yard, as a fraction of landed material cost; an
    element of every cost.
    Example: `6 %`"""
    general_overhead: Annotated[Figure, f.measure("10 %", "", low=0.0)]
    """Office, sales and design, as a fraction of conversion cost (labour and the overhead of
    stations, rework included); an element of every cost.
    Example: `14 %`"""
    holding_rate: Annotated[Figure, f.measure("12 %", "", low=0.0)] | None = None
    """What a year of holding stock costs, as a fraction of its landed value: capital, space,
    insurance, what goes off; with `months_held` an element of every cost.
    Unless given: no such element.
    Example: `12 %`"""
    months_held: f.Number | None = None
    """How many months material is held, in stock and in boats at work, before it is paid for.
    Example: `2.5`"""
    waste_disposal: Many[Disposal] = ()
    """What the disposal of waste costs by class of material: of all that is issued less what stays
    in the part; an element of every cost."""
    rounding: Rounding
    """How recommended prices are rounded; also packages, whose saving is rounded down to its
    step, and prices exchanged for a market without a rule of its own."""
    repricing: Repricing | None = None
    """When published prices are moved; `quoter reprice` needs it."""
    glass_density: f.Density
    """The density of glass fibre. Fibre volume and ply thickness in closed moulds follow.
    Example: `2.56 kg/L`"""
    water_density: f.Density
    """The density of the water that a buoyant core displaces; its buoyancy follows.
    Example: `1000 kg/m3`"""
    fibre_fraction_low: f.Fraction
    """The least that fibre may take of a closed mould's free volume; below it the laminate is
    rich in resin, and the check of the panel says so.
    Example: `10 %`"""
    fibre_fraction_high: f.Fraction
    """The most that fibre may take of a closed mould's free volume; above it the moulds won't
    close or fill, and the check of the panel says so.
    Example: `30 %`"""
    infused_fibre_low: f.Passed | None = None
    """The least that fibre may take of an infused laminate's volume; below it the laminate is rich
    in resin, and the check of the part says so.
    Unless given: 20 %.
    Example: `35 %`"""
    infused_fibre_high: f.Passed | None = None
    """The most that fibre may take of an infused laminate's volume; above it one atmosphere does
    not pack it, and the check of the part says so.
    Unless given: 65 %.
    Example: `60 %`"""
    ply_trim: f.Extent | None = None
    """How far plies that are laid in the open reach over the edge of the part, to be trimmed off;
    sizes on cutting lists follow. A closed mould's kit is cut without.
    Unless given: 25 mm.
    Example: `30 mm`"""
    ply_overlap: f.Extent | None = None
    """How far one length of a strip, or one width of the roll, laps over the next on cutting lists
    where the glass states no `overlap`; no more than half the roll.
    Unless given: 50 mm.
    Example: `40 mm`"""
    shift_calendar: ShiftCalendar | None = None
    """When the yard works: how many pulls one set of moulds can make, and how many sets the plan
    needs.
    Unless given: the plan says nothing of moulds' capacity."""
    mould_availability: f.Passed | None = None
    """The part of the open weeks left after repair, waxing and waiting; the pulls a year that one
    set can make follow.
    Unless given: all of them.
    Example: `85 %`"""
    building: Building | None = None
    """The lead until boats are built: costs at the day of building stand beside today's. No price
    follows.
    Unless given: only today's costs are told."""
    import_limit: f.Fraction | None = None
    """How far an imported price or rate, or a published price, may jump before it has to be
    accepted as meant.
    Unless given: 15 %.
    Example: `12 %`"""
    moulds_built: Many[MouldMaterial] = ()
    """Resin and gelcoat for the moulds that the yard builds in a year.
    Unless given: the plan's headline of organic vapour says that moulds built are not in it."""
    bucket: f.Volume | None = None
    """The most resin or gelcoat that is mixed in one pot, before its catalyst; shop papers part a
    mix into pots by it.
    Unless given: no pot is smaller for it.
    Example: `5 L`"""
    certainty: Certainty | None = None
    """How far inputs may be from what is written, by kind, and what moves together; how sure each
    cost is follows.
    Unless given: what their history shows, and the house's ranges."""
    prices_stale_after_days: Annotated[Figure, f.measure("120", "", low=1.0, whole=True)]
    """After how many days a price in force, a rate of exchange in use, or an index of a surcharge
    is told as old; an import lists unchanged prices again once they are older than half of it.
    Example: `120`"""
    actuals: ActualsPolicy | None = None
    """How what was booked is held against standard.
    Unless given: another price than standard shows as material is used."""


class Yard(CatalogueRecord):
    """The file of the yard itself: who it is, to whom it sells, and the rules every price follows.

    Recommended prices leave the target margin at the first dealer class.
    """

    format: f.Format | None = None
    """The number of the whole catalogue's format, now 1; a program that is older than the
    catalogue says so instead of guessing.
    Unless given: 1.
    Example: `1`"""
    units: Annotated[str, f.choice(*CHOICES)] = "metric"
    """Which units the yard reads: on its papers, pages, workbooks and in messages; and what its
    customers read in markets that say nothing else. Any unit is read in a catalogue.
    Example: `US`"""
    paper: Annotated[str, f.choice(*PAPERS)] | None = None
    """The paper that pages, workbooks and papers are printed on.
    Unless given: A4; quotes go by the customers' country.
    Example: `Letter`"""
    today: f.DayWords | None = None
    """What commands take for today, since no clock is read: they price on it, and price lists of
    later days are ahead.
    Unless given: commands price on the newest price list that does not lie ahead.
    Example: `2026-11-20`"""
    company: Company
    """Who the yard is; public."""
    price_sheet: PriceSheet
    """What the price sheet says of itself; public."""
    policy: Policy
    """The rules of costs, prices and margins; internal."""
    dealer_classes: Many[DealerClass]
    """Classes of buyers with their discounts; recommended prices leave the target margin at the
    first."""
    markets: Many[Market]
    """Markets with their tax, language and currency; the first is the home market."""
    dealers: Many[Dealer] = ()
    """Dealers who get a price sheet in their own name from `quoter sheet --for`; each is public on
    that copy alone."""
    rate_file: RateFile | None = None
    """How published exchange rates are read; `quoter import-rates` needs it."""
    exports: Many[Export] = ()
    """How the yard's clock, store and ledger are read; `quoter import-actuals` needs it."""
    surcharges: Many[Surcharge] = ()
    """Clauses for quotes that stay open while the price of resin moves."""
    workings_on_paper: f.Truth = False
    """Whether workbooks print the tables of workings too: take-offs, operations, inputs, steps;
    else they stay on screen, and what prints says so.
    Example: `yes`"""
    handover: Many[f.Words] = ()
    """What is looked at before a boat is handed over, a line each, on the papers for a boat on the
    floor.
    Unless given: a list that fits most boats with openings and lids.
    Example: `[Every opening is sealed and tight under the hose]`"""
    approvers: Many[Approver] = ()
    """Who may let a quote pass that needs an approval: for too low a margin, too much discount, a
    price sheet that does not hold, or a day far from the newest price list.
    Unless given: whoever is named passes, and the command says that the yard names nobody."""
    quotes: QuotePolicy | None = None
    """What every quote says unless its request says otherwise; `quoter quote` needs it."""
