"""What a price sheet may show: texts, public prices, masses and flags.

No attribute here can hold a Figure, a cost, a margin, a supplier, a note or a place in the
catalogue, so a template can't show what it can't reach. Texts are plain copies, since a
catalogue's own carry their places. Prices and measures are of types that `quoter.pricing.public`
alone can make. Every file of a price sheet is made of one `SheetView`, and of views made from it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from quoter.pricing.public import PublicMeasure, PublicPrice


@dataclass(frozen=True, slots=True)
class View:
    """What a page may show; every field holds exactly what it is declared to hold.

    A type checker sees only what it is told of: a function put in another's place, or a text that
    carries more than letters, is seen here.
    """

    def __post_init__(self) -> None:
        """Look at every field.

        Raises:
            TypeError: naming the view and the field that holds something else.
        """
        view: object = type(self)  # a type checker takes a class for no key of a cache
        for name, kind, holds in _fields(view):
            value = getattr(self, name)
            if type(value) is not kind and not holds(value):
                where = f"{type(self).__name__}.{name}"
                raise TypeError(f"{where} must not hold a {type(value).__name__}")


Test = Callable[[Any], bool]


@cache
def _fields(view: object) -> tuple[tuple[str, object, Test], ...]:
    """The fields of a view: name, kind, and whether something is of a kind that is no type."""
    return tuple((name, kind, _test_of(kind)) for name, kind in get_type_hints(view).items())


def _test_of(kind: Any) -> Test:
    """Whether something is just of a kind; a class below the declared one is another."""
    origin, inner = get_origin(kind), [_test_of(each) for each in get_args(kind) if each != ...]
    if origin in (UnionType, Union):
        return lambda value: any(test(value) for test in inner)
    if origin is Mapping:
        key, item = inner
        return lambda value: (
            type(value) is dict and all(key(k) and item(i) for k, i in value.items())
        )
    if origin is tuple and get_args(kind)[-1] is ...:
        return lambda value: type(value) is tuple and all(map(inner[0], value))
    if origin is tuple:
        return lambda value: (
            type(value) is tuple
            and len(value) == len(inner)
            and all(test(each) for test, each in zip(inner, value, strict=True))
        )
    return lambda value: type(value) is kind


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
class OptionView(View):
    """An option on one model: its price, the mass it adds and its rules.

    `tax` is its own, where that is not the market's usual one; `instead_of` are standard options
    that it takes the place of; `elsewhere` how many other models have it; `new` whether this
    edition is the first to offer it.
    """

    id: str
    name: str
    kind: str
    text: str
    price: PublicPrice
    tax: TaxView | None
    mass: PublicMeasure
    lead_time: str
    includes: tuple[str, ...]
    excludes: tuple[str, ...]
    needs: tuple[OtherOption, ...]
    conflicts: tuple[OtherOption, ...]
    instead_of: tuple[OtherOption, ...]
    minimum_length: PublicMeasure | None
    most: int | None
    surcharges: tuple[SurchargeView, ...]
    elsewhere: int
    new: bool


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
    elsewhere: int


@dataclass(frozen=True, slots=True)
class ModelView(View):
    """A model: length and beam, mass and price with its standard equipment."""

    id: str
    name: str
    text: str
    length: PublicMeasure
    beam: PublicMeasure
    mass: PublicMeasure
    price: PublicPrice
    standard: tuple[StandardView, ...]
    groups: tuple[GroupView, ...]
    packages: tuple[PackageView, ...]

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

    `folder` is where it stands below the site; `market` is called in that language.
    """

    folder: str
    id: str
    market: str
    tag: str
    language: str
    currency: str


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
    whether there is an earlier edition to compare with; `taxed_apart` every option of any model
    with a tax of its own, once: each page asks.
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
    models: tuple[ModelView, ...]
    taxed_apart: tuple[OptionView, ...]

    @property
    def yard(self) -> str:
        """Who builds the boats, whoever sells them."""
        return self.builder or self.company.name

    @property
    def groups(self) -> tuple[str, ...]:
        """The words of every group of options of any model, in the catalogue's order."""
        return tuple(dict.fromkeys(group.name for model in self.models for group in model.groups))
