"""Cost one assembly: a part or an option, from lines, operations, moulds and what it consumes.

Material, labour and consumed parts enter at an operation; what later operations scrap is borne
by the good units, as a cost element of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.operations import Operation
from quoter.catalogue.options import OneOff
from quoter.catalogue.parts import Shape
from quoter.costing.besides import batch_lines, disposal_of, on_top, one_offs
from quoter.costing.elements import SHOWN, by_group, in_element_order, summed, varies
from quoter.costing.operations import OperationCost, cost_operation
from quoter.costing.quantities import STATED, Limit, MaterialLine, entry_of
from quoter.costing.rates import CostRates
from quoter.costing.yield_loss import NO_HOURS, Entering, YieldLoss, lost_to_yield
from quoter.engineering.labour import labour_cost
from quoter.engineering.overhead import overhead_cost
from quoter.engineering.purchasing import material_cost
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase, together
from quoter.problems import Place

NO_MASS = constant(0.0, "kg")
ONE = constant(1.0)
Found = dict[str, "tuple[Assembly, list[Figure]]"]  # by key, with the quantity of every use


@dataclass(frozen=True, slots=True)
class MaterialCost:
    """A take-off line with its landed price and cost, and by element what comes on top of it."""

    line: MaterialLine
    material_class: str
    price: Figure
    cost: Figure
    besides: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class Use:
    """How much of another assembly this one consumes; a credit is negative."""

    assembly: Assembly
    quantity: Figure
    place: Place
    credit: bool = False


@dataclass(frozen=True, slots=True)
class Stated:
    """What is stated of an assembly in place of being built up, per good unit of it.

    `material` is cost by class, `hours` are paid hours by station, `mass` that of all of it. What
    is stated by amount stands among the recipe's lines, at the stage `STATED`.
    """

    material: Mapping[str, Figure] = field(default_factory=dict)
    hours: Mapping[str, Figure] = field(default_factory=dict)
    tooling: Figure | None = None
    mass: Figure | None = None


@dataclass(frozen=True, slots=True)
class StatedCost:
    """The elements of what is stated, and by station what its hours absorb overhead on."""

    elements: dict[str, Figure]
    loads: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class Recipe:
    """What an assembly is made of; `key` begins its figures' keys, `variant` tells shapes apart."""

    id: str
    key: str
    name: str
    place: Place
    lines: Sequence[MaterialLine] = ()
    operations: Sequence[Operation] = ()
    drivers: Mapping[str, Figure] = field(default_factory=dict)
    notable: Sequence[Figure] = ()
    limits: Sequence[Limit] = ()
    moulds: Sequence[str] = ()
    uses: Sequence[Use] = ()
    batch: Figure | None = None
    one_off: Sequence[OneOff] = ()
    stated: Stated = Stated()
    variant: str = ""
    shape: Shape | None = None


@dataclass(frozen=True, slots=True)
class Assembly:
    """A costed part, option or boat, per good unit; every total equals the sum of its elements.

    `elements` are in home currency, `groups` their sums; what is `stated` is in them. `hours` by
    station leave out rework and yield loss; `mass` is in kg; `passed` is what comes through of 1.
    """

    recipe: Recipe
    materials: tuple[MaterialCost, ...]
    operations: tuple[OperationCost, ...]
    tooling: tuple[tuple[str, Figure], ...]
    elements: dict[str, Figure]
    stated: StatedCost
    groups: dict[str, Figure]
    hours: dict[str, Figure]
    yield_hours: Figure
    rework_hours: Figure
    all_hours: Figure
    mass: Figure
    cost: Figure
    variable: Figure
    passed: Figure | None

    @property
    def name(self) -> str:
        """What people call it."""
        return self.recipe.name


