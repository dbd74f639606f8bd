"""costing.json: every option's cost, hours, mass, price and margins under documented keys."""

from __future__ import annotations

import json
from typing import Any

from quoter.figures import Figure, money_in
from quoter.formats import COSTING
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
