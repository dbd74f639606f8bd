"""What an hour costs at each station: labour rate and overhead rates."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.catalogue.factory import Station
from quoter.catalogue.prices import Catalogue
from quoter.engineering import labour, overhead
from quoter.figures import Figure


@dataclass(frozen=True, slots=True)
class StationRates:
    """A station's cost per paid hour, and its overhead per unit of its absorption base."""

    station: Station
    labour: Figure
    variable: Figure
    fixed: Figure


def station_rates(catalogue: Catalogue) -> dict[str, StationRates]:
    """Station id -> its rates, in the order of the catalogue."""
    return {id: _rates(catalogue, station) for id, station in catalogue.records.stations.items()}


def _rates(catalogue: Catalogue, station: Station) -> StationRates:
    wage = catalogue.wages[str(station.wage_group)].wage
    key, name, load = f"station.{station.id}", station.name, station.overhead
    rate = labour.labour_rate(wage, station.on_costs)
    return StationRates(
        station,
        rate.named(f"{key}.labour_rate", f"{name}: labour rate"),
        overhead.overhead_rate(load.variable, load.capacity).named(
            f"{key}.variable_rate", f"{name}: variable overhead per {_base(station)}"
        ),
        overhead.overhead_rate(load.fixed, load.capacity).named(
            f"{key}.fixed_rate", f"{name}: fixed overhead per {_base(station)}"
        ),
    )


def _base(station: Station) -> str:
    words = {"labour hours": "labour hour", "machine hours": "machine hour"}
    return words.get(station.overhead.base, "labour cost")
