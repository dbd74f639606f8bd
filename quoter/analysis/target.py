"""What cost a price allows, and how far each element would have to fall to get there."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.figures.ops import less_or_equal
from quoter.pricing.margin import cost_for_price
from quoter.pricing.price import Priced
from quoter.pricing.sale import Terms


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
    allowed = allowed.named(f"{key}.allowed_cost", f"{assembly.name}: cost the price allows")
    gap = (assembly.cost - allowed).named(f"{key}.gap", f"{assembly.name}: cost above the target")
    return Target(allowed, gap, less_or_equal(assembly.cost, allowed), _attacks(assembly, gap))


def _attacks(assembly: Assembly, gap: Figure) -> tuple[Attack, ...]:
    key, name = assembly.recipe.key, assembly.name
    found = []
    for group, cost in assembly.groups.items():
        cut = None
        if cost.value > 0:
            label = f"{name}: cut in {group.replace('_', ' ')} alone"
            cut = (gap / cost).named(f"{key}.cut.{group}", label, "percent")
        found.append(Attack(group, cost, cut))
    return tuple(sorted(found, key=lambda attack: -attack.cost.value))
