"""What scrapped units cost the good ones: at each operation they take with them all they hold.

What enters at an operation is divided by the yields of all that it still passes, its own included.
The difference is an element of its own, *yield loss*, variable and fixed apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from quoter.engineering.yields import per_good_unit, rolled_yield
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase

NO_HOURS = constant(0.0, "h")


@dataclass(slots=True)
class Entering:
    """What enters at one operation per unit worked on, and the fraction the operation passes."""

    operation: str
    passes: Figure | None
    variable: list[Figure] = field(default_factory=list)
    fixed: list[Figure] = field(default_factory=list)
    hours: list[Figure] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class YieldLoss:
    """Cost and hours that good units bear of scrapped ones, and the fraction that passes all."""

    variable: Figure
    fixed: Figure
    hours: Figure
    passed: Figure


def lost_to_yield(
    route: Sequence[Entering], key: str, name: str, nothing: Figure
) -> YieldLoss | None:
    """The loss along a route, or None where every operation passes everything."""
    passes = [at.passes for at in route if at.passes is not None]
    if not passes:
        return None
    variable: list[Figure] = []
    fixed: list[Figure] = []
    hours: list[Figure] = []
    for number, at in enumerate(route, 1):
        later = [entering.passes for entering in route[number - 1 :] if entering.passes is not None]
        if not later:
            break
        through = rolled_yield(later)
        if len(later) > 1:
            label = phrase("{name}: passed from {operation} on", name=name, operation=at.operation)
            through = through.named(f"{key}.passed{number}", label, "percent")
        begins = f"{key}.entering{number}"
        for letter, words, entered, lost in (
            ("v", "variable cost", at.variable, variable),
            ("f", "fixed cost", at.fixed, fixed),
            ("h", "hours", at.hours, hours),
        ):
            if entered:
                label = phrase(
                    "{name}: {words} entering at {operation}",
                    name=name,
                    words=words,
                    operation=at.operation,
                )
                lost.append(_lost(entered, through, f"{begins}{letter}", label))
    whole = rolled_yield(passes).named(
        f"{key}.passed", phrase("{name}: passed in all", name=name), "percent"
    )
    return YieldLoss(total(variable, nothing), total(fixed, nothing), total(hours, NO_HOURS), whole)


def _lost(entered: list[Figure], through: Figure, key: str, label: str) -> Figure:
    held = total(entered, entered[0])
    if len(entered) > 1:
        held = held.named(key, label)
    return per_good_unit(held, through) - held
