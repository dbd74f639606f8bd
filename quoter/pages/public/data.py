"""The prices of a sheet as data for other programs: prices.json, and how data has numbers.

What its keys mean is said once, in `data_schema`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from decimal import Decimal
from json.encoder import encode_basestring as quoted

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
from quoter.pricing.public import PublicMeasure, PublicPrice
from quoter.wording import wording

# Of metres and kilograms. Never three: 1.250 could be read as a thousand and more.
DECIMALS = 2
OPENING = "opening"  # the kind of option that cuts a hull
LINE = "\n"
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


def data_text(value: object, margin: str = "") -> str:
    """A record as JSON: public prices as texts, public measures as numbers, and nothing else.

    It is what `json.dumps` writes, which goes through all of it in Python as well where lines are
    wanted, after it was gone through once to take out the prices.

    Args:
        value: a record, or a part of one
        margin: a line's end and the blanks before the value's own end, where each item has a line;
            else it all stands in one, without blanks
    Raises:
        TypeError: it holds another number with a fraction, or a figure, which could be a cost.
    """
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        inner, colon = (f"{margin} ", ": ") if margin else ("", ":")
        items = [
            f"{inner}{quoted(key)}{colon}"
            f"{quoted(item) if type(item) is str else data_text(item, inner)}"  # most are texts
            for key, item in value.items()
        ]
        return f"{{{','.join(items)}{margin}}}" if items else "{}"
    if isinstance(value, list | tuple):
        inner = f"{margin} " if margin else ""
        items = [f"{inner}{data_text(item, inner)}" for item in value]
        return f"[{','.join(items)}{margin}]" if items else "[]"
    if isinstance(value, PublicPrice):
        return quoted(text_of(amount_text(value)))
    if isinstance(value, PublicMeasure):
        return repr(float(text_of(measure_text(value))))
    return json.dumps(value) if value is None or isinstance(value, int) else text_of(value)


def data_file(record: Data) -> bytes:
    """A record as a file of JSON that people can read, too."""
    return f"{data_text(record, LINE)}\n".encode()


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
        **({"builder": sheet.builder} if sheet.builder else {}),
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
    return data_file(record)


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
    if option.surcharges:
        found["surcharges"] = [
            {"with": each.colour, "price": each.price} for each in option.surcharges
        ]
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
