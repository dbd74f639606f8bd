"""What is asked of a costing: each question answered once, when somebody first wants to know."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from quoter.analysis.answers import Answers, answers_of
from quoter.analysis.bridge import Bridge, bridge_of
from quoter.analysis.history import History, history_of
from quoter.analysis.margin_review import Review, margin_review
from quoter.analysis.plan import Plan, Year, plan_of, year_of
from quoter.analysis.risk import Risk, risks_of
from quoter.analysis.sensitivity import Effect, effects_on
from quoter.analysis.what_if import WhatIf, what_if_of
from quoter.figures import Figure, stated
from quoter.pricing.price import PricedModel, Pricing


class Findings:
    """A finished costing and the answers to all that is asked of it; outputs only show them.

    `before` is the same at the last price list, if there is one.
    """

    def __init__(self, pricing: Pricing, before: Pricing | None = None) -> None:
        """Nothing is asked yet."""
        self.pricing = pricing
        self.before = before
        self._effects: dict[Figure, list[Effect]] = {}

    @cached_property
    def bridge(self) -> Bridge | None:
        """What moved the costs since the last price list, if there was one."""
        return None if self.before is None else bridge_of(self.before, self.pricing)

    @cached_property
    def margins(self) -> Review:
        """What every price leaves in every market, the year, and what the policy would publish."""
        return margin_review(self.pricing, self.before, self.bridge)

    @cached_property
    def what_if(self) -> WhatIf:
        """Every cost by what moves it."""
        return what_if_of(self.pricing)

    @cached_property
    def history(self) -> History:
        """How prices, costs and margins moved over the days."""
        return history_of(self.pricing)

    @cached_property
    def plan(self) -> Plan:
        """The planned year over the volumes alone: what one unit draws are given numbers."""
        return plan_of(self.pricing, stated)

    @cached_property
    def year(self) -> Year:
        """What the planned year comes to."""
        return year_of(self.plan, self.pricing.costing.rates.nothing)

    def effects(self, cost: Figure) -> list[Effect]:
        """What each input does to a cost, the largest effect first."""
        if cost not in self._effects:
            self._effects[cost] = effects_on(cost)
        return self._effects[cost]

    @cached_property
    def risks(self) -> Mapping[Figure, Risk]:
        """Cost of each boat and option -> how sure it is; simulated model by model, which bounds
        how many samples are held at once."""
        found: dict[Figure, Risk] = {}
        for model in self.pricing.models.values():
            costs = costs_of(model)
            found |= zip(costs, risks_of(costs), strict=True)
        return found

    @cached_property
    def answers(self) -> list[Answers]:
        """What a price allows, volumes, closed moulds and emission of each option on each model."""
        return answers_of(self.pricing, self.plan)


def costs_of(model: PricedModel) -> list[Figure]:
    """The costs of a model's boat and options."""
    return [item.assembly.cost for item in (model.boat, *model.options.values())]
