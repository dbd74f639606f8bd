"""costing.json: every option's cost, hours, mass, price and margins, and what its keys mean."""

from __future__ import annotations

import json
from typing import Any

from quoter.figures import Figure, money_in
from quoter.formats import COSTING
from quoter.pages.public.data_schema import DIALECT, Schema, object_of, text_of
from quoter.pricing.price import Priced, PricedModel, Pricing


def costing_json(pricing: Pricing, build_id: str) -> bytes:
    """The whole costing as JSON text; money in home currency, hours in h, mass in kg."""
    catalogue = pricing.catalogue
    record = {
        "format": COSTING.newest,
        "build": build_id,
        "currency": catalogue.currency,
        "as_of": str(catalogue.as_of),
        "price_list": str(catalogue.price_list),
        **({"settings": dict(catalogue.settings)} if catalogue.settings else {}),
        "policy": {
            "target_margin": pricing.terms.target.value,
            "floor_margin": pricing.terms.floor.value,
            "provisions": pricing.terms.provisions.value,
        },
        "models": {id: _model(model, catalogue.currency) for id, model in pricing.models.items()},
    }
    return (json.dumps(record, indent=1, ensure_ascii=False) + "\n").encode()


def costing_schema() -> Schema:
    """What the keys of costing.json mean, as a JSON Schema; its keys in the order of the file."""
    sale = _object(
        "What a sale to a class of buyer leaves.",
        net=_number("List price less the class's discount, in home currency."),
        contribution=_number("What the net price leaves after provisions and variable cost."),
        contribution_fraction=_number("The contribution as a fraction of the net price."),
        margin=_number("What the net price leaves after provisions and full cost."),
        margin_fraction=_number("The margin as a fraction of the net price."),
        below_floor={"type": "boolean", "description": "Whether that is below the floor margin."},
    )
    priced = _object(
        "A boat with its standard equipment, or one option.",
        name=text_of("What customers read."),
        list_price=_number("The list price of the home market, without tax."),
        recommended=_number("The price that leaves the target margin, rounded by the policy."),
        basis=text_of(
            "Where the list price is from: a day of the price book, models.yaml, or recommended."
        ),
        cost=_number("Full cost: every element."),
        variable_cost=_number("What one more costs: without fixed and general overhead."),
        elements=_by("Cost by element, such as material.resin or labour.gelcoat.", _number("")),
        hours=_by("Paid hours by station [h].", _number("")),
        yield_hours=_number("Hours for pieces that do not pass [h]."),
        rework_hours=_number("Hours of rework [h]."),
        all_hours=_number("All paid hours [h]."),
        mass_kg=_number("Mass of what is built in [kg]."),
        sales=_by("By dealer class.", sale),
    )
    model = _object(
        "A model.",
        name=text_of("What customers read."),
        standard={"type": "array", "items": text_of(""), "description": "Standard equipment."},
        boat=priced,
        options=_by("The options of this model, by id.", priced),
    )
    whole = _object(
        "Every result of a costing. Money is in home currency without tax, hours in h, mass in kg.",
        optional=("settings",),
        format={"const": COSTING.newest, "description": "Format of the file."},
        build=text_of("Mark of the catalogue it was made from."),
        currency=text_of("The home currency, by its three letters."),
        as_of=text_of("The day whose prices, wages and rates count."),
        price_list=text_of("The day of the price list in force then."),
        settings=_by("In a what-if alone: what was set, by its key.", text_of("")),
        policy=_object(
            "The margins aimed at.",
            target_margin=_number("The margin that recommended prices leave."),
            floor_margin=_number("The margin below which a price is told of."),
            provisions=_number("What comes off a net price, as a fraction of it."),
        ),
        models=_by("By id.", model),
    )
    return {"$schema": DIALECT, "title": "costing.json"} | whole


def _object(words: str, optional: tuple[str, ...] = (), **keys: Schema) -> Schema:
    return object_of(words, keys, optional)


def _by(words: str, each: Schema) -> Schema:
    return {"type": "object", "description": words, "additionalProperties": each}


def _number(words: str) -> Schema:
    return {"type": "number", "description": words}


def _model(priced: PricedModel, home: str) -> dict[str, Any]:
    return {
        "name": str(priced.model.name),
        "standard": [str(name) for name in priced.model.standard],
        "boat": _priced(priced.boat, home),
        "options": {id: _priced(option, home) for id, option in priced.options.items()},
    }


def _priced(priced: Priced, home: str) -> dict[str, Any]:
    assembly = priced.assembly
    return {
        "name": assembly.name,
        "list_price": _money(priced.list_price, home),
        "recommended": _money(priced.recommended, home),
        "basis": priced.basis,
        "cost": _money(assembly.cost, home),
        "variable_cost": _money(assembly.variable, home),
        "elements": {name: _money(cost, home) for name, cost in assembly.elements.items()},
        "hours": {station: figure.value for station, figure in assembly.hours.items()},
        "yield_hours": assembly.yield_hours.value,
        "rework_hours": assembly.rework_hours.value,
        "all_hours": assembly.all_hours.value,
        "mass_kg": assembly.mass.value,
        "sales": {
            buyer: {
                "net": _money(sale.net, home),
                "contribution": _money(sale.contribution, home),
                "contribution_fraction": sale.contribution_fraction.value,
                "margin": _money(sale.margin, home),
                "margin_fraction": sale.margin_fraction.value,
                "below_floor": bool(sale.breach.value),
            }
            for buyer, sale in priced.sales.items()
        },
    }


def _money(figure: Figure, home: str) -> float:
    return float(money_in(figure, home))
