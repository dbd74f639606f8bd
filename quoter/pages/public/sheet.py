"""What the price sheet of a market shows in a language, and nothing else of the costing.

A model's page grows with its own options alone: of other boats it says how many have an option and
leads to the full list. Its head names all boats up to six, else the ones before and after.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import add

from babel import Locale
from babel.units import format_unit

from quoter.catalogue.markets import Dealer, Market
from quoter.catalogue.options import Model, Option, Package
from quoter.catalogue.source import Text
from quoter.catalogue.translations import need_language
from quoter.catalogue.yard import Company, Yard
from quoter.figures import Figure, plain_number
from quoter.figures.readers import PAPERS
from quoter.pages.environment import mail_link, web_link
from quoter.pages.public.heads import Copy, address_of, head_of, heads_of
from quoter.pages.public.pictures import YardPictures
from quoter.pages.public.views import (
    CompanyView,
    DeliveryView,
    GroupView,
    LeadView,
    ModelView,
    OptionView,
    OtherOption,
    PackageView,
    SheetView,
    StandardView,
    SurchargeView,
    TaxView,
)
from quoter.pricing.price import BOAT, Key, Priced, PricedModel, Pricing
from quoter.pricing.public import (
    PublicPrice,
    listed_delivery,
    own_tax,
    price_list,
    public_measure,
)
from quoter.pricing.seen import whole_weeks
from quoter.wording import wording


@dataclass(frozen=True, slots=True)
class SheetSource:
    """What a price sheet is of: a costing, one of the yard's markets, its prices and a language.

    `boats` is how many models have an option, as standard or not, by its id; `barred` which others
    it can't be had with.
    """

    pricing: Pricing
    market: Market
    locale: Locale
    prices: Mapping[Key, PublicPrice]
    boats: Mapping[str, int]
    barred: Mapping[str, tuple[str, ...]]
    pictures: YardPictures

    def words(self, text: Text | None) -> str:
        """A text of the catalogue in the sheet's language; empty where nothing was written.

        It is a copy that carries no place.
        """
        return (
            "" if text is None else str(self.pricing.catalogue.worded(text, self.locale.language))
        )

    def all_words(self, texts: tuple[Text, ...]) -> tuple[str, ...]:
        """Each of some texts in the sheet's language."""
        return tuple(self.words(text) for text in texts)

    def new(self, version: Text | None) -> bool:
        """Whether something is offered first in the edition in force."""
        return version is not None and version == self.pricing.catalogue.edition.version

    def price(self, model: str, id: str) -> PublicPrice:
        """A list price as the market's price lists show it: with its tax, or without."""
        return self.prices[model, id]


def sheet_view(
    pricing: Pricing,
    market: Market,
    locale: Locale,
    *,
    changed: bool = False,
    pictures: YardPictures | None = None,
    copy: Copy | None = None,
) -> SheetView:
    """What the sheet of a market shows in the language of a locale.

    Args:
        pricing: the finished costing
        market: one of the yard's
        locale: the reader's
        changed: whether a page of changes goes with it
        pictures: those of the yard, where they are looked at for several sheets
        copy: the dealer's own that it is of: it leads nowhere else, and has no address of the yard
    Raises:
        CatalogueError: the catalogue is not translated into that language.
    """
    yard, edition = pricing.catalogue.yard, pricing.catalogue.edition
    need_language(pricing.catalogue.records, locale.language)
    boats = Counter(id for model in pricing.models.values() for id in model.options)
    barred = _barred(pricing.catalogue.records.options)
    prices = price_list(pricing, market)
    shown = pictures or YardPictures(pricing)
    sheet = SheetSource(pricing, market, locale, prices, boats, barred, shown)
    head = head_of(pricing, market, locale)
    others = heads_of(pricing, copy)
    news = [each for each in yard.price_sheet.news if sheet.new(each.version)]
    models = tuple(_model(sheet, model) for model in pricing.models.values())
    apart = {each.id: each for model in models for each in model.taxed_apart}
    delivery = _delivery(sheet)
    return SheetView(
        company=_company(yard.company if copy is None else copy.dealer),
        builder="" if copy is None else _plain(yard.company.name),
        head=head,
        languages=tuple(other for other in others if other.id == head.id),
        markets=tuple(other for other in others if other.id != head.id),
        address=address_of(pricing) if copy is None else "",
        version=edition.version,
        model_year=edition.model_year,
        valid_from=edition.valid_from,
        valid_until=edition.valid_until,
        terms=sheet.all_words((*_delivery_terms(yard), *yard.price_sheet.terms)),
        currency=head.currency,
        tax_name=sheet.words(market.tax_name),
        tax=plain_number(market.tax),
        taxed=market.prices == "with tax",
        units=pricing.catalogue.units_of(market),
        paper=pricing.catalogue.paper_of(market) or PAPERS[0],
        delivery=delivery,
        news=tuple(words for each in news for words in sheet.all_words(each.words)),
        changed=changed,
        whole=whole((*prices.values(), *(() if delivery is None else (delivery.price,)))),
        models=models,
        taxed_apart=tuple(apart.values()),
    )