def cost_assembly(recipe: Recipe, rates: CostRates) -> Assembly:
    """Cost a recipe per good unit at given rates."""
    used_up = batch_lines(recipe.operations, rates, recipe.batch, recipe.key, recipe.name)
    lines = [*recipe.lines, *used_up]
    materials = tuple(_material(line, n, recipe, rates) for n, line in enumerate(lines, 1))
    operations = tuple(
        cost_operation(
            operation,
            rates.stations[operation.station],
            recipe.drivers,
            recipe.batch,
            f"{recipe.key}.operation{number}",
            recipe.name,
        )
        for number, operation in enumerate(recipe.operations, 1)
    )
    tooling = tuple((mould, rates.pulls[mould]) for mould in recipe.moulds)
    own = _own_elements(recipe, rates, materials, operations, tooling)
    loss = _yield(recipe, rates, materials, operations, tooling)
    lost = {"yield_variable": loss.variable, "yield_fixed": loss.fixed} if loss else {}
    stated = _stated(recipe, rates, materials)
    consumed = [
        {element: _times(figure, use.quantity) for element, figure in use.assembly.elements.items()}
        for use in recipe.uses
    ]
    parts = [own, lost, stated.elements, *consumed]
    elements = summed(parts, rates.nothing, recipe.key, recipe.name, rates.station_names)
    return _finished(recipe, rates, materials, operations, tooling, elements, stated, loss)


def _finished(
    recipe: Recipe,
    rates: CostRates,
    materials: tuple[MaterialCost, ...],
    operations: tuple[OperationCost, ...],
    tooling: tuple[tuple[str, Figure], ...],
    elements: dict[str, Figure],
    stated: StatedCost,
    loss: YieldLoss | None,
) -> Assembly:
    """The assembly with its totals: cost, variable cost, mass and all hours."""
    key, name, nothing = recipe.key, recipe.name, rates.nothing
    hours = _hours(recipe, operations)
    lost, again = _hours_besides(recipe, operations, loss)
    cost = total(list(elements.values()), nothing)
    variable = total([f for e, f in elements.items() if varies(e)], nothing)
    mass, spent = total(_masses(recipe), NO_MASS), total([*hours.values(), again, lost], NO_HOURS)
    return Assembly(
        recipe=recipe,
        materials=materials,
        operations=operations,
        tooling=tooling,
        elements=elements,
        stated=stated,
        groups={
            group: figure.named(
                f"{key}.group.{group}", together(": ", (name, SHOWN[group].lower()))
            )
            for group, figure in by_group(elements, nothing).items()
        },
        hours=hours,
        yield_hours=lost,
        rework_hours=again,
        all_hours=spent.named(f"{key}.all_hours", phrase("{name}: all hours", name=name)),
        mass=mass.named(f"{key}.mass", phrase("{name}: mass added", name=name)),
        cost=cost.named(f"{key}.cost", phrase("{name}: cost", name=name)),
        variable=variable.named(f"{key}.variable_cost", phrase("{name}: variable cost", name=name)),
        passed=loss.passed if loss else None,
    )


def _hours_besides(
    recipe: Recipe, operations: Sequence[OperationCost], loss: YieldLoss | None
) -> tuple[Figure, Figure]:
    """Hours lost to yield, and those of rework."""
    lost = [loss.hours] if loss else []
    lost += [_times(use.assembly.yield_hours, use.quantity) for use in recipe.uses]
    again = [done.rework.paid for done in operations if done.rework is not None]
    again += [_times(use.assembly.rework_hours, use.quantity) for use in recipe.uses]
    key, name = recipe.key, recipe.name
    lost_label = phrase("{name}: hours lost to yield", name=name)
    again_label = phrase("{name}: hours of rework", name=name)
    return (
        total(lost, NO_HOURS).named(f"{key}.yield_hours", lost_label),
        total(again, NO_HOURS).named(f"{key}.rework_hours", again_label),
    )


