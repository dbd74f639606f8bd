"""Every rate the costing uses: landed prices, what an hour costs, cost per pull, policy."""

from __future__ import annotations

from dataclasses import dataclass, field

from quoter.catalogue.counting import pack_content as pack_content
from quoter.catalogue.counting import per_counted
from quoter.catalogue.factory import Mould, Station
from quoter.catalogue.materials import Bought, Material, material_class
from quoter.catalogue.prices import Catalogue
from quoter.engineering import labour, overhead, tooling
from quoter.engineering.purchasing import landed_price, ordering_rate
from quoter.figures import Figure, constant
from quoter.phrases import phrase


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
    wage = catalogue.wages[station.wage_group].wage
    key, name, load = f"station.{station.id}", station.name, station.overhead
    rate = labour.labour_rate(wage, station.on_costs)
    return StationRates(
        station,
        rate.named(f"{key}.labour_rate", phrase("{name}: labour rate", name=name)),
        overhead.overhead_rate(load.variable, load.capacity).named(
            f"{key}.variable_rate",
            phrase("{name}: variable overhead per {station}", name=name, station=_base(station)),
        ),
        overhead.overhead_rate(load.fixed, load.capacity).named(
            f"{key}.fixed_rate",
            phrase("{name}: fixed overhead per {station}", name=name, station=_base(station)),
        ),
    )


def _base(station: Station) -> str:
    words = {"labour hours": phrase("labour hour"), "machine hours": phrase("machine hour")}
    return words.get(station.overhead.base, phrase("labour cost"))


def pull_costs(catalogue: Catalogue) -> dict[str, Figure]:
    """Mould id -> cost per pull in home currency."""
    return {id: _per_pull(catalogue, mould) for id, mould in catalogue.records.moulds.items()}


def _per_pull(catalogue: Catalogue, mould: Mould) -> Figure:
    nothing = constant(0.0, catalogue.currency)
    key, name = f"mould.{mould.id}", mould.name
    pulls = tooling.pulls_to_write_off(mould.life, mould.pulls_per_year, mould.write_off_years)
    cost = tooling.cost_per_pull(
        mould.cost,
        mould.refurbishment if mould.refurbishment is not None else nothing,
        mould.salvage if mould.salvage is not None else nothing,
        pulls.named(f"{key}.pulls", phrase("{name}: pulls to write off", name=name)),
        mould.upkeep if mould.upkeep is not None else nothing,
    )
    return cost.named(f"{key}.per_pull", phrase("{name}: cost per pull", name=name))


def landed_prices(catalogue: Catalogue) -> dict[str, Figure]:
    """Material id -> landed price in home currency per kg, piece, metre or area."""
    return {
        id: landed_price_of(catalogue, id, material)
        for id, material in catalogue.records.materials.items()
    }


def landed_price_of(catalogue: Catalogue, id: str, material: Material) -> Figure:
    """The landed price of one material at the catalogue's rows, which must hold what it needs."""
    row = catalogue.prices[id]
    supplier = catalogue.records.suppliers[row.supplier]
    price = per_counted(material, row.price)
    rate = constant(1.0)
    if supplier.currency != catalogue.currency:
        rate = catalogue.exchange[supplier.currency].rate
    nothing = constant(0.0)
    freight = supplier.freight if supplier.freight is not None else nothing
    duty = supplier.duty if supplier.duty is not None else nothing
    label = phrase("{name}: landed price", name=material.name)
    return landed_price(price, rate, freight, duty).named(f"landed.{id}", label)


def class_of(catalogue: Catalogue, id: str) -> str:
    """The cost class of a material."""
    return material_class(catalogue.records.materials[id])


@dataclass(frozen=True, slots=True)
class CostRates:
    """Prices, names and classes by material id; stations and cost per pull by their ids.

    `masses` of what is not bought by mass; `ordering` as a fraction of landed cost, where its
    supplier states it; `disposal` per kg of waste by material class; `holding` as a rate a year and
    months.
    """

    prices: dict[str, Figure]
    names: dict[str, str]
    classes: dict[str, str]
    stations: dict[str, StationRates]
    pulls: dict[str, Figure]
    handling: Figure
    general: Figure
    nothing: Figure
    masses: dict[str, Figure] = field(default_factory=dict)
    ordering: dict[str, Figure] = field(default_factory=dict)
    disposal: dict[str, Figure] = field(default_factory=dict)
    holding: tuple[Figure, Figure] | None = None

    @property
    def station_names(self) -> dict[str, str]:
        """What people call each station, by id."""
        return {id: str(rates.station.name) for id, rates in self.stations.items()}


def rates_of(catalogue: Catalogue) -> CostRates:
    """The rates in force on the catalogue's date."""
    materials, policy = catalogue.records.materials, catalogue.yard.policy
    holding = None
    if policy.holding_rate is not None and policy.months_held is not None:
        holding = policy.holding_rate, policy.months_held
    return CostRates(
        prices=landed_prices(catalogue),
        names={id: str(material.name) for id, material in materials.items()},
        classes={id: class_of(catalogue, id) for id in materials},
        stations=station_rates(catalogue),
        pulls=pull_costs(catalogue),
        handling=policy.material_handling,
        general=policy.general_overhead,
        nothing=constant(0.0, catalogue.currency),
        masses={id: m.mass for id, m in materials.items() if isinstance(m, Bought)},
        ordering=_ordering(catalogue),
        disposal={str(one.material_class): one.cost for one in policy.waste_disposal},
        holding=holding,
    )


def _ordering(catalogue: Catalogue) -> dict[str, Figure]:
    """Material id -> ordering cost as a fraction of landed cost, of suppliers that state it."""
    nothing = constant(0.0, catalogue.currency)
    rates = {}
    for id, supplier in catalogue.records.suppliers.items():
        freight, minimum = supplier.order_freight, supplier.minimum_order
        if supplier.order_value is not None and (freight is not None or minimum is not None):
            rate = ordering_rate(
                freight if freight is not None else nothing,
                minimum if minimum is not None else nothing,
                supplier.order_value,
            )
            label = phrase("{name}: ordering, of landed cost", name=supplier.name)
            rates[id] = rate.named(f"ordering.{id}", label, "percent")
    quoted = {id: str(catalogue.prices[id].supplier) for id in catalogue.records.materials}
    return {id: rates[supplier] for id, supplier in quoted.items() if supplier in rates}
