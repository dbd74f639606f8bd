"""Resin and glass of one scope as a mix: how much of each there was in all, and its standard share.

Where both are known, the mix and its yield take the place of the usage of each.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from quoter.actuals.matched import Matched, Need, groups_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase

LAMINATE = ("resin", "glass")  # classes of material; one can stand for the other in a mould
NO_MASS = constant(0.0, "kg")


@dataclass(frozen=True, slots=True)
class Mix:
    """One material of a mix: how much was used of all its materials, and its standard share."""

    whole: Figure
    share: Figure


def flexed(need: Need) -> Figure:
    """What the pieces that were begun should take, planned scrap and what was above it."""
    return need.quantity if need.flexed is None else need.quantity * need.flexed


def mixes_of(matched: Sequence[Matched], classes: Mapping[str, str]) -> dict[int, Mix]:
    """The mix that a scope's material is part of, by the scope's place in the list.

    Scopes of one part or one job belong together if both classes were used there and should have
    been; pools of a month and jobs at work have none.

    Args:
        matched: scopes of materials
        classes: of materials, by id
    """
    together: dict[tuple[str, str, str], list[int]] = {}
    for number, one in enumerate(matched):
        if _class(one, classes) in LAMINATE and one.level in ("job", "part") and not one.open:
            months = {entry.month for entry in one.entries} if not one.job else set()
            key = one.job or "".join(sorted(months)), one.part, one.level
            together.setdefault(key, []).append(number)
    found: dict[int, Mix] = {}
    for numbers in together.values():
        found |= _mix({number: matched[number] for number in numbers}, classes)
    return found


def _class(one: Matched, classes: Mapping[str, str]) -> str:
    return classes.get(one.resource.partition(".")[2], "")


def _mix(of: Mapping[int, Matched], classes: Mapping[str, str]) -> dict[int, Mix]:
    used = {number: _used(one) for number, one in of.items()}
    should = {number: total([*map(flexed, one.needs)], NO_MASS) for number, one in of.items()}
    for kind in LAMINATE:
        mine = [number for number, one in of.items() if _class(one, classes) == kind]
        if sum(used[n].value for n in mine) <= 0 or sum(should[n].value for n in mine) <= 0:
            return {}
    first = next(iter(of.values()))
    key = first.scope(first.entries[0].month if not first.job else "").key
    key = f"{key.replace(first.resource, 'mix')}"
    whole = total(list(used.values()), NO_MASS)
    whole = whole.named(f"{key}.used", phrase("Resin and glass used"))
    planned = total(list(should.values()), NO_MASS)
    planned = planned.named(f"{key}.should", phrase("Resin and glass, standard quantity"))
    return {
        number: Mix(
            whole,
            (should[number] / planned).named(
                f"{key}.share.{one.resource.partition('.')[2]}",
                phrase("Share of the standard mix"),
                "percent",
            ),
        )
        for number, one in of.items()
    }


def _used(one: Matched) -> Figure:
    return total([group.amount() for group in groups_of(one.entries)], NO_MASS)
