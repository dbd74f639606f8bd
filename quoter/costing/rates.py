"""Every rate the costing uses, gathered once: landed prices, stations, moulds and policy."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.catalogue.prices import Catalogue
from quoter.costing.purchasing import class_of, landed_prices
from quoter.costing.stations import StationRates, station_rates
from quoter.costing.tooling import pull_costs
from quoter.figures import Figure, constant


@dataclass(frozen=True, slots=True)
class Rates:
    """Prices, names and classes by material id; stations and cost per pull by their ids."""

    prices: dict[str, Figure]
    names: dict[str, str]
    classes: dict[str, str]
    stations: dict[str, StationRates]
    pulls: dict[str, Figure]
    handling: Figure
    general: Figure
    nothing: Figure


def rates_of(catalogue: Catalogue) -> Rates:
    """The rates in force on the catalogue's date."""
    materials = catalogue.records.materials
    return Rates(
        landed_prices(catalogue),
        {id: str(material.name) for id, material in materials.items()},
        {id: class_of(catalogue, id) for id in materials},
        station_rates(catalogue),
        pull_costs(catalogue),
        catalogue.yard.policy.material_handling,
        catalogue.yard.policy.general_overhead,
        constant(0.0, catalogue.currency),
    )
