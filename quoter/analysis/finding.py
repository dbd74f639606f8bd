"""What mattered most in a comparison, in a sentence or two."""

from __future__ import annotations

from quoter.analysis.bridge import Bridge, Change
from quoter.phrases import Phrase, phrase

LEAST = 1e-12  # of the cost; a smaller change is rounding
BY_ELEMENT = phrase(
    "Only the results were compared, so the shares are those of cost elements, not of causes: a "
    "dearer resin shows as material. Compare the catalogues to see the causes."
)


def finding(bridge: Bridge) -> str:
    """The sentence a reader gets first: how much costs moved, and what accounts for it."""
    moved = bridge.total
    if not bridge.models:
        return phrase("The two sides have no model in common; there is nothing to compare.")
    if abs(moved.change) <= LEAST * abs(moved.old):
        return _level(bridge)
    first, share = moved.largest[0]
    name, amount = bridge.causes[first], _signed(share, bridge.currency)
    whole = _whole(bridge)
    if share * moved.change < 0:
        return phrase(
            "{name} moved costs most, by {amount}, against the others: the change is {whole}.",
            name=name,
            amount=amount,
            whole=whole,
        )
    fraction = share / moved.change
    plural = name.endswith("s") and name != "Yield loss"
    told = "{name} accounts for {share} % of the change in cost, {whole}."
    if plural:
        told = "{name} account for {share} % of the change in cost, {whole}."
    if fraction > 1 + 5e-3:
        told = (
            "{name} accounts for {share} % of the change in cost, {whole}; other causes took some "
            "of it back."
        )
        if plural:
            told = (
                "{name} account for {share} % of the change in cost, {whole}; other causes took "
                "some of it back."
            )
    return phrase(told, name=name, share=f"{fraction * 100:.0f}", whole=whole)


def _whole(bridge: Bridge) -> Phrase:
    """The change in all, and of what it is."""
    change = f"{_signed(bridge.total.change, bridge.currency)}{_percent(bridge.total)}"
    return phrase("{change} {basis}", change=change, basis=_basis(bridge))


def _level(bridge: Bridge) -> str:
    """What to say where the total stands still."""
    changes = [
        (model.name, change)
        for model in bridge.models.values()
        for change in (model.boat, *model.options.values())
        if change.largest
    ]
    if not changes:
        return phrase("Nothing changed: every boat and option costs what it did.")
    model, most = max(changes, key=lambda pair: abs(pair[1].change))
    if abs(most.change) <= LEAST * abs(most.old):
        return phrase("No cost changed, but what the costs are made of did.")
    cause = bridge.causes[most.largest[0][0]]
    amount = _signed(most.change, bridge.currency)
    return phrase(
        "The total did not change {basis}; {name} ({model}) moved most, by {amount}, first of all "
        "by {cause}.",
        basis=_basis(bridge),
        name=most.name,
        model=model,
        amount=f"{amount}{_percent(most)}",
        cause=cause.lower(),
    )


def _basis(bridge: Bridge) -> Phrase:
    if bridge.planned:
        return phrase("on the year's plan at the new volumes")
    one = len(bridge.models) == 1
    return phrase("on the boat") if one else phrase("on one boat of each model")


def _percent(change: Change) -> str:
    return "" if change.fraction is None else f" ({change.fraction * 100:+.1f} %)"


def _signed(amount: float, currency: str) -> str:
    return f"{amount:+,.2f} {currency}"
