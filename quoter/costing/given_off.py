"""Organic HAP that resin and gelcoat give off where they are applied openly, by how that is done.

An estimate by point values, not a compliance record. What is scrapped or lost counts: the rule
goes by what is applied. It gives the total; a substance has the part of it that it has of the
content, which is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

from quoter.catalogue.materials import Gelcoat, Resin
from quoter.catalogue.operations import CLOSED_MOULD, INFUSION, Operation
from quoter.costing.quantities import GivenOff
from quoter.engineering import emissions
from quoter.figures import Figure, constant, total
from quoter.figures.ops import at_least
from quoter.phrases import phrase

PERCENT = 100.0
NO_HAP = constant(0.0)
# Keys that tell a content by substance; what a stated total has beyond them is of no told one.
SUBSTANCES = {
    "styrene": phrase("styrene"),
    "methyl_methacrylate": phrase("methyl methacrylate"),
}
NOT_TOLD = phrase("substance not told")
BY_HAND = "by hand"
PointValue = Callable[[Figure], Figure]
# Row 1 of Table 3 by how resin is applied, then by vacuum bag: none, after roll-out, without.
POINT_VALUES: Mapping[str, Mapping[str | None, PointValue]] = {
    "atomised spray": {
        None: emissions.resin_atomised,
        "after roll-out": emissions.resin_atomised_bagged_rolled,
        "without roll-out": emissions.resin_atomised_bagged,
    },
    BY_HAND: {
        None: emissions.resin_non_atomised,
        "after roll-out": emissions.resin_non_atomised_bagged_rolled,
        "without roll-out": emissions.resin_non_atomised_bagged,
    },
}


class HapContent(Protocol):
    """What tells its content of organic HAP as a mass fraction: of each substance, or in all."""

    @property
    def styrene(self) -> Figure | None:
        """Styrene."""

    @property
    def methyl_methacrylate(self) -> Figure | None:
        """Methyl methacrylate."""

    @property
    def organic_hap(self) -> Figure | None:
        """All organic HAP, where it is more than these two or not told apart."""


@dataclass(frozen=True, slots=True)
class Applied:
    """How something is applied: a word of `operations.APPLIED`, and the vacuum bag, if any."""

    how: str = BY_HAND
    bagged: str | None = None


def applied_by(operation: Operation | None) -> Applied:
    """How an operation applies resin in the open; by hand, unless it says so."""
    if operation is None:
        return Applied()
    return Applied(str(operation.applied or BY_HAND), operation.bagged and str(operation.bagged))


def kind_of(material: Resin | Gelcoat) -> str:
    """The kind of material that the rule limits it as."""
    return f"{material.kind} gelcoat" if isinstance(material, Gelcoat) else "production resin"


def given_off(
    content: HapContent, kind: str, by: Applied, mass: Figure, key: str, label: str
) -> GivenOff | None:
    """What is given off of a material; None of resin that an infusion or closed mould takes in.

    Args:
        content: what tells its organic HAP
        kind: one of `emissions.LIMITED`
        by: how it is applied; for gelcoat it makes no difference
        mass: how much of it is applied, lost or not [kg]
        key: begins the keys of the figures made here
        label: begins their labels
    """
    coat = kind.endswith("gelcoat")
    if not coat and by.how in (CLOSED_MOULD, INFUSION):
        return None
    told: dict[str, Figure] = {
        words: found
        for name, words in SUBSTANCES.items()
        if (found := getattr(content, name)) is not None
    }
    in_all = content.organic_hap
    if in_all is None and not told:
        return GivenOff(kind, mass)
    whole = total(list(told.values()), NO_HAP) if in_all is None else in_all
    method = emissions.gelcoat_any_method if coat else _point_value(by)
    value = method(whole * PERCENT).named(
        f"{key}.point_value", phrase("{label}, HAP per megagram", label=label)
    )
    gas = emissions.emitted(mass, value).named(
        f"{key}.emission", phrase("{label}, organic HAP", label=label)
    )
    if in_all is not None:
        told[NOT_TOLD] = at_least(in_all - total(list(told.values()), NO_HAP), 0.0)
    return GivenOff(kind, mass, gas, _by_substance(gas, told, whole))


def _point_value(by: Applied) -> PointValue:
    """Whatever is not atomised counts as laid by hand."""
    return POINT_VALUES[by.how if by.how in POINT_VALUES else BY_HAND][by.bagged]


def _by_substance(gas: Figure, told: Mapping[str, Figure], whole: Figure) -> dict[str, Figure]:
    if len(told) == 1:
        return dict.fromkeys(told, gas)
    return {name: emissions.of_substance(gas, content, whole) for name, content in told.items()}
