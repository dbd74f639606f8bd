"""What a margin review found, in a sentence or two, and what moved a cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from quoter.analysis.bridge import Change, bridge_of
from quoter.analysis.margin_review import Key, Review
from quoter.analysis.margins import worst
from quoter.pricing.markets import BOAT
from quoter.pricing.price import Pricing

MOST = 2  # causes told of one cost
LEAST = 0.005  # of the currency; less is not told


def finding(review: Review) -> tuple[str, ...]:
    """How many prices are below the floor, and what the planned year leaves now and did leave."""
    return (_below(review), *_year(review))


def _below(review: Review) -> str:
    market, lines = review.home, review.lines[str(review.home.id)]
    floor = f"the floor of {review.pricing.terms.floor.value * 100:g} %"
    counts = {
        str(buyer.name): round(review.below[str(market.id), str(buyer.id)].value)
        for buyer in review.pricing.terms.buyers
    }
    if not any(counts.values()):
        return f"No price of {market.name} is below {floor}, at any class of buyer."
    told = ", ".join(f"{count or 'none'} at {buyer}" for buyer, count in counts.items())
    return f"Below {floor}, of {len(lines)} prices of {market.name}: {told}. {_lowest(review)}"


def _lowest(review: Review) -> str:
    market, buyer = review.first
    (line,) = worst([each.line for each in review.lines[market]], buyer, 1)
    left = _percent(line.sales[buyer].margin_fraction.value)
    what = f"{line.name} on {line.model_name}" if line.option else line.name
    return f"The lowest at {review.buyer.name} is {what}, with {left} of net."


def _year(review: Review) -> Iterator[str]:
    planned = review.years.get(review.first)
    if planned is None:
        return
    year, currency = planned.year, review.pricing.catalogue.currency
    sold = f"Sold to {review.buyer.name} in {review.home.name}"
    left = f"{year.margin.value:,.0f} {currency}, {_percent(year.fraction.value)} of net"
    said = f"{sold}, the planned year leaves a margin of {left}"
    if planned.last is not None:
        was = _percent(planned.last.value)
        said += f"; with prices and costs of the last list, of {review.last_list}, it was {was}"
    yield f"{said}."


def _percent(fraction: float) -> str:
    return f"{fraction * 100:.1f} %"


def what_moved(pricing: Pricing, before: Pricing) -> dict[Key, str]:
    """Model and option -> what moved its cost most since the last list, in words.

    Args:
        pricing: the finished costing
        before: the same at the last price list
    """
    bridge, found = bridge_of(before, pricing), {}
    for id, model in bridge.models.items():
        changes = {BOAT: model.boat, **model.options}
        for package in pricing.models[id].offered_packages:
            inside = [changes[str(o)] for o in package.options if str(o) in changes]
            if len(inside) == len(package.options):
                changes[str(package.id)] = _together(str(package.name), inside)
        for option, change in changes.items():
            found[id, option] = _words(change, bridge.causes, bridge.currency)
    return found


def _together(name: str, changes: list[Change]) -> Change:
    shares: dict[str, float] = {}
    for change in changes:
        for cause, share in change.shares.items():
            shares[cause] = shares.get(cause, 0.0) + share
    return Change(name, sum(c.old for c in changes), sum(c.new for c in changes), shares)


def _words(change: Change, causes: Mapping[str, str], currency: str) -> str:
    told = [
        f"{causes[cause].lower()} {share:+,.2f}"
        for cause, share in change.largest[:MOST]
        if abs(share) >= LEAST
    ]
    return f"{', '.join(told)} {currency}" if told else "cost unchanged"
