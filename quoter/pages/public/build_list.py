"""What a model's page needs to build a list of options by itself: data, words and the rules.

The rules are the traced ones of `pricing.rules`, written as JavaScript without the catalogue's
remarks; nothing of a price or a rule is worked out a second time. What a browser adds up are the
prices shown, in whole smallest units. `tests/test_quotes_of_pages.py` holds both against what
`quoter quote` says of the same boat.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from babel import Locale

from quoter.figures.readers import METRIC, US
from quoter.formats import REQUEST
from quoter.pages import money
from quoter.pages.public.data import data_text, measure_text
from quoter.pages.public.views import LeadView, ModelView, SheetView
from quoter.pages.script import HELPERS, script_function
from quoter.pricing.configured import configure
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.public import PublicMeasure, PublicPrice
from quoter.pricing.rules import Rule, boarded
from quoter.wording import Wording, _, wording

# What the script says, with names in braces that it fills in.
PHRASES = {
    "between": _("; "),
    "colon": _(": "),
    "add": _("Add"),
    "take_out": _("Take out"),
    "added": _("{name} is on your list. Total {total}."),
    "taken_out": _("{name} is off your list. Total {total}."),
    "refused": _("{name} can't be added."),
    "kept": _("{name} can't be taken out."),
    "fix_add": _("Take {name} with {added}"),
    "fix_out": _("Take {name} and give up {removed}"),
    "fix_both": _("Take {name} with {added} and give up {removed}"),
    "fix_add_too": _("Take out {name} and add {added}"),
    "fix_out_too": _("Take out {name} and {removed}"),
    "fix_both_too": _("Take out {name} and {removed}, add {added}"),
    "then": _("Total then: {total}."),
    "held": _("{option} is in the package {package} already."),
    "goes_in": _("The package {package} takes in what you have of it: {names}."),
    "cheaper": _("The package {package} saves {saving}: it holds {names}."),
    "cheaper_besides": _(
        "The package {package} saves {saving} and brings {besides} as well: it holds {names}."
    ),
    "swap": _("Take {package}"),
    "not_now": _("Not now"),
    "undo": _("Undo"),
    "restored": _("Your list is as it was. Total {total}."),
    "left_out": _("Not taken over from the address:"),
    "standard_here": _("{name} is standard on this boat."),
    "standard_there": _("{name} is not offered on this boat; it is standard on {boats}."),
    "not_here": _("{name} is not offered on this boat."),
    "too_many": _("Of {name}, at most {most} can be had."),
    "unknown_one": _("1 entry is on no price sheet of this yard."),
    "unknown_more": _("{count} entries are on no price sheet of this yard."),
    "lead": _("Longest lead time: {time} ({name})"),
    "leads": _("Lead times: {times}"),
    "quantity": _("Number of {name}"),
    "shown": _("{count} of {all} options shown"),
    "nothing": _("No option matches. Change the words or the filters."),
    "copied": _("The address is copied."),
    "copy_by_hand": _("Copy it from your browser's address line."),
    "count_none": _("no options"),
    "count_one": _("1 option"),
    "count_more": _("{count} options"),
}
# What the scripts say of lists that are carried, kept aside, printed or mailed.
CARRIED = {
    "here_opened": _("{names} is no package on this boat; what it holds is listed one by one."),
    "here_extra": _("Standard on the {model}, an extra on this boat: {names}."),
    "some_there": _("{count} of {all} offered or standard there"),
    "kept_aside": _("Kept aside: {model}, {total}."),
    "no_aside": _("The list kept aside can't be read here."),
    "is_standard": _("standard"),
    "in_package": _("in the package {package}"),
    "on_both": _("On both lists: {names}."),
    "all_same": _("Both lists hold the same options."),
    "mail_subject": _("Request for a quote: {model}"),
    "mail_ask": _("Please send me a quote for this boat."),
    "mail_sheet": _("By price sheet {version}."),
    "mail_list": _("This list: {address}"),
    "mail_more": _("and {count} more"),
    "total_told": _("Total: {total}"),
}
ONE_OF = _("Only one of these can be had: {options}.")


@dataclass(frozen=True, slots=True)
class RuleScript:
    """The rules of a model: a function `check` of quantities, and what each rule is."""

    function: str
    inputs: tuple[str, ...]
    standard: tuple[str, ...]
    rules: tuple[Rule, ...]


def rule_script(pricing: Pricing, priced: PricedModel) -> RuleScript:
    """The rules of a model as a JavaScript function of how many of each extra are chosen.

    It returns 1 for each rule that holds, by its number, and how many of each standard option are
    left on the boat.
    """
    boat = configure(pricing.terms, priced, {})
    aboard = boarded(priced, boat.quantities)
    standard = tuple(str(name) for name in priced.model.standard)
    outputs = {f"r_{word_of(number)}": rule.holds for number, rule in enumerate(boat.rules)}
    outputs |= {f"s_{id}": aboard[id] for id in standard}
    inputs = {f"q_{id}": figure for id, figure in boat.quantities.items()}
    function = script_function("check", inputs, outputs, remarks=False)
    return RuleScript(function, tuple(boat.quantities), standard, tuple(boat.rules))


def list_script(
    sheet: SheetView,
    model: ModelView,
    rules: RuleScript,
    say: Wording,
    locale: Locale,
    other: SheetView | None = None,
) -> bytes:
    """The file models/MODEL.js: the function, and all that the list shows, in the language.

    Args:
        sheet: whose prices
        model: the boat
        rules: of the same model
        say: the sheet's language
        locale: of the sheet
        other: the sheet with tax where this one is without, or without, if readers may switch
    """
    names = _names(model)
    whole = sheet.whole and (other is None or other.whole)
    data = {
        "request": REQUEST.newest,
        "market": sheet.head.id,
        "language": sheet.head.tag,
        "version": sheet.version,
        "yard": sheet.company.name,
        "model": model.id,
        "name": model.name,
        "currency": sheet.currency,
        "price": model.price,
        **_lead(model.lead),
        "mass": measure_text(model.mass),
        "delivery": None if sheet.delivery is None else sheet.delivery.price,
        "delivery_words": _delivery_words(sheet, say),
        "items": _items(model, rules),
        "surcharges": _surcharges(model),
        "standard": _standard(model),
        "rules": [_rule(rule, names, say) for rule in rules.rules],
        **_said(locale, sheet.currency, sheet.units, whole),
    }
    if other is not None:
        turned = next(each for each in other.models if each.id == model.id)
        data |= {"savings": _savings(model), "other": _prices(other, turned)}
    text = f'(function () {{\n"use strict";\n{HELPERS}{rules.function}'
    text += f"window.priceList = {_written(data)};\nwindow.priceList.check = check;\n"
    return f"{text}}}());\n".encode()


def _written(data: Mapping[str, object]) -> str:
    """Data as a script has them."""
    return data_text(data).replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


@lru_cache(maxsize=16)
def _said(locale: Locale, currency: str, units: str, whole: bool) -> dict[str, object]:
    """What every list of a sheet says, and how it writes numbers."""
    say = wording(locale)
    return {
        "words": {name: say(text) for name, text in (PHRASES | CARRIED).items()},
        "money": money.customers_style(money.money_style(currency, locale, whole)).as_data(),
        "masses": mass_styles(locale, units),
    }


def word_of(number: int) -> str:
    """A number in letters, since no digits of a script are anything but a count."""
    return "".join("abcdefghij"[int(digit)] for digit in str(number))


def _delivery_words(sheet: SheetView, say: Wording) -> str:
    """How delivery stands in a list; empty where nothing is charged for it."""
    said = say("Delivery: {place}", place="" if sheet.delivery is None else sheet.delivery.words)
    return "" if sheet.delivery is None else said


def _items(model: ModelView, rules: RuleScript) -> list[dict[str, object]]:
    """What can be chosen, in the order of the function's arguments."""
    options = {option.id: option for option in model.options}
    packages = {package.id: package for package in model.packages}
    found: list[dict[str, object]] = []
    for id in rules.inputs:
        if id in packages:
            package = packages[id]
            holds = [option.id for option in package.options]
            found.append(_item(package.id, package.name, "package", package.price, package.mass, 1))
            found[-1]["holds"] = holds
        else:
            option = options[id]
            most = option.most or 1
            found.append(_item(id, option.name, option.kind, option.price, option.mass, most))
            found[-1] |= {"lead": option.lead_time} | _lead(option.lead)
            if option.instead_of:
                found[-1]["instead_of"] = [other.id for other in option.instead_of]
    return found


