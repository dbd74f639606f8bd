"""Two catalogues or results of costing compared, as a table for the terminal and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from quoter.analysis.bridge import Bridge, BridgeError, Change, bridge_of, bridge_of_records
from quoter.analysis.finding import BY_ELEMENT, finding
from quoter.columns import columns
from quoter.formats import COSTING, StrictError, read_json
from quoter.intake import LARGEST_RECORD, IntakeError, read_file
from quoter.pricing.price import Pricing

MOST_CAUSES = 3
HEADS = ("model", "option", "old", "new", "change", "%", "largest causes")
RIGHT = {2, 3, 4, 5}
BOAT_WORDS = "boat, standard equipment"


def compare_priced(before: Pricing, after: Pricing, old: str, new: str) -> Bridge:
    """Compare two priced catalogues; `old` and `new` name their folders.

    Raises:
        BridgeError: when they can't be compared.
    """
    days = str(before.catalogue.as_of), str(after.catalogue.as_of)
    if old == new:
        return bridge_of(before, after, *days)
    return bridge_of(before, after, f"{old}, {days[0]}", f"{new}, {days[1]}")


def compare_records(old: Path, new: Path) -> Bridge:
    """Compare two costing.json files.

    Raises:
        BridgeError: when one is no such file, or they can't be compared.
    """
    before, after = _record(old), _record(new)
    try:
        return bridge_of_records(before, after)
    except (KeyError, TypeError, AttributeError) as fault:
        what = f"{old} or {new} lacks what a costing.json holds: {fault}"
        raise BridgeError(what) from fault


def _record(path: Path) -> Mapping[str, Any]:
    try:
        found = read_json(read_file(path, LARGEST_RECORD))
    except (FileNotFoundError, IntakeError) as fault:
        raise BridgeError(f"{path}: {fault}") from fault
    except StrictError as fault:
        raise BridgeError(f"{path} {fault}") from fault
    if not isinstance(found, dict) or "format" not in found:
        raise BridgeError(f"{path} is no costing.json: it states no format")
    if refusal := COSTING.refusal(found["format"]):
        raise BridgeError(f"{path} can't be read: {refusal}")
    return found


def report_lines(bridge: Bridge) -> Iterator[str]:
    """The comparison for a terminal: the finding, then a line per boat and option."""
    yield finding(bridge)
    if not bridge.by_cause:
        yield BY_ELEMENT
    yield f"Costs in {bridge.currency}, {bridge.old} to {bridge.new}."
    yield ""
    yield from columns([HEADS, *_rows(bridge)], RIGHT)
    for words, names in (("new models", bridge.added), ("models dropped", bridge.dropped)):
        if names:
            yield f"{words}: {', '.join(names)}"
    for model in bridge.models.values():
        for words, names in (("new", model.added), ("dropped", model.dropped)):
            if names:
                yield f"{model.name}, options {words}: {', '.join(names)}"


def _rows(bridge: Bridge) -> Iterator[tuple[str, ...]]:
    for model in bridge.models.values():
        yield (model.name, BOAT_WORDS, *_cells(bridge, model.boat))
        for option in model.options.values():
            yield (model.name, option.name, *_cells(bridge, option))


def _cells(bridge: Bridge, change: Change) -> tuple[str, ...]:
    percent = "" if change.fraction is None else f"{change.fraction * 100:+.1f}"
    causes = [
        f"{bridge.causes[cause]} {share:+,.2f}"
        for cause, share in change.largest[:MOST_CAUSES]
        if abs(share) >= 5e-3
    ]
    money = (f"{change.old:,.2f}", f"{change.new:,.2f}", f"{change.change:+,.2f}")
    return (*money, percent, "; ".join(causes))


def as_json(bridge: Bridge) -> str:
    """The comparison as JSON: money in home currency, shares by cause."""
    data = {
        "old": bridge.old,
        "new": bridge.new,
        "currency": bridge.currency,
        "finding": finding(bridge),
        "shares_by": "cause" if bridge.by_cause else "cost element",
        "causes": dict(bridge.causes),
        "planned": bridge.planned,
        "total": _data(bridge.total),
        "classes": {name: _data(change) for name, change in bridge.classes.items()},
        "models": {
            id: {
                "name": model.name,
                "planned": model.planned,
                "total": _data(model.total),
                "classes": {name: _data(change) for name, change in model.classes.items()},
                "boat": _data(model.boat),
                "options": {name: _data(change) for name, change in model.options.items()},
                "added": list(model.added),
                "dropped": list(model.dropped),
            }
            for id, model in bridge.models.items()
        },
        "added": list(bridge.added),
        "dropped": list(bridge.dropped),
    }
    return json.dumps(data, indent=1, ensure_ascii=False)


def _data(change: Change) -> dict[str, Any]:
    return {
        "name": change.name,
        "old": change.old,
        "new": change.new,
        "change": change.change,
        "shares": dict(change.shares),
    }
