"""The price sheet of a market as plain files: an index and a page per model."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from babel import Locale

from quoter.catalogue.factory import Company, Market
from quoter.catalogue.options import Option, Package
from quoter.catalogue.source import Text
from quoter.catalogue.translations import need_language
from quoter.figures import Figure
from quoter.pages.environment import asset, locale_of, mail_link, page_environment, render, web_link
from quoter.pages.views import (
    CompanyView,
    GroupView,
    ModelView,
    OptionView,
    OtherOption,
    PackageView,
    SheetView,
    StandardView,
)
from quoter.pricing.price import Priced, PricedModel, Pricing, public_amount, with_tax

ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/sheet.css": "public/sheet.css",
}


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a price sheet is of: a costing, one of the yard's markets and a language."""

    pricing: Pricing
    market: Market
    language: str

    def words(self, text: Text | None) -> str:
        """A text of the catalogue in the sheet's language; empty where nothing was written.

        It is a copy that carries no place.
        """
        return "" if text is None else str(self.pricing.catalogue.worded(text, self.language))

    def all_words(self, texts: tuple[Text, ...]) -> tuple[str, ...]:
        """Each of some texts in the sheet's language."""
        return tuple(self.words(text) for text in texts)

    def price(self, price: Figure) -> Decimal:
        """A list price as the market's price lists show it."""
        return public_price(price, self.market, self.pricing.catalogue.currency)


def public_pages(pricing: Pricing) -> dict[str, bytes]:
    """Path below site/ -> content, for the first market of the yard in its language.

    Raises:
        CatalogueError: when the market's language is unknown or has no wording, at its place.
    """
    market = pricing.catalogue.yard.markets[0]
    return market_pages(pricing, market, locale_of(market))


def market_pages(pricing: Pricing, market: Market, locale: Locale) -> dict[str, bytes]:
    """Path -> content of the price sheet of a market in the language of a locale.

    Raises:
        CatalogueError: the catalogue is not translated into that language.
    """
    environment = page_environment(locale, pricing.catalogue.currency)
    sheet = sheet_view(pricing, market, locale.language)
    pages = {"index.html": render(environment, "public/index.html", sheet=sheet, root="")}
    for model in sheet.models:
        pages[f"models/{model.id}.html"] = render(
            environment, "public/model.html", sheet=sheet, model=model, root="../"
        )
    return pages | {path: asset(source) for path, source in ASSETS.items()}


def sheet_view(pricing: Pricing, market: Market, language: str) -> SheetView:
    """What the sheet of a market shows in a language, and nothing else of the costing.

    Raises:
        CatalogueError: the catalogue is not translated into that language.
    """
    yard = pricing.catalogue.yard
    edition = pricing.catalogue.edition
    need_language(pricing.catalogue.records, language)
    sheet = Sheet(pricing, market, language)
    return SheetView(
        company=_company(yard.company),
        version=edition.version,
        model_year=edition.model_year,
        valid_from=edition.valid_from,
        valid_until=edition.valid_until,
        terms=sheet.all_words(yard.price_sheet.terms),
        currency=pricing.catalogue.currency,
        tax_name=sheet.words(market.tax_name),
        tax=_decimal(market.tax),
        taxed=market.prices == "with tax",
        models=tuple(_model(sheet, model) for model in pricing.models.values()),
    )


def public_price(price: Figure, market: Market, currency: str) -> Decimal:
    """A list price as the market's price lists show it: with its tax, or without."""
    if market.prices == "with tax":
        return with_tax(price, market.tax, currency)
    return public_amount(price, currency)


def _company(company: Company) -> CompanyView:
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


def _model(sheet: Sheet, priced: PricedModel) -> ModelView:
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
        length=_decimal(model.length),
        beam=_decimal(model.beam),
        mass=_decimal(priced.boat.assembly.mass),
        price=sheet.price(priced.boat.list_price),
        standard=tuple(_standard(sheet, option) for option in standard),
        groups=tuple(GroupView(names[group], tuple(found)) for group, found in groups.items()),
        packages=tuple(_package(sheet, priced, package) for package in priced.offered_packages),
    )


def _package(sheet: Sheet, on: PricedModel, package: Package) -> PackageView:
    """A package; its saving is the difference of the public prices, so that it adds up on paper."""
    item = on.packages[str(package.id)]
    inside = [on.options[str(name)] for name in package.options]
    price = sheet.price(item.list_price)
    apart = [sheet.price(option.list_price) for option in inside]
    return PackageView(
        id=_plain(package.id),
        name=sheet.words(package.name),
        text=sheet.words(package.text),
        price=price,
        saving=sum(apart, Decimal(0)) - price,
        mass=_decimal(item.assembly.mass),
        options=tuple(_other(sheet, on, _option_of(option)) for option in inside),
    )


def _standard(sheet: Sheet, option: Option) -> StandardView:
    return StandardView(
        id=_plain(option.id),
        name=sheet.words(option.name),
        kind=option.kind,
        text=sheet.words(option.text),
        includes=sheet.all_words(option.includes),
        excludes=sheet.all_words(option.excludes),
    )


def _option(sheet: Sheet, on: PricedModel, priced: Priced) -> OptionView:
    option = _option_of(priced)
    every = sheet.pricing.catalogue.records.options
    needed = [str(id) for id in option.requires]
    barred = {str(id) for id in option.conflicts}
    barred |= {id for id, other in every.items() if str(option.id) in map(str, other.conflicts)}
    if option.at_most_one is not None:
        barred |= {id for id, other in every.items() if other.at_most_one == option.at_most_one}
        barred.discard(str(option.id))
    return OptionView(
        id=_plain(option.id),
        name=sheet.words(option.name),
        kind=option.kind,
        text=sheet.words(option.text),
        price=sheet.price(priced.list_price),
        mass=_decimal(priced.assembly.mass),
        lead_time=sheet.words(option.lead_time),
        includes=sheet.all_words(option.includes),
        excludes=sheet.all_words(option.excludes),
        needs=tuple(_other(sheet, on, every[id]) for id in needed),
        conflicts=tuple(
            _other(sheet, on, other)
            for id, other in every.items()
            if id in barred and id in on.options
        ),
        minimum_length=None if option.minimum_length is None else _decimal(option.minimum_length),
        most=None if option.most is None else int(option.most.value),
    )


def _other(sheet: Sheet, on: PricedModel, option: Option) -> OtherOption:
    """An option as seen from a model, which may not have it at all."""
    id = _plain(option.id)
    offered = id in on.options
    name = sheet.words(option.name)
    return OtherOption(id, name, offered and id not in on.extras, offered)


def _option_of(priced: Priced) -> Option:
    if priced.option is None:
        raise ValueError(f"{priced.assembly.name} is priced as an option but has no record")
    return priced.option


def _decimal(figure: Figure) -> Decimal:
    return Decimal(repr(figure.value))


def _plain(text: str | None) -> str:
    """A copy that carries no place; empty where nothing was written."""
    return "" if text is None else str(text)
