"""All models side by side: what each has as standard, and every option and package of any of them.

Plain views like those of `views`, made from a sheet's view alone.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import islice

from babel import Locale

from quoter.pages.money import money_style
from quoter.pages.public.data import data_text
from quoter.pages.public.drawn_views import DrawingView
from quoter.pages.public.views import (
    ModelView,
    OptionView,
    PackageView,
    SheetView,
    StandardView,
    View,
)
from quoter.pricing.public import PublicPrice

SHARE_DIGITS = 4  # of a length among others; finer than any screen


@dataclass(frozen=True, slots=True)
class ComparedModel(View):
    """A model, what must be paid for it, and its length as a fraction of the longest one's."""

    model: ModelView
    total: PublicPrice
    share: Decimal


@dataclass(frozen=True, slots=True)
class OfferView(View):
    """How a model has an option: as standard, or at a price; not at all with neither."""

    model: str
    name: str
    standard: bool
    price: PublicPrice | None

    @property
    def there(self) -> bool:
        """Whether the model has it at all."""
        return self.standard or self.price is not None


@dataclass(frozen=True, slots=True)
class ComparedOption(View):
    """An option of any model, and how each model has it, in the order of the models."""

    id: str
    name: str
    offers: tuple[OfferView, ...]


@dataclass(frozen=True, slots=True)
class DescribedOption(View):
    """What an option is, on whatever model, and how the models have it that do.

    `drawing` is the one that it has on all of them; there is none where they differ.
    """

    option: OptionView | StandardView
    drawing: DrawingView | None
    offers: tuple[OfferView, ...]


@dataclass(frozen=True, slots=True)
class ComparedGroup(View):
    """A group of options of any model in the catalogue's order."""

    name: str
    options: tuple[ComparedOption, ...]


@dataclass(frozen=True, slots=True)
class ComparedPackage(View):
    """A package of any model, what it holds, and each model's own of it or None, in their order."""

    id: str
    name: str
    holds: tuple[str, ...]
    offers: tuple[PackageView | None, ...]


@dataclass(frozen=True, slots=True)
class Comparison(View):
    """Every model with everything that any of them has.

    `fixed` are options that no model takes as an extra: those that have one have it as standard.
    """

    models: tuple[ComparedModel, ...]
    fixed: tuple[ComparedOption, ...]
    groups: tuple[ComparedGroup, ...]
    packages: tuple[ComparedPackage, ...]


def comparison(sheet: SheetView) -> Comparison:
    """All models of a price sheet side by side."""
    longest = max((model.length.amount for model in sheet.models), default=Decimal(1))
    extras = [option for model in sheet.models for option in model.options]
    standard = {item.id: item for model in sheet.models for item in model.standard}
    kept = in_order([item.id for item in model.standard] for model in sheet.models)
    chosen = {option.id for option in extras}
    offers = _offers(sheet.models)
    return Comparison(
        models=tuple(
            ComparedModel(
                model, total(sheet, model), round(model.length.amount / longest, SHARE_DIGITS)
            )
            for model in sheet.models
        ),
        fixed=tuple(
            ComparedOption(id, standard[id].name, offers[id]) for id in kept if id not in chosen
        ),
        groups=tuple(_groups(sheet.models, offers)),
        packages=tuple(_packages(sheet.models)),
    )


def total(sheet: SheetView, model: ModelView) -> PublicPrice:
    """The price of a boat with what must be paid besides, where prices are shown with tax.

    Who sees prices with tax sees all that can't be left out in one amount (Directive 98/6/EC on
    consumers' prices); a list without tax keeps delivery apart.
    """
    charged = sheet.taxed and sheet.delivery is not None
    return model.price + sheet.delivery.price if charged and sheet.delivery else model.price


Offers = Mapping[str, tuple[OfferView, ...]]  # how each model has an option, by its id


def _offers(models: Sequence[ModelView]) -> Offers:
    """How each model has every option of any of them, in the order of the models."""
    standard = [{item.id for item in model.standard} for model in models]
    prices = [{option.id: option.price for option in model.options} for model in models]
    return {
        id: tuple(
            OfferView(model.id, model.name, id in fixed, asked.get(id))
            for model, fixed, asked in zip(models, standard, prices, strict=True)
        )
        for id in set().union(*standard, *prices)
    }