def _material(line: MaterialLine, number: int, recipe: Recipe, rates: CostRates) -> MaterialCost:
    price = rates.prices[line.material]
    words = dict.fromkeys((rates.names[line.material], line.use))  # goods are their own use
    label = phrase("{name}: {what}, cost", name=recipe.name, what=together(", ", list(words)))
    which = f"materials.{line.material}" if line.stage == STATED else f"line{number}"
    cost = material_cost(line.issued, price).named(f"{recipe.key}.{which}.cost", label)
    besides = on_top(line.material, cost, rates)
    if line.stage != STATED:
        besides |= disposal_of(line, rates)
    return MaterialCost(line, rates.classes[line.material], price, cost, besides)


def _own_elements(
    recipe: Recipe,
    rates: CostRates,
    materials: Sequence[MaterialCost],
    operations: Sequence[OperationCost],
    tooling: Sequence[tuple[str, Figure]],
) -> dict[str, Figure]:
    """The elements that arise in this assembly itself, before yield."""
    terms: dict[str, list[Figure]] = {}
    for material in _built_up(materials):
        element = f"{material.line.element}.{material.material_class}"
        terms.setdefault(element, []).append(material.cost)
        for element, cost in material.besides.items():
            terms.setdefault(element, []).append(cost)
    for element, each in one_offs(recipe.one_off, recipe.key, recipe.name):
        terms.setdefault(element, []).append(each)
    for _, per_pull in tooling:
        terms.setdefault("tooling", []).append(per_pull)
    for operation in operations:
        terms.setdefault(f"labour.{operation.operation.station}", []).append(operation.labour)
        terms.setdefault("overhead_variable", []).append(operation.variable)
        terms.setdefault("overhead_fixed", []).append(operation.fixed)
        if operation.rework is not None:
            terms.setdefault("rework_variable", []).append(operation.rework.variable)
            terms.setdefault("rework_fixed", []).append(operation.rework.fixed)
        terms.setdefault("general_overhead", []).append(_general(operation, rates))
    return {element: total(terms[element], rates.nothing) for element in in_element_order(terms)}


def _built_up(materials: Sequence[MaterialCost]) -> list[MaterialCost]:
    """What is taken off, without what is stated by amount."""
    return [material for material in materials if material.line.stage != STATED]


def _stated(recipe: Recipe, rates: CostRates, materials: Sequence[MaterialCost]) -> StatedCost:
    """What is stated, costed; `hours` are paid hours by station.

    A station that absorbs overhead on machine hours counts one per stated labour hour here, since
    what is stated has no operations.
    """
    stated, terms, loads = recipe.stated, dict[str, list[Figure]](), dict[str, Figure]()

    def add(element: str, cost: Figure) -> None:
        terms.setdefault(element, []).append(cost)

    for material_class, cost in stated.material.items():
        add(f"material.{material_class}", cost)
        for element, more in on_top("", cost, rates).items():
            add(element, more)
    for material in materials:
        if material.line.stage == STATED:
            add(f"material.{material.material_class}", material.cost)
            for element, more in material.besides.items():
                add(element, more)
    for station, hours in stated.hours.items():
        rate = rates.stations[station]
        labour = labour_cost(hours, rate.labour)
        on = labour if rate.station.overhead.base == "labour cost" else hours
        loads[str(station)] = on
        variable, fixed = overhead_cost(rate.variable, on), overhead_cost(rate.fixed, on)
        add(f"labour.{station}", labour)
        add("overhead_variable", variable)
        add("overhead_fixed", fixed)
        conversion = total([labour, variable, fixed], rates.nothing)
        add("general_overhead", overhead_cost(rates.general, conversion))
    if stated.tooling is not None:
        add("tooling", stated.tooling)
    elements = {element: total(figures, rates.nothing) for element, figures in terms.items()}
    return StatedCost(elements, loads)


def _general(operation: OperationCost, rates: CostRates) -> Figure:
    """General overhead on all conversion at an operation: labour, station overhead and rework.

    It is taken before yield loss; scrapped units bear it too, within that element.
    """
    conversion = [operation.labour, operation.variable, operation.fixed]
    if operation.rework is not None:
        conversion += [operation.rework.variable, operation.rework.fixed]
    return overhead_cost(rates.general, total(conversion, rates.nothing))