def _lead(lead: LeadView | None) -> dict[str, object]:
    return {} if lead is None else {"weeks": lead.weeks, "lead": lead.words}


def _surcharges(model: ModelView) -> list[dict[str, object]]:
    """What is charged where an option and a hull colour are both on the list."""
    return [
        {"option": option.id, "colour": each.colour, "name": each.words, "price": each.price}
        for option in model.options
        for each in option.surcharges
    ]


def _prices(sheet: SheetView, model: ModelView) -> dict[str, object]:
    """Every price of a boat's page, as far as a list has it under the same key."""
    items: list[dict[str, object]] = [
        {"id": option.id, "price": option.price} for option in model.options
    ]
    items += [{"id": package.id, "price": package.price} for package in model.packages]
    return {
        "price": model.price,
        "delivery": None if sheet.delivery is None else sheet.delivery.price,
        "items": items,
        "surcharges": [{"price": each["price"]} for each in _surcharges(model)],
        "savings": _savings(model),
    }


def _savings(model: ModelView) -> list[dict[str, object]]:
    """What each package saves."""
    return [{"id": each.id, "saving": each.saving} for each in model.packages]


def _standard(model: ModelView) -> list[dict[str, str]]:
    return [{"id": item.id, "name": item.name, "kind": item.kind} for item in model.standard]


