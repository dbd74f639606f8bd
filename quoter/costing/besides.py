"""What comes on top of a material's price, what a batch uses up, and what is spent only once.

Each is an element of its own where the catalogue states it: order freight and minimum orders,
inventory and working capital, waste disposal, material per batch, design and certification.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from quoter.catalogue.operations import Operation
from quoter.catalogue.options import OneOff
from quoter.costing.quantities import NO_MASS, MaterialLine, at_operation
from quoter.costing.rates import CostRates
from quoter.engineering.losses import per_unit_of_batch, waste_mass
from quoter.engineering.overhead import spread_over_units
from quoter.engineering.purchasing import (
    disposal_cost,
    handling_cost,
    holding_cost,
    ordering_cost,
)
from quoter.figures import Figure
from quoter.phrases import phrase


def batch_lines(
    operations: Sequence[Operation], rates: CostRates, batch: Figure | None, key: str, name: str
) -> Iterator[MaterialLine]:
    """What each operation uses up once for a batch, per unit; nothing of it stays in the part."""
    for index, operation in enumerate(operations):
        for number, used in enumerate(operation.per_batch, 1):
            begins = f"{key}.operation{index + 1}.batch{number}"
            label = phrase(
                "{name}: {operation}, {item} per batch",
                name=name,
                operation=operation.name,
                item=rates.names[used.item],
            )
            issued = used.quantity
            if batch is not None:
                issued = per_unit_of_batch(issued, batch)
            yield MaterialLine(
                material=str(used.item),
                use=phrase("{operation}, per batch", operation=operation.name),
                stage=at_operation(index),
                net=Figure(0.0, issued.unit),
                issued=issued.named(f"{begins}.issued", phrase("{label}, issued", label=label)),
                mass=NO_MASS,
                place=used.place,
                element="batch_material",
            )


def on_top(id: str, cost: Figure, rates: CostRates) -> dict[str, Figure]:
    """Element -> what comes on top of a landed cost of a material; `id` is empty for goods that
    are stated in money, which no supplier is known of."""
    found = {"handling": handling_cost(cost, rates.handling)}
    if id in rates.ordering:
        found["ordering"] = ordering_cost(cost, rates.ordering[id])
    if rates.holding is not None:
        found["inventory"] = holding_cost(cost, *rates.holding)
    return found


def disposal_of(line: MaterialLine, rates: CostRates) -> dict[str, Figure]:
    """Element -> what it costs to be rid of what a line issues and the part does not keep."""
    rate = rates.disposal.get(rates.classes[line.material])
    if rate is None:
        return {}
    mass = rates.masses.get(line.material)
    issued = line.issued if mass is None else line.issued * mass
    wasted = waste_mass(issued, line.mass)
    return {f"waste.{rates.classes[line.material]}": disposal_cost(wasted, rate)}


def one_offs(costs: Iterable[OneOff], key: str, name: str) -> Iterator[tuple[str, Figure]]:
    """Element and cost per unit of what is spent once."""
    for number, one in enumerate(costs, 1):
        each = spread_over_units(one.cost, one.units)
        label = phrase("{name}: {kind}, per unit", name=name, kind=one.kind)
        yield f"one_off.{one.kind.replace(' ', '_')}", each.named(f"{key}.one_off{number}", label)