def _yield(
    recipe: Recipe,
    rates: CostRates,
    materials: Sequence[MaterialCost],
    operations: Sequence[OperationCost],
    tooling: Sequence[tuple[str, Figure]],
) -> YieldLoss | None:
    """What scrapped units cost the good ones; a credit is of something never made, so never lost.

    A consumed part enters at the operation that uses `core`, and takes its own yield loss along.
    """
    if not recipe.operations:
        return None
    route = [Entering(str(done.name), done.passes) for done in recipe.operations]
    for material in _built_up(materials):
        at = route[entry_of(recipe.operations, material.line.stage)]
        at.variable += [material.cost, *material.besides.values()]
    route[0].variable += [per_pull for _, per_pull in tooling]
    for at, operation in zip(route, operations, strict=True):
        at.variable += [operation.labour, operation.variable]
        at.fixed += [operation.fixed, _general(operation, rates)]
        at.hours.append(operation.paid)
        if operation.rework is not None:
            at.variable.append(operation.rework.variable)
            at.fixed.append(operation.rework.fixed)
            at.hours.append(operation.rework.paid)
    for use in recipe.uses:
        if not use.credit:
            at = route[entry_of(recipe.operations, "core")]
            fixed = [f for e, f in use.assembly.elements.items() if not varies(e)]
            at.variable.append(use.assembly.variable * use.quantity)
            at.fixed.append(total(fixed, rates.nothing) * use.quantity)
            at.hours.append(use.assembly.all_hours * use.quantity)
    return lost_to_yield(route, recipe.key, recipe.name, rates.nothing)


def _hours(recipe: Recipe, operations: Sequence[OperationCost]) -> dict[str, Figure]:
    key, name = recipe.key, recipe.name
    terms = {str(station): [stated] for station, stated in recipe.stated.hours.items()}
    for operation in operations:
        terms.setdefault(str(operation.operation.station), []).append(operation.paid)
    for use in recipe.uses:
        for station, hours in use.assembly.hours.items():
            terms.setdefault(station, []).append(_times(hours, use.quantity))
    return {
        station: total(hours, NO_HOURS).named(
            f"{key}.hours.{station}",
            phrase("{name}: hours, {station}", name=name, station=station.replace("_", " ")),
        )
        for station, hours in terms.items()
    }


def _masses(recipe: Recipe) -> list[Figure]:
    masses = [line.mass for line in recipe.lines if line.stage != STATED]
    if recipe.stated.mass is not None:
        masses.append(recipe.stated.mass)
    return masses + [_times(use.assembly.mass, use.quantity) for use in recipe.uses]


@dataclass(frozen=True, slots=True)
class Made:
    """An assembly that is made, and how many of it one unit of the whole takes."""

    assembly: Assembly
    quantity: Figure


def in_building_order(whole: Assembly) -> list[Made]:
    """Everything that is made for one unit, the whole itself last; what a credit names is not."""
    found: Found = {}
    _collect(whole, ONE, found)
    return [Made(assembly, total(often, often[0])) for assembly, often in found.values()]


def left_out(whole: Assembly) -> list[Use]:
    """What is not made because the whole takes its place, with negative quantities."""
    return [use for use in whole.recipe.uses if use.credit]


def _collect(assembly: Assembly, quantity: Figure, found: Found) -> None:
    for use in assembly.recipe.uses:
        if not use.credit:
            _collect(use.assembly, _times(quantity, use.quantity), found)
    found.setdefault(assembly.recipe.key, (assembly, []))[1].append(quantity)


def _times(one: Figure, other: Figure) -> Figure:
    """The product; a bare one leaves the other figure as it is."""
    return other if one is ONE else one if other is ONE else one * other
