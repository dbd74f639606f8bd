"""The bridge from old costs to new: per boat, option, model and material class, by cause.

Causes are prices by material class, exchange, wages, overhead, recipes, volumes and moulds, and
yields. Each gets its Shapley share, so shares add up to the change and depend on no order.
Of two written results only the cost elements can be compared, since causes are not in them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from quoter.analysis.causes import (
    EXCHANGE,
    OVERHEAD,
    PRICES,
    RECIPES,
    VOLUMES,
    WAGES,
    YIELDS,
    Swap,
    shares_of,
    swaps_of,
    words_of,
)
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.costing.assembly import Assembly
from quoter.costing.elements import SHOWN, class_words, group_of, shown_group
from quoter.figures import Figure, constant
from quoter.figures.graph import in_order
from quoter.phrases import phrase
from quoter.pricing.price import BOAT, PricedModel, Pricing

AFTER_PRICES = (EXCHANGE, WAGES, OVERHEAD, RECIPES, VOLUMES, YIELDS)
MATERIAL = "material."
NOTHING = constant(0.0)
Record = Mapping[str, Any]  # a result as costing.json holds it


class BridgeError(Exception):
    """Raised when two costings can't be compared; the message says why."""

    code = "compare"


@dataclass(frozen=True, slots=True)
class Change:
    """A cost before and after in home currency, and each cause's share of the difference."""

    name: str
    old: float
    new: float
    shares: Mapping[str, float]

    @property
    def change(self) -> float:
        """What was added."""
        return self.new - self.old

    @property
    def fraction(self) -> float | None:
        """The change as a fraction of the old cost; None where that was nothing."""
        return self.change / self.old if self.old else None

    @property
    def largest(self) -> list[tuple[str, float]]:
        """The causes that moved it, the largest first."""
        moved = [(cause, share) for cause, share in self.shares.items() if share]
        return sorted(moved, key=lambda pair: -abs(pair[1]))


@dataclass(frozen=True, slots=True)
class ModelChange:
    """A model: its boat with standard equipment, its options by id, and what they come to.

    Where both sides plan boats, `total` and `classes` (by material class) are those of the new
    plan's year, at the new volumes on both sides, and `planned`; else of one boat. `added` and
    `dropped` are options that stand on one side only.
    """

    id: str
    name: str
    planned: bool
    boat: Change
    options: Mapping[str, Change]
    total: Change
    classes: Mapping[str, Change]
    added: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bridge:
    """The whole comparison: `causes` by id in words, models by id, and the yard's total.

    `old` and `new` say what is compared; the
    causes that moved most come first. `by_cause` is false where only results were at hand, so
    that "causes" are cost elements. The total and classes are of the models that are `planned`,
    where any are.
    """

    old: str
    new: str
    currency: str
    causes: Mapping[str, str]
    models: Mapping[str, ModelChange]
    total: Change
    classes: Mapping[str, Change]
    planned: bool
    added: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()
    by_cause: bool = field(default=True)


@dataclass(frozen=True, slots=True)
class Pair:
    """A boat (option "") or option as it is on both sides."""

    model: str
    option: str
    old: Assembly
    new: Assembly


def bridge_of(before: Pricing, after: Pricing, old: str = "", new: str = "") -> Bridge:
    """Compare two priced catalogues.

    Args:
        before: the old one
        after: the new one
        old: what to call the old one, or else the day of its prices
        new: the same of the new one
    Raises:
        BridgeError: when their home currencies differ.
    """
    currency = _same_currency(before.catalogue.currency, after.catalogue.currency)
    pairs = list(_pairs(before, after))
    found = _changes(before, after, pairs)
    models = {id: _model(before, after, id, found) for id in after.models if id in before.models}
    return gathered(
        old or str(before.catalogue.as_of),
        new or str(after.catalogue.as_of),
        currency,
        models,
        tuple(str(m.model.name) for id, m in after.models.items() if id not in before.models),
        tuple(str(m.model.name) for id, m in before.models.items() if id not in after.models),
    )


def _same_currency(old: str, new: str) -> str:
    if old != new:
        raise BridgeError(f"the old costs are in {old}, the new ones in {new}")
    return new