def _groups(models: Sequence[ModelView], offers: Offers) -> Iterator[ComparedGroup]:
    names = {option.id: option.name for model in models for option in model.options}
    lists: dict[str, list[list[str]]] = {}
    for model in models:
        for group in model.groups:
            lists.setdefault(group.name, []).append([option.id for option in group.options])
    for name in in_order([group.name for group in model.groups] for model in models):
        options = (ComparedOption(id, names[id], offers[id]) for id in in_order(lists[name]))
        yield ComparedGroup(name, tuple(options))


def _packages(models: Sequence[ModelView]) -> Iterator[ComparedPackage]:
    offered = [{package.id: package for package in model.packages} for model in models]
    for id in in_order(offered):
        offers = tuple(packages.get(id) for packages in offered)
        one = next(package for package in offers if package is not None)
        holds = tuple(option.name for option in one.options)
        yield ComparedPackage(id, one.name, holds, offers)


def every_boat(sheet: SheetView, locale: Locale) -> bytes:
    """The file assets/boats.js: each option once with all its boats, a price where it is an extra.

    The first page searches it; a boat's page takes lists over from other boats by it.

    Args:
        sheet: whose prices
        locale: of the sheet
    """
    options = [_found_option(each) for each in described(sheet)]
    data = {
        "boats": [
            {"id": boat.id, "name": boat.name, "text": boat.text, "price": total(sheet, boat)}
            for boat in sheet.models
        ],
        "options": [*options, *_found_packages(sheet.models)],
        "money": money_style(sheet.currency, locale).as_data(),
    }
    written = data_text(data).replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"window.everyBoat = {written};\n".encode()


def _found_option(each: DescribedOption) -> dict[str, object]:
    item = each.option
    on = [{"boat": offer.model, "price": offer.price} for offer in each.offers]
    return {
        "id": item.id,
        "name": item.name,
        "kind": "option",
        "text": " ".join((item.text, *item.includes)),
        "on": on,
    }


def _found_packages(models: Sequence[ModelView]) -> Iterator[dict[str, object]]:
    """Packages of any model; what one holds is told alike on all of them."""
    on: dict[str, list[dict[str, object]]] = {}
    told: dict[str, PackageView] = {}
    for model in models:
        for package in model.packages:
            told.setdefault(package.id, package)
            on.setdefault(package.id, []).append({"boat": model.id, "price": package.price})
    for id, package in told.items():
        words = " ".join((package.text, *(option.name for option in package.options)))
        yield {
            "id": id,
            "name": package.name,
            "kind": "package",
            "text": words,
            "on": on[id],
            "holds": [option.id for option in package.options],
        }


def in_order(lists: Iterable[Iterable[str]]) -> Iterator[str]:
    """Everything in any of some lists, once, in an order that keeps that of each list.

    Where the lists contradict each other the earlier one is followed.

    >>> list(in_order([["hatch", "paint"], ["door", "hatch"], ["hatch", "roof", "paint"]]))
    ['door', 'hatch', 'roof', 'paint']
    """
    left = [deque(dict.fromkeys(each)) for each in lists]
    behind = Counter(id for each in left for id in islice(each, 1, None))
    given: set[str] = set()
    while left := [each for each in left if each]:
        first = next((each[0] for each in left if not behind[each[0]]), left[0][0])
        yield first
        given.add(first)
        for each in left:
            while each and each[0] in given:
                each.popleft()
                if each:
                    behind[each[0]] -= 1


def described(sheet: SheetView) -> tuple[DescribedOption, ...]:
    """Every option of any model, standard or not, once, in an order that keeps each model's.

    Its words are the same on all of them; prices and rules are a model's own.
    """
    lists: list[tuple[OptionView | StandardView, ...]] = [
        (*model.standard, *model.options) for model in sheet.models
    ]
    found, offers = {item.id: item for items in lists for item in items}, _offers(sheet.models)
    drawn: dict[str, list[DrawingView | None]] = {}
    for item in (item for items in lists for item in items):
        if item.drawing not in drawn.setdefault(item.id, []):
            drawn[item.id].append(item.drawing)
    return tuple(
        DescribedOption(
            found[id],
            drawn[id][0] if len(drawn[id]) == 1 else None,
            tuple(offer for offer in offers[id] if offer.there),
        )
        for id in in_order([item.id for item in items] for items in lists)
    )
