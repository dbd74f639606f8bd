"""The price sheet of the home market as plain files: an index and a page per model."""

from __future__ import annotations

from decimal import Decimal

from quoter.catalogue.factory import Company, Market
from quoter.catalogue.options import Option, Package
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


def public_pages(pricing: Pricing) -> dict[str, bytes]:
    """Path below site/ -> content, for the first market of the yard.

    Raises:
        CatalogueError: when the market's language is unknown or has no wording, at its place.
    """
    market = pricing.catalogue.yard.markets[0]
    environment = page_environment(locale_of(market), pricing.catalogue.currency)
    sheet = sheet_view(pricing, market)
    pages = {"index.html": render(environment, "public/index.html", sheet=sheet, root="")}
    for model in sheet.models:
        pages[f"models/{model.id}.html"] = render(
            environment, "public/model.html", sheet=sheet, model=model, root="../"
        )
    return pages | {path: asset(source) for path, source in ASSETS.items()}


def sheet_view(pricing: Pricing, market: Market) -> SheetView:
    """What the sheet of a market shows, and nothing else of the costing."""
    yard = pricing.catalogue.yard
    edition = pricing.catalogue.edition
    return SheetView(
        company=_company(yard.company),
        version=edition.version,
        model_year=edition.model_year,
        valid_from=edition.valid_from,
        valid_until=edition.valid_until,
        terms=_plains(yard.price_sheet.terms),
        currency=pricing.catalogue.currency,
        tax_name=_plain(market.tax_name),
        tax=_decimal(market.tax),
        taxed=market.prices == "with tax",
        models=tuple(_model(pricing, market, model) for model in pricing.models.values()),
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


def _model(pricing: Pricing, market: Market, priced: PricedModel) -> ModelView:
    model, extras = priced.model, priced.extras
    groups: dict[str, list[OptionView]] = {}
    for id, extra in extras.items():
        if id in priced.packages:
            continue
        option = _option_of(extra)
        view = _option(pricing, market, priced, extra)
        groups.setdefault(_plain(option.group), []).append(view)
    standard = [_option_of(item) for id, item in priced.options.items() if id not in extras]
    return ModelView(
        id=_plain(model.id),
        name=_plain(model.name),
        text=_plain(model.text),
        length=_decimal(model.length),
        beam=_decimal(model.beam),
        mass=_decimal(priced.boat.assembly.mass),
        price=public_price(priced.boat.list_price, market, pricing.catalogue.currency),
        standard=tuple(_standard(option) for option in standard),
        groups=tuple(GroupView(name, tuple(options)) for name, options in groups.items()),
        packages=tuple(_package(pricing, market, priced, p) for p in priced.offered_packages),
    )


def _package(pricing: Pricing, market: Market, on: PricedModel, package: Package) -> PackageView:
    """A package; its saving is the difference of the public prices, so that it adds up on paper."""
    currency = pricing.catalogue.currency
    item = on.packages[str(package.id)]
    inside = [on.options[str(name)] for name in package.options]
    price = public_price(item.list_price, market, currency)
    apart = [public_price(option.list_price, market, currency) for option in inside]
    return PackageView(
        id=_plain(package.id),
        name=_plain(package.name),
        text=_plain(package.text),
        price=price,
        saving=sum(apart, Decimal(0)) - price,
        mass=_decimal(item.assembly.mass),
        options=tuple(_other(on, _option_of(option)) for option in inside),
    )


def _standard(option: Option) -> StandardView:
    return StandardView(
        id=_plain(option.id),
        name=_plain(option.name),
        kind=option.kind,
        text=_plain(option.text),
        includes=_plains(option.includes),
        excludes=_plains(option.excludes),
    )


def _option(pricing: Pricing, market: Market, on: PricedModel, priced: Priced) -> OptionView:
    option = _option_of(priced)
    every = pricing.catalogue.records.options
    needed = [str(id) for id in option.requires]
    barred = {str(id) for id in option.conflicts}
    barred |= {id for id, other in every.items() if str(option.id) in map(str, other.conflicts)}
    if option.at_most_one is not None:
        barred |= {id for id, other in every.items() if other.at_most_one == option.at_most_one}
        barred.discard(str(option.id))
    return OptionView(
        id=_plain(option.id),
        name=_plain(option.name),
        kind=option.kind,
        text=_plain(option.text),
        price=public_price(priced.list_price, market, pricing.catalogue.currency),
        mass=_decimal(priced.assembly.mass),
        lead_time=_plain(option.lead_time),
        includes=_plains(option.includes),
        excludes=_plains(option.excludes),
        needs=tuple(_other(on, every[id]) for id in needed),
        conflicts=tuple(
            _other(on, other) for id, other in every.items() if id in barred and id in on.options
        ),
        minimum_length=None if option.minimum_length is None else _decimal(option.minimum_length),
        most=None if option.most is None else int(option.most.value),
    )


def _other(on: PricedModel, option: Option) -> OtherOption:
    """An option as seen from a model, which may not have it at all."""
    id = _plain(option.id)
    offered = id in on.options
    return OtherOption(id, _plain(option.name), offered and id not in on.extras, offered)


def _option_of(priced: Priced) -> Option:
    if priced.option is None:
        raise ValueError(f"{priced.assembly.name} is priced as an option but has no record")
    return priced.option


def _decimal(figure: Figure) -> Decimal:
    return Decimal(repr(figure.value))


def _plain(text: str | None) -> str:
    """A copy that carries no place; empty where nothing was written."""
    return "" if text is None else str(text)


def _plains(texts: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(_plain(text) for text in texts)
