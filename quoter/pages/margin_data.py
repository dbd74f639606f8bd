"""What the margin review's script needs, as data: every cost by what moves it, prices, buyers."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from babel import Locale
from babel.numbers import get_currency_name

from quoter.analysis.margins import MOST, Line
from quoter.analysis.what_if import HIGHEST, LOWEST, Factor, Terms, WhatIf, moving_shares
from quoter.catalogue.factory import Market
from quoter.catalogue.rises import AnnouncedRise
from quoter.figures import Figure
from quoter.pages.figured import decimal
from quoter.pages.margin_command import command_data
from quoter.pages.margin_prices import price_rule
from quoter.pages.money import percent
from quoter.pricing.markets import BOAT, currency_of, market_prices
from quoter.pricing.price import Pricing

LEAST_MOVE, LARGEST_MOVE = round(LOWEST * 100) - 100, round(HIGHEST * 100) - 100  # per cent


@dataclass(frozen=True, slots=True)
class Lever:
    """Something that can be moved on the page; `setting` says it to `quoter build --set`.

    `kind` is "level" for a slider in per cent, "rise" for an announced rise that may hold or not.
    `moving` is the fraction of what the planned year spends on a class that moves, where some of
    it is stated as an amount of money.
    """

    id: str
    kind: str
    name: str
    setting: str
    moving: Decimal | None = None
    least: int = LEAST_MOVE
    most: int = LARGEST_MOVE


def levers_of(pricing: Pricing, movable: WhatIf, locale: Locale) -> list[Lever]:
    """What the page moves, in the order of the answers' factors."""
    levers, shares = [], moving_shares(pricing)
    for factor in movable.factors:
        lever = _lever(pricing, movable, factor, locale)
        if factor.kind == "class" and factor.id in shares:
            lever = replace(lever, moving=Decimal(repr(shares[factor.id])))
        levers.append(lever)
    return levers


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
    sign = "+" if by.value > 0 else ""
    return f"{supplier}: {sign}{amount} on {_words(str(row.family)).lower()} from {row.effective}"


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
    at = {lever.id: place for place, lever in enumerate(levers)}
    data = {
        "lang": lang,
        "currency": catalogue.currency,
        "most": MOST,
        "command": command_data(pricing, movable),
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
        "markets": {str(each.id): _market(pricing, each, at) for each in catalogue.yard.markets},
        "prices": {
            str(market.id): _prices(pricing, market, lines, every)
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


def _market(pricing: Pricing, market: Market, at: Mapping[str, int]) -> dict[str, Any]:
    """The rate of a market's currency today, and the place of what moves it."""
    currency = currency_of(pricing.catalogue, market)
    if currency == pricing.catalogue.currency:
        return {"rate": 1.0, "moves": None}
    rate = pricing.catalogue.exchange[currency].rate
    return {"rate": rate.value, "moves": at[f"currency-{currency}"]}


def _prices(
    pricing: Pricing, market: Market, lines: Sequence[Line], every: Sequence[Line]
) -> list[dict[str, Any]]:
    """How the list price of each thing comes about in a market, and its margins before."""
    places = {(line.model, line.option): place for place, line in enumerate(lines)}
    own = {(line.model, line.option): line for line in every if line.market == market.id}
    prices = market_prices(pricing, market)
    found = []
    for key in places:
        model, option = key
        line = own.get(key)
        last = None if line is None else line.last
        found.append(
            {
                **price_rule(pricing.models[model], option, prices[key], places),
                "sold": line is not None,
                "basis": prices[key].basis,
                "last": {} if last is None else dict(last.margins),
            }
        )
    return found
