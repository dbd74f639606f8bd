"""What the margin review's script needs: data of every line, and the formulas that it follows.

As data, every cost by what moves it, and for each thing in each market one rule of its list price:

    {"rule": "shown", "amount": published in the market's currency}
    {"rule": "recommended"}                                 follows its cost at home
    {"rule": "exchanged", "amount": home price, or null}    null follows its cost at home
    {"rule": "package", "of": places of its options, "saving": fraction, "as": market or "home"}

So sliders hold what is published, in its own currency; what follows a cost, is exchanged or
packaged is rounded anew, as a build does. The functions that go with them are written from figures
which the program's own pricing made. The command that the script writes works out what is moved
from the catalogue, exactly.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from shlex import quote
from typing import Any

from babel import Locale
from babel.numbers import get_currency_name

from quoter.analysis.causes import prices_of
from quoter.analysis.findings import Findings
from quoter.analysis.margins import MOST, Key, MarginLine
from quoter.analysis.what_if import HIGHEST, LOWEST, CostTerms, Factor, WhatIf, moving_shares
from quoter.catalogue.markets import Market, Rounding
from quoter.catalogue.options import Package
from quoter.catalogue.rises import AnnouncedRise
from quoter.costing.elements import in_words
from quoter.figures import Figure, constant
from quoter.importing.moves import written_price
from quoter.pages.figured import decimal
from quoter.pages.money import percent
from quoter.pages.script import script_function
from quoter.phrases import phrase
from quoter.pricing.markets import (
    currency_of,
    exchanged_price,
    market_prices,
    price_at_home,
    rounding_of,
)
from quoter.pricing.price import RECOMMENDED, MarketPrice, PricedModel, Pricing, saved_price
from quoter.units import UnitError, quantity
from quoter.wording import own_wording

LEAST_MOVE, LARGEST_MOVE = round(LOWEST * 100) - 100, round(HIGHEST * 100) - 100  # per cent
HOME = "home"  # rounds packages by the yard's policy, whatever its first market is called
SAVING = constant(0.1)
BEGIN, END = "quoter build CATALOGUE", "--internal DIR"
WORDS = {  # that the script says
    "year": phrase("The planned year leaves {now} (today {today}), {change}."),
    "below": phrase("Below the floor: {now} of {all} prices (today {today})."),
    "kept": phrase(
        "no command gives it, since the rise comes on top of {kept}, which this page was built "
        "with."
    ),
    "moved": phrase("What if: {moved}. These are not today's numbers."),
    "floor": phrase("below at {buyers}"),
    "holds": phrase("holds"),
    "shown": phrase("{shown} of {all} shown"),
}


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
    moving: float | None = None
    least: int = LEAST_MOVE
    most: int = LARGEST_MOVE


def levers_of(pricing: Pricing, movable: WhatIf, locale: Locale) -> list[Lever]:
    """What the page moves, in the order of the answers' factors."""
    levers, shares = [], moving_shares(pricing)
    for factor in movable.factors:
        lever = _lever(pricing, movable, factor, locale)
        if factor.kind == "class" and factor.id in shares:
            lever = replace(lever, moving=shares[factor.id])
        levers.append(lever)
    return levers


def _lever(pricing: Pricing, movable: WhatIf, factor: Factor, locale: Locale) -> Lever:
    if factor.kind == "rise":
        name = _rise_words(pricing, movable.rises[factor.id], locale)
        return Lever(f"rise-{factor.id}", "rise", name, "")
    if factor.kind == "wages":
        return Lever("wages", "level", phrase("Wages"), "wages")
    setting = f"{factor.kind}.{factor.id}"
    name = prices_of(factor.id)
    if factor.kind == "currency":
        called = get_currency_name(factor.id, count=1, locale=locale)
        name = phrase("{what} against {currency}", what=called, currency=pricing.catalogue.currency)
    return Lever(f"{factor.kind}-{factor.id}", "level", name, setting)


def _rise_words(pricing: Pricing, rise: AnnouncedRise, locale: Locale) -> str:
    """Who raises what by how much, and from when."""
    row = rise.row
    supplier = pricing.catalogue.records.suppliers[row.supplier].name
    by = row.by
    amount = percent(decimal(by), locale) if by.form == "percent" else _written(by)
    sign, family = "+" if by.value > 0 else "", in_words(row.family)
    return phrase(
        "{supplier}: {amount} on {family} from {day}",
        supplier=supplier,
        amount=f"{sign}{amount}",
        family=family,
        day=row.effective,
    )


def _written(figure: Figure) -> str:
    """An amount as the catalogue has it."""
    while figure.origin is None and figure.args:
        figure = figure.args[0]
    return figure.origin.text if figure.origin is not None else f"{figure.value:g} {figure.unit}"


def margin_data(findings: Findings, levers: Sequence[Lever], locale: Locale) -> bytes:
    """The script file that holds the data.

    Args:
        findings: what is asked of the finished costing
        levers: what the page moves, in this order
        locale: of the page
    """
    pricing, review, movable = findings.pricing, findings.margins, findings.what_if
    say = own_wording(locale)
    catalogue, terms = pricing.catalogue, pricing.terms
    at = {lever.id: place for place, lever in enumerate(levers)}
    data = {
        "lang": str(locale).replace("_", "-"),
        "words": {name: say(words) for name, words in WORDS.items()},
        "currency": catalogue.currency,
        "most": MOST,
        "command": command_data(pricing, movable),
        "floor": terms.floor.value,
        "provisions": terms.provisions.value,
        "buyers": [
            {"id": str(b.id), "name": str(b.name), "discount": b.discount.value}
            for b in terms.buyers
        ],
        "factors": [
            {"id": lever.id, "kind": lever.kind, "name": say(lever.name), "setting": lever.setting}
            for lever in levers
        ],
        "things": _things(review.at_home, movable),
        "markets": {str(each.id): _market(pricing, each, at) for each in catalogue.yard.markets},
        "prices": {
            str(market.id): _prices(pricing, market, review.at_home, review.lines[market.id])
            for market in catalogue.yard.markets
        },
    }
    return f"window.quoterMargins = {json.dumps(data, ensure_ascii=False, indent=0)};\n".encode()


