"""Control totals of a priced model: each reaches one number by two roads, and both must agree."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from quoter.costing.assembly import Assembly
from quoter.costing.elements import SHOWN
from quoter.figures import Figure, dot, total
from quoter.figures.ops import absolute, less, less_or_equal
from quoter.phrases import phrase
from quoter.pricing.configured import Configured
from quoter.pricing.price import PricedModel
from quoter.pricing.rules import all_hold
from quoter.pricing.sale import Terms
from quoter.problems import Place

AGREEMENT = 1e-9  # relative; sums of floating numbers differ by less, mistakes by more


@dataclass(frozen=True, slots=True)
class Control:
    """A statement about the costing, the two amounts it compares (if any), and 1 if it holds.

    `place` is the catalogue line of what it is about, where that is a single one.
    """

    what: str
    one: Figure | None
    other: Figure | None
    holds: Figure
    place: Place | None = None


def assemblies_of(priced: PricedModel) -> list[Assembly]:
    """Every part and option of a model and the boat itself, each once, after what it consumes."""
    found: dict[str, Assembly] = {}

    def visit(assembly: Assembly) -> None:
        if assembly.recipe.key not in found:
            for use in assembly.recipe.uses:
                visit(use.assembly)
            found[assembly.recipe.key] = assembly

    for item in priced.boat_and_options:
        visit(item.assembly)
    for pair in priced.pairs:
        visit(pair.assembly)
    return list(found.values())


def agree(one: Figure, other: Figure) -> Figure:
    """1 where two amounts agree to the relative tolerance, else 0."""
    return less_or_equal(absolute(one - other), (absolute(one) + absolute(other)) * AGREEMENT)


def controls_of(terms: Terms, priced: PricedModel, boat: Configured) -> list[Control]:
    """Every control of a model's workbook."""
    found = list(policy_controls(terms))
    assemblies = assemblies_of(priced)
    for assembly in assemblies:
        found.extend(_assembly(assembly))
    found.extend(_boat(terms, priced, boat))
    for assembly in assemblies:
        for limit in assembly.recipe.limits:
            found.append(Control(limit.what, None, None, limit.holds, limit.place))
    return found


def master(controls: list[Control]) -> Figure:
    """1 where every control holds."""
    return all_hold([control.holds for control in controls])


def policy_controls(terms: Terms) -> Iterator[Control]:
    """What the policy's margins and provisions have to keep."""
    taken = (terms.provisions + terms.target).named(
        "control.taken", "provisions and target margin", "percent"
    )
    what = phrase("Provisions and target margin leave part of the price for the cost")
    yield Control(what, taken, None, less(taken, 1.0))
    what = phrase("The floor margin is no higher than the target margin")
    yield Control(what, terms.floor, terms.target, less_or_equal(terms.floor, terms.target))


def _assembly(assembly: Assembly) -> Iterator[Control]:
    key, name, nothing = assembly.recipe.key, assembly.name, assembly.cost * 0.0
    groups = total(list(assembly.groups.values()), nothing)
    groups = groups.named(
        f"{key}.control.groups", phrase("{name}: sum of the element groups", name=name)
    )
    yield Control(
        phrase("{name}: cost is the sum of its element groups", name=name),
        assembly.cost,
        groups,
        agree(assembly.cost, groups),
        assembly.recipe.place,
    )
    stated = assembly.recipe.stated
    lines = [made.cost for made in assembly.materials if made.line.element == "material"]
    lines += stated.material.values()
    used = [
        use.assembly.groups["material"] * use.quantity
        for use in assembly.recipe.uses
        if "material" in use.assembly.groups
    ]
    if lines or used:
        bought = total([*lines, *used], nothing)
        bought = bought.named(
            f"{key}.control.lines", phrase("{name}: sum of take-off lines", name=name)
        )
        material = assembly.groups["material"]
        what = phrase("{name}: material is the sum of its take-off lines and parts", name=name)
        yield Control(what, material, bought, agree(material, bought), assembly.recipe.place)
    hours = [operation.paid for operation in assembly.operations] + [*stated.hours.values()]
    hours += [
        total(list(use.assembly.hours.values()), use.assembly.all_hours) * use.quantity
        for use in assembly.recipe.uses
    ]
    if hours:
        worked = total(hours, hours[0])
        worked = worked.named(
            f"{key}.control.hours", phrase("{name}: sum of operations and parts", name=name)
        )
        net = assembly.all_hours - assembly.yield_hours - assembly.rework_hours
        net = net.named(f"{key}.control.net_hours", phrase("{name}: hours by station", name=name))
        what = phrase("{name}: hours by station are the sum of its operations and parts", name=name)
        yield Control(what, net, worked, agree(net, worked), assembly.recipe.place)


def _boat(terms: Terms, priced: PricedModel, boat: Configured) -> Iterator[Control]:
    name = phrase("{name} as configured", name=priced.model.name)
    base, extras = priced.boat.assembly, priced.extras
    chosen = [(boat.quantities[id], item.assembly) for id, item in extras.items()]
    chosen += [(pair.count, pair.of.assembly) for pair in boat.pairs]
    by_group = [_configured_group(group, base, chosen, boat.cost * 0.0) for group in SHOWN]
    rebuilt = total(by_group, boat.cost)
    rebuilt = rebuilt.named(
        "control.configured.cost", phrase("{name}: cost by element group", name=name)
    )
    what = phrase("{name}: cost is the sum over element groups of boat and options", name=name)
    yield Control(what, boat.cost, rebuilt, agree(boat.cost, rebuilt), priced.model.place)
    for sale in boat.sales.values():
        kept = sale.net * (1 - terms.provisions)
        kept = kept.named(
            f"control.configured.{sale.buyer.id}",
            phrase("{name}, {buyer}: net less provisions", name=name, buyer=sale.buyer.name),
        )
        spent = (boat.cost + sale.margin).named(
            f"control.configured.{sale.buyer.id}.spent",
            phrase("{name}, {buyer}: cost and margin", name=name, buyer=sale.buyer.name),
        )
        what = phrase(
            "{name}, {name2}: net price less provisions is cost and margin",
            name=name,
            name2=sale.buyer.name,
        )
        yield Control(what, kept, spent, agree(kept, spent), sale.buyer.place)


def _configured_group(
    group: str, base: Assembly, chosen: list[tuple[Figure, Assembly]], nothing: Figure
) -> Figure:
    each = [assembly.groups.get(group, nothing) for _, assembly in chosen]
    own = base.groups.get(group, nothing)
    return own + dot([count for count, _ in chosen], each) if each else own
