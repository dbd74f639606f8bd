"""The change between two written results: by cost element, since their causes are not in them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from quoter.analysis.bridge import Bridge, BridgeError, Change, ModelChange, class_words, gathered
from quoter.costing.elements import SHOWN, group_of, shown_group

Record = Mapping[str, Any]


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
    if before["currency"] != after["currency"]:
        raise BridgeError(
            f"the old costs are in {before['currency']}, the new ones in {after['currency']}"
        )
    was, now = before["models"], after["models"]
    return gathered(
        old or before["as_of"],
        new or after["as_of"],
        after["currency"],
        {id: _model(id, was[id], model) for id, model in now.items() if id in was},
        tuple(model["name"] for id, model in now.items() if id not in was),
        tuple(model["name"] for id, model in was.items() if id not in now),
        SHOWN,
    )


def _model(id: str, was: Record, now: Record) -> ModelChange:
    boat = _change(was["boat"], now["boat"])
    return ModelChange(
        id,
        now["name"],
        False,
        boat,
        {
            option: _change(was["options"][option], item)
            for option, item in now["options"].items()
            if option in was["options"]
        },
        Change(now["name"], boat.old, boat.new, boat.shares),
        dict(_classes(was["boat"]["elements"], now["boat"]["elements"])),
        tuple(item["name"] for o, item in now["options"].items() if o not in was["options"]),
        tuple(item["name"] for o, item in was["options"].items() if o not in now["options"]),
    )


def _change(was: Record, now: Record) -> Change:
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
