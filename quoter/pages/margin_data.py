"""What the margin review's script needs, as data: every cost by what moves it, prices, buyers."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from babel import Locale
from babel.numbers import get_currency_name

from quoter.analysis.margins import MOST, Line
from quoter.analysis.what_if import Factor, Terms, WhatIf, held_in
from quoter.catalogue.rises import AnnouncedRise
from quoter.figures import Figure
from quoter.pages.figured import decimal
from quoter.pages.money import percent
from quoter.pricing.markets import BOAT
from quoter.pricing.price import RECOMMENDED, Pricing

LEAST, HIGHEST = -30, 50  # per cent; the levels that the parts are tried at
EXAMPLE = "class.resin=+10%"


@dataclass(frozen=True, slots=True)
class Lever:
    """Something that can be moved on the page; `setting` says it to `quoter build --set`.

    `kind` is "level" for a slider in per cent, "rise" for an announced rise that may hold or not.
    """

    id: str
    kind: str
    name: str
    setting: str
    least: int = LEAST
    most: int = HIGHEST


def levers_of(pricing: Pricing, movable: WhatIf, locale: Locale) -> list[Lever]:
    """What the page moves, in the order of the answers' factors."""
    return [_lever(pricing, movable, factor, locale) for factor in movable.factors]


def _lever(pricing: Pricing, movable: WhatIf, factor: Factor, locale: Locale) -> Lever:
    if factor.kind == "rise":
        name = _rise_words(pricing, movable.rises[factor.id], locale)
        return Lever(f"rise-{factor.id}", "rise", name, "")
    if factor.kind == "wages":
        return Lever("wages", "level", "Wages", "wages")
    setting = f"{factor.kind}.{factor.id}"
    name = f"{_words(factor.id)} prices"
    if factor.kind == "currency":
        called = get_currency_name(factor.id, count=1, locale=locale)
        name = f"{called} against {pricing.catalogue.currency}"
    return Lever(f"{factor.kind}-{factor.id}", "level", name, setting)


def _words(name: str) -> str:
    return name.replace("_", " ").capitalize()


def _rise_words(pricing: Pricing, rise: AnnouncedRise, locale: Locale) -> str:
    """Who raises what by how much, and from when."""
    row = rise.row
    supplier = pricing.catalogue.records.suppliers[str(row.supplier)].name
    by = row.by
    amount = percent(decimal(by), locale) if by.form == "percent" else _written(by)
    return f"{supplier}: +{amount} on {_words(str(row.family)).lower()} from {row.effective}"


def _written(figure: Figure) -> str:
    """An amount as the catalogue has it."""
    while figure.origin is None and figure.args:
        figure = figure.args[0]
    return figure.origin.text if figure.origin is not None else f"{figure.value:g} {figure.unit}"


def margin_data(
    pricing: Pricing, every: Sequence[Line], movable: WhatIf, levers: Sequence[Lever], lang: str
) -> bytes:
    """The script file that holds the data.

    Args:
        pricing: the finished costing with prices
        every: the lines of all markets
        movable: every cost by what moves it
        levers: what the page moves, in this order
        lang: language tag of the page
    """
    catalogue, home = pricing.catalogue, pricing.catalogue.yard.markets[0]
    lines = [line for line in every if line.market == home.id]
    data = {
        "lang": lang,
        "currency": catalogue.currency,
        "most": MOST,
        "example": EXAMPLE,
        "floor": pricing.terms.floor.value,
        "provisions": pricing.terms.provisions.value,
        "buyers": [
            {"id": str(b.id), "name": str(b.name), "discount": b.discount.value}
            for b in pricing.terms.buyers
        ],
        "factors": [
            {"id": lever.id, "kind": lever.kind, "name": lever.name, "setting": lever.setting}
            for lever in levers
        ],
        "things": _things(lines, movable),
        "prices": {
            str(market.id): _prices(pricing, market.id, lines, every, levers)
            for market in catalogue.yard.markets
        },
    }
    return f"window.quoterMargins = {json.dumps(data, ensure_ascii=False, indent=0)};\n".encode()


def _things(lines: Sequence[Line], movable: WhatIf) -> list[dict[str, Any]]:
    at = {factor: place for place, factor in enumerate(movable.factors)}
    return [
        {
            "id": line.model,
            "model": line.model_name,
            "name": "Boat with standard equipment" if line.option == BOAT else line.name,
            "units": None if line.units is None else line.units.value,
            "today": line.cost.value,
            "cost": _made(movable.answers[line.model, line.option].cost, at),
            "variable": _made(movable.answers[line.model, line.option].variable, at),
        }
        for line in lines
    ]


def _made(terms: Terms, at: Mapping[Factor, int]) -> dict[str, Any]:
    """A cost as a rest and amounts, each with the places of what it goes with."""
    amounts = [[[at[factor] for factor in term.factors], term.amount] for term in terms.terms]
    return {"rest": terms.rest, "terms": amounts}


def _prices(
    pricing: Pricing,
    market: str,
    lines: Sequence[Line],
    every: Sequence[Line],
    levers: Sequence[Lever],
) -> list[dict[str, Any] | None]:
    """The list price of each thing in a market, what it is held in, and its margins before."""
    at = {lever.id: place for place, lever in enumerate(levers)}
    where = next(m for m in pricing.catalogue.yard.markets if m.id == market)
    own = {(line.model, line.option): line for line in every if line.market == market}
    found: list[dict[str, Any] | None] = []
    for thing in lines:
        line = own.get((thing.model, thing.option))
        if line is None:
            found.append(None)
            continue
        held = held_in(pricing.catalogue, where, pricing.models[line.model], line.option)
        found.append(
            {
                "basis": line.basis,
                "price": line.list_price.value,
                "follows": line.basis == RECOMMENDED,
                "held": at.get(f"currency-{held}"),
                "last": {} if line.last is None else dict(line.last.margins),
            }
        )
    return found
