"""The prices of a sheet as data for other programs: prices.json, and how data has numbers.

What its keys mean is said once, in `data_schema`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from decimal import Decimal

from babel import Locale

from quoter.figures.exact import half_up
from quoter.formats import PRICES
from quoter.pages.public.views import (
    GroupView,
    ModelView,
    OptionView,
    OtherOption,
    PackageView,
    SheetView,
    StandardView,
)
from quoter.pages.wording import wording
from quoter.pricing.public import PublicMeasure, PublicPrice

# Of metres and kilograms. Never three: 1.250 could be read as a thousand and more.
DECIMALS = 2
OPENING = "opening"  # the kind of option that cuts a hull
Data = dict[str, object]


def amount_text(price: PublicPrice) -> str:
    """A price as data has it: the currency's own digits after a point, no thousands parted."""
    return str(price.amount)


def rate_text(rate: Decimal) -> str:
    """A rate of tax as a fraction, with the digits it was stated with."""
    return f"{rate.normalize():f}"


def measure_text(value: PublicMeasure) -> str:
    """A length or a mass as data has it where all is text."""
    return str(half_up(value.amount, DECIMALS))


def plain(value: object) -> object:
    """A record as JSON can have it: public prices as texts, public measures as numbers.

    Raises:
        TypeError: it holds another number with a fraction, or a figure, which could be a cost.
    """
    if isinstance(value, dict):
        return {text_of(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    if isinstance(value, PublicPrice):
        return text_of(amount_text(value))
    if isinstance(value, PublicMeasure):
        return float(text_of(measure_text(value)))
    return value if value is None or isinstance(value, int) else text_of(value)


def text_of(value: object) -> str:
    """A text as it is.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(value, str):
        raise TypeError(f"a text was expected in public data, not a {type(value).__name__}")
    return value


def caution(sheet: SheetView) -> str:
    """What goes with every option that cuts a hull, in the sheet's language."""
    say = wording(Locale.parse(sheet.head.tag, sep="-"))
    return say(
        "A price approves no structure: an opening cut in a hull must be designed to the standard "
        "that applies and approved by a qualified person."
    )


def most_of(option: OptionView) -> int:
    """How many of an option a boat can have; one where nothing else was said."""
    return option.most or 1


def ids(options: Iterable[OtherOption]) -> tuple[str, ...]:
    """The ids of options that another one speaks of."""
    return tuple(option.id for option in options)


def prices_json(sheet: SheetView) -> bytes:
    """The file prices.json of a price sheet: the whole of it.

    Amounts of money and the rate of tax are texts, since many programs read a number of JSON as a
    binary fraction, which holds few amounts exactly (RFC 8259, section 6); lengths and masses,
    which nobody adds up to the cent, are numbers.
    """
    record: Data = {
        "$schema": "prices.schema.json",
        "format": PRICES.newest,
        "company": {
            "name": sheet.company.name,
            "address": sheet.company.address,
            "email": sheet.company.email,
            "phone": sheet.company.phone,
            "website": sheet.company.website_link,
        },
        "market": {"id": sheet.head.id, "name": sheet.head.market},
        "language": sheet.head.tag,
        "edition": {
            "version": sheet.version,
            "model_year": sheet.model_year,
            "valid_from": sheet.valid_from.isoformat(),
            "valid_until": sheet.valid_until.isoformat(),
        },
        "currency": sheet.currency,
        "tax": {"name": sheet.tax_name, "rate": rate_text(sheet.tax), "included": sheet.taxed},
    }
    if sheet.delivery is not None:
        price = sheet.delivery.price
        record["delivery"] = {"text": sheet.delivery.words, "price": price}
    record["terms"] = list(sheet.terms)
    record["units"] = {"length": "m", "mass": "kg"}
    record["models"] = [_model(sheet, model) for model in sheet.models]
    return (json.dumps(plain(record), indent=1, ensure_ascii=False) + "\n").encode()


def _model(sheet: SheetView, model: ModelView) -> Data:
    found: Data = {
        "id": model.id,
        "name": model.name,
        "text": model.text,
        "length": model.length,
        "beam": model.beam,
        "mass": model.mass,
        "price": model.price,
    }
    if model.opened:
        found["caution"] = caution(sheet)
    return found | {
        "standard": [_standard(item) for item in model.standard],
        "groups": [_group(sheet, group) for group in model.groups],
        "packages": [_package(sheet, package) for package in model.packages],
    }


def _standard(item: StandardView) -> Data:
    return {
        "id": item.id,
        "name": item.name,
        "kind": item.kind,
        "text": item.text,
        "includes": list(item.includes),
        "excludes": list(item.excludes),
    }


def _group(sheet: SheetView, group: GroupView) -> Data:
    return {"name": group.name, "options": [_option(sheet, option) for option in group.options]}


def _option(sheet: SheetView, option: OptionView) -> Data:
    found: Data = {
        "id": option.id,
        "name": option.name,
        "kind": option.kind,
        "text": option.text,
        "price": option.price,
        "mass": option.mass,
        "lead_time": option.lead_time,
        "includes": list(option.includes),
        "excludes": list(option.excludes),
        "needs": ids(option.needs),
        "not_with": ids(option.conflicts),
        "instead_of": ids(option.instead_of),
        "most": most_of(option),
    }
    if option.tax is not None:
        found["tax"] = {"name": option.tax.name, "rate": rate_text(option.tax.rate)}
    if option.minimum_length is not None:
        found["minimum_length"] = option.minimum_length
    return found | {"new": option.new}


def _package(sheet: SheetView, package: PackageView) -> Data:
    return {
        "id": package.id,
        "name": package.name,
        "text": package.text,
        "price": package.price,
        "saving": package.saving,
        "mass": package.mass,
        "options": ids(package.options),
        "new": package.new,
    }