def gathered(
    old: str,
    new: str,
    currency: str,
    models: Mapping[str, ModelChange],
    added: tuple[str, ...],
    dropped: tuple[str, ...],
    words: Mapping[str, str] | None = None,
) -> Bridge:
    """The bridge of finished models; `words` names the causes if they are cost elements."""
    planned = any(model.planned for model in models.values())
    counted = [model for model in models.values() if model.planned or not planned]
    total = summed(phrase("All models"), [(1.0, model.total) for model in counted])
    classes = dict.fromkeys(name for model in counted for name in model.classes)
    moved = {
        cause
        for model in models.values()
        for change in (model.boat, *model.options.values())
        for cause, share in change.shares.items()
        if share
    }
    ranked = sorted(moved, key=lambda c: (-abs(total.shares.get(c, 0.0)), c))
    return Bridge(
        old=old,
        new=new,
        currency=currency,
        causes={c: words[c] if words else words_of(c) for c in ranked},
        models=models,
        total=total,
        classes={
            name: summed(
                class_words(name),
                [(1.0, model.classes[name]) for model in counted if name in model.classes],
            )
            for name in classes
        },
        planned=planned,
        added=added,
        dropped=dropped,
        by_cause=words is None,
    )


def summed(name: str, weighted: Sequence[tuple[float, Change]]) -> Change:
    """The weighted sum of changes."""
    causes = dict.fromkeys(cause for _, change in weighted for cause in change.shares)
    return Change(
        name,
        sum(weight * change.old for weight, change in weighted),
        sum(weight * change.new for weight, change in weighted),
        {
            cause: sum(weight * change.shares.get(cause, 0.0) for weight, change in weighted)
            for cause in causes
        },
    )


def _pairs(before: Pricing, after: Pricing) -> Iterator[Pair]:
    for id, model in after.models.items():
        if id not in before.models:
            continue
        was = before.models[id]
        yield Pair(id, BOAT, was.boat.assembly, model.boat.assembly)
        for option, priced in model.options.items():
            if option in was.options:
                yield Pair(id, option, was.options[option].assembly, priced.assembly)


def _changes(
    before: Pricing, after: Pricing, pairs: Sequence[Pair]
) -> dict[tuple[str, str, str], Change]:
    """The change of each pair's cost, under class "", and of each of its material classes."""
    outputs: dict[tuple[str, str, str], tuple[str, Figure, Figure]] = {}
    for pair in pairs:
        outputs[pair.model, pair.option, ""] = (pair.new.name, pair.old.cost, pair.new.cost)
        for element in dict.fromkeys([*pair.new.elements, *pair.old.elements]):
            if element.startswith(MATERIAL):
                name = element.removeprefix(MATERIAL)
                sides = [side.elements.get(element, NOTHING) for side in (pair.old, pair.new)]
                outputs[pair.model, pair.option, name] = (class_words(name), sides[0], sides[1])
    old, new = [out[1] for out in outputs.values()], [out[2] for out in outputs.values()]
    swaps = {
        which: _reaching(swaps_of(before.costing, after.costing, which), side)
        for which, side in ((False, old), (True, new))
    }
    shares = shares_of(old, new, swaps, _causes(swap for side in swaps.values() for swap in side))
    return {
        key: Change(name, was.value, now.value, share)
        for (key, (name, was, now)), share in zip(outputs.items(), shares, strict=True)
    }


def _reaching(swaps: Sequence[Swap], outputs: Sequence[Figure]) -> list[Swap]:
    """The swaps that some output depends on."""
    known = set(in_order(outputs))
    return [swap for swap in swaps if swap.figure in known]


def _causes(swaps: Iterable[Swap]) -> list[str]:
    """The causes at work: prices by class, then the rest; one that moves nothing is left out."""
    moving = {cause for swap in swaps for cause in swap.causes if swap.by(cause)}
    prices = sorted(cause for cause in moving if cause.startswith(PRICES))
    return prices + [cause for cause in AFTER_PRICES if cause in moving or cause == RECIPES]


