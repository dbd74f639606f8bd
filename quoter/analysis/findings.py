"""What is asked of a costing: each question answered once, when somebody first wants to know."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from functools import cached_property

from quoter.analysis.answers import Answers, Shared, Target, answers_of, target_of
from quoter.analysis.bridge import Bridge, bridge_of
from quoter.analysis.emissions import emissions_of
from quoter.analysis.history import History, ModelHistory, history_of
from quoter.analysis.long_lead import Built, Moved, built_cost, prices_then
from quoter.analysis.margin_review import Review, margin_review
from quoter.analysis.plan import Plan, Year, plan_of, year_of
from quoter.analysis.ranges import Ranges, Varying
from quoter.analysis.risk import SAMPLES, Risk, risks_of
from quoter.analysis.sensitivity import Effect, effects_on, ranked, tried
from quoter.analysis.spreads import Draws
from quoter.analysis.what_if import WhatIf, what_if_of
from quoter.costing.assembly import Assembly
from quoter.figures import Figure, stated
from quoter.figures.graph import gradient
from quoter.pricing.margin import cost_for_price
from quoter.pricing.price import PricedModel, Pricing

TRIED = 15  # inputs of each cost whose ranges are worked out anew; pages and sheets show no more


class Findings:
    """A finished costing and the answers to all that is asked of it; outputs only show them.

    What is asked of one model alone is `of` that model, and goes when whoever asked has done.
    """

    def __init__(
        self, pricing: Pricing, before: Callable[[], Pricing | None] = lambda: None
    ) -> None:
        """Nothing is asked yet; `before` gives the same at the last price list, if there is one."""
        self.pricing = pricing
        self._before = before

    @cached_property
    def before(self) -> Pricing | None:
        """The costing at the last price list, if there is one."""
        return self._before()

    def share(self) -> None:
        """Answer now what is asked about every model."""
        for question in ("history", "plan"):
            getattr(self, question)

    @cached_property
    def bridge(self) -> Bridge | None:
        """What moved the costs since the last price list, if there was one."""
        return None if self.before is None else bridge_of(self.before, self.pricing)

    @cached_property
    def margins(self) -> Review:
        """What every price leaves in every market, the year, and what the policy would publish."""
        return margin_review(self.pricing, self.before, self.bridge)

    @cached_property
    def ranges(self) -> Ranges:
        """What every input may be, and why."""
        return Ranges(self.pricing.catalogue)

    @cached_property
    def draws(self) -> Draws:
        """Values of the inputs that vary, the same for all models."""
        return Draws(SAMPLES)

    @cached_property
    def moved(self) -> list[Moved]:
        """Suppliers' prices that are others at the day of building."""
        return prices_then(self.pricing)

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

    @cached_property
    def _shared(self) -> Shared:
        """What the answers about many models rest on."""
        return Shared(self.pricing, self.plan)

    def of(self, model: PricedModel) -> ModelFindings:
        """What is asked of one model, of which nothing is kept here."""
        return ModelFindings(self, model, self._shared)


class ModelFindings:
    """The answers about one model's boat and options, each found when it is asked for."""

    def __init__(self, findings: Findings, model: PricedModel, shared: Shared) -> None:
        """Nothing is asked yet."""
        self.findings, self.pricing, self.model = findings, findings.pricing, model
        self._shared = shared
        self._slopes: dict[Figure, Mapping[Figure, float]] = {}
        self._effects: dict[Figure, list[Effect]] = {}

    @property
    def history(self) -> ModelHistory:
        """How its prices, costs and margins moved over the days."""
        return self.findings.history.models[self.model.model.id]

    def slopes(self, cost: Figure) -> Mapping[Figure, float]:
        """How far a cost moves with one unit of each input."""
        if cost not in self._slopes:
            self._slopes[cost] = gradient(cost)
        return self._slopes[cost]

    @cached_property
    def varying(self) -> Mapping[Figure, Varying]:
        """The inputs behind the model's costs that vary, and what each may be."""
        return self.findings.ranges.varying(self._inputs)

    @cached_property
    def exact(self) -> Mapping[Figure, str]:
        """The inputs behind the model's costs that do not vary, and why."""
        return self.findings.ranges.exact(self._inputs)

    @cached_property
    def _inputs(self) -> list[Figure]:
        costs = [item.assembly.cost for item in self.model.everything]
        return list(dict.fromkeys(figure for cost in costs for figure in self.slopes(cost)))

    def effects(self, cost: Figure) -> list[Effect]:
        """What each input does to a cost, the one first that could move it most.

        The first of them are worked out anew, the others go by their slopes.
        """
        if cost not in self._effects:
            every = effects_on(cost, slopes_of=self.slopes, varying=self.varying)
            self._effects[cost] = ranked(tried(cost, every[:TRIED])) + every[TRIED:]
        return self._effects[cost]

    def shared_by(self, figure: Figure) -> int:
        """How many of the boat and its options an input moves."""
        return self._sharing[figure]

    @cached_property
    def _sharing(self) -> Counter[Figure]:
        costs = [item.assembly.cost for item in self.model.boat_and_options]
        return Counter(f for cost in costs for f, slope in self.slopes(cost).items() if slope)

    def built(self, assembly: Assembly) -> Built | None:
        """The cost of the boat or an option at the day of building."""
        return built_cost(self.pricing, assembly, self.findings.moved)

    @cached_property
    def risks(self) -> Mapping[Figure, Risk]:
        """Cost of the boat and of each option and package -> how sure it is.

        The limit is the cost beyond which today's list price leaves the first class of buyer less
        than the floor margin; what is standard has no price of its own.
        """
        costs = [item.assembly.cost for item in self.model.everything]
        terms, limits = self.pricing.terms, {}
        for item in (self.model.boat, *self.model.extras.values()):
            if item.sales:
                net = next(iter(item.sales.values())).net.value
                limit = cost_for_price(net, terms.provisions.value, terms.floor.value)
                limits[item.assembly.cost] = limit
        found = risks_of(
            costs,
            slopes_of=self.slopes,
            varying=self.varying,
            draws=self.findings.draws,
            limits=limits,
        )
        return dict(zip(costs, found, strict=True))

    @cached_property
    def targets(self) -> Mapping[str, Target]:
        """Key of the boat and of each option and package -> the cost that its price allows."""
        terms = self.pricing.terms
        return {item.assembly.recipe.key: target_of(terms, item) for item in self.model.everything}

    @cached_property
    def emissions(self) -> Mapping[str, Figure]:
        """Key of the boat and of each option and package -> organic HAP of one good unit [kg]."""
        return {item.assembly.recipe.key: gas for item, gas in emissions_of(self.model)}

    @cached_property
    def answers(self) -> list[Answers]:
        """What a price allows, volumes, closed moulds and emission of each option."""
        return answers_of(self._shared, self.model, self.targets, self.emissions)
