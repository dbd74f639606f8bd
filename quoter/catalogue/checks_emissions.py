"""Rules of what gives off organic vapour: contents that agree, and ways to apply that can be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.materials import Gelcoat, Resin
from quoter.catalogue.operations import CLOSED_MOULD, INFUSION, SPRAYS, Operation
from quoter.catalogue.parts import ClosedMouldPart, InfusedPart, OpenMouldPart
from quoter.catalogue.records import Records
from quoter.catalogue.yard import MouldMaterial
from quoter.problems import Problem

# The stages at which a part's resin enters.
RESIN_STAGES = {
    OpenMouldPart: ("skin", "bulk"),
    InfusedPart: ("skin", "resin"),
    ClosedMouldPart: ("resin",),
}


def check_hap_contents(records: Records) -> Iterator[Problem]:
    """All organic HAP is no less than its parts, and no more than the material."""
    found: list[Resin | Gelcoat | MouldMaterial] = [
        *records.of("resin").values(),
        *records.of("gelcoat").values(),
    ]
    if records.yard is not None:
        found += records.yard.policy.moulds_built
    for material in found:
        told = [f for f in (material.styrene, material.methyl_methacrylate) if f is not None]
        parts = sum(figure.value for figure in told)
        if material.organic_hap is not None and material.organic_hap.value < parts:
            what = (
                f"styrene and methyl methacrylate of '{material.name}' are {parts * 100:g} %, "
                f"all organic HAP {material.organic_hap.value * 100:g} %"
            )
            hint = f"expected at least {parts * 100:g} %, or leave it out"
            yield Problem(figure_place(material.organic_hap), "values-disagree", what, hint)
        elif parts > 1:
            what = f"styrene and methyl methacrylate of '{material.name}' are {parts * 100:g} %"
            yield Problem(figure_place(told[-1]), "shares", what, "expected at most 100 % together")


def check_applied(records: Records) -> Iterator[Problem]:
    """How resin is applied must be possible in the part's mould, and be said where resin enters."""
    for owner in records.owners:
        stages = RESIN_STAGES.get(type(owner), ())
        for operation in owner.operations:
            yield from _applied_faults(operation, owner, stages)


def _applied_faults(operation: Operation, owner: Any, stages: tuple[str, ...]) -> Iterator[Problem]:
    how, bagged = operation.applied, operation.bagged
    if operation.overspray is not None:
        yield from _overspray_faults(operation, stages)
    if how is None and bagged is None:
        return
    here = [stage for stage in operation.uses if stage in (*stages, "gelcoat")]
    called = f"operation '{operation.name}'"
    if not stages or not here or (bagged is not None and here == ["gelcoat"]):
        what = f"{called} says how resin is applied, and none enters there"
        hint = f"say it where 'uses:' names {' or '.join(stages) or 'the resin of a part'}"
        yield Problem(operation.place, "no-effect", what, hint)
        return
    if isinstance(owner, InfusedPart):
        yield from _infused_faults(operation, here)
        return
    closed = isinstance(owner, ClosedMouldPart)
    if here != ["gelcoat"] and how is not None and closed != (how == CLOSED_MOULD):
        what = f"{called} applies resin '{how}' in {'a closed' if closed else 'an open'} mould"
        hint = f"leave it out: '{owner.id}' is injected" if closed else "name an open process"
        yield Problem(operation.place, "values-disagree", what, hint)
    if bagged is not None and (closed or how == INFUSION):
        what = f"{called} puts a vacuum bag over resin that is injected or infused"
        yield Problem(operation.place, "no-effect", what, "leave 'bagged:' out")


def _infused_faults(operation: Operation, here: list[str]) -> Iterator[Problem]:
    """What is under the bag is infused; the skin coat before it is laid in the open."""
    how, called = operation.applied, f"operation '{operation.name}'"
    if "resin" in here and how not in (None, INFUSION):
        what = f"{called} applies the resin of an infused part '{how}'"
        hint = "leave it out: what is under the bag is infused"
        yield Problem(operation.place, "values-disagree", what, hint)
    if "skin" in here and how in (INFUSION, CLOSED_MOULD):
        what = f"{called} applies a skin coat by '{how}'"
        hint = "name an open process: a skin coat is laid before the bag is drawn"
        yield Problem(operation.place, "values-disagree", what, hint)
    if "resin" in here and operation.bagged is not None:
        what = f"{called} puts a vacuum bag over resin that is injected or infused"
        yield Problem(operation.place, "no-effect", what, "leave 'bagged:' out")


def _overspray_faults(operation: Operation, stages: tuple[str, ...]) -> Iterator[Problem]:
    called = f"operation '{operation.name}'"
    assert operation.overspray is not None
    place = figure_place(operation.overspray)
    if not any(stage in stages for stage in operation.uses):
        what = f"{called} has overspray, and no resin of a laminate enters there"
        hint = "remove it: gelcoat has its 'transfer', and injected resin none"
        yield Problem(place, "no-effect", what, hint)
    elif operation.applied not in SPRAYS:
        what = f"{called} has overspray, and does not spray"
        hint = f"add 'applied: {SPRAYS[0]}' or '{SPRAYS[1]}', or remove it"
        yield Problem(place, "values-disagree", what, hint)
