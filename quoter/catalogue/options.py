"""Records of what is sold: options, models and planned volumes."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from quoter.catalogue import fields as f
from quoter.catalogue.certainty import Basis
from quoter.catalogue.forms import Form, Position
from quoter.catalogue.operations import APPLIED, Operation
from quoter.catalogue.parts import PART_KINDS, Goods, Shape
from quoter.catalogue.pictures import Image
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Block, Text


def _blocks_by_id(raw: object) -> object:
    if not isinstance(raw, Block | dict):
        raise f.fault(
            "wrong-structure", "holds no ids with values", "write 'an_id: …' on a line for each"
        )
    return dict(raw)


ById = BeforeValidator(_blocks_by_id)


class PartUse(CatalogueRecord):
    """A part used by an option."""

    part: Annotated[Text, f.ref(*PART_KINDS)]
    """The part that is fitted.
    Example: `side_door`"""
    quantity: f.Some | None = None
    """How many of it one option takes.
    Unless given: 1.
    Example: `2`"""
    shape: Shape | None = None
    """Dimensions for this option, in place of the part's own."""
    per_model: Annotated[dict[Any, Shape], ById] = Field(default_factory=dict)
    """Dimensions for single models, by the model's id, in place of all others.
    Example: `{passage_120: {area: 0.50 m2, perimeter: 3.5 m}}`"""


class Credit(CatalogueRecord):
    """What an option deletes, and so takes off its cost: a part, or another option's content."""

    part: Annotated[Text, f.ref(*PART_KINDS)] | None = None
    """The part that is left out; a credit names a part or an option.
    Example: `topsides_white`"""
    option: Annotated[Text, f.ref("option")] | None = None
    """The option that is left out, with all it holds; it makes room for this one where it is
    standard. A credit names an option or a part.
    Example: `seat_base`"""
    quantity: f.Some | None = None
    """How many of it are left out.
    Unless given: 1.
    Example: `2`"""
    share: f.Fraction | None = None
    """The part of its cost that is credited.
    Unless given: all of it.
    Example: `50 %`"""
    shape: Shape | None = None
    """Dimensions of the part that is left out, in place of its own."""
    per_model: Annotated[dict[Any, Shape], ById] = Field(default_factory=dict)
    """Dimensions of the part that is left out on single models, by the model's id.
    Example: `{passage_120: {area: 18 m2, perimeter: 24 m}}`"""


class OneOff(CatalogueRecord):
    """A cost that is spent once and borne by the units planned; an element of its own."""

    kind: Annotated[str, f.choice("design", "tooling design", "certification")]
    """What is paid for; each kind is told apart.
    Example: `certification`"""
    cost: f.Money
    """What it costs in all.
    Example: `7800 EUR`"""
    units: f.Some
    """How many units are planned to bear it, over all the years.
    Example: `240`"""
    note: f.Note | None = None


class HullTime(CatalogueRecord):
    """Hours that the hull mould is kept, for the hull itself or for an option laid up in it."""

    work: f.Duration
    """Hours by the clock that people work in it; they wait for shifts.
    Example: `5.5 h`"""
    cure: f.Duration | None = None
    """Hours of cure after the work; they run on at night and over weekends.
    Unless given: none.
    Example: `39 h`"""
    note: f.Note | None = None


class HullMould(HullTime):
    """How long a bare hull keeps its mould, and how many such moulds there are."""

    sets: f.Whole | None = None
    """How many hull moulds of the model the yard has.
    Unless given: 1.
    Example: `2`"""


class ColourSurcharge(CatalogueRecord):
    """What an option costs on top of its own price where the boat has another hull colour."""

    colour: Annotated[Text, f.ref("option")]
    """The colour, an option of that kind; public.
    Example: `hull_blue`"""
    list_price: f.Money
    """The list price of having the option in that colour, before tax: on top of both prices, in
    every market; nothing where the option is standard, or a package holds both. 0 is as none;
    public.
    Example: `60 EUR`"""


