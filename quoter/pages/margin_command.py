"""The command that works out a what-if of the margin review from the catalogue, exactly."""

from __future__ import annotations

from collections.abc import Mapping
from shlex import quote
from typing import Any

from quoter.analysis.what_if import WhatIf
from quoter.catalogue.rises import AnnouncedRise
from quoter.importing.moves import written_price
from quoter.pricing.price import Pricing
from quoter.units import UnitError, quantity

BEGIN, END = "quoter build CATALOGUE", "--internal DIR"


def example(pricing: Pricing, movable: WhatIf) -> str:
    """A command such as the page prints while nothing is moved."""
    classes = [factor.id for factor in movable.factors if factor.kind == "class"]
    moved = f"class.{classes[0]}=+10%" if classes else "wages=+10%"
    key = moved.partition("=")[0]
    own = [f"{k}={value}" for k, value in pricing.catalogue.settings.items() if k != key]
    words = [begin(pricing), *(f"--set {quote(each)}" for each in (*own, moved)), END]
    return " ".join(words)


def begin(pricing: Pricing) -> str:
    """How the command begins; it names the day, so that no later price list changes the page."""
    return f"{BEGIN} --as-of {pricing.catalogue.as_of}"


def command_data(pricing: Pricing, movable: WhatIf) -> dict[str, Any]:
    """What the page's script needs to write the command.

    `settings` are those the page was built with: key, value, and the percentage if it is one.
    `rises` have, by lever, each material's price as written and what the rise adds to it, and
    what keeps a command from saying it.
    """
    settings = pricing.catalogue.settings
    return {
        "begin": begin(pricing),
        "end": END,
        "example": example(pricing, movable),
        "settings": [[key, value, _percentage(value)] for key, value in settings.items()],
        "rises": {
            f"rise-{number}": {
                "prices": _raised(pricing, rise),
                "kept": _kept(pricing, rise),
            }
            for number, rise in movable.rises.items()
        },
    }


def _percentage(value: str) -> float | None:
    """The change of a setting in per cent; None of one that is an amount."""
    if value[:1] not in ("+", "-"):
        return None
    try:
        change = quantity(value.replace(" ", "").replace("%", " %"))
    except UnitError:
        return None
    return round(change.number * 100, 9) if change.percent else None


def _raised(pricing: Pricing, rise: AnnouncedRise) -> list[list[Any]]:
    """Material, its price as written, the unit of that, and what the rise adds to it."""
    found: list[list[Any]] = []
    for id, raised in rise.prices.items():
        price = pricing.catalogue.prices[id].price
        number, _, per = written_price(price).partition(" ")
        found.append([id, float(number), per, float(number) * (raised.value / price.value - 1)])
    return found


def _kept(pricing: Pricing, rise: AnnouncedRise) -> str:
    """The setting that a raised price would come before, though the rise comes on top of it."""
    settings: Mapping[str, str] = pricing.catalogue.settings
    for id in rise.prices:
        for key in (f"class.{pricing.costing.rates.classes[id]}", f"price.{id}"):
            if settings.get(key, "")[:1] in ("+", "-"):
                return f"{key}={settings[key]}"
    return ""