def whole(prices: Iterable[PublicPrice]) -> bool:
    """Whether none of some prices needs a decimal."""
    return all(price.amount == price.amount.to_integral_value() for price in prices)


def _delivery_terms(yard: Yard) -> tuple[Text, ...]:
    """What holds with the usual delivery, which list prices are for."""
    return () if yard.quotes is None else yard.quotes.delivery.terms


def _delivery(sheet: SheetSource) -> DeliveryView | None:
    policy = sheet.pricing.catalogue.yard.quotes
    price = listed_delivery(sheet.pricing.catalogue, sheet.market)
    if policy is None or price is None:
        return None
    return DeliveryView(f"{policy.delivery.term} {sheet.words(policy.delivery.named_place)}", price)


def _company(company: Company | Dealer) -> CompanyView:
    email, website = _plain(company.email), _plain(company.website)
    return CompanyView(
        name=_plain(company.name),
        address=_plain(company.address),
        email=email,
        email_link=mail_link(email),
        phone=_plain(company.phone),
        website=website,
        website_link=web_link(website),
    )


def _model(sheet: SheetSource, priced: PricedModel) -> ModelView:
    model, extras = priced.model, priced.extras
    # Options join by the words of their group as written, whatever these are in the language.
    groups: dict[str, list[OptionView]] = {}
    names: dict[str, str] = {}
    for id, extra in extras.items():
        if id in priced.packages:
            continue
        group = _option_of(extra).group
        names.setdefault(str(group), sheet.words(group))
        groups.setdefault(str(group), []).append(_option(sheet, priced, extra))
    standard = [_option_of(item) for id, item in priced.options.items() if id not in extras]
    return ModelView(
        id=_plain(model.id),
        name=sheet.words(model.name),
        text=sheet.words(model.text),
        length=public_measure(model.length),
        beam=public_measure(model.beam),
        mass=public_measure(priced.boat.assembly.mass),
        price=sheet.price(_plain(model.id), BOAT),
        lead=_lead(sheet, model.lead_weeks),
        standard=tuple(_standard(sheet, model, option) for option in standard),
        groups=tuple(GroupView(names[group], tuple(found)) for group, found in groups.items()),
        packages=tuple(_package(sheet, priced, package) for package in priced.offered_packages),
        picture=sheet.pictures.boat(_plain(model.id), sheet.words),
    )


def _lead(sheet: SheetSource, weeks: Figure | None) -> LeadView | None:
    if weeks is None:
        return None
    whole = whole_weeks(weeks)
    return LeadView(whole, format_unit(whole, "duration-week", "long", locale=sheet.locale))


def _package(sheet: SheetSource, on: PricedModel, package: Package) -> PackageView:
    """A package; its saving is the difference of the public prices, so that it adds up on paper."""
    model = _plain(on.model.id)
    item = on.packages[package.id]
    inside = [on.options[name] for name in package.options]
    price = sheet.price(model, _plain(package.id))
    apart = [sheet.price(model, str(name)) for name in package.options]
    return PackageView(
        id=_plain(package.id),
        name=sheet.words(package.name),
        text=sheet.words(package.text),
        price=price,
        saving=reduce(add, apart) - price,
        mass=public_measure(item.assembly.mass),
        options=tuple(_other(sheet, on, _option_of(option)) for option in inside),
        new=sheet.new(package.new_in),
    )