class Option(CatalogueRecord):
    """A priced choice.

    Public: its id, name, group, kind, text, image, swatch, models, rules, tax, surcharges and lead
    time; its positions by choice.
    Internal: parts, goods, credits, operations, one-off costs, hull mould, hull colour, positions,
    batch and note.
    """

    id: f.Identifier
    """Names the option in models, packages, requests, price_book.csv and the price data.
    Example: `side_single`"""
    name: f.Translated
    """What customers read for the option; public.
    Example: `Side entry, single`"""
    group: f.TranslatedAlike
    """The heading that the price sheet lists it under; public.
    Example: `Side entry`"""
    kind: Annotated[str, f.choice("opening", "panel", "core", "colour", "fitting")]
    """What it is: an opening carries the caution that a qualified person approves the scantlings,
    a request's `colour` names one of kind colour; public.
    Example: `opening`"""
    text: f.Translated
    """What the option is, in a sentence or two for customers; public.
    Example: `A door in the starboard hull side, level with the cockpit sole.`"""
    image: Image | None = None
    """A picture of the option, for the price sheet and quotes; public.
    Unless given: there is none."""
    models: Many[Annotated[Text, f.ref("model")]] = ()
    """The boats it can be had on; public.
    Unless given: all that are long enough.
    Example: `[weekender_86, coastal_98]`"""
    minimum_length: f.Length | None = None
    """The shortest boat that it is offered on; public.
    Example: `26 ft`"""
    hull_colour: Annotated[Text, f.ref("gelcoat")] | None = None
    """The gelcoat that faces of colour `hull` get on a boat with this option, those of its other
    options as well; an option of kind colour needs it where a part has such a face. Their cost,
    mass and mixes then follow, their prices only by a surcharge.
    Example: `gel_blue`"""
    colour_surcharges: Many[ColourSurcharge] = ()
    """What is charged for it in other hull colours, where a boat has one: nothing where none is
    listed, since the price of both is then the sum."""
    tax: f.Identifier | None = None
    """One of the markets' `other_taxes`, by its id, that is charged on it; public.
    Unless given: the market's own tax.
    Example: `reduced`"""
    includes: Many[f.Translated] = ()
    """What its price includes, a line each; public.
    Example: `[Door with moulded surround, Hinges and two latches]`"""
    excludes: Many[f.Translated] = ()
    """What its price does not include, a line each; public.
    Example: `[Boarding ladder and fenders]`"""
    requires: Many[Annotated[Text, f.ref("option")]] = ()
    """Options it can only be had with; public, and held by quotes and by the price sheet's list.
    Example: `[side_ramp]`"""
    conflicts: Many[Annotated[Text, f.ref("option")]] = ()
    """Options it can't be had with; public, and held by quotes and by the price sheet's list.
    Example: `[roof_panel]`"""
    at_most_one: f.TranslatedAlike | None = None
    """Words for a group of which a boat can have one: the options with the same words exclude each
    other; public.
    Example: `arrangement of side entries`"""
    most: f.Whole | None = None
    """How many of it fit on one boat; public.
    Unless given: 1.
    Example: `4`"""
    lead_time: f.Translated
    """How long it takes, in words; public.
    Example: `4 weeks`"""
    lead_weeks: f.Positive | None = None
    """How many weeks before delivery it has to be ordered; public: a quote and the price sheet's
    list say the longest of what is chosen, and a promised day that comes sooner is told.
    Unless given: it sets no delivery.
    Example: `4`"""
    new_in: f.Words | None = None
    """The version of the price sheet that offers it first; marked there as new.
    Example: `2026-11`"""
    batch: f.Whole | None = None
    """How many of the option are fitted together and share the set-ups of its own operations.
    Unless given: 1.
    Example: `4`"""
    at: Many[Position] = ()
    """Where it sits, for each model that it was measured on: on the papers for a boat on the floor,
    with what it weighs down each side; internal unless `positions` says otherwise.
    Unless given: it has no place there, and counts as centred."""
    positions: Annotated[str, f.choice("internal", "public")] | None = None
    """Whether customers see where it sits: `public` draws it on the price sheet's drawings of the
    boats, at its positions.
    Unless given: internal, and no drawing shows a trace of it.
    Example: `public`"""
    swatch: f.Swatch | None = None
    """The colour as a screen shows it, for an option of kind colour: beside the option, and on the
    drawing of a boat that has it; public.
    Unless given: the drawing keeps its colour.
    Example: `"#1f3a5f"`"""
    basis: Basis | None = None
    """What times, dimensions and quantities rest on: a `drawing`, a `similar` option, or `timed`
    and measured on the floor. How far they may be out follows.
    Unless given: a similar option.
    Example: `drawing`"""
    parts: Many[PartUse] = ()
    """Parts that it is made of."""
    goods: Many[Goods] = ()
    """Bought items that are fitted with it."""
    credits: Many[Credit] = ()
    """What it takes the place of."""
    operations: Many[Operation] = ()
    """The work of fitting it."""
    one_off: Many[OneOff] = ()
    """Design, tooling design and certification of the option, borne by planned units."""
    hull_mould: HullTime | None = None
    """How long it keeps the model's hull mould from the next hull, such as a return mould that is
    bolted in and laid up; internal. The plan says what that costs in pulls of the hull mould, no
    cost follows: the work itself is that of parts and operations."""
    note: f.Note | None = None


class Package(CatalogueRecord):
    """Options sold together for less than the sum of their list prices."""

    id: f.Identifier
    """Names the package in requests and the price data; no option has the same id.
    Example: `easy_boarding`"""
    name: f.Translated
    """What customers read for the package; public.
    Example: `Easy boarding`"""
    text: f.Translated
    """What the package is, in a sentence or two for customers; public.
    Example: `The single side entry with the boarding step.`"""
    options: Many[Annotated[Text, f.ref("option")]]
    """What it holds: at least two options, each once, none of them standard on a model that has
    the package.
    Example: `[side_single, anchor_lid]`"""
    saving: f.Loss
    """What is taken off the sum of their list prices, as a fraction of it; the result is rounded
    down to the policy's step.
    Example: `5 %`"""
    new_in: f.Words | None = None
    """The version of the price sheet that offers the package first; marked there as new.
    Example: `2026-11`"""
    note: f.Note | None = None


