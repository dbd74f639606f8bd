"""Rules of operations: rates with their amounts, machine hours, stages and learning."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_parts import gives_area, gives_perimeter
from quoter.catalogue.options import Option
from quoter.catalogue.parts import (
    DRIVERS,
    ClosedMouldPart,
    CorePart,
    Learning,
    OpenMouldPart,
    Operation,
)
from quoter.catalogue.records import Records
from quoter.problems import Problem

# The average over the planned units is summed unit by unit, in the sheet as well.
LONGEST_RUN = 10_000


def check_operations(records: Records) -> Iterator[Problem]:
    """A rate needs its amount, and a station on machine hours needs them from every operation."""
    for owner in (*records.parts.values(), *records.options.values()):
        used: dict[str, str] = {}
        for operation in owner.operations:
            yield from _operation_faults(records, operation, owner)
            for stage in operation.uses:
                if stage in used:
                    what = f"'{operation.name}' uses the {stage} lines, as '{used[stage]}' does"
                    hint = "material enters once: name its stage in the first operation only"
                    yield Problem(operation.place, what, hint)
                used.setdefault(stage, str(operation.name))


def _operation_faults(records: Records, operation: Operation, owner: Any) -> Iterator[Problem]:
    known = _known_drivers(owner)
    for driver in DRIVERS:
        name = driver.replace(" ", "_")
        rated = operation.rates is not None and getattr(operation.rates, name) is not None
        given = operation.drivers is not None and getattr(operation.drivers, name) is not None
        if rated and not given and driver not in known:
            what = (
                f"operation '{operation.name}' has a rate for {driver}, and nothing it applies to"
            )
            yield Problem(operation.place, what, f"add the amount: 'drivers: {{{name}: …}}'")
        if given and not rated:
            what = f"operation '{operation.name}' has an amount of {driver}, and no rate for it"
            hint = f"add 'rates: {{{name}: …}}', or remove the amount"
            yield Problem(figure_place(getattr(operation.drivers, name)), what, hint)
    station = records.stations.get(str(operation.station))
    if station and station.overhead.base == "machine hours" and operation.machine is None:
        what = f"operation '{operation.name}' has no machine time, on which '{station.id}' absorbs"
        yield Problem(operation.place, what, "add for example 'machine: 30 min'")
    if operation.rates is None and operation.fixed is None and operation.setup is None:
        what = f"operation '{operation.name}' takes no time"
        yield Problem(operation.place, what, "add 'fixed:', 'setup:' or 'rates:'")
    if operation.learning is not None:
        yield from _learning_faults(operation, operation.learning)


def _learning_faults(operation: Operation, curve: Learning) -> Iterator[Problem]:
    first, last = curve.first.value, curve.last.value
    if last < first:
        what = f"operation '{operation.name}' learns from unit {first:g} back to unit {last:g}"
        yield Problem(figure_place(curve.last), what, f"expected at least {first:g}")
    elif last - first >= LONGEST_RUN:
        what = f"operation '{operation.name}' learns over {last - first + 1:g} units"
        hint = f"expected at most {LONGEST_RUN}, the units planned ahead"
        yield Problem(figure_place(curve.last), what, hint)


def _known_drivers(owner: Any) -> set[str]:
    """What the geometry and take-off of a part give without being written."""
    if isinstance(owner, Option):
        return set()
    known = {"count"}
    if gives_area(owner.shape):
        known.add("area")
    if gives_perimeter(owner.shape):
        known.add("perimeter")
    if isinstance(owner, CorePart):
        known.add("foam mass")
    if isinstance(owner, OpenMouldPart | ClosedMouldPart):
        known |= {"plies", "glass mass", "gelcoat faces"}
    return known
