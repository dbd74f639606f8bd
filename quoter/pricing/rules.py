"""The rules between options: what each needs, excludes and allows, as conditions on a selection.

A package counts as its options, in the rules and in the selection.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from quoter.catalogue.options import Option
from quoter.figures import Figure, at_least, at_most, constant, total
from quoter.figures.ops import equal, less_or_equal
from quoter.phrases import phrase
from quoter.pricing.price import PricedModel

NONE = constant(0.0)
ONE = constant(1.0)


RuleKind = Literal["needs", "conflicts", "one of", "most"]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule of an option in words a salesperson understands, and 1 where a selection keeps it.

    `others` are the options it speaks of: what is needed, what it can't be had with, or all of
    which a boat has one. `most` is how many can be fitted where that is the rule.
    """

    option: str
    kind: RuleKind
    words: str
    holds: Figure
    others: tuple[str, ...] = ()
    most: int = 0


def rules_of(priced: PricedModel, quantities: Mapping[str, Figure]) -> list[Rule]:
    """Every rule of a model's options over the quantities chosen.

    Args:
        priced: the model
        quantities: how many of each extra option and package are chosen, by id
    """
    boat = boarded(priced, quantities)
    return [rule for id in priced.options for rule in _rules(priced, id, boat)]


def all_hold(conditions: list[Figure]) -> Figure:
    """1 where every condition holds; also where there is none."""
    held = total(conditions, NONE)
    return equal(held, constant(float(len(conditions))))


def boarded(priced: PricedModel, quantities: Mapping[str, Figure]) -> dict[str, Figure]:
    """How many of each option are on the boat: chosen, in a package, or standard."""
    found = {}
    for id in priced.options:
        if id in priced.model.standard:
            found[id] = _left_of_standard(priced, id, quantities)
            continue
        holders = [
            quantities[package.id]
            for package in priced.offered_packages
            if id in package.options and package.id in quantities
        ]
        found[id] = total([quantities.get(id, NONE), *holders], NONE)
    return found


def _left_of_standard(priced: PricedModel, id: str, quantities: Mapping[str, Figure]) -> Figure:
    """1 for a standard option, 0 once a chosen option takes its place and credits it."""
    instead = [
        quantities[other]
        for other, item in priced.options.items()
        if other in quantities
        and item.option is not None
        and any(credit.option == id for credit in item.option.credits)
    ]
    return at_least(1.0 - total(instead, NONE), NONE) if instead else ONE


def _rules(priced: PricedModel, id: str, boat: Mapping[str, Figure]) -> Iterator[Rule]:
    option = priced.options[id].option
    if option is None:
        return
    taken = at_most(boat[id], 1.0)
    for other in map(str, option.requires):
        words = phrase("{name} needs {priced}", name=option.name, priced=_called(priced, other))
        holds = less_or_equal(taken, boat.get(other, NONE))
        yield Rule(id, "needs", words, holds, (other,))
    for other in map(str, option.conflicts):
        if other in boat:
            both = taken + at_most(boat[other], 1.0)
            words = phrase(
                "{name} can't be had with {priced}", name=option.name, priced=_called(priced, other)
            )
            yield Rule(id, "conflicts", words, less_or_equal(both, 1.0), (other,))
    if option.at_most_one is not None:
        yield _one_of_group(priced, option, boat)
    most = option.most if option.most is not None else ONE
    words = phrase("at most {value:g} of {name} can be fitted", value=most.value, name=option.name)
    yield Rule(id, "most", words, less_or_equal(boat[id], most), most=int(most.value))


def _one_of_group(priced: PricedModel, option: Option, boat: Mapping[str, Figure]) -> Rule:
    group = [
        id
        for id, item in priced.options.items()
        if item.option is not None and item.option.at_most_one == option.at_most_one
    ]
    holds = less_or_equal(total([at_most(boat[id], 1.0) for id in group], NONE), 1.0)
    taken = at_most(boat[option.id], 1.0)
    # A group overfilled by others is their breach, not that of an option left out.
    kept = less_or_equal(taken, holds)
    words = phrase("a boat can have one {at_most_one}", at_most_one=option.at_most_one)
    return Rule(str(option.id), "one of", words, kept, tuple(group))


def _called(priced: PricedModel, id: str) -> str:
    item = priced.options.get(id)
    return f"{item.assembly.name}" if item else phrase("'{id}', which this model can't have", id=id)
