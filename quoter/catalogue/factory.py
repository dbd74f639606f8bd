"""Records of what the yard works with: stations, suppliers, moulds and laminates."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.received import PriceFile
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.phrases import phrase

BASES = {
    "labour hours": phrase("labour hours"),
    "labour cost": phrase("labour cost"),
    "machine hours": phrase("machine hours"),
}


class Overhead(CatalogueRecord):
    """A station's annual budget over its practical capacity, absorbed on one base."""

    base: Annotated[str, f.choice(*BASES)]
    """What the overhead is absorbed on. On machine hours, every operation at the station states
    its `machine` time; a boat's stated hours count as that many.
    Example: `labour hours`"""
    capacity: f.Capacity
    """The practical capacity of a year, in hours, or in money where the base is labour cost. The
    budgets divided by it are the overhead rates; the plan holds the load against it.
    Example: `9600 h`"""
    variable: f.Money
    """The year's budget that moves with work, such as filters and power; part of the variable
    cost that a contribution is reckoned from.
    Example: `105600 EUR`"""
    fixed: f.Money
    """The year's budget that is there whatever is worked, such as rent; part of the full cost.
    Example: `192000 EUR`"""
    note: f.Note | None = None

    @property
    def base_words(self) -> str:
        """What the overhead is absorbed on, in words."""
        return BASES[str(self.base)]


class Overtime(CatalogueRecord):
    """Hours beyond a station's normal ones, and what is paid for them on top."""

    normal: Annotated[Figure, f.measure("1500 h", "h", low=0.0, above_low=True)]
    """Paid hours a year that the station's people work in normal time; the plan prices what is
    planned above them.
    Example: `1500 h`"""
    premium: Annotated[Figure, f.measure("25 %", "", low=0.0)]
    """What an hour of overtime costs on top of the normal hour, as a fraction of its cost.
    Example: `25 %`"""
    most: f.Duration | None = None
    """The most overtime that the station's people may or will work in a year.
    Unless given: no limit.
    Example: `160 h`"""
    second_shift: Annotated[Figure, f.measure("15 %", "", low=0.0)] | None = None
    """What an hour of a second shift costs on top, which takes the hours above the most overtime.
    Unless given: there is none, and the plan says what nobody can work.
    Example: `15 %`"""
    note: f.Note | None = None


class Station(CatalogueRecord):
    """A place where work is done, its people's cost and its overhead."""

    id: f.Identifier
    """Names the station in operations, in a boat's stated hours and in results such as
    `labour.gelcoat`.
    Example: `gelcoat`"""
    name: f.Words
    """What the station is called on route cards, in reviews and workbooks.
    Example: `Closed moulding`"""
    wage_group: f.Identifier
    """The group of wages.csv whose wage is paid here.
    Example: `laminator`"""
    on_costs: Annotated[Figure, f.measure("42 %", "", low=0.0)]
    """Employer's charges, holidays and sick pay on top of the wage; hourly cost = wage times
    (1 + on-costs).
    Example: `40 %`"""
    efficiency: Annotated[Figure, f.measure("85 %", "", low=0.0, above_low=True)]
    """Standard hours earned for each hour paid; paid hours = expected hours / efficiency.
    Example: `86 %`"""
    allowance: f.Loss | None = None
    """Personal needs and rest, on the normal time of every operation here that states none of its
    own; standard time follows.
    Unless given: none.
    Example: `12 %`"""
    allowance_basis: Annotated[str, f.choice("work", "shift")] = "work"
    """What an allowance is a fraction of: of work time (time x (1 + allowance)) or of the shift
    (time / (1 - allowance)).
    Example: `shift`"""
    overhead: Overhead
    """The station's overhead: budgets, capacity and what it is absorbed on."""
    overtime: Overtime | None = None
    """Normal hours, and what hours above them cost; no unit's cost holds it, the plan does.
    Unless given: all planned hours are normal ones."""
    note: f.Note | None = None


class Stations(CatalogueRecord):
    """The file of stations: where work is done, and what an hour of it costs beyond the wage."""

    stations: Many[Station]
    """The stations, in the order that sheets show them."""


class Supplier(CatalogueRecord):
    """Who sells materials: the currency of their prices, freight and duty on top."""

    id: f.Identifier
    """Names the supplier in price lists, materials and rises, and for `quoter import-prices`.
    Example: `quenmoor`"""
    name: f.Words
    """What the supplier is called in reviews and workbooks; it never reaches a customer.
    Example: `Quenmoor Polymers Inc.`"""
    currency: f.Currency
    """The currency of all prices of this supplier; another than the home currency needs a rate in
    exchange.csv.
    Example: `USD`"""
    freight: f.Fraction | None = None
    """Freight to the yard as a fraction of the price; part of every landed price.
    Unless given: none.
    Example: `7 %`"""
    duty: f.Fraction | None = None
    """Customs duty as a fraction of price and freight; part of every landed price.
    Unless given: none.
    Example: `3 %`"""
    order_freight: f.Money | None = None
    """Fixed freight and charges of one order, in home currency, whatever is in it; spread over
    `order_value` as an element of its own.
    Unless given: none.
    Example: `180 EUR`"""
    minimum_order: f.Money | None = None
    """The least that the supplier takes an order for, in home currency. Where the need is less, the
    difference is paid and lost, and spread over the need.
    Unless given: none.
    Example: `500 EUR`"""
    order_value: (
        Annotated[Figure, f.measure("6500 EUR", "money", low=0.0, above_low=True)] | None
    ) = None
    """Landed value of one order in home currency: the planned need between two orders, or a stated
    quantity; needed with the two above.
    Example: `6500 EUR`"""
    price_file: PriceFile | None = None
    """How the lists that the supplier sends are read; `quoter import-prices` needs it."""
    note: f.Note | None = None