class Options(CatalogueRecord):
    """The file of options: what a customer can choose."""

    options: Many[Option]
    """The options, in the order that the price sheet shows them."""
    packages: Many[Package] = ()
    """Options sold together."""


class BaseBoat(CatalogueRecord):
    """The boat without options; internal.

    Parts, goods and operations are built up as an option's are. What the yard's books state of the
    rest, such as materials, hours and mass, adds to them; it holds per good boat. A boat without
    parts states its hours and its mass.
    """

    materials: Annotated[dict[Any, f.Amount], ById] = Field(default_factory=dict)
    """Amounts of materials, by id, in what each is counted in; they follow the price lists.
    Example: `{mat_450: 205 kg, resin_lam: 470 kg}`"""
    applied: Annotated[str, f.choice(*APPLIED)] | None = None
    """How the resin of `materials` is applied, for the estimate of organic vapour.
    Unless given: by hand.
    Example: `atomised spray`"""
    material: Annotated[dict[Any, f.Money], ById] = Field(default_factory=dict)
    """Stated cost by material class (glass, resin, gelcoat, catalyst, foam, hardware, core,
    consumable, other) of what is not listed by amount; it does not move with prices.
    Example: `{hardware: 3050 EUR, other: 560 EUR}`"""
    hours: Annotated[dict[Any, f.Duration], ById] = Field(default_factory=dict)
    """Paid hours by station, beside those of parts and operations; labour and overhead follow.
    Example: `{laminating: 74 h, assembly: 88 h}`"""
    basis: Basis | None = None
    """What its hours and amounts rest on: a `drawing`, a `similar` boat, or `timed` and weighed on
    the floor. How far they may be out follows.
    Unless given: a similar boat.
    Example: `timed`"""
    tooling: f.Money | None = None
    """Mould cost of one boat as the yard's books state it, beside the pulls of its parts.
    Unless given: nothing.
    Example: `780 EUR`"""
    mass: f.Mass | None = None
    """The mass of the boat without options, less that of its parts and goods; public together with
    theirs and that of its standard options.
    Example: `1120 kg`"""
    batch: f.Whole | None = None
    """How many boats share the set-ups of the boat's own operations.
    Unless given: 1.
    Example: `2`"""
    parts: Many[PartUse] = ()
    """Parts that it is built up from, such as hull, deck and liner."""
    goods: Many[Goods] = ()
    """Bought items that are fitted to it."""
    operations: Many[Operation] = ()
    """The work of joining and fitting its parts."""
    note: f.Note | None = None


class Model(CatalogueRecord):
    """A boat model. Its hull colour, hull mould, one-off costs, base and note are internal; the
    rest is public."""

    id: f.Identifier
    """Names the model in options, volumes.csv, price_book.csv, requests, and on the command line.
    Example: `weekender_86`"""
    name: f.TranslatedName
    """What customers read for the boat; a proper name may stay the same in every language.
    Example: `Orvesund 8.6 Weekender`"""
    text: f.Translated
    """What the boat is, in a sentence or two for customers; public.
    Example: `A cabin boat for two with a galley, a toilet and a sheltered helm.`"""
    image: Image | None = None
    """A picture of the boat, for the price sheet and quotes; public.
    Unless given: there is none."""
    length: f.Length
    """Length of the boat; public. Options with a `minimum_length` go by it.
    Example: `8.60 m`"""
    beam: f.Length
    """Width of the boat; public.
    Example: `2.85 m`"""
    lead_weeks: f.Positive | None = None
    """How many weeks the yard takes from the order to the boat; public on quotes and on the price
    sheet's list, which say the longest of the boat and of what is chosen.
    Unless given: the options set the delivery.
    Example: `20`"""
    form: Form | None = None
    """What the drawings of the boat go by besides length and beam; public.
    Unless given: common proportions, and the price sheet says that the shape is schematic."""
    hull_colour: Annotated[Text, f.ref("gelcoat")]
    """The gelcoat that faces of colour `hull` get on this boat.
    Example: `gel_white`"""
    swatch: f.Swatch | None = None
    """The hull colour as a screen shows it, on the drawings of the boat; public.
    Unless given: the hull is drawn without a colour, until one with a swatch is chosen.
    Example: `"#f4f2ea"`"""
    list_price: f.Money
    """The boat's list price before tax, with its standard options, until price_book.csv has one.
    Example: `134900 EUR`"""
    hull_mould: HullMould | None = None
    """How long a bare hull keeps its mould, for what options in it cost in hulls; internal.
    Unless given: the plan says nothing of the hull mould."""
    standard: Many[Annotated[Text, f.ref("option")]] = ()
    """Options that its base price includes; their cost is the boat's.
    Example: `[anchor_lid, companion_door]`"""
    one_off: Many[OneOff] = ()
    """Design, tooling design and certification of the boat, borne by planned boats; internal."""
    base: BaseBoat
    """What the boat holds without options."""
    note: f.Note | None = None


class Models(CatalogueRecord):
    """The file of models: the boats."""

    models: Many[Model]
    """The boats, in the order that the price sheet shows them."""