def _model(
    before: Pricing, after: Pricing, id: str, found: Mapping[tuple[str, str, str], Change]
) -> ModelChange:
    was, now = before.models[id], after.models[id]
    planned = planned_weights(before, after, now)
    weights = planned or {BOAT: 1.0}
    weighted: dict[str, list[tuple[float, Change]]] = {}
    for (model, option, name), change in found.items():
        if model == id and option in weights:
            weighted.setdefault(name, []).append((weights[option], change))
    return ModelChange(
        id=id,
        name=str(now.model.name),
        planned=planned is not None,
        boat=found[id, BOAT, ""],
        options={
            option: found[id, option, ""] for option in now.options if (id, option, "") in found
        },
        total=summed(str(now.model.name), weighted.pop("")),
        classes={name: summed(class_words(name), each) for name, each in weighted.items()},
        added=tuple(item.assembly.name for o, item in now.options.items() if o not in was.options),
        dropped=tuple(
            item.assembly.name for o, item in was.options.items() if o not in now.options
        ),
    )


def planned_weights(before: Pricing, after: Pricing, model: PricedModel) -> dict[str, float] | None:
    """Boats ("") and options a year by the new plan; None unless both sides plan the model."""
    id = str(model.model.id)
    boats = planned_boats(after, id)
    if boats is None or planned_boats(before, id) is None:
        return None
    rates = take_rates(after.catalogue.records, id)
    return {BOAT: boats} | {
        option: boats * rates[option].value for option in model.extras if option in rates
    }


def planned_boats(pricing: Pricing, model: str) -> float | None:
    """Boats of a model a year; None where none are planned."""
    boats = boats_planned(pricing.catalogue.records, model)
    return boats.value if boats is not None and boats.value else None


def bridge_of_records(before: Record, after: Record, old: str = "", new: str = "") -> Bridge:
    """Compare two results as costing.json holds them.

    Args:
        before: the old result
        after: the new one
        old: what to call the old one, or else the day of its prices
        new: the same of the new one
    Raises:
        BridgeError: when their home currencies differ.
        KeyError: when a result lacks what costing.json holds.
    """
    currency = _same_currency(before["currency"], after["currency"])
    was, now = before["models"], after["models"]
    return gathered(
        old=old or before["as_of"],
        new=new or after["as_of"],
        currency=currency,
        models={id: _recorded_model(id, was[id], model) for id, model in now.items() if id in was},
        added=tuple(model["name"] for id, model in now.items() if id not in was),
        dropped=tuple(model["name"] for id, model in was.items() if id not in now),
        words=SHOWN,
    )


def _recorded_model(id: str, was: Record, now: Record) -> ModelChange:
    boat = _recorded_change(was["boat"], now["boat"])
    return ModelChange(
        id=id,
        name=now["name"],
        planned=False,
        boat=boat,
        options={
            option: _recorded_change(was["options"][option], item)
            for option, item in now["options"].items()
            if option in was["options"]
        },
        total=Change(now["name"], boat.old, boat.new, boat.shares),
        classes=dict(_classes(was["boat"]["elements"], now["boat"]["elements"])),
        added=tuple(item["name"] for o, item in now["options"].items() if o not in was["options"]),
        dropped=tuple(
            item["name"] for o, item in was["options"].items() if o not in now["options"]
        ),
    )


def _recorded_change(was: Record, now: Record) -> Change:
    old, new = _groups(was["elements"]), _groups(now["elements"])
    shares = {group: new[group] - old[group] for group in SHOWN}
    return Change(now["name"], was["cost"], now["cost"], shares)


def _groups(elements: Record) -> dict[str, float]:
    found = dict.fromkeys(SHOWN, 0.0)
    for element, cost in elements.items():
        found[shown_group(element)] += cost
    return found


def _classes(was: Record, now: Record) -> Iterator[tuple[str, Change]]:
    for element in dict.fromkeys([*now, *was]):
        if group_of(element) == "material":
            name = element.partition(".")[2]
            old, new = was.get(element, 0.0), now.get(element, 0.0)
            yield name, Change(class_words(name), old, new, {"material": new - old})
