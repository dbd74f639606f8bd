"""What one operation costs per unit: set-up, drivers, allowance, learning and efficiency."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from quoter.catalogue.operations import DRIVERS, Learning, Operation
from quoter.costing.rates import StationRates
from quoter.engineering import labour, learning, overhead, yields
from quoter.figures import Figure, constant
from quoter.phrases import phrase

NO_TIME = constant(0.0, "h")


@dataclass(frozen=True, slots=True)
class ReworkCost:
    """Paid hours and cost of mending some units, per unit worked on.

    Labour and overhead of its station are an element of their own, and enter yield like other work.
    """

    paid: Figure
    variable: Figure
    fixed: Figure
    base: Figure


@dataclass(frozen=True, slots=True)
class OperationCost:
    """An operation's hours and cost per unit worked on, before yield and without rework.

    `base` is the amount the station's overhead is absorbed on.
    """

    operation: Operation
    standard: Figure
    paid: Figure
    labour: Figure
    variable: Figure
    fixed: Figure
    base: Figure
    rework: ReworkCost | None = None


def cost_operation(
    operation: Operation,
    rates: StationRates,
    drivers: Mapping[str, Figure],
    batch: Figure | None,
    key: str,
    name: str,
) -> OperationCost:
    """Cost of one operation per unit.

    Args:
        operation: the catalogue's record
        rates: of its station
        drivers: what the take-off gives, by driver name
        batch: units that share a set-up, or None for one
        key: begins the figures' keys
        name: begins their labels
    """
    label = f"{name}: {operation.name}"
    standard = _standard(operation, rates, drivers, batch)
    standard = standard.named(f"{key}.standard", phrase("{label}, standard time", label=label))
    expected = standard
    if operation.learning is not None:
        expected = _expected(standard, operation.learning)
        expected = expected.named(f"{key}.expected", phrase("{label}, expected time", label=label))
    paid = labour.paid_hours(expected, rates.station.efficiency)
    paid = paid.named(f"{key}.paid", phrase("{label}, paid hours", label=label))
    cost = labour.labour_cost(paid, rates.labour).named(
        f"{key}.labour", phrase("{label}, labour cost", label=label)
    )
    base = _overhead_base(operation, rates, paid, cost)
    return OperationCost(
        operation=operation,
        standard=standard,
        paid=paid,
        labour=cost,
        variable=overhead.overhead_cost(rates.variable, base).named(
            f"{key}.variable", phrase("{label}, variable overhead", label=label)
        ),
        fixed=overhead.overhead_cost(rates.fixed, base).named(
            f"{key}.fixed", phrase("{label}, fixed overhead", label=label)
        ),
        base=base,
        rework=_rework(operation, rates, f"{key}.rework", f"{label}, rework"),
    )


def _rework(operation: Operation, rates: StationRates, key: str, label: str) -> ReworkCost | None:
    """Rework is labour at the same station, with its allowance; it occupies no machine."""
    if operation.rework is None:
        return None
    time = yields.rework_time(operation.rework.share, operation.rework.time)
    standard = _with_allowance(time, operation, rates)
    paid = labour.paid_hours(standard, rates.station.efficiency)
    paid = paid.named(f"{key}.paid", phrase("{label}, paid hours", label=label))
    cost = labour.labour_cost(paid, rates.labour)
    base = cost if rates.station.overhead.base == "labour cost" else paid
    variable = (cost + overhead.overhead_cost(rates.variable, base)).named(
        f"{key}.variable", phrase("{label}, labour and variable overhead", label=label)
    )
    fixed = overhead.overhead_cost(rates.fixed, base)
    return ReworkCost(
        paid,
        variable,
        fixed.named(f"{key}.fixed", phrase("{label}, fixed overhead", label=label)),
        base,
    )


def _standard(
    operation: Operation,
    rates: StationRates,
    drivers: Mapping[str, Figure],
    batch: Figure | None,
) -> Figure:
    per_driver, amounts = _rated(operation, drivers)
    fixed = operation.fixed if operation.fixed is not None else NO_TIME
    time: Figure = labour.run_time(fixed, per_driver, amounts)
    if operation.setup is not None:
        setup = operation.setup
        time = time + (setup if batch is None else labour.setup_per_unit(setup, batch))
    if operation.crew is not None:
        time = labour.crew_hours(time, operation.crew)
    return _with_allowance(time, operation, rates)


def _rated(
    operation: Operation, drivers: Mapping[str, Figure]
) -> tuple[list[Figure], list[Figure]]:
    """The rates of an operation, and what each applies to."""
    per_driver, amounts = [], []
    for driver in DRIVERS:
        field = driver.replace(" ", "_")
        rate = getattr(operation.rates, field, None)
        if rate is not None:
            given = getattr(operation.drivers, field, None)
            per_driver.append(rate)
            amounts.append(given if given is not None else drivers[driver])
    return per_driver, amounts


def rated_time(
    operation: Operation, rates: StationRates, drivers: Mapping[str, Figure]
) -> Figure | None:
    """Time by the clock that an operation takes by its rates alone, with its allowance.

    Nothing of set-up and fixed work is in it; None where the operation has no rates.
    """
    per_driver, amounts = _rated(operation, drivers)
    if not per_driver:
        return None
    time: Figure = labour.run_time(NO_TIME, per_driver, amounts)
    return _with_allowance(time, operation, rates)


def _with_allowance(time: Figure, operation: Operation, rates: StationRates) -> Figure:
    """Standard time of a normal time at an operation: of its work, and of mending there."""
    allowance = operation.allowance if operation.allowance is not None else rates.station.allowance
    if allowance is None:
        return time
    if rates.station.allowance_basis == "shift":
        return labour.standard_on_shift(time, allowance)
    return labour.standard_on_work(time, allowance)


def _expected(standard: Figure, curve: Learning) -> Figure:
    """The average over the planned units of a time set at the reference unit."""
    exponent = learning.learning_exponent(curve.slope)
    first = learning.first_unit_time(standard, curve.reference, exponent)
    if curve.model == "unit":
        return learning.unit_lot_average(first, curve.first, curve.last, exponent)
    return learning.cumulative_lot_average(first, curve.first, curve.last, exponent)


def _overhead_base(operation: Operation, rates: StationRates, paid: Figure, cost: Figure) -> Figure:
    base = rates.station.overhead.base
    if base == "machine hours" and operation.machine is not None:
        return operation.machine
    return cost if base == "labour cost" else paid