def _item(
    id: str, name: str, kind: str, price: PublicPrice, mass: PublicMeasure, most: int
) -> dict[str, object]:
    return {
        "id": id,
        "name": name,
        "kind": kind,
        "price": price,
        "mass": measure_text(mass),
        "most": most,
    }


def _rule(rule: Rule, names: Mapping[str, str], say: Wording) -> dict[str, object]:
    return {
        "option": rule.option,
        "kind": rule.kind,
        "others": list(rule.others),
        "words": refusal(rule, names, say),
    }


def _names(model: ModelView) -> dict[str, str]:
    """What everything is called that a rule of a model can speak of."""
    names = {item.id: item.name for item in model.standard}
    for option in model.options:
        names |= {other.id: other.name for other in (*option.needs, *option.conflicts)}
    return names | {option.id: option.name for option in model.options}


def refusal(rule: Rule, names: Mapping[str, str], say: Wording) -> str:
    """A rule in words that a buyer understands, for when it is broken.

    Which of several options are on a list is filled in by the script.
    """
    option = names[rule.option]
    if rule.kind == "one of":
        return say(ONE_OF)
    if rule.kind == "needs":
        other = names[rule.others[0]]
        return say("{option} can only be had with {other}.", option=option, other=other)
    if rule.kind == "conflicts":
        other = names[rule.others[0]]
        return say("{option} can't be had together with {other}.", option=option, other=other)
    return say("At most {most} of these can be fitted: {option}.", most=rule.most, option=option)


def mass_styles(locale: Locale, units: str) -> dict[str, object]:
    """Kilograms and pounds, each with and without decimals, as far as the page writes masses so."""

    def style(name: str, digits: int) -> dict[str, object]:
        return money.customers_style(money.measure_style(f"mass-{name}", locale, digits)).as_data()

    found: dict[str, object] = {}
    if units != US.name:
        found["whole_digits"] = money.KG_DIGITS
        found["fine"] = style("kilogram", 1)
        found["whole"] = style("kilogram", 0)
    if units != METRIC.name:
        found["pound"] = str(money.POUND)
        found["pounds_whole_digits"] = money.LB_DIGITS
        found["pounds_fine"] = style("pound", 1)
        found["pounds_whole"] = style("pound", 0)
    return found
