"""Which price sheets there are: one for each published market in each of its languages."""

from __future__ import annotations

from collections.abc import Iterator

from babel import Locale

from quoter.catalogue.factory import Market
from quoter.catalogue.languages import locale_named
from quoter.pages.public.views import SheetHead
from quoter.pricing.markets import currency_of
from quoter.pricing.price import Pricing


def published_sheets(pricing: Pricing) -> Iterator[tuple[Market, Locale]]:
    """Every market with a price sheet, in each of its languages, its own first.

    Raises:
        CatalogueError: a language is unknown or has no wording, at its place.
    """
    for market in pricing.catalogue.yard.markets:
        if market.published:
            yield from ((market, locale_named(language)) for language in market.languages)


def heads_of(pricing: Pricing) -> tuple[SheetHead, ...]:
    """The heads of all price sheets, by market."""
    return tuple(head_of(pricing, market, locale) for market, locale in published_sheets(pricing))


def head_of(pricing: Pricing, market: Market, locale: Locale) -> SheetHead:
    """What a market's price sheet in a language is called, and where it stands."""
    tag = str(locale).replace("_", "-")
    return SheetHead(
        folder=f"{tag}/{market.id}",
        id=str(market.id),
        market=str(pricing.catalogue.worded(market.name, locale.language)),
        tag=tag,
        language=own_name(locale),
        currency=currency_of(pricing.catalogue, market),
    )


def own_name(locale: Locale) -> str:
    """What a language, with its region, is called in itself, as an item of a list.

    >>> own_name(Locale("fr")), own_name(Locale("de", "AT"))
    ('Français', 'Deutsch (Österreich)')
    """
    name = locale.get_display_name(locale) or str(locale)
    return name[:1].upper() + name[1:]