def _standard(sheet: SheetSource, model: Model, option: Option) -> StandardView:
    return StandardView(
        id=_plain(option.id),
        name=sheet.words(option.name),
        kind=option.kind,
        text=sheet.words(option.text),
        includes=sheet.all_words(option.includes),
        excludes=sheet.all_words(option.excludes),
        drawing=sheet.pictures.drawing(option, model),
        elsewhere=sheet.boats[str(option.id)] - 1,
        swatch=_plain(option.swatch),
        picture=sheet.pictures.option(_plain(option.id), sheet.words),
    )


def _option(sheet: SheetSource, on: PricedModel, priced: Priced) -> OptionView:
    option = _option_of(priced)
    every = sheet.pricing.catalogue.records.options
    replaced = [str(credit.option) for credit in option.credits if credit.option is not None]
    own, shortest = own_tax(sheet.market, option), option.minimum_length
    return OptionView(
        id=_plain(option.id),
        name=sheet.words(option.name),
        kind=option.kind,
        text=sheet.words(option.text),
        price=sheet.price(_plain(on.model.id), _plain(option.id)),
        tax=None if own is None else TaxView(sheet.words(own.name), plain_number(own.rate)),
        mass=public_measure(priced.assembly.mass),
        lead_time=sheet.words(option.lead_time),
        lead=_lead(sheet, option.lead_weeks),
        includes=sheet.all_words(option.includes),
        excludes=sheet.all_words(option.excludes),
        needs=tuple(_other(sheet, on, every[id]) for id in option.requires),
        conflicts=tuple(
            _other(sheet, on, every[id])
            for id in sheet.barred[option.id]
            if id in on.options and id not in replaced
        ),
        instead_of=tuple(_other(sheet, on, every[id]) for id in replaced if id in on.options),
        minimum_length=None if shortest is None else public_measure(shortest),
        most=None if option.most is None else int(option.most.value),
        surcharges=tuple(_surcharges(sheet, on, option)),
        drawing=sheet.pictures.drawing(option, on.model),
        elsewhere=sheet.boats[str(option.id)] - 1,
        swatch=_plain(option.swatch),
        new=sheet.new(option.new_in),
        picture=sheet.pictures.option(_plain(option.id), sheet.words),
    )


def _surcharges(sheet: SheetSource, on: PricedModel, option: Option) -> Iterator[SurchargeView]:
    """What an option is charged in each hull colour that the model can have."""
    for pair in on.pairs:
        if pair.option != option.id or pair.surcharge is None:
            continue
        name = sheet.words(_option_of(on.options[pair.colour]).name)
        say = wording(sheet.locale)
        yield SurchargeView(
            id=pair.id,
            colour=_plain(pair.colour),
            colour_name=name,
            words=say(
                "Extra charge: {option} with {colour}", option=sheet.words(option.name), colour=name
            ),
            price=sheet.price(_plain(on.model.id), pair.id),
        )


def _barred(options: Mapping[str, Option]) -> dict[str, tuple[str, ...]]:
    """What each option can't be had with: by either's word, or as one of those a boat has one of.

    All are in the catalogue's order.
    """
    places = {id: place for place, id in enumerate(options)}
    barred: dict[str, set[str]] = {id: set() for id in options}
    alike: dict[str, set[str]] = {}
    for id, option in options.items():
        if option.at_most_one is not None:
            alike.setdefault(str(option.at_most_one), set()).add(id)
        for other in map(str, option.conflicts):
            barred[id].add(other)
            barred[other].add(id)
    for group in alike.values():
        for id in group:
            barred[id] |= group
    return {id: tuple(sorted(found - {id}, key=places.__getitem__)) for id, found in barred.items()}


def _other(sheet: SheetSource, on: PricedModel, option: Option) -> OtherOption:
    """An option as seen from a model, which may not have it at all."""
    id = _plain(option.id)
    offered = id in on.options
    name = sheet.words(option.name)
    return OtherOption(id, name, offered and id not in on.extras, offered)


def _option_of(priced: Priced) -> Option:
    if priced.option is None:
        raise ValueError(f"{priced.assembly.name} is priced as an option but has no record")
    return priced.option


def _plain(text: str | None) -> str:
    """A copy that carries no place; empty where nothing was written."""
    return "" if text is None else str(text)