def _things(lines: Sequence[MarginLine], movable: WhatIf) -> list[dict[str, Any]]:
    at = {factor: place for place, factor in enumerate(movable.factors)}
    return [
        {
            "id": line.model,
            "model": line.model_name,
            "name": line.words,
            "units": None if line.units is None else line.units.value,
            "today": line.cost.value,
            "cost": _made(movable.answers[line.model, line.option].cost, at),
            "variable": _made(movable.answers[line.model, line.option].variable, at),
        }
        for line in lines
    ]


def _made(terms: CostTerms, at: Mapping[Factor, int]) -> dict[str, Any]:
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
    pricing: Pricing, market: Market, lines: Sequence[MarginLine], sold: Sequence[MarginLine]
) -> list[dict[str, Any]]:
    """How the list price of each thing comes about in a market, and its margins before.

    Args:
        pricing: the finished costing with prices
        market: one of the yard's
        lines: the things, as sold at home
        sold: the lines of the market
    """
    places = {line.key: place for place, line in enumerate(lines)}
    own = {line.key: line for line in sold}
    prices = market_prices(pricing, market)
    found = []
    for key in places:
        model, option = key
        was = own[key].was if key in own else None
        last = {} if was is None else was.fractions
        found.append(
            {
                **price_rule(pricing.models[model], option, prices[key], places),
                "sold": key in own,
                "basis": prices[key].basis,
                "last": {buyer: fraction.value for buyer, fraction in last.items()},
            }
        )
    return found


def price_rule(
    model: PricedModel, option: str, price: MarketPrice, places: Mapping[Key, int]
) -> dict[str, Any]:
    """How a price comes about in its market.

    Args:
        model: what it is of
        option: option, package or BOAT
        price: in the market
        places: of each thing in the script's data
    """
    id = str(model.model.id)
    item = model.extras[option] if option else model.boat
    package = _package(model, option)
    if package is not None:
        return {
            "rule": "package",
            "of": [places[id, str(name)] for name in package.options],
            "saving": package.saving.value,
            "as": HOME if price.shown is item.list_price else "market",
        }
    follows = item.basis == RECOMMENDED
    if price.at_home is not None:
        stays = not (follows and price.at_home is item.list_price)
        return {"rule": "exchanged", "amount": price.at_home.value if stays else None}
    if follows and price.shown is item.list_price:
        return {"rule": "recommended"}
    return {"rule": "shown", "amount": price.shown.value}


def _package(model: PricedModel, option: str) -> Package | None:
    return next((each for each in model.offered_packages if each.id == option), None)


def market_functions(pricing: Pricing) -> tuple[list[str], str]:
    """Functions of every market's prices, and the object that holds them by market's id, as text.

    Each market has three: `exchanged(at_home, rate)` and `packaged(apart, saving)` give the price
    shown there, `home(shown, rate)` gives that in home currency. The policy's own `packaged` is
    beside them.
    """
    catalogue = pricing.catalogue
    written: list[str] = []
    names = []
    for number, market in enumerate(catalogue.yard.markets):
        currency = currency_of(catalogue, market)
        rule = rounding_of(catalogue, market)
        found = {
            "home": _at_home(pricing, market, f"home{number}"),
            "packaged": _packaged(rule, currency, f"packaged{number}"),
        }
        if currency != catalogue.currency:
            found["exchanged"] = _exchanged(pricing, market, f"exchanged{number}")
        written += found.values()
        own = ", ".join(f"{what}: {what}{number}" for what in found)
        names.append(f'  "{market.id}": {{ {own} }}')
    written.append(_packaged(catalogue.yard.policy.rounding, catalogue.currency, "packaged"))
    return written, "{\n" + ",\n".join(names) + "\n}"


def _exchanged(pricing: Pricing, market: Market, name: str) -> str:
    at_home = constant(100.0, pricing.catalogue.currency)
    shown = exchanged_price(pricing.catalogue, market, at_home)
    inputs = {"at_home": at_home, "rate": _rate(pricing, market)}
    return script_function(name, inputs, {"price": shown})


def _at_home(pricing: Pricing, market: Market, name: str) -> str:
    shown = constant(100.0, currency_of(pricing.catalogue, market))
    listed = price_at_home(pricing.catalogue, shown)
    inputs = {"shown": shown, "rate": _rate(pricing, market)}
    return script_function(name, inputs, {"price": listed})


def _packaged(rule: Rounding, currency: str, name: str) -> str:
    apart = constant(100.0, currency)
    inputs = {"apart": apart, "saving": SAVING}
    return script_function(name, inputs, {"price": saved_price(apart, SAVING, rule)})


def _rate(pricing: Pricing, market: Market) -> Figure:
    """The rate of a market's currency; 1 at home, where no function uses it."""
    currency = currency_of(pricing.catalogue, market)
    if currency == pricing.catalogue.currency:
        return constant(1.0)
    return pricing.catalogue.exchange[currency].rate


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
