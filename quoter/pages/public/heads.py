"""Which price sheets there are: each market in each language, and what and where each is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from babel import Locale
from babel.core import get_global

from quoter.catalogue.languages import locale_named
from quoter.catalogue.markets import Dealer, Market
from quoter.pages.public.views import SheetHead
from quoter.pricing.markets import currency_of
from quoter.pricing.price import Pricing


@dataclass(frozen=True, slots=True)
class Copy:
    """A dealer's own copy of a market's price sheet: in all its languages, or in one by its tag."""

    dealer: Dealer
    language: str = ""

    def holds(self, head: SheetHead) -> bool:
        """Whether a price sheet is one of it."""
        return head.id == self.dealer.market and self.language in ("", head.tag)


def published_sheets(pricing: Pricing, copy: Copy | None = None) -> Iterator[tuple[Market, Locale]]:
    """Every market with a price sheet, in each of its languages, its own first; or those of a copy.

    Raises:
        CatalogueError: a language is unknown or has no wording, at its place.
    """
    for market in pricing.catalogue.yard.markets:
        for language in market.languages if market.published else ():
            locale = locale_named(language)
            if copy is None or copy.holds(head_of(pricing, market, locale)):
                yield market, locale


def heads_of(pricing: Pricing, copy: Copy | None = None) -> tuple[SheetHead, ...]:
    """The heads of all price sheets, or of those of a copy, by market."""
    found = published_sheets(pricing, copy)
    return tuple(head_of(pricing, market, locale) for market, locale in found)


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
        locale=with_region(locale),
        trade=market.audience == "trade",
    )


def with_region(locale: Locale) -> str:
    """A language and the region it is of, as preview cards name it (the Open Graph protocol).

    Where none was said it is the one that most of its speakers live in, as Unicode's CLDR has it,
    but for English, which is spelt here as in Britain.

    >>> with_region(Locale("nb")), with_region(Locale("en")), with_region(Locale("en", "US"))
    ('nb_NO', 'en_GB', 'en_US')
    """
    likely = {**get_global("likely_subtags"), "en": "en_Latn_GB"}.get(locale.language, "")
    region = locale.territory or likely.rpartition("_")[2]
    return f"{locale.language}_{region}" if region else locale.language


def own_name(locale: Locale) -> str:
    """What a language, with its region, is called in itself, as an item of a list.

    >>> own_name(Locale("fr")), own_name(Locale("de", "AT"))
    ('Français', 'Deutsch (Österreich)')
    """
    name = locale.get_display_name(locale) or str(locale)
    return name[:1].upper() + name[1:]


def address_of(pricing: Pricing) -> str:
    """Where the site will be, with a slash at its end; empty where nobody said."""
    address = pricing.catalogue.yard.price_sheet.address
    return "" if address is None else f"{address.rstrip('/')}/"
