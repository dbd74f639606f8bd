"""What a price sheet may show: texts, public prices, masses and flags.

No attribute here can hold a Figure, a cost, a margin, a supplier, a note or a place in the
catalogue, so a template can't show what it can't reach. Texts are plain copies, since a
catalogue's own carry their places. Prices and measures are of types that `quoter.pricing.public`
alone can make. Every file of a price sheet is made of one `SheetView`, and of views made from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quoter.pages.public.drawn_views import DrawingView
from quoter.pages.public.view import View as View
from quoter.pricing.public import PublicMeasure, PublicPrice


@dataclass(frozen=True, slots=True)
class OtherOption(View):
    """An option another one speaks of, and whether this model has it as standard or at all."""

    id: str
    name: str
    standard: bool
    offered: bool


@dataclass(frozen=True, slots=True)
class TaxView(View):
    """A tax and its rate, as a fraction of a price without it."""

    name: str
    rate: Decimal


@dataclass(frozen=True, slots=True)
class SurchargeView(View):
    """What is charged for an option and a hull colour on one boat, on top of both prices.

    `words` says so in a list of what a boat has.
    """

    id: str
    colour: str
    colour_name: str
    words: str
    price: PublicPrice


@dataclass(frozen=True, slots=True)
class LeadView(View):
    """How many whole weeks before delivery something has to be ordered, and that in words."""

    weeks: int
    words: str


@dataclass(frozen=True, slots=True)
class PictureSize(View):
    """A picture in one size: its file in the sheet's folder, and its width and height in pixels."""

    file: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class PictureView(View):
    """A picture of the yard's own in the sizes it is shown in, smallest first.

    `alt` says what it shows, `credit` who made it, if that was said; `mark` tells it from any
    other.
    """

    alt: str
    credit: str
    sizes: tuple[PictureSize, ...]
    mark: str

    @property
    def large(self) -> PictureSize:
        """The largest size there is."""
        return self.sizes[-1]


@dataclass(frozen=True, slots=True)
class OptionView(View):
    """An option on one model: its price, the mass it adds and its rules.

    `tax` is its own, where that is not the market's usual one; `instead_of` are standard options
    that it takes the place of; `elsewhere` how many other models have it; `new` whether this
    edition is the first to offer it; `swatch` the colour that it is, empty where none was stated;
    `lead` is what its lead time in words comes to, if known.
    """

    id: str
    name: str
    kind: str
    text: str
    price: PublicPrice
    tax: TaxView | None
    mass: PublicMeasure
    lead_time: str
    lead: LeadView | None
    includes: tuple[str, ...]
    excludes: tuple[str, ...]
    needs: tuple[OtherOption, ...]
    conflicts: tuple[OtherOption, ...]
    instead_of: tuple[OtherOption, ...]
    minimum_length: PublicMeasure | None
    most: int | None
    surcharges: tuple[SurchargeView, ...]
    drawing: DrawingView | None
    elsewhere: int
    new: bool
    swatch: str
    picture: PictureView | None = None


@dataclass(frozen=True, slots=True)
class PackageView(View):
    """Options sold together: the price, and what that saves against their own prices."""

    id: str
    name: str
    text: str
    price: PublicPrice
    saving: PublicPrice
    mass: PublicMeasure
    options: tuple[OtherOption, ...]
    new: bool


@dataclass(frozen=True, slots=True)
class GroupView(View):
    """The options of one group, in the catalogue's order."""

    name: str
    options: tuple[OptionView, ...]


@dataclass(frozen=True, slots=True)
class StandardView(View):
    """An option that the model's price includes; `elsewhere` is how many other models have it."""

    id: str
    name: str
    kind: str
    text: str
    includes: tuple[str, ...]
    excludes: tuple[str, ...]
    drawing: DrawingView | None
    elsewhere: int
    swatch: str
    picture: PictureView | None = None