class Suppliers(CatalogueRecord):
    """The file of suppliers: who sells, in which currency, with which freight and duty."""

    suppliers: Many[Supplier]
    """Everybody whose prices stand in a price list."""


class Mould(CatalogueRecord):
    """A mould or a set of moulds used once per pull.

    Cost per pull = (cost + refurbishment - salvage) / pulls + upkeep; pulls are the least of its
    life and those planned in the write-off years.
    """

    id: f.Identifier
    """Names the mould in the `moulds` of parts.
    Example: `side_door_ab`"""
    name: f.Words
    """What the mould is called on route cards, in reviews and workbooks.
    Example: `Side door, A and B mould`"""
    cost: f.Money
    """What the mould cost to make or buy; written off over its pulls.
    Example: `12800 EUR`"""
    refurbishment: f.Money | None = None
    """What mending it over its life costs in all; written off with the cost.
    Unless given: nothing.
    Example: `1800 EUR`"""
    salvage: f.Money | None = None
    """What it fetches at the end; taken off what is written off, and no more than was spent.
    Unless given: nothing.
    Example: `300 EUR`"""
    life: f.Some
    """Pulls that the mould lasts.
    Example: `600`"""
    pulls_per_year: f.Some
    """Pulls planned a year; with the write-off years they limit the pulls that bear the cost. The
    plan holds them against what the planned volumes draw.
    Example: `74`"""
    write_off_years: f.Positive
    """Years in which the mould is to be paid for.
    Example: `6`"""
    upkeep: f.MoneyEach | None = None
    """Wax, repair and polishing of one pull; added to the cost per pull.
    Unless given: nothing.
    Example: `6 EUR/pull`"""
    note: f.Note | None = None


class Moulds(CatalogueRecord):
    """The file of moulds: what they cost and how many pulls bear it."""

    moulds: Many[Mould] = ()
    """Moulds and mould sets."""


class Ply(CatalogueRecord):
    """One reinforcement of a stack."""

    glass: Annotated[Text, f.ref("glass")]
    """The reinforcement that is laid.
    Example: `mat_450`"""
    layers: f.Whole | None = None
    """How many times it is laid, or the gun passes; its glass, its thickness and the count of plies
    follow.
    Unless given: 1.
    Example: `4`"""
    glass_content: f.Passed | None = None
    """Glass as a mass fraction of this ply where it differs from the material's own, such as mat
    that a vacuum packs more tightly; resin and thickness follow.
    Unless given: that of the glass.
    Example: `33 %`"""
    thickness: f.Length | None = None
    """Of gun roving alone: how thick it is laid, all passes together; glass and resin follow by
    the glass content.
    Unless given: the areal mass of a pass, as often as `layers` say.
    Example: `3 mm`"""
    stage: Annotated[str, f.choice("skin", "bulk")] | None = None
    """In an open mould, whether the ply is of the skin coat or of the bulk: the operation that
    `uses` the stage takes its glass and resin. In an infused part the skin is laid open before the
    dry kit, which is the bulk. A closed mould's kit is all bulk.
    Unless given: bulk.
    Example: `skin`"""
    direction: Annotated[str, f.choice("0", "45", "90")] | None = None
    """How the roll runs on the part: `0` along its longer side, or along a strip, `90` across, `45`
    between, where a piece takes the square around it. Only woven and stitched glass is held to it;
    glass of plus and minus 45 degrees on its roll lies at 0.
    Unless given: a piece is cut either way, along the roll or across it.
    Example: `90`"""


class MixedContent(CatalogueRecord):
    """A rule for one glass content of all mat and woven plies of a stack.

    Glass content = all_woven less mat_slope times the mat's share of their mass. Stitched glass and
    other kinds are no woven roving: their plies keep a content of their own.
    """

    all_woven: f.Passed
    """The glass content, by mass, of a stack without any mat.
    Example: `46 %`"""
    mat_slope: f.Fraction
    """How much the glass content falls from no mat to all mat; less than `all_woven`.
    Example: `18 %`"""


class Laminate(CatalogueRecord):
    """A stack of plies, outer face first."""

    id: f.Identifier
    """Names the stack in the zones of parts.
    Example: `door_field`"""
    name: f.Words
    """What the stack is called in the yard.
    Example: `Door field, over the core`"""
    plies: Many[Ply]
    """The plies, outer face first."""
    mixed_content: MixedContent | None = None
    """One glass content for all mat and woven plies, by the mat's share, in place of their own."""
    note: f.Note | None = None


class Laminates(CatalogueRecord):
    """The file of laminates: stacks of plies, which approve no structure."""

    laminates: Many[Laminate] = ()
    """The stacks that zones of parts are laid with."""
