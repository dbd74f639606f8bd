"""What mattered most in a comparison, in a sentence or two."""

from __future__ import annotations

from quoter.analysis.bridge import Bridge, Change

LEAST = 1e-12  # of the cost; a smaller change is rounding
BY_ELEMENT = (
    "Only the results were compared, so the shares are those of cost elements, not of causes: a "
    "dearer resin shows as material. Compare the catalogues to see the causes."
)


def finding(bridge: Bridge) -> str:
    """The sentence a reader gets first: how much costs moved, and what accounts for it."""
    moved = bridge.total
    if not bridge.models:
        return "The two sides have no model in common; there is nothing to compare."
    if abs(moved.change) <= LEAST * abs(moved.old):
        return _level(bridge)
    first, share = moved.largest[0]
    name, amount = bridge.causes[first], _signed(share, bridge.currency)
    whole = f"{_signed(moved.change, bridge.currency)}{_percent(moved)} {_basis(bridge)}"
    verb = _verb(name)
    if share * moved.change < 0:
        return f"{name} moved costs most, by {amount}, against the others: the change is {whole}."
    fraction = share / moved.change
    told = f"{name} {verb} {fraction * 100:.0f} % of the change in cost, {whole}"
    if fraction > 1 + 5e-3:
        told += "; other causes took some of it back"
    return f"{told}."


def _level(bridge: Bridge) -> str:
    """What to say where the total stands still."""
    changes = [
        (model.name, change)
        for model in bridge.models.values()
        for change in (model.boat, *model.options.values())
        if change.largest
    ]
    if not changes:
        return "Nothing changed: every boat and option costs what it did."
    model, most = max(changes, key=lambda pair: abs(pair[1].change))
    if abs(most.change) <= LEAST * abs(most.old):
        return "No cost changed, but what the costs are made of did."
    cause = bridge.causes[most.largest[0][0]]
    amount = _signed(most.change, bridge.currency)
    return (
        f"The total did not change {_basis(bridge)}; {most.name} ({model}) moved most, by "
        f"{amount}{_percent(most)}, first of all by {cause.lower()}."
    )


def _verb(name: str) -> str:
    """The verb that goes with a cause's name."""
    plural = name.endswith("s") and name != "Yield loss"
    return "account for" if plural else "accounts for"


def _basis(bridge: Bridge) -> str:
    if bridge.planned:
        return "on the year's plan at the new volumes"
    one = len(bridge.models) == 1
    return "on the boat" if one else "on one boat of each model"


def _percent(change: Change) -> str:
    return "" if change.fraction is None else f" ({change.fraction * 100:+.1f} %)"


def _signed(amount: float, currency: str) -> str:
    return f"{amount:+,.2f} {currency}"
