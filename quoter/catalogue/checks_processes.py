"""Rules of spraying, infusing and checking: what a gun lays, what a bag covers, what is right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.factory import Ply
from quoter.catalogue.materials import SPRAYED, Glass
from quoter.catalogue.operations import SPRAYS, Operation
from quoter.catalogue.parts import ClosedMouldPart, InfusedPart, MouldedPart, Zone
from quoter.catalogue.records import Records
from quoter.problems import Problem

SKIN = "skin"


class Laid(NamedTuple):
    """A ply of a zone, and its glass."""

    zone: Zone
    ply: Ply
    glass: Glass


def laid_in(records: Records, part: MouldedPart) -> Iterator[Laid]:
    """The plies of a part, as far as its stacks and their glass could be read."""
    for zone in part.zones:
        stack = records.laminates.get(zone.laminate)
        for ply in () if stack is None else stack.plies:
            glass = records.of("glass").get(ply.glass)
            if glass is not None:
                yield Laid(zone, ply, glass)


def is_sprayed(records: Records, part: MouldedPart) -> bool:
    """Whether a gun sprays any ply of a part."""
    return any(laid.glass.form == SPRAYED for laid in laid_in(records, part))


def is_dry(ply: Ply) -> bool:
    """Whether a ply of an infused part is of the dry kit, not of the skin coat laid before it."""
    return ply.stage != SKIN


def check_sprayed(records: Records) -> Iterator[Problem]:
    """What is for a gun is sprayed, by an operation that says how; nothing else has a thickness."""
    for glass in records.of("glass").values():
        if glass.form == SPRAYED and glass.roll_width is not None:
            what = f"'{glass.id}' has a roll width, and a gun sprays it"
            hint = "remove it: what is sprayed has no seams; overspray stands at the operation"
            yield Problem(figure_place(glass.roll_width), "no-effect", what, hint)
    for laminate in records.laminates.values():
        for ply in laminate.plies:
            glass = records.of("glass").get(ply.glass)
            if ply.thickness is not None and glass is not None and glass.form != SPRAYED:
                what = f"a ply of '{glass.id}' has a thickness, and no gun sprays it"
                hint = "remove it: areal mass and 'layers:' say how much is laid"
                yield Problem(figure_place(ply.thickness), "no-effect", what, hint)
            if ply.direction is not None and glass is not None and glass.form == SPRAYED:
                what = f"a ply of '{glass.id}' has a direction, and a gun sprays it"
                hint = "remove it: what is sprayed comes off no roll"
                yield Problem(ply.place, "no-effect", what, hint)
    parts: dict[str, MouldedPart] = {
        **records.of("open_mould"),
        **records.of("infused"),
        **records.of("closed_mould"),
    }
    for part in parts.values():
        yield from _sprayed_faults(records, part)


def _sprayed_faults(records: Records, part: MouldedPart) -> Iterator[Problem]:
    told: set[str] = set()
    for zone, ply, glass in laid_in(records, part):
        if glass.form != SPRAYED:
            continue
        dry = isinstance(part, InfusedPart) and is_dry(ply)
        if dry or isinstance(part, ClosedMouldPart):
            what = f"zone '{zone.name}' of '{part.id}' is laid dry, and '{glass.id}' is sprayed"
            hint = "lay mat, or spray a skin coat" if dry else "lay mat in a closed mould"
            yield Problem(zone.place, "values-disagree", what, hint)
            continue
        operation = _laying(part.operations, ply.stage or "bulk")
        if operation is None or operation.applied in SPRAYS or str(operation.name) in told:
            continue
        told.add(str(operation.name))
        what = f"operation '{operation.name}' lays '{glass.id}', and does not say that it sprays"
        hint = f"add 'applied: {SPRAYS[0]}' or '{SPRAYS[1]}'"
        yield Problem(operation.place, "missing-key", what, hint)


def _laying(route: tuple[Operation, ...], stage: str) -> Operation | None:
    """The operation that a stage enters at; the first where none uses it."""
    using = (operation for operation in route if stage in operation.uses)
    return next(using, route[0] if route else None)


def check_infused(records: Records) -> Iterator[Problem]:
    """An infusion has a dry kit, one target of fibre content, and a bag."""
    for part in records.of("infused").values():
        yield from _target_faults(records, part)
        laid = list(laid_in(records, part))
        if part.zones and laid and not any(is_dry(each.ply) for each in laid):
            what = f"all plies of '{part.id}' are of the skin coat, so that nothing is infused"
            hint = "leave 'stage: skin' out of the dry kit, or list the part under 'open_mould:'"
            yield Problem(part.place, "values-disagree", what, hint)
        if part.skin_resin is not None and laid and all(is_dry(each.ply) for each in laid):
            what = f"'{part.id}' has a resin for its skin coat, and no ply of it"
            hint = "mark the plies behind the gelcoat 'stage: skin', or remove 'skin_resin:'"
            yield Problem(part.skin_resin.place, "no-effect", what, hint)
        if all(goods.built_in for goods in part.goods):
            what = f"'{part.id}' is infused, and takes no bag, tape or other consumable"
            hint = "add them under 'goods:' with 'built_in: no'; 'lasts:' says for how many pulls"
            yield Problem(part.place, "missing-key", what, hint, warning=True)
    for owner in records.owners:
        for goods in owner.goods:
            if goods.lasts is not None and goods.built_in:
                what = f"'{goods.item}' lasts for several pulls, and is built in"
                hint = "add 'built_in: no', or remove 'lasts:'"
                yield Problem(figure_place(goods.lasts), "values-disagree", what, hint)
            elif goods.lasts is not None and goods.lasts.value < 1:
                what = f"'{goods.item}' lasts for {goods.lasts.value:g} pulls"
                yield Problem(figure_place(goods.lasts), "out-of-range", what, "expected 1 or more")


def _target_faults(records: Records, part: InfusedPart) -> Iterator[Problem]:
    if part.fibre_volume is not None and part.glass_content is not None:
        what = f"'{part.id}' has fibre_volume and glass_content together"
        yield Problem(part.place, "choose-one", what, "give one: they are the same target")
    if part.fibre_volume is not None and part.fibre_volume.value >= 1:
        what = f"the fibre of '{part.id}' leaves no room for resin"
        yield Problem(figure_place(part.fibre_volume), "out-of-range", what, "expected under 100 %")
    if part.fibre_volume is not None or part.glass_content is not None:
        return
    told: set[str] = set()
    for _, ply, glass in laid_in(records, part):
        known = ply.glass_content is not None or glass.infused_content is not None
        if is_dry(ply) and not known and glass.id not in told:
            told.add(str(glass.id))
            what = f"nothing says how closely '{glass.id}' packs in '{part.id}' under a bag"
            hint = "add 'infused_content:' to the glass, or 'fibre_volume:' to the part"
            yield Problem(part.place, "missing-key", what, hint)


def check_limits(records: Records) -> Iterator[Problem]:
    """What is checked at an operation is right between two limits of one kind, the least first."""
    for owner in records.owners:
        for operation in owner.operations:
            for check in operation.checks:
                least, most = check.least, check.most
                if least is None or most is None:
                    continue
                if least.unit != most.unit:
                    what = f"the least and the most of '{check.what}' are of different kinds"
                    hint = "write both in units of one kind, for example '0.5 mm' and '0.6 mm'"
                    yield Problem(figure_place(most), "wrong-unit", what, hint)
                elif least.value > most.value:
                    what = f"the least of '{check.what}' is more than the most"
                    hint = "exchange them, or leave out the one that is no limit"
                    yield Problem(figure_place(least), "values-disagree", what, hint)