@dataclass(frozen=True, slots=True)
class ModelView(View):
    """A model: length and beam, mass and price with its standard equipment.

    `lead` is how long the yard takes from the order to the boat, if it says so.
    """

    id: str
    name: str
    text: str
    length: PublicMeasure
    beam: PublicMeasure
    mass: PublicMeasure
    price: PublicPrice
    lead: LeadView | None
    standard: tuple[StandardView, ...]
    groups: tuple[GroupView, ...]
    packages: tuple[PackageView, ...]
    picture: PictureView | None = None

    @property
    def options(self) -> tuple[OptionView, ...]:
        """Every option that can be added, group by group."""
        return tuple(option for group in self.groups for option in group.options)

    @property
    def taxed_apart(self) -> tuple[OptionView, ...]:
        """The options with a tax of their own."""
        return tuple(option for option in self.options if option.tax is not None)

    @property
    def cheapest(self) -> PublicPrice | None:
        """The lowest price of an option that can be added; None without options."""
        return min((option.price for option in self.options), default=None)

    @property
    def pictures(self) -> tuple[PictureView, ...]:
        """Its own, and those of its options and standard equipment."""
        every = [self.picture, *(item.picture for item in self.standard)]
        every += [option.picture for option in self.options]
        return tuple(picture for picture in every if picture is not None)

    @property
    def opened(self) -> bool:
        """Whether an opening is cut in the boat, by an option or as standard."""
        kinds = [option.kind for option in self.options] + [item.kind for item in self.standard]
        return "opening" in kinds


@dataclass(frozen=True, slots=True)
class CompanyView(View):
    """Who publishes the sheet; a link is empty where the text can't be linked to."""

    name: str
    address: str
    email: str
    email_link: str
    phone: str
    website: str
    website_link: str


@dataclass(frozen=True, slots=True)
class SheetHead(View):
    """One of the yard's price sheets: a market's in one language, called by its own name.

    `folder` is where it stands below the site; `market` is called in that language; `locale` is the
    language with its region, as preview cards name it; `trade` whether it is for the trade alone.
    """

    folder: str
    id: str
    market: str
    tag: str
    language: str
    currency: str
    locale: str
    trade: bool


@dataclass(frozen=True, slots=True)
class DeliveryView(View):
    """What is charged for delivery with every boat, and where to."""

    words: str
    price: PublicPrice


@dataclass(frozen=True, slots=True)
class SheetView(View):
    """The whole price sheet of one market in one language.

    `company` is who sells and `builder` the yard's name where a dealer does, else empty;
    `languages` are the same market's sheets, this one's among them, `markets` those of the other
    markets. `taxed` tells whether prices include the tax; `units` which are read, one of
    `figures.readers.CHOICES`; `paper` what it is printed on; `delivery` is on top of a boat's
    price; `address` where the site will be, with a slash at its end, if that was said; `changed`
    whether there is an earlier edition to compare with; `whole` whether every price as shown is
    whole, so that none needs decimals; `taxed_apart` every option of any model with a tax of its
    own, once: each page asks.
    """

    company: CompanyView
    builder: str
    head: SheetHead
    languages: tuple[SheetHead, ...]
    markets: tuple[SheetHead, ...]
    address: str
    version: str
    model_year: str
    valid_from: date
    valid_until: date
    terms: tuple[str, ...]
    currency: str
    tax_name: str
    tax: Decimal
    taxed: bool
    units: str
    paper: str
    delivery: DeliveryView | None
    news: tuple[str, ...]
    changed: bool
    whole: bool
    models: tuple[ModelView, ...]
    taxed_apart: tuple[OptionView, ...]

    @property
    def picture(self) -> PictureView | None:
        """That of the first model with one, for pages that are of no model."""
        return next((model.picture for model in self.models if model.picture), None)

    @property
    def site_folder(self) -> str:
        """The whole address of its folder, if that of the site was said."""
        return f"{self.address}{self.head.folder}/" if self.address else ""

    @property
    def apart(self) -> str:
        """What tells it from the yard's other price sheets: its market where there are several.

        Of a language in two regions, it is followed by what that is called.
        """
        alike = [head for head in self.languages if _spoken(head) == _spoken(self.head)]
        said = [self.head.market] if self.markets else []
        return ", ".join([*said, *([self.head.language] if len(alike) > 1 else [])])

    @property
    def yard(self) -> str:
        """Who builds the boats, whoever sells them."""
        return self.builder or self.company.name

    @property
    def groups(self) -> tuple[str, ...]:
        """The words of every group of options of any model, in the catalogue's order."""
        return tuple(dict.fromkeys(group.name for model in self.models for group in model.groups))


def _spoken(head: SheetHead) -> str:
    """A language without its region."""
    return head.tag.partition("-")[0]
