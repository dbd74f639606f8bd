"""The price sheets whose data files tests read, and those files."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

from babel import Locale

from quoter.pages.public.heads import published_sheets
from quoter.pages.public.sheet import sheet_view
from quoter.pages.public.site import DATA
from quoter.pages.public.views import DeliveryView, OptionView, SheetView, TaxView
from quoter.pricing.price import Pricing
from tests.pricing.public_prices import public

HOSTILE = "<script>alert('x')</script><!-- </SCRIPT \"quoted\", a;b & <b>\r\nnext\u2028line"
DELIVERY = DeliveryView("DAP Sundby", public("1240.00"))


def sheets(pricing: Pricing) -> list[SheetView]:
    """Every price sheet of a yard: its markets, each in its languages."""
    return [sheet_view(pricing, market, locale) for market, locale in published_sheets(pricing)]


def english(pricing: Pricing, market: str) -> SheetView:
    """The English sheet of one market."""
    found = {str(each.id): each for each in pricing.catalogue.yard.markets}
    return sheet_view(pricing, found[market], Locale("en"))


def files(sheet: SheetView) -> dict[str, bytes]:
    """The data files of a sheet."""
    return {name: make(sheet) for name, make in DATA.items()}


def site_files(pricing: Pricing) -> dict[str, bytes]:
    """The data files of all of a yard's sheets, as they stand below its site."""
    return {
        f"{sheet.head.folder}/{name}": content
        for sheet in sheets(pricing)
        for name, content in files(sheet).items()
    }


def with_option(sheet: SheetView, **changes: Any) -> SheetView:
    """The sheet with something else about the first option of its first model."""
    model, *others = sheet.models
    group, *groups = model.groups
    option, *options = group.options
    changed = replace(group, options=(replace(option, **changes), *options))
    return replace(sheet, models=(replace(model, groups=(changed, *groups)), *others))


def hostile(sheet: SheetView) -> SheetView:
    """The sheet with texts that would break out of what they stand in, if they could."""
    company = replace(
        sheet.company,
        name=HOSTILE,
        email=HOSTILE,
        email_link="",
        website="javascript:alert(1)",
        website_link="",
    )
    texts = dict.fromkeys(("name", "text", "lead_time"), HOSTILE)
    sheet = with_option(sheet, **texts, includes=(HOSTILE,), kind="opening")
    model, *others = sheet.models
    groups = tuple(replace(group, name=HOSTILE) for group in model.groups)
    model = replace(model, name=HOSTILE, text=HOSTILE, groups=groups)
    return replace(sheet, company=company, models=(model, *others), version=HOSTILE)


def variants(pricing: Pricing) -> Iterator[SheetView]:
    """A yard's English sheet at home, delivered, with another tax and hostile; and one untaxed."""
    home, *others = (market.id for market in pricing.catalogue.yard.markets)
    sheet = english(pricing, str(home))
    yield sheet
    yield replace(sheet, delivery=DELIVERY)
    yield with_option(sheet, tax=TaxView("Reduced VAT", Decimal("0.07")))
    yield replace(english(pricing, str(others[0])), delivery=DELIVERY)
    yield replace(hostile(sheet), address="")


def first_option(sheet: SheetView) -> OptionView:
    """The option that `with_option` changes."""
    return sheet.models[0].groups[0].options[0]
