"""The small catalogue with rules of every kind between options, and what a list of them may be."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from quoter.pricing.price import PricedModel, Pricing
from tests.pages.variants import small_with

# Big cleats take the place of the standard pair, which a lantern can't be had with; an awning needs
# a frame, which needs a rail, which leaves no room for a hatch.
OPTIONS = """\
    conflicts: [lantern]
  - {id: red, name: Red topsides, group: Colour, kind: colour, text: Topsides in barn red.,
     hull_colour: green,
     models: [cutter], at_most_one: colour of the topsides, lead_time: 1 week,
     goods: [{item: cleat, quantity: 3}]}
  - {id: big_cleats, name: Pair of big cleats, group: Fittings, kind: fitting, text: Bigger ones.,
     models: [cutter], lead_time: from stock, credits: [{option: cleats}],
     goods: [{item: cleat, quantity: 7}]}
  - {id: tow_post, name: Towing post, group: Fittings, kind: fitting, text: A post to tow by.,
     models: [cutter], lead_time: 2 weeks, requires: [big_cleats], conflicts: [cleats],
     goods: [{item: cleat, quantity: 4}]}
  - {id: lantern, name: Stern lantern, group: Fittings, kind: fitting, text: A lantern aft.,
     models: [cutter], lead_time: 2 weeks, requires: [big_cleats],
     goods: [{item: cleat, quantity: 1}]}
  - {id: rail, name: Côte rail, group: Deck, kind: fitting, text: A rail round the deck.,
     models: [cutter], lead_time: 2 weeks, conflicts: [hatch],
     goods: [{item: cleat, quantity: 5}]}
  - {id: frame, name: Awning frame, group: Deck, kind: fitting, text: A frame on the rail.,
     models: [cutter], lead_time: 2 weeks, requires: [rail],
     goods: [{item: cleat, quantity: 2}]}
  - {id: awning, name: Awning, group: Deck, kind: fitting, text: An awning on the frame.,
     models: [cutter], lead_time: 2 weeks, requires: [frame],
     goods: [{item: cleat, quantity: 2}]}
  - {id: seat, name: Seat, group: Deck, kind: panel, text: A seat on the foredeck., most: 3,
     models: [cutter], lead_time: 2 weeks, goods: [{item: cleat, quantity: 1}]}
packages:
  - {id: shade, name: Shade, text: An awning with its frame., options: [awning, frame], saving: 5 %}
  - {id: bow, name: Bow, text: A hatch and a seat., options: [hatch, seat], saving: 5 %}
"""
CHANGES = {
    "options.yaml": {
        "    name: Green topsides\n": "    name: Green topsides\n"
        "    at_most_one: colour of the topsides\n",
        "packages:\n": OPTIONS,
    },
}


def ruled(folder: Path) -> Pricing:
    """Prices of the small catalogue with all these rules."""
    return small_with(folder, CHANGES)


Breach = tuple[str, str, tuple[str, ...]]  # the option, the kind of its rule, and of which others


def breaches(priced: PricedModel, chosen: Mapping[str, int]) -> set[Breach]:
    """The rules that a selection breaks, as the README tells them and without any figure."""
    standard = {str(name) for name in priced.model.standard}
    aboard = {id: int(id in standard) + chosen.get(id, 0) for id in priced.options}
    for package in priced.offered_packages:
        for name in map(str, package.options):
            aboard[name] += chosen.get(str(package.id), 0)
    records = {id: item.option for id, item in priced.options.items() if item.option is not None}
    for id, record in records.items():
        for credit in record.credits:
            if credit.option is not None and str(credit.option) in standard and chosen.get(id):
                aboard[str(credit.option)] = 0
    found: set[Breach] = set()
    for id, record in records.items():
        if not aboard[id]:
            continue
        needs = [other for other in map(str, record.requires) if not aboard.get(other)]
        found |= {(id, "needs", (other,)) for other in needs}
        barred = [other for other in map(str, record.conflicts) if aboard.get(other)]
        found |= {(id, "conflicts", (other,)) for other in barred}
        group = [o for o, r in records.items() if r.at_most_one == record.at_most_one]
        if record.at_most_one is not None and sum(aboard[other] > 0 for other in group) > 1:
            found.add((id, "one of", tuple(group)))
        if aboard[id] > (1 if record.most is None else record.most.value):
            found.add((id, "most", ()))
    return found
