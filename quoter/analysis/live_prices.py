"""Prices and proposals that follow everything but the costs, which become stated numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from quoter.analysis.plan import highest_of
from quoter.figures import Figure, constant, stated, total
from quoter.figures.cut import Cut
from quoter.pricing.markets import BOAT
from quoter.pricing.price import Pricing
from quoter.pricing.proposals import Covered, Margins, Proposal, proposals_of, reason
from quoter.pricing.repricing import moved

NONE = constant(0.0)


@dataclass(frozen=True, slots=True)
class Proposed:
    """A proposal and the policy's reason in words.

    `change` is a fraction of the published price; `before` and `after` are the lowest margins of
    net at the first class of buyer, of the models it holds for; `below` counts those with some
    class of buyer below the floor at the proposed price.
    """

    proposal: Proposal
    change: Figure | None
    before: Figure | None
    after: Figure
    below: Figure
    why: str


class Live:
    """Costs become stated numbers; each list price has a cell that all other prices rest on."""

    def __init__(self, pricing: Pricing) -> None:
        """State every cost of a pricing."""
        self._pricing = pricing
        self._costs: set[Figure] = set()
        self._listed: set[Figure] = set()
        self._cut = Cut({})
        for id, model in pricing.models.items():
            for option, item in {BOAT: model.boat, **model.extras}.items():
                made, key = item.assembly, f"review.{id}.{option or 'boat'}"
                label = f"{model.model.name}: {made.name}"
                for cost, what, words in (
                    (made.cost, "cost", "full cost"),
                    (made.variable, "variable_cost", "variable cost"),
                ):
                    given = stated(cost, f"{key}.{what}", f"{label}, {words}", made.recipe.place)
                    self._cut.put(cost, given)
                    self._costs.add(cost)

    def given(self, figure: Figure, key: str, label: str) -> Figure:
        """A cost as a number; a list price with a name of its own."""
        if figure in self._costs or figure in self._listed:
            return self._cut.of(figure)
        listed = replace(self._cut.of(figure), key=key, label=label)
        self._cut.put(figure, listed)
        self._listed.add(figure)
        return listed

    def proposals(self) -> list[Proposed]:
        """The policy's proposals over the same costs; none where it does not say when to move."""
        rule = self._pricing.catalogue.yard.policy.repricing
        if rule is None:
            return []
        found = proposals_of(self._pricing, rule)
        return [_proposed(self._proposal(each), reason(each, rule)) for each in found]

    def _proposal(self, each: Proposal) -> Proposal:
        return replace(
            each,
            wanted=self._cut.of(each.wanted),
            proposed=self._cut.of(each.proposed),
            moved=None if each.moved is None else self._cut.of(each.moved),
            published=None if each.published is None else self._cut.of(each.published),
            covered=tuple(
                Covered(
                    on.model,
                    None if on.before is None else self._margins(on.before),
                    self._margins(on.after),
                )
                for on in each.covered
            ),
        )

    def _margins(self, margins: Margins) -> Margins:
        return Margins(*map(self._cut.of, (margins.first, margins.least, margins.breach)))


def _proposed(each: Proposal, why: str) -> Proposed:
    market, model, option = each.line
    key, name = f"review.proposed.{market or 'all'}.{model or 'all'}.{option or 'boat'}", each.name
    change = None
    if each.published is not None:
        change = moved(each.published, each.proposed)
        change = change.named(f"{key}.change", f"{name}: change of the list price", "percent")
    then = [on.before.first for on in each.covered if on.before is not None]
    below = total([on.after.breach for on in each.covered], NONE)
    return Proposed(
        each,
        change,
        _lowest(then, f"{key}.before", f"{name}: lowest margin now") if then else None,
        _lowest([on.after.first for on in each.covered], f"{key}.after", f"{name}: lowest then"),
        below.named(f"{key}.below", f"{name}: models below the floor"),
        why,
    )


def _lowest(margins: Sequence[Figure], key: str, label: str) -> Figure:
    lowest = margins[0] if len(margins) == 1 else -highest_of([-margin for margin in margins])
    return lowest.named(key, label, "percent")
