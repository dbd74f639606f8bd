"""What is asked of one option on one model: the cost its price allows, and how far each element
would have to fall; its moulded parts by volume, closed moulds in their place, its emission.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.analysis.moulds import one_set_gives
from quoter.analysis.payback import Crossing, Payback, Way, crossing_of, paybacks_of
from quoter.analysis.plan import Plan
from quoter.analysis.volume import Curve, curve_of, pays_from
from quoter.catalogue.factory import Mould
from quoter.catalogue.parts import InfusedPart, OpenMouldPart
from quoter.costing.assembly import Assembly, Made, in_building_order
from quoter.costing.draws import Draws, draws_of
from quoter.costing.occupation import taken_by
from quoter.costing.rollup import cost_part
from quoter.figures import Figure
from quoter.figures.ops import less_or_equal
from quoter.phrases import phrase
from quoter.pricing.margin import cost_for_price
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.pricing.sale import Terms
from quoter.problems import Problems


@dataclass(frozen=True, slots=True)
class Attack:
    """An element group and the cut in it alone that would close the gap, as a fraction of it."""

    group: str
    cost: Figure
    cut: Figure | None


@dataclass(frozen=True, slots=True)
class Target:
    """The cost the list price allows at the target margin, the gap to the cost, and the levers.

    A positive `gap` is cost above what the price allows; `met` is 1 where there is none.
    """

    allowed: Figure
    gap: Figure
    met: Figure
    attacks: tuple[Attack, ...]


def target_of(terms: Terms, priced: Priced) -> Target:
    """The target cost of a priced option at the first class of buyer."""
    assembly, key = priced.assembly, priced.assembly.recipe.key
    net = next(iter(priced.sales.values())).net
    allowed = cost_for_price(net, terms.provisions, terms.target)
    allowed = allowed.named(
        f"{key}.allowed_cost", phrase("{name}: cost the price allows", name=assembly.name)
    )
    gap = (assembly.cost - allowed).named(
        f"{key}.gap", phrase("{name}: cost above the target", name=assembly.name)
    )
    return Target(allowed, gap, less_or_equal(assembly.cost, allowed), _attacks(assembly, gap))


def _attacks(assembly: Assembly, gap: Figure) -> tuple[Attack, ...]:
    key, name = assembly.recipe.key, assembly.name
    found = []
    for group, cost in assembly.groups.items():
        cut = None
        if cost.value > 0:
            label = phrase("{name}: cut in {group} alone", name=name, group=group.replace("_", " "))
            cut = (gap / cost).named(f"{key}.cut.{group}", label, "percent")
        found.append(Attack(group, cost, cut))
    return tuple(sorted(found, key=lambda attack: -attack.cost.value))


@dataclass(frozen=True, slots=True)
class PulledPart:
    """A part that comes out of moulds: its cost by volume; `pulls` are planned a year, by mould."""

    made: Made
    curve: Curve
    pulls: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class Alternative:
    """An open-mould part and the closed-mould panel, or infused part, that does the same job.

    `volume` is the pulls a year from which the panel costs no more with as many sets as it takes,
    None where it never does; `crossing` is the same by one set of moulds each.
    """

    by_hand: Assembly
    panel: Assembly
    volume: int | None
    crossing: Crossing
    infused: bool = False


def ways_of(found: Sequence[Alternative]) -> str:
    """The ways that alternatives are between, in words."""
    kinds = {each.infused for each in found}
    if kinds == {True}:
        return phrase("by hand or infused")
    return (
        phrase("by hand, in a closed mould or infused")
        if True in kinds
        else phrase("by hand or in a closed mould")
    )


@dataclass(frozen=True, slots=True)
class Answers:
    """What is asked of an option on a model; a standard one has no price, hence no target."""

    model: PricedModel
    priced: Priced
    standard: bool
    target: Target | None
    moulded: tuple[PulledPart, ...]
    paybacks: tuple[Payback, ...]
    alternatives: tuple[Alternative, ...]
    emission: Figure

    @property
    def ways(self) -> str:
        """The ways that its alternatives are between, in words."""
        return ways_of(self.alternatives)


class Shared:
    """What the answers about many models rest on, worked out once."""

    def __init__(self, pricing: Pricing, plan: Plan) -> None:
        """Nothing is worked out yet."""
        self.pricing, self.plan = pricing, plan
        # Parts that are costed only to be compared must not appear in the costing itself.
        self.apart = replace(pricing.costing, parts=dict(pricing.costing.parts))
        self.draws: dict[str, Draws] = {}
        self.curves: dict[str, Curve] = {}
        self.alternatives: dict[tuple[str, str], Alternative] = {}


def answers_of(
    shared: Shared,
    model: PricedModel,
    targets: Mapping[str, Target],
    emissions: Mapping[str, Figure],
) -> list[Answers]:
    """The answers for every option on a model, in the catalogue's order.

    Args:
        shared: what is known of all models
        model: the one asked about
        targets: key of an option -> the cost its price allows
        emissions: key of an option -> organic HAP of one good unit
    """
    found = []
    for id, priced in model.options.items():
        standard, key = id not in model.extras, priced.assembly.recipe.key
        made = in_building_order(priced.assembly)
        answers = Answers(
            model=model,
            priced=priced,
            standard=standard,
            target=None if standard else targets[key],
            moulded=tuple(_moulded(shared, one) for one in made if one.assembly.tooling),
            paybacks=() if standard else _paybacks(shared, priced, made),
            alternatives=tuple(_alternatives(shared, str(model.model.hull_colour), made)),
            emission=emissions[key],
        )
        found.append(answers)
    return found


def _moulded(shared: Shared, made: Made) -> PulledPart:
    part = made.assembly
    moulds = _moulds(shared, part)
    if part.recipe.key not in shared.curves:
        limits = {id: figure.value for id, figure in _capacity(shared, part, moulds).items()}
        shared.curves[part.recipe.key] = curve_of(part, moulds, limits)
    pulls = {str(load.mould.id): load.pulls for load in shared.plan.moulds}
    pulls = {str(mould.id): pulls[mould.id] for mould in moulds if mould.id in pulls}
    return PulledPart(made, shared.curves[part.recipe.key], pulls)


def _paybacks(shared: Shared, priced: Priced, made: Sequence[Made]) -> tuple[Payback, ...]:
    moulds = {mould.id: mould for one in made for mould in _moulds(shared, one.assembly)}
    draws = draws_of(priced.assembly, shared.draws)
    rates = shared.pricing.costing.rates
    return paybacks_of(priced, draws, list(moulds.values()), rates, shared.plan)


def _moulds(shared: Shared, part: Assembly) -> list[Mould]:
    records = shared.pricing.catalogue.records.moulds
    return [records[id] for id, _ in part.tooling]


def _capacity(shared: Shared, part: Assembly, moulds: Sequence[Mould]) -> dict[str, Figure]:
    """Pulls a year one set can make, by mould id: as planned, else by this part alone."""
    policy = shared.pricing.catalogue.yard.policy
    found = {str(load.mould.id): load.capacity for load in shared.plan.moulds}
    clock = taken_by(part, policy.shift_calendar).clock
    capacity = {}
    for id in (str(mould.id) for mould in moulds):
        gives = found.get(id)
        if gives is None and clock is not None:
            gives = one_set_gives(policy, clock)
        if gives is not None:
            capacity[id] = gives
    return capacity


def _alternatives(shared: Shared, hull_colour: str, made: Sequence[Made]) -> list[Alternative]:
    """Each pair of which the option makes one, both in the open-mould part's own shape."""
    parts = shared.pricing.catalogue.records.of("open_mould")
    used = {one.assembly.recipe.id for one in made}
    return [
        _alternative(shared, part, hull_colour)
        for part in parts.values()
        if part.alternative_to is not None and used & {str(part.id), str(part.alternative_to)}
    ]


def _alternative(shared: Shared, part: OpenMouldPart, hull_colour: str) -> Alternative:
    key = (str(part.id), hull_colour)
    if key not in shared.alternatives:
        panel = shared.pricing.catalogue.records.parts[str(part.alternative_to)]
        # Whatever is wrong with the parts was told when they were checked.
        one, other = (
            cost_part(shared.apart, which, None, "", hull_colour, Problems())
            for which in (part, panel)
        )
        moulds = _moulds(shared, one), _moulds(shared, other)
        capacity = _capacity(shared, one, moulds[0]) | _capacity(shared, other, moulds[1])
        limits = {id: figure.value for id, figure in capacity.items()}
        volume = pays_from(one, moulds[0], other, moulds[1], limits)
        by_hand, closed = (
            Way(which, mine, draws_of(which, shared.draws))
            for which, mine in zip((one, other), moulds, strict=True)
        )
        crossing = crossing_of(by_hand, closed, shared.apart.rates)
        shared.alternatives[key] = Alternative(
            one, other, volume, crossing, isinstance(panel, InfusedPart)
        )
    return shared.alternatives[key]
